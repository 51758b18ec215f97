"""Small capitals, figures among words, and icons in titles, read off pages by poppler."""

import numpy
import pytest

import tool
from reading import Reading, letters
from test_languages import told
from test_looks import ALONE, drawn, luminance, product

MEALS = '\n[[notebook.template]]\nname = "Meals of 7 days"\nruling = "meal-plan"\n'
# Cover, welcome, index, the divider of the first section, then its page.
PAGE = 4


def written(folder, style="", icon=""):
    folder = product(folder, style, more=MEALS, top=ALONE)
    manifest = folder / "product.toml"
    text = manifest.read_text(encoding="utf-8").replace('{ template = "lines" }', '{ template = "lines", name = "Drawer" }')
    manifest.write_text(text.replace('ruling = "lined"', f'ruling = "lined"\n{icon}'), encoding="utf-8")
    return folder


def built(folder, out, style="", icon=""):
    return tool.build(written(folder, style, icon), out)


@pytest.mark.parametrize("family", ["Work Sans", "Zilla Slab", "Libertinus Serif", "Playfair Display"])
def test_labels_in_small_capitals_are_read_as_they_are_written(family, tmp_path):
    fonts = f'fonts = {{ heading = "{family}", label = "{family}" }}'
    plain = built(tmp_path / "p", tmp_path / "d", fonts)
    small = built(tmp_path / "q", tmp_path / "e", f'{fonts}\ncapitals = "small"')
    last = len(Reading(plain.notebook).pages)
    assert letters(tool.page_text(plain.notebook, last - 1)) == letters(tool.page_text(small.notebook, last - 1))
    assert (drawn(plain.notebook, last) != drawn(small.notebook, last)).any()
    # The page of a section has no label of such a kind.
    assert (drawn(plain.notebook, PAGE + 1) == drawn(small.notebook, PAGE + 1)).all()


def test_a_font_without_small_capitals_keeps_its_letters_and_is_told(tmp_path):
    fonts = 'fonts = { label = "Lora" }'
    _, found = told(written(tmp_path / "p", f'{fonts}\ncapitals = "small"\nfigures = "oldstyle"'), tmp_path / "d")
    found = [f for f in found if f["check"] == "font-letters-missing"]
    assert len(found) == 2 and all("Lora-Regular" in f["message"] and "Work Sans" in f["message"] for f in found), found
    assert all(f["severity"] == "note" for f in found)
    _, found = told(written(tmp_path / "q", fonts), tmp_path / "e")
    assert not [f for f in found if f["check"] == "font-letters-missing"]


@pytest.mark.parametrize("manner", ["plain", "band", "flourish", "boxed", "side"])
@pytest.mark.parametrize("look", ["", 'look = "night-train"\n'])
def test_an_icon_of_a_template_stands_before_the_titles_of_its_pages(manner, look, tmp_path):
    style = f'{look}heading = "{manner}"'
    plain = built(tmp_path / "p", tmp_path / "d", style)
    marked = built(tmp_path / "q", tmp_path / "e", style, 'icon = "sprout"')
    readings = [Reading(bundle.notebook) for bundle in (plain, marked)]
    before, after = [next(w.rect for w in reading.words[PAGE] if w.text == "Drawer") for reading in readings]
    assert tool.page_text(plain.notebook, PAGE).split() == tool.page_text(marked.notebook, PAGE).split()
    # The title is moved along by an icon about as high as its capitals, and stays on its line.
    high = before[3] - before[1]
    assert 0.4 * high < after[0] - before[0] < 1.6 * high and after[1] == pytest.approx(before[1], abs=0.1)
    scale = 2
    x0, x1 = round(before[0] * scale), round(after[0] * scale) - 2
    strip = drawn(marked.notebook, PAGE + 1)[:, x0:x1]
    part = strip[round(before[1] * scale) : round(before[3] * scale)]
    ground = numpy.median(part.reshape(-1, 3), axis=0)
    ys, xs = numpy.nonzero(abs(part - ground).max(axis=2) > 40)
    # Of a hand's breadth of the title's height the icon takes a third at least, and reaches neither end.
    assert 0.3 * part.shape[0] < numpy.ptp(ys) < 0.95 * part.shape[0] and numpy.ptp(xs) > 0.3 * part.shape[0]
    tones = luminance(part.reshape(-1, 3))
    assert (tones.max() + 0.05) / (tones.min() + 0.05) > 2.5


def test_the_overview_shows_the_icon_beside_the_name(tmp_path):
    plain = built(tmp_path / "p", tmp_path / "d")
    marked = built(tmp_path / "q", tmp_path / "e", "", 'icon = "sprout"')
    pair = [Reading(bundle.notebook) for bundle in (plain, marked)]
    page = next(n for n, words in enumerate(pair[0].words) if {"Lines", "Margin"} <= {w.text for w in words})
    for name, moved in (("Lines", True), ("Margin", False)):
        left = [next(w.rect[0] for w in reading.words[page] if w.text == name) for reading in pair]
        assert (left[1] - left[0] > 2) == moved, (name, left)
