"""Texts of our own speak of nothing that is not there: every part left out by itself, and pairs of them.

A part is known by the words that only stand where it is; texts are read as buyers get them, with poppler's pdftotext."""

import re

import pytest

import tool
from products import Recipe

TEMPLATES = [("Deck log", "lined", "{}"), ("Watch list", "checklist", "{}")]
STICKERS = '[[sticker]]\nmotif = "tally"\n[[sticker]]\nmotif = "star"\n'
COVERS = '[[cover]]\nname = "Slate"\n'
DATED = '[calendar]\nfirst = "2027-01"\nmonths = 2\n[[notebook.dated]]\npages = "month"\n[[notebook.dated]]\npages = "day"\n'
USUAL = ["cover", "welcome", "index", "sections", "overview", "templates"]

# What is left out, and the words that then stand nowhere in welcome page, guide, start-here and description.
PARTS = {
    "coil": r"\bcoil\b|\brings\b",
    "names": r"\bnever said\b",
    "index": r"\bindex\b",
    "overview": r"\boverview\b|small pictures? of the templates",
    "templates": r"\btemplates?\b",
    "dividers": r"\bdividers?\b",
    "foot": r"title at the foot",
    "marks": r"little squares|little bars",
    "stickers": r"\bstickers?\b",
    "sheets": r"sticker sheets?|\bFrom a sheet\b|stickers on sheets",
    "covers": r"alternate covers?|Change the cover|covers? to choose|covers?, to put",
    "guide": r"\bguide\b",
    "dated": r"\bmonths?\b(?! after)|Find a day|Go to a day",
}


def recipe(left_out, hand="right"):
    out = set(left_out)
    order = [p for p in USUAL if p not in out and not ("templates" in out and p == "overview")]
    low = lambda part: str(part not in out).lower()  # noqa: E731
    keys = f"parts = {order}\ndividers = {low('dividers')}\nfoot = {low('foot')}\nmarks = {low('marks')}".replace("'", '"')
    more = ("" if "covers" in out else COVERS) + ("" if "stickers" in out else STICKERS)
    if "sheets" in out:
        more += '[stickers]\nsheets = "none"\n'
    more += "" if "dated" in out else DATED
    more += "[guide]\nwanted = false\n" if "guide" in out else ""
    return Recipe(
        f"Fit {'-'.join(sorted(out)) or 'all'} {hand}",
        page=f'size = "A5"\nlayout = "single"\nhand = "{hand}"',
        coil="none" if "coil" in out else "top",
        sections=["", ""] if "names" in out else ["Boats", "Tides"],
        section_pages={n: [("deck-log", 2)] for n in (["", ""] if "names" in out else ["Boats", "Tides"])},
        keys=keys,
        templates=TEMPLATES,
        more=more,
    )


def texts(bundle):
    """What buyers read, by where it stands."""
    flat = lambda text: " ".join(text.split())  # noqa: E731
    out = {"start-here": flat((bundle.folder / "contents/start-here.txt").read_text(encoding="utf-8"))}
    out["description"] = flat((bundle.folder / "listing/description.md").read_text(encoding="utf-8"))
    for path in bundle.of_kind("guide"):
        out["guide"] = flat(tool.program("pdftotext", path, "-"))
    out["welcome"] = next((t for t in (flat(tool.page_text(bundle.notebook, n)) for n in (0, 1)) if t.startswith("Welcome")), "")
    return out


# Names of files and lists of sections say what they say.
ONE = [("names",), *((p,) for p in PARTS if p != "names")]
TWO = [("index", "coil"), ("index", "marks"), ("overview", "index"), ("templates", "dated"), ("templates", "names"), ("foot", "marks"), ("dividers", "names"), ("stickers", "covers"), ("dated", "coil"), ("dated", "index")]


@pytest.mark.parametrize("left_out", [(), *ONE, *TWO], ids=lambda out: "-".join(out) or "all")
def test_nothing_is_said_of_what_is_not_there(left_out, workshop):
    made = recipe(left_out)
    bundle = workshop(made)
    said = texts(bundle)
    name = made.name.lower()
    gone = set(left_out) | ({"overview", "marks"} if "templates" in left_out else set()) | ({"sheets"} if "stickers" in left_out else set())
    for where, text in said.items():
        # The product's own name, and names of its files, hold the words of its parts.
        text = re.sub(re.escape(name), "", text, flags=re.I)
        text = re.sub(re.escape(bundle.slug) + r"[\w./-]*", "", text)
        for part in gone:
            found = re.search(PARTS[part], text, re.I)
            assert not found, (where, part, text[max(0, found.start() - 80) : found.end() + 60])
    whole = " ".join(said.values())
    unnamed = "names" in left_out
    assert ("ame your sections" in whole) is unnamed
    assert "  " not in whole and " ," not in whole and " ." not in whole.replace(" ...", "")


def test_each_word_is_said_where_its_part_is(workshop):
    """A word that never stands anywhere proves nothing."""
    said = " ".join(texts(workshop(recipe(()))).values())
    silent = [p for p, words in PARTS.items() if not re.search(words, said, re.I)]
    assert silent == ["names"] or set(silent) <= {"names", "marks"}, silent


@pytest.mark.parametrize("hand", ["right", "left"])
def test_no_side_is_named_that_is_the_other_one(hand, workshop):
    said = " ".join(texts(workshop(recipe((), hand))).values())
    assert not re.search(rf"on the {hand}\b.{{0,30}}\btabs?\b|\btabs?\b.{{0,30}}\bon the (left|right)\b", said)
