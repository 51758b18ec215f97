"""Products that are sold together: sisters, which name each other, and sets, which are made of others. Files are held against the
members' own bundles byte for byte, numbers of texts against what pikepdf, Pillow and zipfile count, pictures against Pillow."""

import hashlib
import io
import json
import os
import re
import subprocess
import zipfile

import numpy
import pikepdf
import pytest
from PIL import Image

import tool
from again import digests
from test_languages import OWN_FONTS
from tool import ROOT, sheafwright

SHOP = """
language = "en-GB"
[shop]
name = "Tarn and Tide Papers"
contact = "help@tarn-and-tide.example"
[page]
size = "A6"
layout = "single"
[style]
accent = "#3f6b57"
[licence]
small-commercial = 25
"""

LOG = """
name = "Tide Log"
version = "1.2.0"
released = 2027-03-01
[notebook]
[[notebook.section]]
name = "Boats"
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
"""

TIN = """
name = "Signal Tin"
version = "1.0.3"
released = 2027-03-02
[[sticker]]
motif = "star"
longest = "20 mm"
[[sticker]]
motif = "tally"
longest = "30 mm"
[[sticker]]
motif = "to-do-box"
longest = "24 mm"
"""

BOOK = """
name = "Pilot Book"
released = 2027-03-03
[notebook]
[[notebook.section]]
name = "Ports"
[[notebook.template]]
name = "Port sheet"
ruling = "dot-grid"
[variants.colourway]
deep = {}
sand = { style = { accent = "#a0703c" } }
"""

SET = """
name = "Sea Chest"
released = 2027-03-05
[set]
products = ["../tide-log", "../signal-tin"]
"""


def lay(folder, shop=SHOP, **products):
    """A shop's folder with its products, by their folders' names."""
    folder.mkdir(parents=True, exist_ok=True)
    if shop is not None:
        (folder / "shop.toml").write_text(shop, encoding="utf-8")
    for name, manifest in products.items():
        path = folder / name.replace("_", "-")
        path.mkdir(exist_ok=True)
        (path / "product.toml").write_text(manifest, encoding="utf-8")
    return folder


def chest(folder, more="", **products):
    return lay(folder, **{"tide_log": LOG, "signal_tin": TIN, "sea_chest": SET + more} | products) / "sea-chest"


def report(run):
    return json.loads(run.stdout)


def findings(path):
    return report(sheafwright("check", path, "--json"))["findings"]


def told(run, place, *words):
    """A run that could not go on, and what it says of a place."""
    assert run.returncode == 2, run.stdout + run.stderr
    assert place in run.stderr, run.stderr
    for word in words:
        assert word in run.stderr, run.stderr


def text_of(pdf):
    """The text of a PDF as poppler reads it, in one line."""
    return " ".join(tool.program("pdftotext", "-layout", pdf, "-").split())


# Sisters


def sisters(folder, goes='goes-with = ["../signal-tin"]', **products):
    log = LOG.replace("[notebook]", goes + "\npictures = { usual = true, size = \"800 x 600\" }\n[notebook]", 1)
    return lay(folder, **{"tide_log": log, "signal_tin": TIN} | products) / "tide-log"


def test_a_sister_is_named_in_listing_and_guide_and_shown_on_a_picture(tmp_path):
    bundle = tool.build(sisters(tmp_path / "shop"), tmp_path / "dist")
    listing = (bundle.folder / "listing/description.md").read_text(encoding="utf-8")
    assert "Goes with Signal Tin, sold by itself and not part of this download." in listing
    (guide,) = [p for p in bundle.of_kind("guide") if "contents" in p.parts]
    assert "Tide Log goes with Signal Tin." in text_of(guide)
    (picture,) = (bundle.folder / "listing/pictures").glob("*-together.png")
    image = Image.open(picture).convert("RGB")
    assert image.size == (800, 600)
    # Both halves show something that is no ground: the ground is one soft colour, so neighbours hardly differ there.
    grey = numpy.asarray(image.convert("L"), dtype=int)[180:520]
    for half in (grey[:, :400], grey[:, 400:]):
        assert (abs(numpy.diff(half, axis=1)) > 24).sum() > 150
    # What is read of the sister is among the inputs, and no file of hers is in the bundle.
    inputs = {i["path"] for i in bundle.record["inputs"]}
    assert inputs == {"product.toml", "../shop.toml", "../signal-tin/product.toml"}
    assert not [f for f in bundle.record["files"] if "signal" in f["path"]]


def test_several_sisters_are_named_as_several(tmp_path):
    book = sisters(tmp_path / "shop", goes='goes-with = ["../signal-tin", "../pilot-book"]', pilot_book=BOOK)
    bundle = tool.build(book, tmp_path / "dist")
    listing = (bundle.folder / "listing/description.md").read_text(encoding="utf-8")
    assert "Goes with Signal Tin and Pilot Book, each sold by itself and not part of this download." in listing
    # A title tells all three, and each stands there by itself: light ground lies between them.
    (picture,) = (bundle.folder / "listing/pictures").glob("*-together.png")
    grey = numpy.asarray(Image.open(picture).convert("L"), dtype=int)[250:420]
    for third in (grey[:, :266], grey[:, 266:533], grey[:, 533:]):
        assert (abs(numpy.diff(third, axis=1)) > 24).sum() > 50


def test_without_sisters_nothing_of_that_is_there(tmp_path):
    bundle = tool.build(sisters(tmp_path / "shop", goes=""), tmp_path / "dist")
    assert "oes with" not in (bundle.folder / "listing/description.md").read_text(encoding="utf-8")
    assert not list((bundle.folder / "listing/pictures").glob("*together*"))


def test_sisters_may_name_each_other(tmp_path):
    tin = TIN.replace("[[sticker]]", 'goes-with = ["../tide-log"]\n[[sticker]]', 1)
    log = sisters(tmp_path / "shop", signal_tin=tin)
    tool.build(log, tmp_path / "dist")
    other = tool.build(log.parent / "signal-tin", tmp_path / "other")
    assert "Goes with Tide Log" in (other.folder / "listing/description.md").read_text(encoding="utf-8")


def test_a_change_of_the_sister_makes_the_picture_anew_and_leaves_the_pages(tmp_path):
    log, dist = sisters(tmp_path / "shop"), tmp_path / "dist"
    before = tool.build(log, dist)
    was = tool.tree(before.folder)
    tin = log.parent / "signal-tin/product.toml"
    tin.write_text(TIN.replace('motif = "star"', 'motif = "heart"'), encoding="utf-8")
    now = tool.tree(tool.build(log, dist).folder)
    changed = {p for p in was.keys() | now.keys() if was.get(p) != now.get(p)}
    pictures = {p for p in changed if p.startswith("listing/pictures/")}
    assert {p.split("-", 1)[1] for p in pictures} == {"together.png"}
    assert changed - pictures == {"bundle.json", "SHA256SUMS", "proof.html"}


AGREE = 'goes-with = [{ product = "../signal-tin", same = ["page-size", "tabs", "colours"] }]'


@pytest.mark.parametrize(
    "more, said",
    [
        ('page = { size = "A5", layout = "single" }', "its pages are 148 × 210 mm, those of this product 105 × 148 mm"),
        ('page = { hand = "left" }', "its tabs lie at the left, those of this product at the right"),
        ('style = { accent = "#a0703c" }', "accent #a0703c, here #3f6b57"),
        ("", None),
    ],
)
def test_what_sisters_are_said_to_agree_in_is_checked(tmp_path, more, said):
    tin = TIN.replace("[[sticker]]", more + "\n[[sticker]]", 1)
    log = sisters(tmp_path / "shop", goes=AGREE, signal_tin=tin)
    found = [f for f in findings(log) if f["check"] == "sister-differs"]
    if said is None:
        assert found == []
        return
    (one,) = found
    assert said in one["message"] and one["severity"] == "warning" and one["file"] == "product.toml"
    line = (log / "product.toml").read_text(encoding="utf-8").splitlines().index(AGREE) + 1
    place = one.get("line"), one.get("column")
    assert place == (line, AGREE.index('"../') + 1)
    # Nothing is said of what is not said to agree.
    plain = sisters(tmp_path / "plain", signal_tin=tin)
    assert [f for f in findings(plain) if f["check"] == "sister-differs"] == []


@pytest.mark.parametrize(
    "goes, column, words",
    [
        ('goes-with = ["../signal-tim"]', 14, ["there is no such folder", "did you mean `signal-tin`?"]),
        ('goes-with = ["../tide-log"]', 14, ["this is the product itself"]),
        ('goes-with = ["../signal-tin", "../signal-tin/"]', 31, ["stands in line 5 as well"]),
        ('goes-with = ["/signal-tin"]', 14, ["no way to a folder"]),
        ('goes-with = [{ same = ["tabs"] }]', 14, ["which product is it?"]),
        ('goes-with = [{ product = "../signal-tin", same = ["tab"] }]', 51, ["tabs"]),
        ('goes-with = [7]', 14, ["the way to a product's folder"]),
    ],
)
def test_faults_in_what_goes_with_it_have_their_place(tmp_path, goes, column, words):
    log = sisters(tmp_path / "shop", goes=goes)
    run = sheafwright("build", log, "--out", tmp_path / "dist")
    told(run, f"product.toml:5:{column}", *words)


def test_faults_of_a_sister_are_told_in_a_line(tmp_path):
    log = sisters(tmp_path / "shop", signal_tin=TIN.replace('motif = "tally"', 'motif = "talley"'))
    told(sheafwright("build", log, "--out", tmp_path / "dist"), "product.toml:5:14", "../signal-tin", "product.toml:9:9", "talley")


# Sets


def counted(bundle, folder):
    """What a member's files hold, by pikepdf and Pillow: pages, links, covers, stickers."""
    out = {"pages": 0, "links": 0, "covers": 0, "stickers": 0}
    for file in bundle.record["files"]:
        if not file["path"].startswith(f"contents/{folder}/"):
            continue
        path = bundle.folder / file["path"]
        if file["kind"] in ("notebook", "covers"):
            with pikepdf.open(path) as pdf:
                out["pages" if file["kind"] == "notebook" else "covers"] += len(pdf.pages)
                if file["kind"] == "notebook":
                    out["links"] += sum(len(page.get("/Annots", [])) for page in pdf.pages)
        elif file["kind"] == "sticker":
            Image.open(path).verify()
            out["stickers"] += 1
    return out


def test_a_set_holds_its_members_byte_for_byte(tmp_path):
    dist = tmp_path / "dist"
    bundle = tool.build(chest(tmp_path / "shop"), dist)
    assert bundle.slug == "sea-chest"
    # Every name of a member's bundle that buyers use, but texts and guide, which the set has for all.
    for slug, version in (("tide-log", "1.2.0"), ("signal-tin", "1.0.3")):
        own = digests(dist / slug / version / "contents")
        own = {p: d for p, d in own.items() if not p.endswith(("-guide.pdf", ".txt"))}
        assert own and digests(bundle.folder / "contents" / slug) == own
    (guide,) = [f for f in bundle.record["files"] if f["kind"] == "guide" and f["path"].startswith("contents/")]
    assert guide["path"] == "contents/sea-chest-guide.pdf"
    text = text_of(bundle.folder / guide["path"])
    for name in ("Tide Log", "Signal Tin"):
        assert name in text
    # The record says which versions it holds.
    assert [(m["product"], m["version"], m["folder"]) for m in bundle.record["members"]] == [
        ("tide-log", "1.2.0", "contents/tide-log/"),
        ("signal-tin", "1.0.3", "contents/signal-tin/"),
    ]
    # 1.2.0 and 1.0.3, number by number.
    assert bundle.record["version"] == "2.2.3"


def test_a_guide_of_her_own_names_what_belongs_together(tmp_path):
    """Below its title it names the members of a set, at its end the sisters; one that names them all stays as it is."""
    guide = '[guide]\ntext = "texts/guide.md"\n'
    (tmp_path / "shop/texts").mkdir(parents=True)
    own = tmp_path / "shop/texts/guide.md"
    own.write_text("# How it floats\n\nWrite on the pages.\n", encoding="utf-8")
    log = LOG.replace("[notebook]", 'goes-with = ["../signal-tin"]\n[notebook]')
    shop = SHOP + guide + '[assets]\nown = ["texts/*"]\n'
    product = chest(tmp_path / "shop", shop=shop, tide_log=log)
    dist = tmp_path / "dist"

    def said(slug):
        bundle = tool.build(product, dist) if slug == "sea-chest" else None
        folder = bundle.folder if bundle else next((dist / slug).glob("[0-9]*"))
        (guide,) = (folder / "contents").glob("*-guide.pdf")
        return " ".join(text_of(guide).split())

    text = said("sea-chest")
    first, last = text.index("Sea Chest is a set of several products: Tide Log and Signal Tin."), text.index("Write on the pages.")
    assert text.index("How it floats") < first < last
    assert "Write on the pages. Tide Log goes with Signal Tin." in said("tide-log")
    own.write_text("# How it floats\n\n{% for m in members %}- {{ m.name }} in `{{ m.folder }}`\n{% endfor %}\n{{ sisters | join(sep=', ') }}\n", encoding="utf-8")
    text = said("sea-chest")
    assert "Tide Log in tide-log/" in text and "Signal Tin in signal-tin/" in text and "a set of several" not in text
    text = said("tide-log")
    assert "Signal Tin" in text and "goes with" not in text


def test_uploads_of_a_set_keep_the_limits_and_hold_everything(tmp_path):
    bundle = tool.build(chest(tmp_path / "shop", "[limits]\nfiles = 2\nmegabytes = 0.3\n"), tmp_path / "dist")
    uploads = sorted((bundle.folder / "upload").iterdir())
    assert 1 <= len(uploads) <= 2 and all(p.stat().st_size <= 300_000 for p in uploads)
    sent = {}
    for path in uploads:
        if path.suffix == ".zip":
            with zipfile.ZipFile(path) as archive:
                assert archive.testzip() is None
                sent |= {name: hashlib.sha256(archive.read(name)).hexdigest() for name in archive.namelist()}
            subprocess.run(["unzip", "-tqq", path], check=True)
        else:
            sent[path.name] = hashlib.sha256(path.read_bytes()).hexdigest()
    loose = digests(bundle.folder / "contents")
    assert set(loose.values()) == set(sent.values())
    assert {name for name in sent if "/" in name} <= set(loose)


def test_too_little_room_for_a_set_is_told(tmp_path):
    product = chest(tmp_path / "shop", "[limits]\nfiles = 1\nmegabytes = 0.02\n")
    run = sheafwright("build", product, "--out", tmp_path / "dist")
    assert run.returncode == 2 and ("do not fit" in run.stderr or "the shop takes files up to" in run.stderr), run.stderr


def test_every_number_of_a_sets_listing_is_true(tmp_path):
    bundle = tool.build(chest(tmp_path / "shop"), tmp_path / "dist")
    text = (bundle.folder / "listing/description.md").read_text(encoding="utf-8")
    each = {slug: counted(bundle, slug) for slug in ("tide-log", "signal-tin")}
    total = {what: sum(one[what] for one in each.values()) for what in each["tide-log"]}
    (together,) = [line for line in text.splitlines() if "Together:" in line]
    said = {noun: int(number.replace(",", "")) for number, noun in re.findall(r"([\d,]+) ([a-z]+)", together)}
    assert said["pages"] == total["pages"] and said["links"] == total["links"]
    assert said["covers"] == total["covers"] and said["stickers"] == total["stickers"] == 3
    head, log, tin = re.split(r"^## (?:Tide Log|Signal Tin)$", text, flags=re.M)
    assert "A set of 2 products" in head
    tin = tin.split("\n## ")[0]
    assert f"{each['tide-log']['pages']} pages with {each['tide-log']['links']} links" in log
    assert f"{each['signal-tin']['stickers']} stickers" in tin and "notebook" not in tin.lower()
    for path in re.findall(r"`([^`]+\.pdf)`", log):
        assert (bundle.folder / "contents" / path).exists() or (bundle.folder / "upload" / path).exists(), path
    # The sizes of the download are those of the files.
    for name, size in re.findall(r"`([^`]+\.(?:zip|pdf))`: [^,]+, ([\d.]+) kB", text):
        assert abs((bundle.folder / "upload" / name).stat().st_size / 1000 - float(size)) <= 0.05 + 1e-9, name


def test_a_wrong_number_in_a_sets_listing_is_seen(tmp_path):
    bundle = tool.build(chest(tmp_path / "shop"), tmp_path / "dist")
    path = bundle.folder / "listing/description.md"
    text = path.read_text(encoding="utf-8")
    assert [f for f in findings(bundle.folder) if f["check"].startswith("claim")] == []
    pages = re.search(r"Together: (\d+) pages", text)[1]
    path.write_text(text.replace(f"Together: {pages} pages", f"Together: {int(pages) + 1} pages"), encoding="utf-8")
    wrong = [f for f in findings(bundle.folder) if f["check"] == "claim-wrong"]
    assert len(wrong) == 1 and str(int(pages) + 1) in wrong[0]["message"]


# A word of each language in the set's line of its description, and in its guide.
TONGUES = {
    "en-GB": ("A set of 2 products", "Together"),
    "de-DE": ("Ein Set aus 2 Produkten", "Zusammen"),
    "fr": ("Un lot de 2 produits", "Ensemble"),
    "es-ES": ("Un conjunto de 2 productos", "En conjunto"),
    "it": ("Un set di 2 prodotti", "Insieme"),
    "nl": ("Een set van 2 producten", "Samen"),
    "sv": ("Ett set med 2 produkter", "Tillsammans"),
    "pt-BR": ("Um conjunto de 2 produtos", "Ao todo"),
    "pt-PT": ("Um conjunto de 2 produtos", "Ao todo"),
    "pl": ("Zestaw: 2 produkty", "Razem"),
    "ja": ("製品2点のセット", "合計"),
    "ar-EG": ("مجموعة من منتجين", "في المجموع"),
    "he": ("ערכה של שני מוצרים", "ביחד"),
}


@pytest.mark.parametrize("language", TONGUES)
def test_a_set_reads_clean_in_every_language(tmp_path, language):
    """Nothing is said of what was built; and each figure of the line that adds up, one more, is told, with the sum that is true."""
    shop = SHOP.replace("en-GB", language)
    files = OWN_FONTS.get(language[:2], {})
    if files:
        shop += f"[style.fonts]\nheading = {json.dumps(list(files))}\nlabel = {json.dumps(list(files))}\n[assets]\nown = ['fonts/*']\n"
    product = chest(tmp_path / "shop", shop=shop)
    for path, content in files.items():
        (tmp_path / "shop" / path).parent.mkdir(exist_ok=True)
        (tmp_path / "shop" / path).write_bytes(content())
    bundle = tool.build(product, tmp_path / "dist")
    said = [f for f in findings(bundle.folder) if f["family"] == "listing" or f["severity"] != "note"]
    assert said == [], said
    path = bundle.folder / "listing/description.md"
    text = path.read_text(encoding="utf-8")
    words, together = TONGUES[language]
    assert words in text
    (line,) = [line for line in text.splitlines() if line.strip(" -\u200f").startswith(together)]
    figures = list(re.finditer(r"\d+", line))
    # Pages and links at least; some languages have a word for two of a thing.
    assert len(figures) >= 3
    for figure in figures:
        more = str(int(figure[0]) + 1)
        more = "".join(chr(ord(d) + ord("٠") - ord("0")) for d in more) if ord(figure[0][0]) >= ord("٠") else more
        changed = line[: figure.start()] + more + line[figure.end() :]
        path.write_text(text.replace(line, changed), encoding="utf-8")
        wrong = [f for f in findings(bundle.folder) if f["check"] == "claim-wrong"]
        assert len(wrong) == 1 and f"claims {int(more)} " in wrong[0]["message"], (changed, wrong)
        assert wrong[0]["message"].endswith(f"the files have {int(figure[0])}"), wrong


def test_a_build_of_a_set_and_a_check_of_its_bundle_say_the_same(tmp_path):
    product = chest(tmp_path / "shop")
    run = sheafwright("build", product, "--out", tmp_path / "dist", "--json")
    assert run.returncode == 0, run.stderr
    (bundle,) = (tmp_path / "dist/sea-chest").glob("[0-9]*")
    looked = sheafwright("check", bundle, "--json")
    key = lambda run: sorted((f["check"], f["severity"], f["message"]) for f in report(run)["findings"])  # noqa: E731
    assert key(run) == key(looked)
    assert [f for f in report(run)["findings"] if f["severity"] == "error"] == []
    # So does a check of the product itself, which writes nothing.
    again = sheafwright("check", product, "--json")
    assert key(again) == key(run)


def test_members_with_variants_keep_their_folders(tmp_path):
    product = chest(tmp_path / "shop", pilot_book=BOOK, sea_chest=SET.replace("../signal-tin", "../pilot-book"))
    dist = tmp_path / "dist"
    bundle = tool.build(product, dist)
    own = digests(dist / "pilot-book/1.0.0/contents")
    own = {p: d for p, d in own.items() if not p.endswith(("-guide.pdf", ".txt"))}
    assert {p.split("/")[0] for p in own} >= {"deep", "sand"} and digests(bundle.folder / "contents/pilot-book") == own
    assert [f for f in findings(bundle.folder) if f["severity"] == "error" or f["check"].startswith("claim")] == []


def test_one_command_builds_members_first_and_once(tmp_path):
    product, dist = chest(tmp_path / "shop"), tmp_path / "dist"
    tool.build(product, dist)
    assert {p.parent.parent.name for p in dist.glob("*/*/bundle.json")} == {"tide-log", "signal-tin", "sea-chest"}
    stamps = {p: p.stat().st_mtime_ns for p in dist.rglob("*") if p.is_file() and ".cache" not in p.parts}
    tool.build(product, dist)
    now = {p: p.stat().st_mtime_ns for p in dist.rglob("*") if p.is_file() and ".cache" not in p.parts}
    assert {p for p in stamps if p.name == "bundle.json" and stamps[p] != now[p]} == set()


def test_many_in_one_go_build_a_set_after_its_members(tmp_path):
    product, dist = chest(tmp_path / "shop"), tmp_path / "dist"
    run = sheafwright("build", product.parent, "--out", dist, "--json")
    assert run.returncode == 0, run.stdout + run.stderr
    alone = tmp_path / "alone"
    tool.build(product, alone)
    assert digests(dist) == digests(alone)


def test_a_member_that_does_not_build_stops_the_set(tmp_path):
    # A sticker that is asked for with a text that no font has is an error of the member.
    product = chest(tmp_path / "shop", tide_log=LOG.replace("released = 2027-03-01\n", ""))
    run = sheafwright("build", product, "--out", tmp_path / "dist")
    told(run, "product.toml:5:13", "../tide-log", "`released` is missing")
    assert not list((tmp_path / "dist").glob("sea-chest/*/bundle.json"))


def test_findings_that_stop_a_member_stop_the_set(tmp_path):
    bad = TIN.replace("[[sticker]]", '[listing]\ntitle = "' + "S" * 200 + '"\n[[sticker]]', 1)
    product = chest(tmp_path / "shop", signal_tin=bad)
    run = sheafwright("build", product, "--out", tmp_path / "dist", "--strict")
    told(run, "product.toml:5:28", "the set waits for", "../signal-tin")


@pytest.mark.parametrize(
    "change, place, words",
    [
        (('["../tide-log", "../signal-tin"]', '["../tide-log"]'), "product.toml:4:2", ["several products"]),
        (("../signal-tin", "../signal-tim"), "product.toml:5:28", ["did you mean `signal-tin`?"]),
        (("../signal-tin", "../sea-chest"), "product.toml:5:28", ["the product itself"]),
        (("../signal-tin", "../tide-log"), "product.toml:5:28", ["stands in line 5 as well"]),
        (("[set]", 'cover = [{ pattern = "waves" }]\n[set]'), "product.toml:4:1", ["no `cover` of its own"]),
        (("[set]", "[variants.size]\nsmall = {}\n[set]"), "product.toml:6:2", ["no variants of its own"]),
    ],
)
def test_faults_of_a_set_have_their_place(tmp_path, change, place, words):
    product = chest(tmp_path / "shop", sea_chest=SET.replace(*change))
    told(sheafwright("build", product, "--out", tmp_path / "dist"), place, *words)


def test_a_set_is_no_member_of_a_set(tmp_path):
    outer = SET.replace("Sea Chest", "Whole Ship").replace("../signal-tin", "../sea-chest")
    product = chest(tmp_path / "shop", whole_ship=outer).parent / "whole-ship"
    told(sheafwright("build", product, "--out", tmp_path / "dist"), "product.toml:5:28", "is a set", "name the products")


def test_terms_that_differ_are_named_with_both_files_and_lines(tmp_path):
    tin = TIN.replace("[[sticker]]", "[licence]\nsmall-commercial = 100\n[[sticker]]", 1)
    product = chest(tmp_path / "shop", signal_tin=tin)
    run = sheafwright("build", product, "--out", tmp_path / "dist")
    told(run, "product.toml:5:28", "licence.small-commercial", "../shop.toml:12 says 25", "../signal-tin/product.toml:6 says 100")


def test_terms_of_a_set_are_those_of_its_members(tmp_path):
    shop = SHOP.split("[licence]")[0]
    members = {n: m.replace(first, "[licence]\nclassroom-seats = 30\n" + first, 1) for n, m, first in (("tide_log", LOG, "[notebook]"), ("signal_tin", TIN, "[[sticker]]"))}
    product = lay(tmp_path / "shop", shop=shop, sea_chest=SET, **members) / "sea-chest"
    bundle = tool.build(product, tmp_path / "dist")
    terms = (bundle.folder / "contents/licence-terms.txt").read_text(encoding="utf-8")
    assert "30 learners" in " ".join(terms.split()) and "pages, covers and stickers" in " ".join(terms.split())


def test_a_new_version_of_a_member_raises_the_set(tmp_path):
    product, dist = chest(tmp_path / "shop"), tmp_path / "dist"
    tool.build(product, dist)
    log = product.parent / "tide-log/product.toml"
    log.write_text(LOG.replace("1.2.0", "1.3.0").replace('name = "Weather"', 'name = "Winds"'), encoding="utf-8")
    run = sheafwright("build", product, "--out", dist)
    assert run.returncode == 0, run.stdout + run.stderr
    assert sorted(p.name for p in (dist / "sea-chest").glob("[0-9]*")) == ["2.2.3", "2.3.3"]
    diff = sheafwright("diff", dist / "sea-chest/2.2.3", dist / "sea-chest/2.3.3", "--json")
    assert diff.returncode == 1, diff.stderr
    paths = {d["path"] for d in report(diff)["differences"]}
    assert "contents/tide-log/tide-log.pdf" in " ".join(paths) and not [p for p in paths if "contents/signal-tin" in p]
    # One that is written goes before the sums.
    product.joinpath("product.toml").write_text(SET.replace("released", 'version = "5.0.0"\nreleased', 1), encoding="utf-8")
    assert sheafwright("build", product, "--out", dist).returncode == 0
    assert (dist / "sea-chest/5.0.0/bundle.json").exists()


def test_other_commands_take_a_sets_bundle(tmp_path):
    launch = "[launch]\non = 2027-10-01\n"
    product, dist = chest(tmp_path / "shop", "[pictures]\nusual = true\nsize = \"800 x 600\"\n" + launch), tmp_path / "dist"
    bundle = tool.build(product, dist)
    (picture,) = (bundle.folder / "listing/pictures").iterdir()
    assert picture.name == "01-together.png"
    for command in (["listing", bundle.folder], ["proof", bundle.folder], ["launch", product, "--out", dist], ["explain", "--where", "licence", product]):
        run = sheafwright(*command, cwd=tmp_path)
        assert run.returncode == 0, f"{command}: {run.stderr}"
    run = sheafwright("catalogue", product.parent, "--out", dist, cwd=tmp_path)
    assert run.returncode == 0, run.stderr
    assert all(name in (dist / "catalogue.html").read_text(encoding="utf-8") for name in ("Tide Log", "Signal Tin", "Sea Chest"))
    sealed = sheafwright("release", bundle.folder)
    assert sealed.returncode == 0, sealed.stdout + sealed.stderr
    assert sheafwright("verify", bundle.folder, "--product", product).returncode == 0
    again = sheafwright("verify", bundle.folder, "--rebuild", "--product", product)
    assert again.returncode == 0, again.stdout + again.stderr


def test_a_set_from_two_folders_has_the_same_bytes(tmp_path):
    one, other = chest(tmp_path / "one"), chest(tmp_path / "somewhere else/other")
    tool.build(one, tmp_path / "dist")
    home = {"TZ": "Pacific/Kiritimati", "LC_ALL": "tr_TR.UTF-8"}
    run = subprocess.run([tool.BINARY, "build", other, "--out", tmp_path / "dist 2", "--jobs", "1"], env=os.environ | home, capture_output=True, text=True)
    assert run.returncode == 0, run.stderr
    assert digests(tmp_path / "dist") == digests(tmp_path / "dist 2")


def test_the_samples_use_it(tmp_path):
    row = ROOT / "products/thimble-row"
    bundle = tool.build(row / "whole-drawer", tmp_path / "dist")
    assert {m["product"] for m in bundle.record["members"]} == {"mending-log", "button-tin"}
    (picture,) = (bundle.folder / "listing/pictures").glob("*together*")
    assert Image.open(io.BytesIO(picture.read_bytes())).size == (1600, 1200)
