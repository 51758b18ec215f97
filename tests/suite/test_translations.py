"""Products in several languages: texts of the designer's own in each (`[translations]`), and a product and a listing of its own for
a language (`translation-of`). Words are read by pdftotext, links and places by pikepdf, names of files by the file system."""

import json
import os
import re

import pikepdf
import pytest

import tool
from again import digests
from tool import sheafwright

SHOP = """
[shop]
name = "Tarn and Tide Papers"
contact = "help@tarn-and-tide.example"
[style]
accent = "#3f6b57"
[assets]
own = ["texts/*"]
"""

LOG = """
name = "Tide Log"
version = "1.2.0"
released = 2027-03-01
language = "en-GB"
[page]
size = "A6"
layout = "single"
[notebook]
welcome = "texts/welcome.md"
[[notebook.section]]
name = "Boats"
pages = [{ template = "deck-log", name = "Aft deck" }, { template = "deck-log", count = 2 }]
[[notebook.section]]
name = "Weather"
[[notebook.template]]
name = "Deck log"
ruling = "lined"
[[notebook.template]]
name = "Tide table"
ruling = "chart"
[[cover]]
name = "Swell"
pattern = "waves"
[[sticker]]
motif = "to-do-box"
name = "Knots"
label = "Knots to tie"
[[sticker]]
motif = "star"
group = "On board"
[[sticker-group]]
name = "On board"
[guide]
text = "texts/guide.md"
[listing]
title = "Tide Log: a notebook for small boats"
summary = "What the sea did, and what you did about it."
tags = ["boat notebook", "tide log"]
"""

TEXTS = {"welcome.md": "# Welcome\n\nKeep it dry.\n", "guide.md": "# How to\n\n## Begin\n\nOpen it at the pier.\n"}

GERMAN = {
    "Tide Log": "Tidenbuch",
    "Boats": "Boote",
    "Weather": "Wetter",
    "Aft deck": "Achterdeck",
    "Deck log": "Decksbuch",
    "Tide table": "Tidentafel",
    "Swell": "Dünung",
    "Knots to tie": "Knoten",
    "On board": "An Bord",
    "Tide Log: a notebook for small boats": "Tidenbuch: ein Notizbuch für kleine Boote",
    "What the sea did, and what you did about it.": "Was die See tat, und was du dazu tatest.",
    "boat notebook": "Bootsnotizbuch",
    "tide log": "Tidenlog",
}


def table(language, texts):
    return f"\n[translations.{language}]\n" + "".join(f"{json.dumps(k, ensure_ascii=False)} = {json.dumps(v, ensure_ascii=False)}\n" for k, v in texts.items())


def shop(folder, products, files=()):
    """A shop's folder with products, each by name and manifest, and texts by the way from there."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "shop.toml").write_text(SHOP, encoding="utf-8")
    for name, manifest in products.items():
        (folder / name).mkdir(parents=True)
        (folder / name / "product.toml").write_text(manifest, encoding="utf-8")
    for path, text in dict(files).items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text, encoding="utf-8")
    return folder


def original(folder, more="", products=None, files=None):
    texts = {f"log/texts/{name}": text for name, text in TEXTS.items()}
    return shop(folder, {"log": LOG + more} | (products or {}), texts | (files or {}))


def text(pdf):
    return tool.program("pdftotext", "-layout", pdf, "-")


def links(pdf):
    """Every link of a document: page, where it lies, and the page that it leads to."""
    with pikepdf.open(pdf) as doc:
        at = {page.objgen: n for n, page in enumerate(doc.pages)}
        out = []
        for n, page in enumerate(doc.pages):
            for link in page.get("/Annots", []):
                to = link.get("/Dest", link.get("/A", {}).get("/D") if "/A" in link else None)
                if to is None:
                    continue
                if not isinstance(to, pikepdf.Array):
                    to = pikepdf.NameTree(doc.Root.Names.Dests)[str(to)]
                    to = to.get("/D", to) if isinstance(to, pikepdf.Dictionary) else to
                out.append((n, at[to[0].objgen]))
        return sorted(out)


def faults(product, out, *more):
    run = sheafwright("build", product, "--out", out, *more)
    assert run.returncode != 0, run.stdout
    return run.stderr


@pytest.fixture(scope="module")
def both(tmp_path_factory):
    """The original and its German translation, built in one go."""
    folder = tmp_path_factory.mktemp("tarn")
    german = 'translation-of = "../log"\nlanguage = "de"\n[limits]\nfiles = 9\n' + table("de", GERMAN)
    files = {"log-de/texts/welcome.md": "# Willkommen\n\nHalte es trocken.\n", "log-de/texts/guide.md": "# Anleitung\n\n## Anfang\n\nÖffne es am Steg.\n"}
    original(folder, products={"log-de": german}, files=files)
    run = sheafwright("build", folder, "--out", folder / "dist")
    assert run.returncode == 0, run.stdout + run.stderr
    return folder, {slug: tool.Bundle(folder, folder / "dist" / slug / "1.2.0") for slug in ["tide-log", "tide-log-de"]}


def test_a_translation_is_a_product_of_its_own_with_its_own_words(both):
    _, bundles = both
    german, english = bundles["tide-log-de"], bundles["tide-log"]
    assert german.record["product"] == "tide-log-de" and german.record["name"] == "Tidenbuch"
    said = text(german.notebook)
    for was, word in list(GERMAN.items())[1:6]:
        assert word in said and was not in said, (was, said)
    assert "Halte es trocken" in said and "Keep it dry" in text(english.notebook)
    (guide,) = [p for p in german.of_kind("guide") if "contents" in p.parts]
    assert "Öffne es am Steg" in text(guide)
    (covers,) = [p for p in german.of_kind("covers") if "contents" in p.parts]
    with pikepdf.open(covers) as doc:
        assert any(str(entry.title) == "Dünung" for entry in doc.open_outline().root)


def test_each_has_a_listing_of_its_own(both):
    _, bundles = both
    german, english = (bundles[slug].folder / "listing" for slug in ["tide-log-de", "tide-log"])
    described = (german / "description.md").read_text(encoding="utf-8")
    assert described.startswith("# Tidenbuch: ein Notizbuch für kleine Boote") and "Was die See tat" in described
    assert (german / "tags.txt").read_text(encoding="utf-8").split("\n")[:2] == ["Bootsnotizbuch", "Tidenlog"]
    assert (english / "tags.txt").read_text(encoding="utf-8").split("\n")[:2] == ["boat notebook", "tide log"]
    assert "Seiten" in described and "pages" not in described


def test_taps_lead_where_they_lead_in_the_original(both):
    """The same pages are linked with each other, whatever they are called."""
    _, bundles = both
    german, english = (links(bundles[slug].notebook) for slug in ["tide-log-de", "tide-log"])
    assert german == english and len(german) > 20


def test_files_keep_the_names_that_they_have(both):
    """What a buyer of one language is told about a file holds for the other."""
    _, bundles = both
    names = [[p.name for p in bundles[slug].stickers] for slug in ["tide-log-de", "tide-log"]]
    assert names[0] == names[1] and names[0][0].endswith("knots.png")


def test_the_original_is_what_it_is_without_translations(both, tmp_path):
    _, bundles = both
    alone = tool.build(original(tmp_path / "alone") / "log", tmp_path / "dist")
    assert digests(alone.folder) == digests(bundles["tide-log"].folder)


def test_the_record_names_what_both_folders_gave(both):
    _, bundles = both
    inputs = [entry["path"] for entry in bundles["tide-log-de"].record["inputs"]]
    assert {"product.toml", "../log/product.toml", "../shop.toml", "texts/guide.md"} <= set(inputs), inputs
    # A text that the translation has itself is not read of the original.
    assert "../log/texts/guide.md" not in inputs


def test_a_translation_that_changes_nothing_gives_the_files_of_its_original(tmp_path):
    """Of the samples that are no sets and have several variants, and of the product of this file."""
    same = original(tmp_path / "shop", products={"twin": 'translation-of = "../log"\nslug = "tide-log"\n'})
    a, b = (tool.build(same / name, tmp_path / name) for name in ["log", "twin"])
    one, other = digests(a.folder), digests(b.folder)
    differing = {path for path in one.keys() | other.keys() if one.get(path) != other.get(path)}
    # The record says what each was made of.
    assert differing <= {"bundle.json", "SHA256SUMS", "proof.html"}, differing


def test_variants_of_one_product_have_their_languages_from_one_table(tmp_path):
    rows = '\n[variants.language]\nenglish = { title = "English" }\ndeutsch = { title = "Deutsch", language = "de" }\n'
    folder = original(tmp_path, more=rows + table("de", GERMAN))
    bundle = tool.build(folder / "log", tmp_path / "dist")
    said = {v: text(bundle.folder / f"contents/{v}/tide-log-{v}.pdf") for v in ["english", "deutsch"]}
    assert "Achterdeck" in said["deutsch"] and "Aft deck" not in said["deutsch"]
    assert "Aft deck" in said["english"] and "Achterdeck" not in said["english"]
    assert links(bundle.folder / "contents/english/tide-log-english.pdf") == links(bundle.folder / "contents/deutsch/tide-log-deutsch.pdf")


def test_a_region_goes_before_its_language(tmp_path):
    texts = table("pt", GERMAN | {"Boats": "Barcos", "Weather": "Tempo"}) + table("pt-PT", {"Boats": "Embarcações"})
    products = {"log-pt": 'translation-of = "../log"\nlanguage = "pt-PT"\n'}
    folder = original(tmp_path, more=texts, products=products)
    bundle = tool.build(folder / "log-pt", tmp_path / "dist")
    assert bundle.slug == "tide-log-pt-pt"
    said = text(bundle.notebook)
    assert "Embarcações" in said and "Barcos" not in said and "Tempo" in said


def test_what_one_language_lacks_is_told(tmp_path):
    """A text that has a French line and no German one, in German alone."""
    less = {k: v for k, v in GERMAN.items() if k != "Weather"}
    texts = table("de", less) + table("fr", GERMAN)
    products = {f"log-{tag}": f'translation-of = "../log"\nlanguage = "{tag}"\n' for tag in ["de", "fr"]}
    folder = original(tmp_path, more=texts, products=products)
    for tag in ["de", "fr"]:
        run = sheafwright("build", folder / f"log-{tag}", "--out", tmp_path / "dist", "--json")
        found = [f for f in json.loads(run.stdout)["findings"] if f["check"] == "text-untranslated"]
        assert [('"Weather"' in f["message"], f["severity"]) for f in found] == ([(True, "warning")] if tag == "de" else [])


@pytest.mark.parametrize(
    "more,where,what,help",
    [
        ('[translations.de]\n"Boots" = "Boote"\n', "{line}:11", 'no text of this product says "Boots"', "Boats"),
        ('[translations.de]\n"Boats" = " "\n', "{line}:11", 'the translation of "Boats" is empty', "take the line out"),
        ('[translations.german]\n"Boats" = "Boote"\n', "{line-1}:15", "`german` is not a language tag", "such as de"),
        ('[translations.de]\n"Boats" = 3\n', "{line}:11", "", ""),
    ],
)
def test_a_wrong_table_is_told_with_its_line(tmp_path, more, where, what, help):
    folder = original(tmp_path, more="\n" + more)
    line = len((LOG + "\n" + more).splitlines())
    said = faults(folder / "log", tmp_path / "dist")
    assert f"product.toml:{eval('f' + repr(where), {}, {'line': line})}" in said and what in said and help in said, said


@pytest.mark.parametrize(
    "manifest,what,help",
    [
        ('translation-of = "../nowhere"\n', "there is no such folder", "log"),
        ('translation-of = "."\n', "this is the product itself", "name the product"),
        ('translation-of = "../second"\n', '"../second" is a translation itself', "name the product that it translates"),
        ('translation-of = "../chest"\n', '"../chest" is a set', "translate its members"),
        ('translation-of = "../shop-of-others/log"\n', "belongs to another shop", "shop.toml"),
        ('translation-of = 3\n', "translation-of", ""),
        ('translation-of = "../log"\n[notebook.section.boots]\nname = "Boote"\n', "no entry of the list is called `boots`", "boats"),
    ],
)
def test_what_cannot_be_translated_is_told(tmp_path, manifest, what, help):
    products = {
        "log-de": manifest,
        "second": 'translation-of = "../log"\nslug = "second"\n',
        "chest": 'name = "Chest"\nreleased = 2027-03-01\nset = { products = ["../log", "../second"] }\n',
        "shop-of-others/log": LOG,
    }
    files = {"shop-of-others/shop.toml": SHOP, "shop-of-others/log/texts/welcome.md": "# W\n\nx\n", "shop-of-others/log/texts/guide.md": "# G\n\nx\n"}
    folder = original(tmp_path, products=products, files=files)
    said = faults(folder / "log-de", tmp_path / "dist")
    assert "product.toml:" in said and what in said and help in said, said


def test_a_fault_of_the_original_is_told_where_it_stands(tmp_path):
    folder = original(tmp_path, products={"log-de": 'translation-of = "../log"\nlanguage = "de"\n'})
    path = folder / "log/product.toml"
    path.write_text(path.read_text(encoding="utf-8").replace('ruling = "chart"', 'ruling = "chard"'), encoding="utf-8")
    line = LOG.splitlines().index('ruling = "chart"') + 1
    assert f"../log/product.toml:{line}:" in faults(folder / "log-de", tmp_path / "dist")


def test_a_change_of_the_original_reaches_its_translation(both, tmp_path):
    folder = original(tmp_path, products={"log-de": 'translation-of = "../log"\nlanguage = "de"\n'})
    first = digests(tool.build(folder / "log-de", tmp_path / "dist").folder)
    assert digests(tool.build(folder / "log-de", tmp_path / "dist").folder) == first
    for path, old, new in [("log/product.toml", '"Weather"', '"Storms"'), ("log/texts/welcome.md", "dry", "drier")]:
        file = folder / path
        file.write_text(file.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
        bundle = tool.build(folder / "log-de", tmp_path / "dist")
        assert new.strip('"') in text(bundle.notebook)


def test_where_a_value_stands_is_told_of_three_files(tmp_path):
    german = 'translation-of = "../log"\nlanguage = "de"\n[listing]\ntitle = "Tidenbuch"\n[translations.de]\n"Boats" = "Boote"\n'
    folder = original(tmp_path, products={"log-de": german})
    said = {key: sheafwright("explain", key, "--where", folder / "log-de").stdout for key in ["listing.title", "listing.summary", "style.accent", "notebook.section.1.name"]}
    assert "product.toml:4:" in said["listing.title"] and re.search(r"before \S+/log/product\.toml:\d+", said["listing.title"]), said
    assert re.search(r"/log/product\.toml:\d+", said["listing.summary"]) and "before" not in said["listing.summary"]
    assert "/shop.toml:6" in said["style.accent"]
    # Of a translated text the translation counts.
    name = said["notebook.section.1.name"]
    assert '"Boote"' in name and "product.toml:6:" in name and re.search(r"before \S+/log/product\.toml:12", name), name


def test_things_are_added_to_the_original_and_dates_are_its_own(tmp_path):
    manifest = 'translation-of = "../log"\nlanguage = "de"\n'
    folder = original(tmp_path, products={"log-de": manifest})
    added = sheafwright("add", folder / "log-de", "section", "Knots")
    assert added.returncode != 0 and "has the things of its original" in added.stderr, added.stderr
    moved = sheafwright("redate", folder / "log-de", "--from", "2028-01", "--into", tmp_path / "next")
    assert moved.returncode != 0 and "has the dates of its original" in moved.stderr, moved.stderr
    assert (folder / "log-de/product.toml").read_text(encoding="utf-8") == manifest and not os.path.exists(tmp_path / "next")
