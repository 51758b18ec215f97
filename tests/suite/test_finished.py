"""A notebook that comes as a finished PDF: what was in it stays, what is laid over it is where it should be.

Files are written by reportlab, pikepdf (libqpdf), qpdf, pypdf and mutool, and read back by pikepdf and poppler. How a page
is seen (crop box, clockwise turn, unit) follows ISO 32000-1, 7.7.3.3 and 14.11.2; it is reckoned here anew.
"""

import io
import re

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Name
from PIL import Image

import finished
from finished import FOREIGN, PAGES, TABS, Finished, planner, reworked
from tool import build, program, sheafwright

LAID = (
    """\
[notebook.places]
index = 2
[notebook.tabs]
pages = "2-"
"""
    + TABS
    + """\
[[notebook.link]]
pages = "3-"
to = "index"
at = [10, "5 mm", "20 %", "12 %"]
[[notebook.link]]
pages = [1, 3]
to = "https://tarn-and-tide.example/more"
at = ["50 %", "10 %", "72 pt", "36 pt"]
says = "More tides"
[[notebook.outline]]
title = "Appendix"
page = 12
entries = [{ title = "Tables", page = 4 }]
[[notebook.labels]]
style = "roman"
[[notebook.labels]]
from = 3
prefix = "H-"
"""
)
STARTS = [2, 5, 8]
DPI = 50


def attribute(page, key):
    """An entry of a page, its own or an inherited one."""
    node = page.obj if hasattr(page, "obj") else page
    while node is not None:
        if key in node:
            return node[key]
        node = node.get("/Parent")
    return None


class Seen:
    """A page as a reader shows it."""

    def __init__(self, page):
        box = [float(v) for v in attribute(page, "/MediaBox")]
        media = [min(box[0], box[2]), min(box[1], box[3]), max(box[0], box[2]), max(box[1], box[3])]
        crop = [float(v) for v in attribute(page, "/CropBox") or media]
        self.box = [max(media[0], crop[0]), max(media[1], crop[1]), min(media[2], crop[2]), min(media[3], crop[3])]
        self.turn = int(attribute(page, "/Rotate") or 0) % 360
        self.unit = float(page.obj.get("/UserUnit", 1))
        wide, high = self.box[2] - self.box[0], self.box[3] - self.box[1]
        self.size = tuple(v * self.unit for v in ((high, wide) if self.turn % 180 else (wide, high)))

    def rect(self, rect):
        """A rectangle of the page's own space: left, top, right, bottom from the top left of what is seen."""
        x0, y0, x1, y1 = self.box
        corners = []
        for x, y in ((float(rect[0]), float(rect[1])), (float(rect[2]), float(rect[3]))):
            left, right, below, above = x - x0, x1 - x, y - y0, y1 - y
            # Turned clockwise by a quarter, the left edge of the page becomes its top.
            corners.append({0: (left, above), 90: (below, left), 180: (right, below), 270: (above, right)}[self.turn])
        (ax, ay), (bx, by) = corners
        return tuple(v * self.unit for v in (min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)))


def names(pdf):
    """Named destinations, from the old dictionary and from the name tree."""
    table = {str(k)[1:]: v for k, v in (pdf.Root.get("/Dests") or {}).items()}
    if "/Names" in pdf.Root and "/Dests" in pdf.Root.Names:
        table |= {k: v for k, v in pikepdf.NameTree(pdf.Root.Names.Dests).items()}
    return table


def goal(pdf, link):
    """Where a link leads: a page from 0, or an address."""
    action = link.get("/A")
    if action is not None and action.S == Name.URI:
        return str(action.URI)
    dest = link.get("/Dest") if "/Dest" in link else action.D
    if not isinstance(dest, Array):
        dest = names(pdf)[str(dest).lstrip("/")]
        dest = dest.D if isinstance(dest, pikepdf.Dictionary) else dest
    (page,) = [n for n, p in enumerate(pdf.pages) if p.obj.objgen == dest[0].objgen]
    return page


def links(pdf, page):
    return [(Seen(page).rect(a.Rect), goal(pdf, a)) for a in page.obj.get("/Annots", [])]


def titles(pdf):
    def walk(items):
        return [(str(i.title), walk(i.children)) for i in items]

    with pdf.open_outline() as outline:
        return walk(outline.root)


def pictures(path, folder, dpi=DPI):
    """Every page as poppler shows it."""
    folder.mkdir()
    program("pdftoppm", "-r", dpi, "-cropbox", "-png", path, folder / "page")
    return [np.asarray(Image.open(p).convert("RGB")).astype(int) for p in sorted(folder.glob("*.png"))]


def product(tmp_path, data, more="", **keys):
    return build(Finished("harbour", data, more, **keys).write(tmp_path / "product"), tmp_path / "dist")


def refused(tmp_path, data, more="", **keys):
    """What is said of a product that cannot be built."""
    folder = Finished("harbour", data, more, **keys).write(tmp_path / "product")
    run = sheafwright("build", folder, "--out", tmp_path / "dist")
    assert run.returncode != 0, run.stdout
    assert "panicked" not in run.stderr
    assert not list((tmp_path / "dist").glob("harbour*"))
    return run.stderr


@pytest.mark.parametrize("kind", FOREIGN)
def test_nothing_laid_over_it_every_byte_stays(kind, tmp_path):
    data = FOREIGN[kind](tmp_path)
    bundle = product(tmp_path, data)
    assert bundle.notebook.read_bytes() == data
    (entry,) = [f for f in bundle.record["files"] if f["kind"] == "notebook"]
    assert entry["from"]["unchanged"] and entry["from"]["path"] == "exports/notebook.pdf"
    assert entry["from"]["facts"]["pages"] == PAGES
    assert "byte for byte" in bundle.said


@pytest.mark.parametrize("how", ["appended", "rewritten"])
@pytest.mark.parametrize("kind", FOREIGN)
def test_laid_over(kind, how, tmp_path):
    data = FOREIGN[kind](tmp_path)
    bundle = product(tmp_path, data, ("rewrite = true\n" if how == "rewritten" else "") + LAID)
    path = bundle.notebook
    if how == "appended":
        assert path.read_bytes().startswith(data)
    check = program("qpdf", "--check", path)
    assert "WARNING" not in check
    (tmp_path / "before.pdf").write_bytes(data)
    with pikepdf.open(io.BytesIO(data)) as was, pikepdf.open(path) as now:
        assert len(now.pages) == PAGES
        for n, (old, new) in enumerate(zip(was.pages, now.pages)):
            before, after = links(was, old), links(now, new)
            assert after[: len(before)] == before
            laid(n, Seen(new), after[len(before) :])
        assert titles(now) == titles(was) + [("Appendix", [("Tables", [])])]
        with now.open_outline() as outline:
            goals = [outline.root[-1].destination, outline.root[-1].children[0].destination]
            assert [g[0].objgen for g in goals] == [now.pages[i].obj.objgen for i in (11, 3)]
        assert [p.label for p in now.pages] == ["i", "ii", *[f"H-{n}" for n in range(1, PAGES - 1)]]
        seen = [Seen(p) for p in now.pages]
        assert str(now.Root.Lang) == "en-GB" and str(now.docinfo["/Title"]) == "Harbour Year"
    old, new = pictures(tmp_path / "before.pdf", tmp_path / "a"), pictures(path, tmp_path / "b")
    for n, (a, b) in enumerate(zip(old, new)):
        # The tabs hang on the right, 7 to 11 mm deep; poppler draws user units as points.
        strip = int((11 / 25.4 * 72 + 2) / seen[n].unit / 72 * DPI) + 1
        assert a.shape == b.shape
        assert np.array_equal(a[:, :-strip], b[:, :-strip]), f"page {n + 1} is another one"
        changed = (a[:, -strip:] != b[:, -strip:]).any(axis=(1, 2)).sum()
        assert (changed > 0.3 * a.shape[0]) == (n > 0), f"page {n + 1}: {changed} rows of tabs"


def laid(n, seen, new):
    """The tap areas that are new on a page: three tabs, the way to the index, the address."""
    wide, high = seen.size
    wanted = ([] if n == 0 else STARTS) + ([1] if n >= 2 else [])
    assert [goal for _, goal in new[: len(wanted)]] == wanted
    assert [goal for _, goal in new[len(wanted) :]] == ["https://tarn-and-tide.example/more"] * (n in (0, 2))
    for (left, top, right, bottom), _ in new[:3] if n else []:
        assert abs(right - wide) < 0.01 and 6.99 <= (right - left) / 72 * 25.4 <= 11.01 and bottom - top > 20
    mm = 72 / 25.4
    if n >= 2:
        rect = new[3][0]
        assert np.allclose(rect, (10 * mm, 5 * mm, 10 * mm + 0.2 * wide, 5 * mm + 0.12 * high), atol=0.01)
    if n in (0, 2):
        rect = new[-1][0]
        assert np.allclose(rect, (0.5 * wide, 0.1 * high, 0.5 * wide + 72, 0.1 * high + 36), atol=0.01)


def turned(turn, crop, unit=1):
    """White pages that are all seen as 480 x 360 points, whatever their turn, crop box and unit."""

    def change(pdf):
        for page in pdf.pages:
            wide, high = ((360, 480) if turn % 180 else (480, 360))
            wide, high = wide / unit, high / unit
            left, low, right, above = crop
            page.obj.MediaBox = Array([-left, 17 - low, wide + right - 0, 17 + high + above])
            if any(crop):
                page.obj.CropBox = Array([0, 17, wide, 17 + high])
            else:
                page.obj.MediaBox = Array([0, 17, wide, 17 + high])
            page.obj.Rotate = turn
            if unit != 1:
                page.obj.UserUnit = unit
            page.obj.Contents = pdf.make_stream(b"")
            del page.obj["/Annots"]

    return reworked(change, planner(pages=3))


@pytest.mark.parametrize("side", ["right", "left", "turning"])
def test_tabs_are_seen_in_the_same_place_however_the_page_lies(side, tmp_path):
    more = f'[notebook.tabs]\nside = "{side}"\ndepth = "9 mm"\n' + "".join(
        f'[[notebook.section]]\nname = "Tide {n}"\npage = {n}\n' for n in (1, 2, 3)
    )
    first = None
    for turn in (0, 90, 180, 270, -90, 450):
        for k, crop in enumerate([(0, 0, 0, 0), (40, 0, 0, 25), (10, 60, 90, 5)]):
            for unit in (1, 1.5) if k == 1 else (1,):
                folder = tmp_path / f"{turn}-{k}-{unit}"
                folder.mkdir()
                bundle = product(folder, turned(turn, crop, unit), more)
                with pikepdf.open(bundle.notebook) as pdf:
                    areas = [[(np.round(r, 2).tolist(), g) for r, g in links(pdf, p)] for p in pdf.pages]
                seen = pictures(bundle.notebook, folder / "png", 100 * unit)
                if first is None:
                    first = (areas, seen)
                    on_left = [[r[0] < 1 for r, _ in page] for page in areas]
                    passed = [[False] * 3, [True, False, False], [True, True, False]]
                    assert on_left == {"right": [[False] * 3] * 3, "left": [[True] * 3] * 3, "turning": passed}[side]
                    depth = 9 / 25.4 * 72
                    assert all(abs(r[2] - r[0] - depth) < 0.02 for page in areas for r, _ in page)
                    assert all((page < 250).any() for page in seen)
                assert areas == first[0]
                for a, b in zip(first[1], seen):
                    assert a.shape == b.shape
                    # Edges and letters are smoothed a little otherwise when the page is turned.
                    off = np.abs(a - b).max(axis=2)
                    assert (off > 90).mean() < 0.003 and off.mean() < 0.6, f"{turn} {crop} {unit}: {off.mean()}"


def test_outline_of_sections_where_the_file_has_none(tmp_path):
    def bare(pdf):
        for key in ("/Outlines", "/PageMode"):
            if key in pdf.Root:
                del pdf.Root[key]

    bundle = product(tmp_path, reworked(bare), TABS)
    with pikepdf.open(bundle.notebook) as pdf:
        assert titles(pdf) == [("Neaps", []), ("Springs", []), ("Gales", [])]
        assert pdf.Root.PageMode == Name.UseOutlines


def test_own_outline_put_aside(tmp_path):
    more = 'keep-outline = false\n[[notebook.outline]]\ntitle = "Tides"\npage = 2\n'
    bundle = product(tmp_path, planner(), more)
    with pikepdf.open(bundle.notebook) as pdf:
        assert titles(pdf) == [("Tides", [])]


def test_tabs_of_her_own_drawing_get_tap_areas_alone(tmp_path):
    bundle = product(tmp_path, planner(), "[notebook.tabs]\ndraw = false\n" + TABS)
    (tmp_path / "before.pdf").write_bytes(planner())
    old, new = pictures(tmp_path / "before.pdf", tmp_path / "a"), pictures(bundle.notebook, tmp_path / "b")
    assert all(np.array_equal(a, b) for a, b in zip(old, new))
    with pikepdf.open(bundle.notebook) as pdf:
        assert all(len(p.obj.Annots) == 5 for p in pdf.pages)


def test_rewritten_alone_shows_the_same_and_is_smaller(tmp_path):
    bundle = product(tmp_path, planner(), "rewrite = true\n")
    assert bundle.notebook.stat().st_size < len(planner())
    (tmp_path / "before.pdf").write_bytes(planner())
    old, new = pictures(tmp_path / "before.pdf", tmp_path / "a"), pictures(bundle.notebook, tmp_path / "b")
    assert all(np.array_equal(a, b) for a, b in zip(old, new))


def test_classic_form_when_rewritten(tmp_path):
    head = "classic-pdf = true\n" + finished.HEAD
    data = FOREIGN["object-streams"](tmp_path)
    bundle = product(tmp_path, data, "rewrite = true\n" + TABS, head=head)
    text = bundle.notebook.read_bytes()
    assert b"/ObjStm" not in text and b"\nxref\n" in text
    program("qpdf", "--check", bundle.notebook)


def test_the_page_is_that_of_the_file_and_covers_fit(tmp_path):
    more = '[[cover]]\nname = "Slate"\n'
    data = reworked(lambda pdf: [setattr(p.obj, "Rotate", 90) for p in pdf.pages])
    bundle = product(tmp_path, data, more)
    (covers,) = [p for p in bundle.of_kind("covers") if "contents" in p.parts]
    with pikepdf.open(covers) as pdf:
        assert len(pdf.pages) == 1 and Seen(pdf.pages[0]).size == (360, 480)
    text = (bundle.folder / "listing/description.md").read_text(encoding="utf-8")
    assert "360 × 480 pt, portrait" in text and "**1 cover**" in text and "The same page size" in text


def test_listing_counts_what_the_file_has(tmp_path):
    bundle = product(tmp_path, planner(), TABS)
    text = (bundle.folder / "listing/description.md").read_text(encoding="utf-8")
    with pikepdf.open(bundle.notebook) as pdf:
        inside = sum(isinstance(g, int) for p in pdf.pages for _, g in links(pdf, p))
    assert f"{PAGES} pages with {inside} links" in text and inside == PAGES * 4
    assert "3 sections, each with its own coloured tab: Neaps, Springs and Gales" in text
    assert "template" not in text and "divider" not in text
    (tmp_path / "plain").mkdir()
    plain = product(tmp_path / "plain", planner())
    text = (plain.folder / "listing/description.md").read_text(encoding="utf-8")
    assert "3 entries in its outline: Part 1, Part 2 and Part 3" in text and "section" not in text


def test_guide_speaks_of_what_is_there(tmp_path):
    head = finished.HEAD.replace("wanted = false", "wanted = true")
    bundle = product(tmp_path, planner(), TABS, head=head)
    (guide,) = [p for p in bundle.of_kind("guide") if "contents" in p.parts]
    text = re.sub(r"\s+", " ", program("pdftotext", guide, "-"))
    assert "links that turn to other pages" in text
    assert "template" not in text and "Name your sections" not in text


def test_same_inputs_same_bytes(tmp_path):
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
    made = [product(tmp_path / name, planner(), LAID).notebook.read_bytes() for name in ("one", "two")]
    assert made[0] == made[1]


def encrypted(user, owner="harbour-master"):
    allow = pikepdf.Permissions(modify_other=False)
    return reworked(lambda pdf: None, encryption=pikepdf.Encryption(owner=owner, user=user, allow=allow))


def no_pages(pdf):
    del pdf.pages[:]


def astray():
    """An object whose place in the table is wrong by a few bytes."""
    data = planner()
    at = data.rindex(b"xref\n", 0, data.rindex(b"startxref"))
    rows = data[at:].split(b"\n")
    rows[4] = b"%010d 00000 n " % (int(rows[4][:10]) + 7)
    return data[:at] + b"\n".join(rows)


BAD = {
    "password": (lambda: encrypted("tide"), ["opens only with a password", "without a password"]),
    "restricted": (lambda: encrypted(""), ["encrypted", "qpdf --decrypt"]),
    "cut-short": (lambda: planner()[: len(planner()) // 2], ["cannot be used", "cut short", "export it anew"]),
    "cut-at-the-end": (lambda: planner()[:-60], ["is damaged", "export it anew"]),
    "offset-wrong": (astray, ["is damaged", "at byte", "export it anew"]),
    "no-pages": (lambda: reworked(no_pages), ["has no page", "export it anew"]),
    "not-a-pdf": (lambda: b"Low water at noon.\n", ["cannot be used", "it does not begin with %PDF-"]),
    "empty": (lambda: b"", ["cannot be used", "it is empty"]),
    "a-picture": (lambda: picture(), ["is no PDF", "name a PDF file"]),
    "only-a-header": (lambda: b"%PDF-1.7\n", ["export it anew"]),
}


def picture():
    out = io.BytesIO()
    Image.new("RGB", (40, 30), (20, 60, 90)).save(out, "PNG")
    return out.getvalue()


@pytest.mark.parametrize("kind", BAD)
def test_bad_files_are_refused_in_plain_words(kind, tmp_path):
    make, words = BAD[kind]
    said = refused(tmp_path, make(), TABS)
    assert "product.toml:9:8:" in said and '"exports/notebook.pdf"' in said
    for word in words:
        assert word in said, said


WRONG = {
    "page 13": ('[[notebook.section]]\nname = "A"\npage = 13\n', ['has no page 13', "1 to 12"]),
    "no page": ('[[notebook.section]]\nname = "A"\n', ["on which page does this section begin"]),
    "order": ("".join(f"[[notebook.section]]\npage = {n}\n" for n in (5, 4)), ["in the order of their pages"]),
    "far link": ('[[notebook.link]]\nto = "page/40"\nat = [1, 1, 9, 9]\n', ["has no `page/40`", "page/1 to page/12"]),
    "place": ('[[notebook.link]]\nto = "indx"\nat = [1, 1, 9, 9]\n[notebook.places]\nindex = 2\n', ["did you mean `index`"]),
    "off the page": ('[[notebook.link]]\nto = "page/2"\nat = [160, 1, 20, 9]\n', ["lies off page 1", "169.3"]),
    "pixels": ('[[notebook.link]]\nto = "page/2"\nat = ["1 px", 1, 9, 9]\n', ["no pixels", "264 dpi"]),
    "http": ('[[notebook.link]]\nto = "http://tide.example"\nat = [1, 1, 9, 9]\n', ["beginning with https://"]),
    "template": ('[[notebook.template]]\nruling = "lined"\n', ["`template` has no place"]),
    "welcome": ('welcome = "Ahoy"\n', ["`welcome` has no place"]),
    "no sections": ("[notebook.tabs]\ndepth = 9\n", ["no sections that tabs could lead to"]),
    "depth": ("[notebook.tabs]\ndepth = 90\n" + TABS, ["from 2 mm to"]),
    "labels": ("[[notebook.labels]]\nfrom = 3\n", ["begins at from = 1"]),
    "run": ('[notebook.tabs]\npages = "9-3"\n' + TABS, ["`9-3` are no pages"]),
    "zero": ("[notebook.tabs]\npages = 0\n" + TABS, ["counted from 1"]),
}


@pytest.mark.parametrize("kind", WRONG)
def test_wrong_words_are_told_with_their_place(kind, tmp_path):
    more, words = WRONG[kind]
    said = refused(tmp_path, planner(), more)
    assert re.search(r"product\.toml:\d+:\d+:", said)
    for word in words:
        assert word in said, said


def test_words_for_finished_files_need_one(tmp_path):
    head = finished.HEAD.replace('file = "exports/notebook.pdf"\n', "")
    said = refused(tmp_path, planner(), "rewrite = true\n[notebook.places]\nindex = 2\n" + TABS, head=head)
    for word in ("rewrite", "places", "page", "last-page"):
        assert f"`{word}` is for a notebook that comes as a finished PDF" in said


def test_a_file_that_is_not_there(tmp_path):
    head = finished.HEAD.replace("notebook.pdf", "notebok.pdf")
    assert "did you mean `exports/notebook.pdf`?" in refused(tmp_path, planner(), head=head)
