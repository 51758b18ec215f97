"""Dated planners from outside: dates by Python's calendar and datetime (`isocalendar` for ISO weeks), texts by poppler, links
by qpdf. Nothing here computes a date as the tool does."""

import calendar
import re
from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta

import pikepdf
import pytest

import tool
from reading import Reading

WEEKDAYS = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
DAY = re.compile(r"\d{4}-\d{2}-\d{2}(/\d+)?")

HEAD = """\
name = "{name}"
version = "1.0.0"
released = 2026-11-01
language = "en-GB"
shop = {{ name = "Fernhill Paper", contact = "help@fernhill.example" }}
{page}
[calendar]
"""

SETS = """
[[notebook.dated]]
pages = "year"
[[notebook.dated]]
pages = "quarter"
[[notebook.dated]]
pages = "month"
[[notebook.dated]]
pages = "week"
[[notebook.dated]]
pages = "day"
companions = [{ ruling = "lined", name = "Notes" }]
"""


@dataclass(frozen=True)
class Case:
    """A span, the day on which weeks begin, and how they are numbered."""

    first: str
    months: int
    start: str
    numbers: str
    page: str = ""

    @property
    def days(self):
        year, month = map(int, self.first.split("-"))
        out, day = [], date(year, month, 1)
        for _ in range(self.months):
            last = calendar.monthrange(day.year, day.month)[1]
            out += [day.replace(day=n) for n in range(1, last + 1)]
            day = out[-1] + timedelta(days=1)
        return out

    @property
    def weeks(self):
        """The first day of every week that touches the span."""
        first = {day - timedelta(days=(day.weekday() - WEEKDAYS.index(self.start)) % 7) for day in self.days}
        return sorted(first)

    def number(self, first):
        if self.numbers == "iso":
            return first.isocalendar().week
        year = (first + timedelta(days=6)).year
        january = date(year, 1, 1)
        begin = january - timedelta(days=(january.weekday() - WEEKDAYS.index(self.start)) % 7)
        return (first - begin).days // 7 + 1

    def manifest(self, more=""):
        name = f"Case {self.first} {self.months} {self.start}"
        return HEAD.format(name=name, page=self.page) + (
            f'first = "{self.first}"\nmonths = {self.months}\nfirst-day = "{self.start}"\n'
            f'week-numbers = "{self.numbers}"\n{more}{SETS}'
        )


CASES = [
    Case("2024-01", 12, "monday", "iso"),  # a leap year
    Case("2026-01", 12, "monday", "iso", '[page]\nsize = "A5"\nlayout = "single"\nhand = "left"'),  # 53 ISO weeks
    Case("2028-01", 12, "sunday", "january-first"),  # 54 pages of weeks
    Case("2026-11", 15, "saturday", "january-first", '[page]\nsize = "A4"\nlayout = "single"\norientation = "portrait"'),
    Case("2027-02", 1, "monday", "iso"),  # four rows
]


class Planner:
    """A built planner, by the labels of its pages."""

    def __init__(self, case, notebook):
        self.case = case
        self.book = Reading(notebook)
        with pikepdf.open(notebook) as pdf:
            self.labels = [page.label for page in pdf.pages]
        self.at = {label: page for page, label in enumerate(self.labels)}
        self.links = dict(enumerate(self.book.links))
        self.texts = tool.program("pdftotext", "-layout", notebook, "-").split("\f")

    def text(self, label):
        return " ".join(self.texts[self.at[label]].split())

    def targets(self, label):
        return [self.labels[link.target] for link in self.links[self.at[label]] if link.target >= 0]

    def day_of(self, label):
        """The date of a day page, or of what stands behind it."""
        return date.fromisoformat(label[:10]) if DAY.fullmatch(label) else None


@pytest.fixture(scope="session")
def built(tmp_path_factory):
    seen = {}

    def get(case):
        if case not in seen:
            folder = tmp_path_factory.mktemp("planner")
            (folder / "product").mkdir()
            (folder / "product/product.toml").write_text(case.manifest(), encoding="utf-8")
            seen[case] = Planner(case, tool.build(folder / "product", folder / "dist").notebook)
        return seen[case]

    return get


@pytest.fixture(params=CASES, ids=lambda case: f"{case.first}+{case.months} {case.start}")
def planner(request, built):
    return built(request.param)


def written(day):
    return f"{day.day} {day:%B} {day.year}"


def test_every_day_has_its_page_once_and_says_its_date(planner):
    days = [label for label in planner.labels if re.fullmatch(r"\d{4}-\d{2}-\d{2}", label)]
    assert days == [day.isoformat() for day in planner.case.days]
    for label in days:
        day, text = date.fromisoformat(label), planner.text(label)
        assert f"{day:%A}" in text and written(day) in text, f"{label}: {text[:120]}"
        behind = planner.text(f"{label}/2")
        assert f"{day:%A}" in behind and written(day) in behind, f"{label}/2: {behind[:120]}"


def test_every_week_that_touches_the_span_has_its_page(planner):
    case = planner.case
    numbers = [case.number(first) for first in case.weeks]
    assert [label for label in planner.labels if re.fullmatch(r"W\d\d", label)] == [f"W{n:02}" for n in numbers]
    pages = [page for page, label in enumerate(planner.labels) if re.fullmatch(r"W\d\d", label)]
    for page, first, number in zip(pages, case.weeks, numbers, strict=True):
        text = " ".join(planner.texts[page].split())
        last = first + timedelta(days=6)
        assert f"Week {number}" in text, text[:120]
        assert written(last) in text, f"week of {first}: {text[:160]}"
        leads = {planner.labels[link.target] for link in planner.links[page]}
        within = {(first + timedelta(days=n)).isoformat() for n in range(7)} & {d.isoformat() for d in case.days}
        assert within <= leads, f"week of {first}"


def test_the_page_of_a_month_is_the_month_of_the_calendar(planner):
    """The taps of the days stand in rows and columns as Python's calendar has them, however many rows that are."""
    case = planner.case
    weeks = calendar.Calendar(WEEKDAYS.index(case.start))
    for label in {day.strftime("%Y-%m") for day in case.days}:
        year, month = map(int, label.split("-"))
        assert f"{date(year, month, 1):%B}" in planner.text(label) and str(year) in planner.text(label)
        taps = {}
        for link in planner.links[planner.at[label]]:
            day = planner.day_of(planner.labels[link.target])
            if day and (day.year, day.month) == (year, month):
                # The largest of several taps is that of the grid; small months stand beside it. It is as wide as its
                # number, from the left side of its day on.
                size = (link.rect[2] - link.rect[0]) * (link.rect[3] - link.rect[1])
                if day not in taps or size > taps[day][0]:
                    taps[day] = (size, (link.rect[0], link.centre[1]))
        days = {day for week in weeks.monthdatescalendar(year, month) for day in week if day.month == month}
        assert taps.keys() == days, label
        for week in weeks.monthdatescalendar(year, month):
            row = [taps[day][1] for day in week if day.month == month]
            assert max(y for _, y in row) - min(y for _, y in row) < 1, f"{label}: {week[0]} is no row"
            assert row == sorted(row), f"{label}: {week[0]} is not in order"
        columns = defaultdict(list)
        for day, (_, (x, _)) in taps.items():
            columns[day.weekday()].append(x)
        assert all(max(xs) - min(xs) < 1 for xs in columns.values()), f"{label}: columns"


def test_a_number_that_is_tapped_leads_to_the_page_of_its_date(planner):
    told = 0
    for page, links in planner.links.items():
        if not re.fullmatch(r"\d{4}(-\d\d|-Q\d|-\d\d-\d\d)?(/\d)?|W\d\d", planner.labels[page] or ""):
            continue
        words = [(word, (word.rect[0] + word.rect[2]) / 2, (word.rect[1] + word.rect[3]) / 2) for word in planner.book.words[page]]
        for link in links:
            day = planner.day_of(planner.labels[link.target])
            if not day:
                continue
            left, top, right, bottom = link.rect
            inside = [w.text for w, x, y in words if left <= x <= right and top <= y <= bottom]
            numbers = [word for word in inside if word.isdigit()]
            if numbers:
                told += 1
                assert str(day.day) in numbers, f"{planner.labels[page]}: {inside} leads to {day}"
    assert told > 2 * len(planner.case.days), "hardly a number was tapped"


def test_previous_and_next_are_inverse(planner):
    days = planner.case.days
    for i, day in enumerate(days):
        around = {label for label in planner.targets(f"{day}/2") if label.endswith("/2")}
        beside = {f"{days[k]}/2" for k in (i - 1, i + 1) if 0 <= k < len(days)}
        assert around == beside, day
        assert {f"{days[k]}" for k in (i - 1, i + 1) if 0 <= k < len(days)} <= set(planner.targets(str(day))), day


def test_pages_lead_up_to_their_companions_and_to_all_months(planner):
    months = sorted({day.strftime("%Y-%m") for day in planner.case.days})
    for label in planner.labels:
        day = planner.day_of(label or "")
        if not day:
            continue
        leads = planner.targets(label)
        assert set(months) <= set(leads), f"{label} lacks the tab of a month"
        if "/" in label:
            assert str(day) in leads, f"{label} has no way back"
        else:
            assert f"{day}/2" in leads, f"{label} does not lead to its notes"
            week = max(first for first in planner.case.weeks if first <= day)
            assert f"W{planner.case.number(week):02}" in leads, f"{label} does not lead to its week"


def test_the_outline_holds_years_months_and_weeks_but_no_days(planner):
    entries = []

    def walk(items, depth):
        for title, page, below in items:
            entries.append((depth, planner.labels[page], title))
            walk(below, depth + 1)

    walk(planner.book.outline, 0)
    labels = [label for _, label, _ in entries]
    assert not [label for label in labels if planner.day_of(label)]
    for month in {day.strftime("%Y-%m") for day in planner.case.days}:
        assert (1, month) in {(depth, label) for depth, label, _ in entries}, month
    assert len([label for label in labels if re.fullmatch(r"W\d\d", label)]) == len(planner.case.weeks)


BAD = [
    ('first = "2027-13"\n', {}, ["product.toml:", "2027 has no month 13", 'as in "2027-01"']),
    ('first = "2027-01"\nfirst-day = "mondey"\n', {}, ["`mondey` is no day of the week", "did you mean `monday`?"]),
    (
        'first = "2027-01"\nfirst-day = "sunday"\nweek-numbers = "iso"\n',
        {},
        ["ISO week numbers are for weeks from Monday", 'week-numbers = "january-first"'],
    ),
    ('first = "2027-01"\nmonths = 25\n', {}, ["a planner of 25 months cannot be made", "months is 1 to 24"]),
    (
        'first = "2027-01"\n[[calendar.list]]\nname = "Choir"\nfile = "dates/choir.ics"\n',
        {"dates/choir.ics": "BEGIN:VCALENDAR\nVERSION:2.0\nBEGIN:VEVENT\nUID:1\nDTSTART;VALUE=DATE:20270310\nSUMMARY:Tea\n"},
        ["dates/choir.ics:", "END:"],
    ),
    (
        'first = "2027-01"\n[[calendar.list]]\nname = "Choir"\nfile = "dates/chior.csv"\n',
        {"dates/choir.csv": "date,name\n03-01,Tea\n"},
        ["product.toml:", "no such file", "dates/choir.csv"],
    ),
]


def fault(tmp_path, calendar_text, files, pages='[[notebook.dated]]\npages = "month"\n'):
    folder = tmp_path / "product"
    folder.mkdir()
    (folder / "product.toml").write_text(HEAD.format(name="Bad", page="") + calendar_text + pages, encoding="utf-8")
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    return tool.sheafwright("build", folder, "--out", tmp_path / "dist")


@pytest.mark.parametrize("text, files, says", BAD)
def test_what_cannot_be_is_told_with_its_place(tmp_path, text, files, says):
    run = fault(tmp_path, text, files)
    assert run.returncode != 0
    said = run.stdout + run.stderr
    assert not [words for words in says if words not in said], said
    assert re.search(r"\.(toml|csv|ics):\d+:\d+: ", said), said


def test_a_wrong_date_in_line_40_of_a_list_is_told_with_that_line(tmp_path):
    lines = ["date,name", *(f"2027-03-{n % 28 + 1:02},Day {n}" for n in range(38)), "2027-02-30,Nothing", "03-01,Tea"]
    text = 'first = "2027-01"\n[[calendar.list]]\nname = "Holidays"\nfile = "dates/list.csv"\n'
    run = fault(tmp_path, text, {"dates/list.csv": "\n".join(lines) + "\n"})
    said = run.stdout + run.stderr
    assert run.returncode != 0
    assert "dates/list.csv:40:1: " in said and "2027-02 has 28 days" in said, said


@pytest.mark.parametrize(
    "event, says",
    [
        ('on = "2029-03-01"', ["dates-list-outside", "2029-03-01, outside of the planner", "correct the year"]),
        ('on = "5th monday of february"', ["dates-list-outside", "does not happen", "last monday of february"]),
        ('on = "02-29"', ["leap-event-unsaid", "29 February"]),
    ],
)
def test_an_event_that_is_never_seen_is_told(tmp_path, event, says):
    run = fault(tmp_path, f'first = "2027-01"\nmonths = 2\n[[calendar.event]]\nname = "Tea"\n{event}\n', {})
    said = run.stdout + run.stderr
    assert not [words for words in says if words not in said], said
    assert re.search(r"line \d+, column \d+", said), said


def test_a_new_planner_builds_at_once(tmp_path):
    run = tool.sheafwright("new", tmp_path / "day-book", "--planner")
    assert run.returncode == 0, run.stderr
    text = (tmp_path / "day-book/product.toml").read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 25
    year = int(re.search(r'first = "(\d{4})-01"', text)[1])
    bundle = tool.build(tmp_path / "day-book", tmp_path / "dist")
    days = 366 if calendar.isleap(year) else 365
    listing = (bundle.folder / "listing/description.md").read_text(encoding="utf-8")
    assert f"Dated January to December {year}" in listing and f"{days} days" in listing and "Monday start" in listing


TABS = """\
name = "Tabs"
version = "1.0.0"
released = 2026-11-01
language = "en-GB"
shop = {{ name = "Fernhill Paper", contact = "help@fernhill.example" }}
[page]
{page}
layout = "single"
coil = "none"
hand = "{hand}"
[calendar]
first = "2027-01"
[[notebook.dated]]
pages = "month"
[[notebook.template]]
ruling = "lined"
"""


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("page, sections", [('size = "A5"', 2), ('size = "A5"', 8), ('size = "A4"\norientation = "landscape"', 4)])
def test_tabs_of_months_turn_over_and_are_large_enough(tmp_path, page, hand, sections):
    """Common practice, no source: a tab of less than 9 mm is hard to hit."""
    names = "".join(f'[[notebook.section]]\nname = "{name}"\n' for name in "ABCDEFGH"[:sections])
    folder = tmp_path / "product"
    folder.mkdir()
    (folder / "product.toml").write_text(TABS.format(page=page, hand=hand) + names, encoding="utf-8")
    book = Reading(tool.build(folder, tmp_path / "dist").notebook)
    with pikepdf.open(book.path) as pdf:
        labels = [page.label for page in pdf.pages]
    for month in range(1, 13):
        links = book.links[labels.index(f"2027-{month:02}")]
        edge = [link for link in links if link.rect[0] < 12 or link.rect[2] > book.width - 12 or link.rect[1] < 12]
        tabs = {labels[link.target]: link for link in edge if re.fullmatch(r"2027-\d\d", labels[link.target] or "")}
        assert len(tabs) == 12
        for label, link in tabs.items():
            left, top, right, bottom = link.rect
            assert max(right - left, bottom - top) >= 9 / 25.4 * 72, f"{label} is {link.rect}"
            if bottom - top > right - left or top > 60:
                passed = label < f"2027-{month:02}"
                assert (link.centre[0] < book.width / 2) == (passed == (hand == "right")), f"{label} in {month}"
        shared = [(a, b) for i, a in enumerate(edge) for b in edge[i + 1 :] if a.target != b.target and touch(a.rect, b.rect)]
        assert not shared, shared


def touch(a, b):
    return min(a[2], b[2]) - max(a[0], b[0]) > 0.5 and min(a[3], b[3]) - max(a[1], b[1]) > 0.5


def test_a_variant_begins_its_weeks_elsewhere_or_has_no_dates(tmp_path):
    folder = tmp_path / "product"
    folder.mkdir()
    text = TABS.format(page='size = "A5"', hand="right").replace('first = "2027-01"', 'first = "2027-01"\nmonths = 2')
    variants = """
[variants.kind]
monday = { calendar = { first-day = "monday", week-numbers = "iso" } }
sunday = { calendar = { first-day = "sunday", week-numbers = "january-first" } }
undated = { notebook = { dated = [] } }
"""
    (folder / "product.toml").write_text(text + variants, encoding="utf-8")
    bundle = tool.build(folder, tmp_path / "dist")
    contents = bundle.folder / "contents"
    days = {}
    for kind in ["monday", "sunday", "undated"]:
        (path,) = [path for path in (contents / kind).glob("*.pdf") if "guide" not in path.name]
        with pikepdf.open(path) as pdf:
            labels = [page.label for page in pdf.pages]
        assert ("2027-02" in labels) == (kind != "undated")
        if kind != "undated":
            text = tool.page_text(path, labels.index("2027-02"))
            days[kind] = re.findall(r"\b(Mon|Sun)", text)[0]
    assert days == {"monday": "Mon", "sunday": "Sun"}
    listing = (bundle.folder / "listing/description.md").read_text(encoding="utf-8")
    assert "Monday or Sunday start" in listing
