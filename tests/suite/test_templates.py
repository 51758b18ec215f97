"""Templates composed of parts: their words in the language of the product, months and days as CLDR has them (by Babel), their lines on
the pitch, and what a designer composes herself."""

import re

import numpy
import pytest
from babel import Locale
from dataclasses import replace

import tool
from products import Recipe
from reading import Reading
from test_rulings import USUAL, assert_pitch, lines
from tool import program, sheafwright
from PIL import Image

# Some of each, and a word that each language has there.
SAID = {
    "de-DE": {"recipe": "Zutaten", "ledger": "Konto", "meal-plan": "Frühstück", "packing-list": "Waschbeutel"},
    "fr-FR": {"recipe": "Ingrédients", "ledger": "Solde", "meal-plan": "Dîner", "packing-list": "Vêtements"},
    "es-ES": {"recipe": "Ingredientes", "ledger": "Saldo", "meal-plan": "Desayuno", "packing-list": "Neceser"},
    "it": {"recipe": "Ingredienti", "ledger": "Conto", "meal-plan": "Colazione", "packing-list": "Vestiti"},
    "nl": {"recipe": "Bereiding", "ledger": "Bedrag|Saldo", "meal-plan": "Ontbijt", "packing-list": "Toilettas"},
    "sv": {"recipe": "Portioner", "ledger": "Konto", "meal-plan": "Frukost", "packing-list": "Kläder"},
    "pt-BR": {"recipe": "Porções", "ledger": "Conta", "meal-plan": "Almoço", "packing-list": "Roupas"},
    "pt-PT": {"recipe": "Porções", "ledger": "Conta", "meal-plan": "Pequeno-almoço", "packing-list": "Roupa"},
}
RULINGS = ["recipe", "ledger", "meal-plan", "packing-list", "birthdays"]
BOOK = Recipe(
    "Galley Book",
    page='size = "A5"\nlayout = "single"',
    sections=["One"],
    templates=[(f"T{n}", ruling, "{}") for n, ruling in enumerate(RULINGS)],
)


def spoken(tmp_path, tongue):
    product = BOOK.write(tmp_path / "product")
    manifest = product / "product.toml"
    manifest.write_text(manifest.read_text(encoding="utf-8").replace('language = "en-GB"', f'language = "{tongue}"'), encoding="utf-8")
    return program("pdftotext", "-layout", tool.build(product, tmp_path / "dist").notebook, "-")


@pytest.mark.parametrize("tongue", SAID)
def test_templates_speak_the_language_of_the_product(tmp_path, tongue):
    text = spoken(tmp_path, tongue)
    for ruling, word in SAID[tongue].items():
        assert re.search(word, text), (ruling, word)
    locale = Locale.parse(tongue.replace("-", "_"))
    said = text.casefold()
    for names in (locale.months["stand-alone"]["wide"], locale.days["stand-alone"]["wide"]):
        missing = [name for name in names.values() if name.casefold() not in said]
        assert not missing, missing
    assert not re.search(r"Breakfast|Ingredients|Balance|Clothes|February", text)


def test_lines_of_a_table_are_on_the_pitch(tmp_path):
    bundle = tool.build(BOOK.write(tmp_path / "product"), tmp_path / "dist")
    book = Reading(bundle.notebook)
    page = {name: page for name, page, _ in book.entry("Templates")[2]}["T1"] + 1
    program("pdftoppm", "-r", 600, "-gray", "-singlefile", "-f", page, "-l", page, book.path, tmp_path / "page")
    grey = numpy.asarray(Image.open(tmp_path / "page.pgm"), dtype=float)
    height, width = grey.shape
    # Within the second column: no line runs down there.
    part = grey[int(height * 0.3) : int(height * 0.85), int(width * 0.32) : int(width * 0.42)]
    assert_pitch(lines(part.mean(axis=1)), USUAL["medium/college"])


def test_a_page_of_her_own_parts(tmp_path):
    parts = """{ parts = [
      { part = "fields", labels = ["Boat", "Skipper"] },
      { part = "table", label = "Heats", labels = ["Course", "Won"], holds = ["text", "tick"] },
      { part = "text", label = "Life jackets are worn on deck." },
    ] }"""
    product = replace(BOOK, name="Regatta", templates=[("Day", "parts", parts)]).write(tmp_path / "product")
    text = program("pdftotext", "-layout", tool.build(product, tmp_path / "dist").notebook, "-")
    for word in ("Boat", "Skipper", "Heats", "Course", "Won", "Life jackets are worn on deck."):
        assert word in text, word


@pytest.mark.parametrize(
    "part, says, column",
    [
        ('{ part = "tabel", labels = ["A"] }', "table", 28),
        ('{ part = "lines", colums = 2 }', "colums", None),
        ('{ part = "lines", count = 2 }', "it has no use for count", None),
        ('{ part = "table" }', "it needs labels", None),
    ],
)
def test_a_slip_in_a_part_is_told_with_its_place(tmp_path, part, says, column):
    product = replace(BOOK, templates=[("Day", "parts", "{ parts = [" + part + "] }")]).write(tmp_path / "product")
    run = sheafwright("build", product, "--out", tmp_path / "dist")
    said = run.stdout + run.stderr
    place = re.search(r"product\.toml:(\d+):(\d+)", said)
    assert run.returncode == 2 and place and says in said, said
    line = (product / "product.toml").read_text().splitlines()[int(place[1]) - 1]
    assert "parts" in line, (said, line)
    assert column is None or int(place[2]) == column, said
