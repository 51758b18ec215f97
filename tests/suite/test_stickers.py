"""Stickers against pngcheck and Pillow; sheets against poppler and qpdf. Chunks are those of the W3C's PNG, third edition."""

import re
from itertools import combinations

import numpy
import pikepdf
import pytest
from PIL import Image

from reading import Reading, overlap
from tool import program

DPI = 264
# Pixels per metre, as pHYs counts: the nearest whole number.
PER_METRE = round(DPI / 0.0254)


def test_names_and_number(full):
    assert [p.name for p in full.stickers] == [
        "01-anchor.png",
        "02-buoy.png",
        "03-to-do-box.png",
        "04-tally.png",
        "05-week-strip.png",
    ]


def test_pngcheck_finds_nothing_wrong(full):
    for path in full.stickers:
        said = program("pngcheck", "-v", path)
        assert "No errors detected" in said, said
        assert "32-bit RGB+alpha" in said and "non-interlaced" in said, said
        assert "chunk sRGB" in said, said
        assert f"chunk pHYs at offset" in said and f"{PER_METRE}x{PER_METRE} pixels/meter" in said, said


def test_cut_clean_on_clear_ground(full):
    for path in full.stickers:
        with Image.open(path) as picture:
            assert picture.mode == "RGBA"
            pixels = numpy.asarray(picture)
        alpha = pixels[..., 3]
        assert not alpha[[0, 0, -1, -1], [0, -1, 0, -1]].any(), f"{path.name}: a corner is not clear"
        assert alpha.max() == 255
        hidden = pixels[alpha == 0][:, :3]
        assert not hidden.any(), f"{path.name}: colour is left where nothing shows"


def test_trimmed_to_the_art_and_its_padding(full):
    padding = 1.5 / 25.4 * DPI
    for path in full.stickers:
        with Image.open(path) as picture:
            left, top, right, bottom = picture.getchannel("A").getbbox()
            for side in (left, top, picture.width - right, picture.height - bottom):
                assert side == pytest.approx(padding, abs=1.5), f"{path.name}: {side} pixels"


def test_the_longest_side_is_as_asked(full):
    """The art itself, without padding; a die-cut border comes on top."""
    for name, wanted in (("01-anchor.png", 40), ("02-buoy.png", 12 + 2 * 1.5)):
        with Image.open(full.folder / "contents/stickers" / name) as picture:
            left, top, right, bottom = picture.getchannel("A").getbbox()
        assert max(right - left, bottom - top) / DPI * 25.4 == pytest.approx(wanted, abs=0.35), name


def test_a_die_cut_border_is_white_and_closed(full):
    with Image.open(full.folder / "contents/stickers/02-buoy.png") as picture:
        pixels = numpy.asarray(picture).astype(int)
    alpha = pixels[..., 3]
    for row in range(30, pixels.shape[0] - 30, 20):
        solid = numpy.flatnonzero(alpha[row] == 255)
        for edge in (solid[2], solid[-3]):
            assert (pixels[row, edge, :3] > 240).all(), f"row {row}: {pixels[row, edge]}"


def placed(path):
    """Every picture on a sheet's pages: its object and its rectangle, from the content as qpdf reads it."""
    with pikepdf.open(path) as pdf:
        for number, page in enumerate(pdf.pages):
            yield from walk(page, page.obj, page.Resources, pikepdf.Matrix(), number)


def walk(page, stream, resources, matrix, number):
    stack = []
    for operands, operator in pikepdf.parse_content_stream(stream):
        match str(operator):
            case "q":
                stack.append(matrix)
            case "Q":
                matrix = stack.pop()
            case "cm":
                matrix = pikepdf.Matrix(*map(float, operands)) @ matrix
            case "Do":
                thing = resources.XObject[str(operands[0])]
                if thing.Subtype == "/Image":
                    (x0, y0), (x1, y1) = matrix.transform((0, 0)), matrix.transform((1, 1))
                    yield number, thing, (min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
                else:
                    inner = pikepdf.Matrix(*map(float, thing.get("/Matrix", [1, 0, 0, 1, 0, 0]))) @ matrix
                    yield from walk(page, thing, thing.get("/Resources", resources), inner, number)


def test_the_sheet_shows_every_sticker_as_a_picture_of_its_own(full):
    (path,) = [p for p in full.of_kind("sheet") if "contents" in p.parts]
    book = Reading(path)
    pictures = list(placed(path))
    assert len(pictures) == len(full.stickers)
    assert len({thing.objgen for _, thing, _ in pictures}) == len(full.stickers)
    sizes = []
    for _, thing, (left, low, right, high) in pictures:
        assert 0 <= left < right <= book.width and 0 <= low < high <= book.height
        assert "/SMask" in thing, "the picture has no clear ground"
        sizes.append((int(thing.Width), int(thing.Height)))
        # At its true size: as many pixels to the inch as the file says.
        assert (right - left) / 72 * DPI == pytest.approx(int(thing.Width), rel=0.01)
        assert (high - low) / 72 * DPI == pytest.approx(int(thing.Height), rel=0.01)
    assert sorted(sizes) == sorted(Image.open(p).size for p in full.stickers)


def test_stickers_on_the_sheet_can_be_lassoed_one_by_one(full):
    """At least 3 mm from art to art (common practice, no source); the clear padding may count for it."""
    (path,) = [p for p in full.of_kind("sheet") if "contents" in p.parts]
    padding, room = 1.5 / 25.4 * 72, 3 / 25.4 * 72
    rects = [
        (page, (left + padding, low + padding, right - padding, high - padding))
        for page, _, (left, low, right, high) in placed(path)
    ]
    for (page, one), (other_page, other) in combinations(rects, 2):
        if page == other_page:
            grown = (one[0] - room, one[1] - room, one[2] + room, one[3] + room)
            assert overlap(grown, other) == 0, (one, other)


def test_the_sheet_has_the_notebooks_page_size(full):
    (path,) = [p for p in full.of_kind("sheet") if "contents" in p.parts]
    listed = program("pdfimages", "-list", path)
    assert len(re.findall(r"^ +\d+ +\d+ image ", listed, re.M)) == len(full.stickers), listed
    sheet, notebook = Reading(path), Reading(full.notebook)
    assert (sheet.width, sheet.height) == (notebook.width, notebook.height)
