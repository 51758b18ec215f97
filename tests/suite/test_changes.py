"""What changed, held against other people's tools: random edits by pikepdf, alignment by difflib, pixels by poppler and
Pillow, storage by qpdf and mutool, the schema by jsonschema."""

import difflib
import json
import random
import re

import pikepdf
import pytest
from jsonschema import Draft202012Validator
from PIL import Image, ImageChops, ImageDraw

import pairs
import tool

MIRROR = {"page-inserted": "page-removed", "file-added": "file-removed", "link-added": "link-removed"}
MIRROR |= {b: a for a, b in MIRROR.items()}
SCHEMA = Draft202012Validator(json.loads((tool.ROOT / "pipeline/cli/changes.schema.json").read_text(encoding="utf-8")))


def diff(old, new, *more, code=None):
    run = tool.sheafwright("diff", old, new, "--json", *more)
    assert run.returncode in (0, 1), run.stderr
    report = json.loads(run.stdout)
    assert [e.message for e in SCHEMA.iter_errors(report)] == []
    assert report["same"] == (run.returncode == 0) and (code is None or code == run.returncode)
    return report


def found(report):
    return sorted((d["kind"], d["page_old"], d["page_new"]) for d in report["differences"])


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    return pairs.notebook(tmp_path_factory.mktemp("book") / "notebook.pdf", pages=30)


def edits(dice, extra):
    """Random edits of a notebook of 30 pages, and what must be found: the kinds of change with their pages.

    Every edit keeps to a page of its own. Page 1 is left alone: it links to all others. Pages that others are put in
    front of or taken from only change their numbers, which is no change. The last pages are left alone as well: of two
    neighbours that change places nobody can say which one moved.
    """
    pages = dice.sample(range(1, 27), 8)
    (gone, moved), new = sorted(pages[:2]), dice.randrange(2, 28)
    turned, aimed, unlinked, linked, redrawn, _ = pages[2:]

    def edit(pdf):
        page = list(pdf.pages)
        page[turned].rotate(180, relative=True)
        page[aimed].Annots[0].Dest[0] = page[unlinked].obj
        del page[unlinked].Annots[0]
        area = {"/Type": "/Annot", "/Subtype": "/Link", "/Rect": [700, 10, 760, 60], "/Border": [0, 0, 0]}
        link = pikepdf.Dictionary(**{k.lstrip("/"): pikepdf.Name(v) if isinstance(v, str) else v for k, v in area.items()})
        link.A = pikepdf.Dictionary(S=pikepdf.Name.URI, URI="https://beds.example/")
        page[linked].Annots.append(link)
        page[redrawn].contents_add(b"q 0.8 0.2 0.2 rg 300 300 120 80 re f Q")
        order = [i for i in range(30) if i not in (gone, moved)]
        order.append(moved)
        while len(pdf.pages):
            del pdf.pages[0]
        for i in order:
            pdf.pages.append(page[i])
        with pikepdf.open(extra) as other:
            del other.pages[0].Annots
            pdf.pages.insert(new, other.pages[0])
        edit.order = order[:new] + [None] + order[new:]

    def expected():
        place = {old: i for i, old in enumerate(edit.order)}
        at = lambda i: (i + 1, place[i] + 1)  # noqa: E731
        must = {
            ("page-removed", gone + 1, None),
            ("page-inserted", None, new + 1),
            ("page-redrawn", *at(turned)),
            ("link-retargeted", *at(aimed)),
            ("link-removed", *at(unlinked)),
            ("link-added", *at(linked)),
            ("page-redrawn", *at(redrawn)),
            # The index led to the page that is gone.
            ("link-retargeted", *at(0)),
        }
        must.add(("page-moved", *at(moved)))
        return must

    return edit, expected


@pytest.mark.parametrize("seed", range(12))
def test_random_edits_are_all_found_and_nothing_else(book, tmp_path, seed):
    extra = pairs.notebook(tmp_path / "extra.pdf", pages=1, words={1: "A page for the compost heap"})
    edit, expected = edits(random.Random(seed), extra)
    new = pairs.edited(book, tmp_path / "new.pdf", edit)
    there = diff(book, new, code=1)
    # The outline lost its entry of the page that is gone; that is a property of the file and has no page.
    assert {f for f in found(there) if f[0] != "metadata-changed"} == expected()
    back = diff(new, book, code=1)
    mirrored = sorted((MIRROR.get(kind, kind), b or 0, a or 0) for kind, a, b in found(back))
    assert mirrored == sorted((kind, a or 0, b or 0) for kind, a, b in found(there))
    assert diff(new, new, code=0)["differences"] == []


@pytest.mark.parametrize("seed", range(3))
def test_large_shuffles_against_difflib(tmp_path, seed):
    """Each page is found again, and no more are said to have moved than Python's difflib leaves unmatched."""
    dice = random.Random(seed)
    pages = 300
    old = pairs.notebook(tmp_path / "old.pdf", pages=pages)
    order = list(range(pages))
    for _ in range(40):
        page = order.pop(dice.randrange(pages - 1))
        order.insert(dice.randrange(pages - 1), page)
    order = [p for p in order if p % 50 != 49]

    def shuffle(pdf):
        page = list(pdf.pages)
        while len(pdf.pages):
            del pdf.pages[0]
        for i in order:
            pdf.pages.append(page[i])

    report = diff(old, pairs.edited(old, tmp_path / "new.pdf", shuffle))
    moved = {(d["page_old"] - 1, d["page_new"] - 1) for d in report["differences"] if d["kind"] == "page-moved"}
    removed = {d["page_old"] - 1 for d in report["differences"] if d["kind"] == "page-removed"}
    assert removed == {p for p in range(pages) if p % 50 == 49}
    assert all(order[new] == before for before, new in moved)
    kept = [p for p in range(pages) if p not in removed]
    blocks = difflib.SequenceMatcher(None, kept, order, autojunk=False).get_matching_blocks()
    assert 0 < len(moved) <= len(order) - sum(b.size for b in blocks)
    # What is said to have stayed did stay in order.
    still = [p for p in order if p not in {before for before, _ in moved}]
    assert still == sorted(still)
    assert not {"page-inserted", "page-redrawn"} & {d["kind"] for d in report["differences"]}


@pytest.mark.parametrize("box", [(100, 120, 220, 200), (10, 10, 14, 13), (400, 300, 800, 640)])
def test_pixels_against_poppler(book, tmp_path, box):
    left, bottom, right, top = box
    draw = f"q 0.1 0.5 0.3 rg {left} {bottom} {right - left} {top - bottom} re f Q".encode()
    new = pairs.edited(book, tmp_path / "new.pdf", lambda pdf: pdf.pages[4].contents_add(draw))
    report = diff(book, new)
    assert found(report) == [("page-redrawn", 5, 5)]
    sides = []
    for name, path in (("old", book), ("new", new)):
        tool.program("pdftoppm", "-r", 72, "-f", 5, "-l", 5, "-png", "-singlefile", path, tmp_path / name)
        sides.append(Image.open(tmp_path / f"{name}.png").convert("RGB"))
    difference = ImageChops.difference(*sides).convert("L").point(lambda v: 255 if v > 8 else 0)
    x0, y0, x1, y1 = difference.getbbox()
    boxes = report["differences"][0]["boxes"]
    ours = (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[0] + b[2] for b in boxes),
        max(b[1] + b[3] for b in boxes),
    )
    assert all(abs(a - b) <= 2 for a, b in zip(ours, (x0, y0, x1, y1))), (ours, (x0, y0, x1, y1))
    share = 100 * difference.histogram()[255] / (difference.width * difference.height)
    said = report["differences"][0]["message"].split(" % of the page")[0]
    assert (share < 0.12) if said.startswith("less") else abs(float(said) - share) < 1


def test_boxes_stand_about_each_group(book, tmp_path):
    draw = b"q 0 0 1 rg 60 60 40 30 re f 700 600 50 40 re f Q"
    report = diff(book, pairs.edited(book, tmp_path / "new.pdf", lambda pdf: pdf.pages[2].contents_add(draw)))
    assert len(report["differences"][0]["boxes"]) == 2


def mutool(source, target):
    # No more of g: from the third on it makes one object of pages that are alike, and links lose their page.
    tool.program("mutool", "clean", "-gg", "-z", source, target)
    return target


@pytest.mark.parametrize("store", [pairs.recompressed, pairs.plain, mutool])
def test_other_storage_looks_the_same(full, tmp_path, store):
    new = store(full.notebook, tmp_path / full.notebook.name)
    report = diff(full.notebook, new, code=1)
    assert {d["kind"] for d in report["differences"]} == {"stored-differently"}
    assert "looks the same" in report["differences"][0]["message"]
    sizes = [f"{p.stat().st_size} bytes" for p in (full.notebook, new)]
    assert report["differences"][0]["message"].count("bytes") >= 1 and sizes[0] in report["differences"][0]["message"]
    assert not report["download_again"] and report["verdict"] == "patch"
    assert report["checks"]["new"] == [] or all(t["severity"] != "error" for t in report["checks"]["new"])


def test_pictures_against_pillow(tmp_path):
    def picture(change=None, dpi=300):
        image = Image.new("RGBA", (200, 150), (0, 0, 0, 0))
        pen = ImageDraw.Draw(image)
        pen.ellipse((20, 20, 180, 130), fill=(90, 140, 80, 255))
        if change:
            change(pen)
        path = tmp_path / f"{len(list(tmp_path.iterdir()))}.png"
        image.save(path, dpi=(dpi, dpi))
        return path, image

    old, before = picture()
    for change in (
        lambda pen: pen.rectangle((50, 60, 89, 79), fill=(255, 255, 255, 255)),
        lambda pen: pen.point((100, 70), fill=(90, 140, 82, 255)),
        lambda pen: pen.rectangle((0, 0, 9, 9), fill=(0, 0, 0, 40)),
    ):
        new, after = picture(change)
        (only,) = diff(old, new)["differences"]
        # Pillow leaves alpha out of the box of RGBA unless told.
        x0, y0, x1, y1 = ImageChops.difference(before, after).getbbox(alpha_only=False)
        assert only["kind"] == "image-changed" and only["boxes"] == [[x0, y0, x1 - x0, y1 - y0]]
        changed = sum(a != b for a, b in zip(before.get_flattened_data(), after.get_flattened_data()))
        assert only["message"].startswith(f"{changed} of 30000 pixels changed")
    # From black to white CIEDE2000 is 100, the range of lightness (CIE 15).
    black, white = tmp_path / "black.png", tmp_path / "white.png"
    Image.new("RGB", (8, 8), "black").save(black)
    Image.new("RGB", (8, 8), "white").save(white)
    assert "CIEDE2000 100.0 at most, 100.0 on average" in diff(black, white)["differences"][0]["message"]
    # Another resolution changes no pixel.
    (only,) = diff(old, picture(dpi=150)[0])["differences"]
    assert only["kind"] == "metadata-changed" and only["message"] == "it stated 300 dpi and states 150 dpi"
    # Colour under full transparency is never seen.
    hidden = before.copy()
    hidden.putpixel((0, 0), (200, 0, 0, 0))
    hidden.save(tmp_path / "hidden.png", dpi=(300, 300))
    (only,) = diff(old, tmp_path / "hidden.png")["differences"]
    assert only["kind"] == "stored-differently"


def test_findings_mended_and_new(book, tmp_path):
    def spoil(pdf):
        link = pdf.pages[3].Annots[0]
        link.Dest = pikepdf.Array([pdf.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.Page)), pikepdf.Name.Fit])

    new = pairs.edited(book, tmp_path / "new.pdf", spoil)
    worse = diff(book, new)["checks"]
    assert "link-to-nowhere" in {t["check"] for t in worse["new"]}
    assert "link-to-nowhere" in {t["check"] for t in diff(new, book)["checks"]["mended"]}


@pytest.fixture(scope="module")
def versions(tmp_path_factory):
    """A product in two versions: another section page, another word."""
    import products

    recipe = products.LAYOUTS["one-section"]
    folder = tmp_path_factory.mktemp("versions")
    product, dist = recipe.write(folder / "product"), folder / "dist"
    first = tool.build(product, dist).folder
    manifest = (product / "product.toml") if product.is_dir() else product
    text = manifest.read_text(encoding="utf-8")
    text = text.replace('version = "1.0.0"', 'version = "1.1.0"')
    manifest.write_text(text.replace('name = "Everything"', 'name = "All things"'), encoding="utf-8")
    run = tool.sheafwright("build", product, "--out", dist)
    assert run.returncode == 0, run.stderr
    return first, first.parent / "1.1.0", product, dist, manifest


def test_numbers_and_language(versions):
    report = diff(versions[0], versions[1])
    assert report["numbers"]["old"] == "1.0.0" and report["numbers"]["new"] == "1.1.0"
    assert report["numbers"]["enough"] == (report["verdict"] != "major")
    assert report["language"].startswith("en")


def test_the_note_goes_into_the_list_of_changes_once(versions, tmp_path):
    old, new, *_ = versions
    run = tool.sheafwright("diff", old, new, "--note", "--changes", tmp_path)
    assert run.returncode == 1 and run.stdout.startswith("# What is new in ")
    text = (tmp_path / "CHANGES.md").read_text(encoding="utf-8")
    assert text.startswith("# Changes\n\n## 1.1.0 (2027-03-01)\n")
    mine = text.replace("Please download", "Do download")
    (tmp_path / "CHANGES.md").write_text(mine, encoding="utf-8")
    again = tool.sheafwright("diff", old, new, "--changes", tmp_path)
    assert "stays as it is" in again.stderr
    assert (tmp_path / "CHANGES.md").read_text(encoding="utf-8") == mine


@pytest.mark.parametrize("language, title, warns", [("de-DE", "# Was ist neu", False), ("fi", "# What is new", True)])
def test_the_note_speaks_the_products_language(book, tmp_path, language, title, warns):
    def speak(pdf):
        pdf.Root.Lang = language

    old = pairs.edited(book, tmp_path / "old.pdf", speak)
    new = pairs.edited(old, tmp_path / "new.pdf", lambda pdf: pdf.pages.__delitem__(6))
    run = tool.sheafwright("diff", old, new, "--note")
    assert run.stdout.startswith(title) and (f"“{language}”" in run.stderr) == warns
    if not warns:
        assert "Eine Seite entfällt" in run.stdout


def test_a_build_says_what_changed_and_guards_what_is_issued(versions):
    *_, product, dist, manifest = versions
    text = manifest.read_text(encoding="utf-8")
    manifest.write_text(text.replace('name = "All things"', 'name = "All of it"'), encoding="utf-8")
    run = tool.sheafwright("build", product, "--out", dist)
    assert run.returncode == 0 and re.search(r"since the last build: .*page", run.stdout), run.stdout
    quiet = tool.sheafwright("build", product, "--out", dist)
    assert "since the last build" not in quiet.stdout
    text = manifest.read_text(encoding="utf-8").replace('name = "All of it"', 'name = "Other"')
    manifest.write_text(text.replace('version = "1.1.0"', 'version = "1.1.0"\nissued = true'), encoding="utf-8")
    guarded = tool.sheafwright("build", product, "--out", dist)
    assert guarded.returncode == 2
    assert "was released" in guarded.stderr and ", page " in guarded.stderr and "or higher" in guarded.stderr
