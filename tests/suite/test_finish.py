"""What is stamped into the boards of covers and fitted to them, read back with pikepdf and poppler."""

import json

import numpy
import pikepdf
import pytest

import tool
from test_looks import colour, drawn, product, share_of

WORDS = {
    "label-shape": "rectangle oval arch tape plaque".split(),
    "foil": "gold silver copper rose-gold black pearl".split(),
    "stamp": "sprig sun moon compass rule".split(),
    "quarter": "plain linen kraft leather wood".split(),
    "corner-pieces": "metal cloth".split(),
    "stitching": "spine round".split(),
    "elastic": "upright twin corners".split(),
    "ribbons": [1, 2, 3],
}
BOARD = "#2f4a5c"
# A sample of the sizes that notebooks have, with a spread among them.
SIZES = {"90 x 195 mm": "single", "A6": "single", "A5": "single", "tablet-4x3": "single", "240 x 180 mm": "spread", "297 x 210 mm": "spread"}


def values():
    """Every value once, and three covers that have a value of every key."""
    for key, words in WORDS.items():
        yield from ({key: word} for word in words)
    for n in range(3):
        yield {key: words[n % len(words)] for key, words in WORDS.items()}


def toml(cover):
    return "".join(f"{key} = {json.dumps(value)}\n" for key, value in cover.items())


def covers(folder, out, size="A5", style="", kind="flat", which=None, more="", coil="top"):
    """A product with a cover for each value: its covers' file, and the values in the order of its pages."""
    made = list(values()) if which is None else which
    text = "".join(f'\n[[cover]]\nname = "Cover {n}"\ndesign = "{kind}"\ncolour = "{BOARD}"\nline = "Words at the foot"\n{toml(cover)}' for n, cover in enumerate(made))
    made_folder = product(folder, style, more=text + more)
    manifest = made_folder / "product.toml"
    text = "guide.wanted = false\npictures.usual = false\n" + manifest.read_text(encoding="utf-8").replace('"240 x 180 mm"', f'"{size}"')
    if SIZES[size] == "single":
        text = text.replace('layout = "spread"\ncoil = "middle"', f'layout = "single"\ncoil = "{coil}"')
    manifest.write_text(text, encoding="utf-8")
    bundle = tool.build(made_folder, out, "--strict")
    (found,) = (p for p in bundle.of_kind("covers") if "contents" in p.parts)
    return found, made


@pytest.mark.parametrize("size", SIZES)
def test_every_value_keeps_label_and_title(size, tmp_path):
    """The words stand there once, the label is as blank as without, and what is stamped is drawn with paths and shadings alone."""
    path, made = covers(tmp_path / "p", tmp_path / "d", size)
    with pikepdf.open(path) as pdf:
        for n, cover in enumerate(made, start=1):
            page = pdf.pages[n]
            assert "".join(tool.page_text(path, n).split()) == "Wordsatthefoot", cover
            resources = page.get("/Resources", {})
            pictures = list(resources.get("/XObject", {}))
            grained = cover.get("quarter", "plain") != "plain" or cover.get("corner-pieces") == "cloth"
            assert bool(pictures) == grained, (cover, pictures)
            shadings = list(resources.get("/Shading", {}).values())
            assert all(s.ShadingType == 2 and s.ColorSpace == "/DeviceRGB" for s in shadings)
            shaded = {"foil", "elastic", "ribbons"} & set(cover) or cover.get("corner-pieces") == "metal" or cover.get("label-shape") == "plaque"
            assert bool(shadings) == bool(shaded), cover
            assert "/Annots" not in page
    for n, cover in enumerate(made, start=1):
        pixels = drawn(path, n + 1, dpi=100)
        height, width = pixels.shape[:2]
        # The heart of the label, which every shape has: paper, and lines to write on.
        y, x = round(height * 0.385), width // 2
        heart = pixels[y - height // 60 : y + height // 60, x - width // 14 : x + width // 14]
        assert share_of(heart, "#fdfbf6") > 0.6, cover
        tones = {tuple(tone) for tone in heart.reshape(-1, 3)}
        assert all(min(tone) > 140 for tone in tones), (cover, tones)


@pytest.mark.parametrize("kind", ["flat", "framed", "banded", "patterned"])
def test_every_value_goes_with_every_design_light_and_dark(kind, tmp_path):
    """No check has anything to say; and every value is seen."""
    style = 'paper = "#20242b"\nink = "#eeeae2"\nmaterial = "linen"'
    path, made = covers(tmp_path / "p", tmp_path / "d", style=style, kind=kind, which=[{}, *values()])
    plain = drawn(path, 2, dpi=60)
    for n, cover in enumerate(made[1:], start=3):
        same = cover == {"label-shape": "rectangle"}
        assert (abs(drawn(path, n, dpi=60) - plain).max() > 8) != same, cover


def test_foil_is_light_and_dark_metal_and_costs_little(tmp_path):
    plain, _ = covers(tmp_path / "p", tmp_path / "d", kind="framed", which=[{}])
    foiled, _ = covers(tmp_path / "q", tmp_path / "e", kind="framed", which=[{"foil": "gold", "stamp": "sprig"}])
    assert foiled.stat().st_size - plain.stat().st_size < 12_000
    pixels = drawn(foiled, 2).reshape(-1, 3)
    gold = pixels[(pixels[:, 0] > pixels[:, 2] + 30) & (pixels[:, 0] > 120)]
    assert len(gold) > 3000
    assert gold.sum(axis=1).max() - gold.sum(axis=1).min() > 200, "one flat yellow is no foil"


def test_a_look_of_ones_own_says_how_boards_are_finished(tmp_path):
    """A style gives every cover its finish, and a cover says otherwise for itself."""
    style = 'foil = "copper"\nribbons = 2\nquarter = "plain"\nquarter-colour = "#123456"\nelastic = "twin"\ntrim = "#b01030"'
    which = [{}, {"quarter": "none", "ribbons": 0, "elastic": "none"}]
    path, _ = covers(tmp_path / "p", tmp_path / "d", style=style, which=which)
    own, other = drawn(path, 2), drawn(path, 3)
    assert share_of(own, "#123456") > 0.04 and share_of(other, "#123456") == 0
    red = [(abs(page - numpy.array(colour("#b01030"))).max(axis=2) < 40).mean() for page in (own, other)]
    assert red[0] > 0.005 and red[1] < 0.0005, red
    foot = own[-round(own.shape[0] * 0.012) :]
    assert (abs(foot - numpy.array(colour("#b01030"))).max(axis=2) < 60).any(), "a ribbon hangs out at the foot"


def test_a_pad_is_bound_at_its_top(tmp_path):
    """Its quarter strip lies along the top edge of the board from side to side, in both directions of writing."""
    path, _ = covers(tmp_path / "p", tmp_path / "d", which=[{"quarter": "plain", "quarter-colour": "#123456"}])
    page = drawn(path, 2)
    strip = (abs(page - numpy.array(colour("#123456"))).max(axis=2) <= 2).nonzero()
    assert strip[0].mean() / page.shape[0] < 0.2 and 0.45 < strip[1].mean() / page.shape[1] < 0.55
    assert (strip[1].max() - strip[1].min()) / page.shape[1] > 0.85


def test_from_right_to_left_the_spine_changes_sides_and_words_do_not(tmp_path):
    which = [{"quarter": "plain", "quarter-colour": "#123456", "foil": "gold", "ribbons": 1}]
    left, _ = covers(tmp_path / "p", tmp_path / "d", which=which, coil="none")
    folder = tmp_path / "q"
    covers_text = (tmp_path / "p/product.toml").read_text(encoding="utf-8")
    folder.mkdir()
    (folder / "product.toml").write_text('language = "he"\n' + covers_text, encoding="utf-8")
    bundle = tool.build(folder, tmp_path / "e")
    (right,) = (p for p in bundle.of_kind("covers") if "contents" in p.parts)
    sides = []
    for path in (left, right):
        page = drawn(path, 2)
        strip = numpy.nonzero((abs(page - numpy.array(colour("#123456"))).max(axis=2) <= 2).any(axis=0))[0]
        sides.append(strip.mean() / page.shape[1])
    assert sides[0] < 0.2 and sides[1] > 0.8, sides
    assert "Wordsatthefoot" in "".join(tool.page_text(right, 1).split())
    # The foil lies on the very letters: where words stand nothing but gold and board is seen, and as much of it on both.
    shares = []
    for path in (left, right):
        page = drawn(path, 2, dpi=200)
        height = page.shape[0]
        words = page[round(height * 0.88) : round(height * 0.95), page.shape[1] // 4 : -page.shape[1] // 4]
        shares.append((abs(words - numpy.array(colour(BOARD))).max(axis=2) > 40).mean())
    assert shares[0] > 0.02 and shares[0] == pytest.approx(shares[1], rel=0.15), shares


@pytest.mark.parametrize(
    ("cover", "says"),
    [
        ('foil = "tin"', "gold"),
        ("ribbons = 4", "4 ribbons are more than a book holds"),
        ('art = "art/a.svg"\nelastic = "twin"', "a cover has `art` or `elastic`, not both"),
    ],
)
def test_what_cannot_be_is_told(cover, says, tmp_path):
    folder = product(tmp_path / "p", more=f'\n[[cover]]\nname = "One"\n{cover}\n')
    (folder / "art").mkdir()
    (folder / "art/a.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" width="240" height="180"><rect width="240" height="180"/></svg>', encoding="utf-8")
    run = tool.sheafwright("build", folder, "--out", tmp_path / "d")
    assert run.returncode == 2 and says in run.stderr, run.stderr
