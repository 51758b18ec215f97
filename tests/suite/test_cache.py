"""A warm build gives the bytes of a cold one, whatever was changed between the two; only what changed is made anew."""

import io
import random
import shutil
from pathlib import Path

import matplotlib
import products
import pytest
import tool
from PIL import Image, ImageDraw

PICTURES = """
[[picture]]
layout = "pictures/page.svg"
name = "flat"
size = "600 x 450"
pages = ["index"]
[[picture]]
layout = "flip-through"
size = "400 x 300"
pages = ["index", "section/2"]
[[picture]]
layout = "stickers"
size = "600 x 450"
"""

FLAT = b"""<svg xmlns="http://www.w3.org/2000/svg" width="{{ w }}" height="{{ h }}">
<rect width="100%" height="100%" fill="#ffffff"/><image href="art/sailcloth.jpg" x="0" y="0" width="90" height="60"/>
<image href="{{ pages[0].href }}" x="50" y="50" width="400" height="{{ 400 * pages[0].h / pages[0].w }}" preserveAspectRatio="none"/>
</svg>"""

MORE = """
[[sticker-group]]
name = "Flags"
cut = "art/flags.png"
width = "60 mm"
names = ["flag one", "flag two"]

[[notebook.template]]
name = "Wave"
art = "art/wave.svg"
"""


def flags(colour="#3d6a8f"):
    """Two flags on one clear sheet."""
    picture = Image.new("RGBA", (720, 300), (0, 0, 0, 0))
    pen = ImageDraw.Draw(picture)
    pen.rectangle((40, 40, 280, 240), fill=colour)
    pen.polygon([(400, 40), (660, 140), (400, 240)], fill="#c0503c")
    out = io.BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()


def wave():
    return b"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 150" width="200" height="150">
<path d="M10 90 Q60 20 100 90 T190 90" fill="none" stroke="#2f4f6f" stroke-width="6"/></svg>"""


RECIPE = products.Recipe(
    "Harbour Log",
    page='size = "240 x 180 mm"\nlayout = "spread"',
    coil="middle",
    sections=["Boats", "Tides", "Crew"],
    section_pages={"Tides": [("tide-table", 2)]},
    more=products.FULL + PICTURES + MORE,
    files={
        **products.FULL_FILES,
        "art/wave.svg": wave,
        "art/flags.png": flags,
        "pictures/page.svg": lambda: FLAT,
    },
)


def edit(path, old, new):
    """A change of a text, on disk."""

    def change(product):
        text = (product / path).read_text(encoding="utf-8")
        assert old in text, f"{path} does not say {old}"
        (product / path).write_text(text.replace(old, new, 1), encoding="utf-8")

    return change


def other_buoy(product):
    """The same file name, size and look at the edges, other pixels within."""
    picture = Image.open(product / "art/buoy.png")
    ImageDraw.Draw(picture).rectangle((70, 110, 90, 120), fill=(10, 20, 30, 255))
    picture.save(product / "art/buoy.png")


def other_cloth(product):
    dice = random.Random(11)
    picture = Image.open(product / "art/sailcloth.jpg")
    for _ in range(400):
        picture.putpixel((dice.randrange(240), dice.randrange(180)), (120, 110, 90))
    picture.save(product / "art/sailcloth.jpg", quality=85)


def other_flags(product):
    """A sheet of drawings of which one has another colour."""
    (product / "art/flags.png").write_bytes(flags("#8f6a3d"))


def other_font(product):
    """A font of her own for the labels (DejaVu, which matplotlib carries)."""
    (product / "fonts").mkdir()
    shutil.copy(Path(matplotlib.get_data_path()) / "fonts/ttf/DejaVuSans.ttf", product / "fonts/label.ttf")
    edit("product.toml", "[page]", '[style.fonts]\nlabel = "fonts/label.ttf"\n[page]')(product)


CHANGES = {
    "a section": edit("product.toml", 'name = "Crew"', 'name = "Hands"'),
    "a template": edit("product.toml", '"wide"', '"narrow"'),
    "pages of a section": edit("product.toml", "count = 2", "count = 3"),
    "the accent": edit("product.toml", "[page]", '[style]\naccent = "#7f5c5e"\n[page]'),
    "the paper": edit("product.toml", "[page]", '[style]\npaper = "#fff8ee"\n[page]'),
    "a font": other_font,
    "a drawing of a sticker": edit("art/anchor.svg", "#2f4f6f", "#6f2f4f"),
    "pixels of a sticker": other_buoy,
    "a drawing on a sheet": other_flags,
    "a border": edit("product.toml", 'border = { width = "1.5 mm" }', 'border = { width = "2 mm" }'),
    "a label of a sticker": edit("product.toml", "Before we sail", "When we are back"),
    "the resolution": edit("product.toml", "dpi = 300", "dpi = 200"),
    "art of a page": edit("art/wave.svg", "Q60 20", "Q60 40"),
    "a texture": other_cloth,
    "a cover": edit("product.toml", "#5a6b78", "#785a6b"),
    "the licence": edit("product.toml", "small-commercial = 25", "small-commercial = 50"),
    "the listing": edit("product.toml", "Write down tides", "Write down winds"),
    "a layout of pictures": edit("pictures/page.svg", "#ffffff", "#ffeeee"),
    "the pages of a picture": edit("product.toml", 'pages = ["index"]', 'pages = ["welcome"]'),
    "the shop": edit("product.toml", "Tarn and Tide Papers", "Tarn and Tide"),
    "the date": edit("product.toml", "2027-03-01", "2027-03-02"),
    "old reader apps": edit("product.toml", "language =", "classic-pdf = true\nlanguage ="),
}


@pytest.fixture(scope="module")
def warm(tmp_path_factory):
    """A product that was built, with its cache."""
    folder = tmp_path_factory.mktemp("warm")
    bundle = tool.build(RECIPE.write(folder / "product"), folder / "dist")
    return folder, tool.tree(bundle.folder)


@pytest.mark.parametrize("what", CHANGES)
def test_a_warm_build_is_a_cold_one(warm, tmp_path, what):
    folder, before = warm
    product = tmp_path / "product"
    shutil.copytree(folder / "product", product)
    shutil.copytree(folder / "dist/.cache", tmp_path / "dist/.cache")
    CHANGES[what](product)
    after = tool.tree(tool.build(product, tmp_path / "dist").folder)
    cold = tool.tree(tool.build(product, tmp_path / "cold").folder)
    assert sorted(p for p in after.keys() | cold.keys() if after.get(p) != cold.get(p)) == []
    assert sorted(p for p in after.keys() | before.keys() if after.get(p) != before.get(p)) != []


def entries(out):
    return {p.name for p in (out / ".cache").rglob("*") if p.is_file()}


def test_only_what_changed_is_made_anew(warm, tmp_path):
    folder, _ = warm
    product = tmp_path / "product"
    shutil.copytree(folder / "product", product)
    shutil.copytree(folder / "dist/.cache", tmp_path / "dist/.cache")
    before = entries(tmp_path / "dist")
    CHANGES["a section"](product)
    stickers = {p: b for p, b in tool.tree(folder / "dist").items() if "/stickers/" in p}
    made = tool.build(product, tmp_path / "dist")
    assert stickers and {p: b for p, b in tool.tree(made.folder.parents[1]).items() if "/stickers/" in p} == stickers
    fresh = len(entries(tmp_path / "dist") - before)
    # Every page of the notebook shows its tabs, so all of them are drawn anew, and the guide, which shows some, with the pictures
    # that it takes of them; stickers and covers are not.
    shown = [f for f in made.record["files"] if f["kind"] in ("notebook", "guide") and f["path"].startswith("contents/")]
    pages = sum(f["facts"]["pages"] for f in shown)
    assert 0 < fresh < pages + 14, fresh


def test_what_is_said_of_a_cached_sticker_is_said_again(warm, tmp_path):
    folder, _ = warm
    product = tmp_path / "product"
    shutil.copytree(folder / "product", product)
    edit("product.toml", 'longest = "12 mm"', 'longest = "32 mm"')(product)
    first = tool.build(product, tmp_path / "dist")
    edit("product.toml", "Write down tides", "Write down winds")(product)
    again = tool.build(product, tmp_path / "dist")
    notes = [line for line in first.said.splitlines() if line.startswith("note: ")]
    assert any("px long" in line for line in notes)
    assert [line for line in again.said.splitlines() if line.startswith("note: ")] == notes
