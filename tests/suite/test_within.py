"""Sections within sections: tabs on the edge for sections, and along the pages of a section for those within it.

Pages, links, outline and labels are read with pikepdf, texts with poppler's pdftotext."""

import itertools
import json
import re

import pikepdf
import pytest

import agree
import tool
from products import Recipe
from test_structure import Book

PAPERS = {
    "phone": ('size = "75 x 162 mm"\nlayout = "single"', "none"),
    "upright": ('size = "A5"\nlayout = "single"', "top"),
    "wide": ('size = "240 x 180 mm"\nlayout = "single"', "none"),
    "spread": ('size = "240 x 180 mm"\nlayout = "spread"', "middle"),
    "left": ('size = "tablet-4x3"\nlayout = "single"\nhand = "left"', "none"),
}
TEMPLATES = [("Deck log", "lined", "{}"), ("Watch list", "checklist", "{}")]
SECTIONS = """
[[notebook.section]]
name = "Kitchen garden"
pages = [{ template = "deck-log", name = "Plan of the year" }]
[[notebook.section.section]]
name = "Beds"
pages = [{ template = "deck-log", name = "North bed" }, { template = "deck-log", name = "South bed" }]
[[notebook.section.section]]
name = "Compost"
colour = "#d8b98c"
[[notebook.section.section]]
name = "Fruit"
pages = [{ template = "watch-list", count = 3 }]
[[notebook.section]]
name = "Orchard"
[[notebook.section.section]]
[[notebook.section.section]]
[[notebook.section]]
name = "Tools"
pages = [{ template = "watch-list", count = 2 }]
"""
# What lies behind each divider: names of pages, and of sections within.
BEHIND = {
    "Kitchen garden": (["Plan of the year"], {"Beds": ["North bed", "South bed"], "Compost": [], "Fruit": ["", "", ""]}),
    "Orchard": ([], {"Section 2.1": [], "Section 2.2": []}),
    "Tools": (["", ""], {}),
}


def recipe(paper, more="", keys=""):
    page, coil = PAPERS[paper]
    return Recipe(f"Plot Log {paper}", page=page, coil=coil, templates=TEMPLATES, more=SECTIONS + more, keys=keys)


def expected(first):
    """Where everything is, counted from the first section's divider: sections, sections within, and pages of each."""
    at, sections, within, of = first, {}, {}, {}
    for section, (own, inner) in BEHIND.items():
        sections[section] = at
        of[at] = section
        at += 1
        for _ in own:
            of[at] = section
            at += 1
        for name, pages in inner.items():
            within[name] = at
            for _ in range(1 + len(pages)):
                of[at] = section
                at += 1
    return sections, within, of, at


@pytest.mark.parametrize("paper", PAPERS)
def test_two_levels_of_sections(tmp_path, paper):
    product = recipe(paper).write(tmp_path / "product")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist", "--json")
    assert run.returncode == 0, run.stdout + run.stderr
    (record,) = (tmp_path / "dist").glob("*/*/bundle.json")
    bundle = tool.Bundle(product, record.parent)
    book = Book(bundle.notebook)
    first = book.at("Kitchen garden")
    sections, within, of, end = expected(first)
    # The outline is nested: sections, what is within them, and named pages below either.
    rows = [(d, t, p) for d, t, p in book.entries if first <= p < end and t != "Sections"]
    wanted = []
    for section, (own, inner) in BEHIND.items():
        wanted.append((1, section, sections[section]))
        wanted += [(2, name, sections[section] + 1 + k) for k, name in enumerate(own) if name]
        for name, pages in inner.items():
            wanted.append((2, name, within[name]))
            wanted += [(3, leaf, within[name] + 1 + k) for k, leaf in enumerate(pages) if leaf]
    assert rows == wanted
    # Labels count on over dividers of both kinds, with names where pages have them.
    assert len(set(book.labels)) == book.count and book.labels[first] == "1"
    assert book.labels[first + 1 : first + 5] == ["Plan of the year", "3", "North bed", "South bed"]
    # A page has the tabs of all sections, and those within its own section; no other page has any of these.
    for page in range(1, book.count):
        inner = [within[name] for name in BEHIND[of[page]][1]] if page in of else []
        to = book.to(page)
        assert set(sections.values()) <= set(to), page
        others = set(within.values()) - set(inner)
        assert set(inner) <= set(to) and (page == book.at("Index") or not others & set(to)), page
    # The index and the divider of the section lead to those within; their dividers list their own pages.
    assert set(within.values()) <= set(book.to(book.at("Index")))
    for section, (own, inner) in BEHIND.items():
        listed = [sections[section] + 1 + k for k in range(len(own))] + [within[name] for name in inner]
        assert not listed or book.to(sections[section])[-len(listed) :] == listed
        for name, pages in inner.items():
            behind = [within[name] + 1 + k for k in range(len(pages))]
            assert not pages or book.to(within[name])[-len(pages) :] == behind
            assert section in book.text(within[name])
    # Tap areas: inside the page, apart, and the open tab at its place. 24 CSS pixels at 264 dots to the inch: WCAG 2.2, 2.5.8.
    with pikepdf.open(bundle.notebook) as pdf:
        width, height = (float(v) for v in pdf.pages[first].MediaBox[2:])
    places = set()
    for page in of:
        areas = [r for t, r in book.links[page] if t in within.values()][: len(BEHIND[of[page]][1])]
        for left, low, right, high in areas:
            assert 0 <= left < right <= width and 0 <= low < high <= height
            assert min(right - left, high - low) >= 24 * 2 / 264 * 72
        places.add((of[page], tuple(tuple(round(v, 2) for v in r) for r in areas)))
        for (_, a), (_, b) in itertools.combinations(book.links[page], 2):
            assert min(a[2], b[2]) - max(a[0], b[0]) < 0.1 or min(a[3], b[3]) - max(a[1], b[1]) < 0.1, (page, a, b)
    assert len(places) == len(BEHIND), "tabs of a section stay where they are on all of its pages"
    said = (bundle.folder / "listing/description.md").read_text(encoding="utf-8")
    assert "3 sections" in said and "There are 5 further tabs along the pages" in said
    found = [f for f in json.loads(run.stdout)["findings"] if f["severity"] != "note"]
    assert not found, found
    assert not agree.differences(run, tool.sheafwright("check", bundle.folder, "--json"))


def test_sections_within_without_dividers(tmp_path):
    text = SECTIONS.replace('name = "Compost"\ncolour = "#d8b98c"', 'name = "Compost"\npages = [{ template = "watch-list" }]')
    text = text.split('[[notebook.section]]\nname = "Orchard"')[0]
    product = Recipe("Undivided", page=PAPERS["upright"][0], templates=TEMPLATES, keys="dividers = false", more=text)
    bundle = tool.build(product.write(tmp_path / "p"), tmp_path / "dist")
    book = Book(bundle.notebook)
    first = book.at("Kitchen garden")
    assert [book.at(n) - first for n in ("Plan of the year", "Beds", "North bed", "Compost", "Fruit")] == [0, 1, 1, 3, 4]
    for page in range(first, first + 7):
        assert {first, first + 1, first + 3, first + 4} <= set(book.to(page))


def test_art_and_links_know_sections_within(tmp_path):
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 140"><rect id="link:section/1/section/2" width="40" height="30" x="5" y="5"/>'
        '<g id="link:section/1/section/*"><rect width="80" height="30" x="5" y="60"/></g>'
        '<text y="120" font-size="8">{% for s in within %}{{ s.number }} {{ s.name }}; {% endfor %}</text>'
        '<text y="135" font-size="8">{{ number }} of {{ sections | length }}: {{ sections[0].name }}</text></svg>'
    )
    text = SECTIONS.replace('name = "Tools"', 'name = "Tools"\nart = "art/tools.svg"\nfit = "fit"')
    text = text.replace('name = "Kitchen garden"', 'name = "Kitchen garden"\nart = "art/tools.svg"\nfit = "fit"')
    own = Recipe("Drawn", page=PAPERS["upright"][0], templates=TEMPLATES, more=text + '[assets]\nown = ["art/*"]\n', files={"art/tools.svg": svg.encode})
    book = Book(tool.build(own.write(tmp_path / "p"), tmp_path / "dist").notebook)
    assert "1 Beds; 2 Compost; 3 Fruit;" in book.text(book.at("Kitchen garden"))
    names = re.findall(r'^\[\[notebook\.section\]\]\nname = "(.*)"', text, flags=re.M)
    for name in ("Kitchen garden", "Tools"):
        assert f"{names.index(name) + 1} of {len(names)}: {names[0]}" in book.text(book.at(name))
    assert book.to(book.at("Tools")).count(book.at("Compost")) == 2


MANY = "".join("[[notebook.section.section]]\n" for _ in range(13))


@pytest.mark.parametrize(
    ("more", "keys", "said"),
    [
        ('[[notebook.section]]\nname = "Full"\n' + MANY, "", "13 sections within one are too many"),
        ("[[notebook.section]]\n[[notebook.section.section]]\n[[notebook.section.section.section]]\n", "", "unknown key `section`"),
        ('[[notebook.section]]\npages = [{ template = "deck-log" }]\n[[notebook.section.section]]\n', "dividers = false", "neither a divider nor pages"),
        ('[[notebook.section]]\nsection = 3\n', "", "section"),
        (
            '[[notebook.section]]\npages = [{ template = "deck-log", name = "One" }]\n[[notebook.section.section]]\n'
            'pages = [{ template = "deck-log", name = "one" }]\n',
            "",
            "two pages of this section",
        ),
    ],
)
def test_faults_of_sections_within(tmp_path, more, keys, said):
    product = Recipe("Faulty", page=PAPERS["upright"][0], templates=TEMPLATES, keys=keys, more=more)
    run = tool.sheafwright("build", product.write(tmp_path / "p"), "--out", tmp_path / "dist")
    assert run.returncode == 2 and said in run.stderr, run.stderr
    assert re.search(r"product\.toml:\d+:\d+", run.stderr)


PLANNER = '[calendar]\nfirst = "2027-01"\nmonths = 12\n[[notebook.dated]]\npages = "month"\n'


@pytest.mark.parametrize(("coil", "room"), [("none", True), ("top", False)])
def test_beside_a_row_of_months(tmp_path, coil, room):
    """Months along one edge, sections within along the other; where the coil has that, it is told."""
    page = 'size = "A5"\nlayout = "single"'
    keys = 'months = { edge = "top" }'
    product = Recipe("Months", page=page, coil=coil, templates=TEMPLATES, keys=keys, more=SECTIONS + PLANNER)
    run = tool.sheafwright("build", product.write(tmp_path / "p"), "--out", tmp_path / "dist")
    assert (run.returncode == 0) is room, run.stderr
    if not room:
        assert "leave no edge to the tabs" in run.stderr and "notebook.months.edge" in run.stderr
        return
    (notebook,) = (tmp_path / "dist").glob("*/*/contents/months.pdf")
    book = Book(notebook)
    first = book.at("Kitchen garden")
    taps = [r for t, r in book.links[first] if t == book.at("Compost")][0]
    assert taps[3] < 60, "along the bottom"
