"""Variants: what is written once with choices is what is written out by hand, and every file of them is where it is said to
be. Read with pikepdf, qpdf, zipfile and pdfinfo."""

import hashlib
import io
import itertools
import json
import shutil
import zipfile
from dataclasses import replace

import numpy
import pikepdf
import pytest
from PIL import Image

import products
import tool
from products import Recipe, anchor_svg, buoy_png
from tool import program

STICKERS = """
[[sticker]]
file = "art/buoy.png"
longest = "20 mm"

[[sticker]]
motif = "star"
longest = "15 mm"
"""

COVERS = """
[[cover]]
name = "Lantern"
design = "flat"
colour = "#c9973f"
"""

MATRIX = """
[variants.colourway]
deep = { title = "Deep water", style = { accent = "#335577" } }
sand = { style = { accent = "#a8762a", desk = "#eadfca" }, notebook.cover.colour = "#a8762a" }

[variants.hand]
right = {}
left = { page.hand = "left" }

[[variants.skip]]
colourway = "sand"
hand = "left"
"""

PLAIN = Recipe(
    "Tide Hands",
    page='size = "A5"\norientation = "portrait"\nlayout = "single"',
    sections=["Tides", "Moorings", "Log"],
    section_pages={"Log": [("watch-list", 2)]},
    templates=[("Watch list", "checklist", "{}"), ("Tide week", "week", "{}"), ("Deck log", "lined", "{}")],
    more=COVERS + STICKERS,
    files={"art/buoy.png": buoy_png, "art/anchor.svg": anchor_svg},
)
VARIED = replace(PLAIN, more=COVERS + STICKERS + MATRIX)
NAMES = ["deep-right", "deep-left", "sand-right"]


@pytest.fixture(scope="module")
def varied(tmp_path_factory):
    folder = tmp_path_factory.mktemp("varied")
    return tool.build(VARIED.write(folder / "product"), folder / "dist")


def notebook(bundle, name):
    return bundle.folder / f"contents/{name}/tide-hands-{name}.pdf"


def test_every_cell_but_the_one_left_out_is_there(varied):
    assert [v["name"] for v in varied.record["variants"]] == NAMES
    assert varied.record["variants"][0]["title"] == "Deep water, Right"
    assert varied.record["variants"][1]["choices"] == [
        {"row": "colourway", "name": "deep", "title": "Deep water"},
        {"row": "hand", "name": "left", "title": "Left"},
    ]
    folders = {p.name for p in (varied.folder / "contents").iterdir() if p.is_dir()}
    assert folders == {*NAMES, "stickers", "sticker-sheets"} or folders == {*NAMES, "stickers"}
    for name in NAMES:
        program("qpdf", "--check", notebook(varied, name))


def test_what_differs_lies_with_its_variant_and_what_does_not_lies_once(varied):
    contents = varied.folder / "contents"
    loose = [p for p in contents.rglob("*") if p.is_file()]
    assert (contents / "stickers/01-buoy.png").is_file()
    assert [p.name for p in loose].count("01-buoy.png") == 1
    assert [p.name for p in loose].count("licence-terms.txt") == 1
    # The star takes the accent of its colourway, so it differs; where all variants have the same bytes, they lie once.
    by_name = {}
    for path in loose:
        name = path.name
        for variant in NAMES:
            name = name.replace(f"-{variant}.", ".")
        by_name.setdefault(name, []).append(path)
    for name, paths in by_name.items():
        digests = {hashlib.sha256(p.read_bytes()).hexdigest() for p in paths}
        assert len(paths) in (1, len(NAMES)), (name, paths)
        assert len(paths) == 1 or len(digests) > 1, f"{name} is the same in all variants and lies there {len(paths)} times"
    for file in varied.record["files"]:
        parts = file["path"].split("/")
        own = parts[1] if parts[0] == "contents" and parts[1] in NAMES else None
        assert file.get("variant") == own, file["path"]


WRITTEN_OUT = {
    "deep-right": ("", '[style]\naccent = "#335577"\n', ""),
    "deep-left": ('\nhand = "left"', '[style]\naccent = "#335577"\n', ""),
    "sand-right": (
        "",
        '[style]\naccent = "#a8762a"\ndesk = "#eadfca"\n',
        '[notebook.cover]\ncolour = "#a8762a"\n',
    ),
}


@pytest.mark.parametrize("name", NAMES)
def test_a_variant_is_what_one_would_write_out_by_hand(varied, tmp_path, name):
    page, style, cover = WRITTEN_OUT[name]
    recipe = replace(PLAIN, page=PLAIN.page + page, more=style + cover + PLAIN.more)
    alone = tool.build(recipe.write(tmp_path / "product"), tmp_path / "dist")
    assert alone.notebook.read_bytes() == notebook(varied, name).read_bytes()
    covers = varied.folder / f"contents/{name}/tide-hands-covers-{name}.pdf"
    assert (alone.folder / "contents/tide-hands-covers.pdf").read_bytes() == covers.read_bytes()


def areas(page, pdf):
    """Tap areas that lead to section dividers: left edge by the number of the target page."""
    numbers = {p.objgen: i for i, p in enumerate(pdf.pages)}
    return sorted((numbers[a.Dest[0].objgen], float(a.Rect[0]), float(a.Rect[2])) for a in page.Annots if "/Dest" in a)


def test_the_left_hand_has_its_tabs_on_the_other_side(varied):
    with pikepdf.open(notebook(varied, "deep-right")) as right, pikepdf.open(notebook(varied, "deep-left")) as left:
        width = float(right.pages[0].MediaBox[2])
        outline = [o.title for o in right.open_outline().root]
        assert outline == [o.title for o in left.open_outline().root]
        seen = 0
        for a, b in zip(right.pages[1:], left.pages[1:], strict=True):
            at_edge = lambda found: [t for t in found if t[1] < 24 or t[2] > width - 24]  # noqa: E731
            there, here = at_edge(areas(a, right)), at_edge(areas(b, left))
            mirrored = sorted((n, round(width - r, 1), round(width - l, 1)) for n, l, r in there)
            assert mirrored == [(n, round(l, 1), round(r, 1)) for n, l, r in here]
            seen += len(here)
        assert seen >= 3 * (len(left.pages) - 1)


def test_all_of_it_is_uploaded_and_no_more(varied):
    record = {f["sha256"] for f in varied.record["files"] if f["path"].startswith("contents/")}
    sent = set()
    for upload in (varied.folder / "upload").iterdir():
        if upload.suffix == ".zip":
            with zipfile.ZipFile(upload) as archive:
                sent |= {hashlib.sha256(archive.read(n)).hexdigest() for n in archive.namelist()}
        else:
            sent.add(hashlib.sha256(upload.read_bytes()).hexdigest())
    assert sent == record


def test_what_lies_bare_lies_bare_for_every_variant(varied):
    names = {p.name for p in (varied.folder / "upload").iterdir()}
    bare = {f"tide-hands-{n}.pdf" for n in NAMES}
    assert bare <= names or not bare & names


def test_one_slot_takes_all_variants(tmp_path):
    recipe = replace(VARIED, more=VARIED.more + "\n[limits]\nfiles = 1\n")
    bundle = tool.build(recipe.write(tmp_path / "product"), tmp_path / "dist")
    (upload,) = (bundle.folder / "upload").iterdir()
    with zipfile.ZipFile(upload) as archive:
        assert {n.split("/")[0] for n in archive.namelist() if "/" in n} >= set(NAMES)


def test_variants_that_do_not_fit_together_get_archives_of_their_own(tmp_path):
    """Each variant holds a cover of noise that cannot be packed smaller."""
    def noise(seed):
        def make():
            out = io.BytesIO()
            pixels = numpy.random.default_rng(seed).integers(0, 255, (420, 300, 3), dtype=numpy.uint8)
            Image.fromarray(pixels).save(out, "JPEG", quality=92)
            return out.getvalue()

        return make

    choices = "".join(
        f'{n} = {{ notebook.cover = {{ design = "texture", texture = "art/{n}.jpg" }} }}\n' for n in ("ebb", "flow", "slack")
    )
    recipe = Recipe(
        "Three Tides",
        page=PLAIN.page,
        sections=["Log"],
        templates=[("Deck log", "lined", "{}")],
        more=f"[variants.tide]\n{choices}\n[limits]\nfiles = 4\nmegabytes = 0.6\n",
        files={f"art/{n}.jpg": noise(i) for i, n in enumerate(("ebb", "flow", "slack"))},
    )
    bundle = tool.build(recipe.write(tmp_path / "product"), tmp_path / "dist")
    uploads = sorted((bundle.folder / "upload").iterdir())
    assert len(uploads) <= 4 and all(p.stat().st_size <= 600_000 for p in uploads)
    for upload in (p for p in uploads if p.suffix == ".zip"):
        with zipfile.ZipFile(upload) as archive:
            folders = {n.split("/")[0] for n in archive.namelist() if "/" in n}
        assert len(folders) <= 1, "an archive of two variants, where each fits into one"


def test_the_description_tells_of_every_variant_and_is_true(varied, tmp_path):
    text = (varied.folder / "listing/description.md").read_text(encoding="utf-8")
    pages = {n: int(program("pdfinfo", notebook(varied, n)).split("Pages:")[1].split()[0]) for n in NAMES}
    assert len(set(pages.values())) == 1
    assert f"notebook in 3 variants**, each of {pages['deep-right']} pages" in text
    for name in NAMES:
        assert f"`{name}/tide-hands-{name}.pdf`" in text
    assert "2 stickers" in text
    checked = tool.sheafwright("check", varied.folder, "--json")
    assert json.loads(checked.stdout)["errors"] == 0, checked.stdout
    # A number that no variant has is found.
    copy = tmp_path / "copy"
    shutil.copytree(varied.folder, copy)
    listing = copy / "listing/description.md"
    listing.write_text(text.replace("2 stickers", "5 stickers"), encoding="utf-8")
    found = json.loads(tool.sheafwright("check", copy, "--json").stdout)["findings"]
    assert any(f["check"] == "claim-wrong" and "5 stickers" in f["message"] for f in found)


def test_sizes_of_page_and_number_of_pages_may_differ(tmp_path):
    more = """
[variants.size]
a5 = { title = "A5" }
a6 = { title = "A6", page.size = "A6" }
long = { title = "A5, more pages", notebook.section.3 = { pages = [{ template = "deck-log", count = 4 }] } }
"""
    bundle = tool.build(replace(PLAIN, more=COVERS + more).write(tmp_path / "product"), tmp_path / "dist")
    text = (bundle.folder / "listing/description.md").read_text(encoding="utf-8")
    for name in ("a5", "a6", "long"):
        info = program("pdfinfo", notebook(bundle, name))
        pages, size = (info.split(key)[1].split("\n")[0].strip() for key in ("Pages:", "Page size:"))
        with pikepdf.open(notebook(bundle, name)) as pdf:
            box = [float(v) for v in pdf.pages[0].MediaBox]
        mm = [round(v / 72 * 25.4) for v in box[2:]]
        # ISO 216: A5 is 148 × 210 mm, A6 is 105 × 148 mm.
        assert mm == ([105, 148] if name == "a6" else [148, 210]), size
        (line,) = [row for row in text.split("\n") if f"tide-hands-{name}.pdf`" in row and row.startswith("  - ")]
        assert f"{pages} pages" in line and f"{mm[0]} × {mm[1]} mm" in line


def test_a_sticker_that_two_of_three_variants_share_is_no_mistake(varied):
    """The star has the accent of its colourway: the same for both hands of one, another in the other."""
    stars = [hashlib.sha256((varied.folder / f"contents/{n}/stickers/02-star.png").read_bytes()).digest() for n in NAMES]
    assert stars[0] == stars[1] != stars[2]
    assert "pictures-alike" not in varied.said, varied.said


def test_builds_with_variants_repeat_byte_for_byte(tmp_path, varied):
    again = tool.build(VARIED.write(tmp_path / "product"), tmp_path / "dist", "--jobs", "1")
    assert tool.tree(again.folder) == tool.tree(varied.folder)


def test_the_week_begins_where_the_variant_says(tmp_path):
    more = '\n[variants.week]\nmonday = {}\nsunday = { notebook.first-day = "sunday" }\n'
    bundle = tool.build(replace(PLAIN, more=more).write(tmp_path / "product"), tmp_path / "dist")
    firsts = {}
    for name in ("monday", "sunday"):
        text = program("pdftotext", "-layout", notebook(bundle, name), "-")
        days = [w for w in text.split() if w in ("Monday", "Sunday", "Saturday")]
        firsts[name] = days[0]
    assert firsts == {"monday": "Monday", "sunday": "Sunday"}


def test_diff_names_the_variant_that_changed(varied, tmp_path):
    changed = VARIED.more.replace("#a8762a", "#8a5a20").replace('"1.0.0"', '"1.0.1"')
    recipe = replace(VARIED, more=changed)
    new = tool.build(recipe.write(tmp_path / "product"), tmp_path / "dist")
    run = tool.sheafwright("diff", varied.folder, new.folder, "--json")
    assert run.returncode == 1
    paths = {d["path"] for d in json.loads(run.stdout)["differences"] if d["path"].startswith("contents/")}
    assert any("sand-right" in p for p in paths)
    assert not any("deep-" in p for p in paths), paths


@pytest.mark.parametrize("rows", list(itertools.product((1, 2, 3), repeat=2)))
def test_names_and_order_follow_the_rows(tmp_path, rows):
    """The last row changes fastest, as digits do."""
    # Each row has a key of its own: where one writes over the other, its choices change nothing, which is an error.
    keys = ["style.accent", "notebook.cover.colour"]
    text = "".join(
        f"[variants.row{r}]\n" + "".join(f'r{r}c{c} = {{ {keys[r]} = "#3{r}5{c}77" }}\n' for c in range(n))
        for r, n in enumerate(rows)
    )
    recipe = Recipe("Rows", page=PLAIN.page, sections=["Log"], templates=[("Deck log", "lined", "{}")], more=text)
    bundle = tool.build(recipe.write(tmp_path / "product"), tmp_path / "dist")
    want = ["-".join(f"r{r}c{c}" for r, c in enumerate(pick)) for pick in itertools.product(*(range(n) for n in rows))]
    assert [v["name"] for v in bundle.record["variants"]] == want


BESIDE = '\n[[picture]]\nlayout = "colourways"\nsize = "900 x 675"\n'


def colour_at(picture, x, y):
    w, h = picture.size
    patch = picture.crop((int(x * w) - 6, int(y * h) - 6, int(x * w) + 6, int(y * h) + 6))
    return numpy.asarray(patch, dtype=float).reshape(-1, 3).mean(axis=0)


def test_variants_stand_beside_each_other_on_a_listing_picture(tmp_path):
    """Each book has the colour of its own cover: nearer to it than to any other, in the order of the variants."""
    colours = {"slate": (60, 90, 140), "plum": (130, 60, 120), "fern": (70, 130, 70)}
    choices = "".join(
        f'{n} = {{ notebook.cover = {{ design = "flat", label = false, colour = "#{r:02x}{g:02x}{b:02x}" }} }}\n'
        for n, (r, g, b) in colours.items()
    )
    hands = '[variants.hand]\nright = {}\nleft = { page.hand = "left" }\n'
    recipe = replace(PLAIN, more=f"[variants.colourway]\n{choices}{hands}{BESIDE}")
    bundle = tool.build(recipe.write(tmp_path / "product"), tmp_path / "dist")
    (path,) = (bundle.folder / "listing/pictures").iterdir()
    picture = Image.open(path).convert("RGB")
    assert picture.size == (900, 675)
    # Six variants, of which three look different: three books in a row.
    for i, name in enumerate(colours):
        seen = colour_at(picture, (i + 0.5) / 3, 0.6)
        far = {n: numpy.abs(seen - numpy.array(c)).sum() for n, c in colours.items()}
        assert min(far, key=far.get) == name and far[name] < 60, (name, far)
    before = path.read_bytes()
    # A change of the last variant alone takes the picture anew; going back gives the first one again.
    (recipe.write(tmp_path / "product") / "product.toml").write_text(recipe.manifest().replace("#468246", "#b04030"))
    again = tool.build(tmp_path / "product", tmp_path / "dist")
    seen = colour_at(Image.open(path).convert("RGB"), 2.5 / 3, 0.6)
    assert numpy.abs(seen - numpy.array((176, 64, 48))).sum() < 60, seen
    assert again.folder == bundle.folder
    tool.build(recipe.write(tmp_path / "product"), tmp_path / "dist")
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (BESIDE, "has nothing to show"),
        ('\n[variants.week]\na = {}\nb = { notebook.first-day = "sunday" }\n' + BESIDE, "look alike from outside"),
    ],
)
def test_a_picture_of_variants_needs_some_that_look_different(tmp_path, more, says):
    recipe = replace(PLAIN, more=more)
    run = tool.sheafwright("build", recipe.write(tmp_path / "product"), "--out", tmp_path / "dist")
    assert run.returncode == 2 and says in run.stderr
    line = recipe.manifest().split("\n").index('layout = "colourways"') + 1
    assert f"product.toml:{line}:10:" in run.stderr, run.stderr


def test_the_usual_pictures_leave_out_what_shows_nothing(tmp_path):
    usual = '\n[pictures]\nusual = true\nsize = "600 x 450"\n'
    for row, there in (('a = {}\nb = { notebook.first-day = "sunday" }', False), ("a = {}\nb = { style.accent = \"#a8762a\" }", True)):
        folder = tmp_path / str(there)
        recipe = replace(PLAIN, more=f"\n[variants.kind]\n{row}\n{usual}")
        bundle = tool.build(recipe.write(folder / "product"), folder / "dist")
        names = [p.stem for p in (bundle.folder / "listing/pictures").iterdir()]
        assert any("colourways" in n for n in names) == there, names
