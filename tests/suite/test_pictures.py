"""A few pages as small pictures, drawn by poppler and held against those that a person has looked at.

After a change that is meant, `SHEAFWRIGHT_BLESS=1` writes them anew: look at each before committing it.
"""

import os

import numpy
import pytest
from PIL import Image

import tool
from reading import Reading
from tool import program

FOLDER = tool.ROOT / "tests/fixtures/pictures"
DPI = 28
# Another version of poppler may smooth edges a little otherwise: that much of 255 on average, and in any square of 8 pixels.
MEAN, SQUARE = 1.5, 20


def pages(bundle):
    """What is held: a name, the file, the page."""
    book = Reading(bundle.notebook)
    sections, templates = book.entry("Sections")[2], book.entry("Templates")
    by_kind = {kind: next(p for p in bundle.of_kind(kind) if "contents" in p.parts) for kind in ("covers", "sheet", "guide")}
    return {
        "cover": (bundle.notebook, 0),
        "index": (bundle.notebook, book.entry("Index")[1]),
        "divider": (bundle.notebook, sections[3][1]),
        "overview": (bundle.notebook, templates[1]),
        "lined": (bundle.notebook, templates[2][0][1]),
        "alternate-cover": (by_kind["covers"], 2),
        "sheet": (by_kind["sheet"], 0),
        "guide": (by_kind["guide"], 1),
    }


@pytest.mark.parametrize(
    "name", ["cover", "index", "divider", "overview", "lined", "alternate-cover", "sheet", "guide"]
)
def test_page_looks_as_it_did(name, full, tmp_path):
    path, page = pages(full)[name]
    drawn = tmp_path / name
    program("pdftoppm", "-r", DPI, "-png", "-singlefile", "-f", page + 1, "-l", page + 1, path, drawn)
    kept = FOLDER / f"{name}.png"
    with Image.open(f"{drawn}.png") as picture:
        if os.environ.get("SHEAFWRIGHT_BLESS"):
            FOLDER.mkdir(parents=True, exist_ok=True)
            picture.save(kept, optimize=True)
        now = numpy.asarray(picture.convert("RGB"), dtype=float)
    with Image.open(kept) as picture:
        before = numpy.asarray(picture.convert("RGB"), dtype=float)
    assert now.shape == before.shape
    off = numpy.abs(now - before).mean(axis=2)
    high, wide = (side // 8 * 8 for side in off.shape)
    squares = off[:high, :wide].reshape(high // 8, 8, wide // 8, 8).mean(axis=(1, 3))
    assert off.mean() <= MEAN and squares.max() <= SQUARE, f"mean {off.mean():.2f}, worst square {squares.max():.1f}"
