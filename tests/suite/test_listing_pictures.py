"""Listing pictures: sizes, formats, pages and numbers are those of the finished files; limits and bad layouts are told."""

import io
import json
import re

import pikepdf
import products
import pytest
import tool
from PIL import Image, ImageChops, ImageStat

PAGES = """
[[picture]]
layout = "pictures/page.svg"
name = "flat"
size = "1200 x 900"
pages = ["index"]

[[picture]]
layout = "inside"
size = "1000 x 750"
format = "jpeg"
quality = 90

[[picture]]
layout = "flip-through"
size = "480 x 360"
pages = ["index", "section/2", 3]
pause = 0.5

[limits]
pictures = 3
picture-pixels = 1200
picture-megabytes = 2
"""

FLAT = """<svg xmlns="http://www.w3.org/2000/svg" width="{{ w }}" height="{{ h }}">
<rect width="100%" height="100%" fill="#ffffff"/>
<image href="{{ pages[0].href }}" x="100" y="100" width="1000" height="{{ 1000 * pages[0].h / pages[0].w }}" preserveAspectRatio="none"/>
</svg>"""

PICTURED = products.Recipe(
    "Pictured Log",
    page='size = "240 x 180 mm"\nlayout = "spread"',
    coil="middle",
    sections=["Boats", "Tides", "Crew"],
    section_pages={"Tides": [("tide-table", 2)]},
    more=products.FULL.replace("Harbour Log", "Pictured Log") + PAGES,
    files={**products.FULL_FILES, "pictures/page.svg": lambda: FLAT.encode()},
)


def pictures(bundle):
    return sorted((bundle.folder / "listing/pictures").iterdir())


@pytest.fixture(scope="module")
def taken(shelf):
    return shelf(PICTURED)


def test_files_formats_and_sizes(taken):
    flat, inside, flip = pictures(taken)
    assert [p.name for p in (flat, inside, flip)] == ["01-flat.png", "02-inside.jpg", "03-flip-through.gif"]
    for path, form, size in ((flat, "PNG", (1200, 900)), (inside, "JPEG", (1000, 750)), (flip, "GIF", (480, 360))):
        with Image.open(path) as picture:
            picture.load()
            assert (picture.format, picture.size) == (form, size)
    assert {p["kind"] for p in taken.record["files"] if "/pictures/" in p["path"]} == {"picture"}
    # They are for the shop's own form, never among what buyers download.
    assert not [p for p in (taken.folder / "upload").rglob("*") if p.suffix in (".jpg", ".gif")]
    sums = (taken.folder / "SHA256SUMS").read_text()
    assert "listing/pictures/02-inside.jpg" in sums


def test_a_page_on_a_picture_is_the_page_of_the_file(taken):
    flat = Image.open(pictures(taken)[0]).convert("RGB")
    width, height = tool.page_size(taken.notebook)
    high = round(1000 * height / width)
    pixels = tool.program("pdftoppm", "-f", 3, "-l", 3, "-scale-to-x", 1000, "-scale-to-y", high, "-png", taken.notebook, text=False)
    page = Image.open(io.BytesIO(pixels)).convert("RGB")
    crop = flat.crop((100, 100, 1100, 100 + high))
    assert max(ImageStat.Stat(ImageChops.difference(crop, page)).mean) < 2.0
    # Another page is far from it, so that the measure means something.
    other = tool.program("pdftoppm", "-f", 1, "-l", 1, "-scale-to-x", 1000, "-scale-to-y", high, "-png", taken.notebook, text=False)
    other = Image.open(io.BytesIO(other)).convert("RGB")
    assert max(ImageStat.Stat(ImageChops.difference(crop, other)).mean) > 20.0


def test_a_flip_through_moves_and_loops(taken):
    with Image.open(pictures(taken)[2]) as flip:
        assert flip.info["loop"] == 0
        durations = []
        for frame in range(flip.n_frames):
            flip.seek(frame)
            durations.append(flip.info["duration"])
    # Three pages of half a second; index to section and section to page are links, each with a tap of four steps.
    assert len(durations) == 3 + 4 or len(durations) == 3 + 8
    assert durations.count(500) == 3
    assert sum(durations) < 10_000


def small(folder, layout, tmp_path, expect=0, more=""):
    """Builds a product with one picture of this layout; gives the process."""
    recipe = products.Recipe(
        "Counted Log",
        page=PICTURED.page,
        sections=PICTURED.sections,
        more=products.FULL + '[[picture]]\nlayout = "pictures/own.svg"\npages = [1]\nsize = "600 x 450"\n' + more,
        files={**products.FULL_FILES, "pictures/own.svg": layout.encode},
    )
    run = tool.sheafwright("build", recipe.write(folder), "--out", tmp_path / "dist", "--json")
    assert run.returncode == expect, run.stdout + run.stderr
    return run


SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="{{ w }}" height="{{ h }}">\n%s\n</svg>'


def test_numbers_on_a_picture_are_those_of_the_files_and_small_words_are_told(tmp_path):
    # Words too small to read come back in the findings, so that what stands on the picture can be read here.
    rows = '{% for c in counts %}<text x="20" y="{{ 40 + loop.index * 30 }}" font-size="9">{{ c.number }} {{ c.noun }}</text>{% endfor %}'
    large = '<text x="20" y="420" font-size="30">Large enough</text><text x="580" y="300" font-size="30">Runs out</text>'
    run = small(tmp_path / "p", SVG % (rows + large), tmp_path, expect=1)
    found = json.loads(run.stdout)["findings"]
    told = [f["message"] for f in found if f["check"] == "picture-text-small"]
    words = {re.search("\u201c(.*)\u201d", m)[1] for m in told}
    assert [f["message"] for f in found if f["check"] == "picture-text-cut"] == ["\u201cRuns out\u201d runs out of the picture"]
    # The build is stopped by the cut words; without them its files can be counted.
    small(tmp_path / "p", SVG % rows, tmp_path)
    (folder,) = [p.parent for p in (tmp_path / "dist").glob("*/*/bundle.json")]
    with pikepdf.open(folder / "contents/counted-log.pdf") as pdf:
        links = sum(1 for page in pdf.pages for a in page.get("/Annots", []) if "/Dest" in a)
        pages = len(pdf.pages)
    with pikepdf.open(folder / "contents/counted-log-covers.pdf") as pdf:
        covers = len(pdf.pages)
    stickers = len(list((folder / "contents/stickers").glob("*.png")))
    expected = {f"{pages} pages", f"{links} links", f"3 sections", f"{len(products.TEMPLATES)} templates"}
    assert words == expected | {f"{covers} covers", f"{stickers} stickers"}
    # Capitals of Noto Sans are 0.714 em high (its OS/2 table): 9 px on 600 are 3.2 px on 300.
    assert all("3.2 px" in message for message in told)


@pytest.mark.parametrize(
    "inside, place, says",
    [
        ('<text x="9"\n y="9">{{ numbr }}</text>', "own.svg:3:11", "numbr"),
        ('<image href="https://example.org/a.png" width="9" height="9"/>', "own.svg:2:14", "outside"),
        ('<image href="file:///etc/hostname" width="9" height="9"/>', "own.svg:2:14", "outside"),
        ("<script>alert(1)</script>", "own.svg:2:1", "<script>"),
        ('<rect onclick="go()" width="9" height="9"/>', "own.svg:2:7", "onclick"),
        ('<image href="page/99" width="9" height="9"/>', "own.svg:2:14", "page/99"),
        ("<g><rect></g>", "own.svg:2:", "XML"),
        ("{% if w %}", "own.svg:", "cannot be filled"),
        ("{{ sheet(page=pages[7], x=1, y=1, w=9) }}", "own.svg:2:", ""),
        ('{{ words(text="a", x=1, y=1, width=9, size=9, font="comic") }}', "own.svg:2:", "heading"),
    ],
)
def test_bad_layouts_are_told_with_their_place(tmp_path, inside, place, says):
    run = small(tmp_path / "p", SVG % inside, tmp_path, expect=2)
    assert place in run.stderr and says in run.stderr, run.stderr
    assert "panicked" not in run.stderr


def test_bad_entries_are_told_together(tmp_path):
    entries = """
[[picture]]
layout = "covr"

[[picture]]
layout = "cover"
size = "20 x 30"
format = "gif"

[[picture]]
layout = "pictures/none.svg"
"""
    recipe = products.Recipe("Bad Log", page=PICTURED.page, sections=["A"], more=entries)
    run = tool.sheafwright("build", recipe.write(tmp_path / "p"), "--out", tmp_path / "dist")
    assert run.returncode == 2
    for words in ("did you mean `cover`?", "300 to 8000 pixels", "does not move", "no such file"):
        assert words in run.stderr, run.stderr


def test_limits_of_the_shop(tmp_path):
    more = "[limits]\npictures = 1\npicture-pixels = 500\npicture-megabytes = 0.001\n"
    two = '[[picture]]\nlayout = "pictures/own.svg"\npages = [1]\nsize = "400 x 300"\n'
    rect = '<rect width="300" height="200" fill="#aa5500"/><image href="page/1" x="10" y="10" width="200" height="150"/>'
    run = small(tmp_path / "p", SVG % rect, tmp_path, expect=1, more=two + more)
    told = {(f["check"], f["file"]) for f in json.loads(run.stdout)["findings"]}
    assert ("too-many-pictures", "listing/pictures") in told
    assert ("picture-side-too-long", "listing/pictures/01-own.png") in told
    assert ("picture-too-heavy", "listing/pictures/01-own.png") in told
    assert ("picture-side-too-long", "listing/pictures/02-own-2.png") not in told


def test_twice_the_same_bytes(taken, tmp_path):
    again = tool.build(taken.product, tmp_path / "dist")
    assert tool.tree(again.folder / "listing") == tool.tree(taken.folder / "listing")


def test_pictures_are_read_by_check(taken):
    run = tool.sheafwright("check", *pictures(taken), "--json")
    report = json.loads(run.stdout)
    assert run.returncode == 0 and [f["kind"] for f in report["files"]] == ["png", "picture", "picture"]


def shown(parts, tmp_path, more="", keys=""):
    """The usual pictures of a notebook with these parts, small, by name."""
    recipe = products.Recipe("Spare Log", page='size = "A5"\nlayout = "single"', keys=f"parts = {json.dumps(parts)}\n{keys}", templates=products.TEMPLATES[:2], sections=["Boats", "Tides"], more=more)
    bundle = tool.build(recipe.write(tmp_path / "product"), tmp_path / "dist")
    return [p.name[3:-4] for p in pictures(bundle)]


def test_the_usual_pictures_show_what_is_there(tmp_path):
    """Nothing but sections: no closed notebook, no templates; all else is shown by the pages that there are."""
    assert shown(["sections"], tmp_path, more="[pictures]\nusual = true\n") == ["inside", "fan", "tabs", "frame", "flip-through"]


@pytest.mark.parametrize("gone", ["cover", "welcome", "index", "overview", "templates"])
def test_pictures_of_a_notebook_without_a_part(gone, tmp_path):
    parts = [p for p in ["cover", "welcome", "index", "sections", "overview", "templates"] if p != gone and (gone, p) != ("templates", "overview")]
    wanted = [k for k in ["cover", "inside", "fan", "templates", "tabs", "frame"] if k != gone]
    more = "".join(f'[[picture]]\nlayout = "{k}"\nsize = "400 x 300"\n' for k in wanted)
    assert shown(parts, tmp_path, more=more) == wanted


@pytest.mark.parametrize(("gone", "layout"), [("cover", "cover"), ("templates", "templates")])
def test_a_picture_of_a_part_that_is_not_there_is_told(gone, layout, tmp_path):
    parts = [p for p in ["cover", "index", "sections", "templates"] if p != gone]
    recipe = products.Recipe("Spare Log", keys=f"parts = {json.dumps(parts)}", templates=products.TEMPLATES[:2], more=f'[[picture]]\nlayout = "{layout}"\n')
    run = tool.sheafwright("build", recipe.write(tmp_path / "product"), "--out", tmp_path / "dist")
    assert run.returncode == 2 and f"the layout `{layout}` has nothing to show" in run.stderr and f'"{gone}" among its parts' in run.stderr


def test_pictures_of_a_planner_without_sections(tmp_path):
    dated = '[calendar]\nfirst = "2027-01"\nmonths = 2\n[[notebook.dated]]\npages = "month"\n'
    small = "".join(f'[[picture]]\nlayout = "{k}"\nsize = "400 x 300"\n' for k in ["cover", "inside", "fan", "frame"])
    recipe = products.Recipe("Spare Planner", templates=products.TEMPLATES[:1], more=dated + small)
    bundle = tool.build(recipe.write(tmp_path / "product"), tmp_path / "dist")
    assert len(pictures(bundle)) == 4
    usual = tool.sheafwright("build", products.Recipe("Spare Planner", templates=products.TEMPLATES[:1], more=dated + '[[picture]]\nlayout = "tabs"\n').write(tmp_path / "p"), "--out", tmp_path / "d")
    assert usual.returncode == 2 and "a notebook with sections" in usual.stderr


USUAL = {
    "one section": dict(sections=["Boats"]),
    "long names": dict(sections=[f"Correspondence of the {n}th watch" for n in range(1, 9)]),
    "many sections": dict(sections=[f"Pier {n}" for n in range(1, 25)]),
    "no names": dict(sections=["", "", ""]),
    "stickers and covers": dict(sections=["Boats"], more=products.FULL, files=products.FULL_FILES),
}
PAPERS = {
    "A4 spread": 'size = "A4"\nlayout = "spread"',
    "A5": 'size = "A5"\nlayout = "single"',
    "phone": 'size = "phone-2x1"\nlayout = "single"',
}
TAKEN = [*((kind, "A5") for kind in USUAL), ("long names", "A4 spread"), *((kind, "phone") for kind in ("long names", "stickers and covers"))]


@pytest.mark.parametrize(("kind", "paper"), TAKEN)
def test_the_usual_pictures_are_legible(kind, paper, workshop):
    """What the tool composes by itself is never found to be too small to read, nor anything else of a picture."""
    made = {**USUAL[kind]}
    more = made.pop("more", "").replace("Harbour Log", "Usual Log") + "\n[pictures]\nusual = true\n"
    bundle = workshop(products.Recipe("Usual Log", page=PAPERS[paper], more=more, **made))
    assert len(pictures(bundle)) >= 4
    assert [f for f in bundle.record["findings"] if f["check"].startswith("picture-")] == []


PLANNER = """
name = "Ferry Log 2027"
version = "1.0.0"
released = 2026-11-01
language = "en-GB"
shop = { name = "Fernhill Paper", contact = "help@fernhill.example" }
guide = { wanted = false }
[page]
size = "%s"
[calendar]
first = "2027-01"
first-day = "monday"
week-numbers = "iso"
[[calendar.event]]
name = "Low water"
on = "2027-05-11"
[[notebook.dated]]
pages = "month"
[[notebook.dated]]
pages = "week"
[[notebook.dated]]
pages = "day"
weekdays = "%s"
"""

SEEN = """
[[picture]]
layout = "%s"
size = "800 x 600"
[[picture]]
layout = "%s"
size = "800 x 600"
[[picture]]
layout = "pictures/own.svg"
size = "600 x 450"
pages = ["month/2027-05", "week/2027-W19", "day/2027-05-11", "index"]
"""

# Words too small to read come back in the findings; a picture of a planner tells its figures in that way.
FIGURES = SVG % (
    '{% for p in pages %}<text x="20" y="{{ 20 + loop.index * 20 }}" font-size="9">{{ loop.index }}: {{ p.said }}</text>{% endfor %}'
    '<text x="20" y="120" font-size="9">{% for k in facts.dated.kinds %}{{ k.place }} {% endfor %}</text>'
    '<text x="20" y="140" font-size="9">{{ facts.dated.years }}; {{ facts.dated.months }}; {{ facts.dated.every }}</text>'
    '{% for c in counts %}<text x="20" y="{{ 180 + loop.index * 20 }}" font-size="9">{{ c.number }} {{ c.noun }}</text>{% endfor %}'
)


@pytest.mark.parametrize(
    "days, count, every",
    [("all", "365 days", "Every month, week and day"), ("workdays", "261 days", "Months, weeks and days")],
)
def test_a_planner_is_shown_by_its_dates(tmp_path, days, count, every):
    # 261 Mondays to Fridays and 53 ISO weeks touch 2027: numpy.busday_count('2027-01-01', '2028-01-01') and isocalendar.
    product = tmp_path / "p"
    (product / "pictures").mkdir(parents=True)
    (product / "pictures/own.svg").write_text(FIGURES)
    (product / "product.toml").write_text(PLANNER % ("tablet-4x3", days) + SEEN % ("year", "dates"))
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist", "--json")
    assert run.returncode == 0, run.stdout + run.stderr
    told = [f["message"] for f in json.loads(run.stdout)["findings"] if f["check"] == "picture-text-small"]
    words = {re.search("\u201c(.*)\u201d", m)[1] for m in told}
    # What the picture shows belongs together: the one day with an event, its ISO week (isocalendar) and its month.
    assert "month/2027-05 week/2027-W19 day/2027-05-11" in words
    assert {"1: 12 months", "2: 53 weeks", f"3: {count}", "4:", f"2027; January to December 2027; {every}", count} <= words
    (folder,) = [p.parent for p in (tmp_path / "dist").glob("*/*/bundle.json")]
    assert [p.name for p in sorted((folder / "listing/pictures").iterdir())] == ["01-year.png", "02-dates.png", "03-own.png"]


def test_a_notebook_without_dates_has_no_picture_of_dates(tmp_path):
    entries = '[[picture]]\nlayout = "dates"\n[[picture]]\nlayout = "year"\n'
    recipe = products.Recipe("Plain Log", page=PICTURED.page, sections=["A"], more=entries)
    run = tool.sheafwright("build", recipe.write(tmp_path / "p"), "--out", tmp_path / "dist")
    assert run.returncode == 2
    for words in ("the layout `dates` has nothing to show", "the layout `year` has nothing to show", "[calendar]"):
        assert words in run.stderr, run.stderr
