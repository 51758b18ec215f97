"""What listing pictures say is in the language of the product: own layouts write the words out so small that a check quotes them."""

import re

import pytest

import products
import tool
from test_languages import told

# All that the layouts of the tool say of a bundle, in lines of a size that nobody can read on a small picture.
SVG = """<svg xmlns="http://www.w3.org/2000/svg" width="{{ w }}" height="{{ h }}">
<rect width="100%" height="100%" fill="#ffffff"/>
{% for count in counts %}{{ words(text=count.number ~ " " ~ count.noun, x=40, y=40 + 30 * loop.index0, width=500, size=9) }}
{% endfor %}
</svg>"""

# By language the words beside numbers, in the forms that go with them: 4 sections and templates, 3 covers.
NOUNS = {
    "en-GB": "pages links sections templates covers",
    "de-DE": "Seiten Links Abschnitte Vorlagen Umschläge",
    "fr-FR": "pages liens sections modèles couvertures",
    "es-ES": "páginas enlaces secciones plantillas portadas",
    "it-IT": "pagine link sezioni modelli copertine",
    "nl-NL": "pagina’s links secties sjablonen omslagen",
    "sv-SE": "sidor länkar avsnitt mallar omslag",
    "pt-BR": "páginas links seções modelos capas",
    "pt-PT": "páginas links secções modelos capas",
}


def told_by(tmp_path, tongue, more="", size="1000 x 750"):
    """What is told of a product in a language with such a picture."""
    recipe = products.Recipe(
        "Ebb Flo",
        sections=["Ebb", "Flo", "Nip", "Spring"],
        more='[[cover]]\nname = "Ebb"\ndesign = "flat"\n[[cover]]\nname = "Flo"\ndesign = "banded"\n'
        f'[[picture]]\nlayout = "pictures/own.svg"\nsize = "{size}"\n{more}',
        files={"pictures/own.svg": SVG.encode},
    )
    product = recipe.write(tmp_path / "product")
    manifest = product / "product.toml"
    manifest.write_text(manifest.read_text(encoding="utf-8").replace('language = "en-GB"', f'language = "{tongue}"'), encoding="utf-8")
    return told(product, tmp_path)


@pytest.mark.parametrize("tongue", NOUNS)
def test_what_is_counted_is_called_in_the_language(tmp_path, tongue):
    code, found = told_by(tmp_path, tongue)
    small = [re.search("“(.*?)”", f["message"])[1] for f in found if f["check"] == "picture-text-small"]
    # Findings stand in the order of their words.
    assert sorted(re.sub(r"^[\d.,\s\u202f\u00a0]+", "", text) for text in small) == sorted(NOUNS[tongue].split()), found
    assert code == 0 or not [f for f in found if f["check"].startswith(("claim", "language"))], found


def test_a_picture_of_each_layout_is_made_in_every_language(tmp_path):
    """The usual set, in two languages whose words are of other lengths: nothing is cut."""
    for tongue in ("de-DE", "fr-FR"):
        layouts = "".join(f'[[picture]]\nlayout = "{name}"\nsize = "1000 x 750"\n' for name in ("inside", "fan", "templates", "tabs", "frame", "covers"))
        _, found = told_by(tmp_path / tongue, tongue, layouts)
        assert not [f for f in found if f["check"] == "picture-text-cut"], found
    assert tool


MIXED = """<svg xmlns="http://www.w3.org/2000/svg" width="{{ w }}" height="{{ h }}">
<rect width="100%" height="100%" fill="#ffffff"/>
<text x="900" y="300" font-family="heading" font-size="80" text-anchor="end">MIXED</text></svg>"""


def in_arabic(folder, layout):
    """A product whose first font has Arabic letters alone, as the parts of a family that web fonts come in; figures are of the second."""
    fonts = tool.ROOT / "products/lamplight-log-ar/fonts/NotoNaskhArabic-Regular.woff2"
    chain = '["fonts/a.woff2", "Noto Sans"]'
    recipe = products.Recipe(
        "دفتر",
        sections=["أول", "ثان", "ثالث"],
        templates=[("A1", "lined", "{}")],
        top='slug = "daftar"',
        more=f'{layout}[style.fonts]\nheading = {chain}\nlabel = {chain}\n[assets]\nown = ["fonts/*", "pictures/*"]\n',
        files={"fonts/a.woff2": fonts.read_bytes, "pictures/own.svg": MIXED.replace("MIXED", "ملصقًا 48").encode},
    )
    product = recipe.write(folder)
    manifest = product / "product.toml"
    manifest.write_text(manifest.read_text(encoding="utf-8").replace('language = "en-GB"', 'language = "ar"'), encoding="utf-8")
    return product


def test_figures_among_letters_that_join_are_no_boxes(tmp_path):
    """The library that sets texts of drawings keeps the box of the first font where a line has other numbers of glyphs in two fonts."""
    layouts = "".join(f'[[picture]]\nlayout = "{name}"\nsize = "1000 x 750"\n' for name in ("inside", "fan", "templates", "tabs"))
    _, found = told(in_arabic(tmp_path / "product", layouts), tmp_path)
    assert not [f for f in found if f["check"] == "font-glyph-missing"], found


def test_a_box_on_a_picture_is_told(tmp_path):
    """A layout of one's own that writes such a line itself, without the function that parts it by font."""
    code, found = told(in_arabic(tmp_path / "product", '[[picture]]\nlayout = "pictures/own.svg"\nsize = "1000 x 750"\n'), tmp_path)
    (box,) = [f for f in found if f["check"] == "font-glyph-missing"]
    assert code != 0 and "has “48”" in box["message"], box


@pytest.mark.parametrize("marked", [False, True])
def test_a_box_on_a_drawing_is_told_and_its_mending_holds(tmp_path, marked):
    """A sticker of one's own with such a line; with the figures in a span of their own it is whole."""
    figures = '<tspan font-family="Noto Sans">48</tspan>' if marked else "48"
    svg = f"""<svg xmlns="http://www.w3.org/2000/svg" width="400" height="120"><rect width="400" height="120" fill="#eee"/>
    <text x="380" y="80" font-family="Noto Naskh Arabic" font-size="60" text-anchor="end">ملصقًا {figures}</text></svg>"""
    product = in_arabic(tmp_path / "product", '[[sticker]]\nfile = "pictures/mixed.svg"\n')
    (product / "pictures/mixed.svg").write_text(svg, encoding="utf-8")
    code, found = told(product, tmp_path)
    boxes = [f["message"] for f in found if f["check"] == "art-character-missing"]
    assert [("“4”" in m or "“8”" in m) and "<tspan>" in m for m in boxes] == ([] if marked else [True, True]), found
    assert marked or code != 0
