"""What is told is true: terms, change notes, texts of our own, verdicts, tap areas. Each as a whole kind.

Texts are read as buyers get them, pages with poppler's pdftotext, links with pikepdf.
"""

import itertools
import json
import re
from dataclasses import replace

import pikepdf
import pytest

import products
import tool
from products import Recipe

LOG = Recipe(
    "Pier Log",
    page='size = "A5"\nlayout = "single"',
    sections=["Boats", "Tides"],
    templates=[("Deck log", "lined", "{}"), ("Watch list", "checklist", "{}")],
    more='[licence]\nsmall-commercial = 25\nextra = "Printed by hand until 2026."\n',
)


def dated(recipe, version, released, issued=False):
    """The manifest of a recipe as another version."""
    text = recipe.manifest().replace('version = "1.0.0"', f'version = "{version}"' + ("\nissued = true" if issued else ""))
    return text.replace("released = 2027-03-01", f"released = {released}")


def made(folder, text, recipe, name):
    product = recipe.write(folder / name)
    (product / "product.toml").write_text(text, encoding="utf-8")
    run = tool.sheafwright("build", product, "--out", folder / "dist")
    assert run.returncode == 0, run.stdout + run.stderr
    version = re.search(r'version = "([\d.]+)"', text)[1]
    (bundle,) = (folder / "dist").glob(f"*/{version}")
    return bundle, run.stdout + run.stderr


def note(old, new):
    run = tool.sheafwright("diff", old, new, "--note")
    assert run.returncode in (0, 1), run.stderr
    return run.stdout


def test_a_new_year_is_no_new_licence(tmp_path):
    old, _ = made(tmp_path, dated(LOG, "1.0.0", "2026-01-15", issued=True), LOG, "a")
    new, said = made(tmp_path, dated(LOG, "1.0.1", "2027-12-03"), LOG, "a")
    terms = [(b / "contents/licence-terms.txt").read_text() for b in (old, new)]
    assert "Copyright 2026" in terms[0] and "Copyright 2027" in terms[1]
    assert "licence" not in note(old, new).lower()
    report = json.loads(tool.sheafwright("diff", old, new, "--json").stdout)
    assert report["verdict"] == "patch", report["differences"]
    assert "version-too-low" not in said
    # What the terms themselves say counts, a year among it.
    for n, (before, after) in enumerate([("small-commercial = 25", "small-commercial = 30"), ("until 2026", "until 2027")]):
        text = dated(LOG, f"1.0.{n + 2}", "2027-12-03").replace(before, after)
        changed, _ = made(tmp_path, text, LOG, "a")
        assert "The licence terms changed" in note(old, changed)




def set_of(*names):
    """A manifest's stickers: motifs by name, in two groups."""
    groups = '[[sticker-group]]\nname = "On deck"\n[[sticker-group]]\nname = "Ashore"\n'
    return groups + "".join(f'[[sticker]]\nmotif = "{m}"\ngroup = "{g}"\n' for m, g in names)


def test_numbers_stay_with_their_sticker_and_the_note_counts_it_once(tmp_path):
    first = set_of(("tally", "On deck"), ("week-strip", "On deck"), ("habit-dots", "Ashore"))
    then = set_of(("tally", "On deck"), ("week-strip", "On deck"), ("star", "On deck"), ("habit-dots", "Ashore"))
    a = replace(LOG, more=first)
    old, _ = made(tmp_path, dated(a, "1.0.0", "2026-01-15", issued=True), a, "p")
    b = replace(LOG, more=then)
    new, _ = made(tmp_path, dated(b, "1.1.0", "2026-02-15"), b, "p")
    names = lambda bundle: sorted(p.name for p in (bundle / "contents/stickers").iterdir())  # noqa: E731
    assert names(old) == ["01-tally.png", "02-week-strip.png", "03-habit-dots.png"]
    assert names(new) == ["01-tally.png", "02-week-strip.png", "03-habit-dots.png", "04-star.png"]
    told = note(old, new)
    # The guide shows it too, and may be laid out anew for that.
    lines = [line for line in told.splitlines() if line.startswith("- ") and "guide" not in line]
    assert lines == ["- One new sticker: “star”."], told
    # One that is gone leaves its number to nobody, and what was issued stays as it is.
    c = replace(LOG, more=set_of(("week-strip", "On deck"), ("star", "On deck"), ("habit-dots", "Ashore"), ("month-dots", "Ashore")))
    last, said = made(tmp_path, dated(c, "2.0.0", "2026-03-15"), c, "p")
    assert names(last) == ["02-week-strip.png", "03-habit-dots.png", "04-month-dots.png", "05-star.png"] or names(last) == [
        "02-week-strip.png", "03-habit-dots.png", "04-star.png", "05-month-dots.png"
    ]
    assert "sticker-numbers-gap" not in said
    again, _ = made(tmp_path, dated(a, "1.0.0", "2026-01-15", issued=True), a, "p")
    assert names(again) == names(old)
    told = note(old, last)
    assert "2 new stickers" in told and "One sticker is gone" in told and "new name" not in told, told


def test_a_page_in_four_variants_is_one_page(tmp_path):
    variants = '[variants.hand]\nright = {}\nleft = { page.hand = "left" }\n[variants.size]\nsmall = {}\nlarge = { page.size = "A4" }\n'
    a = replace(LOG, more=variants)
    b = replace(a, templates=[*LOG.templates, ("Sea chart", "square-grid", "{}")])
    old, _ = made(tmp_path, dated(a, "1.0.0", "2026-01-15", issued=True), a, "p")
    new, _ = made(tmp_path, dated(b, "1.1.0", "2026-02-15"), b, "p")
    told = note(old, new)
    assert "- One new page: “Sea chart”." in told, told
    assert "guide" not in told.lower(), told


COILS = [("none", "single"), ("top", "single"), ("middle", "spread")]


@pytest.mark.parametrize(
    ("coil", "layout", "names", "art"),
    [(*c, n, a) for c, n, a in itertools.product(COILS, ["all", "some", "none"], [False, True])],
)
def test_texts_of_our_own_speak_of_what_is_there(workshop, coil, layout, names, art):
    """Words of parts that are not there do not stand in the texts: every combination of coil, names and art."""
    sections = {"all": ["Boats", "Tides", "Crew"], "some": ["Boats", "", "Crew"], "none": ["", "", ""]}[names]
    index = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><rect id="link:section/*" width="90" height="60" y="9" fill="#dde"/></svg>'
    recipe = Recipe(
        f"Log {coil} {names} {art}",
        page=f'size = "240 x 180 mm"\nlayout = "{layout}"',
        coil=coil,
        sections=sections,
        templates=LOG.templates,
        files={"art/index.svg": index.encode} if art else {},
        top='[assets]\nown = ["art/*"]\n' if art else "",
    )
    text = recipe.manifest()
    if art:
        text = text.replace("[notebook]\n", '[notebook]\nindex = { art = "art/index.svg" }\n', 1)
    bundle = workshop(replace_text(recipe, text))
    welcome = " ".join(tool.page_text(bundle.notebook, 1).split())
    guide = " ".join(tool.program("pdftotext", next(iter(bundle.of_kind("guide"))), "-").split())
    start = (bundle.folder / "contents/start-here.txt").read_text()
    assert "Welcome" in welcome
    for said in (welcome, guide, start):
        assert bool(re.search(r"\b(coil|rings)\b", said)) is (coil != "none" and said is welcome), said
        assert ("ame your sections" in said) is (said is not start and names != "all" and not (art and said is guide)), said
        if art:
            assert "boxes of the index" not in said and "number and the box" not in said
        assert "sticker" not in said.lower()
        assert "cover that" not in said
    if names == "all" and not art:
        assert "Find your sections" in welcome and "Find your sections" in guide


def replace_text(recipe, text):
    """A recipe whose manifest is this text."""

    class Written(Recipe):
        def manifest(self):
            return text

    return Written(recipe.name, files=recipe.files)


def test_alternate_covers_bear_the_title_unless_told_otherwise(workshop):
    covers = '[[cover]]\nname = "Slate"\n[[cover]]\nname = "Rope"\nline = ""\n[[cover]]\nname = "Sand"\nline = "Second voyage"\n'
    bundle = workshop(replace(LOG, name="Mole Log", more=covers))
    (path,) = bundle.of_kind("covers")
    said = [tool.page_text(path, n).split("\n")[0:40] for n in range(4)]
    # The line is spaced out, which some readers take for spaces.
    said = ["".join("".join(page).split()) for page in said]
    assert said == ["MoleLog", "MoleLog", "", "Secondvoyage"]


def test_weeks_of_stickers_begin_as_those_of_the_notebook(tmp_path):
    """The same picture as with the day given to the stickers, and another than with Monday."""
    more = '[[sticker]]\nmotif = "week-strip"\n'
    pictures = []
    for n, (of_notebook, of_stickers) in enumerate([("", ""), ('first-day = "sunday"\n', ""), ("", 'first-day = "sunday"\n')]):
        recipe = replace(LOG, name="Week Log", more=f"[stickers]\n{of_stickers}{more}")
        text = recipe.manifest().replace("[notebook]\n", f"[notebook]\n{of_notebook}", 1)
        bundle = tool.build(replace_text(recipe, text).write(tmp_path / f"p{n}"), tmp_path / f"d{n}")
        pictures.append(bundle.stickers[0].read_bytes())
    assert pictures[0] != pictures[1] == pictures[2]


def test_a_choice_that_changes_nothing_is_an_error(tmp_path):
    plain = tool.build(LOG.write(tmp_path / "plain"), tmp_path / "dist")
    finished = tmp_path / "finished"
    (finished / "art").mkdir(parents=True)
    (finished / "art/done.pdf").write_bytes(plain.notebook.read_bytes())
    head = products.HEAD.format(name="Done Log") + '\n[assets]\nown = ["art/*"]\n[notebook]\nfile = "art/done.pdf"\n'
    hands = '[variants.hand]\nright = {}\nleft = { page.hand = "left" }\n'
    (finished / "product.toml").write_text(head + hands)
    run = tool.sheafwright("build", finished, "--out", tmp_path / "out", "--json")
    (found,) = [f for f in json.loads(run.stdout)["findings"] if f["check"] == "variant-changes-nothing"]
    assert run.returncode == 1 and found["severity"] == "error"
    assert "`right` and `left` of [variants.hand]" in found["message"]
    # Where it changes something, all is well.
    (finished / "product.toml").write_text(head + hands + "[[notebook.section]]\nname = \"Boats\"\npage = 3\n")
    run = tool.sheafwright("build", finished, "--out", tmp_path / "out", "--json")
    told = [f["message"] for f in json.loads(run.stdout)["findings"] if f["check"] == "variant-changes-nothing"]
    assert bool(told) is (len(list((tmp_path / "out").glob("done-log/1.0.0/contents/*/*.pdf"))) == 0)


FORMS = {
    "Link:Index": "index",
    "LINK:index": "index",
    "link-index": "index",
    "link_index": "index",
    "link:index_1_": "index",
    "link:index-2": "index",
    "link:index copy": "index",
    "link:index copy 2": "index",
    "link_x3A_index_x5F_1_": "index",
    "link-section-2": "section/2",
    "link_section_2": "section/2",
    "Link Section 2": "section/2",
    "link:section/2_1_": "section/2",
    "link:Section/2": "section/2",
    "link-template-watch-list": "template/watch-list",
    "link:template/Watch List": "template/watch-list",
}


@pytest.mark.parametrize("kept", ["id", "data-name"])
def test_what_looks_like_a_tap_area_is_one(tmp_path, kept):
    """Every form that drawing programs and hands make of a tap area's name leads where it should."""
    cells = "".join(
        f'<rect {kept}="{form}" x="{10 + i % 4 * 40}" y="{10 + i // 4 * 40}" width="36" height="36" fill="#ccd"/>'
        for i, form in enumerate(FORMS)
    )
    bundle, findings = drawn(tmp_path, cells)
    with pikepdf.open(bundle.notebook) as pdf:
        number = {p.objgen: i for i, p in enumerate(pdf.pages)}
        with pdf.open_outline() as outline:
            entries = list(outline.root)
            for entry in entries:
                entries.extend(entry.children)
            at = {e.title: number[e.destination[0].objgen] for e in entries}
        place = {"index": at["Index"], "section/2": at["Tides"], "template/watch-list": at["Watch list"]}
        page = pdf.pages[at["Map"]]
        found = [number[a.Dest[0].objgen] for a in page.Annots if "/Dest" in a]
    assert "art-link-unclear" not in {f["check"] for f in findings}
    tabs = 2 + 3
    assert sorted(found[tabs:] if len(found) == tabs + len(FORMS) else found) == sorted(place[t] for t in FORMS.values())


@pytest.mark.parametrize("name", ["link-indx", "Link Page", "link_secton_1"])
def test_what_looks_like_a_tap_area_and_leads_nowhere_is_told(tmp_path, name):
    _, findings = drawn(tmp_path, f'<rect id="{name}" x="9" y="9" width="60" height="60" fill="#ccd"/>')
    (told,) = [f for f in findings if f["check"] == "art-link-unclear"]
    assert "art/map.svg" in told["message"] and "line 1" in told["message"]


def test_other_names_are_no_tap_areas(tmp_path):
    names = ["linked", "linkage-1", "links", "blink-index", "chain link"]
    cells = "".join(f'<rect id="{n}" x="9" y="9" width="20" height="20" fill="#ccd"/>' for n in names)
    layer = f'<g id="link-layer">{cells}</g>'
    _, findings = drawn(tmp_path, layer)
    assert not [f for f in findings if f["check"].startswith("art-link")]


def drawn(tmp_path, inner):
    """A product with a page of art that holds this."""
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" width="170" height="170" viewBox="0 0 170 170">{inner}</svg>'
    text = LOG.manifest() + '[assets]\nown = ["art/*"]\n[[notebook.template]]\nname = "Map"\nart = "art/map.svg"\nnavigation = "taps"\nfit = "fit"\n'
    recipe = replace_text(replace(LOG, files={"art/map.svg": svg.encode}), text)
    product = recipe.write(tmp_path / "product")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist", "--json")
    assert run.returncode == 0, run.stdout + run.stderr
    (record,) = (tmp_path / "dist").glob("*/*/bundle.json")
    return tool.Bundle(product, record.parent), json.loads(run.stdout)["findings"]


def test_a_proof_is_not_written_over_one_that_is_there(shelf, tmp_path):
    bundle = shelf(products.LAYOUTS["no-coil"])
    run = tool.sheafwright("proof", bundle.folder, cwd=tmp_path)
    assert run.returncode == 0 and (tmp_path / "proof.html").stat().st_size > 10_000
    assert "Tarn and Tide Papers" in (tmp_path / "proof.html").read_text(encoding="utf-8")
    (tmp_path / "proof.html").write_text("mine")
    run = tool.sheafwright("proof", bundle.folder, cwd=tmp_path)
    assert run.returncode == 2 and "--out" in run.stderr
    assert (tmp_path / "proof.html").read_text() == "mine"
    run = tool.sheafwright("proof", bundle.folder, "--out", "proof.html", cwd=tmp_path)
    assert run.returncode == 0 and (tmp_path / "proof.html").read_text() != "mine"




def test_a_glyph_that_is_not_there_is_named_with_its_text_and_line(tmp_path):
    """An emoji, a sign and a letter that the usual fonts lack: each told once, at the line of the manifest."""
    recipe = replace(LOG, sections=["Boats ⛵", "Tides"], templates=[("Chart 🗺 of 漁", "lined", "{}")])
    product = recipe.write(tmp_path / "product")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist", "--json")
    told = [f for f in json.loads(run.stdout)["findings"] if f["check"] == "font-glyph-missing"]
    lines = (product / "product.toml").read_text(encoding="utf-8").splitlines()
    assert told and all(f["file"] == "product.toml" for f in told)
    for sign in "⛵🗺漁":
        (line,) = {f["line"] for f in told if sign in f["message"].split(": ", 1)[1]}
        assert sign in lines[line - 1]
        assert any(f"U+{ord(sign):04X}" in f["message"] and "oto" in f["message"] or "ibertinus" in f["message"] for f in told)


PAPERS = {
    "upright": 'size = "A5"\nlayout = "single"',
    "wide": 'size = "240 x 180 mm"\nlayout = "single"',
    "spread": 'size = "240 x 180 mm"\nlayout = "spread"',
    "phone": 'size = "75 x 162 mm"\nlayout = "single"',
}


@pytest.mark.parametrize("paper", PAPERS)
def test_a_divider_lists_and_links_what_is_behind_it(workshop, paper):
    """Names stand on the divider, and the links lead to the pages in their order; a section without pages has none."""
    recipe = replace(
        LOG,
        name=f"Divided {paper}",
        page=PAPERS[paper],
        sections=["Boats", "Tides"],
        section_pages={"Boats": [("deck-log", 3), ("watch-list", 2)]},
    )
    bundle = workshop(recipe)
    with pikepdf.open(bundle.notebook) as pdf:
        number = {p.objgen: i for i, p in enumerate(pdf.pages)}
        with pdf.open_outline() as outline:
            entries = list(outline.root)
            for entry in entries:
                entries.extend(entry.children)
            divider = {e.title: number[e.destination[0].objgen] for e in entries}
        to = lambda page: [number[a.Dest[0].objgen] for a in pdf.pages[page].Annots if "/Dest" in a]  # noqa: E731
        first = divider["Boats"]
        assert to(first)[-5:] == [first + n for n in range(1, 6)]
        width = float(pdf.pages[first].MediaBox[2])
        boxes = [[float(v) for v in a.Rect] for a in pdf.pages[first].Annots][-5:]
        # High enough for a finger: 10 mm is the tool's own measure, common practice, no source.
        assert all(top - low > 28 and right - left > 80 and 0 < left < right < width for left, low, right, top in boxes)
        assert not [p for p in to(divider["Tides"]) if divider["Boats"] < p < divider["Tides"]]
    said = tool.page_text(bundle.notebook, first)
    assert said.count("Deck log") == 3 and said.count("Watch list") == 2
