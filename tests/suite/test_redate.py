"""The next year's product: what `redate` copies, edits, lists and refuses."""

import json
import subprocess
import tomllib

import pikepdf

import tool

MANIFEST = """\
# A choir's year.
name = "Choir Season 2027"   # what buyers see
slug = 'choir-2027'
version = "1.0.0"
released = 2026-09-01
language = "en-GB"
shop = { name = "Fernhill Paper", contact = "help@fernhill.example" }

[calendar]
first = "2027-01" # the season
first-day = "monday"

[[calendar.list]]
name = "Rehearsals"
file = "dates/rehearsals.csv"

[[calendar.event]]
name = "Concert"
on = "2027-03-14"

[[notebook.dated]]
pages = "month"

[listing]
title = "Choir Planner 2027"
tags = ["choir 2027", "singing since 1998"]
"""


def run(*arguments):
    done = subprocess.run([tool.BINARY, "redate", *map(str, arguments)], capture_output=True, text=True, timeout=120)
    return done.returncode, done.stdout, done.stderr


def product(folder):
    (folder / "dates").mkdir(parents=True)
    (folder / "words").mkdir()
    (folder / "product.toml").write_text(MANIFEST)
    (folder / "dates/rehearsals.csv").write_text("date,name\n2027-01-05,First rehearsal\n2027-12-14,Last rehearsal\n")
    (folder / "words/note-2027.md").write_text("Welcome.\nSee you in 2027!\n")
    (folder / "scan.bin").write_bytes(bytes(range(256)))
    return folder


def files(folder):
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def counted(product, out):
    """Pages and links of the notebook that a product builds, by qpdf."""
    with pikepdf.open(tool.build(product, out).notebook) as pdf:
        return len(pdf.pages), sum(len(page.obj.get("/Annots", [])) for page in pdf.pages)


def test_a_product_that_does_not_build_at_the_new_months_is_told(tmp_path):
    old = product(tmp_path / "choir")
    text = (old / "product.toml").read_text(encoding="utf-8")
    (old / "product.toml").write_text(text.replace('first-day = "monday"', 'first-day = "mondey"'), encoding="utf-8")
    code, out, err = run(old, "--from", "2028-01", "--dry-run", "--json")
    assert code == 0, err
    assert any("does not build" in entry["what"] and "mondey" in entry["what"] for entry in json.loads(out)["eye"])


def test_the_next_year_and_back(tmp_path):
    old = product(tmp_path / "choir")
    before = files(old)
    code, out, err = run(old, "--from", "2028-01", "--into", tmp_path / "choir-2028", "--json")
    assert code == 0, err
    told = json.loads(out)
    assert files(old) == before, "the old product stays as it was"
    new = files(tmp_path / "choir-2028")
    assert {name: data for name, data in new.items() if name != "product.toml"} == {
        name: data for name, data in before.items() if name != "product.toml"
    }
    manifest = tomllib.loads(new["product.toml"].decode())
    assert manifest["calendar"]["first"] == "2028-01" and manifest["version"] == "2.0.0"
    assert (manifest["name"], manifest["slug"]) == ("Choir Season 2028", "choir-2028")
    assert manifest["listing"] == {"title": "Choir Planner 2028", "tags": ["choir 2028", "singing since 1998"]}
    # Nothing else changed, and every change is listed with its line.
    lines = zip(MANIFEST.splitlines(), new["product.toml"].decode().splitlines(), strict=True)
    changed = [n for n, (was, now) in enumerate(lines, 1) if was != now]
    assert sorted(edit["line"] for edit in told["edits"]) == changed
    eye = {(entry["file"], entry["line"]) for entry in told["eye"]}
    assert {
        ("product.toml", 5),
        ("product.toml", 19),
        ("dates/rehearsals.csv", 2),
        ("words/note-2027.md", None),
        ("words/note-2027.md", 2),
    } <= eye
    assert any("366 days" in line for line in told["calendar"]) and any("2028-02-29" in line for line in told["calendar"])
    # Pages and links before and after are those that the two products build.
    (said,) = [line for line in told["calendar"] if "pages in the notebook" in line]
    counts = [counted(folder, tmp_path / f"dist-{n}") for n, folder in enumerate((tmp_path / "choir-2028", old))]
    assert said == "{} pages in the notebook with {} links; before {} and {}".format(*counts[0], *counts[1])
    code, _, err = run(tmp_path / "choir-2028", "--from", "2027-01", "--into", tmp_path / "again")
    assert code == 0, err
    assert files(tmp_path / "again") == before


def test_a_look_first(tmp_path):
    old = product(tmp_path / "choir")
    code, out, err = run(old, "--from", "2028-01", "--dry-run")
    assert code == 0 and "Nothing was written." in out and "Needs your eye:" in out, err
    assert sorted(path.name for path in tmp_path.iterdir()) == ["choir"]


def test_what_is_refused(tmp_path):
    old = product(tmp_path / "choir")
    (tmp_path / "there").mkdir()
    for arguments, said in [
        (("--from", "2028-01", "--into", tmp_path / "there"), "there is something already"),
        (("--from", "2028-01", "--into", old / "next"), "within the old one"),
        (("--from", "2028-13", "--into", tmp_path / "next"), "2028 has no month 13"),
        (("--from", "2027-01", "--into", tmp_path / "next"), "product.toml:10:9"),
        (("--from", "2028-01"), "--into"),
    ]:
        code, _, err = run(old, *arguments)
        assert code == 2 and said in err, (said, err)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["choir", "there"]


def test_bundles_of_the_old_version_stay_behind_and_are_named(tmp_path):
    old = product(tmp_path / "choir")
    (old / "proof-notes.json").write_text('[{"page": 3, "text": "larger"}]')
    (old / "dist/choir/1.0.0").mkdir(parents=True)
    (old / "dist/choir/1.0.0/bundle.json").write_text("{}")
    code, out, err = run(old, "--from", "2028-01", "--into", tmp_path / "next", "--json")
    assert code == 0, err
    assert not (tmp_path / "next/dist").exists()
    assert not (tmp_path / "next/proof-notes.json").exists(), "its notes are on pages of the old version"
    assert {"dist", "proof-notes.json"} <= {entry["file"] for entry in json.loads(out)["eye"]}


def test_events_that_fall_on_holidays_are_told(tmp_path):
    old = product(tmp_path / "choir")
    manifest = (old / "product.toml").read_text(encoding="utf-8")
    more = """
[[calendar.list]]
name = "Closed"
file = "dates/closed.csv"
holidays = true

[[calendar.event]]
name = "Summer concert"
on = "last friday of may"

[[calendar.event]]
name = "Spring walk"
on = "easter+1"
"""
    (old / "product.toml").write_text(manifest.replace("[[notebook.dated]]", more + "\n[[notebook.dated]]"), encoding="utf-8")
    # The last Friday of May 2028 is the 26th (Python's calendar), Easter Monday 17 April (the table of Easter dates in SOURCES.md).
    (old / "dates/closed.csv").write_text("date,name\n2028-05-26,Town fair\n2028-04-17,Easter Monday\n2028-04-18,Stocktaking\n")
    code, out, err = run(old, "--from", "2028-01", "--dry-run", "--json")
    assert code == 0, err
    clashes = [line for line in json.loads(out)["calendar"] if "falls on" in line]
    assert clashes == [
        "`Spring walk` on 2028-04-17 falls on a holiday, `Easter Monday`",
        "`Summer concert` on 2028-05-26 falls on a holiday, `Town fair`",
    ]


def test_a_version_that_is_sealed_already_is_told(tmp_path):
    old = product(tmp_path / "choir")
    text = (old / "product.toml").read_text(encoding="utf-8")
    for version in ("2.0.0", "1.0.0"):
        (old / "product.toml").write_text(text.replace('version = "1.0.0"', f'version = "{version}"'), encoding="utf-8")
        bundle = tool.build(old, tmp_path / f"dist-{version}")
        done = tool.sheafwright("release", bundle.folder, "--product", old)
        assert done.returncode == 0, done.stderr
    code, out, err = run(old, "--from", "2028-01", "--dry-run", "--json")
    assert code == 0, err
    assert [entry["what"] for entry in json.loads(out)["eye"] if entry["file"] == "releases.toml"] == [
        "version 2.0.0, which the new product has, is sealed already"
    ]
