"""Every word that the tool says to buyers is one of its language: the tables of words and sentences against the dictionaries of
Hunspell, as Debian packages them. What is no word of a dictionary and right all the same stands below, with its language."""

import re
import subprocess

import pytest
import tool

# Files of a language, by its name in the house, with the dictionary that knows it and the tag of its welcome page.
LANGUAGES = {
    "english": ("en_GB", ""),
    "german": ("de_DE", ".de"),
    "french": ("fr", ".fr"),
    "spanish": ("es_ES", ".es"),
    "italian": ("it_IT", ".it"),
    "dutch": ("nl", ".nl"),
    "swedish": ("sv_SE", ".sv"),
    "portuguese": ("pt_BR", ".pt"),
    "portuguese_portugal": ("pt_PT", ".pt-PT"),
    "polish": ("pl_PL", ".pl"),
    "arabic": ("ar", ".ar"),
    "hebrew": ("he_IL", ".he"),
}

# Names of formats and units, which stand in every language.
EVERYWHERE = set("pdf pdfs png pngs zip dpi ppp sil open font license copyright kb mb gb tablet tablets app apps".split())

# Words that are right, and that the dictionaries do not have: loan words, verbs with pronouns behind them, other spellings.
KNOWN = {
    "english": "Repotted",
    "german": "Umgetopft Lese Kleingewerbliche Stickerbogen Stickerbögen anderswohin hineinkopierst",
    "spanish": """Consérvalo pégala Muévela bórrala muévela cópiala impórtalo amplíala Insértala descárgalo redibujado encuéntralo
        descomprímelo Reembolsos escríbelo""",
    "italian": "Beauty all cos dall dell dov nell sull",
    "dutch": "leesapp wk png's",
    "swedish": "Börjad läsläge läsläget sidvyn läsapp",
    "portuguese": "Nécessaire pixels mail",
    "portuguese_portugal": "píxeis",
    "polish": "planer Planer",
    "arabic": "والصقه والصقها بإصبعين تقرؤه كيلوبايت غيغابايت بايت بايتان",
    "hebrew": "סיסמה פירות עוצמה טאבלט בטאבלט בטאבלטים הלאסו איתה אינץ לאינץ ג דוא יגה",
}


def told(language):
    """Every sentence of a language, with its file and line."""
    rooms = [tool.ROOT / "pipeline" / way for way in ["wording", "base/model/words"]]
    tables = [path for room in rooms for path in sorted(room.rglob(f"{language}.rs"))]
    for path in tables:
        # The tag of the table is none of its words.
        text = re.sub(r'table: text\(".*?"\)', "", path.read_text(encoding="utf-8"))
        for match in re.finditer(r'"((?:[^"\\]|\\.)*)"', text):
            line = text[: match.start()].count("\n") + 1
            sentence = re.sub(r"\\u\{([0-9a-f]+)\}", lambda m: chr(int(m[1], 16)), match[1])
            yield f"{path.relative_to(tool.ROOT)}:{line}", sentence
    welcome = tool.ROOT / f"pipeline/plan/welcome{LANGUAGES[language][1]}.md.tera"
    for n, line in enumerate(welcome.read_text(encoding="utf-8").splitlines(), 1):
        yield f"{welcome.relative_to(tool.ROOT)}:{n}", line


def words(sentence):
    """The words of a sentence, without what is filled in, addresses and marks."""
    bare = re.sub(r"\{%.*?%\}|\{\{.*?\}\}|\{.*?\}|https?://\S+", " ", sentence)
    # Marks of vowels stand in no dictionary.
    bare = re.sub("[\u064b-\u0652]", "", bare.replace("’", "'"))
    found = re.findall(r"[^\W\d_]+(?:['׳״\"-][^\W\d_]+)*['׳]?", bare)
    return [w.rstrip("'") for w in found if len(w.rstrip("'")) > 1]


def unknown(language, asked):
    """Those of some words that the dictionary does not have; of one with hyphens, its parts."""
    wrong = spelled_wrong(language, asked)
    parts = {part for word in wrong for part in word.split("-") if "-" in word and len(part) > 1}
    return {word for word in wrong if "-" not in word} | (spelled_wrong(language, sorted(parts)) if parts else set())


def spelled_wrong(language, asked):
    dictionary = LANGUAGES[language][0]
    run = subprocess.run(
        ["hunspell", "-d", dictionary, "-i", "utf-8", "-l"], input="\n".join(asked), capture_output=True, encoding="utf-8", timeout=300
    )
    assert run.returncode == 0 and "Can't open" not in run.stderr, run.stderr
    return set(run.stdout.split())


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_word_is_one_of_its_language(language):
    sentences = list(told(language))
    assert len(sentences) > 150 or language == "portuguese_portugal", len(sentences)
    places = {}
    for place, sentence in sentences:
        for word in words(sentence):
            places.setdefault(word, place)
    wrong = unknown(language, sorted(places)) - set(KNOWN.get(language, "").split())
    wrong = {w for w in wrong if w.lower() not in EVERYWHERE}
    assert not wrong, "\n".join(sorted(f"{places.get(w, '?')}: {w}" for w in wrong))


def test_a_word_that_is_none_is_seen():
    assert unknown("portuguese_portugal", ["partilhe", "cartilhe", "tnuma"]) == {"cartilhe", "tnuma"}
