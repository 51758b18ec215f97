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
