"""No false alarms: planners of every kind are built, and neither the build nor `check` of the bare file finds an error.

A finding of the checks of dates stops a launch, so each kind of planner that can be asked for is held to have none. The rows
were chosen so that every start of the week, length of span, size, hand, layout, set and drawing is met, each beside others.
"""

import json
import shutil

import pytest

import tool

HEAD = """\
name = "Ferry Log"
version = "1.0.0"
released = 2026-11-01
language = "en-GB"
shop = {{ name = "Fernhill Paper", contact = "help@fernhill.example" }}
guide = {{ wanted = false }}
[page]
{page}
{style}
[calendar]
first = "{first}"
months = {months}
first-day = "{start}"
week-numbers = "{numbers}"
{calendar}
"""

ALL = ("year", "quarter", "month", "week", "day")

SIZES = {
    "phone": 'size = "phone-2x1"\nlayout = "single"',
    "A5": 'size = "A5"\nlayout = "single"',
    "A5-left": 'size = "A5"\nlayout = "single"\nhand = "left"',
    "A5-spread": 'size = "A5"\nlayout = "spread"\norientation = "landscape"',
    "A4": 'size = "A4"\nlayout = "single"\norientation = "portrait"',
    "A4-wide": 'size = "A4"\nlayout = "single"\norientation = "landscape"\nhand = "left"',
    "A4-spread": 'size = "A4"\nlayout = "spread"\norientation = "landscape"\nhand = "left"',
    "4x3": 'size = "tablet-4x3"\nlayout = "single"\norientation = "portrait"',
    "4x3-spread": 'size = "tablet-4x3"\nlayout = "spread"\norientation = "landscape"',
}

# Rows and rings need other measures on these.
LARGE_AND_LOW = {
    "A3": 'size = "A3"\nlayout = "single"',
    "A3-spread": 'size = "A3"\nlayout = "spread"',
    "Legal": 'size = "Legal"\nlayout = "single"',
    "Letter-spread": 'size = "Letter"\nlayout = "spread"',
    "phone-spread": 'size = "phone-2x1"\nlayout = "spread"',
    "phone-wide": 'size = "phone-2x1"\nlayout = "single"\norientation = "landscape"\nhand = "left"',
}

DARK = '[style]\npaper = "#20242a"\nink = "#e8e4da"\n'

# Names with dates, years, numbers of weeks and weekdays in them, as designers and choirs write them.
EVENTS = """
[[calendar.event]]
name = "Monday club"
on = "{year}-{month:02}-03"
[[calendar.event]]
name = "Report for {year}"
on = "{year}-{month:02}-05"
[[calendar.event]]
name = "May"
on = "{year}-{month:02}-06"
[[calendar.event]]
name = "12 March"
on = "{year}-{month:02}-10"
[[calendar.event]]
name = "Week 9"
on = "{year}-{month:02}-11"
[[calendar.event]]
name = "Founded 1 April 1987"
on = "{year}-{month:02}-12"
[[calendar.event]]
name = "Ferry 14 to Sunday quay"
on = "{year}-{month:02}-14"
[[calendar.event]]
name = "A first one of three"
on = "{year}-{month:02}-17"
[[calendar.event]]
name = "A second one of three"
on = "{year}-{month:02}-17"
[[calendar.event]]
name = "A third one, whose name is far too long for any cell of any month"
on = "{year}-{month:02}-17"
"""

TEMPLATES = """
[[notebook.section]]
name = "Notes"
pages = [{ template = "lines", count = 2 }]
[[notebook.template]]
name = "Lines"
ruling = "lined"
[[notebook.template]]
name = "A week without dates"
ruling = "week"
[[notebook.template]]
name = "A month without dates"
ruling = "month"
[[notebook.template]]
name = "A year without dates"
ruling = "year"
[[notebook.template]]
name = "A day without dates"
ruling = "day"
"""


def sets(*kinds, **more):
    """Sets of pages; `more` has lines for one of a kind."""
    return "".join(f'[[notebook.dated]]\npages = "{kind}"\n{more.get(kind, "")}\n' for kind in kinds)


def row(first, months, start, size, dated, *, calendar="", events=False, style="", more=""):
    numbers = {"monday": "iso"}.get(start, "january-first")
    return {
        "first": first, "months": months, "start": start, "numbers": numbers, "page": (SIZES | LARGE_AND_LOW)[size], "dated": dated,
        "calendar": calendar, "events": events, "style": style, "more": more,
    }  # fmt: skip


def drawn(kind, ruling, **with_):
    lines = "".join(f"{key.replace('_', '-')} = {value}, " for key, value in with_.items())
    return sets(kind, **{kind: f'ruling = "{ruling}"\n' + (f"with = {{ {lines.rstrip(', ')} }}\n" if lines else "")})


PLANNERS = {
    # Every set alone, and the span that suits it.
    "years-of-24": row("2024-07", 24, "saturday", "A4", sets("year")),
    "year-of-15": row("2025-10", 15, "sunday", "phone", sets("year")),
    "wall-plan": row("2027-01", 12, "monday", "A4-wide", drawn("year", "wall-plan"), events=True),
    "wall-plan-of-a-school-year": row("2026-08", 12, "sunday", "4x3", drawn("year", "wall-plan")),
    "wall-plan-of-a-quarter": row("2027-02", 12, "monday", "A5", drawn("quarter", "wall-plan")),
    "quarters-from-the-middle": row("2028-02", 15, "saturday", "A5-left", sets("quarter")),
    "quarter-of-one-month": row("2027-03", 1, "monday", "4x3-spread", sets("quarter")),
    "months-alone": row("2024-01", 12, "sunday", "4x3", sets("month")),
    "months-of-24": row("2029-01", 24, "monday", "phone", sets("month")),
    "month-lists": row("2027-02", 3, "saturday", "A5", drawn("month", "month-list"), events=True),
    "month-lists-wide": row("2027-02", 3, "monday", "4x3-spread", drawn("month", "month-list"), events=True),
    "four-rows": row("2027-02", 1, "monday", "A4-wide", sets("month"), events=True),
    "six-rows-on-a-phone": row("2027-05", 3, "monday", "phone", drawn("month", "month", rows="6"), events=True),
    "weeks-alone": row("2026-01", 12, "monday", "A5", sets("week")),
    "54-weeks": row("2028-01", 12, "sunday", "A5-spread", sets("week")),
    "weeks-over-a-new-year": row("2026-12", 3, "saturday", "4x3", sets("week"), events=True),
    "week-rows": row("2027-11", 3, "sunday", "phone", drawn("week", "week-rows"), events=True),
    "week-rows-wide": row("2027-11", 3, "monday", "A4-wide", drawn("week", "week-rows"), events=True),
    "week-hours": row("2024-02", 3, "monday", "A5-left", drawn("week", "week-hours"), events=True),
    "week-hours-from-six": row("2027-04", 1, "sunday", "4x3-spread", drawn("week", "week-hours", **{"from": "6", "to": "23"})),
    "open-weeks": row("2030-01", 3, "saturday", "A4", drawn("week", "open-week"), events=True),
    "open-weeks-on-a-phone": row("2027-03", 1, "monday", "phone", drawn("week", "open-week")),
    "open-page-a-week": row("2027-03", 3, "monday", "A5", drawn("week", "notes", style='"dots"')),
    "weeks-without-numbers": row("2027-03", 3, "monday", "A5", sets("week", "day"), calendar='week-numbers-off = 1'),
    "days-alone": row("2024-02", 1, "sunday", "A5", sets("day"), events=True),
    "days-of-12-hours": row("2025-03", 1, "monday", "phone", sets("day"), calendar="clock = 12", events=True),
    "days-of-notes": row("2027-02", 1, "saturday", "4x3-spread", drawn("day", "day-notes"), events=True),
    "open-days": row("2027-02", 1, "monday", "A4", drawn("day", "notes", style='"squares"')),
    "a-plain-ruling": row("2027-02", 1, "monday", "A5", drawn("day", "dot-grid")),
    "a-plain-ruling-of-weekdays": row("2027-02", 3, "sunday", "A5", drawn("week", "checklist")),
    # Days that are not all there.
    "workdays": row("2027-05", 1, "monday", "A5", sets("month", "day", day='weekdays = "workdays"'), events=True),
    "weekend-joined": row("2027-05", 1, "monday", "A5-left", sets("month", "week", "day", day='weekdays = "joined"'), events=True),
    "weekend-joined-across-the-month": row("2026-02", 3, "sunday", "phone", sets("day", day='weekdays = "joined"\nruling = "two-days"')),
    "two-days-a-page": row(
        "2027-03", 1, "monday", "A5",
        sets("month", "week", "day", day='ruling = "two-days"\nweekdays = ["monday+tuesday", "wednesday+thursday", "friday", "saturday+sunday"]'),
        events=True,
    ),
    "two-days-across-the-week": row(
        "2027-02", 2, "sunday", "4x3-spread",
        sets("month", "week", "day", day='ruling = "two-days"\nweekdays = ["tuesday+wednesday", "thursday+friday", "saturday+sunday", "monday"]'),
    ),
    "tuesdays": row("2027-01", 3, "monday", "4x3", sets("month", "day", day='weekdays = ["tuesday"]')),
    "tuesdays-alone": row("2027-01", 3, "monday", "4x3", sets("day", day='weekdays = ["tuesday"]')),
    "weekend-of-friday": row("2027-01", 1, "saturday", "A5", sets("month", "day"), calendar='weekend = ["friday", "saturday"]'),
    # Together.
    "all": row("2027-02", 3, "monday", "A5", sets(*ALL), events=True, more=TEMPLATES),
    "all-by-kind": row("2026-11", 3, "saturday", "4x3-spread", sets(*ALL), calendar='order = "by-kind"', events=True, more=TEMPLATES),
    "all-blank-neighbours": row("2028-02", 1, "sunday", "A4-wide", sets(*ALL), calendar='neighbours = "blank"', events=True),
    "all-dark": row("2027-12", 2, "monday", "4x3", sets(*ALL), style=DARK, events=True),
    "all-on-a-phone": row("2027-08", 1, "sunday", "phone", sets(*ALL), events=True, more=TEMPLATES),
    "companions": row(
        "2027-02", 1, "monday", "A5",
        sets("month", "week", "day", month='companions = [{ ruling = "month", name = "Undated" }]',
             week='companions = [{ ruling = "lined", count = 2 }]', day='companions = [{ ruling = "day" }, { ruling = "dot-grid" }]'),
    ),  # fmt: skip
    "two-sets-of-days": row("2027-03", 1, "monday", "A5", sets("day", "month") + sets("day", day='name = "evening"\nruling = "day-notes"')),
    "a-year-and-its-days": row("2027-03", 3, "sunday", "4x3-spread", sets("year", "day"), events=True),
    "undated-beside": row("2029-06", 3, "monday", "A5-spread", sets("quarter", "month"), more=TEMPLATES),
    "months-on-top": row("2027-09", 3, "monday", "A4", sets("month", "week") + '[notebook.months]\nedge = "top"\nlabel = "number"\n', more=TEMPLATES),
    "narrow-tabs": row("2027-09", 3, "saturday", "A5", sets("month", "week") + '[notebook.months]\nlabel = "narrow"\n'),
    "counted-from-the-start": row("2026-09", 3, "sunday", "A5", sets("month", "week"), calendar="week-numbers-from = 1"),
}  # fmt: skip


# Every drawing of every kind of page in one planner, at every size: nothing at all is to be said of these, least of all that
# a day of a small month cannot be hit.
DRAWN = (
    ("year", ("year", "wall-plan")),
    ("quarter", ("quarter",)),
    ("month", ("month", "month-list")),
    ("week", ("week", "week-rows", "open-week", "week-hours")),
    ("day", ("day", "day-notes", "two-days")),
)
DRAWN = "".join(
    f'[[notebook.dated]]\npages = "{kind}"\nruling = "{ruling}"\n' + (f'name = "{ruling}"\n' if n else "")
    for kind, rulings in DRAWN for n, ruling in enumerate(rulings)
)  # fmt: skip
STARTS = ("sunday", "saturday", "monday")
EVERY = {
    f"{size}-{start}": row("2026-08" if n % 2 else "2027-01", 1, start, size, DRAWN, calendar="" if start == "monday" else "week-numbers-from = 1")
    for n, size in enumerate([*SIZES, *LARGE_AND_LOW]) for start in (STARTS[n % 3], STARTS[(n + 1) % 3])
}  # fmt: skip


def manifest(case):
    year, month = map(int, case["first"].split("-"))
    text = HEAD.format(**case)
    text = text.replace("week-numbers-off = 1", "").replace("week-numbers-from = 1", "")
    if "off" in case["calendar"]:
        text = text.replace('week-numbers = "iso"', 'week-numbers = "none"')
    if "from = 1" in case["calendar"]:
        text = text.replace('week-numbers = "january-first"', 'week-numbers = "from-start"')
    if case["events"]:
        text += EVENTS.format(year=year, month=month)
    return text + case["dated"] + case["more"]


def errors(*arguments):
    run = tool.sheafwright(*arguments, "--json")
    assert run.returncode in (0, 1) and run.stdout, run.stderr
    found = json.loads(run.stdout)["findings"]
    return [f"{f['check']} page {f['page']}: {f['message']}" for f in found if f["severity"] == "error" or f["family"] == "dates"]


# What is so, and is said as a warning: names that a cell is too small for.
SO = ("event-cut", "event-crowd")


@pytest.mark.parametrize("name", PLANNERS)
def test_a_planner_of_any_kind_has_no_false_error(name, tmp_path):
    case = PLANNERS[name]
    folder = tmp_path / "product"
    folder.mkdir()
    (folder / "product.toml").write_text(manifest(case), encoding="utf-8")
    told = [line for line in errors("build", folder, "--out", tmp_path / "dist") if not line.startswith(SO)]
    assert told == []
    (record,) = (tmp_path / "dist").glob("*/*/bundle.json")
    bundle = tool.Bundle(folder, record.parent)
    # The same file alone, as made by somebody else.
    shutil.copyfile(bundle.notebook, tmp_path / "planner.pdf")
    told = [line for line in errors("check", tmp_path / "planner.pdf") if not line.startswith(SO)]
    assert told == []


@pytest.mark.parametrize("name", EVERY)
def test_every_drawing_at_every_size_has_nothing_to_be_said_of(name, tmp_path):
    (tmp_path / "product.toml").write_text(manifest(EVERY[name]), encoding="utf-8")
    run = tool.sheafwright("build", tmp_path, "--out", tmp_path / "dist", "--json")
    told = {f"{f['severity']} {f['check']} page {f['page']}: {f['message']}" for f in json.loads(run.stdout)["findings"]}
    assert told == set()
    assert run.returncode == 0, run.stdout + run.stderr
