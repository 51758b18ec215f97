"""Looks, tabs, covers and hands, read off pages that poppler and Pillow draw and tomllib reads."""

import io
import re
import tomllib

import numpy
import pytest
from PIL import Image

import tool

MM = 72 / 25.4
LOOKS = sorted(p.stem for p in (tool.ROOT / "pipeline/manifest/looks").glob("*.toml"))
BASE = """name = "Window Ledger"
version = "1.0.0"
released = 2027-01-15
shop = {{ name = "Mock Paper Room", contact = "hello@mock.example" }}

[page]
size = "240 x 180 mm"
layout = "spread"
coil = "middle"
{page}

[style]
{style}

[notebook]
{notebook}

[[notebook.section]]
name = "Sills"
pages = [{{ template = "lines" }}]

[[notebook.section]]
name = "Panes"

[[notebook.section]]
name = "Latches"

[[notebook.template]]
name = "Lines"
ruling = "lined"

[[notebook.template]]
name = "Margin"
ruling = "margin-ruled"
with = {{ margin-colour = "#ff0000" }}

[assets]
own = ["looks/*"]
"""


# A notebook alone, for whoever looks at nothing else.
ALONE = "guide.wanted = false\npictures.usual = false\n"


def product(folder, style="", page="", notebook="", more="", top=""):
    folder.mkdir(parents=True, exist_ok=True)
    text = top + BASE.format(style=style, page=page, notebook=notebook) + more
    (folder / "product.toml").write_text(text, encoding="utf-8")
    return folder


def drawn(path, page, dpi=144):
    """A page as poppler draws it: height, width, and red, green and blue."""
    ppm = tool.program("pdftoppm", "-r", dpi, "-f", page, "-l", page, path, text=False)
    return numpy.asarray(Image.open(io.BytesIO(ppm)).convert("RGB")).astype(int)


def colour(text):
    return [int(text[i : i + 2], 16) for i in (1, 3, 5)]


def seen(pixels, x_mm, y_mm, dpi=144):
    return list(pixels[round(y_mm / 25.4 * dpi), round(x_mm / 25.4 * dpi)])


def luminance(pixels):
    """Relative luminance of sRGB pixels (WCAG 2.2, definition of "relative luminance")."""
    part = pixels / 255
    linear = numpy.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    return linear @ numpy.array([0.2126, 0.7152, 0.0722])


def share_of(pixels, wanted, within=2):
    return (abs(pixels - numpy.array(colour(wanted))).max(axis=2) <= within).mean()


def test_there_are_eight_looks_and_each_is_whole():
    parts = {"paper", "ink", "desk", "accent", "sections", "corner", "tabs", "binding", "metal", "grain", "heading", "rules", "divider"}
    parts |= {"index", "cover", "board", "material", "fonts"}
    assert len(LOOKS) >= 8
    shapes = []
    for name in LOOKS:
        look = tomllib.loads((tool.ROOT / f"pipeline/manifest/looks/{name}.toml").read_text(encoding="utf-8"))
        assert set(look) == parts, name
        shapes.append(tuple(look[k] for k in ("tabs", "binding", "heading", "rules", "divider", "index", "cover", "material")))
    assert len(set(shapes)) == len(LOOKS), "two looks differ in nothing but colour"


@pytest.mark.parametrize("name", LOOKS)
def test_a_look_is_what_its_file_says(name, tmp_path):
    """Paper, desk, board and the first sections' colours lie on the pages; nothing is found at fault."""
    look = tomllib.loads((tool.ROOT / f"pipeline/manifest/looks/{name}.toml").read_text(encoding="utf-8"))
    bundle = tool.build(product(tmp_path / "p", f'look = "{name}"'), tmp_path / "d", "--strict")
    lines = drawn(bundle.notebook, 5)
    # As the grain of a paper goes from it in one direction, a little.
    assert share_of(lines, look["paper"], 2 if look["grain"] == "smooth" else 9) > 0.5 and share_of(lines, look["desk"]) > 0.02
    # The open tab has its own colour; the other two are a touch nearer to the desk.
    assert share_of(lines, look["sections"][0]) > 0.002
    # The grain of a board goes round its colour.
    assert share_of(drawn(bundle.notebook, 1), look["board"], 2 if look["material"] == "plain" else 45) > 0.2


@pytest.mark.parametrize("name", LOOKS)
def test_eight_sections_of_a_look_are_told_apart_and_read(name, tmp_path):
    """No check has anything to say of them: neither of neighbours that somebody mixes up nor of a name on its tab."""
    names = ["Arches", "Beams", "Corbels", "Doors", "Eaves"]
    more = "".join(f'[[notebook.section]]\nname = "{n}"\npages = [{{ template = "lines" }}]\n' for n in names)
    bundle = tool.build(product(tmp_path / "p", f'look = "{name}"', more=more), tmp_path / "d", "--strict")
    assert "0 errors, 0 warnings, 0 notes" in bundle.said, bundle.said


def test_every_part_of_a_look_can_be_overridden_alone(tmp_path):
    one = tool.build(product(tmp_path / "p", 'look = "ferry"\npaper = "#ffeedd"'), tmp_path / "d")
    lines = drawn(one.notebook, 5)
    ferry = tomllib.loads((tool.ROOT / "pipeline/manifest/looks/ferry.toml").read_text(encoding="utf-8"))
    assert share_of(lines, "#ffeedd", 9) > 0.5 and share_of(lines, ferry["desk"]) > 0.02
    # The keys of shapes: each page drawn differs from the look's own where that part is seen, and nowhere else on the paper.
    plain = tool.build(product(tmp_path / "q", 'look = "ferry"'), tmp_path / "e")
    dotted = tool.build(product(tmp_path / "r", 'look = "ferry"\nrules = "dotted"'), tmp_path / "f")
    assert (drawn(plain.notebook, 5) != drawn(dotted.notebook, 5)).any()
    assert (drawn(plain.notebook, 1) == drawn(dotted.notebook, 1)).all()


@pytest.mark.parametrize("material", ["linen", "kraft", "leather", "wood"])
def test_a_board_of_a_material_is_its_colour_with_a_grain(material, tmp_path):
    """The grain fills the board and goes round its colour, lies on nothing else, and costs a file less than 120 kB."""
    made = {}
    for name, style in (("plain", ""), (material, f'material = "{material}"')):
        # A cover says it for itself; the others have what the style says.
        own = '\n[[cover]]\nname = "Smooth"\ndesign = "flat"\ncolour = "#5a7a66"\nmaterial = "plain"\nline = ""\n'
        made[name] = tool.build(product(tmp_path / name, f'board = "#5a7a66"\ncover = "flat"\n{style}', more=own), tmp_path / f"{name} dist", "--strict")
    plain, grained = (drawn(made[name].notebook, 1, dpi=150) for name in ("plain", material))
    board = abs(plain - numpy.array(colour("#5a7a66"))).max(axis=2) == 0
    assert board.mean() > 0.6
    off = grained[board] - numpy.array(colour("#5a7a66"))
    assert abs(off.mean()) < 5 and 1.5 < off.std() < 20, (off.mean(), off.std())
    # No stripe of the board is bare, across or down.
    differs = abs(grained - plain).max(axis=2) > 0
    for axis in (0, 1):
        lines = differs.sum(axis=axis)[board.sum(axis=axis) > 100] / board.sum(axis=axis)[board.sum(axis=axis) > 100]
        assert lines.min() > 0.3, lines.min()
    label = abs(plain - numpy.array(colour("#fdfbf6"))).max(axis=2) == 0
    assert label.sum() > 10_000 and not differs[label].any()
    assert made[material].notebook.stat().st_size - made["plain"].notebook.stat().st_size < 120_000
    (covers,) = (p for p in made[material].of_kind("covers") if "contents" in p.parts)
    assert share_of(drawn(covers, 2), "#5a7a66", within=0) > 0.6


PATTERNS = "dots stripes scales leaves gingham waves chevrons lattice twill arches hills blossoms stars rain terrazzo meadow sprays garland".split()


@pytest.mark.parametrize("size", ["240 x 180 mm", "A5", "90 x 195 mm", "Letter"])
def test_patterns_are_seen_and_no_check_has_anything_to_say_of_them(size, tmp_path):
    """A notebook with a cover of each: tone on tone, and the label stays blank."""
    variants = "".join(f'{pattern} = {{ notebook.cover.pattern = "{pattern}" }}\n' for pattern in PATTERNS)
    folder = product(tmp_path / "p", notebook='cover = { colour = "#5a7a66" }', more="\n[variants.pattern]\n" + variants)
    manifest = folder / "product.toml"
    text = "guide.wanted = false\npictures.usual = false\n" + manifest.read_text(encoding="utf-8").replace('size = "240 x 180 mm"', f'size = "{size}"')
    spread = size.startswith("240")
    manifest.write_text(text if spread else text.replace('layout = "spread"\ncoil = "middle"', 'layout = "single"'), encoding="utf-8")
    tool.build(folder, tmp_path / "d", "--strict")
    for pattern in PATTERNS:
        (book,) = (tmp_path / "d").glob(f"*/*/contents/{pattern}/*.pdf")
        cover = drawn(book, 1)
        ground, label = share_of(cover, "#5a7a66", within=0), share_of(cover, "#fdfbf6", within=0)
        assert 0.12 < ground < 0.95 and label > 0.03, (pattern, ground, label)
        height, width = cover.shape[:2]
        board = cover[height // 2 :, width // 8 : -width // 8].reshape(-1, 3)
        motif = board[abs(board - numpy.array(colour("#5a7a66"))).max(axis=1) > 0]
        assert len(motif) > 0.004 * len(board), (pattern, len(motif) / len(board))


def test_a_material_under_a_picture_is_told(tmp_path):
    Image.new("RGB", (1200, 900), "#807060").save(tmp_path / "cloth.png")
    folder = product(tmp_path / "p", notebook='cover = { texture = "cloth.png", material = "linen" }')
    (tmp_path / "cloth.png").rename(folder / "cloth.png")
    run = tool.sheafwright("build", folder, "--out", tmp_path / "d")
    assert run.returncode == 2 and "lies over all of its board" in run.stderr, run.stderr


def test_variants_can_differ_by_look(tmp_path):
    more = '\n[variants.colourway]\nsea = { style.look = "ferry" }\nsugar = { style.look = "marzipan" }\n'
    tool.build(product(tmp_path / "p", more=more), tmp_path / "d")
    books = sorted((tmp_path / "d").glob("*/*/contents/*/*.pdf"))
    sea, sugar = (next(p for p in books if p.parent.name == name and "guide" not in p.name) for name in ("sea", "sugar"))
    assert share_of(drawn(sea, 5), "#fbfcfc", 9) > 0.5 and share_of(drawn(sugar, 5), "#fffaf6") > 0.5


def test_tabs_of_months_have_the_colours_of_the_look(tmp_path):
    """The first month's tab is open on its page; the next ones are a touch nearer to the desk, so the page of each is looked at."""
    dated = '\n[[notebook.dated]]\npages = "month"\n[calendar]\nfirst = "2027-01"\nmonths = 4\n'
    bundle = tool.build(product(tmp_path / "p", 'look = "ferry"', more=dated), tmp_path / "d")
    look = tomllib.loads((tool.ROOT / "pipeline/manifest/looks/ferry.toml").read_text(encoding="utf-8"))
    texts = {n + 1: tool.page_text(bundle.notebook, n) for n in range(int(tool.pdfinfo(bundle.notebook)["Pages"]))}
    pages = {month: max(n for n, text in texts.items() if re.search(rf"^ *{month} +2027", text, re.M)) for month in ("January", "February", "March", "April")}
    for month, colour_ in zip(("January", "February", "March", "April"), look["sections"]):
        assert share_of(drawn(bundle.notebook, pages[month]), colour_) > 0.002, (month, pages)


def test_an_unknown_look_names_the_near_one(tmp_path):
    run = tool.sheafwright("build", product(tmp_path / "p", 'look = "fery"'), "--out", tmp_path / "d")
    assert run.returncode == 2
    assert 'there is no look "fery"' in run.stderr and "`ferry`" in run.stderr and "product.toml:13:8" in run.stderr


def own_look(tmp_path, edit):
    text = (tool.ROOT / "pipeline/manifest/looks/tally.toml").read_text(encoding="utf-8")
    folder = product(tmp_path / "p", 'look = "attic"')
    (folder / "looks").mkdir()
    (folder / "looks/attic.toml").write_text(edit(text), encoding="utf-8")
    return folder


def test_a_copy_in_the_product_is_a_look_of_its_own(tmp_path):
    folder = own_look(tmp_path, lambda text: text.replace('paper = "#f4f8ef"', 'paper = "#eeeeff"'))
    bundle = tool.build(folder, tmp_path / "d", "--strict")
    assert share_of(drawn(bundle.notebook, 5), "#eeeeff") > 0.5


@pytest.mark.parametrize(
    ("edit", "says"),
    [
        (lambda t: re.sub(r"(?m)^binding.*\n", "", t), r"looks/attic\.toml:\d+:\d+.*|the look says nothing of `binding`"),
        (lambda t: t.replace('tabs = "square"', 'tabs = "sqare"'), "square"),
        (lambda t: t.replace("Zilla Slab", "Zila Slab"), "no font"),
        (lambda t: 'look = "ferry"\n' + t, "rest on another look"),
    ],
)
def test_faults_of_a_look_file_are_told_at_their_place(edit, says, tmp_path):
    run = tool.sheafwright("build", own_look(tmp_path, edit), "--out", tmp_path / "d")
    assert run.returncode == 2, run.stdout
    assert re.search(says, run.stderr), run.stderr
    assert re.search(r"looks/attic\.toml:\d+:\d+", run.stderr), run.stderr


@pytest.mark.parametrize("pattern", ["dots", "stripes", "scales", "leaves", "gingham", "waves"])
def test_a_pattern_ends_at_the_board(pattern, tmp_path):
    """Nothing but the desk lies on the page's outermost pixels, on any side; and the sides that light comes from have no rim."""
    notebook = f'cover = {{ design = "patterned", pattern = "{pattern}", colour = "#2f5f46" }}'
    bundle = tool.build(product(tmp_path / "p", 'desk = "#e0ddd0"', notebook=notebook), tmp_path / "d")
    page = drawn(bundle.notebook, 1)
    # The last row and column of pixels are covered by the page in part only.
    page = page[:-1, :-1]
    edge = numpy.concatenate([page[:2].reshape(-1, 3), page[:, :2].reshape(-1, 3)])
    assert (edge == colour("#e0ddd0")).all()
    # Right and bottom: desk, or its shadow, never the board's colour.
    far = numpy.concatenate([page[-2:].reshape(-1, 3), page[:, -2:].reshape(-1, 3)])
    assert (far.min(axis=1) > 120).all()


@pytest.mark.parametrize("shape", ["rounded", "square", "arched", "scalloped", "slanted", "ribbon"])
def test_the_open_tab_joins_its_page_and_is_longer(shape, tmp_path):
    style = f'tabs = "{shape}"\npaper = "#ffffff"\ndesk = "#808080"\nsections = ["#ff0000", "#00ff00", "#0000ff"]'
    bundle = tool.build(product(tmp_path / "p", style), tmp_path / "d")
    dpi = 288
    page = drawn(bundle.notebook, 5, dpi)
    red = (page[:, :, 0] > 240) & (page[:, :, 1] < 40) & (page[:, :, 2] < 40)
    green = (page[:, :, 1] > 180) & (page[:, :, 0] < 140) & (page[:, :, 2] < 140)
    reach = [max(numpy.nonzero(found.any(axis=0))[0]) for found in (red, green)]
    assert (reach[0] - reach[1]) / dpi * 25.4 == pytest.approx(2.0, abs=0.25)
    # In the row through its upper third no pixel between paper and tab has any other colour.
    rows = numpy.nonzero(red.any(axis=1))[0]
    row = page[rows[len(rows) // 3]]
    first = numpy.nonzero(red[rows[len(rows) // 3]])[0][0]
    before = row[first - 3]
    assert (before > 250).all(), before


def test_margins_lie_away_from_the_writing_hand(tmp_path):
    """The margin line (common practice, no source) is left of the middle of its paper for the right hand, and right of it for the left."""
    for hand, left in (("right", True), ("left", False)):
        bundle = tool.build(product(tmp_path / hand, page=f'hand = "{hand}"'), tmp_path / f"{hand}-d")
        count = int(re.search(r"Pages:\s+(\d+)", tool.program("pdfinfo", bundle.notebook))[1])
        page = drawn(bundle.notebook, count)
        line = (page[:, :, 0] > 200) & (page[:, :, 1] < 120) & (page[:, :, 2] < 120)
        columns = numpy.nonzero(line.sum(axis=0) > page.shape[0] / 3)[0]
        share = columns[columns < page.shape[1] / 2] / (page.shape[1] / 2)
        assert len(share) and ((share < 0.5) == left).all(), (hand, share)


def test_one_long_name_costs_the_others_nothing(tmp_path):
    """Names beside a long one stand on their tabs in full, as large as without it; the long one is told."""
    long = '\n[[notebook.section]]\nname = "Correspondence and appointments of the whole household"\n'
    named = "\n".join(f'[[notebook.section]]\nname = "{n}"' for n in ("Shutters", "Hinges", "Curtains"))
    sizes = {}
    for what, more in (("short", named), ("long", named + long)):
        run = tool.sheafwright("build", product(tmp_path / what, more="\n" + more), "--out", tmp_path / f"{what}-d")
        assert run.returncode == 0, run.stderr
        (book,) = [p for p in (tmp_path / f"{what}-d").glob("*/*/contents/*.pdf") if "guide" not in p.name]
        words = tool.program("pdftotext", "-f", 5, "-l", 5, "-bbox", book, "-")
        boxes = re.findall(r'xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(Shutters|Hinges|Curtains)<', words)
        sizes[what] = {word: float(x1) - float(x0) for x0, _, x1, _, word in boxes}
        assert set(sizes[what]) == {"Shutters", "Hinges", "Curtains"}, words
        assert ("Correspondence and appointments" in run.stdout + run.stderr) == (what == "long")
    for word, size in sizes["long"].items():
        assert size >= sizes["short"][word] * 0.8


@pytest.mark.parametrize("page", ['size = "tablet-4x3"\norientation = "portrait"', 'size = "A4"\norientation = "landscape"', 'size = "75 x 162 mm"'])
@pytest.mark.parametrize("manner", ["full", "arch", "band", "frame", "disc"])
def test_no_line_of_a_divider_meets_its_words(manner, page, tmp_path):
    """Beside each word on a divider there is one colour alone from its top to its foot."""
    folder = product(tmp_path / "product", style=f'divider = "{manner}"')
    text = (folder / "product.toml").read_text(encoding="utf-8")
    text = text.replace('size = "240 x 180 mm"\nlayout = "spread"\ncoil = "middle"', f'{page}\nlayout = "single"\ncoil = "none"')
    inner = '[[notebook.section.section]]\nname = "Putty"\npages = [{ template = "lines", count = 2 }]\n\n[[notebook.section]]\nname = "Panes"'
    (folder / "product.toml").write_text(text.replace('[[notebook.section]]\nname = "Panes"', inner), encoding="utf-8")
    book = tool.build(folder, tmp_path / "dist").notebook
    found = set()
    pages = int(re.search(r"Pages:\s+(\d+)", tool.program("pdfinfo", book))[1])
    for number in range(1, pages + 1):
        boxes = tool.program("pdftotext", "-bbox", "-f", number, "-l", number, book, "-")
        words = re.findall(r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(Sills|Putty|Panes|Latches)<', boxes)
        # Those that are read along the page; labels of tabs are turned, and smaller where they are not.
        words = [(float(x), float(y), float(x2), float(y2), word) for x, y, x2, y2, word in words]
        words = [(y2 - y, x, y, y2, word) for x, y, x2, y2, word in words if y2 - y < x2 - x]
        if not words or max(words)[0] < 11 or ">Index<" in boxes:
            continue
        # The divider's own name; and below it that of the section that it lies within.
        own = max(words)
        pixels = numpy.asarray(drawn(book, number, 72)).astype(int)[..., :3]
        for tall, x, top, bottom, word in [own, *(w for w in words if (own[4], w[4]) == ("Putty", "Sills"))]:
            # From the capitals to the line that they stand on.
            strip = pixels[round(top + tall * 0.2) : round(bottom - tall * 0.35), round(x) - 9 : round(x) - 4]
            spread = int((strip.max(axis=(0, 1)) - strip.min(axis=(0, 1))).max())
            assert spread <= 8, f"{word} on page {number}: {spread}"
            found.add((own[4], word))
    assert found == {(n, n) for n in ("Sills", "Putty", "Panes", "Latches")} | {("Putty", "Sills")}


@pytest.mark.parametrize("style", ["", *(f'look = "{name}"' for name in LOOKS)])
def test_covers_of_which_nothing_is_said_make_a_family(style, tmp_path):
    """Each has another colour, and one whose colour is said keeps it."""
    names = ["Dawn", "Noon", "Dusk", "Night", "Rain", "Frost"]
    more = "".join(f'[[cover]]\nname = "{n}"\n' for n in names) + '[[cover]]\nname = "Said"\ncolour = "#345678"\n'
    bundle = tool.build(product(tmp_path / "p", style, more=more, top=ALONE), tmp_path / "d", "--strict")
    (path,) = (p for p in bundle.of_kind("covers") if "contents" in p.parts)
    pages = [drawn(path, n + 1, dpi=40) for n in range(len(names) + 2)]
    for n, page in enumerate(pages):
        for other in pages[:n]:
            assert abs(page - other).max(axis=2).mean() > 4
    assert share_of(pages[-1], "#345678", 60) > 0.2


@pytest.mark.parametrize("name", ["Lines", "Deck log", "Sounding chart"])
def test_pages_of_one_name_keep_their_numbers_in_the_list_of_a_divider(name, tmp_path):
    """However many there are: a name without its number would lead to any of them."""
    folder = product(tmp_path / "p", top=ALONE)
    text = (folder / "product.toml").read_text(encoding="utf-8").replace('pages = [{ template = "lines" }]', 'pages = [{ template = "lines", count = 44 }]')
    text = text.replace('name = "Lines"\nruling', f'name = "{name}"\nslug = "lines"\nruling')
    (folder / "product.toml").write_text(text + '[[lower]]\ncheck = "page-out-of-reach"\nreason = "leafed through"\n[[lower]]\ncheck = "page-only-swiped-to"\nreason = "leafed through"\n', encoding="utf-8")
    bundle = tool.build(folder, tmp_path / "d")
    assert "text-too-long" not in bundle.said, bundle.said
    words = " ".join(tool.page_text(bundle.notebook, 3).split())
    listed = [n for n in range(1, 45) if re.search(rf"{name} {n}\b", words) or re.search(rf"\b{n}\b", words)]
    assert len(listed) > 20 and re.search(r"\b\d+ more\b", words) or len(listed) == 44, words
