"""Three products as a designer would make them, and what is told of them held against what is there: files, pages and links are
counted with pikepdf, pictures with Pillow, archives with zipfile and unzip."""

import json
import re
import zipfile

import pikepdf
import pytest

import agree
import told
import tool
import trials
from test_structure import Book

KINDS = list(trials.ALL)


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """Each product built once, with the report of its build."""
    built = {}

    def get(kind):
        if kind not in built:
            folder = tmp_path_factory.mktemp(kind)
            product = trials.ALL[kind].write(folder / "product")
            run = tool.sheafwright("build", product, "--out", folder / "dist", "--json")
            assert run.returncode == 0, run.stdout + run.stderr
            (record,) = (folder / "dist").glob("*/*/bundle.json")
            built[kind] = tool.Bundle(product, record.parent), run
        return built[kind]

    return get


@pytest.mark.parametrize("kind", KINDS)
def test_it_is_without_fault(kind, made):
    _, run = made(kind)
    found = json.loads(run.stdout)
    # A font that the other program has not embedded is told, and nothing else.
    told_of = {"standard-font-relied-on"} if kind == "finished" else set()
    assert found["errors"] == 0 and {f["check"] for f in found["findings"] if f["severity"] == "warning"} == told_of


@pytest.mark.parametrize("kind", KINDS)
def test_every_number_is_found_again(kind, made):
    bundle, _ = made(kind)
    counted = told.Counted(bundle)
    read = {reader.__name__: reader(bundle, counted) for reader in told.READERS}
    assert all(read.values()), {name: len(rows) for name, rows in read.items()}
    wrong = [(what, said, true) for rows in read.values() for what, said, true in rows if said != true]
    assert not wrong, wrong


@pytest.mark.parametrize("kind", KINDS)
def test_a_later_check_says_the_same(kind, made):
    bundle, run = made(kind)
    assert not agree.differences(run, tool.sheafwright("check", bundle.folder, "--json"))


@pytest.mark.parametrize("kind", KINDS)
def test_every_link_leads_to_a_page_and_every_file_is_uploaded_once(kind, made):
    bundle, _ = made(kind)
    for path in (bundle.folder / "contents").rglob("*.pdf"):
        with pikepdf.open(path) as pdf:
            pages = {p.objgen for p in pdf.pages}
            for page in pdf.pages:
                for note in page.get("/Annots", []):
                    dest = note.get("/Dest")
                    if dest is None and note.get("/A", {}).get("/S") == "/GoTo":
                        dest = note.A.D
                    if isinstance(dest, pikepdf.Array):
                        assert dest[0].objgen in pages
    loose = {p.relative_to(bundle.folder / "contents").as_posix(): p.read_bytes() for p in (bundle.folder / "contents").rglob("*") if p.is_file()}
    up = {}
    for path in (bundle.folder / "upload").iterdir():
        if path.suffix == ".zip":
            tool.program("unzip", "-tq", path)
            with zipfile.ZipFile(path) as archive:
                up |= {name.split("/", 1)[1] if name.split("/", 1)[0] not in loose and name not in loose and "/" in name and name.split("/", 1)[1] in loose else name: archive.read(name) for name in archive.namelist()}
        else:
            up[path.name] = path.read_bytes()
    assert up.keys() == loose.keys() and all(up[name] == loose[name] for name in loose)


def test_eight_variants_of_a_planner(made):
    """Sizes, hands and colourways differ as they say, each is an archive of its own, and nothing is listed path by path."""
    bundle, _ = made("planner")
    names = [v["name"] for v in bundle.record["variants"]]
    assert len(names) == 8 == len(set(names))
    books = {p.parent.name: p for p in bundle.of_kind("notebook")}
    assert set(books) == set(names)
    sizes, sides = {}, {}
    for name, path in books.items():
        with pikepdf.open(path) as pdf:
            sizes.setdefault("tablet" in name, set()).add(tuple(round(float(v)) for v in pdf.pages[0].MediaBox[2:]))
            book = Book(path)
            # A tab of a section that is still to come lies on the side of the hand.
            (sections,) = [p for d, t, p in book.entries if (d, t) == (1, "Stores")]
            month = next(p for d, t, p in book.entries if t.startswith("May"))
            width = float(pdf.pages[0].MediaBox[2])
            tab = [r for to, r in book.links[month] if to == sections]
            sides.setdefault("left" in name, set()).update(r[0] > width / 2 for r in tab)
            assert len(re.findall(r"^(?:May|June) 2027", "\n".join(t for _, t, _ in book.entries), re.M)) == 2
    assert len(sizes[True]) == len(sizes[False]) == 1 and sizes[True] != sizes[False]
    assert sides == {False: {True}, True: {False}}
    uploads = {p.name for p in (bundle.folder / "upload").iterdir()}
    assert {f"{bundle.slug}-{name}.zip" for name in names} <= uploads
    start = (bundle.folder / "contents/start-here.txt").read_text(encoding="utf-8")
    loose = [p for p in (bundle.folder / "contents").rglob("*") if p.is_file()]
    assert len(loose) > 12 and len([line for line in start.splitlines() if re.search(r"\.(pdf|png)\b", line)]) < len(loose) / 2
    # The description tells each variant with its own pages.
    said = (bundle.folder / "listing/description.md").read_text(encoding="utf-8")
    counts = {name: Book(path).count for name, path in books.items()}
    assert len(set(counts.values())) > 1
    for variant in bundle.record["variants"]:
        (line,) = [line for line in said.splitlines() if line.strip().startswith(f"- {variant['title']} (`")]
        assert f": {counts[variant['name']]} pages," in line


def test_art_of_ones_own_and_a_finished_notebook(made):
    bundle, _ = made("finished")
    with pikepdf.open(bundle.notebook) as pdf:
        number = {p.objgen: i for i, p in enumerate(pdf.pages)}
        assert len(pdf.pages) == 12
        with pdf.open_outline() as outline:
            titles = [e.title for e in outline.root]
        tabs = [number[a.Dest[0].objgen] for a in pdf.pages[7].Annots if "/Dest" in a]
    # Its own outline stays, the words of its pages as well, and the tabs lead to the pages that the manifest names.
    assert {"Part 1", "Part 2", "Part 3"} <= set(titles) and {2, 5} <= set(tabs)
    assert "Page 8 of the harbour year" in tool.page_text(bundle.notebook, 7)
    assert [p.name for p in bundle.stickers] == ["01-gull.png", "02-wreck.png", "03-buoy.png"]
    said = (bundle.folder / "listing/description.md").read_text(encoding="utf-8")
    assert "12" in said and re.search(r"\b3 stickers\b", said)
    # Nothing is told of what such a notebook does not have.
    guide = " ".join(tool.program("pdftotext", next(iter(bundle.of_kind("guide"))), "-").split())
    for text in (said, guide, (bundle.folder / "contents/start-here.txt").read_text(encoding="utf-8")):
        assert not re.search(r"\bcoil\b|\bwelcome page\b|\bname your sections\b|page templates?\b", text, re.I), text


def test_a_year_by_hand(made):
    """Pages with names and data, in their order; templates that are used and not offered; a sticker on a page of each month."""
    bundle, _ = made("by-hand")
    book = Book(bundle.notebook)
    tops = [t for d, t, _ in book.entries if d == 0]
    assert tops == ["Cover", "Index", "Sections", "Templates", "Welcome"]
    named = [t for d, t, _ in book.entries if d == 2]
    assert named == ["January by hand", *trials.HIVES, *[f"{m} by hand" for m in trials.MONTHS[1:]]]
    offered = [t for d, t, p in book.entries if d == 1 and p > book.at("Templates")]
    assert offered == ["Notes", "Sketch"]
    for i, hive in enumerate(trials.HIVES):
        page = book.at(hive)
        said = book.text(page)
        assert hive in said and f"Queen of {2024 + i}, {8 + i} frames" in said
        assert book.at(trials.HIVES[(i + 1) % 3]) in book.to(page)
        assert book.labels[page] == hive
    whole = book.all_text()
    said = (bundle.folder / "listing/description.md").read_text(encoding="utf-8")
    guide = " ".join(tool.program("pdftotext", next(iter(bundle.of_kind("guide"))), "-").split())
    assert "2 page templates" in said and "Hive\n" not in said and "Days by hand" not in said + guide
    assert "coil" not in whole.lower()
    lines = tool.program("pdfimages", "-list", bundle.notebook).splitlines()[2:]
    shown = {int(line.split()[0]) - 1 for line in lines if line.split()[2] == "image"}
    assert shown == {book.at(f"{m} by hand") for m in trials.MONTHS}
    assert len({line.split()[10] for line in lines if line.split()[2] == "image"}) == 1
