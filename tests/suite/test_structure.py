"""How a notebook is put together: named pages, templates that are not offered, parts off or moved, long lists on dividers.

Pages, links, outline and labels are read with pikepdf, texts with poppler's pdftotext.
"""

import io
import itertools
import json
import re
from dataclasses import replace

import numpy
import pikepdf
import pytest
from PIL import Image

import tool
from products import Recipe

PARTS = ["cover", "welcome", "index", "sections", "overview", "templates"]

PLOT = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="148" height="210" viewBox="0 0 148 210">'
    '<text x="10" y="20" font-size="8">{{ name }} of {{ section }}</text>'
    '<text x="10" y="40" font-size="8">Soil: {{ data.soil }}, page {{ number }}</text>'
    '<rect id="link:page/south-bed" x="20" y="80" width="60" height="40" fill="#dde"/></svg>'
)


class Plot(Recipe):
    """A garden's log with named pages; `keys` stand under [notebook]."""

    keys = ""
    pages = (
        '{ template = "plot", name = "North bed", data = { soil = "clay" } }',
        '{ template = "plot", name = "South bed", data = { soil = "loam" } }',
        '{ template = "log", name = "First frost" }',
        '{ template = "log", count = 2 }',
    )
    behind_beds = ()

    def manifest(self):
        head = Recipe(self.name, page=self.page, coil=self.coil, templates=[]).manifest()
        return head.replace("[notebook]\n", f"[notebook]\n{self.keys}\n", 1) + (
            '[assets]\nown = ["art/*"]\n'
            f'[[notebook.section]]\nname = "Plots"\npages = [{", ".join(self.pages)}]\n'
            f'[[notebook.section]]\nname = "Beds"\npages = [{", ".join(self.behind_beds)}]\n'
            '[[notebook.template]]\nname = "Plot"\nart = "art/plot.svg"\noverview = false\nnavigation = "taps"\n'
            '[[notebook.template]]\nname = "Log"\nruling = "lined"\n'
            '[[notebook.template]]\nname = "Grid"\nruling = "square-grid"\n' + self.more
        )


def plot(name, **over):
    made = Plot(name, page=over.pop("page", 'size = "A5"\nlayout = "single"'), files={"art/plot.svg": PLOT.encode})
    for key, value in over.items():
        setattr(made, key, value)
    return made


class Book:
    """A notebook as read: entries of the outline with their pages, labels, links of each page, texts."""

    def __init__(self, path):
        self.path = path
        with pikepdf.open(path) as pdf:
            number = {p.objgen: i for i, p in enumerate(pdf.pages)}
            self.count = len(pdf.pages)
            self.labels = [p.label for p in pdf.pages]
            self.links = [
                [(number[a.Dest[0].objgen], [float(v) for v in a.Rect]) for a in p.get("/Annots", []) if "/Dest" in a]
                for p in pdf.pages
            ]
            self.entries = []
            with pdf.open_outline() as outline:
                queue = [(e, 0) for e in outline.root]
                while queue:
                    entry, depth = queue.pop(0)
                    self.entries.append((depth, entry.title, number[entry.destination[0].objgen]))
                    queue = [(c, depth + 1) for c in entry.children] + queue

    def at(self, title):
        (page,) = [p for _, t, p in self.entries if t == title]
        return page

    def to(self, page):
        return [target for target, _ in self.links[page]]

    def text(self, page):
        return " ".join(tool.page_text(self.path, page).split())

    def all_text(self):
        return " ".join(tool.program("pdftotext", self.path, "-").split())


def test_pages_with_names_and_data(workshop):
    bundle = workshop(plot("Named pages", keys='title = "Plots"'))
    book = Book(bundle.notebook)
    divider = next(p for d, t, p in book.entries if (d, t) == (1, "Plots"))
    assert [t for d, t, _ in book.entries if d == 2] == ["North bed", "South bed", "First frost"]
    assert [book.at(t) for t in ("North bed", "South bed", "First frost")] == [divider + 1, divider + 2, divider + 3]
    # The drawing says name, section and data of each page; the ruling has its name at the head.
    assert "North bed of Plots Soil: clay, page 1" in book.text(divider + 1)
    assert "South bed of Plots Soil: loam, page 2" in book.text(divider + 2)
    assert book.text(divider + 3).startswith("First frost")
    assert "First frost" not in book.text(divider + 4)
    # The divider lists them by their names, and leads to each.
    listed = book.text(divider)
    assert all(name in listed for name in ("North bed", "South bed", "First frost")) and listed.count("Log") == 2
    assert book.to(divider)[-5:] == [divider + n for n in range(1, 6)]
    # The drawing's own tap area leads to a page by its name, from every page that shows it.
    assert divider + 2 in book.to(divider + 1)
    # Labels: names where there are some, and numbers that go on behind them.
    assert book.labels[divider : divider + 7] == ["1", "North bed", "South bed", "First frost", "5", "6", "7"]
    # A template that is not offered has no page, no picture and no mention.
    assert "Plot" not in [t for _, t, _ in book.entries]
    assert len(set(book.to(book.at("Templates"))) & set(range(book.at("Templates") + 1, book.count))) == 2
    said = (bundle.folder / "listing/description.md").read_text()
    assert "2 page templates" in said and "- Plot\n" not in said
    guide = " ".join(tool.program("pdftotext", next(iter(bundle.of_kind("guide"))), "-").split())
    assert "brings 2 page templates" in guide


def test_a_link_by_name_finds_the_page_of_its_own_section_first(workshop):
    pages = ('{ template = "plot", name = "South bed", data = { soil = "sand" } }',)
    book = Book(workshop(plot("Twice named", behind_beds=pages)).notebook)
    plots, beds = (next(p for d, t, p in book.entries if (d, t) == (1, name)) for name in ("Plots", "Beds"))
    own = {page: [t for t in book.to(page) if t in (plots + 2, beds + 1)] for page in (plots + 1, beds + 1)}
    assert own[plots + 1] == [plots + 2] and own[beds + 1] == [beds + 1]


def test_pages_with_names_have_the_rules_of_their_template(workshop):
    """Whichever page of a template comes first: below its name it is drawn as the next one, as poppler draws both."""
    pages = [("log", "First frost"), ("log", "Last frost"), ("grid", "Beds drawn"), ("grid", "Paths drawn")]
    templates = [("Log", "lined", "{}"), ("Grid", "square-grid", "{}")]
    recipe = Recipe("Named Lines", page='size = "A5"\nlayout = "single"', sections=["Frost"], templates=templates, section_pages={"Frost": pages})
    notebook = workshop(recipe).notebook
    numbers = {title: number for _, title, number in Book(notebook).entries}

    def below(title):
        number = numbers[title] + 1
        grey = tool.program("pdftoppm", "-r", 72, "-gray", "-f", number, "-l", number, notebook, text=False)
        page = numpy.asarray(Image.open(io.BytesIO(grey))).astype(int)
        return page[page.shape[0] // 5 : page.shape[0] * 9 // 10, : page.shape[1] * 9 // 10]

    log, grid = below("First frost"), below("Beds drawn")
    assert (log == below("Last frost")).all() and (grid == below("Paths drawn")).all()
    # Rules cross the page in both, and more of it in a grid.
    inked = [(abs(page - numpy.median(page)) > 20).mean() for page in (log, grid)]
    assert 0.01 < inked[0] < inked[1] / 1.5


@pytest.mark.parametrize(
    ("pages", "said"),
    [
        (['{ template = "log", name = "One", count = 2 }'], "“One” is the name of one page"),
        (['{ template = "log", name = "One" }', '{ template = "log", name = "one" }'], "two pages of this section"),
        (['{ template = "log", name = "12" }'], "no letters that a place can be named by"),
        (['{ template = "plot", data = { clay = 1 } }'], "soil"),
        (['{ template = "log", title = "One" }'], "unknown key `title`"),
    ],
)
def test_faults_of_named_pages(tmp_path, pages, said):
    product = plot("Faulty", pages=pages).write(tmp_path / "p")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist")
    assert run.returncode == 2 and said in run.stderr, run.stderr


ORDERS = [
    ["cover", "index", "sections", "templates"],
    ["index", "sections"],
    ["sections", "index"],
    ["cover", "welcome", "sections", "overview", "templates", "index"],
    ["cover", "overview", "templates", "sections", "index"],
    ["cover", "overview", "sections", "templates", "welcome"],
    ["cover", "sections"],
    ["sections"],
]
SWITCHES = [(True, True, True), (False, True, True), (True, False, True), (True, True, False), (False, False, False)]
TITLES = {"cover": "Cover", "welcome": "Welcome", "index": "Index", "sections": "Sections", "overview": "Templates"}


@pytest.mark.parametrize(
    ("order", "switches", "coil"),
    [(o, s, c) for (o, s), c in zip(itertools.product(ORDERS, SWITCHES), itertools.cycle(["none", "top"]))],
)
def test_parts_off_and_moved(tmp_path, order, switches, coil):
    """Every part that there is stands where it was put; nothing leads to or speaks of one that is off."""
    dividers, foot, marks = switches
    low = lambda yes: str(yes).lower()  # noqa: E731
    keys = f"parts = {json.dumps(order)}\ndividers = {low(dividers)}\nfoot = {low(foot)}\nmarks = {low(marks)}"
    recipe = plot(
        f"Parted {'-'.join(order)} {switches} {coil}",
        keys=keys,
        coil=coil,
        pages=('{ template = "log", count = 3 }',),
        behind_beds=('{ template = "log" }',),
    )
    recipe.name = "Parted"
    product = recipe.write(tmp_path / "p")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist", "--json")
    assert run.returncode == 0, run.stdout + run.stderr
    (record,) = (tmp_path / "dist").glob("*/*/bundle.json")
    bundle = tool.Bundle(product, record.parent)
    book = Book(bundle.notebook)
    tops = [(t, p) for d, t, p in book.entries if d == 0]
    wanted = [TITLES[p] for p in order if p in TITLES]
    if "templates" in order and ("overview" not in order or order.index("templates") != order.index("overview") + 1):
        wanted.insert(order.index("templates") if "overview" in order else len([p for p in order[: order.index("templates")]]), "Template pages")
    assert [t for t, _ in tops] == wanted
    assert [p for _, p in tops] == sorted(p for _, p in tops) and tops[0][1] == 0
    # Pages: 3 and 1 behind the tabs, each with or without a divider; one page a part.
    ones = {"cover": 1, "welcome": 1, "index": 1, "sections": 4 + 2 * dividers, "overview": 1, "templates": 2}
    assert book.count == sum(ones[p] for p in order)
    # Both tabs stand on every page but the cover and lead to the sections' first pages.
    starts = [p for d, t, p in book.entries if d == 1 and t in ("Plots", "Beds")]
    for page in range("cover" in order and order[0] == "cover", book.count):
        if page == 0 and order[0] == "cover":
            continue
        assert set(starts) <= set(book.to(page)), page
    # Labels are all different.
    assert len(set(book.labels)) == len(book.labels), book.labels
    # The texts speak of what is there.
    guide = " ".join(tool.program("pdftotext", next(iter(bundle.of_kind("guide"))), "-").split())
    for said in [guide] + ([book.text(dict(tops)["Welcome"])] if "welcome" in order else []):
        assert ("index" in said.lower()) <= ("index" in order), said
        assert ("overview" in said.lower()) <= ("overview" in order), said
        assert ("divider" in said.lower()) <= dividers, said
        assert ("little squares" in said) <= ("templates" in order and marks), said
        assert ("little bars" in said) <= ("index" in order and marks and coil == "none"), said
        assert ("title at the foot" in said.lower()) <= foot, said
        assert ("emplate" in said) <= ("templates" in order), said
        assert "  " not in said and " ," not in said and " ." not in said
    described = (bundle.folder / "listing/description.md").read_text()
    assert ("divider page" in described) is dividers
    findings = json.loads(run.stdout)["findings"]
    broken = [f for f in findings if f["severity"] == "error" or f["check"].startswith(("link-", "outline-", "label"))]
    assert not broken, broken
    # Whoever starts at the first page comes to every other by taps where dividers list what is behind them.
    swiped = [f for f in findings if f["check"] == "page-only-swiped-to"]
    assert bool(swiped) <= (not dividers or not marks or ("templates" in order and "overview" not in order)), swiped
    # A build and a later check say the same.
    again = tool.sheafwright("check", bundle.folder, "--json")
    assert {f["check"] for f in json.loads(again.stdout)["findings"]} == {f["check"] for f in findings}


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ('parts = ["cover"]', "without sections has nothing to turn to"),
        ('parts = ["sections", "overview"]', "templates that have no pages"),
        ('parts = ["sections", "sections"]', "has each part once"),
        ('parts = ["sections", "indx"]', "did you mean `index`?"),
        ("parts = true", "`parts` takes a list"),
        ("dividers = false", "neither a divider nor pages"),
        ('dividers = false\ndivider = { art = "art/plot.svg" }', "dividers that there are none of"),
        ('parts = ["sections"]\nwelcome = "Hello"', "the notebook has no welcome"),
        ('parts = ["sections"]\nindex = { art = "art/plot.svg" }', "the notebook has no index"),
    ],
)
def test_faults_of_parts(tmp_path, keys, said):
    product = plot("Faulty", keys=keys).write(tmp_path / "p")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist")
    assert run.returncode == 2 and said in run.stderr, run.stderr


PAPERS = {
    "phone": 'size = "75 x 162 mm"\nlayout = "single"',
    "a5": 'size = "A5"\nlayout = "single"',
    "wide": 'size = "240 x 180 mm"\nlayout = "single"',
    "spread": 'size = "240 x 180 mm"\nlayout = "spread"',
}


@pytest.mark.parametrize("count", [9, 14, 40, 200])
@pytest.mark.parametrize("paper", PAPERS)
def test_a_divider_leads_on_to_all_that_is_behind_it(workshop, paper, count):
    """All pages are listed and linked, or the last line says how many more there are and leads to the first of them."""
    pages = tuple(f'{{ template = "log", name = "Bed {chr(97 + n // 26)}{chr(97 + n % 26)}" }}' for n in range(count))
    bundle = workshop(plot(f"Many {paper} {count}", page=PAPERS[paper], pages=pages))
    book = Book(bundle.notebook)
    divider = next(p for d, t, p in book.entries if (d, t) == (1, "Plots"))
    listed = [(t, r) for t, r in book.links[divider] if divider < t <= divider + count]
    assert [t - divider for t, _ in listed] == list(range(1, len(listed) + 1))
    text = book.text(divider)
    more = re.search(r"(\d+) more", text)
    assert bool(more) is (len(listed) < count)
    if more:
        assert int(more[1]) == count - len(listed) + 1
    least = {"phone": 11, "a5": 40, "wide": 14, "spread": 40}[paper]
    assert len(listed) >= min(count, least), len(listed)
    with pikepdf.open(bundle.notebook) as pdf:
        width, height = (float(v) for v in pdf.pages[divider].MediaBox[2:])
    for _, (left, low, right, high) in listed:
        # 44 CSS pixels at 264 dots to the inch: WCAG 2.2, 2.5.5, on a usual tablet.
        assert high - low >= 44 * 2 / 264 * 72 and right - left >= 60
        assert 0 < left < right < width and 0 < low < high < height
    for (_, a), (_, b) in itertools.combinations(listed, 2):
        assert min(a[2], b[2]) - max(a[0], b[0]) < 0.1 or min(a[3], b[3]) - max(a[1], b[1]) < 0.1
