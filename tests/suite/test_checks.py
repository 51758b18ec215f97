"""Every check from outside: the program itself, run on files that other people's libraries wrote."""

import json
import os
import re
import struct
import subprocess
import sys
import zipfile
import zlib
from pathlib import Path

import jsonschema
import memory
import pytest

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = os.environ.get("SHEAFWRIGHT_BIN", str(ROOT / "target/release/sheafwright"))
# Good fixtures that cannot help being a little odd: what else may be said of them.
ALSO = {("entry-name-unmarked", "name-not-portable")}


def run(*arguments):
    """Runs the program; gives the exit code and what it wrote to standard output."""
    done = subprocess.run([PROGRAM, *map(str, arguments)], capture_output=True, text=True, timeout=120)
    return done.returncode, done.stdout, done.stderr


def check(path):
    """The findings on a path, and the exit code."""
    code, out, err = run("check", path, "--json")
    assert code in (0, 1), err
    return code, json.loads(out)


@pytest.fixture(scope="session")
def folder(tmp_path_factory):
    """The fixtures of all checks, written anew."""
    folder = tmp_path_factory.mktemp("checks")
    script = ROOT / "tests/fixtures/checks/make_all.py"
    subprocess.run([sys.executable, str(script), str(folder)], check=True)
    return folder


def test_every_fixture_gets_its_verdict(folder):
    wrong = []
    for path in sorted((folder / "loose").iterdir()):
        name, verdict = path.name.split(".")[:2]
        code, report = check(path)
        told = {finding["check"] for finding in report["findings"]}
        if (name in told) != (verdict == "fail"):
            wrong.append(f"{path.name}: {sorted(told)}")
        if verdict == "pass":
            others = {check for check in told if (name, check) not in ALSO}
            if others:
                wrong.append(f"{path.name} is well made, but {sorted(others)}")
        errors = any(finding["severity"] == "error" for finding in report["findings"])
        assert code == (1 if errors else 0), path.name
    assert not wrong, "\n".join(wrong)


def test_counts_and_shape(folder):
    schema = json.loads((ROOT / "pipeline/cli/report.schema.json").read_text())
    validator = jsonschema.Draft202012Validator(schema)
    for path in sorted((folder / "loose").iterdir()):
        _, report = check(path)
        validator.validate(report)
        for severity in ("error", "warning", "note"):
            assert report[severity + "s"] == sum(f["severity"] == severity for f in report["findings"])


def test_the_report_for_editors(folder):
    """SARIF 2.1.0, held against the schema that OASIS published."""
    schema = json.loads((ROOT / "tests/fixtures/sarif/sarif-schema-2.1.0.json").read_text())
    validator = jsonschema.validators.validator_for(schema)(schema)
    names = ("link-to-nowhere.fail.pdf", "claim-wrong.fail", "sticker-touches-edge.fail.png", "entry-damaged.fail.zip")
    for path in [*((folder / "loose" / name) for name in names), folder / "loose"]:
        code, out, err = run("check", path, "--sarif")
        assert code in (0, 1), err
        report = json.loads(out)
        validator.validate(report)
        rules = [rule["id"] for rule in report["runs"][0]["tool"]["driver"]["rules"]]
        results = report["runs"][0]["results"]
        assert results and all(rules[result["ruleIndex"]] == result["ruleId"] for result in results)


def test_the_report_for_people(folder):
    """By file, the worst first; equal findings folded; each with why and how to mend it; counts and time at the end."""
    loose = folder / "loose"
    paths = [loose / f"{name}.fail.pdf" for name in ("link-locked", "image-cmyk", "page-rotated", "link-to-nowhere")]
    code, out, err = run("check", *paths)
    assert code == 1
    worst = {}
    for finding in json.loads(run("check", *paths, "--json")[1])["findings"]:
        rank = ("error", "warning", "note").index(finding["severity"])
        worst[finding["file"]] = min(rank, worst.get(finding["file"], rank))
    heads = [line for line in out.splitlines() if line.endswith(".pdf")]
    assert heads == sorted(worst, key=lambda path: (worst[path], path)) and set(worst.values()) == {0, 1, 2}
    assert "on 4 pages (1-4): the page is turned by 180 degrees" in out
    kinds = [line for line in out.splitlines() if re.match("  [a-z]", line)]
    assert out.count(" why: ") == out.count(" mend: ") == len(kinds)
    assert re.fullmatch(r"\d+ errors?, \d+ warnings? and \d+ notes? in 4 files, in \d+\.\d\d s\.", out.splitlines()[-1])
    # Facts beside the findings: how far it is from page to page, and how the bytes divide.
    assert "at most 2 taps" in err and "on average" in err and "links and the rest" in err


def pack(folder, path):
    """A folder as an archive, as somebody keeps it: every file at its place."""
    with zipfile.ZipFile(path, "w") as archive:
        for file in sorted(folder.rglob("*")):
            archive.write(file, file.relative_to(folder))
    return path


def test_a_bundle_that_was_packed_is_checked_like_the_folder(folder, tmp_path):
    for name in ("title-too-long", "tag-too-long", "slot-too-large", "claim-wrong", "entry-not-recorded"):
        for verdict in ("fail", "pass"):
            loose = folder / "loose" / f"{name}.{verdict}"
            packed = pack(loose, tmp_path / f"{name}.{verdict}.zip")
            told = [[(f["check"], f["severity"]) for f in check(path)[1]["findings"]] for path in (loose, packed)]
            assert told[0] == told[1] and bool(told[0]) == (verdict == "fail"), name
    # Archives within it are the uploads, and their entries are files of the bundle.
    whole = json.loads(run("check", tmp_path / "entry-not-recorded.pass.zip", "--json")[1])
    assert any(file["path"].endswith(".zip/upload/extras.zip") for file in whole["files"]), whole["files"]


def test_a_listing_without_a_record_is_held_against_what_shops_commonly_allow(tmp_path):
    words = "A digital download of 240 x 180 mm, for personal use.\n"
    (tmp_path / "description.md").write_text(f"# {'Allotment ' * 14}Y\n\n{words}")
    (tmp_path / "tags.txt").write_text(", ".join(f"tag {n}" for n in range(13)) + "\na tag of 21 characters\n")
    told = {(f["check"], f["severity"]): f["message"] for f in check(tmp_path)[1]["findings"]}
    assert set(told) == {(name, "warning") for name in ("title-too-long", "too-many-tags", "tag-too-long")}, told
    assert all("shops commonly allow" in message for message in told.values())


def test_a_large_archive_is_not_read_whole(tmp_path):
    """An archive of 500 MB, nearly all of it a hole in the file: its entry is summed up bit by bit."""
    size, name = 500 << 20, b"pages.bin"
    crc = 0
    for _ in range(size >> 20):
        crc = zlib.crc32(bytes(1 << 20), crc)
    # Stored, and dated the first day that the format knows.
    common = struct.pack("<HHHHHIIIHH", 20, 0, 0, 0, 0x21, crc, size, size, len(name), 0)
    path = tmp_path / "large.zip"
    with path.open("wb") as out:
        out.write(b"PK\x03\x04" + common + name)
        out.seek(size, os.SEEK_CUR)
        start = out.tell()
        out.write(b"PK\x01\x02" + struct.pack("<H", 20) + common + struct.pack("<HHHII", 0, 0, 0, 0, 0) + name)
        length = out.tell() - start
        out.write(b"PK\x05\x06" + struct.pack("<HHHHIIH", 0, 0, 1, 1, length, start, 0))
    with zipfile.ZipFile(path) as archive:
        assert archive.namelist() == ["pages.bin"]
    with (tmp_path / "report.json").open("wb") as out:
        done = subprocess.run(memory.measured([PROGRAM, "check", path, "--json"], tmp_path / "peak"), stdout=out)
    report = json.loads((tmp_path / "report.json").read_text())
    assert done.returncode == 0 and report["files"][0]["entries"] == 1, report
    # Half of what the archive holds; the program itself takes a part of it, more in a build for tests.
    assert memory.megabytes(tmp_path / "peak") < 250


def test_every_check_is_explained():
    code, out, _ = run("explain")
    assert code == 0
    names = [line.split()[0] for line in out.splitlines() if line.strip()]
    assert names == sorted(set(names)) and len(names) > 100
    code, out, _ = run("explain", "link-to-nowhere")
    assert code == 0 and "page" in out and "tap" in out


def test_an_unknown_check_is_a_fault():
    code, _, err = run("explain", "link-to-nowhre")
    assert code == 2 and "link-to-nowhere" in err
