"""The samples, byte for byte.

Their digests stand in `tests/fixtures/golden/samples.txt`. Where a change of bytes is meant, write them anew with
`SHEAFWRIGHT_BLESS=1` set for this file, look at what changed, and say why in CHANGELOG.md."""

import os
import platform

import pytest
import tool
from again import digests

GOLDEN = tool.ROOT / "tests/fixtures/golden/samples.txt"


def golden():
    lines = (line.split("  ", 1) for line in GOLDEN.read_text(encoding="utf-8").splitlines() if line)
    return {path: digest for digest, path in lines}


def bless(sample, made):
    kept = {path: digest for path, digest in (golden() if GOLDEN.exists() else {}).items() if path.split("/")[0] != sample}
    lines = sorted((kept | made).items())
    GOLDEN.write_text("".join(f"{digest}  {path}\n" for path, digest in lines), encoding="utf-8")


@pytest.mark.parametrize("product", tool.SAMPLES, ids=lambda p: p.name)
def test_a_sample_has_the_bytes_that_it_had(product, tmp_path):
    out, sample = tmp_path / "dist", product.name
    tool.build(product, out)
    # The members of a set lie beside it, and are samples of their own.
    made = {path: digest for path, digest in digests(out).items() if path.split("/")[0] == sample}
    if os.environ.get("SHEAFWRIGHT_BLESS"):
        bless(sample, made)
    wanted = {path: digest for path, digest in golden().items() if path.split("/")[0] == sample}
    assert wanted, "no digests are kept of this sample"
    differing = sorted(p for p in made.keys() | wanted.keys() if made.get(p) != wanted.get(p))
    assert differing == [], f"other bytes than before, on {platform.machine()}"
