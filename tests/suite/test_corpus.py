"""Some hundred PDFs that ship as test files of other libraries, many broken on purpose: each ends with findings or with a
clear refusal, none with a crash or a hang, and the outcome is the one in the golden table.

The files are fetched with pip as source packages and not kept. Without a network the test is skipped. After a change that is
meant, `SHEAFWRIGHT_BLESS=1` writes the table anew; read the difference before committing it.
"""

import json
import os
import subprocess
import sys
import tarfile
from pathlib import Path

import pytest

from test_checks import ROOT, run

PACKAGES = ["pypdf==7.1.1", "pikepdf==9.5.2", "pyhanko==0.38.0", "ocrmypdf==17.13.0"]
TABLE = ROOT / "tests/fixtures/golden/corpus.tsv"
LONGEST = 20  # seconds for one file, far beyond what any takes


@pytest.fixture(scope="session")
def corpus(tmp_path_factory):
    """The folder with the unpacked source packages."""
    folder = Path(os.environ.get("SHEAFWRIGHT_CORPUS") or tmp_path_factory.mktemp("corpus"))
    for package in PACKAGES:
        name = package.split("==")[0]
        if not list(folder.glob(f"{name}-*.tar.gz")):
            fetch = ["download", "--quiet", "--no-deps", "--no-binary", name, "--dest", str(folder), package]
            done = subprocess.run([sys.executable, "-m", "pip", *fetch], capture_output=True, timeout=300)
            if done.returncode:
                pytest.skip(f"{package} cannot be fetched here")
    for archive in sorted(folder.glob("*.tar.gz")):
        with tarfile.open(archive) as packed:
            members = [m for m in packed.getmembers() if m.isfile() and m.name.lower().endswith(".pdf")]
            packed.extractall(folder / "files", members=members, filter="data")
    return folder / "files"


def outcome(path):
    """The checks of severity error that speak, in one word."""
    code, out, err = run("check", path, "--json")
    assert code in (0, 1) and "panicked" not in err, f"{path}: {err}"
    checks = {f["check"] for f in json.loads(out)["findings"] if f["severity"] == "error"}
    assert bool(checks) == (code == 1), path
    return ",".join(sorted(checks)) or "-"


def test_the_golden_table(corpus):
    found = {str(path.relative_to(corpus)): outcome(path) for path in sorted(corpus.rglob("*.pdf"))}
    lines = [f"{name}\t{verdict}" for name, verdict in sorted(found.items())]
    if os.environ.get("SHEAFWRIGHT_BLESS"):
        TABLE.write_text("\n".join(lines) + "\n")
    assert lines == TABLE.read_text().splitlines()
    assert len(lines) > 200


PNGSUITE = ROOT / "tests/fixtures/pngsuite"


@pytest.mark.parametrize("path", sorted(PNGSUITE.glob("*.png")), ids=lambda p: p.stem)
def test_the_png_suite(path):
    """Names that begin with x are corrupt and must be told; all others are sound (Willem van Schaik, PngSuite)."""
    code, out, _ = run("check", path, "--json")
    told = {f["check"] for f in json.loads(out)["findings"]}
    assert bool(told & {"file-unreadable", "picture-damaged"}) == path.name.startswith("x"), told
