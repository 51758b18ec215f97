"""The page of changes in a real browser: readable without script, the slider by keys and mouse, no outside requests."""

import base64
import io
import json
import os
import re
from pathlib import Path

import pytest
from PIL import Image, ImageChops

import pairs
import tool

BROWSER = tool.ROOT / "tests/browser"


@pytest.fixture(scope="module")
def page(tmp_path_factory):
    """A page with a redrawn page, a new one, one that is gone, a recoloured sticker and changed terms."""
    folder = tmp_path_factory.mktemp("page")
    old, new = folder / "old", folder / "new"
    for side in (old, new):
        side.mkdir()
    book = pairs.notebook(old / "notebook.pdf")

    def edit(pdf):
        pdf.pages[3].contents_add(b"q 0.8 0.2 0.2 rg 300 300 120 80 re f Q")
        del pdf.pages[6]
        pdf.pages.insert(9, pdf.pages[2])
        pdf.pages[9].contents_add(b"q 0 0 0 rg 0 0 500 700 re f Q")

    pairs.edited(book, new / "notebook.pdf", edit)
    pairs.sticker(old / "bean.png")
    pairs.sticker(new / "bean.png", dot=True)
    Image.new("RGBA", (1500, 300), (200, 60, 60, 90)).save(new / "ribbon.png")
    (old / "licence-terms.txt").write_text("For one person.\nNo <b>resale</b>.\n")
    (new / "licence-terms.txt").write_text("For one household.\nNo <b>resale</b>.\n")
    html = folder / "changes.html"
    run = tool.sheafwright("diff", old, new, "--html", html)
    assert run.returncode == 1, run.stderr
    return html


@pytest.fixture(scope="module")
def seen(page):
    assert os.environ.get("SHEAFWRIGHT_BROWSER"), "SHEAFWRIGHT_BROWSER is not set: run bash tests/run, which installs the browser"
    return json.loads(tool.program("node", BROWSER / "changes.mjs", page))


def test_the_verdict_comes_first_and_licences_before_the_rest(page):
    text = page.read_text(encoding="utf-8")
    assert text.index("A major version") < text.index("At a glance") < text.index('id="changes"')
    files = re.findall(r'<details class="file[^"]*"[^>]*>\s*<summary><h3>([^<]+)', text)
    assert files[0] == "licence-terms.txt" and set(files[1:]) == {"bean.png", "notebook.pdf", "ribbon.png"}
    assert "No &lt;b&gt;resale" not in text.split("licence-terms.txt")[0] and "<b>resale" not in text


def test_what_came_and_went_is_shown_by_itself(page):
    text = page.read_text(encoding="utf-8")
    alone = re.findall(r'<figure class="alone"><figcaption>(\w+)</figcaption>.*? width="(\d+)" height="(\d+)"', text)
    # The ribbon is made smaller by its longer side.
    assert ("New", "1100", "220") in alone and "Gone" in {a[0] for a in alone}


def test_nothing_is_asked_of_other_computers(page, seen):
    text = page.read_text(encoding="utf-8")
    assert not re.findall(r"(?:src|href|url\()\s*=?[\"']?(?:https?:)?//", text)
    assert seen["diary"] == {"console": [], "requests": [page.as_uri()]}
    assert seen["plain"]["requests"] == [page.as_uri()]


def test_the_slider_goes_by_keys_and_by_mouse(seen):
    slider = seen["slider"]
    assert slider["begun"] == [50, "50 % before, 50 % now", True]
    assert slider["keys"]["ArrowRight"][0] == 51 and slider["keys"]["Home"][0] == 0 and slider["keys"]["End"][0] == 100
    assert all(edge.endswith(f"{value}%)") for value, edge in slider["keys"].values())
    assert slider["mouse"][:2] == [25, "25 % before, 75 % now"]
    assert slider["stacked"] and seen["overlay"] == ["over"] and seen["broken"] == 0


def test_without_script_both_pictures_are_there(seen):
    plain = seen["plain"]
    assert plain["before"] == plain["after"] == seen["viewers"] >= 2
    assert plain["ranges"] == 0 and plain["overlay"] == 1 and plain["verdict"] == "A major version"


def test_everybody_can_read_it(seen):
    assert seen["axe"] == {"light": [], "slider": [], "dark": []}
    assert seen["wide"] <= 0 and seen["ground"] == "rgb(25, 24, 21)"


def test_the_pictures_are_those_of_the_pages(page, tmp_path):
    """What the page shows of the redrawn page, against poppler's drawing of the same."""
    text = page.read_text(encoding="utf-8")
    shown = {}
    for name in ("before", "now"):
        data = re.search(rf'base64,([A-Za-z0-9+/=]+)" width="(\d+)" height="(\d+)" alt="Page 4: {name}"', text)
        shown[name] = Image.open(io.BytesIO(base64.b64decode(data[1]))).convert("L")
        assert shown[name].size == (int(data[2]), int(data[3])) and max(shown[name].size) == 1100
    for name, side in (("before", "old"), ("now", "new")):
        width, height = shown[name].size
        source = Path(page).parent / side / "notebook.pdf"
        size = ("-scale-to-x", width, "-scale-to-y", height)
        tool.program("pdftoppm", "-f", 4, "-l", 4, *size, "-gray", "-png", "-singlefile", source, tmp_path / name)
        theirs = Image.open(tmp_path / f"{name}.png").convert("L")
        small = [i.resize((110, 82), Image.Resampling.BOX) for i in (theirs, shown[name])]
        difference = ImageChops.difference(*small).histogram()
        mean = sum(value * count for value, count in enumerate(difference)) / sum(difference)
        assert mean < 4, mean
