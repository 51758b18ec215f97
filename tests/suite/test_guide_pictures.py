"""The guide shows the product: each section beside a picture of the very page of which it speaks, the tap area marked.

Pictures are found as what the guide's pages place, and held against the notebook's own pages as poppler draws them; marks against
the link annotations of those pages."""

import re
from dataclasses import dataclass, replace

import numpy
import pikepdf
import pytest
from PIL import Image

import finished
import products
import tool
from reading import Reading, overlap
from test_right_to_left import harbour
from tool import program

DPI = 200
# Sections by the pictures that they have, in English.
HEADINGS = ["Import the notebook", "Follow the links", "Find a day", "Find your sections", "Name your sections", "Copy a template", "Change the cover"]

PLANNER = """
name = "Tide Year"
version = "1.0.0"
released = 2027-03-01
language = "en-GB"
shop = { name = "Tarn and Tide Papers", contact = "help@tarn-and-tide.example" }
[page]
size = "A5"
layout = "single"
[calendar]
first = "2027-03"
months = 3
[notebook]
[[notebook.dated]]
pages = "month"
[[notebook.dated]]
pages = "day"
"""


@dataclass(frozen=True)
class Picture:
    """What a page of the guide places: a form, or a picture of pixels within one, and where (left, top, right, bottom)."""

    page: int
    rect: tuple


def guide_of(bundle):
    (path,) = [p for p in bundle.of_kind("guide") if "contents" in p.parts]
    return path


def pictures(path, kind="/Form"):
    """The forms (or pictures of pixels) that the pages of a file place, in order, by their matrices and boxes."""
    out = []
    with pikepdf.open(path) as pdf:
        for number, page in enumerate(pdf.pages):
            high, stack, matrix = float(page.MediaBox[3]), [], pikepdf.Matrix()
            for operands, operator in pikepdf.parse_content_stream(page):
                if str(operator) == "q":
                    stack.append(matrix)
                elif str(operator) == "Q":
                    matrix = stack.pop()
                elif str(operator) == "cm":
                    matrix = pikepdf.Matrix(*map(float, operands)) @ matrix
                elif str(operator) == "Do":
                    form = page.Resources.XObject[operands[0]]
                    if form.Subtype != kind:
                        continue
                    # A picture of pixels fills the unit square (ISO 32000-1, 8.9.5).
                    left, low, right, top = map(float, form.BBox if kind == "/Form" else (0, 0, 1, 1))
                    (x0, y0), (x1, y1) = matrix.transform((left, low)), matrix.transform((right, top))
                    out.append(Picture(number, (x0, high - y1, x1, high - y0)))
    return out


class Drawn:
    """Pages of a PDF as poppler draws them, each once."""

    def __init__(self, path, folder):
        self.path, self.folder, self.kept = path, folder, {}

    def page(self, number, *size):
        if (number, *size) not in self.kept:
            out = self.folder / f"{self.path.stem}-{number}-{'x'.join(map(str, size))}"
            scale = ["-scale-to-x", size[0], "-scale-to-y", size[1]] if size else ["-r", DPI]
            program("pdftoppm", *scale, "-png", "-singlefile", "-f", number + 1, "-l", number + 1, self.path, out)
            with Image.open(f"{out}.png") as picture:
                self.kept[number, *size] = numpy.asarray(picture.convert("RGB"), dtype=float)
        return self.kept[number, *size]


def cut(pixels, rect):
    """The pixels within a rectangle of points."""
    left, top, right, bottom = (round(v * DPI / 72) for v in rect)
    return pixels[top:bottom, left:right]


def soft(pixels, by):
    """The mean of every square of so many pixels: where lines lie between pixels is of no consequence."""
    high, wide = (side // by * by for side in pixels.shape[:2])
    return pixels[:high, :wide].reshape(high // by, by, wide // by, by, 3).mean(axis=(1, 3))


def shown(crop, drawn, numbers):
    """Which of these pages a picture shows, and how far it is from it: mean difference over the nine tenths that differ least."""
    best = (255, None)
    for number in numbers:
        page = drawn.page(number, crop.shape[1], crop.shape[0])
        off = numpy.sort(numpy.abs(soft(crop, 8) - soft(page, 8)).mean(axis=2), axis=None)
        best = min(best, (off[: len(off) * 9 // 10].mean(), number))
    return best


def ringed(crop, page, rect, scale, text):
    """How much of the way round a rectangle (in pixels of the picture) bears a mark that the page does not have, and how much of
    what lies within is as it was."""
    differs = numpy.abs(crop - page).max(axis=2) > 60
    high, wide = differs.shape
    left, top, right, bottom = (v * scale for v in rect)
    out = 0.24 * text
    points = [(left - out + (right - left + 2 * out) * t, y, 0, 1) for t in numpy.linspace(0.15, 0.85, 24) for y in (top - out, bottom + out)]
    points += [(x, top - out + (bottom - top + 2 * out) * t, 1, 0) for t in numpy.linspace(0.15, 0.85, 24) for x in (left - out, right + out)]
    met, there = 0, 0
    for x, y, dx, dy in points:
        reach = numpy.arange(-0.16 * text, 0.16 * text + 0.5, 0.5)
        across = [(int(y + dy * r), int(x + dx * r)) for r in reach]
        across = [(j, i) for j, i in across if 0 <= j < high and 0 <= i < wide]
        if across:
            there += 1
            met += any(differs[j, i] for j, i in across)
    inner = differs[int(top) + 2 : int(bottom) - 1, int(left) + 2 : int(right) - 1]
    return met / max(there, 1), 1 - (inner.mean() if inner.size else 0)


def headings(reading, names=HEADINGS):
    """Headings of the guide's sections: page, left edge, top."""
    out = []
    for number, words in enumerate(reading.words):
        for name in names:
            parts = name.split()
            for i in range(len(words)):
                if [w.text for w in words[i : i + len(parts)]] == parts and words[i].rect[3] - words[i].rect[1] > 1.3 * least_height(reading):
                    out.append((name, number, words[i].rect[0], words[i].rect[1]))
    return out


def least_height(reading):
    """Height of the running text."""
    heights = sorted(w.rect[3] - w.rect[1] for words in reading.words for w in words)
    return heights[len(heights) // 2]


def text_size(guide):
    """Size of the running text in points: the one that most is set in."""
    sizes = re.findall(r"/\S+ ([\d.]+) Tf", "".join(bytes(page.Contents.read_bytes()).decode("latin-1") for page in pikepdf.open(guide).pages))
    return float(max(set(sizes), key=sizes.count))


@pytest.fixture(scope="module")
def planner(tmp_path_factory):
    folder = tmp_path_factory.mktemp("planner")
    (folder / "product").mkdir()
    (folder / "product/product.toml").write_text(PLANNER, encoding="utf-8")
    return tool.build(folder / "product", folder / "dist")


@pytest.fixture(scope="module", params=["spread", "upright", "phone", "planner"])
def told(request, shelf, tmp_path_factory):
    """A bundle, its guide and its notebook, read and drawn."""
    bundle = request.getfixturevalue("planner") if request.param == "planner" else shelf(products.LAYOUTS[request.param])
    folder = tmp_path_factory.mktemp(request.param)
    guide = guide_of(bundle)
    return bundle, Reading(guide), Drawn(guide, folder), Reading(bundle.notebook), Drawn(bundle.notebook, folder)


def sections(told):
    """Each section's picture: heading, picture, the page that it shows and how far it is from that."""
    _, guide, drawn, book, pages = told
    found = headings(guide)
    pictured = pictures(guide.path)
    out = []
    for name, number, left, top in found:
        if name == "Change the cover":
            continue
        below = [p for p in pictured if p.page == number and p.rect[3] > top and p.rect[2] > left and p.rect[0] < left + guide.width * 0.62]
        # In a spread of two columns that of the other one stands beside it.
        below = [p for p in below if guide.width < guide.height or abs(p.rect[0] - left) < guide.width * 0.3]
        assert below, f"{name}: no picture"
        picture = min(below, key=lambda p: abs(p.rect[1] - top))
        crop = cut(drawn.page(number), picture.rect)
        # In a long planner, the first pages and those that the outline names.
        numbers = {n for n in book.pages if n < 40} | {page for _, page, _ in book.outline}
        off, page = shown(crop, pages, sorted(numbers))
        out.append((name, picture, crop, page, off))
    return out


def test_each_section_stands_by_a_picture_of_its_page(told):
    bundle, guide, _, book, _ = told
    seen = {name: (page, off) for name, _, _, page, off in sections(told)}
    tops = {title: page for title, page, _ in book.outline}
    assert seen["Import the notebook"][0] == 0
    assert "Follow the links" in seen
    if "Index" in tops and "Find your sections" in seen:
        assert seen["Find your sections"][0] == tops["Index"]
    if "Templates" in tops and "Copy a template" in seen:
        assert seen["Copy a template"][0] == tops["Templates"]
    for name, (page, off) in seen.items():
        assert off < 6, f"{name}: the picture is {off:.1f} of 255 off page {page + 1}"
    if bundle.of_kind("covers"):
        count = len(pictures(guide.path))
        assert count >= len(seen) + 2, "the covers are not shown"


def test_marks_lie_round_true_tap_areas(told):
    _, guide, _, book, pages = told
    size = text_size(guide.path) * DPI / 72
    # Sections, and where what is marked on their pictures leads to.
    starts = {page for title, page, below in book.outline if title == "Sections" for _, page, _ in below}
    templates = {page for title, _, below in book.outline if title == "Templates" for _, page, _ in below}
    for name, _, crop, page, _ in sections(told):
        wide = crop.shape[1] / book.width
        plain = pages.page(page, crop.shape[1], crop.shape[0])
        links = [link for link in book.links[page] if link.target >= 0]
        marked = []
        for link in links:
            round_it, within = ringed(crop, plain, link.rect, wide, size)
            if round_it > 0.9 and within > 0.8:
                marked.append(link)
        if name == "Import the notebook":
            assert not marked, marked
            continue
        # Where two tap areas are one and the same, both are marked.
        assert marked, f"{name}: nothing is marked on page {page + 1}"
        goals = {link.target for link in marked}
        assert page not in goals or name == "Find a day"
        if name in ("Find your sections", "Name your sections"):
            assert goals <= starts and len(goals) == 1, goals
        if name == "Copy a template" and templates and len(links) > len(goals):
            assert goals <= templates and len(goals) == 1, goals
        if name == "Find a day":
            assert len(marked) >= 2, marked


def test_pictures_lie_over_no_word_and_within_the_margins(told):
    _, guide, _, _, _ = told
    for picture in pictures(guide.path):
        for word in guide.words[picture.page]:
            assert overlap(picture.rect, word.rect) < 0.5, f"“{word.text}” on page {picture.page + 1} lies under a picture"
        left, top, right, bottom = picture.rect
        assert left > 10 and top > 10 and right < guide.width - 10 and bottom < guide.height - 10


def test_headings_keep_their_picture_and_two_steps(told):
    _, guide, _, _, _ = told
    wide = guide.width > guide.height
    for name, number, left, top in headings(guide):
        column = [w for w in guide.words[number] if w.rect[1] > top + 2 and (not wide or (w.rect[0] > guide.width / 2) == (left > guide.width / 2))]
        rest = [w.text for w in column]
        assert "1" in rest and "2" in rest, f"{name} stands at the foot of a column"
        assert any(p.page == number and (not wide or (p.rect[0] > guide.width / 2 - 5) == (left > guide.width / 2 - 5)) for p in pictures(guide.path)), name


def test_the_last_page_is_no_few_lines(told):
    _, guide, _, _, _ = told
    if len(guide.pdf.pages) > 1:
        foot = max(w.rect[3] for w in guide.words[-1][:-4])
        assert foot > guide.height * 0.3, foot


def below(guide, name):
    """The pictures under a heading, in its column."""
    ((_, number, left, top),) = headings(guide, [name])
    column = (left - 5, left + guide.width * 0.4)
    return [p for p in pictures(guide.path) if p.page == number and column[0] < p.rect[0] < column[1] and p.rect[1] > top]


def sheet_of(bundle):
    (path,) = [p for p in bundle.of_kind("sheet") if p.suffix == ".pdf" and "contents" in p.parts]
    return path


def test_one_sticker_is_marked_on_its_sheet(shelf, tmp_path):
    bundle = shelf(products.FULL_PRODUCT)
    guide, sheet = Reading(guide_of(bundle)), sheet_of(bundle)
    (picture,) = below(guide, "Place stickers")
    crop, sheets = cut(Drawn(guide.path, tmp_path).page(picture.page), picture.rect), Drawn(sheet, tmp_path)
    off, _ = shown(crop, sheets, [0])
    assert off < 8, off
    plain = sheets.page(0, crop.shape[1], crop.shape[0])
    scale, size = crop.shape[1] / Reading(sheet).width, text_size(guide.path) * DPI / 72
    stickers = [p.rect for p in pictures(sheet, "/Image") if p.page == 0]
    marked = [rect for rect in stickers if ringed(crop, plain, rect, scale, size)[0] > 0.9]
    assert len(stickers) > 1 and len(marked) == 1, (stickers, marked)


def test_a_level_guide_shows_what_lies_in_the_folder(shelf, tmp_path):
    bundle = shelf(products.FULL_PRODUCT)
    guide = Reading(guide_of(bundle))
    drawn = Drawn(guide.path, tmp_path)
    (covers,) = [p for p in bundle.of_kind("covers") if "contents" in p.parts]
    book, others, sheets = Drawn(bundle.notebook, tmp_path), Drawn(covers, tmp_path), Drawn(sheet_of(bundle), tmp_path)
    # The cover, a page, another cover, the sheet.
    wanted = [(book, [0]), (book, Reading(bundle.notebook).pages[1:]), (others, range(1, 4)), (sheets, [0])]
    found = below(guide, "Unpack the files")
    assert len(found) == len(wanted)
    for picture, (file, numbers) in zip(found, wanted):
        off, page = shown(cut(drawn.page(picture.page), picture.rect), file, numbers)
        assert off < 8, (file.path.name, page, off)


def test_an_upright_guide_has_no_picture_that_is_too_small(shelf):
    upright = replace(products.FULL_PRODUCT, name="Upright Harbour", page='size = "A5"\nlayout = "single"', coil="none")
    guide = Reading(guide_of(shelf(upright)))
    ((_, number, _, top),) = headings(guide, ["Unpack the files"])
    end = min([y for _, page, _, y in headings(guide, ["Import the notebook"]) if page == number], default=guide.height)
    found = pictures(guide.path)
    # What lies in the folder is shown beside its steps, on the page where they stand; a cover of 20 mm is told from another (common
    # practice, no source).
    files = [p.rect for p in found if p.page == number and top - 5 < p.rect[1] < end - 5]
    assert len(files) == 4 and all(x1 - x0 >= 56 for x0, _, x1, _ in files), files
    assert [p for p in found if p.page == headings(guide, ["Place stickers"])[0][1]]


def test_what_is_written_from_right_to_left_has_its_pictures_on_the_left(shelf):
    page = 'size = "A5"\nlayout = "single"'
    for language, left in [("en-GB", False), ("ar", True)]:
        bundle = shelf(harbour(language, page))
        guide = Reading(guide_of(bundle))
        found = pictures(guide.path)
        assert len(found) >= 4
        for picture in found:
            middle = (picture.rect[0] + picture.rect[2]) / 2
            assert (middle < guide.width / 2) == left, (language, picture)


def test_a_text_of_ones_own_shows_the_same_pictures(tmp_path):
    text = "# Mine\n\nTap this.\n\n![](page:index)\n\n1. Open it.\n2. Tap a name.\n\n![](page:covers)\n"
    recipe = replace(products.LAYOUTS["upright"], name="Own Guide", more=products.FULL + '[guide]\ntext = "texts/guide.md"\n', files={**products.FULL_FILES, "texts/guide.md": text.encode})
    bundle = tool.build(recipe.write(tmp_path / "product"), tmp_path / "dist")
    assert len(pictures(guide_of(bundle))) == 5


def test_a_picture_that_no_page_is_named_for_is_told(tmp_path):
    text = "# Mine\n\n![](page:inside)\n"
    recipe = replace(products.LAYOUTS["upright"], name="Lost Picture", more='[guide]\ntext = "texts/guide.md"\n', files={"texts/guide.md": text.encode})
    run = tool.sheafwright("build", recipe.write(tmp_path / "product"), "--out", tmp_path / "dist")
    assert run.returncode == 2, run.stdout
    said = run.stdout + run.stderr
    assert "texts/guide.md:3:5" in said and "page:inside" in said and "page:index" in said, said


def test_a_finished_notebook_is_shown_as_it_is(tmp_path):
    folder = tmp_path / "product"
    (folder / "exports").mkdir(parents=True)
    (folder / "exports/notebook.pdf").write_bytes(finished.planner())
    head = finished.HEAD.replace("wanted = false", "wanted = true")
    (folder / "product.toml").write_text(head + finished.TABS, encoding="utf-8")
    bundle = tool.build(folder, tmp_path / "dist")
    guide = guide_of(bundle)
    assert len(re.findall(r"^ +\d+ +\d+ image ", program("pdfimages", "-list", guide), re.M)) >= 2
    found = pictures(guide)
    assert len(found) == 2
    reading, drawn, pages = Reading(guide), Drawn(guide, tmp_path), Drawn(bundle.notebook, tmp_path)
    book = Reading(bundle.notebook)
    marked = 0
    for picture, left in zip(found, (0, None)):
        with pikepdf.open(guide) as pdf:
            wide, high = (float(v) for v in list(pdf.pages[0].MediaBox)[2:])
        # The form is as large as a page of the guide; the page lies in its middle.
        x0, y0, x1, y1 = picture.rect
        scale = min((x1 - x0) / book.width, (y1 - y0) / book.height)
        across, down = (x0 + x1) / 2, (y0 + y1) / 2
        rect = (across - book.width * scale / 2, down - book.height * scale / 2, across + book.width * scale / 2, down + book.height * scale / 2)
        crop = cut(drawn.page(picture.page), rect)
        off, page = shown(crop, pages, book.pages)
        assert off < 8 and (left is None or page == left), (off, page)
        plain = pages.page(page, crop.shape[1], crop.shape[0])
        size = text_size(guide) * DPI / 72
        for link in book.links[page]:
            round_it, _ = ringed(crop, plain, link.rect, crop.shape[1] / book.width, size)
            marked += link.target >= 0 and round_it > 0.9
    assert marked == 1
    assert reading.words


def test_a_set_shows_each_member(tmp_path):
    log = 'name = "{}"\nversion = "1.0.0"\nreleased = 2027-03-01\n[notebook]\n[[notebook.section]]\nname = "Boats"\n[[notebook.section]]\nname = "Crew"\n[[notebook.template]]\nname = "Lines"\nruling = "lined"\n'
    shop = 'language = "en-GB"\nshop = { name = "Tarn and Tide Papers", contact = "help@tarn-and-tide.example" }\n'
    for slug, page in [("log", 'size = "A5"\nlayout = "single"'), ("book", 'size = "240 x 180 mm"\nlayout = "spread"')]:
        (tmp_path / slug).mkdir()
        top, rest = log.format(f"Tide {slug}").split("[notebook]", 1)
        (tmp_path / slug / "product.toml").write_text(f"{top}{shop}[page]\n{page}\n[notebook]{rest}", encoding="utf-8")
    (tmp_path / "chest").mkdir()
    (tmp_path / "chest/product.toml").write_text(
        f'name = "Chest"\nversion = "1.0.0"\nreleased = 2027-03-01\n{shop}set = {{ products = ["../log", "../book"] }}\n[page]\nsize = "A5"\nlayout = "single"\n', encoding="utf-8"
    )
    bundle = tool.build(tmp_path / "chest", tmp_path / "dist")
    guide = Reading(guide_of(bundle))
    # Cover, links, sections and templates of each.
    assert len(pictures(guide.path)) == 8
