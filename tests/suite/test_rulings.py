"""The pitch of rulings, measured on the drawn page: poppler draws it at 600 dpi, numpy finds the lines.

Usual pitches of the trade: fixtures/refs/rulings.csv.
"""

import csv
from dataclasses import replace

import numpy
import pytest
from PIL import Image

import tool
from products import Recipe
from reading import Reading
from tool import program

DPI = 600
MM = DPI / 25.4
ALLOWED = 0.05  # mm

with open(tool.ROOT / "tests/fixtures/refs/rulings.csv", encoding="utf-8", newline="") as table:
    USUAL = {row["name"]: float(row["mm"]) for row in csv.DictReader(table)}

ROWS = {
    "Wide": ("lined", '{ pitch = "wide" }', USUAL["wide/legal"]),
    "College": ("lined", '{ pitch = "college" }', USUAL["medium/college"]),
    "Narrow": ("lined", '{ pitch = "narrow" }', USUAL["narrow"]),
    "Usual": ("lined", "{}", USUAL["medium/college"]),
    "Own": ("lined", "{ pitch = 9.3 }", 9.3),
    "Margin": ("margin-ruled", "{ pitch = 8 }", 8.0),
    "Dots": ("dot-grid", "{}", USUAL["dot grid"]),
    "Fine dots": ("dot-grid", "{ pitch = 3.75 }", 3.75),
    "Squares": ("square-grid", "{}", USUAL["graph metric"]),
    "Quad": ("square-grid", "{ pitch = 6.35 }", USUAL["graph US"]),
}
GRIDS = [name for name, (ruling, _, _) in ROWS.items() if ruling in ("dot-grid", "square-grid")]

UPRIGHT = Recipe(
    "Ruler",
    page='size = "A5"\nlayout = "single"',
    sections=["One"],
    templates=[(name, ruling, parameters) for name, (ruling, parameters, _) in ROWS.items()],
)
SPREAD = replace(UPRIGHT, name="Long Ruler", page='size = "A4"\norientation = "landscape"\nlayout = "spread"', coil="middle")


@pytest.fixture(scope="session", params=[UPRIGHT, SPREAD], ids=["upright", "spread"])
def sheet(request, shelf, tmp_path_factory):
    """Darkness of a template's page, 0 for paper, as an array."""
    book = Reading(shelf(request.param).notebook)
    pages = {name: page for name, page, _ in book.entry("Templates")[2]}
    folder = tmp_path_factory.mktemp("drawn")

    def drawn(name):
        page = pages[name] + 1
        stem = folder / f"{page}"
        program("pdftoppm", "-r", DPI, "-gray", "-singlefile", "-f", page, "-l", page, book.path, stem)
        grey = numpy.asarray(Image.open(f"{stem}.pgm"), dtype=float)
        return grey

    drawn.spread = request.param is SPREAD
    return drawn


def window(grey, spread):
    """The middle of the first paper: no tab, coil, or foot reaches into it."""
    height, width = grey.shape
    across = (0.16, 0.36) if spread else (0.3, 0.7)
    return grey[int(height * 0.16) : int(height * 0.85), int(width * across[0]) : int(width * across[1])]


def lines(profile):
    """Where lines lie along a profile, in pixels: the centres of gravity of its dark runs."""
    dark = numpy.median(profile) - profile
    dark = numpy.where(dark > 0.12 * dark.max(), dark, 0)
    edges = numpy.flatnonzero(numpy.diff(numpy.concatenate(([0], dark > 0, [0])).astype(int)))
    runs = [slice(a, b) for a, b in zip(edges[::2], edges[1::2])]
    # A run that the window cuts has its centre elsewhere.
    whole = [run for run in runs if run.start > 0 and run.stop < len(dark)]
    return [float((numpy.arange(run.start, run.stop) * dark[run]).sum() / dark[run].sum()) for run in whole]


def assert_pitch(found, wanted):
    assert len(found) >= 8, f"{len(found)} lines"
    steps = numpy.diff(found) / MM
    assert numpy.abs(steps - wanted).max() <= ALLOWED, f"{wanted} mm wanted, steps from {steps.min()} to {steps.max()}"
    # No error adds up down the page.
    mean = (found[-1] - found[0]) / MM / (len(found) - 1)
    assert mean == pytest.approx(wanted, abs=0.005)


@pytest.mark.parametrize("name", ROWS)
def test_rows(name, sheet):
    assert_pitch(lines(window(sheet(name), sheet.spread).mean(axis=1)), ROWS[name][2])


@pytest.mark.parametrize("name", GRIDS)
def test_columns(name, sheet):
    assert_pitch(lines(window(sheet(name), sheet.spread).mean(axis=0)), ROWS[name][2])


def test_rules_are_mid_grey(sheet):
    """Rules are light enough to write over and dark enough to see: between 1.3 and 4 to 1 against the paper, by WCAG's
    formula for contrast (the range is common practice, no source)."""
    part = window(sheet("Wide"), sheet.spread)

    def luminance(grey):
        c = grey / 255
        return c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4

    paper, rule = float(numpy.median(part)), float(part.mean(axis=1).min())
    contrast = (luminance(paper) + 0.05) / (luminance(rule) + 0.05)
    assert 1.3 <= contrast <= 4


def test_ruling_ends_above_the_foot(sheet):
    """The last rule keeps at least half a pitch from the words and marks in the foot."""
    grey = sheet("College")
    height, width = grey.shape
    across = (0.16, 0.36) if sheet.spread else (0.3, 0.7)
    part = grey[int(height * 0.5) : int(height * 0.999), int(width * across[0]) : int(width * across[1])]
    found = lines(part.mean(axis=1)[: int(height * 0.49)])
    rules = [at for at, after in zip(found, found[1:]) if abs((after - at) / MM - 7.1) < ALLOWED] or found[:1]
    last = max(found, key=lambda at: at if at <= max(rules) + 7.2 * MM else -1)
    assert (height * 0.5 - last) / MM > 7.1 / 2
