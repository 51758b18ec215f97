"""Every check from outside: the program itself, run on files that other people's libraries wrote."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = os.environ.get("SHEAFWRIGHT", str(ROOT / "target/release/sheafwright"))
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
    validator = pytest.importorskip("jsonschema").Draft202012Validator(schema)
    for path in sorted((folder / "loose").iterdir()):
        _, report = check(path)
        validator.validate(report)
        for severity in ("error", "warning", "note"):
            assert report[severity + "s"] == sum(f["severity"] == severity for f in report["findings"])


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
