"""The checks of dates from outside: planners that reportlab draws and Python's calendar reckons, right and spoilt."""

import datetime
import json
import random
import subprocess
import sys
from pathlib import Path

import pytest

import tool

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests/fixtures/checks"))
import planners  # noqa: E402

SPANS = {
    "2024-leap": {"first": (2024, 1), "months": 12, "kinds": ("month", "week")},
    "2026-53-weeks": {"first": (2026, 1), "months": 12, "kinds": ("week",)},
    "2028-sunday": {"first": (2028, 1), "months": 12, "week": 6, "scheme": "january-first", "kinds": ("month", "week")},
    "2025-saturday": {"first": (2025, 1), "months": 6, "week": 5, "scheme": "january-first", "kinds": ("month", "week")},
    "school-year": {"first": (2026, 8), "months": 12, "kinds": ("month", "week")},
    "15-months": {"first": (2026, 10), "months": 15, "kinds": ("month", "day")},
    "four-rows": {"first": (2027, 2), "months": 1},
    "workdays": {"first": (2027, 5), "months": 2, "workdays": True},
    "turn-of-year": {"first": (2027, 12), "months": 2, "week": 6, "scheme": "january-first"},
}


def findings(path):
    """What is said of the dates of a file."""
    done = subprocess.run([tool.BINARY, "check", str(path), "--json"], capture_output=True, text=True, timeout=300)
    assert done.returncode in (0, 1), done.stderr
    return [f for f in json.loads(done.stdout)["findings"] if f["family"] == "dates"]


@pytest.mark.parametrize("name", SPANS)
def test_a_planner_that_is_right_is_left_alone(name, tmp_path):
    planners.write(planners.pages(**SPANS[name]), tmp_path / "planner.pdf")
    assert findings(tmp_path / "planner.pdf") == []


def test_a_planner_in_another_language_is_not_read(tmp_path):
    planners.write(planners.pages(), tmp_path / "planner.pdf", language="de-DE")
    made = planners.pages()
    made["day", datetime.date(2027, 3, 14)].swap("Sunday", "Monday")
    planners.write(made, tmp_path / "spoilt.pdf", language="de-DE")
    assert findings(tmp_path / "planner.pdf") == findings(tmp_path / "spoilt.pdf") == []


@pytest.mark.parametrize("seed", range(6))
def test_any_number_that_is_changed_in_any_grid_is_found(seed, tmp_path):
    chance = random.Random(seed)
    made = planners.pages(first=(2024 + seed, 1 + chance.randrange(12)))
    # Large grids of months, and small ones of days: numbers of days stand in sizes of their own.
    key, size = chance.choice([(key, 14 if key[0] == "month" else 10) for key in made if key[0] in ("month", "day")])
    page = made[key]
    left = 90 if key[0] == "month" else 620
    numbers = [text for text in page.texts if text[2] == size and text[3].isdigit() and text[0] >= left and text[1] > 140]
    text = chance.choice(numbers)
    text[3] = str(int(text[3]) % 28 + 1)
    planners.write(made, tmp_path / "planner.pdf")
    assert [f["page"] for f in findings(tmp_path / "planner.pdf") if f["check"] == "date-grid-wrong"] == [
        list(made).index(key) + 1
    ], text


@pytest.mark.parametrize("seed", range(6))
def test_any_tap_on_a_day_that_is_led_astray_is_found(seed, tmp_path):
    chance = random.Random(100 + seed)
    made = planners.pages(first=(2024 + seed, 1 + chance.randrange(12)))
    key = chance.choice([key for key in made if key[0] in ("year", "month", "week")])
    taps = [tap for tap in made[key].taps if tap[4][0] == "day"]
    tap = chance.choice(taps)
    tap[4] = chance.choice([other for other in made if other[0] == "day" and other != tap[4]])
    planners.write(made, tmp_path / "planner.pdf")
    told = [f for f in findings(tmp_path / "planner.pdf") if f["check"] == "date-link-astray"]
    assert [f["page"] for f in told] == [list(made).index(key) + 1], (key, tap)


def test_what_is_no_planner_is_left_alone(tmp_path):
    """Minutes of meetings, with a date on each page and some twice; a table of numbers under letters of weekdays."""
    made = {}
    for n in range(12):
        page = made["page", n] = planners.Page(("page", n))
        day = datetime.date(2027, 1, 5) + datetime.timedelta(7 * (n // 2) + 14 * (n // 7))
        page.say(60, 90, 20, f"Minutes of {planners.DAYS[day.weekday()]}, {planners.said(day)}")
        page.say(60, 130, 14, planners.said(day), ("page", (n + 3) % 12))
        for column, letter in enumerate("MTWTFSS"):
            page.say(60 + 40 * column, 200, 10, letter)
            for row in range(5):
                page.say(60 + 40 * column, 230 + 30 * row, 10, str((column * 7 + row * 3) % 31 + 1))
    planners.write(made, tmp_path / "minutes.pdf")
    assert findings(tmp_path / "minutes.pdf") == []
