"""Languages and scripts: lines that run from right to left, fonts that share a text, the words of the pages."""

import functools
import io
import json
import re
import struct
import unicodedata
from dataclasses import replace
from pathlib import Path

import matplotlib
import pytest
from bidi import get_display
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.qu2cuPen import Qu2CuPen
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

import products
import tool

DEJAVU = Path(matplotlib.get_data_path()) / "fonts/ttf/DejaVuSans.ttf"

# What a program says of directions, which is no part of the text.
MARKS = re.compile("[\u200e\u200f\u202a-\u202e\u2066-\u2069]")

LABELS = [
    "الأحد، 14 مارس 2027",
    "יום א׳, 14 במרץ (2027)",
    "Ebb 3 الأحد 14 and more",
    "שָׁלוֹם 7:30",
]

BOTH_WAYS = products.Recipe(
    name="دفتر (الميناء) 2027",
    sections=LABELS,
    top='slug = "both-ways"',
    more="""
[[cover]]
name = "الغلاف 7"
design = "banded"
[style.fonts]
heading = "fonts/DejaVuSans.ttf"
label = "fonts/DejaVuSans.ttf"
[assets]
own = ["fonts/*"]
""",
    files={"fonts/DejaVuSans.ttf": DEJAVU.read_bytes},
)


def read(command, path):
    """The lines of a document without marks and with plain spaces, as a program reads them."""
    return [" ".join(MARKS.sub("", line).split()) for line in tool.program(*command, path, *(["-"] if command[0] == "pdftotext" else [])).splitlines()]


def bare(text):
    """A text without spaces, which programs guess from gaps."""
    return re.sub(r"\s", "", text)


def words(text):
    """The words of a text, run together: programs guess spaces from gaps, and poppler guesses where signs between two
    directions belong."""
    return unicodedata.normalize("NFD", re.sub(r"[\s.,:;()،׳]", "", text))


def capless():
    """The same font as one that has no Latin letters: its OS/2 table says that capitals are 0 high, as such fonts do."""
    font = TTFont(io.BytesIO(DEJAVU.read_bytes()))
    font["OS/2"].sCapHeight = 0
    out = io.BytesIO()
    font.save(out)
    return out.getvalue()


def test_a_font_that_states_no_height_of_capitals_stands_where_others_do(tmp_path):
    """Numbers and titles stand in the middle of their boxes by the height of letters; a font for Arabic states none, and its
    lines stood too high by it, those of dividers three times too large."""
    stands = {}
    for name, data in [("stated", DEJAVU.read_bytes), ("unstated", capless)]:
        recipe = replace(BOTH_WAYS, files={"fonts/DejaVuSans.ttf": data})
        book = tool.build(recipe.write(tmp_path / name), tmp_path / f"dist-{name}").notebook
        boxes = re.findall(r'yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)"', tool.program("pdftotext", "-bbox", book, "-"))
        stands[name] = [tuple(map(float, box)) for box in boxes]
    assert len(stands["stated"]) == len(stands["unstated"]) > 20
    assert all(abs(a - b) < 0.6 for one, other in zip(*stands.values()) for a, b in zip(one, other))


@pytest.mark.parametrize("label", LABELS)
def test_lines_that_run_both_ways_are_read_in_their_logical_order(shelf, label):
    """Tab, divider and index: poppler turns what stands on the page into the text that was written. A line that begins
    with Latin on a page that is mostly Arabic is told in pieces."""
    text = words("".join(read(("pdftotext", "-f", "4", "-l", "7"), shelf(BOTH_WAYS).notebook)))
    pieces = label.split() if label.startswith("Ebb") else [label]
    assert all(text.count(words(piece)) >= 2 for piece in pieces), text
    assert "7202" not in text


@pytest.mark.parametrize("label", LABELS[:3])
def test_glyphs_stand_where_the_bidirectional_algorithm_has_them(shelf, label):
    """This release of mutool gives the characters from left to right, which another library works out from the label."""
    lines = [bare(line) for line in read(("mutool", "draw", "-F", "txt"), shelf(BOTH_WAYS).notebook)]
    wanted = bare(get_display(label))
    assert any(wanted in line for line in lines), (wanted, lines[:20])


def test_every_file_that_sets_the_name_has_it_the_right_way_round(shelf):
    """Cover, foot, covers file and guide."""
    bundle = shelf(BOTH_WAYS)
    for pdf in bundle.pdfs:
        # Line by line: a number that ends one may stand before the year.
        text = "\n".join(bare(line) for line in read(("pdftotext",), pdf))
        assert "2027" in text or pdf.name.endswith("covers.pdf")
        assert "7202" not in text, pdf.name
    (covers,) = [p for p in bundle.pdfs if "cover" in p.name]
    assert words("".join(read(("pdftotext",), covers))).count(words(BOTH_WAYS.name)) == 2


def part(characters, flavor=None):
    """A font with these characters of DejaVu Sans alone, as a family that is split by scripts has it."""
    # The same bytes at all times: whether a damaged byte is noticed depends on which it is.
    font = TTFont(DEJAVU, recalcTimestamp=False)
    subset = Subsetter(Options(layout_features=["*"], notdef_outline=True))
    subset.populate(unicodes=[ord(c) for c in characters])
    subset.subset(font)
    font.flavor = flavor
    out = io.BytesIO()
    font.save(out)
    return out.getvalue()


ARABIC = [chr(c) for c in range(0x600, 0x700)]
HEBREW = [chr(c) for c in range(0x591, 0x5F5)]
LATIN = [chr(c) for c in range(0x20, 0x17F)]


def chain(names, **files):
    """A notebook whose labels are set in these files, one after the other; headings are set in what comes along."""
    style = f"[style.fonts]\nlabel = {json.dumps(names)}\n[assets]\nown = [\"fonts/*\"]\n"
    return replace(BOTH_WAYS, name="Fonts of a chain", more=style, files={f"fonts/{name}": (lambda b=b: b) for name, b in files.items()})


@pytest.mark.parametrize("flavor,ending", [(None, "ttf"), ("woff", "woff"), ("woff2", "woff2")])
def test_each_character_is_set_in_the_first_font_that_has_it(workshop, flavor, ending):
    """Three parts of a family, packed in each way: no character is lost, on pages of every role."""
    names = [f"fonts/{part}.{ending}" for part in ("latin", "arabic", "hebrew")]
    files = {f"latin.{ending}": part(LATIN, flavor), f"arabic.{ending}": part(ARABIC, flavor), f"hebrew.{ending}": part(HEBREW, flavor)}
    bundle = workshop(chain(names, **files))
    text = words("".join(read(("pdftotext",), bundle.notebook)))
    for label in LABELS[:2]:
        assert words(label) in text
    rows = tool.program("pdffonts", bundle.notebook).splitlines()[2:]
    assert sum("DejaVu" in row for row in rows) == 3 and all(" yes " in row for row in rows), rows


def with_cff(characters, flavor):
    """The same as OpenType with CFF outlines, whose curves are cubic."""
    source = TTFont(DEJAVU)
    names = {ord(c): source.getBestCmap()[ord(c)] for c in characters if ord(c) in source.getBestCmap()}
    glyphs = source.getGlyphSet()
    made = FontBuilder(source["head"].unitsPerEm, isTTF=False)
    made.setupGlyphOrder([".notdef", *dict.fromkeys(names.values())])
    made.setupCharacterMap(names)
    outlines = {}
    for name in made.font.getGlyphOrder():
        pen = T2CharStringPen(source["hmtx"][name][0], glyphs)
        glyphs[name].draw(Qu2CuPen(pen, 1.0, all_cubic=True))
        outlines[name] = pen.getCharString()
    made.setupCFF("HedgeCubic", {"FullName": "Hedge Cubic"}, outlines, {})
    made.setupHorizontalMetrics({name: source["hmtx"][name] for name in outlines})
    made.setupHorizontalHeader(ascent=1901, descent=-483)
    made.setupNameTable({"familyName": "Hedge Cubic", "styleName": "Regular", "psName": "HedgeCubic"})
    made.setupOS2(sTypoAscender=1556, usWinAscent=1901, usWinDescent=483, sCapHeight=1493, sxHeight=1120, fsType=0)
    made.setupPost()
    made.font.flavor = flavor
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


@pytest.mark.parametrize("flavor,ending", [(None, "otf"), ("woff", "woff"), ("woff2", "woff2")])
def test_a_font_with_cff_outlines_may_stand_in_a_chain(workshop, flavor, ending):
    """Hebrew has no letters that join: a font without tables for shaping sets it. It is embedded with its own kind of outlines."""
    files = {f"hebrew.{ending}": with_cff(HEBREW, flavor), "rest.ttf": part(LATIN + ARABIC)}
    bundle = workshop(chain([f"fonts/hebrew.{ending}", "fonts/rest.ttf"], **files))
    text = words("".join(read(("pdftotext",), bundle.notebook)))
    assert all(words(label) in text for label in LABELS[:2])
    (row,) = [row for row in tool.program("pdffonts", bundle.notebook).splitlines() if "HedgeCubic" in row]
    assert "CID Type 0C" in row and re.search(r"yes\s+yes\s+yes", row), row


def told(product, tmp_path, *more):
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist", "--json", *more)
    return run.returncode, json.loads(run.stdout)["findings"]


def test_what_no_font_has_is_told_with_the_name_of_its_script(tmp_path):
    product = chain(["fonts/latin.woff2", "fonts/hebrew.woff2"], **{"latin.woff2": part(LATIN, "woff2"), "hebrew.woff2": part(HEBREW, "woff2")})
    code, found = told(product.write(tmp_path / "product"), tmp_path)
    messages = [f["message"] for f in found if f["check"] == "font-glyph-missing"]
    assert code != 0 and messages and all("script Arabic" in m and "style.fonts" in m for m in messages), found
    assert not any("Hebrew" in m for m in messages)


def forbidden():
    font = TTFont(DEJAVU)
    font["OS/2"].fsType = 2
    font.flavor = "woff2"
    out = io.BytesIO()
    font.save(out)
    return out.getvalue()


def bomb(kind):
    """A web font that says it holds far more than it does, or whose one table really grows a thousandfold."""
    import zlib

    import brotli

    size = 80 << 20
    if kind == "woff":
        packed = zlib.compress(bytes(size), 9)
        head = struct.pack(">4sIIHHIHHIIIII", b"wOFF", 0x10000, 44 + 20 + len(packed), 1, 0, 12 + 16 + size, 1, 0, 0, 0, 0, 0, 0)
        return head + struct.pack(">4sIIII", b"glyf", 64, len(packed), size, 0) + packed
    packed = brotli.compress(bytes(size))
    grown, rest = [], size
    while True:
        grown.insert(0, rest & 127 | (128 if grown else 0))
        rest >>= 7
        if not rest:
            break
    # Flags of the tag `cvt ` (number 8 of WOFF2's list), its length in base 128.
    directory = bytes([8, *grown])
    head = struct.pack(">4sIIHHIIHHIIIII", b"wOF2", 0x10000, 48 + len(directory) + len(packed), 1, 0, 40, len(packed), 1, 0, 0, 0, 0, 0, 0)
    return head + directory + packed


def damaged(flavor):
    whole = bytearray(part(LATIN, flavor))
    whole[len(whole) // 2] ^= 0x55
    whole[len(whole) // 2 + 1] ^= 0x55
    return bytes(whole)


@pytest.mark.parametrize(
    "name,make,says",
    [
        ("locked.woff2", forbidden, "may not be embedded"),
        ("bomb.woff", lambda: bomb("woff"), "64 MB"),
        ("bomb.woff2", lambda: bomb("woff2"), "100 times"),
        ("cut.woff", lambda: part(LATIN, "woff")[:30], "cut off"),
        ("half.woff2", lambda: part(LATIN, "woff2")[:900], "damaged"),
        ("torn.woff2", lambda: damaged("woff2"), "damaged"),
        ("torn.woff", lambda: damaged("woff"), "damaged"),
    ],
)
def test_a_web_font_that_cannot_be_used_is_refused_with_its_name(tmp_path, name, make, says):
    product = chain(["NotoSans-Regular", f"fonts/{name}"], **{name: make()}).write(tmp_path / "product")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist")
    said = run.stdout + run.stderr
    assert run.returncode == 2 and f"fonts/{name}" in said and says in said and "product.toml:" in said, said


# Rulings with labels of their own, plain and dated.
LABELLED = ["titled", "cue-notes", "day", "week", "open-week", "month", "year", "habits"]

DATED = """
[calendar]
first = "2027-03"
months = 2
[[notebook.dated]]
pages = "quarter"
[[notebook.dated]]
pages = "month"
[[notebook.dated]]
pages = "week"
ruling = "week-rows"
[[notebook.dated]]
pages = "day"
companions = [{ ruling = "day-notes", name = "2" }]
"""

# Words of English pages that none of the other languages has (German shares April and August, French important).
ENGLISH = """Index Templates Cover Welcome This notebook belongs Worth finding again Where Go Tabs Rings Squares To do Focus Most
Month Topic Cues Summary Priorities Week Quarter Monday Tuesday Wednesday Thursday Friday Saturday Sunday January February March
May June July October the of your you leads Turn links""".split()

# Names that stand in the manifest of the test, and the shop, are in one tongue; what the tool says is in that of the product.
TONGUES = {
    "de-DE": "Inhalt Vorlagen Notizen Aufgaben Datum Schwerpunkt Monat Thema Zusammenfassung Prioritäten Woche Quartal Montag Oktober März Willkommen gehört",
    "fr": "Sommaire Modèles Notes Date Mois Sujet Résumé Priorités Semaine Trimestre lundi octobre mars Bienvenue appartient",
    "es-ES": "Índice Plantillas Notas Tareas Fecha Mes Tema Resumen Prioridades Semana Trimestre lunes octubre marzo bienvenida pertenece",
    "it": "Indice Modelli Note Data Mese Argomento Riassunto Priorità Settimana Trimestre lunedì ottobre marzo benvenuto appartiene",
    "pt-PT": "Índice Modelos Notas Tarefas Data Mês Assunto Resumo Prioridades Semana Trimestre segunda outubro março Boas pertence programa",
    "pt-BR": "Índice Modelos Notas Tarefas Data Mês Assunto Resumo Prioridades Semana Trimestre segunda outubro março",
    "nl": "Inhoud Sjablonen Notities Taken Datum Maand Onderwerp Samenvatting Prioriteiten Week Kwartaal maandag oktober maart Welkom notitieboek",
    "pl": "Spis treści Szablony Notatki Data Miesiąc Temat Podsumowanie Priorytety Tydzień Kwartał poniedziałek październik marzec Witaj należy",
    "ja": "もくじ テンプレート メモ 日付 話題 まとめ 優先すること 四半期 月曜日 はじめに このノートの持ち主 第 週",
    "ar-AE": "الفهرس القوالب ملاحظات مهام التاريخ الشهر الموضوع الخلاصة الأولويات الأسبوع الربع الاثنين أكتوبر مارس الدفتر",
    "he": "תוכן העניינים תבניות הערות מטלות תאריך חודש נושא סיכום עדיפויות שבוע רבעון שני אוקטובר מרץ ברוכים המחברת",
    "sv": "Innehåll Mallar Anteckningar Datum Månad Ämne Sammanfattning Prioriteringar Vecka Kvartal måndag oktober mars Välkommen tillhör",
}


# Words of English pages which are words of these languages, too.
ALSO_THEIRS = {"nl": {"Week", "links", "of", "do"}, "pt": {"links", "do"}, "pl": {"do"}}


def boxes():
    """A font of boxes with the characters of JIS X 0208, as Python's codec has them: what they look like is no matter here."""
    pairs = (bytes([a, b]) for a in [*range(0x81, 0xA0), *range(0xE0, 0xF0)] for b in [*range(0x40, 0x7F), *range(0x80, 0xFD)])
    characters = sorted({c for pair in pairs for c in pair.decode("shift_jis", "ignore") if ord(c) > 0x2000} | {"～"})
    names = [".notdef", *(f"uni{ord(c):04X}" for c in characters)]
    font = FontBuilder(1000, isTTF=True)
    font.setupGlyphOrder(names)
    font.setupCharacterMap({ord(c): f"uni{ord(c):04X}" for c in characters})
    pen = TTGlyphPen(None)
    pen.moveTo((80, 0)), pen.lineTo((920, 0)), pen.lineTo((920, 700)), pen.lineTo((80, 700)), pen.closePath()
    box = pen.glyph()
    font.setupGlyf(dict.fromkeys(names, box))
    font.setupHorizontalMetrics(dict.fromkeys(names, (1000, 80)))
    font.setupHorizontalHeader(ascent=880, descent=-120)
    font.setupNameTable({"familyName": "Box Mincho", "styleName": "Regular"})
    font.setupOS2(sTypoAscender=880, usWinAscent=880, usWinDescent=120, sCapHeight=700, sxHeight=500, fsType=0)
    font.setupPost()
    out = io.BytesIO()
    font.save(out)
    return out.getvalue()


BOXES = functools.cache(boxes)
# What the tool brings along has no letters of these languages.
OWN_FONTS = {"ja": {"fonts/a.ttf": DEJAVU.read_bytes, "fonts/b.ttf": BOXES}, "ar": {"fonts/a.ttf": DEJAVU.read_bytes}, "he": {"fonts/a.ttf": DEJAVU.read_bytes}}


def in_tongue(tongue, more=""):
    files = OWN_FONTS.get(tongue[:2], {})
    if files:
        more += f"\n[style.fonts]\nheading = {json.dumps(list(files))}\nlabel = {json.dumps(list(files))}\n[assets]\nown = ['fonts/*']\n"
    recipe = replace(
        products.LAYOUTS["upright"],
        name="Xyst",
        sections=["Aa", "Bb", ""],
        section_pages={},
        templates=[(f"T{n}", ruling, "{}") for n, ruling in enumerate(LABELLED)],
        page='size = "240 x 180 mm"\nlayout = "spread"',
        coil="middle",
        more=DATED + more,
        files=files,
        keys="",
        template_keys={},
    )
    return recipe


def spoken(tongue, tmp_path, more=""):
    product = in_tongue(tongue, more).write(tmp_path / "product")
    manifest = product / "product.toml"
    manifest.write_text(manifest.read_text(encoding="utf-8").replace('language = "en-GB"', f'language = "{tongue}"'), encoding="utf-8")
    bundle = tool.build(product, tmp_path / "dist")
    text = MARKS.sub("", tool.program("pdftotext", bundle.notebook, "-"))
    return bundle, re.findall(r"[^\W\d_]+", text)


@pytest.mark.parametrize("tongue", TONGUES)
def test_every_word_of_a_page_is_in_the_language_of_the_product(tmp_path, tongue):
    """Front pages, plain and dated rulings: no English word is left, in the outline neither."""
    bundle, said = spoken(tongue, tmp_path)
    assert not set(TONGUES[tongue].split()) - set(said), set(TONGUES[tongue].split()) - set(said)
    left = set(ENGLISH) & set(said) - ALSO_THEIRS.get(tongue[:2], set())
    assert not left, left
    outline = tool.program("mutool", "show", bundle.notebook, "outline")
    assert not set(ENGLISH) & set(re.findall(r"[^\W\d_]+", outline)) - ALSO_THEIRS.get(tongue[:2], set()), outline


def test_english_words_are_those_that_the_rulings_have(tmp_path):
    """The same product in English says each of the words that the others must not have left."""
    _, said = spoken("en-GB", tmp_path)
    # A cover's name and what a link says are not drawn; lines for what is worth finding again have no room beside months.
    assert set(ENGLISH) - set(said) <= {"Go", "Cover", "May", "Worth", "finding", "again", "Where"}


def test_a_word_of_the_designers_own_goes_in_the_place_of_the_tools(tmp_path):
    more = '[words]\nindex = "Verzeichnis"\nnotes = "Kritzeleien"\n'
    _, said = spoken("de-DE", tmp_path, more)
    assert {"Verzeichnis", "Kritzeleien"} <= set(said) and "Notizen" not in said


@pytest.mark.parametrize("tongue,pages", [("de-AT", None), ("cs", True), ("en-US", None)])
def test_what_is_left_in_english_is_told(tmp_path, tongue, pages):
    """A language without a table says so; one with a table and English say nothing."""
    product = in_tongue(tongue).write(tmp_path / "product")
    manifest = product / "product.toml"
    manifest.write_text(manifest.read_text(encoding="utf-8").replace('language = "en-GB"', f'language = "{tongue}"'), encoding="utf-8")
    _, found = told(product, tmp_path)
    notes = [f for f in found if f["check"] == "words-missing"]
    assert len(notes) == (0 if pages is None else 1), notes
    for note in notes:
        assert tongue in note["message"] and note["severity"] == "note" and ("pages," in note["message"]) == pages


# Function words by which the stop lists of the Snowball stemmers know a language, from memory; without those that another of
# the four has too (German `was`, `die`, `des`, French `on`).
FUNCTION_WORDS = {
    "en": "the of and with which this that your you from by are for it have not each what they them there than".split(),
    "de": "und der nicht mit auf dem ist eine oder wenn auch sind".split(),
    "fr": "les dans avec une vous pour sur est qui ou".split(),
    "es": "los las una con para por como del esta".split(),
    "it": "della che sono delle nel ogni puoi dalla questo anche".split(),
    "pt": "você não uma dos com ou são esta seu cada".split(),
    "nl": "het een niet voor maar wordt zijn jouw naar deze".split(),
    "pl": "nie się jest dla oraz lub które jest jak przez na".split(),
    "ja": "です ます ください から など して".split(),
    "ar": "في على من إلى أن التي لا كل هذا ما".split(),
    "he": "את של על אל או כל לא אם גם".split(),
    "sv": "och att inte från för som eller ett dina till".split(),
}
# Words of that list which are words of the second language, too.
SHARED = {("es", "pt"): {"para", "por", "como", "esta", "los"}, ("pt", "es"): {"cada", "dos"}, ("en", "pt"): {"for"}, ("pt", "fr"): {"ou"}, ("fr", "pt"): {"ou", "qui"}, ("es", "it"): {"una", "con", "del"}, ("fr", "it"): {"qui"}, ("en", "nl"): {"of", "are", "have", "them"}, ("de", "nl"): {"die", "dem"}, ("en", "sv"): {"for", "by", "from"}, ("de", "sv"): {"dem"}, ("es", "sv"): {"del"}, ("pl", "pt"): {"na"}, ("pl", "nl"): {"na"}, ("en", "pl"): {"by", "do"}}

BESIDE = """
[[cover]]
name = "Xa"
design = "banded"
colour = "#5a6b78"
[[sticker]]
motif = "to-do-box"
[[sticker]]
motif = "appointment"
[[sticker]]
motif = "budget-row"
[licence]
small-commercial = 1500
classroom-seats = 30
refunds = 14
[listing]
title = "Xyst"
summary = "Xyst."
"""


def beside(tongue, tmp_path, more=BESIDE):
    """A product with all that buyers read, whose own names are words of no language."""
    product = in_tongue(tongue, more).write(tmp_path / "product")
    manifest = product / "product.toml"
    text = manifest.read_text(encoding="utf-8").replace('language = "en-GB"', f'language = "{tongue}"')
    manifest.write_text(text.replace("Tarn and Tide Papers", "Qworp"), encoding="utf-8")
    return tool.build(product, tmp_path / "dist")


@pytest.fixture(scope="module")
def of_the_language(tmp_path_factory):
    """That product in a language, made once for all who only read it."""
    return functools.cache(lambda tongue: beside(tongue, tmp_path_factory.mktemp("beside")))


def told_to_buyers(bundle):
    """The texts that buyers read, by what they are; addresses and names of files are of no language."""
    folder = bundle.notebook.parents[1]
    texts = {path.name: path.read_text(encoding="utf-8") for path in [*folder.glob("contents/*.txt"), *folder.glob("listing/*.md"), folder / "listing/files.txt"]}
    texts |= {pdf.name: tool.program("pdftotext", pdf, "-") for pdf in bundle.pdfs}
    plain = {name: re.sub(r"[!-~]*[A-Za-z0-9_-]+\.[A-Za-z0-9]+[!-~]*|[!-~]+/", " ", MARKS.sub("", text)) for name, text in texts.items()}
    return {name: re.findall(r"[^\W\d_]+", text.lower()) for name, text in plain.items()}


@pytest.mark.parametrize("tongue", ["en-GB", *TONGUES])
def test_all_that_a_buyer_reads_is_in_one_language(of_the_language, tongue):
    """Guide, start-here, licence terms, description, list of files and pages have function words of their language, and of no other."""
    texts = told_to_buyers(of_the_language(tongue))
    assert {"start-here.txt", "licence-terms.txt", "description.md", "files.txt"} <= set(texts) and any("guide" in name for name in texts)
    own = tongue[:2]
    for name, said in texts.items():
        for other, function_words in FUNCTION_WORDS.items():
            here = set(function_words) & set(said) - SHARED.get((other, own), set())
            if other != own:
                assert not here, (name, other, here)
        # Japanese has no spaces between words.
        own_words = {word for word in FUNCTION_WORDS[own] if word in said or own == "ja" and any(word in run for run in said)}
        if len(said) > (40 if own == "ja" else 150) and ("guide" in name or name in ("start-here.txt", "licence-terms.txt", "description.md")):
            assert len(own_words) >= 4, (name, said[:40])


@pytest.mark.parametrize(
    "tongue,number,date",
    [("en-GB", "1,500", "1 March 2027"), ("de-DE", "1.500", "1. März 2027"), ("fr", "1\u202f500", "1 mars 2027"), ("es-ES", "1500", "1 de marzo de 2027"), ("it", "1500", "1 marzo 2027"), ("pt-PT", "1500", "1 de março de 2027"), ("pt-BR", "1.500", "1 de março de 2027"), ("nl", "1.500", "1 maart 2027"), ("sv", "1\u00a0500", "1 mars 2027"), ("pl", "1500", "1 marca 2027"), ("ja", "1,500", "2027年3月1日"), ("ar-AE", "1,500", "1 مارس 2027"), ("ar-EG", "١٬٥٠٠", "١ مارس ٢٠٢٧"), ("he", "1,500", "1 במרץ 2027")],
)
def test_numbers_and_dates_are_written_as_in_the_language(of_the_language, tongue, number, date):
    """By CLDR: marks between thousands (Spanish has none in four digits), the long date, a comma before decimals."""
    folder = of_the_language(tongue).notebook.parents[1]
    flat = {p.name: p.read_text(encoding="utf-8").replace("\n  ", " ") for p in [folder / "contents/licence-terms.txt", folder / "contents/start-here.txt", folder / "listing/description.md"]}
    assert number in flat["licence-terms.txt"] and date in flat["start-here.txt"]
    inches = re.search(r"(9.45|٩٫٤٥) × (7.09|٧٫٠٩) ?(\w+)", flat["description.md"])
    assert inches and inches[3] == {"pl": "cala", "ja": "インチ", "ar": "بوصة", "he": "אינץ", "en": "in", "de": "Zoll", "fr": "pouces", "es": "pulgadas", "it": "pollici", "pt": "polegadas", "nl": "inch", "sv": "tum"}[tongue[:2]]
    assert inches[1] == {"ar-EG": "٩٫٤٥"}.get(tongue, "9.45" if tongue in ("en-GB", "ja", "ar-AE", "he") else "9,45")


def test_licence_terms_in_another_language_say_that_they_govern_and_keep_each_caution(of_the_language):
    """As many items as in English, the law above them, no legal advice."""
    german, english = (of_the_language(tongue).notebook.parents[1] / "contents/licence-terms.txt" for tongue in ("de-DE", "en-GB"))
    german, english = german.read_text(encoding="utf-8"), english.read_text(encoding="utf-8")
    assert german.count("\n- ") == english.count("\n- ")
    flat = " ".join(german.split())
    for caution in ("keine Rechtsberatung", "Maßgeblich ist dieser deutsche Text", "Keine Zeile hier nimmt dir ein Recht", "bleiben unberührt"):
        assert caution in flat


def test_a_sticker_says_in_german_what_a_label_of_the_same_word_says(of_the_language, tmp_path):
    """The word on a sticker is a picture: it is the same picture as that of the word as the designer's own label."""
    more = BESIDE.replace('motif = "to-do-box"', 'motif = "to-do-box"\nlabel = "Aufgaben"')
    german, labelled = (next(made.notebook.parent.glob("stickers/*to-do*.png")) for made in (of_the_language("de-DE"), beside("en-GB", tmp_path, more)))
    assert german.read_bytes() == labelled.read_bytes()
