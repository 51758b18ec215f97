"""Some hundred PDFs that ship as test files of other libraries, many broken on purpose: each ends with findings or with a
clear refusal, none with a crash or a hang, and the outcome is the one in the golden table.

The files are fetched with pip as source packages and kept below target/ alone. After a change that is meant, `SHEAFWRIGHT_BLESS=1`
writes the table anew; read the difference before committing it.
"""

import json
import os
import shutil
import subprocess
import sys
import tarfile
from pathlib import Path

import pikepdf
import pytest

from test_checks import ROOT, run
from test_foreign import counts_of, counts_of_pikepdf

PACKAGES = ["pypdf==7.1.1", "pikepdf==9.5.2", "pyhanko==0.38.0", "ocrmypdf==17.13.0"]
TABLE = ROOT / "tests/fixtures/golden/corpus.tsv"
LONGEST = 20  # seconds for one file, far beyond what any takes


@pytest.fixture(scope="session")
def corpus(tmp_path_factory):
    """The folder with the unpacked source packages; where they are kept, they are fetched once."""
    unpacked = tmp_path_factory.mktemp("corpus")
    kept = Path(os.environ.get("SHEAFWRIGHT_CORPUS") or unpacked)
    for package in PACKAGES:
        name, version = package.split("==")
        archive = kept / f"{name}-{version}.tar.gz"
        if not archive.exists():
            # A download that is broken off leaves nothing in the place of a whole one.
            fresh = tmp_path_factory.mktemp("fetched")
            fetch = ["download", "--quiet", "--no-deps", "--no-binary", name, "--dest", str(fresh), package]
            done = subprocess.run([sys.executable, "-m", "pip", *fetch], capture_output=True, timeout=300)
            if done.returncode:
                pytest.fail(f"{package} cannot be fetched: {done.stderr.decode()}")
            kept.mkdir(parents=True, exist_ok=True)
            part = archive.with_suffix(".part")
            shutil.copyfile(fresh / archive.name, part)
            part.replace(archive)
        with tarfile.open(archive) as packed:
            members = [m for m in packed.getmembers() if m.isfile() and m.name.lower().endswith(".pdf")]
            packed.extractall(unpacked / "files", members=members, filter="data")
    return unpacked / "files"


@pytest.fixture(scope="session")
def reports(corpus):
    """What the program says of every file of the corpus: exit code and report."""
    found = {}
    for path in sorted(corpus.rglob("*.pdf")):
        code, out, err = run("check", path, "--json")
        assert code in (0, 1) and "panicked" not in err, f"{path}: {err}"
        found[path] = code, json.loads(out)
    return found


def outcome(path, code, report):
    """The checks of severity error that speak, in one word."""
    checks = {f["check"] for f in report["findings"] if f["severity"] == "error"}
    assert bool(checks) == (code == 1), path
    return ",".join(sorted(checks)) or "-"


def test_the_golden_table(corpus, reports):
    found = {str(path.relative_to(corpus)): outcome(path, *said) for path, said in reports.items()}
    lines = [f"{name}\t{verdict}" for name, verdict in sorted(found.items())]
    if os.environ.get("SHEAFWRIGHT_BLESS"):
        TABLE.write_text("\n".join(lines) + "\n")
    assert lines == TABLE.read_text().splitlines()
    assert len(lines) > 200


# What both read and count otherwise: a page without any MediaBox, which the format does not allow. Readers take A4 or Letter.
OTHERWISE = {"no-mediabox.pdf"}


def test_pages_links_and_boxes_are_counted_as_pikepdf_counts_them(reports):
    """Wherever both read the file as it stands: what has to be repaired is repaired by everybody in a way of his own."""
    compared, wrong = 0, {}
    for path, (_, report) in reports.items():
        told = {finding["check"] for finding in report["findings"]}
        file = report["files"][0]
        if file["kind"] != "pdf" or not file["pages"] or "pdf-needs-repair" in told:
            continue
        try:
            theirs = counts_of_pikepdf(path)
        except (pikepdf.PdfError, pikepdf.PasswordError, ValueError, TypeError):
            continue
        compared += 1
        if counts_of(file) != theirs and path.name not in OTHERWISE:
            wrong[path.name] = (counts_of(file), theirs)
    assert not wrong and compared > 200, (compared, wrong)


PNGSUITE = ROOT / "tests/fixtures/pngsuite"


@pytest.mark.parametrize("path", sorted(PNGSUITE.glob("*.png")), ids=lambda p: p.stem)
def test_the_png_suite(path):
    """Names that begin with x are corrupt and must be told; all others are sound (Willem van Schaik, PngSuite)."""
    code, out, _ = run("check", path, "--json")
    told = {f["check"] for f in json.loads(out)["findings"]}
    assert bool(told & {"file-unreadable", "picture-damaged"}) == path.name.startswith("x"), told
