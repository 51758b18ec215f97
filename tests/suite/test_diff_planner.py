"""Two planners side by side: a page is known by its date. Which days there are is Python's calendar."""

import calendar
import json
import re
import subprocess
from datetime import date, timedelta

import pikepdf
import pytest

import tool

MANIFEST = """\
name = "Ferry Log"
slug = "ferry-log"
version = "{version}"
released = 2026-11-01
language = "{language}"
shop = {{ name = "Fernhill Paper", contact = "help@fernhill.example" }}
[page]
size = "A5"
layout = "single"
[calendar]
first = "{first}"
months = {months}
first-day = "{start}"
week-numbers = "{numbers}"
{events}
[[notebook.dated]]
pages = "year"
[[notebook.dated]]
pages = "month"
[[notebook.dated]]
pages = "week"
[[notebook.dated]]
pages = "day"
companions = [{{ ruling = "lined", name = "Notes" }}]
[[notebook.section]]
name = "Tides"
pages = [{{ template = "lines", count = 2 }}]
[[notebook.template]]
name = "Lines"
ruling = "lined"
"""


@pytest.fixture(scope="module")
def edition(tmp_path_factory):
    """Builds planners, each once."""
    made = {}

    def build(first="2027-01", months=3, version="1.0.0", events="", start="monday", numbers="iso", language="en-GB"):
        key = (first, months, version, events, start, numbers, language)
        if key not in made:
            folder = tmp_path_factory.mktemp("planner")
            words = dict(first=first, months=months, version=version, events=events, start=start, numbers=numbers)
            (folder / "product.toml").write_text(MANIFEST.format(**words, language=language), encoding="utf-8")
            made[key] = tool.build(folder, folder / "dist")
        return made[key]

    return build


def diff(old, new, *more):
    done = subprocess.run([tool.BINARY, "diff", old, new, *more], capture_output=True, text=True)
    assert done.returncode == 1, done.stderr
    return done.stdout


def changes(old, new):
    report = json.loads(diff(old.folder, new.folder, "--json"))
    return report, [d for d in report["differences"] if d["path"].endswith("contents/ferry-log.pdf")]


def is_date(label):
    return re.match(r"\d{4}|W\d", label) is not None


def dated(bundle):
    with pikepdf.open(bundle.notebook) as pdf:
        return [page.label for page in pdf.pages]


# A birthday on 14 March 2027, a Sunday of ISO week 10 (Python: date(2027, 3, 14).isocalendar()).
ADDED = '[[calendar.event]]\nname = "Harbour day"\non = "2027-03-14"\n'


def test_a_holiday_more_changes_the_pages_of_its_date_and_no_others(edition):
    old, new = edition(), edition(version="1.0.1", events=ADDED)
    _, told = changes(old, new)
    names = dated(new)
    said = {names[d["page_new"] - 1] for d in told if d["kind"] == "text-changed"}
    assert said == {"2027-03", "W10", "2027-03-14"}
    # Beside those, the small months of February and March have its mark.
    redrawn = {names[d["page_new"] - 1] for d in told if d["kind"] == "page-redrawn"}
    small = {label for label in names if label.startswith(("2027-02", "2027-03", "W")) and not label.endswith("/2")}
    assert redrawn <= small | {"2027"}
    assert all(d["page_old"] == d["page_new"] for d in told), "14 March is 14 March in both"
    assert not {d["kind"] for d in told} & {"page-inserted", "page-removed", "page-moved", "dates-moved"}


def test_months_more_are_pages_more_and_every_date_stays_itself(edition):
    old, new = edition(), edition(months=4, version="1.1.0")
    report, told = changes(old, new)
    was, now = dated(old), dated(new)
    for d in told:
        if d["page_old"] and d["page_new"]:
            assert was[d["page_old"] - 1] == now[d["page_new"] - 1]
    inserted = sorted(now[d["page_new"] - 1] for d in told if d["kind"] == "page-inserted")
    april = [date(2027, 4, n).isoformat() for n in range(1, calendar.monthrange(2027, 4)[1] + 1)]
    # Weeks that touch April and did not touch March: from the Monday after 31 March on.
    mondays = [day for day in (date(2027, 4, 1) + timedelta(n) for n in range(30)) if day.weekday() == 0]
    weeks = [f"W{day.isocalendar().week:02}" for day in mondays]
    assert inserted == sorted(["2027-04", *april, *(f"{day}/2" for day in april), *weeks])
    assert not [d for d in told if d["kind"] in ("page-removed", "page-moved")]
    assert report["verdict"] == "minor" or [d for d in told if d["weight"] == "major"]


@pytest.mark.parametrize(
    "start, numbers, first, months, was, now, said",
    [
        ("monday", "iso", "2028-01", 3, "January to March 2027", "January to March 2028", "2028"),
        ("sunday", "none", "2027-08", 3, "January to March 2027", "August to October 2027", "2027"),
    ],
)
def test_an_edition_for_other_months_is_told_in_one_sentence(edition, start, numbers, first, months, was, now, said):
    old = edition(start=start, numbers=numbers)
    new = edition(first=first, months=months, version="2.0.0", start=start, numbers=numbers)
    report, told = changes(old, new)
    (moved,) = [d for d in told if d["kind"] == "dates-moved"]
    counts = [sum(map(is_date, dated(b))) for b in (new, old)]
    pages = f"{counts[0]} dated pages, " + ("as before" if counts[0] == counts[1] else f"before {counts[1]}")
    assert moved["message"] == f"the planner is for {now} and was for {was}: {pages}"
    assert (moved["name"], moved["weight"], report["verdict"]) == (said, "major", "major")
    # Nothing else is told of dated pages, and the undated ones lead where they led.
    names = [dated(old), dated(new)]
    for d in told:
        for page, labels_of in ((d["page_old"], names[0]), (d["page_new"], names[1])):
            assert page is None or not is_date(labels_of[page - 1]), d
    # Tabs of other months redraw undated pages as well.
    assert len(told) < 20, told
    assert not [d for d in told if d["kind"] in ("link-retargeted", "page-removed", "page-inserted")], told
    assert len(report["facts"]) < 10, report["facts"]


@pytest.mark.parametrize(
    "language, line",
    [("en-GB", "- The planner is for other months now: “2028”."), ("de", "- Der Planer ist jetzt für andere Monate: „2028“.")],
)
def test_buyers_are_told_of_an_edition_in_one_line(edition, language, line):
    old, new = edition(language=language), edition(first="2028-01", version="2.0.0", language=language)
    note = diff(old.folder, new.folder, "--note")
    assert line in note.splitlines(), note
    assert len([one for one in note.splitlines() if one.startswith("- ")]) <= 4, note
