"""Claims of descriptions in twelve languages: numbers in words as another library spells them, marks of numbers, and what cannot be read."""

import hashlib
import json

import pytest
from num2words import num2words

import test_checks
from test_checks import folder  # noqa: F401  (the fixtures of all checks)

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


@pytest.mark.parametrize("language", SAID)
def test_numbers_in_words_are_those_of_another_library(folder, tmp_path, language):  # noqa: F811
    """num2words spells; of eight covers (nine with the notebook's own) every other number is told with its value. Its Swedish for
    forty (förtio) is a slip: SAOL has fyrtio."""
    start, line = SAID[language]
    made = folder / "loose/claim-wrong.pass.words"
    for path in made.rglob("*"):
        if path.is_file():
            (tmp_path / path.relative_to(made)).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / path.relative_to(made)).write_bytes(path.read_bytes())
    numbers = [n for n in NUMBERS if not (language == "sv" and n == 40)]
    lines = [line.format(num2words(n, lang=language)) for n in numbers]
    text = tmp_path / "listing/description.md"
    text.write_text(f"{start}\n\n" + "\n".join(lines) + "\n", encoding="utf-8")
    record = json.loads((tmp_path / "bundle.json").read_text())
    record["files"][-1].update(size=text.stat().st_size, sha256=hashlib.sha256(text.read_bytes()).hexdigest())
    (tmp_path / "bundle.json").write_text(json.dumps(record))
    _, report = test_checks.check(tmp_path)
    told = [f["message"] for f in report["findings"] if f["check"] == "claim-wrong"]
    for n in numbers:
        assert any(f"claims {n} covers" in message for message in told) == (n not in (8, 9)), (language, n, told)
