"""Pages for languages that are written from right to left: mirrored as a whole, with text, music and art as they are."""

import io
import json
import re
from dataclasses import dataclass, replace
from pathlib import Path

import matplotlib
import numpy
import pikepdf
import pytest
from PIL import Image

import products
import tool
from test_languages import BOXES, OWN_FONTS

DEJAVU = Path(matplotlib.get_data_path()) / "fonts/ttf/DejaVuSans.ttf"
# Written from right to left, with European digits.
BACKWARDS = "fa-u-nu-latn"
SECTIONS = ["Quays", "Moorings", "Lighthouses"]
MORE = """
[[cover]]
name = "Rope"
design = "banded"
[[sticker]]
motif = "to-do-box"
name = "to-do"
label = ""
[[sticker]]
motif = "tick"
name = "tick"
[[sticker]]
motif = "date-tag"
name = "date"
label = ""
"""


@dataclass
class InLanguage(products.Recipe):
    """A product in another language, called as in every other."""

    language: str = "en-GB"

    def manifest(self):
        text = super().manifest().replace(f'name = "{self.name}"', 'name = "Harbour"', 1)
        return text.replace('language = "en-GB"', f'language = "{self.language}"', 1)


def harbour(language, page="", more=MORE, keys="", **changes):
    """A notebook whose names are single English words, so that it differs from one in English by its direction alone."""
    files = {} if "[style.fonts]" in more else OWN_FONTS.get(language[:2], {})
    if files:
        more += f"[style.fonts]\nheading = {json.dumps(list(files))}\nlabel = {json.dumps(list(files))}\n[assets]\nown = ['fonts/*']\n"
    recipe = InLanguage(
        name=re.sub(r"\W+", " ", f"{language} {page} {keys} {more} {changes.get('sections')}"),
        language=language,
        sections=SECTIONS,
        top='slug = "harbour"',
        page=page,
        more=more,
        files=files,
        keys=keys,
        templates=[("Log", "margin-ruled", "{}"), ("List", "checklist", "{}"), ("Music", "staves", "{ joined = 2 }"), ("Cues", "cue-notes", "{}")],
    )
    return replace(recipe, **changes)


LAYOUTS = ['layout = "spread"', 'layout = "single"\nhand = "left"', 'size = "A5"\nlayout = "single"\norientation = "portrait"']


@pytest.fixture(scope="module", params=LAYOUTS)
def pair(request, shelf):
    """The same product in English, and as if it were in Persian, of which the tool has no words: those of the tool stay the same."""
    return shelf(harbour("en-GB", request.param)), shelf(harbour(BACKWARDS, request.param))


def taps(path):
    """The tap areas of each page, from the left, with what they say."""
    with pikepdf.open(path) as pdf:
        for page in pdf.pages:
            yield float(page.mediabox[2]), [(*map(float, a.Rect), str(a.Contents)) for a in page.get("/Annots", [])]


def words(path):
    """The words of each page with their boxes, as poppler has them."""
    text = tool.program("pdftotext", "-bbox", path, "-")
    for page in re.findall(r"<page.*?</page>", text, re.S):
        yield [(w, float(a), float(b), float(c), float(d)) for a, b, c, d, w in re.findall(r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>', page)]


def test_every_tap_area_lies_on_the_other_side(pair):
    english, persian = pair
    for a, b in zip(english.pdfs, persian.pdfs, strict=True):
        for (wide, here), (_, there) in zip(taps(a), taps(b), strict=True):
            # An address in a sentence stands where the sentence has it.
            here, there = ([t for t in links if t[4].startswith("Go to")] for links in (here, there))
            flipped = sorted((says, wide - x1, y0, wide - x0, y1) for x0, y0, x1, y1, says in here)
            there = sorted((says, *rect) for *rect, says in there)
            assert [t[0] for t in flipped] == [t[0] for t in there]
            assert not there or numpy.allclose([t[1:] for t in flipped], [t[1:] for t in there], atol=0.02), b
    assert sum(len(links) for _, links in taps(persian.notebook)) > 60


def test_every_name_stands_where_its_mirror_image_would(pair):
    """Names are boxes of one word: as far from the right edge as they were from the left."""
    english, persian = pair
    seen = 0
    for a, b, (wide, _) in zip(words(english.notebook), words(persian.notebook), taps(english.notebook), strict=True):
        names = {*SECTIONS, "Log", "List", "Music", "Cues", "Harbour"}
        flipped = sorted((wide - x1, y0, wide - x0, y1, w) for w, x0, y0, x1, y1 in a if w in names)
        there = sorted((x0, y0, x1, y1, w) for w, x0, y0, x1, y1 in b if w in names)
        # Turned text is read upwards in place of downwards: poppler's boxes differ by what lies below the baseline.
        level = lambda boxes: [box for box in boxes if box[2] - box[0] > box[3] - box[1]]
        assert [box[4] for box in level(flipped)] == [box[4] for box in level(there)]
        for one, other in zip(level(flipped), level(there), strict=True):
            assert numpy.allclose(one[:4], other[:4], atol=0.6), (one, other)
            seen += 1
        assert sorted(box[4] for box in flipped) == sorted(box[4] for box in there)
    assert seen > 20


def test_every_label_lies_in_its_tap_area(pair):
    """Tabs and boxes of the index: where the name stands, its tap leads to its section."""
    for bundle in pair:
        seen = 0
        for (_, links), shown in zip(taps(bundle.notebook), words(bundle.notebook), strict=True):
            with pikepdf.open(bundle.notebook) as pdf:
                high = float(pdf.pages[0].mediabox[3])
            for name in SECTIONS:
                areas = [link for link in links if link[4].endswith(name)]
                for _, x0, y0, x1, y1 in [w for w in shown if w[0] == name]:
                    x, y = (x0 + x1) / 2, high - (y0 + y1) / 2
                    inside = any(a <= x <= c and b <= y <= d for a, b, c, d, _ in areas)
                    seen += inside
                    # The heading of the divider itself is no link.
                    assert inside or y1 - y0 > 14, (name, x, y)
        assert seen >= 3 * 6


def test_outline_labels_and_order_of_pages_stay(pair):
    english, persian = pair
    with pikepdf.open(english.notebook) as a, pikepdf.open(persian.notebook) as b:
        with a.open_outline() as one, b.open_outline() as other:
            walk = lambda items: [(i.title, walk(i.children)) for i in items]
            assert walk(one.root) == walk(other.root)
        assert [p.label for p in a.pages] == [p.label for p in b.pages]


@pytest.mark.parametrize("language,direction", [("ar", "/R2L"), ("he-IL", "/R2L"), ("fa-IR", "/R2L"), ("ur", "/R2L"), ("ja", None), ("de-DE", None), ("az-Arab", "/R2L")])
def test_documents_say_which_way_they_run(shelf, language, direction):
    bundle = shelf(harbour(language))
    for path in bundle.pdfs:
        with pikepdf.open(path) as pdf:
            assert pdf.Root.ViewerPreferences.get("/Direction") == direction, path
            assert pdf.Root.ViewerPreferences.DisplayDocTitle


def pixels(path, page, dpi=72):
    """A page as grey values."""
    raw = tool.program("pdftoppm", "-r", str(dpi), "-f", str(page), "-l", str(page), "-gray", path, text=False)
    return numpy.asarray(Image.open(io.BytesIO(raw)), dtype=float)


def page_of(path, name):
    with pikepdf.open(path) as pdf, pdf.open_outline() as outline:
        found = []

        def walk(items):
            for item in items:
                if item.title == name:
                    found.append(item)
                walk(item.children)

        walk(outline.root)
        target = found[0].destination or found[0].action.D
        return [p.objgen for p in pdf.pages].index(target[0].objgen) + 1


@pytest.mark.parametrize("name", ["Log", "List", "Cues"])
def test_rulings_are_mirrored(pair, name):
    """The picture of the paper turned over is the other page's, but for words."""
    english, persian = pair
    page = page_of(english.notebook, name)
    one, other = pixels(english.notebook, page), pixels(persian.notebook, page)
    high, wide = one.shape
    inner = slice(high // 10, -high // 10), slice(wide // 8, -wide // 8)
    dark = other[inner] < 200

    def missing(picture):
        """What is drawn on the one page and not within a pixel of there on the other."""
        near = sum(numpy.roll(picture[inner] < 200, step, 1).astype(int) for step in (-1, 0, 1)) > 0
        return (dark & ~near).sum()

    turned, same = missing(one[:, ::-1]), missing(one)
    assert turned < 0.5 * same, (turned, same)


def test_stickers_begin_at_the_right_edge_of_their_sheet(pair):
    """Each lies as far from the right as the same one of a product from left to right lies from the left."""
    sheets = [next(p for p in bundle.pdfs if "sheet" in p.name) for bundle in pair]
    wide = None
    places = []
    for sheet in sheets:
        with pikepdf.open(sheet) as pdf:
            wide = float(pdf.pages[0].mediabox[2])
            matrices = [[float(n) for n in o] for o, operator in pikepdf.parse_content_stream(pdf.pages[0]) if str(operator) == "cm"]
        places.append([(m[4], m[4] + m[0]) for m in matrices if m[0] > 1 and m[3] > 1])
    one, other = places
    assert len(one) == len(other) == 3
    for (left, right), (far, near) in zip(one, other, strict=True):
        assert abs(left - (wide - near)) < 0.1 and abs(right - (wide - far)) < 0.1, (one, other, wide)


FONTS = """
[style.fonts]
heading = "fonts/DejaVuSans.ttf"
label = "fonts/DejaVuSans.ttf"
[assets]
own = ["fonts/*"]
"""


def dated(language, months):
    """Months, whose names are in the language."""
    keys = f'[calendar]\nfirst = "2027-03"\nmonths = {months}\n[[notebook.dated]]\npages = "month"\n'
    return harbour(language, 'size = "A5"\nlayout = "single"', more=FONTS, keys=keys, files={"fonts/DejaVuSans.ttf": DEJAVU.read_bytes})


def test_numbers_of_a_month_run_from_the_right(shelf):
    for language, days in (("en-GB", ["15", "16", "17", "18"]), (BACKWARDS, ["18", "17", "16", "15"])):
        bundle = shelf(dated(language, 1))
        rows = set()
        for shown in words(bundle.notebook):
            numbers = [(round(y1), x0, w) for w, x0, _, _, y1 in shown if w in days]
            for foot in {n[0] for n in numbers}:
                rows.add(tuple(w for y, _, w in sorted(numbers) if y == foot))
        assert tuple(days) in rows and tuple(reversed(days)) not in rows, rows


def test_previous_lies_on_the_right(shelf):
    seen = {}
    for language in ("en-GB", BACKWARDS):
        bundle = shelf(dated(language, 3))
        with pikepdf.open(bundle.notebook) as pdf:
            pages = [p.objgen for p in pdf.pages]
            names = dict(zip(map(str, list(pdf.Root.Names.Dests.Names)[::2]), list(pdf.Root.Names.Dests.Names)[1::2]))
            goal = lambda place: pages.index((names[place].D if isinstance(names[place], pikepdf.Dictionary) else names[place])[0].objgen)
            april = pdf.pages[goal("month/2027-04")]
            wide, high = (float(v) for v in april.mediabox[2:])
            # Beside the heading, and not on the edge, where tabs are.
            head = [a for a in april.Annots if float(a.Rect[1]) > high * 0.75 and float(a.Rect[0]) > wide * 0.06 and float(a.Rect[2]) < wide * 0.94]

            def leads(annot, place):
                to = annot.get("/Dest", annot.get("/A", {}).get("/D") if "/A" in annot else None)
                return isinstance(to, pikepdf.Array) and pages.index(to[0].objgen) == goal(place)

            before = min(float(a.Rect[0]) if language == "en-GB" else -float(a.Rect[2]) for a in head if leads(a, "month/2027-03"))
            after = min(float(a.Rect[0]) if language == "en-GB" else -float(a.Rect[2]) for a in head if leads(a, "month/2027-05"))
            seen[language] = before < after
    assert seen == {"en-GB": True, BACKWARDS: True}


def test_built_in_stickers_are_mirrored_and_ticks_are_not(pair):
    english, persian = pair
    for name, mirrored in (("to-do", True), ("tick", False)):
        one, other = (numpy.asarray(Image.open(next(b.folder.rglob(f"*-{name}.png"))).convert("RGBA"), dtype=float) for b in (english, persian))
        assert one.shape == other.shape
        turned = one[:, ::-1] if mirrored else one
        assert (abs(turned - other) > 64).mean() < 0.004, name
    one, other = (numpy.asarray(Image.open(next(b.folder.rglob("*-to-do.png"))).convert("RGBA"), dtype=float) for b in pair)
    assert (abs(one - other) > 64).mean() > 0.01


def test_the_stroke_between_day_and_month_leans_the_same_way(pair):
    """As U+002F does, which has no mirrored form in the Unicode Character Database."""
    lean = []
    for bundle, middle in zip(pair, (0.626, 0.374)):
        picture = numpy.asarray(Image.open(next(bundle.folder.rglob("*-date.png"))).convert("RGBA"), dtype=float)
        high, wide = picture.shape[:2]
        window = picture[int(high * 0.3) : int(high * 0.66), int(wide * (middle - 0.045)) : int(wide * (middle + 0.045))]
        ground = numpy.median(window.reshape(-1, 4), axis=0)
        rows, columns = numpy.nonzero(abs(window - ground).sum(2) > 90)
        assert len(rows) > 30
        lean.append(numpy.corrcoef(rows, columns)[0, 1])
    assert max(lean) < -0.8, lean


ART = b"""<svg xmlns="http://www.w3.org/2000/svg" width="200" height="120" viewBox="0 0 200 120">
<path d="M10 10 H90 V40 L10 110 Z" fill="#405060"/>
<rect id="link:index" x="120" y="20" width="60" height="40" fill="#a05040"/></svg>"""


def test_art_is_moved_and_not_mirrored_with_its_taps(shelf):
    more = """
[[notebook.template]]
name = "Drawn"
art = "art/flag.svg"
[assets]
own = ["art/*"]
"""
    made = [shelf(harbour(language, 'layout = "spread"', more=more, files={"art/flag.svg": lambda: ART})) for language in ("en-GB", BACKWARDS)]
    page = page_of(made[0].notebook, "Drawn")
    found = []
    for bundle in made:
        raw = tool.program("pdftoppm", "-r", "72", "-f", str(page), "-l", str(page), bundle.notebook, text=False)
        picture = numpy.asarray(Image.open(io.BytesIO(raw)), dtype=int)
        dark = numpy.argwhere(abs(picture - [0x40, 0x50, 0x60]).sum(2) < 6)
        wide, links = list(taps(bundle.notebook))[page - 1]
        (top, left), (_, right) = dark.min(0), dark.max(0)
        # The pointed side of the flag: its left edge is the long one.
        high = [(dark[:, 1] == column).sum() for column in (left + 2, right - 2)]
        assert high[0] > high[1] * 1.5, high
        index = [t for t in links if abs((t[2] - t[0]) / (t[3] - t[1]) - 1.5) < 0.02 and t[0] > left]
        found.append(((left, right), index))
    (_, one), (_, other) = found
    assert one and other
    for (edges, index) in found:
        # 110 units from the left edge of the flag, which is 80 wide.
        unit = (edges[1] - edges[0]) / 80
        assert any(abs(t[0] - (edges[0] + 110 * unit)) < 2.5 for t in index), (edges, index)


def test_music_is_the_same_in_every_direction(pair):
    """The line that joins two staves stands at their left end."""
    for bundle in pair:
        dark = pixels(bundle.notebook, page_of(bundle.notebook, "Music"), 110) < 190
        staff = dark[dark.sum(1).argmax()]
        bar = dark.sum(0).argmax()
        assert dark.sum(0)[bar] > 0.3 * len(dark)
        assert not staff[bar - 9 : bar - 4].any() and staff[bar + 4 : bar + 40].all()


@pytest.mark.parametrize("edge", ["left", "right"])
def test_a_toolbar_stays_on_its_edge(shelf, edge):
    """A reader app turns nothing over."""
    made = shelf(harbour(BACKWARDS, f'layout = "spread"\ntoolbar = "20 mm"\ntoolbar-edge = "{edge}"'))
    for wide, links in list(taps(made.notebook))[1:]:
        for x0, _, x1, _, says in links:
            assert x0 > 20 / 25.4 * 72 - 0.5 if edge == "left" else x1 < wide - 20 / 25.4 * 72 + 0.5, says


HEBREW = ["יום א׳, 14 במרץ (2027)", "A5 רשימת הספינות", "גאות ושפל"]
ARABIC = ["الأحد، 14 مارس 2027", "المد والجزر", "قائمة السفن 365"]
JAPANESE = ["三月十四日、日曜日", "港の「灯台」メモ", "A5サイズの潮見表"]
MARKS = re.compile("[\u200e\u200f\u202a-\u202e\u2066-\u2069]")


@pytest.mark.parametrize("language,sections", [("he", HEBREW), ("ar-AE-u-nu-latn", ARABIC), ("ja", JAPANESE)])
def test_the_logical_text_of_every_label_is_given_back_in_order(shelf, language, sections):
    """Tab, divider and index by poppler; the index in the order of its sections."""
    style = '[style.fonts]\nheading = ["fonts/a.ttf", "fonts/b.ttf"]\nlabel = ["fonts/a.ttf", "fonts/b.ttf"]\n[assets]\nown = ["fonts/*"]\n'
    files = {"fonts/a.ttf": DEJAVU.read_bytes, "fonts/b.ttf": BOXES}
    made = shelf(harbour(language, 'layout = "single"', more=style, files=files, sections=sections))
    bare = lambda text: re.sub(r"[\s.,:;()،׳]", "", MARKS.sub("", text))
    text = bare(tool.program("pdftotext", made.notebook, "-"))
    for name in sections:
        assert text.count(bare(name)) >= 3, (name, text[:2000])
    # In the order in which the page says them: each row of the index behind the one above it, told by its longest word.
    raw = bare(tool.program("pdftotext", "-raw", "-f", "3", "-l", "3", made.notebook, "-"))
    at = [raw.rindex(bare(max(name.split(), key=len))) for name in sections]
    assert at == sorted(at)
