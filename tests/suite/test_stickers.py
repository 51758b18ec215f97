"""Stickers against pngcheck and Pillow; sheets against poppler and qpdf. Chunks are those of the W3C's PNG, third edition."""

import re
from dataclasses import dataclass
from itertools import combinations

import numpy
import pikepdf
import pytest
from PIL import Image

import pocket
from reading import Reading, overlap
from tool import ROOT, build, program

DPI = 300
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


@dataclass(frozen=True)
class Placed:
    page: int
    object: tuple
    size: tuple
    clear: bool
    rect: tuple


def placed(path):
    """Every picture on a sheet's pages and where it lies, from the content as qpdf reads it."""
    with pikepdf.open(path) as pdf:
        for number, page in enumerate(pdf.pages):
            yield from walk(page.obj, page.Resources, pikepdf.Matrix(), number)


def walk(stream, resources, matrix, number):
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
                    rect = (min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
                    size = (int(thing.Width), int(thing.Height))
                    yield Placed(number, thing.objgen, size, "/SMask" in thing, rect)
                else:
                    inner = pikepdf.Matrix(*map(float, thing.get("/Matrix", [1, 0, 0, 1, 0, 0]))) @ matrix
                    yield from walk(thing, thing.get("/Resources", resources), inner, number)


def test_the_sheet_shows_every_sticker_as_a_picture_of_its_own(full):
    (path,) = [p for p in full.of_kind("sheet") if "contents" in p.parts and p.suffix == ".pdf"]
    book = Reading(path)
    pictures = list(placed(path))
    assert len({picture.object for picture in pictures}) == len(pictures) == len(full.stickers)
    for picture in pictures:
        left, low, right, high = picture.rect
        assert 0 <= left < right <= book.width and 0 <= low < high <= book.height
        assert picture.clear, "the picture has no clear ground"
        # At its true size: as many pixels to the inch as the file says.
        assert (right - left) / 72 * DPI == pytest.approx(picture.size[0], rel=0.01)
        assert (high - low) / 72 * DPI == pytest.approx(picture.size[1], rel=0.01)
    assert sorted(picture.size for picture in pictures) == sorted(Image.open(p).size for p in full.stickers)


def test_stickers_on_the_sheet_can_be_lassoed_one_by_one(full):
    """At least 3 mm from art to art (common practice, no source); the clear padding may count for it."""
    (path,) = [p for p in full.of_kind("sheet") if "contents" in p.parts and p.suffix == ".pdf"]
    padding, room = 1.5 / 25.4 * 72, 3 / 25.4 * 72
    for one, other in combinations(placed(path), 2):
        if one.page == other.page:
            left, low, right, high = one.rect
            grown = (left + padding - room, low + padding - room, right - padding + room, high - padding + room)
            a, b, c, d = other.rect
            assert overlap(grown, (a + padding, b + padding, c - padding, d - padding)) == 0, (one, other)


def test_the_sheet_has_the_notebooks_page_size(full):
    (path,) = [p for p in full.of_kind("sheet") if "contents" in p.parts and p.suffix == ".pdf"]
    listed = program("pdfimages", "-list", path)
    assert len(re.findall(r"^ +\d+ +\d+ image ", listed, re.M)) == len(full.stickers), listed
    sheet, notebook = Reading(path), Reading(full.notebook)
    assert (sheet.width, sheet.height) == (notebook.width, notebook.height)


def test_png_sheets_show_the_same_at_the_same_places(full):
    """Pixel for pixel where a sticker is opaque, on a clear ground; as many sheets as the PDF has pages."""
    (path,) = [p for p in full.of_kind("sheet") if "contents" in p.parts and p.suffix == ".pdf"]
    sheets = sorted(p for p in full.of_kind("sheet") if "contents" in p.parts and p.suffix == ".png")
    book, pictures = Reading(path), list(placed(path))
    assert len(sheets) == len(book.pages) == 1 + max(picture.page for picture in pictures)
    by_size = {}
    for sticker in full.stickers:
        with Image.open(sticker) as one:
            by_size.setdefault(one.size, []).append(numpy.asarray(one).astype(int))
    for number, sheet in enumerate(sheets):
        assert "No errors detected" in program("pngcheck", "-v", sheet)
        with Image.open(sheet) as picture:
            assert picture.mode == "RGBA"
            assert picture.info["dpi"][0] == pytest.approx(DPI, abs=0.05)
            seen = numpy.asarray(picture).astype(int)
        height, width = seen.shape[:2]
        assert (width, height) == (round(book.width / 72 * DPI), round(book.height / 72 * DPI))
        assert not seen[[0, 0, -1, -1], [0, -1, 0, -1], 3].any()
        for one in (p for p in pictures if p.page == number):
            left, top = round(one.rect[0] / 72 * DPI), round((book.height - one.rect[3]) / 72 * DPI)
            # Places are rounded to whole pixels: look one pixel about.
            fits = [
                (seen[top + dy :, left + dx :][: pixels.shape[0], : pixels.shape[1]] == pixels)[pixels[..., 3] == 255].all()
                for pixels in by_size[one.size]
                for dy in (-1, 0, 1)
                for dx in (-1, 0, 1)
                if min(top + dy, left + dx) >= 0
            ]
            assert any(fits), one


def test_pages_of_sheets_are_filled_alike(tmp_path):
    """Forty equal stickers: as few pages as hold them, and rows shared out so that they differ by one at most."""
    names = "".join(f'[[sticker]]\nmotif = "star"\nname = "star {n}"\ncolour = "#{n:02x}6040"\n' for n in range(40))
    stickers = '[stickers]\nlongest = "30 mm"\noptimise = "quick"\nsheets = "pdf"\n' + names
    bundle = pocket.build(pocket.Pocket(stickers, assets=""), tmp_path)
    (path,) = [p for p in bundle.of_kind("sheet") if "contents" in p.parts]
    rows = {}
    for one in placed(path):
        rows.setdefault(one.page, set()).add(round(one.rect[1]))
    counts = [len(r) for r in rows.values()]
    assert max(counts) - min(counts) <= 1, counts
    # A5 with 8.9 mm of margin and 6 mm between: 3 of 32 mm side by side, 5 rows.
    assert len(counts) == -(-40 // 15)


def test_the_guide_shows_every_sticker_by_name(full):
    (guide,) = [p for p in full.of_kind("guide") if "contents" in p.parts]
    images = re.findall(r"^ +\d+ +\d+ image ", program("pdfimages", "-list", guide), re.M)
    assert images, "the guide has no picture of the stickers"
    assert "All stickers by name" in program("pdftotext", guide, "-")


def test_a_pocket_of_stickers_needs_no_notebook(tmp_path):
    """The second sample: whole, without any finding, and every claim of its listing about stickers alone."""
    bundle = build(ROOT / "products/sticker-pocket", tmp_path, "--strict")
    kinds = {f["kind"] for f in bundle.record["files"]}
    assert kinds == {"sticker", "sheet", "guide", "licence", "start-here", "upload", "listing", "picture"}
    names = [p.stem.split("-", 1)[1] for p in bundle.stickers]
    assert names[:3] == ["locomotive", "suitcase", "ticket"] and names[12:14] == ["dawn", "lighthouse"]
    for name in ("description.md", "files.txt"):
        assert "notebook" not in (bundle.folder / "listing" / name).read_text(encoding="utf-8").lower(), name
    for text in ("licence-terms.txt", "start-here.txt"):
        said = (bundle.folder / "contents" / text).read_text(encoding="utf-8").lower()
        assert "cover" not in said and "notebook" not in said, said


def test_a_label_too_long_for_its_sticker_is_a_finding(tmp_path):
    words = "Everything that must be done before the boat goes into the water again"
    for label, said in ((words, True), ("Before spring", False)):
        more = f'\n[[sticker]]\nmotif = "to-do-box"\nlabel = "{label}"\n'
        code, found, _ = pocket.judged(pocket.Pocket(more, {}), tmp_path / str(said))
        told = [f["message"] for f in found if f["check"] == "text-too-long" and f["file"].endswith("to-do-box.png")]
        assert code == 0 and bool(told) == said, found
        if said:
            assert re.fullmatch(rf"“{words}” is [\d.]+ mm too long for its room, which shows “Every[^”]+…”", told[0]), told
