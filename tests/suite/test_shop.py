"""What the products of a shop share stands once, in `shop.toml`: read as if it stood in each manifest, told of by its own line,
noticed when it changes. TOML is read by tomllib, PDFs by poppler; the rest is compared byte for byte."""

import json
import os
import re
import shutil
import tomllib

import matplotlib
import pytest

import tool
from products import Recipe
from test_watch import Watched
from tool import ROOT, sheafwright

OWN = """
name = "Tide Log"
released = 2027-03-01
[notebook]
[[notebook.section]]
name = "Boats"
[[notebook.template]]
name = "Deck log"
ruling = "lined"
[[sticker]]
motif = "tally"
longest = "20 mm"
[[sticker]]
motif = "star"
longest = "20 mm"
colour = "#a03c3c"
"""

SHARED = """
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


def lay(folder, shop, **products):
    """A shop's folder with its products; the paths of those."""
    folder.mkdir(parents=True, exist_ok=True)
    if shop is not None:
        (folder / "shop.toml").write_text(shop, encoding="utf-8")
    for name, manifest in products.items():
        (folder / name).mkdir(exist_ok=True)
        (folder / name / "product.toml").write_text(manifest, encoding="utf-8")
    return [folder / name for name in products]


def made(bundle):
    """All files of a bundle but the record, which lists what went in, and the list of checksums, which has the record's."""
    return {p: b for p, b in tool.tree(bundle.folder).items() if p not in ("bundle.json", "SHA256SUMS")}


def entries(out):
    return {p.name for p in (out / ".cache").rglob("*") if p.is_file()}


def refused(product, tmp_path):
    run = sheafwright("build", product, "--out", tmp_path / "dist")
    assert run.returncode == 2, run.stdout + run.stderr
    return run.stderr


def split(text, tables, keys):
    """A manifest in two: tables and keys of the top go to the shop's file."""
    blocks = re.split(r"^(?=\[)", text, flags=re.M)
    own, shared = [], []
    for line in blocks[0].splitlines(keepends=True):
        (shared if line.split("=")[0].strip() in keys else own).append(line)
    for block in blocks[1:]:
        name = re.match(r"\[+([^\].]*)", block)[1]
        (shared if name in tables else own).append(block)
    return "".join(own), "".join(shared)


def test_a_sample_in_two_files_has_the_same_bytes(tmp_path):
    whole = ROOT / "products/lamplight-log"
    product = tmp_path / "shop/lamplight-log"
    shutil.copytree(whole, product)
    text = (whole / "product.toml").read_text("utf-8")
    own, shared = split(text, {"page", "style", "licence", "pictures"}, {"language", "shop"})
    told = tomllib.loads(shared)
    assert set(told) == {"language", "shop", "page", "style", "licence", "pictures"} and told["page"]["size"] == "A5"
    assert tomllib.loads(own) | told == tomllib.loads(text)
    (product / "product.toml").write_text(own, "utf-8")
    (product.parent / "shop.toml").write_text(shared, "utf-8")
    alone, both = tool.build(whole, tmp_path / "alone"), tool.build(product, tmp_path / "both")
    alone_made, both_made = made(alone), made(both)
    assert sorted(p for p in alone_made.keys() | both_made.keys() if alone_made.get(p) != both_made.get(p)) == []
    read = {entry["path"] for entry in both.record["inputs"]}
    assert read == {entry["path"] for entry in alone.record["inputs"]} | {"../shop.toml"}
    for part in ("files", "limits", "findings"):
        assert both.record.get(part) == alone.record.get(part), part


def test_the_product_goes_before_its_shop_key_by_key(tmp_path):
    shop = SHARED + '[words]\nindex = "Contents"\ncover = "Front"\n[[lower]]\ncheck = "tap-area-small"\nreason = "it is meant so"\n'
    own = 'language = "de"\nshop.contact = "quay@tarn-and-tide.example"\nstyle.ink = "#222222"\n' + OWN
    own += '[words]\nindex = "Was hier steht"\n[[lower]]\ncheck = "rules-not-gentle"\nreason = "so are ours"\n'
    (product,) = lay(tmp_path / "shop", shop, log=own)
    # The same in one file.
    joined = f'language = "de"\n{OWN}' + re.sub(r'language.*\n', "", SHARED)
    joined = joined.replace("help@", "quay@").replace("[style]\n", '[style]\nink = "#222222"\n')
    joined += '[words]\nindex = "Was hier steht"\ncover = "Front"\n'
    for check, reason in (("rules-not-gentle", "so are ours"), ("tap-area-small", "it is meant so")):
        joined += f'[[lower]]\ncheck = "{check}"\nreason = "{reason}"\n'
    (alone,) = lay(tmp_path / "alone", None, log=joined)
    both, one = tool.build(product, tmp_path / "both"), tool.build(alone, tmp_path / "one")
    assert made(both) == made(one)
    assert both.record["lowered"] == one.record["lowered"] and len(both.record["lowered"]) == 2
    text = tool.page_text(both.notebook, 1)
    assert "Was hier steht" in "".join(tool.page_text(both.notebook, i) for i in range(4)), text


FAULTY = """\
language = "en-GB"
name = "Tide Log"
[style]
acent = "#3f6b57"
paper = "#fdfbf"
fonts = { heading = "fonts/Gone.ttf" }
[pages]
size = "A6"
[limits]
files = 0
[assets]
own = ["../art/*"]
[styles.winter]
corner = "30 mm"
inkk = "#000000"
[styles.dusk]
named = "winter"
"""

SAID = """\
error: product.toml:4:9: there is no style called `wintr`
  4 | named = "wintr"
    |         ^^^^^^^
  help: did you mean `winter`?
error: ../shop.toml:2:1: `name` is a product's own
  2 | name = "Tide Log"
    | ^^^^
  help: write it in the product.toml of each product
error: ../shop.toml:4:1: unknown key `acent`
  4 | acent = "#3f6b57"
    | ^^^^^
  help: did you mean `accent`?
error: ../shop.toml:5:9: `#fdfbf` is not a colour
  5 | paper = "#fdfbf"
    |         ^^^^^^^^
  help: write # and three or six hexadecimal digits: #8a9a5b
error: ../shop.toml:6:21: "fonts/Gone.ttf" cannot be read: there is no such file
  6 | fonts = { heading = "fonts/Gone.ttf" }
    |                     ^^^^^^^^^^^^^^^^
  help: did you mean `fonts/Gown.ttf`?
error: ../shop.toml:7:2: unknown key `pages`
  7 | [pages]
    |  ^^^^^
  help: did you mean `page`?
error: ../shop.toml:10:9: the number of files must be more than zero
  10 | files = 0
     |         ^
error: ../shop.toml:12:8: `../art/*` names no files of the shop's folder
  12 | own = ["../art/*"]
     |        ^^^^^^^^^^
  help: write it from the shop's folder, as in art/* or fonts/Hedgerow.ttf
error: ../shop.toml:15:1: unknown key `inkk`
  15 | inkk = "#000000"
     | ^^^^
  help: did you mean `ink`?
error: ../shop.toml:17:9: a named style cannot take another one
  17 | named = "winter"
     |         ^^^^^^^^
  help: take it out, and write its keys here
10 things to mend.
"""


def test_every_fault_points_at_the_file_and_line_in_which_it_stands(tmp_path):
    own = 'name = "Tide Log"\nreleased = 2027-03-01\n[style]\nnamed = "wintr"\n'
    (product,) = lay(tmp_path / "shop", FAULTY, log=own)
    (tmp_path / "shop/fonts").mkdir()
    (tmp_path / "shop/fonts/Gown.ttf").write_bytes(b"")
    assert refused(product, tmp_path) == SAID


@pytest.mark.parametrize(
    ("shop", "said"),
    [
        ('[style\naccent = "#3f6b57"\n', r"\.\./shop\.toml:1:1?\d*: the brackets of this heading do not match"),
        ("[style]\naccent = “#3f6b57”\n", r"\.\./shop\.toml:2:10: typographic quotes do not hold a text"),
        ('[[notebook.section]]\nname = "Boats"\n', r"\.\./shop\.toml:1:3: `notebook` is a product's own"),
        ('[style]\nlook = "ferri"\n', r"\.\./shop\.toml:2:8: there is no look \"ferri\"\n.*\n.*\n  help: did you mean `ferry`"),
        ('[delivery]\naddress = "ftp://x.example"\n', r"\.\./shop\.toml:2:11: the delivery address is not an https"),
        ('[guide]\ntext = "../secret.md"\n', r"\.\./shop\.toml:2:8: .*does not stay inside"),
        ('[guide]\ntext = "/etc/hostname"\n', r"\.\./shop\.toml:2:8: .*does not stay inside"),
        ('[guide]\ntext = "texts/gone.md"\n', r"\.\./shop\.toml:2:8: \"texts/gone.md\" cannot be read"),
        # What a product says instead makes it no better.
        ("[page]\nsize = 7\n", r"\.\./shop\.toml:2:8: .*page size"),
    ],
)
def test_faults_of_every_kind(shop, said, tmp_path):
    (tmp_path / "secret.md").write_text("A secret.")
    (product,) = lay(tmp_path / "shop", shop, log=OWN + '[page]\nsize = "A6"\n')
    assert re.search(said, refused(product, tmp_path)), refused(product, tmp_path)


def test_a_shop_that_cannot_be_read(tmp_path):
    (product,) = lay(tmp_path / "shop", None, log=OWN)
    file = tmp_path / "shop/shop.toml"
    file.mkdir()
    assert re.search(r'\.\./shop\.toml: .*is a folder', refused(product, tmp_path))
    file.rmdir()
    file.write_bytes(b'language = "en"\nshop.name = "\xff"\n')
    assert re.search(r"\.\./shop\.toml: .*not UTF-8 text: line 2", refused(product, tmp_path))
    file.unlink()
    (tmp_path / "elsewhere.toml").write_text(SHARED)
    file.symlink_to(tmp_path / "elsewhere.toml")
    assert re.search(r"\.\./shop\.toml: .*link that leads out", refused(product, tmp_path))
    file.unlink()
    os.symlink("nowhere", file)
    assert re.search(r"\.\./shop\.toml: .*no such file", refused(product, tmp_path))
    file.unlink()
    file.write_text("#" + "x" * (5 << 20))
    assert re.search(r"\.\./shop\.toml: it has 5242881 bytes", refused(product, tmp_path))
    # Without it the product stands by itself.
    file.unlink()
    assert tool.build(product, tmp_path / "dist").record["shop"] == "Tide Log"


def test_of_two_above_each_other_the_nearer_counts_alone(tmp_path):
    lay(tmp_path, '[shop]\nname = "Far Away"\n[style]\naccent = "#803030"\nink = "#101010"\n')
    (product,) = lay(tmp_path / "near", '[shop]\nname = "Near By"\n[style]\naccent = "#305080"\n', log=OWN)
    bundle = tool.build(product, tmp_path / "dist")
    assert bundle.record["shop"] == "Near By"
    assert {e["path"] for e in bundle.record["inputs"]} == {"product.toml", "../shop.toml"}
    where = sheafwright("explain", "--where", "style.ink", product)
    assert where.returncode == 0 and "nothing says it" in where.stdout, where.stdout
    # Beside the manifest it is nearest of all; without either, the one further up counts.
    (product / "shop.toml").write_text('[shop]\nname = "At Home"\n')
    assert tool.build(product, tmp_path / "dist").record["shop"] == "At Home"
    (product / "shop.toml").unlink()
    (tmp_path / "near/shop.toml").unlink()
    assert tool.build(product, tmp_path / "dist").record["shop"] == "Far Away"
    # A repository begins in a folder of its own.
    (tmp_path / "near/.git").mkdir()
    assert tool.build(product, tmp_path / "dist").record["shop"] == "Tide Log"


def test_an_accent_of_the_shop_makes_anew_what_depends_on_it_and_nothing_else(tmp_path):
    other = OWN.replace("Tide Log", "Own Log") + '[style]\naccent = "#7a4f7d"\n'
    takes, own = lay(tmp_path / "shop", SHARED, takes=OWN, own=other)
    (alone,) = lay(tmp_path / "alone", None, log=OWN + re.sub(r"language.*\n", "", SHARED))
    fresh, before, after = {}, {}, {}
    for product in (takes, own, alone):
        out = tmp_path / f"dist-{product.name}"
        bundle = tool.build(product, out)
        before[product], known = made(bundle), entries(out)
        for file in (product / "product.toml", tmp_path / "shop/shop.toml"):
            if product == alone or file.name == "shop.toml":
                file.write_text(file.read_text().replace("#3f6b57", "#6b3f57"))
        after[product], fresh[product] = made(tool.build(product, out)), len(entries(out) - known)
        (tmp_path / "shop/shop.toml").write_text(SHARED)
    # As much is made anew as where the accent stands in the manifest itself.
    assert fresh[takes] == fresh[alone] > 3, fresh
    differs = {p for p in before[takes] if before[takes][p] != after[takes].get(p)}
    assert any("tally" in p for p in differs) and not any("star" in p and "/stickers/" in p for p in differs), differs
    # What has an accent of its own is not drawn again: only the record, which lists the shop's file, and what was said.
    assert after[own] == before[own] and fresh[own] <= 2, fresh


def test_a_build_of_an_unchanged_shop_does_nothing(tmp_path):
    (product,) = lay(tmp_path / "shop", SHARED, log=OWN)
    out = tmp_path / "dist"
    bundle = tool.build(product, out)
    stamps = {p: p.stat().st_mtime_ns for p in bundle.folder.rglob("*") if p.is_file()}
    known = entries(out)
    tool.build(product, out)
    assert {p: p.stat().st_mtime_ns for p in bundle.folder.rglob("*") if p.is_file()} == stamps and entries(out) == known
    # A remark changes nothing but the record of what went in.
    before = made(bundle)
    (tmp_path / "shop/shop.toml").write_text("# What we share.\n" + SHARED)
    again = tool.build(product, out)
    assert made(again) == before and len(entries(out) - known) <= 2


def test_files_that_a_shop_names_lie_in_its_own_folder(tmp_path):
    shop = SHARED.replace("[style]", '[style]\nfonts = { label = "fonts/Quay.ttf" }')
    shop += '[guide]\ntext = "texts/help.md"\n[assets]\nown = ["fonts/*", "texts/*", "fonts/Unused.ttf"]\n'
    shop += '[[assets.item]]\nfile = "art/unused.png"\nby = "Ada Quill"\nsource = "https://quill.example"\nlicence = "CC0-1.0"\n'
    (product,) = lay(tmp_path / "shop", shop, log=OWN + '[assets]\nown = ["art/*"]\n')
    (tmp_path / "shop/fonts").mkdir()
    font = os.path.join(matplotlib.get_data_path(), "fonts/ttf/DejaVuSans.ttf")
    shutil.copyfile(font, tmp_path / "shop/fonts/Quay.ttf")
    (tmp_path / "shop/texts").mkdir()
    (tmp_path / "shop/texts/help.md").write_text("## When the tide is out\n\nRing the bell on the quay.\n")
    run = sheafwright("build", product, "--out", tmp_path / "dist", "--json")
    assert run.returncode == 0, run.stdout + run.stderr
    findings = json.loads(run.stdout)["findings"]
    assert [f for f in findings if f["check"].startswith("asset")] == [], "the ledgers of both are one"
    (folder,) = [p.parent for p in (tmp_path / "dist").glob("tide-log/*/bundle.json")]
    record = json.loads((folder / "bundle.json").read_text())
    read = {e["path"] for e in record["inputs"]}
    assert read == {"product.toml", "../shop.toml", "../fonts/Quay.ttf", "../texts/help.md"}
    (guide,) = (folder / "contents").glob("*guide*.pdf")
    assert "Ring the bell on the quay" in tool.program("pdftotext", guide, "-")
    (notebook,) = [folder / f["path"] for f in record["files"] if f["kind"] == "notebook" and f["path"].startswith("contents")]
    assert "DejaVuSans" in tool.program("pdffonts", notebook)
    # A family of the product's own has none of the shop's faces mixed into it.
    (product / "product.toml").write_text(OWN + '[style.fonts]\nheading = "NotoSans-Bold"\n')
    (tmp_path / "shop/shop.toml").write_text(shop.replace("label =", 'heading-italic = "fonts/Quay.ttf", label ='))
    where = sheafwright("explain", "--where", "style.fonts", product).stdout
    assert "heading =" in where and "heading-italic" not in where and "label =" in where, where


STYLES = SHARED + """
[styles.winter]
accent = "#4a5f8a"
paper = "#f0f4fa"
[styles.dusk]
accent = "#7a4f7d"
"""


def accent(product, key="style.accent"):
    run = sheafwright("explain", "--where", key, product)
    assert run.returncode == 0, run.stderr
    return run.stdout


def test_named_styles_are_taken_by_products_and_variants(tmp_path):
    winter = OWN + '[style]\nnamed = "winter"\nink = "#111111"\n'
    row = '[variants.colourway]\nplain = {}\nwinter = { style.named = "winter" }\ndusk = { style = { named = "dusk", ink = "#222222" } }\n'
    own, takes, varied = lay(tmp_path / "shop", STYLES, own=OWN, takes=winter, varied=winter + row)
    at = lambda text: text.splitlines()[1].split(":", 1)[1].split(",")[0]  # noqa: E731
    line = {word: STYLES[: STYLES.index(word)].count("\n") + 1 for word in ("#3f6b57", "#4a5f8a", "#f0f4fa", "#7a4f7d")}
    assert at(accent(own)) == f"{line['#3f6b57']}:10"
    assert at(accent(takes)) == f"{line['#4a5f8a']}:10" and ", as styles.winter.accent" in accent(takes)
    assert at(accent(takes, "style.paper")) == f"{line['#f0f4fa']}:9"
    told = accent(varied)
    assert re.findall(r"as (styles\.\w+\.accent)\n  in ([\w, ]+)", told) == [
        ("styles.winter.accent", "plain, winter"),
        ("styles.dusk.accent", "dusk"),
    ], told
    # Of two that are named the nearer one is taken alone: dusk leaves the paper to the tool.
    assert "in plain, winter" in accent(varied, "style.paper")
    # It is as if its keys stood there.
    same = OWN + '[style]\naccent = "#4a5f8a"\npaper = "#f0f4fa"\nink = "#111111"\n'
    (plain,) = lay(tmp_path / "plain", SHARED, log=same)
    assert made(tool.build(takes, tmp_path / "a")) == made(tool.build(plain, tmp_path / "b"))
    # The product's own style of a name goes before the shop's, key by key.
    mine = winter + '[styles.winter]\naccent = "#101080"\n'
    (product,) = lay(tmp_path / "shop", STYLES, mine=mine)
    assert "product.toml" in accent(product) and "shop.toml" in accent(product, "style.paper")


def test_where_a_value_comes_from(tmp_path):
    own = OWN + '[style]\nink = "#111111"\nlook = "ferry"\n[variants.hand]\nleft = { page.hand = "left" }\nright = {}\n'
    (product,) = lay(tmp_path / "shop", SHARED, log=own)
    (product / "looks").mkdir()
    where = lambda key: sheafwright("explain", "--where", key, product, cwd=tmp_path)  # noqa: E731
    shop, manifest = tmp_path / "shop/shop.toml", product / "product.toml"
    line = lambda file, text: file.read_text().split(text)[0].count("\n") + 1  # noqa: E731
    assert where("style.accent").stdout == f'style.accent = "#3f6b57"\n  {shop}:{line(shop, "accent")}:10\n'
    assert where("style.ink").stdout == f'style.ink = "#111111"\n  {manifest}:{line(manifest, "ink =")}:7\n'
    assert "a look of the tool, line" in where("style.tabs").stdout
    assert where("style.corner").returncode == 0
    hand = where("page.hand").stdout
    assert hand.endswith(f"{line(manifest, 'left = {')}:22, as variants.hand.left.page.hand\n  in left\n"), hand
    assert "nothing says it; then this counts: 300" in where("stickers.dpi").stdout
    # An entry of a list by its number or its name.
    counted, called = where("notebook.template.1.ruling").stdout, where("notebook.template.deck-log.ruling").stdout
    assert called == counted.replace("1.ruling", "deck-log.ruling", 1).rstrip() + ", as notebook.template.1.ruling\n", called
    # All of a table; relative paths stay relative.
    page = sheafwright("explain", "page", "--where", "shop/log", cwd=tmp_path).stdout
    assert page.startswith(f'page.size = "A6"\n  shop/shop.toml:{line(shop, "size")}:8\n'), page
    assert "page.hand" in page
    wrong = where("style.acent")
    assert wrong.returncode == 2 and "did you mean `style.accent`" in wrong.stderr
    assert sheafwright("explain", "--where", "style.accent").returncode == 2
    # What goes before something else says so.
    manifest.write_text(own.replace("[style]", '[style]\naccent = "#555555"'))
    told = where("style.accent").stdout
    assert told.endswith(f"  before {shop}:{line(shop, 'accent')}:10\n") and told.startswith('style.accent = "#555555"'), told


def test_the_watch_notices_the_shop(tmp_path):
    recipe = Recipe("Tide Log", page='size = "A6"\nlayout = "single"', sections=["Boats"], templates=[("Deck log", "lined", "{}")])
    running = Watched(tmp_path, recipe)
    try:
        running.until(lambda name, data: name == "built" and data >= 1)
        file = tmp_path / "shop.toml"
        # It comes, is at fault, is mended, and goes.
        file.write_text('[words]\nindex = "What stands where"\n')
        running.until(lambda name, data: name == "built" and "What stands where" in running.page())
        file.write_text('[words]\nindxe = "What stands where"\n')
        _, message = running.until(lambda name, data: name == "broken")
        assert "shop.toml" in message and "indxe" in message, message
        fresh = file.with_suffix(".new")
        fresh.write_text('[words]\nindex = "Where things are"\n[guide]\ntext = "help.md"\n')
        os.replace(fresh, file)
        _, message = running.until(lambda name, data: name == "broken" and "help.md" in data)
        # A file that it names and that was not there comes.
        (tmp_path / "help.md").write_text("## Help\n\nRing the bell.\n")
        running.until(lambda name, data: name == "built" and "Where things are" in running.page())
        file.unlink()
        running.until(lambda name, data: name == "built" and "Where things are" not in running.page())
        # What else lies there is nobody's business.
        running.quiet(2)
        (tmp_path / "notes.txt").write_text("Buy string.")
        assert running.quiet(2) == []
    finally:
        running.stop()


def test_a_product_that_is_redated_elsewhere_is_told_of_its_shop(tmp_path):
    own = 'name = "Tide Year"\nversion = "1.0.0"\nreleased = 2027-01-15\n[calendar]\nfirst = "2027-01"\n[[notebook.dated]]\npages = "month"\n'
    (product,) = lay(tmp_path / "shop", SHARED, log=own)
    beside = sheafwright("redate", product, "--from", "2028-01", "--into", tmp_path / "shop/next")
    assert beside.returncode == 0 and "shop.toml" not in beside.stdout + beside.stderr, beside.stdout + beside.stderr
    away = sheafwright("redate", product, "--from", "2028-01", "--into", tmp_path / "away/next")
    assert away.returncode == 0 and "shop.toml" in away.stdout + away.stderr, away.stdout + away.stderr
