"""What buyers are told is true of the variant that it is told of: random products, and every number counted again.

A usual run takes 25 products; SHEAFWRIGHT_RANDOM=500 takes as many, SHEAFWRIGHT_RANDOM=200-400 those from 200 on.
"""

import json
import os
import re
from dataclasses import replace

import pikepdf
import pytest

import agree
import matrix
import products
import told
import tool

FIRST, _, LAST = os.environ.get("SHEAFWRIGHT_RANDOM", "25").rpartition("-")


@pytest.mark.parametrize("seed", range(int(FIRST or 0), int(LAST)))
def test_every_number_is_found_again(seed, tmp_path):
    product = told.recipe(seed).write(tmp_path / "product")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist", "--json")
    assert run.returncode == 0, run.stdout + run.stderr
    (record,) = (tmp_path / "dist").glob("*/*/bundle.json")
    bundle = tool.Bundle(product, record.parent)
    counted = told.Counted(bundle)
    read = {reader.__name__: reader(bundle, counted) for reader in told.READERS}
    # A reader that reads nothing proves nothing.
    assert all(read.values()), {name: len(list_) for name, list_ in read.items()}
    wrong = [(what, said, true) for rows in read.values() for what, said, true in rows if said != true]
    assert not wrong, "\n".join(f"{said} is said, {true} is so: {what}" for what, said, true in wrong)
    # A build and a later check of what it left say the same.
    again = tool.sheafwright("check", bundle.folder, "--json")
    assert not agree.differences(run, again)


COUNTS = """<svg xmlns="http://www.w3.org/2000/svg" width="{{ w }}" height="{{ h }}">
<rect width="100%" height="100%" fill="#ffffff"/>
LINES
</svg>"""
LINE = '{{ words(text=%s, x=60, y=%s, width=w * 0.9, size=48, font="label") }}'
# What the usual layouts say of a notebook, of its covers and of its stickers, with their figures.
SAID = {
    "cover": ("line", "{notebook pages}-page hyperlinked notebook"),
    "fan": ("title", "{notebook pages} pages, {links} links"),
    "templates": ("title", "{templates} page templates"),
    "tabs": ("title", "{sections} tabs, one tap away"),
    "covers": ("title", "{covers} covers"),
    "stickers": ("title", "{stickers} stickers"),
}


def one_is_no_plural(words):
    return re.sub(r"^1 (cover|sticker|tab|page template)s", r"1 \1", words)


@pytest.mark.parametrize("seed", [3, 5, 8, 11, 19, 22])
def test_every_figure_on_a_listing_picture_is_found_again(seed, tmp_path):
    """Pictures that say what was counted in the finished files are the same, byte for byte, as those that count themselves."""
    recipe = told.recipe(seed)
    plain = tool.build(recipe.write(tmp_path / "plain"), tmp_path / "plain-dist")
    counted = told.Counted(plain)
    figures, lead = told.on_pictures(counted), counted.all()[0]
    have = {"cover", "fan", "templates", "tabs"} | ({"covers"} if lead["covers"] else set()) | ({"stickers"} if lead["stickers"] else set())
    with pikepdf.open(plain.folder / next(p for p in counted.of((counted.variants or [None])[0]) if counted.kinds[p] == "notebook")) as pdf, pdf.open_outline() as outline:
        tops = {e.title for e in outline.root}
    have -= ({"templates"} if not lead["templates"] else set()) | ({"cover"} if "Cover" not in tops else set())
    kinds = [k for k in SAID if k in have]
    nouns = [("notebook pages", "page"), ("links", "link"), ("sections", "section"), ("templates", "template"), ("covers", "cover"), ("stickers", "sticker")]
    lines = [(figures[what], noun if figures[what] == "1" else noun + "s") for what, noun in nouns if figures[what] != "0"]
    own = "".join("\n" + LINE % (f'"{n} {noun}"', 80 + 70 * i) for i, (n, noun) in enumerate(lines))
    counts = "{% for c in counts %}" + LINE % ('c.number ~ " " ~ c.noun', "80 + 70 * loop.index0") + "{% endfor %}"
    taken = []
    for name, page in [("usual", counts), ("literal", own)]:
        pictures = '[[picture]]\nlayout = "art/counts.svg"\nname = "counts"\nsize = "900 x 700"\n'
        for kind in kinds:
            key, words = SAID[kind]
            words = one_is_no_plural(words.format(**figures))
            pictures += f'[[picture]]\nlayout = "{kind}"\nsize = "600 x 450"\n' + (f'{key} = "{words}"\n' if name == "literal" else "")
        text = recipe.manifest() + "\n" + pictures
        folder = recipe.write(tmp_path / name)
        (folder / "art").mkdir()
        (folder / "art/counts.svg").write_text(COUNTS.replace("LINES", page), encoding="utf-8")
        (folder / "product.toml").write_text(text, encoding="utf-8")
        bundle = tool.build(folder, tmp_path / "dist")
        taken.append({p.name: p.read_bytes() for p in (bundle.folder / "listing/pictures").iterdir()})
    assert len(taken[0]) == len(kinds) + 1 and len(kinds) > 2
    assert [name for name in taken[0] if taken[0][name] != taken[1].get(name)] == []


def wrong(bundle):
    """Texts in which a check of this folder finds a wrong figure."""
    found = json.loads(tool.sheafwright("check", bundle, "--json").stdout)["findings"]
    return {f["file"].rsplit("/", 1)[-1] for f in found if f["check"] == "claim-wrong"}


@pytest.mark.parametrize("recipe", [matrix.CREEL_LOG, products.FULL_PRODUCT], ids=["variants", "plain"])
@pytest.mark.parametrize("text", ["contents/start-here.txt", "listing/description.md"])
def test_every_figure_that_is_told_is_held_by_a_check(recipe, text, tmp_path):
    """Each figure made another one, one at a time: of what all have, and of what a variant has."""
    bundle = tool.build(recipe.write(tmp_path / "product"), tmp_path / "dist").folder
    assert not wrong(bundle)
    path = bundle / text
    whole = path.read_text(encoding="utf-8")
    begin = whole.index("What each file is") if "start-here" in text else 0
    counted = r"\b(\d+)(?=[ \n]+(?:pages?|covers?|stickers?|pictures?|page templates?|sections?|links?)\b)"
    figures = [m for m in re.finditer(counted, whole) if m.start() > begin]
    assert len(figures) > 3
    for found in figures:
        # Three more: a notebook's own cover may be counted with the others or not.
        path.write_text(f"{whole[: found.start()]}{int(found[1]) + 3}{whole[found.end() :]}", encoding="utf-8")
        if int(found[1]) > 20 or "start-here" in text:
            assert wrong(bundle) == {path.name}, whole[found.start() - 60 : found.end() + 40]
    path.write_text(whole, encoding="utf-8")


@pytest.mark.parametrize("said", ["You have {} stickers", "A notebook of {} pages", "The notebook brings {} page templates"])
def test_a_guide_of_ones_own_states_true_figures(said, tmp_path):
    figures = {"You have {} stickers": 5, "A notebook of {} pages": 22, "The notebook brings {} page templates": 7}
    for add in (0, 4):
        text = "# How to\n\n" + said.format(figures[said] + add) + " for all that you do.\n"
        recipe = replace(products.FULL_PRODUCT, more=products.FULL + '[guide]\ntext = "texts/guide.md"\n', files={**products.FULL_FILES, "texts/guide.md": text.encode})
        run = tool.sheafwright("build", recipe.write(tmp_path / f"p{add}"), "--out", tmp_path / f"d{add}", "--json")
        told_of = [f["message"] for f in json.loads(run.stdout)["findings"] if f["check"] == "claim-wrong"]
        assert bool(told_of) is bool(add), told_of


@pytest.mark.parametrize(("count", "told_of"), [(2, 0), (11, 0), (12, 11), (13, 12), (40, 39)])
def test_a_run_of_pages_that_are_only_swiped_to_is_told_whole(count, told_of, tmp_path):
    """Behind a tab without a divider only the first page is tapped: of the others all are told, or, where few swipes lead
    there, none."""
    recipe = products.Recipe("Swiped Log", page='size = "A5"\nlayout = "single"', keys="dividers = false", sections=["Boats", "Tides"], section_pages={"Boats": [("deck-log", count)], "Tides": [("deck-log", 1)]}, templates=products.TEMPLATES[:1])
    product = recipe.write(tmp_path / "product")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist", "--json")
    bundle = tool.Bundle(product, next((tmp_path / "dist").glob("*/*/bundle.json")).parent)
    with pikepdf.open(bundle.notebook) as pdf, pdf.open_outline() as outline:
        number = {p.objgen: i for i, p in enumerate(pdf.pages)}
        first = next(number[e.destination[0].objgen] for top in outline.root for e in top.children if e.title == "Boats")
    found = sorted(f["page"] for f in json.loads(run.stdout)["findings"] if f["check"] == "page-only-swiped-to")
    assert found == [first + 1 + n for n in range(1, count)][:told_of] and len(found) == told_of
    # The report says it in one line, as a run.
    said = tool.sheafwright("check", bundle.folder).stdout
    assert said.count("page-only-swiped-to") == bool(told_of)
    assert f"on {told_of} pages ({first + 2}-{first + count})" in said or not told_of


EIGHT = '[variants.size]\nsmall = {}\nlarge = { page.size = "A4" }\n[variants.hand]\nright = {}\nleft = { page.hand = "left" }\n[variants.colourway]\nmoss = {}\nclay = { style.accent = "#a4553a" }\n'


def test_what_is_so_in_all_variants_is_told_once(tmp_path):
    """Eight notebooks of which the same is to be said: once, with the places; where one has more to it, that alone is more."""
    pages = {"Boats": [("deck-log", 20)], "Tides": [("deck-log", 1)]}
    base = products.Recipe("Eight Log", page='size = "A5"\nlayout = "single"', keys="dividers = false", sections=["Boats ⛵", "Tides"], templates=products.TEMPLATES[:1])
    base = replace(base, section_pages={"Boats ⛵": pages["Boats"], "Tides": pages["Tides"]}, more=EIGHT)
    product = base.write(tmp_path / "product")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist")
    said = run.stdout + run.stderr
    # A character that no font has stops the build; it is told for each of its fonts, at its line.
    assert run.returncode == 1 and said.count("font-glyph-missing") == 1 and said.count("line 16, column 8") == 2
    assert said.count("page-only-swiped-to") == 1 and said.count("no tap leads to this page") == 1, said
    listed = re.search(r"(contents/\S+\.pdf)\nand just so ([^\n]+)\n  note page-only-swiped-to, 19 times", said)
    assert len({listed[1], *listed[2].split(", ")}) == 8
    # What only the large pages have is told of them alone.
    alone = re.findall(r"(contents/\S+\.pdf)\nand just so ([^\n]+)\n  note tap-area-small", said)
    assert len(alone) <= 1 and all("small-" not in file + also for file, also in alone)
    # Other programs get each place.
    found = json.loads(tool.sheafwright("build", product, "--out", tmp_path / "dist", "--json").stdout)["findings"]
    assert len({f["file"] for f in found if f["check"] == "page-only-swiped-to"}) == 8


def test_the_text_to_read_first_groups_paths(tmp_path):
    """Thirty-five stickers in eight variants: a line for each kind of file, not for each path; all folders are named."""
    recipe = products.Recipe("Eight Log", page='size = "A5"\nlayout = "single"', sections=["Boats"], templates=products.TEMPLATES[:1], more=EIGHT.replace("clay = {", 'clay = { stickers.padding = "2 mm",') + "".join(f'[[sticker]]\nmotif = "star"\nname = "star-{n}"\nlongest = "{9 + n} mm"\n' for n in range(35)))
    bundle = tool.build(recipe.write(tmp_path / "product"), tmp_path / "dist").folder
    start = (bundle / "contents/start-here.txt").read_text(encoding="utf-8")
    loose = [p for p in (bundle / "contents").rglob("*") if p.is_file()]
    assert len(loose) > 280
    listed = [line for line in start.splitlines() if line.startswith("- ")]
    assert len(listed) < 40 and "star-7.png" not in start
    for variant in json.loads((bundle / "bundle.json").read_text(encoding="utf-8"))["variants"]:
        assert f"{variant['name']}/" in start
