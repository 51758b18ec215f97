"""Stickers that stand on pages of the notebook: true picture objects, stored once, where the manifest says.

What a file holds is read with pikepdf, what a page shows with poppler's pdftoppm, what a sticker shows with Pillow."""

import json
import math
from dataclasses import replace

import numpy
import pikepdf
import pytest
from PIL import Image

import products
import tool

# A plain square and a plain bar, so that what is seen of them can be measured: 20 mm and 30 × 10 mm.
SQUARE = b'<svg xmlns="http://www.w3.org/2000/svg" width="100" height="100"><rect width="100" height="100" fill="#c81e5a"/></svg>'
BAR = b'<svg xmlns="http://www.w3.org/2000/svg" width="300" height="100"><rect width="300" height="100" fill="#1e5ac8"/></svg>'
MORE = """
[assets]
own = ["art/*"]
[[sticker]]
file = "art/square.svg"
longest = "20 mm"
[[sticker]]
file = "art/bar.svg"
longest = "30 mm"
"""
PLAIN = '{ template = "lined" }'
PAGE = 'size = "150 x 200 mm"\nlayout = "single"'


def log(pages="", template="", keys="", more=MORE, page=PAGE, name="Kelp Log"):
    """A notebook with a section of lined pages and a template of dots; `pages` and `template` place the stickers."""

    class Written(products.Recipe):
        def manifest(self):
            return (
                products.HEAD.format(name=name)
                + f'[page]\n{page}\ncoil = "top"\n[notebook]\n{keys}\n'
                + f'[[notebook.section]]\nname = "Boats"\npages = [{pages or PLAIN}]\n[[notebook.section]]\nname = "Tides"\n'
                + '[[notebook.template]]\nname = "Lined"\nruling = "lined"\n'
                + f'[[notebook.template]]\nname = "Dots"\nruling = "dot-grid"\n{template}\n'
                + more
            )

    return Written(name, files={"art/square.svg": lambda: SQUARE, "art/bar.svg": lambda: BAR})


def on(*stickers, template="lined", more=""):
    return f'{{ template = "{template}", stickers = [{", ".join(stickers)}]{more} }}'


def place(sticker, x, y, **more):
    keys = "".join(f", {key} = {json.dumps(value)}" for key, value in more.items())
    return f'{{ sticker = "{sticker}", at = {json.dumps([x, y])}{keys} }}'


def pictures(pdf):
    """Image objects of a file that are seen, masks not counted: object number by size."""
    out = {}
    for number, thing in enumerate(pdf.objects):
        if isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == "/Image" and thing.get("/ColorSpace") != "/DeviceGray":
            out[number] = thing
    return out


def pages_of(bundle, *titles):
    """Page numbers by the outline's titles."""
    with pikepdf.open(bundle.notebook) as pdf:
        number = {p.objgen: i for i, p in enumerate(pdf.pages)}
        with pdf.open_outline() as outline:
            entries = list(outline.root)
            for entry in entries:
                entries.extend(entry.children)
            at = {e.title: number[e.destination[0].objgen] for e in entries}
    return [at[t] for t in titles]


def seen(bundle, page, colour, dpi=127):
    """Where a colour is seen on a page: left, top, right, bottom in mm. 127 dpi are 5 px a millimetre."""
    stem = bundle.folder.parent / f"page-{page}"
    tool.program("pdftoppm", "-r", dpi, "-f", page + 1, "-l", page + 1, "-singlefile", "-png", bundle.notebook, stem)
    with Image.open(f"{stem}.png") as picture:
        pixels = numpy.asarray(picture.convert("RGB")).astype(int)
    there = numpy.abs(pixels - numpy.array(colour)).max(axis=2) < 12
    if not there.any():
        return None
    rows, columns = numpy.flatnonzero(there.any(1)), numpy.flatnonzero(there.any(0))
    mm = 25.4 / dpi
    return [columns[0] * mm, rows[0] * mm, (columns[-1] + 1) * mm, (rows[-1] + 1) * mm]


RED, BLUE = (200, 30, 90), (30, 90, 200)


def near(found, wanted, by=0.45):
    return found is not None and all(abs(a - b) <= by for a, b in zip(found, wanted, strict=True))


def test_a_sticker_stands_where_it_is_put_as_wide_as_it_should(workshop):
    pages = ", ".join([
        on(place("square", "60 mm", "90 mm")),
        on(place("square", "60 mm", "90 mm", width="40 mm")),
        on(place("bar", "50 %", "50 %", width=36, turn=90)),
        on(place("bar", 70, 100, turn=30)),
    ])
    bundle = workshop(log(pages))
    (boats,) = pages_of(bundle, "Boats")
    assert near(seen(bundle, boats + 1, RED), [50, 80, 70, 100])
    assert near(seen(bundle, boats + 2, RED), [40, 70, 80, 110])
    # A quarter of a turn lays the bar along the page: 36 mm high, a third of that wide, about the middle of the page.
    assert near(seen(bundle, boats + 3, BLUE), [75 - 6, 100 - 18, 75 + 6, 100 + 18])
    half = [(30 * math.cos(math.pi / 6) + 10 * math.sin(math.pi / 6)) / 2, (30 * math.sin(math.pi / 6) + 10 * math.cos(math.pi / 6)) / 2]
    assert near(seen(bundle, boats + 4, BLUE), [70 - half[0], 100 - half[1], 70 + half[0], 100 + half[1]])
    # The other pages are bare.
    assert seen(bundle, boats, RED) is None and seen(bundle, boats, BLUE) is None


def test_a_turn_goes_clockwise(workshop):
    """The bar's left end goes up: its ink in the left half lies above the middle."""
    bundle = workshop(log(on(place("bar", 70, 100, turn=30))))
    (boats,) = pages_of(bundle, "Boats")
    seen(bundle, boats + 1, BLUE)
    with Image.open(bundle.folder.parent / f"page-{boats + 1}.png") as picture:
        pixels = numpy.asarray(picture.convert("RGB")).astype(int)
    rows, columns = numpy.nonzero(numpy.abs(pixels - numpy.array(BLUE)).max(axis=2) < 12)
    left = columns < 70 * 5
    assert rows[left].mean() < 100 * 5 < rows[~left].mean()


def test_it_is_stored_once_with_the_pixels_that_buyers_get(workshop):
    """Three pages of a section, a template with a page of its own, its small picture in the overview: one picture."""
    stickers = f"stickers = [{place('square', 60, 90)}]"
    bundle = workshop(log(on(place("square", 70, 60, turn=-8), more=", count = 3"), template=stickers))
    with pikepdf.open(bundle.notebook) as pdf:
        (picture,) = pictures(pdf).values()
        mask = picture.SMask
        assert (mask.ColorSpace, mask.Subtype, picture.BitsPerComponent) == ("/DeviceGray", "/Image", 8)
        (sticker,) = [p for p in bundle.stickers if "square" in p.name]
        with Image.open(sticker) as file:
            rgba = numpy.asarray(file.convert("RGBA"))
        assert picture.read_bytes() == rgba[:, :, :3].tobytes() and mask.read_bytes() == rgba[:, :, 3].tobytes()
    # Poppler lists it on each page that shows it, always as the same object.
    lines = tool.program("pdfimages", "-list", bundle.notebook).splitlines()[2:]
    shown = [(int(words[0]), words[2], words[10]) for words in (line.split() for line in lines)]
    dots, overview, boats = pages_of(bundle, "Dots", "Templates", "Boats")
    wanted = {boats + 2, boats + 3, boats + 4, dots + 1, overview + 1}
    assert {page for page, kind, _ in shown if kind == "image"} == wanted
    assert len({number for _, kind, number in shown if kind == "image"}) == 1
    assert seen(bundle, dots, RED) and seen(bundle, boats + 1, RED)
    small = seen(bundle, overview, RED)
    assert small and small[2] - small[0] < 12


def test_more_pages_take_no_more_than_their_content(workshop, tmp_path):
    """Forty pages more with the same sticker: some hundred bytes each, however large the sticker."""
    sizes = []
    for n in (1, 41):
        product = log(on(place("square", 60, 90, width=60), more=f", count = {n}"), name=f"Kelp {n}")
        sizes.append(tool.build(product.write(tmp_path / f"p{n}"), tmp_path / f"d{n}").notebook.stat().st_size)
    assert sizes[1] - sizes[0] < 40 * 1_000


def test_it_lies_above_the_ruling_and_later_ones_on_top(workshop):
    pages = on(place("square", 60, 90), place("bar", 60, 90))
    bundle = workshop(log(pages))
    (boats,) = pages_of(bundle, "Boats")
    red, blue = seen(bundle, boats + 1, RED), seen(bundle, boats + 1, BLUE)
    assert near(blue, [45, 85, 75, 95]) and near(red, [50, 80, 70, 100])
    # Nothing of the lines below shines through: every row of the square's upper part has its colour from edge to edge.
    with Image.open(bundle.folder.parent / f"page-{boats + 1}.png") as picture:
        part = numpy.asarray(picture.convert("RGB").crop((252, 402, 348, 422))).astype(int)
    assert (numpy.abs(part - numpy.array(RED)).max(axis=2) < 6).all()


def test_on_a_page_with_a_name_on_art_and_on_a_spread(workshop):
    art = '[[notebook.template]]\nname = "Map"\nart = "art/map.svg"\nstickers = [' + place("square", 60, 90) + "]\n"
    svg = b'<svg xmlns="http://www.w3.org/2000/svg" width="567" height="756" viewBox="0 0 150 200"><text x="20" y="40" font-size="9">{{ name }}</text></svg>'
    pages = ", ".join([
        on(place("square", 50, 120), more=', name = "North bed"'),
        '{ template = "map" }',
        '{ template = "map", name = "South bed" }',
        '{ template = "dots", name = "Cove" }',
    ])
    made = log(pages, template=f"stickers = [{place('bar', 60, 150)}]", more=art + MORE)
    bundle = workshop(replace_files(made, {"art/map.svg": lambda: svg}))
    boats, map_ = pages_of(bundle, "Boats", "Map")
    assert near(seen(bundle, boats + 1, RED), [40, 110, 60, 130])
    for page in (boats + 2, boats + 3, map_):
        assert near(seen(bundle, page, RED), [50, 80, 70, 100]), page
    assert near(seen(bundle, boats + 4, BLUE), [45, 145, 75, 155])
    spread = log(on(place("square", "75 %", "50 %")), page='size = "240 x 180 mm"\nlayout = "spread"', name="Kelp Spread")
    spread = replace_text(spread, spread.manifest().replace('coil = "top"', 'coil = "middle"'))
    bundle = tool.build(spread.write(bundle.folder.parents[2] / "q"), bundle.folder.parents[2] / "e")
    (boats,) = pages_of(bundle, "Boats")
    assert near(seen(bundle, boats + 1, RED), [170, 80, 190, 100])


@pytest.mark.parametrize(("room", "navigation", "x", "said"), [
    ("page", "none", 12, ""),
    ("page", "none", 8, "reaches beyond the page"),
    ("page", "over", 75, ""),
    # On a page at the end all tabs have changed sides.
    ("page", "over", 12, "lies under the tap area"),
    ("papers", "none", 12, "reaches beyond its paper"),
])
def test_art_that_fills_the_page_has_no_papers_to_keep_to(room, navigation, x, said, tmp_path):
    art = f'[[notebook.template]]\nname = "Map"\nart = "art/map.svg"\nroom = "{room}"\nnavigation = "{navigation}"\nstickers = [{place("square", x, 42)}]\n'
    svg = b'<svg xmlns="http://www.w3.org/2000/svg" width="567" height="756" viewBox="0 0 150 200"><rect width="150" height="200" fill="#eef"/><rect id="link:index" x="50" y="150" width="50" height="30" fill="#dde"/></svg>'
    made = replace_files(log(more=art + MORE), {"art/map.svg": lambda: svg})
    if said:
        assert said in faults(made, tmp_path)
        return
    bundle = tool.build(made.write(tmp_path / "product"), tmp_path / "dist")
    (map_,) = pages_of(bundle, "Map")
    assert near(seen(bundle, map_, RED), [x - 10, 32, x + 10, 52])


def replace_files(recipe, files):
    recipe.files = {**recipe.files, **files}
    return recipe


def replace_text(recipe, text):
    class Written(products.Recipe):
        def manifest(self):
            return text

    return Written(recipe.name, files=recipe.files)


def faults(recipe, folder):
    run = tool.sheafwright("build", recipe.write(folder / "product"), "--out", folder / "dist")
    assert run.returncode != 0, run.stdout
    assert not list((folder / "dist").glob("*/*/bundle.json"))
    return run.stderr + run.stdout


WRONG = {
    "an unknown name": (place("squar", 60, 90), "no sticker is called `squar`", "did you mean `square`?", '"squar"'),
    "beyond the paper": (place("square", 8, 90), "reaches beyond its paper", "there is room within", "[8, 90]"),
    "off the page": (place("square", -40, 90), "reaches beyond its paper", "there is room within", "[-40, 90]"),
    "too wide": (place("square", 75, 100, width=300), "reaches beyond its paper", "make it smaller", "[75, 100]"),
    "over the foot": (place("square", 40, 185), "lies under the tap area", "there is room within", "[40, 185]"),
    "no place": ('{ sticker = "square" }', "where does this sticker lie?", "at = [", "{ sticker"),
    "one number": ('{ sticker = "square", at = [3] }', "two numbers", "at = [", "[3]"),
    "pixels": ('{ sticker = "square", at = ["30 px", 20] }', "no pixels of its own", "50 %", '["30 px"'),
    "no name": ("{ at = [60, 90] }", "which sticker stands here?", "sticker = ", "{ at"),
    "a turn": (place("square", 60, 90, turn=400), "not turned by 400", "-360 to 360", "400"),
    "a width": (place("square", 60, 90, width=1), "no width for a sticker", "2 to 400 mm", "1"),
}


@pytest.mark.parametrize("wrong", WRONG)
def test_what_cannot_stand_there_is_told_with_line_and_column(wrong, tmp_path):
    sticker, message, help_, mark = WRONG[wrong]
    made = log(on(sticker))
    said = faults(made, tmp_path)
    lines = made.manifest().splitlines()
    (line,) = [n for n, text in enumerate(lines, 1) if "stickers = [" in text]
    column = lines[line - 1].index(sticker) + sticker.index(mark, 3 if mark == "1" else 0) + 1
    if mark == "1":
        column = lines[line - 1].index("width = 1") + len("width = ") + 1
    assert message in said and help_ in said, said
    assert f"product.toml:{line}:{column}" in said, (said, column)
    assert said.count(message) == 1


def test_each_fault_is_told_once_and_all_of_them(tmp_path):
    """A template that forty pages use, in two variants, beside two other faults: three in all."""
    stickers = f"stickers = [{place('square', 4, 90)}, {place('bra', 60, 90)}]"
    pages = '{ template = "dots", count = 40 }, ' + on(place("circle", 60, 90))
    said = faults(log(pages, template=stickers, more=MORE + '[variants.hand]\nright = {}\nleft = { page.hand = "left" }\n'), tmp_path)
    assert said.count("no sticker is called") == 2 and said.count("reaches beyond its paper") == 1
    said = faults(log(pages.split(", {")[0], template=f"stickers = [{place('square', 4, 90)}, {place('bar', 60, 197)}]"), tmp_path / "b")
    assert said.count("reaches beyond its paper") == 2


def test_tap_areas_stay_free(workshop):
    """No picture lies over a tap area of a page, for each of the pages that has one."""
    pages = on(place("square", 60, 90), place("bar", 70, 160), more=", count = 2")
    bundle = workshop(log(pages, template=f"stickers = [{place('square', 75, 100, turn=45)}]"))
    boats, dots = pages_of(bundle, "Boats", "Dots")
    with pikepdf.open(bundle.notebook) as pdf:
        for number in (boats + 1, boats + 2, dots):
            page = pdf.pages[number]
            high = float(page.MediaBox[3])
            found = [f for f in (seen(bundle, number, RED), seen(bundle, number, BLUE)) if f]
            for left, top, right, bottom in found:
                for note in page.Annots:
                    a = [float(v) * 25.4 / 72 for v in note.Rect]
                    rect = [a[0], high * 25.4 / 72 - a[3], a[2], high * 25.4 / 72 - a[1]]
                    assert rect[0] >= right or rect[2] <= left or rect[1] >= bottom or rect[3] <= top


def test_a_variant_may_be_plain_and_sizes_share_a_place_in_percent(workshop):
    variants = """
[variants.size]
small = {}
large = { page.size = "A4" }
[variants.look]
decorated = {}
plain = { notebook.decorated = false }
"""
    bundle = workshop(log(on(place("square", "50 %", "50 %")), more=MORE + variants))
    books = {p.parent.name: p for p in bundle.of_kind("notebook")}
    assert len(books) == 4
    for name, path in books.items():
        with pikepdf.open(path) as pdf:
            assert len(pictures(pdf)) == (0 if "plain" in name else 1), name
            width, height = (float(v) * 25.4 / 72 for v in pdf.pages[0].MediaBox[2:])
        if "plain" not in name:
            alone = tool.Bundle(bundle.product, bundle.folder)
            alone.__dict__["record"] = {**bundle.record, "files": [{"path": str(path.relative_to(bundle.folder)), "kind": "notebook"}]}
            (boats,) = pages_of(alone, "Boats")
            assert near(seen(alone, boats + 1, RED), [width / 2 - 10, height / 2 - 10, width / 2 + 10, height / 2 + 10]), name
    # Stickers that a plain variant does not have are not asked for.
    other = '[variants.look]\ndecorated = {}\nplain = { notebook.decorated = false, sticker = [{ motif = "star" }] }\n'
    again = log(on(place("square", "50 %", "50 %")), more=MORE + other, name="Kelp Plain")
    tool.build(again.write(bundle.folder.parents[2] / "q"), bundle.folder.parents[2] / "e")


def test_a_variant_with_other_stickers_is_told_what_it_lacks(tmp_path):
    other = '[variants.set]\nwhole = {}\nfew = { sticker = [{ motif = "star" }] }\n'
    said = faults(log(on(place("square", 60, 90)), more=MORE + other), tmp_path)
    assert "no sticker is called `square`" in said and "star" in said


def test_pieces_of_a_sheet_may_stand_on_pages(workshop):
    sheet = b'<svg xmlns="http://www.w3.org/2000/svg" width="400" height="200"><rect id="gull" x="20" y="20" width="120" height="120" fill="#c81e5a"/><rect id="crab" x="240" y="20" width="120" height="60" fill="#1e5ac8"/></svg>'
    more = '[assets]\nown = ["art/*"]\n[[sticker-group]]\nname = "Shore"\ncut = "art/sheet.svg"\nwidth = "80 mm"\n'
    made = replace_files(log(on(place("gull", 60, 90, width=20)), more=more), {"art/sheet.svg": lambda: sheet})
    bundle = workshop(made)
    (boats,) = pages_of(bundle, "Boats")
    assert near(seen(bundle, boats + 1, RED), [50, 80, 70, 100])


def test_a_change_of_the_sticker_changes_the_page_and_is_told(tmp_path):
    """The page is made anew when the sticker's art changes, though nothing of the manifest did; and the diff tells it."""
    def made(name, version, x, art=SQUARE):
        recipe = replace_files(log(on(place("square", x, 90), more=', name = "Moorings"')), {"art/square.svg": lambda: art})
        text = recipe.manifest().replace('version = "1.0.0"', f'version = "{version}"')
        return tool.build(replace_text(recipe, text).write(tmp_path / name), tmp_path / f"{name}-dist")

    first = made("a", "1.0.0", 60)
    moved = made("b", "1.0.1", 70)
    drawn = made("c", "1.0.1", 60, SQUARE.replace(b"#c81e5a", b"#1e5ac8"))
    for other, where in ((moved, [60, 80, 80, 100]), (drawn, None)):
        report = json.loads(tool.sheafwright("diff", first.folder, other.folder, "--json").stdout)
        changed = [d for d in report["differences"] if d["path"].startswith("contents/kelp-log.pdf") and d["page_new"]]
        (boats,) = pages_of(other, "Boats")
        assert {d["page_new"] for d in changed} == {boats + 2}, report["differences"]
        assert "Moorings" in tool.sheafwright("diff", first.folder, other.folder, "--note").stdout
        assert seen(other, boats + 1, RED) is None if where is None else near(seen(other, boats + 1, RED), where)


def test_a_finished_notebook_takes_none(tmp_path):
    done = tool.build(log().write(tmp_path / "one"), tmp_path / "dist").notebook
    text = products.HEAD.format(name="Done Log") + '[assets]\nown = ["art/*"]\n[notebook]\nfile = "art/done.pdf"\ndecorated = false\n'
    recipe = replace_text(replace(log(), files={"art/done.pdf": done.read_bytes}), text)
    said = faults(recipe, tmp_path / "two")
    assert "`decorated` has no place in it" in said
