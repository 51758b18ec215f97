"""The small figures of a second calendar beside the days of a month: held against hijridate (Umm al-Qura), pyluach (the Jewish
calendar) and the lunardate (the traditional Chinese one, by a table of new moons), which share no code with the tool."""

import re
from datetime import date, timedelta

import pytest
from hijridate import Gregorian
from lunardate import LunarDate
from pyluach import dates

import tool
from reading import Reading

MANIFEST = """\
name = "Two Moons"
version = "1.0.0"
released = 2026-11-01
language = "en-GB"
shop = {{ name = "Fernhill Paper", contact = "help@fernhill.example" }}
guide = {{ wanted = false }}
page = {{ size = "tablet-4x3", layout = "single", orientation = "portrait" }}
[calendar]
first = "2027-01"
months = 7
first-day = "sunday"
beside = "{second}"
[[notebook.dated]]
pages = "month"
[[notebook.dated]]
pages = "day"
"""


def hijri(days):
    return [Gregorian(day.year, day.month, day.day).to_hijri().day for day in days]


def hebrew(days):
    return [dates.HebrewDate.from_pydate(day).day for day in days]


def chinese(days):
    # The new moon of 6 February 2027 is at 23:56 in Beijing (lunardate's table has the year begin on that day): a calendar that
    # reckons moons a little early or late, as some libraries do, is a day off for a month.
    return [LunarDate.from_solar_date(day.year, day.month, day.day).day for day in days]


@pytest.mark.parametrize("second, reckoned", [("hijri-umm-al-qura", hijri), ("hebrew", hebrew), ("chinese", chinese)])
def test_each_day_has_its_figure_of_the_second_calendar(second, reckoned, tmp_path):
    (tmp_path / "product.toml").write_text(MANIFEST.format(second=second), encoding="utf-8")
    bundle = tool.build(tmp_path, tmp_path / "dist")
    book = Reading(bundle.notebook)
    labels = [page.label for page in book.pdf.pages]
    figures = {}
    for page in (n for n, label in enumerate(labels) if re.fullmatch(r"\d{4}-\d\d", label)):
        cells = {}
        for link in book.links[page]:
            if link.target >= 0 and re.fullmatch(r"\d{4}-\d\d-\d\d", labels[link.target]):
                day = date.fromisoformat(labels[link.target])
                # The cell of the large grid: small months stand beside it.
                if day.isoformat().startswith(labels[page]):
                    cells[day] = max(cells.get(day, link.rect), link.rect, key=lambda rect: rect[3] - rect[1])
        for day, (left, top, _, bottom) in cells.items():
            row = [word for word in book.words[page] if top <= (word.rect[1] + word.rect[3]) / 2 <= bottom]
            number = next(word for word in row if word.text == str(day.day) and left <= word.rect[0] <= left + 12)
            beside = min((word for word in row if word.rect[0] > number.rect[0]), key=lambda word: word.rect[0])
            figures[day] = int(beside.text)
    days = [date(2027, 1, 1) + timedelta(days=n) for n in range((date(2027, 8, 1) - date(2027, 1, 1)).days)]
    assert [figures[day] for day in days] == reckoned(days)


def test_a_calendar_that_there_is_not_is_told_with_those_that_there_are(tmp_path):
    (tmp_path / "product.toml").write_text(MANIFEST.format(second="hebrw"), encoding="utf-8")
    run = tool.sheafwright("build", tmp_path, "--out", tmp_path / "dist")
    said = run.stdout + run.stderr
    assert run.returncode == 2 and re.search(r"product\.toml:\d+:\d+: ", said) and "did you mean `hebrew`?" in said, said
