"""Page sizes against ISO 216 and ASME Y14.1, as listed in fixtures/refs/paper_sizes.csv; read back by poppler."""

import csv

import pytest

import tool
from products import Recipe
from reading import Reading, overlap

with open(tool.ROOT / "tests/fixtures/refs/paper_sizes.csv", encoding="utf-8", newline="") as table:
    PAPER = {row["name"]: (float(row["width_pt"]), float(row["height_pt"])) for row in csv.DictReader(table)}

# As the manifest names them, and as the table does.
NAMED = {name: name for name in ("A3", "A4", "A5", "A6", "B5", "B6", "Letter", "Legal")}
NAMED["Half Letter"] = "Half letter (Statement)"

MM = 72 / 25.4
WRITTEN = {
    "180 x 240 mm": (180 * MM, 240 * MM),
    "240 x 180 mm": (240 * MM, 180 * MM),
    "18.5 x 24 cm": (185 * MM, 240 * MM),
    "500 x 700 pt": (500, 700),
    "7.5 x 10 in": (540, 720),
    "2048 x 1536 px at 264 dpi": (2048 / 264 * 72, 1536 / 264 * 72),
    "1404 x 1872 px at 227 dpi": (1404 / 227 * 72, 1872 / 227 * 72),
    "75 x 162 mm": (75 * MM, 162 * MM),
}


def recipe(size, orientation=None):
    page = f'size = "{size}"\nlayout = "single"'
    if orientation:
        page += f'\norientation = "{orientation}"'
    return Recipe("Paper Proof", page=page, sections=["One"], templates=[("Lines", "lined", "{}")])


def assert_size(path, wanted):
    # poppler prints six digits; half a hundredth of a point is far below what any device shows.
    assert tool.page_size(path) == pytest.approx(wanted, abs=0.006)


@pytest.mark.parametrize("name", NAMED)
def test_named_sizes_stand_upright(name, workshop):
    assert_size(workshop(recipe(name)).notebook, PAPER[NAMED[name]])


@pytest.mark.parametrize("name", ["A5", "Letter"])
def test_named_sizes_turn(name, workshop):
    width, height = PAPER[NAMED[name]]
    assert_size(workshop(recipe(name, "landscape")).notebook, (height, width))


@pytest.mark.parametrize("written", WRITTEN)
def test_written_sizes_keep_their_sides(written, workshop):
    assert_size(workshop(recipe(written)).notebook, WRITTEN[written])


def test_orientation_outranks_the_order_of_the_sides(workshop):
    assert_size(workshop(recipe("240 x 180 mm", "portrait")).notebook, (180 * MM, 240 * MM))


@pytest.mark.parametrize(
    "size,turn", [("A6", None), ("A5", None), ("Letter", None), ("A5", "landscape"), ("Letter", "landscape"), ("75 x 162 mm", None)]
)
def test_single_papers_are_used_to_their_end(size, turn, workshop):
    """The owner's name on the welcome page, lines for what is worth finding again on the index, and no word on another one."""
    book = workshop(recipe(size, turn)).notebook
    width, height = tool.page_size(book)
    for page, wanted in ((1, "belongs"), (2, "Worth")):
        words = Reading(book).words[page]
        assert wanted in [word.text for word in words], (page, words)
        for i, word in enumerate(words):
            left, top, right, bottom = word.rect
            assert left > 0 and top > 0 and right < width and bottom < height, word
            # A box is as high as its font, so lines that are set close touch.
            own = (left, top, right, bottom - 0.3 * (bottom - top))
            for other in words[i + 1 :]:
                low, high = other.rect[1], other.rect[3]
                assert overlap(own, (*other.rect[:3], high - 0.3 * (high - low))) == 0, (page, word, other)
