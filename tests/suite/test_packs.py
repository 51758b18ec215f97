"""Update packs, held against other people's tools: every link by pikepdf, pages by poppler's pixels and words, files by qpdf."""

import json
import re
from dataclasses import replace

import pikepdf
import pytest
from jsonschema import Draft202012Validator
from PIL import Image, ImageChops

import products
import tool
from finished import TABS, Finished, planner, reworked
from reading import Reading
from test_languages import OWN_FONTS

SCHEMA = Draft202012Validator(json.loads((tool.ROOT / "pipeline/cli/changes.schema.json").read_text(encoding="utf-8")))
BASE = products.FULL_PRODUCT
# A section more moves the tabs of all pages; those of its own are new.
MORE = [*BASE.sections[:3], "Galley", *BASE.sections[3:]]

# Kinds of change to a product: the recipe of the new version, whether pages of it go into the pack (`None`: one divider
# alone, since of all others only the tabs changed), and files that must be taken over whole.
CHANGES = {
    "page added": (replace(BASE, section_pages={**BASE.section_pages, "Tides": [("tide-table", 3)]}), True, ()),
    "page removed": (replace(BASE, section_pages={**BASE.section_pages, "Tides": [("tide-table", 1)]}), True, ()),
    "section inserted": (replace(BASE, sections=MORE), True, ()),
    "tab colours changed": (replace(BASE, keys="# other tabs"), None, ()),
    "template added": (replace(BASE, templates=[*BASE.templates, ("Bread list", "checklist", "{}")]), True, ()),
    "template redrawn": (replace(BASE, templates=[(n, r, "{ pitch = 8 }" if n == "Sea chart" else w) for n, r, w in BASE.templates]), True, ()),
    "cover changed": (replace(BASE, more=BASE.more.replace("#5a6b78", "#8a3b38")), False, ("harbour-log-covers.pdf",)),
    "sticker changed": (replace(BASE, files={**BASE.files, "art/anchor.svg": lambda: products.anchor_svg().replace(b"#2f4f6f", b"#a03030")}), False, ("stickers/",)),
}


def write(recipe, folder, version):
    recipe.write(folder)
    manifest = folder / "product.toml"
    text = manifest.read_text(encoding="utf-8").replace('version = "1.0.0"', f'version = "{version}"')
    if recipe.keys:
        text = text.replace('name = "Ports"\n', 'name = "Ports"\ncolour = "#3b6ea8"\n')
    manifest.write_text(text, encoding="utf-8")
    return folder


def pack(old, new, into, code=1):
    run = tool.sheafwright("diff", old, new, "--json", "--pack", into)
    assert run.returncode == code, run.stderr
    report = json.loads(run.stdout)
    assert [e.message for e in SCHEMA.iter_errors(report)] == []
    assert sorted(report["pack"]["files"]) == sorted(tool.tree(into) if into.exists() else [])
    return report["pack"], run.stderr


def picture(path, page, folder):
    out = folder / f"{path.stem}-{page}"
    tool.program("pdftoppm", "-r", "50", "-png", "-singlefile", "-f", page + 1, "-l", page + 1, path, out)
    return Image.open(out.with_suffix(".png")).convert("RGB")


def prove(path, new, told, folder):
    """Holds the pages of a pack against those of the new file: pixels, words, and where each link leads."""
    tool.program("qpdf", "--check", path)
    made, source = Reading(path), Reading(new)
    outline = [(title, page) for entry in made.outline for title, page in [entry[:2], *[c[:2] for c in entry[2]]]]
    # The notes are in English where the file of another program does not say its language.
    assert "Title" in tool.pdfinfo(path) and made.pdf.Root.Lang == source.pdf.Root.get("/Lang", pikepdf.String("en"))
    # Notes have a named place; pages follow their note. The order is that of the new version.
    wanted = [page["page"] - 1 for page in told["pages"]]
    notes = {made.numbers[d[0].objgen] for d in list(made.pdf.Root.Names.Dests.Names)[1::2]}
    starts = sorted(notes)
    copied = [page for page in made.pages if page in {p for _, p in outline} - notes]
    assert len(copied) == len(wanted) and wanted == sorted(wanted) and starts[0] == 0
    of = dict(zip(wanted, copied))
    for page, place in of.items():
        assert ImageChops.difference(picture(new, page, folder), picture(path, place, folder)).getbbox() is None, page
        assert tool.page_text(new, page) == tool.page_text(path, place)
        expected = [(of[link.target], link.rect) if link.target >= 0 else (-1, link.rect) for link in source.links[page] if link.target < 0 or link.target in of]
        assert [(link.target, link.rect) for link in made.links[place]] == expected
        assert source.pdf.pages[page].MediaBox == made.pdf.pages[place].MediaBox
        # The instructions of the page are those that they were, byte for byte.
        streams = [[bytes(s.read_bytes()) for s in (c if isinstance(c, pikepdf.Array) else [c])] for c in (source.pdf.pages[page].Contents, made.pdf.pages[place].Contents)]
        assert streams[0] == streams[1]
    # The note before a page says where it goes.
    for page in told["pages"]:
        note = max(s for s in starts if s < of[page["page"] - 1])
        words = re.sub(r"\s+", " ", tool.page_text(path, note))
        number = re.search(r"page (\d+)", page["goes"])
        assert number is None or f"page {number[1]} " in words or f"page {number[1]}," in words, words
    cut = sum(len(source.links[page]) - len(made.links[place]) for page, place in of.items())
    assert cut == told["links_cut"]
    return of


@pytest.fixture(scope="module")
def first(tmp_path_factory):
    folder = tmp_path_factory.mktemp("first")
    return tool.build(write(BASE, folder / "product", "1.0.0"), folder / "dist")


@pytest.mark.parametrize("change", CHANGES)
def test_a_pack_has_what_changed_and_links_within_it(first, tmp_path, change):
    recipe, pages, whole = CHANGES[change]
    new = tool.build(write(recipe, tmp_path / "product", "2.0.0"), tmp_path / "dist")
    told, said = pack(first.folder, new.folder, tmp_path / "pack")
    (document,) = told["documents"] or [None]
    files = tool.tree(tmp_path / "pack")
    for begin in whole:
        assert any(path.startswith(begin) for path in files)
    for path, data in files.items():
        if not path.endswith("-update.pdf") and path != "read-first.md":
            assert data == (new.folder / "contents" / path).read_bytes()
    if pages:
        of = prove(tmp_path / "pack/harbour-log-update.pdf", new.notebook, document, tmp_path)
        assert of
    elif pages is None:
        # The divider of the section whose colour changed; its tab is on all other pages as well.
        assert len(prove(tmp_path / "pack/harbour-log-update.pdf", new.notebook, document, tmp_path)) < 6
        assert document["left_out"] > 10 and "only tabs" in files["read-first.md"].decode() and "only tabs" in said
    again = tmp_path / "again"
    pack(first.folder, new.folder, again)
    assert tool.tree(again) == files


# The same by hand: edits of the finished file, as of a notebook from elsewhere.
def moved(pdf):
    page = pdf.pages[6]
    del pdf.pages[6]
    pdf.pages.insert(10, page)


def redrawn(pdf):
    pdf.pages[7].contents_add(b"q 0.8 0.2 0.2 rg 300 200 120 80 re f Q")


def aimed(pdf):
    links = [a for a in pdf.pages[2].Annots if "/Dest" in a]
    links[0].Dest[0] = pdf.pages[9].obj


@pytest.mark.parametrize("edit, pages", [(moved, 0), (redrawn, 1), (aimed, 1)])
def test_pages_of_a_file_from_elsewhere(first, tmp_path, edit, pages):
    with pikepdf.open(first.notebook) as pdf:
        edit(pdf)
        new = tmp_path / "book.pdf"
        pdf.save(new)
    told, said = pack(first.notebook, new, tmp_path / "pack")
    (document,) = told["documents"]
    assert len(document["pages"]) == pages
    if pages:
        prove(tmp_path / "pack/book-update.pdf", new, document, tmp_path)
    else:
        assert document["moved"] == 1 and "Nothing to pack" in said and not (tmp_path / "pack").exists()


def test_a_page_without_a_label_is_called_by_its_number(first, tmp_path):
    """As a reader counts it (ISO 32000-1, 12.4.2: without labels pages are numbered from 1)."""
    paths = []
    for name, edit in (("old", lambda pdf: None), ("new", redrawn)):
        with pikepdf.open(first.notebook) as pdf:
            del pdf.Root.PageLabels
            edit(pdf)
            paths.append(tmp_path / f"{name}.pdf")
            pdf.save(paths[-1])
    pack(*paths, tmp_path / "pack")
    with pikepdf.open(tmp_path / "pack/new-update.pdf") as made:
        assert made.pages[-1].label == "8"
    # Where it goes is told with what the outline calls it.
    said = tool.program("pdftotext", "-f", 1, "-l", 1, tmp_path / "pack/new-update.pdf", "-")
    assert "1 page in place of page 8, \u201cSections \u2013 Crew\u201d" in " ".join(said.split())


def test_what_cannot_be_packed_is_said(first, tmp_path):
    same = tool.sheafwright("diff", first.folder, first.folder, "--pack", tmp_path / "none")
    assert same.returncode == 0 and "Nothing to pack" in same.stderr and not (tmp_path / "none").exists()
    (tmp_path / "full").mkdir()
    (tmp_path / "full/note.txt").write_text("mine")
    taken = tool.sheafwright("diff", first.folder, first.folder, "--pack", tmp_path / "full")
    assert taken.returncode == 2 and "files in it already" in taken.stderr
    source = tool.sheafwright("diff", first.product, first.folder, "--pack", tmp_path / "none")
    assert source.returncode == 2 and "not a bundle" in source.stderr and "product" in source.stderr


def test_a_build_writes_the_pack_when_asked(tmp_path):
    dist, asks = tmp_path / "dist", "\n[versions]\nupdate-pack = true\n"
    tool.build(write(replace(BASE, more=BASE.more + asks), tmp_path / "one", "1.0.0"), dist)
    recipe = replace(CHANGES["page added"][0], more=BASE.more + asks)
    run = tool.sheafwright("build", write(recipe, tmp_path / "two", "1.1.0"), "--out", dist)
    assert run.returncode == 0, run.stderr
    new = dist / "harbour-log/1.1.0"
    inside = tool.tree(new / "listing/update-pack")
    pack(dist / "harbour-log/1.0.0", new, tmp_path / "pack")
    assert inside and inside == tool.tree(tmp_path / "pack")
    assert not (dist / "harbour-log/1.0.0/listing/update-pack").exists()
    tool.program("sh", "-c", f"cd '{new}' && sha256sum -c --quiet SHA256SUMS")
    assert tool.sheafwright("verify", new).returncode == 0
    assert tool.sheafwright("check", new).returncode == 0


@pytest.mark.parametrize("pages", [3, 45])
def test_a_pack_from_the_one_comparison_is_that_of_a_comparison_of_its_own(tmp_path, pages):
    """A build takes its pack from the comparison that it makes anyway, where that drew every redrawn page: of a file with more than 40
    it makes another. Either way the pack is the one that `diff` makes, from a cold cache and from a warm one (`again.py`)."""
    dist = tmp_path / "dist"
    small = replace(BASE, files={}, page='size = "A6"\nlayout = "single"', coil="none", more="\n[versions]\nupdate-pack = true\n")
    old = replace(small, section_pages={"Tides": [("sea-chart", pages)]})
    new = replace(old, templates=[(n, r, "{ pitch = 8 }" if n == "Sea chart" else w) for n, r, w in old.templates])
    tool.build(write(old, tmp_path / "one", "1.0.0"), dist)
    run = tool.sheafwright("build", write(new, tmp_path / "two", "1.1.0"), "--out", dist)
    assert run.returncode == 0, run.stderr
    made = dist / "harbour-log/1.1.0"
    told, _ = pack(dist / "harbour-log/1.0.0", made, tmp_path / "pack")
    inside = tool.tree(made / "listing/update-pack")
    assert inside and inside == tool.tree(tmp_path / "pack")
    (document,) = told["documents"]
    # The pages of the section, the template, and its little picture on the overview.
    assert len(document["pages"]) == pages + 2


SMALL = replace(BASE, more="", files={}, page='size = "A6"\nlayout = "single"', coil="none")
GROWN = replace(SMALL, section_pages={**SMALL.section_pages, "Tides": [("tide-table", 3)]})


def two(tmp_path, old, new):
    """Bundles of two versions, written by functions of a folder and a version."""
    return [tool.build(make(tmp_path / version, version), tmp_path / f"dist-{version}") for make, version in ((old, "1.0.0"), (new, "1.1.0"))]


def test_a_pack_of_variants_has_the_pages_of_each(tmp_path):
    hands = '\n[variants.hand]\nleft = { page.hand = "left" }\nright = { page.hand = "right" }\n'
    old, new = two(tmp_path, *(lambda f, v, r=r: write(replace(r, more=hands), f, v) for r in (SMALL, GROWN)))
    told, _ = pack(old.folder, new.folder, tmp_path / "pack")
    assert sorted(d["path"] for d in told["documents"]) == [f"contents/{hand}/harbour-log-{hand}.pdf" for hand in ("left", "right")]
    for document in told["documents"]:
        hand = document["path"].split("/")[1]
        (tmp_path / hand).mkdir()
        assert prove(tmp_path / f"pack/{hand}/harbour-log-{hand}-update.pdf", new.folder / document["path"], document, tmp_path / hand)


@pytest.mark.parametrize("more", ["", TABS], ids=["as it is", "with tabs laid over"])
def test_a_pack_of_a_finished_notebook_copies_pages_of_another_program(tmp_path, more):
    def redrawn(pdf):
        pdf.pages[4].contents_add(b"q 0.8 0.2 0.2 rg 300 200 120 80 re f Q")

    def make(data):
        def at(folder, version):
            Finished("harbour", data, more).write(folder)
            manifest = folder / "product.toml"
            manifest.write_text(manifest.read_text(encoding="utf-8").replace("1.0.0", version), encoding="utf-8")
            return folder

        return at

    old, new = two(tmp_path, make(planner()), make(reworked(redrawn)))
    told, _ = pack(old.folder, new.folder, tmp_path / "pack")
    (document,) = told["documents"]
    assert list(prove(tmp_path / f"pack/{new.notebook.stem}-update.pdf", new.notebook, document, tmp_path)) == [4]


def test_a_pack_of_an_old_form_is_in_that_form(tmp_path):
    old, new = two(tmp_path, *(lambda f, v, r=r: write(replace(r, top="classic-pdf = true"), f, v) for r in (SMALL, GROWN)))
    told, _ = pack(old.folder, new.folder, tmp_path / "pack")
    made = tmp_path / "pack/harbour-log-update.pdf"
    assert prove(made, new.notebook, told["documents"][0], tmp_path)
    # ISO 32000-1, 7.5.7 and 7.5.8: object streams and streams of references came with PDF 1.5.
    with pikepdf.open(made) as pdf:
        assert pdf.pdf_version <= "1.4"
    data = made.read_bytes()
    assert b"/ObjStm" not in data and b"/XRef" not in data and b"\nxref\n" in data


# A word of each language in the title, a heading and the limits of a pack, and in the change note.
SAYS = {
    "de-DE": ["Was ist neu in", "Eine neue Seite", "Wohin die Seiten gehören", "Register"],
    "fr": ["Nouveautés de", "Une nouvelle page", "Où vont les pages", "onglets"],
    "es-ES": ["Novedades de", "Una página nueva", "Adónde van las páginas", "pestañas"],
    "it": ["Novità di", "Una nuova pagina", "Dove vanno le pagine", "Linguette"],
    "pt-BR": ["Novidades de", "Uma página nova", "Aonde vão as páginas", "abas"],
    "nl": ["Wat is er nieuw in", "Een nieuwe pagina", "Waar de pagina’s horen", "Tabbladen"],
    "pl": ["Co nowego", "Jedna nowa strona", "Dokąd idą strony", "Zakładki"],
    "he": ["מה חדש ב", "עמוד חדש אחד", "לאן העמודים הולכים", "לשוניות"],
    "ja": ["の更新内容", "新しいページ1ページ", "Where the pages go", "タブ"],
    "sv": ["Nyheter i", "En ny sida", "Vart sidorna hör", "Flikar"],
}

# What the fonts of the notes cannot write.
UNWRITTEN = ["ja"]


@pytest.mark.parametrize("language", SAYS)
def test_a_pack_speaks_the_language_of_its_notebook(tmp_path, language):
    """Notes and text have the words of their language and none of English; where the fonts of the notes have no letters for it they are
    in English."""
    files = OWN_FONTS.get(language, {})
    style = f"\n[style.fonts]\nheading = {json.dumps(list(files))}\nlabel = {json.dumps(list(files))}\n" if files else ""
    built = []
    for n, recipe in enumerate((BASE, CHANGES["page added"][0])):
        recipe = replace(recipe, more=recipe.more + style, files={**recipe.files, **files})
        folder = write(recipe, tmp_path / f"product{n}", f"1.{n}.0")
        manifest = folder / "product.toml"
        manifest.write_text(manifest.read_text(encoding="utf-8").replace('language = "en-GB"', f'language = "{language}"'), encoding="utf-8")
        built.append(tool.build(folder, tmp_path / f"dist{n}"))
    pack(built[0].folder, built[1].folder, tmp_path / "pack")
    text = (tmp_path / "pack/read-first.md").read_text(encoding="utf-8")
    path = tmp_path / "pack/harbour-log-update.pdf"
    pages = " ".join(tool.page_text(path, 0).split())
    for said, where in zip(SAYS[language], (text, text, pages, text)):
        assert said in where, (said, where)
    left = {"the", "which", "that", "you", "pages", "written"} & set(re.findall(r"[^\W\d_]+", (text + ("" if language in UNWRITTEN else pages)).lower()))
    assert not left - ({"pages"} if language == "fr" else set()), left
    with pikepdf.open(path) as pdf:
        assert str(pdf.Root.Lang) == ("en" if language in UNWRITTEN else language)
        assert pdf.Root.get("/ViewerPreferences", {}).get("/Direction") == ("/R2L" if language == "he" else None)
