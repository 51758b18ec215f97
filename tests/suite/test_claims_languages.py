"""Claims of descriptions in twelve languages: numbers in words as another library spells them, marks of numbers, and what cannot be read."""

import hashlib
import json
import re
import shutil
import subprocess
import sys
from dataclasses import replace

import pikepdf
import pytest
from num2words import num2words

import products
import test_checks
import told
import tool
from test_languages import OWN_FONTS

# By language: a description that another line follows, and that line with a number of covers in it.
SAID = {
    "en": ("A digital download for personal use, made with care for you.", "- {} covers"),
    "de": ("Ein digitaler Download mit Lizenz, und mehr für dich.", "- {} Umschläge"),
    "fr": ("Un téléchargement pour votre usage personnel, avec les pages.", "- {} couvertures"),
    "es": ("Una descarga para tu uso personal con las páginas.", "- {} portadas"),
    "it": ("Un download per il tuo uso personale con le pagine.", "- {} copertine"),
    "nl": ("Een download voor eigen gebruik met de pagina’s.", "- {} omslagen"),
    "sv": ("En nedladdning för ditt personliga bruk och med sidor.", "- {} omslag"),
    "pt": ("Um download para o seu uso pessoal com as páginas.", "- {} capas"),
    "pt_BR": ("Um download para o seu uso pessoal com as páginas.", "- {} capas"),
    "pl": ("Pliki do pobrania na licencji do użytku osobistego, to nie jest papier.", "- {} okładek"),
    "ja": ("ダウンロードして使う個人向けのノートです。", "- {}種類の表紙"),
    "ar": ("للتنزيل وللاستخدام الشخصي بحسب شروط الترخيص.", "- {} غلاف"),
    "he": ("קובץ להורדה לשימוש אישי לפי תנאי הרישיון.", "- {} כריכות"),
}

NUMBERS = [*range(2, 21), *range(30, 100, 10), 21, 27, 31, 71, 99]


@pytest.fixture(scope="module")
def eight_covers(tmp_path_factory):
    """A bundle whose description is right."""
    folder = tmp_path_factory.mktemp("checks")
    script = tool.ROOT / "tests/fixtures/checks/make_all.py"
    subprocess.run([sys.executable, str(script), str(folder), "claim-wrong.pass.words"], check=True)
    return folder / "loose/claim-wrong.pass.words"


@pytest.mark.parametrize("language", SAID)
def test_numbers_in_words_are_those_of_another_library(eight_covers, tmp_path, language):
    """num2words spells; of eight covers (nine with the notebook's own) every other number is told with its value. Its Swedish for
    forty (förtio) is a slip: SAOL has fyrtio."""
    start, line = SAID[language]
    shutil.copytree(eight_covers, tmp_path, dirs_exist_ok=True)
    numbers = [n for n in NUMBERS if not (language == "sv" and n == 40)]
    lines = [line.format(num2words(n, lang=language)) for n in numbers]
    described(tmp_path, f"{start}\n\n" + "\n".join(lines) + "\n")
    said = [f["message"] for f in wrong(tmp_path)]
    for n in numbers:
        assert any(f"claims {n} covers" in message for message in said) == (n not in (8, 9)), (language, n, said)


def described(folder, text):
    """Gives a bundle another description."""
    path = folder / "listing/description.md"
    path.write_text(text, encoding="utf-8")
    record = json.loads((folder / "bundle.json").read_text(encoding="utf-8"))
    (entry,) = [f for f in record["files"] if f["path"] == "listing/description.md"]
    entry.update(size=path.stat().st_size, sha256=hashlib.sha256(path.read_bytes()).hexdigest())
    (folder / "bundle.json").write_text(json.dumps(record), encoding="utf-8")


def wrong(folder):
    """What is told of the claims of a bundle."""
    _, report = test_checks.check(folder)
    return [f for f in report["findings"] if f["check"] == "claim-wrong"]


LOCALES = ["en-GB", "de-DE", "fr", "es-ES", "it", "nl", "sv", "pt-BR", "pt-PT", "pl", "ja", "ar", "he"]


def in_language(recipe, language, folder):
    """A product in a language, with fonts that can write it, not yet built."""
    files = OWN_FONTS.get(language[:2], {})
    names = json.dumps(list(files))
    fonts = f"\n[style.fonts]\nheading = {names}\nlabel = {names}\n" if files else ""
    recipe = replace(recipe, more=recipe.more + fonts, files={**recipe.files, **files})
    product = recipe.write(folder / "product")
    manifest = product / "product.toml"
    manifest.write_text(manifest.read_text(encoding="utf-8").replace('language = "en-GB"', f'language = "{language}"'), encoding="utf-8")
    return product


def spoken(recipe, language, folder):
    """The bundle of such a product."""
    return tool.build(in_language(recipe, language, folder), folder / "dist")


@pytest.mark.parametrize("language", LOCALES)
def test_a_number_of_a_built_description_cannot_be_another(language, tmp_path):
    """What the listing says of a bundle is read as true, and with any count of it one larger, as wrong: in its very line."""
    bundle = spoken(products.FULL_PRODUCT, language, tmp_path)
    description = bundle.folder / "listing/description.md"
    lines = description.read_text(encoding="utf-8").splitlines()
    with pikepdf.open(bundle.notebook) as pdf:
        pages = len(pdf.pages)
        links = sum(a.Subtype == "/Link" for page in pdf.pages for a in page.get("/Annots", []))
    counts = [pages, links, len(products.FULL_PRODUCT.sections), len(products.FULL_PRODUCT.templates)]
    assert not wrong(bundle.folder)
    # The sizes come behind the templates.
    end = next(i for i, line in enumerate(lines) if "×" in line)
    changed = {}
    for i, line in enumerate(lines[:end]):
        for number in counts:
            for found in re.finditer(rf"(?<![\d.,]){number}(?![\d.,]*\d)", line):
                changed[i + 1, number + 1] = line[: found.start()] + str(number + 1) + line[found.end() :]
    assert {number for _, number in changed} == {n + 1 for n in counts}
    for (i, number), line in changed.items():
        # The record stays, so that what lies there is seen to be no longer what was built, and is judged anew.
        description.write_text("\n".join([*lines[: i - 1], line, *lines[i:]]) + "\n", encoding="utf-8")
        told_of = [f for f in wrong(bundle.folder) if f["line"] == i and f"claims {number} " in f["message"]]
        assert told_of, line


@pytest.mark.parametrize("language, seed", [(language, (4, 9)[n % 2]) for n, language in enumerate(LOCALES[1:])])
def test_descriptions_of_products_with_variants_say_nothing_wrong(language, seed, tmp_path):
    """The build itself would stop at a number of its own that it reads as another."""
    spoken(told.recipe(seed), language, tmp_path)


# By language: what a guide says of the templates that its reader has. Lines from right to left are not read for it.
GUIDES = {
    "en-GB": ("The notebook brings {} templates.", "Keep the original and write on a copy of it."),
    "de-DE": ("Das Notizbuch bringt {} Vorlagen mit.", "Lass das Original und schreib auf eine Kopie von der Seite."),
    "fr": ("Le carnet contient {} modèles.", "Gardez la page et écrivez sur une copie de la page."),
    "es-ES": ("El cuaderno trae {} plantillas.", "Deja la página y escribe en una copia de la página."),
    "it": ("Il quaderno contiene {} modelli.", "Lascia la pagina e scrivi su una copia della pagina."),
    "nl": ("Het notitieboek heeft {} sjablonen.", "Laat de pagina en schrijf op een kopie van de pagina."),
    "sv": ("Anteckningsboken har {} mallar.", "Låt sidan vara och skriv på en kopia av den."),
    "pt-PT": ("O caderno traz {} modelos.", "Deixe a página e escreva numa cópia da página para si."),
    "pl": ("W notatniku jest {} szablonów.", "Zostaw stronę i pisz na kopii, to nie jest trudne."),
    "ja": ("ノートには{}種類のテンプレートがあります。", "元のページは白紙のままにしてください。"),
}


@pytest.mark.parametrize("language", GUIDES)
def test_a_number_of_a_guide_of_ones_own_cannot_be_another(language, tmp_path):
    """A guide that the designer wrote: the true count passes (in English; of the others the tool's own guides show it), one more is
    told with its number."""
    sentence, more = GUIDES[language]
    true = len(products.FULL_PRODUCT.templates)
    for number in [true, true + 1] if language == "en-GB" else [true + 1]:
        text = f"# Abc\n\n{more} {sentence.format(number)} {more}\n"
        recipe = replace(
            products.FULL_PRODUCT,
            more=products.FULL_PRODUCT.more + '\n[guide]\ntext = "texts/own.md"\n',
            files={**products.FULL_PRODUCT.files, "texts/own.md": text.encode},
        )
        product = in_language(recipe, language, tmp_path / str(number))
        run = tool.sheafwright("build", product, "--out", tmp_path / "dist", "--json")
        found = [f for f in json.loads(run.stdout)["findings"] if f["check"] == "claim-wrong"]
        assert [f"the guide says {number} templates" in f["message"] for f in found] == ([] if number == true else [True]), found
