"""Every tap lands where it should.

How a link annotation must be made: ISO 32000-1, 12.5.6.5 (link annotations), 12.3.2.2 (explicit destinations), 12.5.3
(flags; bit 3 is Print). No public tool notices a link to a deleted page, so the page tree is asked here.
"""

from collections import deque
from decimal import Decimal
from itertools import combinations

import pikepdf
import pytest

import products
from reading import Reading, letters, overlap

HAIR = 0.01


@pytest.fixture(scope="session")
def readings():
    seen = {}

    def get(path):
        if path not in seen:
            seen[path] = Reading(path)
        return seen[path]

    return get


@pytest.fixture
def book(layout, readings):
    return readings(layout.notebook)


def sections(book):
    return book.entry("Sections")[2]


def chrome_pages(book):
    """Every page but the cover carries the whole navigation."""
    return [page for page in book.pages if page != book.entry("Cover")[1]]


def numeric(value):
    return isinstance(value, (int, float, Decimal)) and not isinstance(value, bool)


def test_every_annotation_is_a_sound_link(layout, readings):
    for path in layout.pdfs:
        book = readings(path)
        for page in book.pages:
            for annotation in book.annotations(page):
                where = f"{path.name}, page {page + 1}, {annotation.get('/Contents')}"
                assert annotation.Subtype == "/Link", where
                assert ("/Dest" in annotation) != ("/A" in annotation), where
                assert list(annotation.Border) == [0, 0, 0], where
                assert annotation.F == 4, where
                assert str(annotation.Contents).strip(), where
                if "/A" in annotation:
                    assert annotation.A.S == "/URI" and str(annotation.A.URI).startswith(("https://", "mailto:")), where
                    continue
                goal = annotation.Dest
                assert isinstance(goal, pikepdf.Array) and len(goal) == 5, where
                assert goal[0].is_indirect and goal[0].objgen in book.numbers, where
                assert goal[1] == "/XYZ" and goal[4] is None, where
                assert numeric(goal[2]) and numeric(goal[3]), where
                assert 0 <= goal[2] <= book.width and 0 <= goal[3] <= book.height + HAIR, where


def test_every_link_lies_on_its_page(layout, readings):
    for path in layout.pdfs:
        book = readings(path)
        for link in (link for page in book.links for link in page):
            left, top, right, bottom = link.rect
            assert -HAIR <= left < right <= book.width + HAIR, (path.name, link)
            assert -HAIR <= top < bottom <= book.height + HAIR, (path.name, link)


def test_no_link_lies_over_one_to_another_page(layout, readings):
    for path in layout.pdfs:
        for page in readings(path).links:
            for one, other in combinations(page, 2):
                if (one.target, one.says) != (other.target, other.says):
                    assert overlap(one.rect, other.rect) < HAIR, (path.name, one, other)


def test_tabs_lead_to_their_dividers_and_change_sides(layout, book):
    dividers = [page for _, page, _ in sections(book)]
    assert len(dividers) == len(layout.recipe.sections)
    assert dividers == sorted(dividers)
    index = book.entry("Index")[1]
    for page in chrome_pages(book):
        before = sum(1 for divider in dividers if divider <= page)
        # The page's own section is open; beyond the sections all have been passed.
        beyond = page >= book.entry("Templates")[1]
        for number, divider in enumerate(dividers):
            tabs = [link for link in book.links[page] if link.target == divider]
            if page == index:
                # The boxes of the index lead to dividers too; tabs are the ones at the edges of the page.
                tabs = [t for t in tabs if min(t.rect[0], book.width - t.rect[2]) < 8]
                tabs = sorted(tabs, key=lambda t: min(t.rect[0], book.width - t.rect[2]))[:1]
            assert len(tabs) == 1, f"page {page + 1} has {len(tabs)} tabs for section {number + 1}"
            passed = number < (before if beyond else before - 1)
            x, _ = tabs[0].centre
            assert (x < book.width / 2) == passed, f"page {page + 1}: tab {number + 1} is on the wrong side ({tabs[0]})"


def test_tabs_are_labelled_with_the_section_that_they_lead_to(layout, book):
    """A tab bears its section's name, or all bear their numbers where there are no names or no room for them."""
    for page in (book.entry("Welcome")[1], book.entry("Templates")[1]):
        labels = []
        for number, (title, divider, _) in enumerate(sections(book)):
            (tab,) = [link for link in book.links[page] if link.target == divider]
            found = book.letters_in(page, tab.rect)
            name = layout.recipe.sections[number] or str(number + 1)
            assert found in (letters(name), letters(str(number + 1))), (page, number, found)
            assert title in tab.says
            labels.append(found == letters(str(number + 1)))
        unnamed = [not name for name in layout.recipe.sections]
        assert labels == unnamed or all(labels), "numbers and names are mixed"


def test_tabs_stand_in_order_and_do_not_move_up_or_down(book):
    dividers = [page for _, page, _ in sections(book)]
    heights = set()
    for page in [p for p in chrome_pages(book) if p != book.entry("Index")[1]]:
        tops = [next(link.rect[1] for link in book.links[page] if link.target == d) for d in dividers]
        assert tops == sorted(tops) and len(set(tops)) == len(tops)
        heights.add(tuple(round(top, 2) for top in tops))
    assert len(heights) == 1


def test_dividers_show_number_and_name_of_their_section(layout, book):
    for number, (title, page, _) in enumerate(sections(book)):
        words = [word.text for word in book.words[page]]
        assert str(number + 1) in words
        name = layout.recipe.sections[number]
        assert title == (name or f"Section {number + 1}")
        text = " ".join(words)
        assert not name or name in text, f"divider {number + 1} does not say {name!r}: {text}"


def test_rings_lead_to_the_index(layout, book):
    index = book.entry("Index")[1]
    for page in chrome_pages(book):
        rings = [link for link in book.links[page] if link.target == index]
        if layout.recipe.coil == "none":
            assert len(rings) == 1, f"page {page + 1}: one mark leads to the index"
            continue
        assert len(rings) >= 4, f"page {page + 1}"
        along, across = (1, 0) if layout.recipe.coil == "middle" else (0, 1)
        assert len({round(ring.centre[across], 2) for ring in rings}) == 1, "the rings stand in one line"
        steps = [b - a for a, b in zip(*[sorted(r.centre[along] for r in rings)[n:] for n in (0, 1)])]
        assert max(steps) - min(steps) < 0.05, "the rings stand at even distances"
        if layout.recipe.coil == "middle" and "toolbar-edge" not in layout.recipe.page:
            assert abs(rings[0].centre[0] - book.width / 2) < 1


def test_every_page_leads_to_the_overview_and_to_the_cover(book):
    for goal in ("Templates", "Cover"):
        target = book.entry(goal)[1]
        for page in chrome_pages(book):
            found = [link for link in book.links[page] if link.target == target]
            # Where the overview has several pages, the arrow back to its first one stands in the head, and says so.
            arrows = [link for link in found if link.says.endswith(tuple(f" 1 / {n}" for n in range(2, 99)))]
            assert all(goal == "Templates" and link.centre[1] < book.height / 2 for link in arrows)
            assert len(arrows) <= 1
            found = [link for link in found if link not in arrows]
            assert len(found) == 1, f"page {page + 1} has {len(found)} links to {goal}"
            assert found[0].centre[1] > book.height / 2, "both are in the foot"


def test_the_cover_opens_the_book(book):
    assert [link.target for link in book.links[book.entry("Cover")[1]]] == [book.entry("Index")[1]]


def test_index_has_number_and_box_of_every_section(layout, book):
    page = book.entry("Index")[1]
    chrome = {(link.rect, link.target) for link in book.links[book.entry("Welcome")[1]]}
    own = [link for link in book.links[page] if (link.rect, link.target) not in chrome]
    for number, (title, divider, _) in enumerate(sections(book)):
        parts = sorted((link for link in own if link.target == divider), key=lambda link: link.rect[0])
        assert len(parts) == 2, f"section {number + 1}"
        figure, box = parts
        assert abs(figure.rect[2] - box.rect[0]) < HAIR, "number and box touch, so that no tap falls between them"
        assert book.letters_in(page, figure.rect) == letters(str(number + 1))
        assert book.letters_in(page, box.rect) == letters(layout.recipe.sections[number])
        assert title in figure.says and title in box.says
    assert len(own) == 2 * len(sections(book))


def test_small_pictures_lead_to_the_template_of_that_name(layout, book):
    _, overview, templates = book.entry("Templates")
    names = [name for name, _, _ in templates]
    assert names == [name for name, _, _ in layout.recipe.templates]
    first = templates[0][1]
    assert [page for _, page, _ in templates] == list(range(first, first + len(names)))
    found = {}
    for page in range(overview, first):
        for link in book.links[page]:
            if link.target >= first:
                assert link.target not in found, f"two pictures of {names[link.target - first]}"
                found[link.target] = book.letters_in(page, link.rect)
                assert names[link.target - first] in link.says
    for name, page, _ in templates:
        # On a phone a long name may be cut short, with a mark that says so.
        short = "…" in found[page]
        assert not short or layout.recipe.name == "Pocket Log"
        assert found[page] == letters(name) or short and set(found[page]) - {"…"} <= set(name), name


def test_every_page_is_reached_from_the_index(layout, book):
    start = book.entry("Index")[1]
    seen, queue = {start}, deque([start])
    while queue:
        for link in book.links[queue.popleft()]:
            if link.target >= 0 and link.target not in seen:
                seen.add(link.target)
                queue.append(link.target)
    missed = set(book.pages) - seen
    # The welcome pages are read on the way in, behind the cover. On a single page a divider has no room for a list: what
    # lies behind it is reached by leafing.
    leafed = set(range(book.entry("Welcome")[1], start))
    if "spread" not in layout.recipe.page:
        leafed |= set(range(book.entry("Sections")[1], book.entry("Templates")[1]))
    assert missed <= leafed
    for page in missed:
        assert any(before in seen for before in range(page - 10, page)), f"page {page + 1} is too far to leaf to"


@pytest.mark.parametrize("page", ['size = "A5"\nlayout = "single"', 'size = "A4"\norientation = "landscape"\nlayout = "spread"'])
def test_an_overview_of_several_pages_is_turned_by_taps(workshop, page):
    """Every template is reached from the index by taps alone, however many pages the overview takes."""
    many = [(f"{name} {n}", ruling, with_) for n in range(1, 17) for name, ruling, with_ in products.TEMPLATES]
    bundle = workshop(products.Recipe("Long Voyage", page=page, sections=["Boats", "Tides"], templates=many))
    book = Reading(bundle.notebook)
    _, overview, templates = book.entry("Templates")
    first = templates[0][1]
    assert first - overview > 2
    seen, queue = {book.entry("Index")[1]}, deque([book.entry("Index")[1]])
    while queue:
        fresh = {link.target for link in book.links[queue.popleft()] if link.target >= 0} - seen
        seen |= fresh
        queue.extend(fresh)
    assert set(range(overview, len(book.pdf.pages))) <= seen
    for number in range(overview, first):
        turns = {link.target: link.says for link in book.links[number] if overview <= link.target < first and "/" in link.says}
        assert set(turns) == {n for n in (number - 1, number + 1) if overview <= n < first}
        for target, says in turns.items():
            assert says == f"Go to Templates {target - overview + 1} / {first - overview}"


def test_covers_and_sheets_have_no_links(full, readings):
    paths = [p for kind in ("covers", "sheet") for p in full.of_kind(kind) if p.suffix == ".pdf"]
    assert len(paths) == 2
    for path in paths:
        book = readings(path)
        assert all(book.annotations(page) == [] for page in book.pages), path.name


def test_outline_leads_where_its_titles_say(layout, book):
    assert [title for title, _, _ in book.outline] == ["Cover", "Welcome", "Index", "Sections", "Templates"]
    cover, welcome, index, section, overview = (page for _, page, _ in book.outline)
    assert (cover, welcome) == (0, 1) and index > welcome and section > index and overview > section
    assert "Index" in [word.text for word in book.words[index]]
    assert "Templates" in [word.text for word in book.words[overview]]
