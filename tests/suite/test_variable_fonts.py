"""Variable fonts at a stated weight: what is embedded has the outlines and advances that fontTools' instancer works out."""

import io
from pathlib import Path

import matplotlib
import pikepdf
import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables.TupleVariation import TupleVariation
from fontTools.varLib.instancer import instantiateVariableFont

import products
import tool
from test_languages import told

DEJAVU = Path(matplotlib.get_data_path()) / "fonts/ttf/DejaVuSans.ttf"


def variable():
    """DejaVu Sans with an axis of weights of our own: every point moves with its place, and advances grow."""
    font = TTFont(DEJAVU)
    subset = Subsetter(Options(layout_features=[], notdef_outline=True, hinting=False))
    subset.populate(unicodes=range(0x20, 0x17F))
    subset.subset(font)
    for glyph in font["name"].names:
        if glyph.nameID in (1, 4, 6, 16):
            glyph.string = "Hedgerow" if glyph.nameID != 6 else "Hedgerow-Regular"
    made = FontBuilder(font=font)
    made.setupFvar([("wght", 100, 400, 900, "Weight")], [])
    moves = {}
    for name in font.getGlyphOrder():
        points, _ = font["glyf"]._getCoordinatesAndControls(name, font["hmtx"].metrics)
        heavy = [(x // 20 + n % 3, y // 40) for n, (x, y) in enumerate(points[:-4])] + [(0, 0), (90, 0), (0, 0), (0, 0)]
        light = [(-(x // 30), 0) for x, _ in points[:-4]] + [(0, 0), (-60, 0), (0, 0), (0, 0)]
        moves[name] = [TupleVariation({"wght": (0, 1, 1)}, heavy), TupleVariation({"wght": (-1, -1, 0)}, light)]
    made.setupGvar(moves)
    made.setupStat([{"tag": "wght", "name": "Weight", "values": [{"value": 400, "name": "Regular", "flags": 2}]}])
    out = io.BytesIO()
    font.save(out)
    return out.getvalue()


FILE = variable()


def recipe(font):
    return products.Recipe(
        "Ebb Flo",
        sections=["Ebb", "Flo"],
        more=f'[style.fonts]\nlabel = {font}\n[assets]\nown = ["fonts/*"]\n',
        files={"fonts/Hedge.ttf": lambda: FILE},
    )


def drawn(font):
    """Of each glyph that has an outline the shape of it without numbers, and its numbers: advance and coordinates."""
    glyphs = font.getGlyphSet()
    out = {}
    for name in font.getGlyphOrder():
        pen = DecomposingRecordingPen(glyphs)
        glyphs[name].draw(pen)
        if pen.value and name != ".notdef":
            numbers = [glyphs[name].width] + [v for _, points in pen.value for point in points if point for v in point]
            out.setdefault(str([(how, len(points)) for how, points in pen.value]), []).append(numbers)
    return out


def strange(have, wanted, off):
    """Glyphs for which there is none of the same shape with every number within so many units."""
    near = lambda one, other: max(abs(a - b) for a, b in zip(one, other, strict=True)) <= off  # noqa: E731
    return [one for shape, all_of in have.items() for one in all_of if not any(near(one, other) for other in wanted.get(shape, []))]


@pytest.mark.parametrize("weight", [100, 250, 400, 650, 900])
def test_a_stated_weight_is_what_is_embedded(workshop, weight):
    bundle = workshop(recipe(f'{{ file = "fonts/Hedge.ttf", weight = {weight} }}'))
    embedded = []
    with pikepdf.open(bundle.notebook) as pdf:
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/FontDescriptor" and "Hedgerow" in str(thing.FontName):
                embedded.append(TTFont(io.BytesIO(thing.FontFile2.read_bytes())))
    assert embedded
    wanted = drawn(instantiateVariableFont(TTFont(io.BytesIO(FILE)), {"wght": weight}))
    usual = drawn(instantiateVariableFont(TTFont(io.BytesIO(FILE)), {"wght": 400}))
    for font in embedded:
        have = drawn(font)
        # Between the ends of the axis both round every coordinate, and need not agree on a half.
        assert have and not strange(have, wanted, 1), strange(have, wanted, 1)[:1]
        assert bool(strange(have, usual, 1)) == (weight != 400)
    assert all("fvar" not in font for font in embedded)


@pytest.mark.parametrize(
    "font,says",
    [
        ('{ file = "fonts/Hedge.ttf", weight = 950 }', "from 100 to 900"),
        ('{ file = "NotoSans-Regular", weight = 600 }', "one weight alone"),
        ('{ weight = 600 }', "file"),
        ('{ file = "fonts/Hedge.ttf", heavy = 600 }', "heavy"),
    ],
)
def test_a_weight_that_cannot_be_is_refused(tmp_path, font, says):
    run = tool.sheafwright("build", recipe(font).write(tmp_path / "product"), "--out", tmp_path / "dist")
    assert run.returncode != 0 and says in run.stdout + run.stderr and "product.toml" in run.stdout + run.stderr


def test_a_weight_that_nobody_states_is_told(tmp_path):
    _, found = told(recipe('"fonts/Hedge.ttf"').write(tmp_path / "one"), tmp_path)
    (note,) = [f for f in found if f["check"] == "font-weight-unsaid"]
    assert "400" in note["message"] and "900" in note["message"] and note["severity"] == "note"
    _, found = told(recipe('["NotoSans-Regular", { file = "fonts/Hedge.ttf", weight = 400 }]').write(tmp_path / "two"), tmp_path)
    assert not [f for f in found if f["check"] == "font-weight-unsaid"], found


def test_paper_is_that_of_the_region(tmp_path):
    """Letter in the regions of CLDR's `paperSize` for it (release 47, supplemental measurement data, from memory; glibc's LC_PAPER
    has the same but for Belize, and Bolivia besides)."""
    for tongue, points in {"en-US": (612, 792), "fr-CA": (612, 792), "es-MX": (612, 792), "es-ES": (595, 842), "fr": (595, 842), "en": (612, 792), "de-AT": (595, 842)}.items():
        product = products.Recipe("Ebb", page='size = "paper"', sections=["Ebb"]).write(tmp_path / tongue)
        manifest = product / "product.toml"
        manifest.write_text(manifest.read_text(encoding="utf-8").replace('language = "en-GB"', f'language = "{tongue}"'), encoding="utf-8")
        bundle = tool.build(product, tmp_path / f"dist-{tongue}")
        assert tuple(round(side) for side in tool.page_size(bundle.notebook)) == points, tongue
