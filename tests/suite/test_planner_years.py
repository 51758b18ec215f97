"""Twelve years in three weeks: every date of 2024 to 2035, in planners whose weeks begin on Monday, Sunday and Saturday, is read off
the finished pages (poppler for texts, qpdf for links) and held against Python's calendar and datetime.

Each of the 36 planners has its year, its months and its weeks, and days of some weekdays: the three of one year have each of its
days once. Sizes, hands, orders and drawings take turns. They are built by the tool alone and not a second time by `again.py`: the same
bytes twice are held for planners of every kind elsewhere, and 36 more would cost minutes and show nothing new.
"""

import calendar
import re
import subprocess
from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import product

import pytest

import tool
from reading import Reading
from test_planner import WEEKDAYS, Case, written

YEARS = range(2024, 2036)
STARTS = {"monday": ("iso", [0, 1, 2]), "sunday": ("january-first", [3, 4]), "saturday": ("january-first", [5, 6])}
PAGES = [
    'size = "A5"\nlayout = "single"',
    'size = "tablet-4x3"\nlayout = "spread"\nhand = "left"',
    'size = "A4"\nlayout = "single"\norientation = "landscape"',
    'size = "phone-2x1"\nlayout = "single"',
    'size = "tablet-4x3"\nlayout = "single"\norientation = "portrait"',
]
DAYS = ["", 'ruling = "day-notes"\n', 'ruling = "notes"\n', 'companions = [{ ruling = "dot-grid" }]\n']
WEEKS = ["", 'ruling = "week-rows"\n', 'ruling = "open-week"\n']
ORDERS = ["", 'order = "by-kind"\n']

MANIFEST = """\
name = "Years"
version = "1.0.0"
released = 2023-11-01
language = "en-GB"
shop = {{ name = "Fernhill Paper", contact = "help@fernhill.example" }}
guide = {{ wanted = false }}
[page]
{page}
[calendar]
first = "{year}-01"
first-day = "{start}"
week-numbers = "{numbers}"
{order}
[[notebook.dated]]
pages = "year"
[[notebook.dated]]
pages = "month"
[[notebook.dated]]
pages = "week"
{week}
[[notebook.dated]]
pages = "day"
weekdays = [{days}]
{day}
"""


@dataclass
class Planner:
    case: Case
    days: list
    book: Reading
    labels: list
    texts: list

    def number_of(self, link):
        """The number that a tap area holds, if it holds one and nothing else."""
        left, top, right, bottom = link.rect
        inside = []
        for word in self.book.words[link.page]:
            x, y = (word.rect[0] + word.rect[2]) / 2, (word.rect[1] + word.rect[3]) / 2
            if left <= x <= right and top <= y <= bottom:
                inside.append(word.text)
        return int(inside[0]) if inside and inside[0].isdigit() else None

    def week_of(self, day):
        return day - timedelta(days=(day.weekday() - WEEKDAYS.index(self.case.start)) % 7)


@pytest.fixture(scope="module", params=list(product(YEARS, STARTS)), ids=lambda param: f"{param[0]} {param[1]}")
def planner(request, tmp_path_factory):
    year, start = request.param
    numbers, days = STARTS[start]
    turn = (year - YEARS[0]) * len(STARTS) + list(STARTS).index(start)
    folder = tmp_path_factory.mktemp("year")
    words = {
        "page": PAGES[turn % len(PAGES)], "order": ORDERS[turn % 2], "week": WEEKS[turn // 2 % 3], "day": DAYS[turn // 3 % 4],
        "days": ", ".join(f'"{WEEKDAYS[day]}"' for day in days),
    }  # fmt: skip
    (folder / "product.toml").write_text(MANIFEST.format(year=year, start=start, numbers=numbers, **words), encoding="utf-8")
    run = subprocess.run([tool.BINARY, "build", folder, "--out", folder / "dist"], capture_output=True, text=True, timeout=600)
    assert run.returncode == 0, run.stdout + run.stderr
    (notebook,) = (folder / "dist").glob("*/*/contents/*.pdf")
    book = Reading(notebook)
    texts = [" ".join(text.split()) for text in tool.program("pdftotext", "-layout", notebook, "-").split("\f")]
    return Planner(Case(f"{year}-01", 12, start, numbers), days, book, [page.label for page in book.pdf.pages], texts)


def test_every_date_is_where_the_calendar_has_it(planner):
    case = planner.case
    weeks = {}
    for page, label in enumerate(planner.labels):
        if re.fullmatch(r"W\d\d", label):
            weeks[page] = case.weeks[len(weeks)]
    assert [planner.labels[page] for page in weeks] == [f"W{case.number(first):02}" for first in case.weeks]
    seen_days, numbered = [], 0
    for page, label in enumerate(planner.labels):
        text = planner.texts[page]
        if re.fullmatch(r"\d{4}-\d\d-\d\d", label):
            day = date.fromisoformat(label)
            seen_days.append(day)
            # Where the whole date has no room beside the arrows, the month stands in its short form.
            said = written(day) in text or (f"{day.day} {day:%b}" in text and str(day.year) in text)
            assert f"{day:%A}" in text and said, f"{label}: {text[:120]}"
        elif page in weeks:
            first = weeks[page]
            last = first + timedelta(days=6)
            assert f"Week {case.number(first)}" in text, f"{label}: {text[:120]}"
            assert written(last) in text or f"{last.day} {last:%b}" in text, f"week of {first}: {text[:120]}"
        elif re.fullmatch(r"\d{4}(-\d\d)?", label):
            numbered += grids(planner, page, label, weeks)
    assert seen_days == sorted(seen_days) == [day for day in case.days if day.weekday() in planner.days]
    assert numbered >= 2 * len(case.days), "the year and the months have every date"


def grids(planner, page, label, weeks):
    """Every number of the grids on a page of a year or a month leads to its date, and stands in its row and column."""
    case, month = planner.case, int(label[5:]) if len(label) > 4 else None
    wanted = [day for day in case.days if month in (None, day.month)]
    cells, open_ = {}, []
    for link in planner.book.links[page]:
        number = planner.number_of(link)
        if number is None or link.target < 0:
            continue
        target = planner.labels[link.target]
        if re.fullmatch(r"\d{4}-\d\d-\d\d", target):
            day = date.fromisoformat(target)
            assert number == day.day, f"{label}: {number} leads to {target}"
            cells.setdefault(day, []).append(link)
        elif link.target in weeks:
            # A day without a page leads to its week, and so does the number of the week.
            open_.append((number, weeks[link.target], link))
    # The grid of the page itself has the larger areas; small months stand beside it.
    largest = {day: max(links, key=lambda link: link.rect[2] - link.rect[0]) for day, links in cells.items() if day in wanted}
    numbers = defaultdict(list)
    for number, first, link in open_:
        days = [first + timedelta(days=n) for n in range(7)]
        day = next((day for day in days if day.day == number), None)
        assert day or number == case.number(first), f"{label}: {number} leads to the week of {first}"
        if day in wanted and day.weekday() not in planner.days:
            numbers[day].append(link)
    for day, links in numbers.items():
        # Where a row has the number of its week and a day of the same number, the week's stands before the day's.
        if day.day == case.number(planner.week_of(day)):
            links = [link for link in links if any(before(other, link) for other in links)] or links
        largest[day] = max(links, key=lambda link: link.rect[2] - link.rect[0])
    assert sorted(largest) == wanted, f"{label}: {sorted(set(wanted) - set(largest))[:5]} are not in the grid"
    rows = defaultdict(list)
    for day, link in sorted(largest.items()):
        rows[day.month, planner.week_of(day)].append(link)
    for (_, first), links in rows.items():
        heights = [link.centre[1] for link in links]
        assert max(heights) - min(heights) < 1.5, f"{label}: the week of {first} is no row"
        lefts = [link.rect[0] for link in links]
        assert lefts == sorted(lefts), f"{label}: the week of {first} is not in order"
    across = defaultdict(list)
    for day, link in largest.items():
        across[day.month, day.weekday()].append(link.rect[0])
    assert all(max(xs) - min(xs) < 1.5 for xs in across.values()), f"{label}: columns"
    # Rows from top to bottom are those of Python's calendar.
    for number in {day.month for day in wanted}:
        matrix = calendar.Calendar(WEEKDAYS.index(case.start)).monthdatescalendar(wanted[0].year, number)
        tops = [rows[number, week[0]][0].centre[1] for week in matrix]
        assert tops == sorted(tops), f"{label}: rows of month {number}"
    return len(largest)


def before(a, b):
    """Whether a tap area stands left of another in the same row."""
    return a.rect[0] < b.rect[0] and min(a.rect[3], b.rect[3]) - max(a.rect[1], b.rect[1]) > 1
