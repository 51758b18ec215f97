"""The ledger of assets: what is read must be hers or stand in it, and its terms are held against what is done."""

import csv
import io
import os
import re
from pathlib import Path

import numpy
import pytest
import reportlab
from fontTools.ttLib import TTFont

from pocket import Pocket, build, judged, png
from tool import ROOT, sheafwright

LEAF = '[stickers]\ndpi = 100\noptimise = "quick"\nsheets = "none"\n[[sticker]]\nfile = "art/leaf.png"\nlongest = "80 px"\n'


def leaf():
    """A lozenge on a clear ground."""
    y, x = numpy.mgrid[:100, :100]
    out = numpy.zeros((100, 100, 4), int)
    out[abs(x - 50) + abs(y - 50) < 42] = [80, 120, 70, 255]
    return png(out)


def pocket(assets, more=LEAF, **files):
    return Pocket(more, {"art/leaf.png": leaf(), **files}, assets="\n" + assets)


def item(licence, more=""):
    return f"""[assets]
[[assets.item]]
file = "art/leaf.png"
title = "Lime leaf"
by = "Oda Fenn"
source = "https://leaves.example/lime"
{licence}
{more}
"""


def checks(found):
    return [f["check"] for f in found]


@pytest.mark.parametrize(
    ("assets", "said"),
    [
        ("", ["asset-rights-not-declared"]),
        ('[assets]\nown = ["fonts/*"]\n', ["asset-not-listed"]),
        ('[assets]\nown = ["art/*"]\n', []),
        ('[assets]\nown = ["**/*.png"]\n', []),
        ('[assets]\nown = ["art/l??f.png"]\n', []),
        ('[assets]\nown = ["*.png"]\n', ["asset-not-listed"]),
        (item('licence = "CC0-1.0"'), []),
        (item('licence = "CC-BY-4.0"'), []),
        (item('licence = "LicenseRef-Leaves-house-terms"'), []),
        (item('licence = "CC-BY-SA-4.0"'), ["asset-shares-alike"]),
        (item('licence = "CC-BY-ND-4.0"'), ["asset-may-not-be-changed"]),
        (item('licence = "CC-BY-NC-4.0"'), ["asset-not-for-sale"]),
        (item('licence = "CC-BY-NC-ND-4.0"'), ["asset-not-for-sale", "asset-may-not-be-changed"]),
        (item('receipt = "order 311"\nallows = ["sell", "change", "extract"]'), []),
        (item('receipt = "order 311"\nallows = ["sell", "change"]'), ["asset-may-not-be-file"]),
        (item('licence = "CC-BY-NC-4.0"\nreceipt = "letter"\nallows = ["sell", "change", "extract"]'), []),
        (item('licence = "CC0-1.0"').replace("leaf.png", "leef.png"), ["asset-not-listed", "asset-not-used"]),
    ],
)
def test_terms_against_what_is_done(assets, said, tmp_path):
    code, found, message = judged(pocket(assets), tmp_path)
    assert sorted(checks(found)) == sorted(said), (found, message)
    assert code == (1 if "asset-not-for-sale" in said else 0), message
    assert all(f["family"] == "licences" for f in found)
    for finding in found:
        if finding["check"] == "asset-not-for-sale":
            assert "“Lime leaf” is under CC-BY-NC" in finding["message"]


def test_what_only_a_variant_does_with_a_file_is_seen(tmp_path):
    """The leading variant has a star of the tool's own; a second one makes a sticker of the leaf, which may not be cut."""
    star = LEAF.replace('file = "art/leaf.png"', 'motif = "star"')
    assert star != LEAF
    leaves = 'sticker = [{ file = "art/leaf.png", longest = "80 px" }]'
    for choice, times in (("", 0), (leaves, 1)):
        more = f"{star}\n[variants.set]\nstars = {{}}\nsecond = {{ {choice} }}\n"
        _, found, message = judged(pocket(item('licence = "CC-BY-ND-4.0"'), more), tmp_path / str(times))
        assert checks(found).count("asset-may-not-be-changed") == times, message


def test_credits_write_themselves(tmp_path):
    bundle = build(pocket(item('licence = "CC-BY-4.0"')), tmp_path)
    terms = " ".join((bundle.folder / "contents/licence-terms.txt").read_text(encoding="utf-8").split())
    # What the licence asks for (CC BY 4.0, 3(a)(1)): maker, title, licence with its address, source, changes.
    for part in ("“Lime leaf” by Oda Fenn", "CC-BY-4.0", "https://spdx.org/licenses/CC-BY-4.0.html", "adapted"):
        assert part in terms, terms
    assert "https://leaves.example/lime" in terms
    assert "Parts by other people stay under the licences" in terms and "not legal advice" in terms
    own = build(pocket('[assets]\nown = ["art/*"]\n'), tmp_path / "own")
    terms = (own.folder / "contents/licence-terms.txt").read_text(encoding="utf-8")
    assert "Parts by other people" not in terms


def test_a_credit_of_her_own_words(tmp_path):
    bundle = build(pocket(item('licence = "CC0-1.0"', 'credit = "Leaf: from the herbarium"')), tmp_path)
    terms = (bundle.folder / "contents/licence-terms.txt").read_text(encoding="utf-8")
    assert "- Leaf: from the herbarium\n" in terms


@pytest.mark.parametrize(
    ("assets", "said"),
    [
        (item('licence = "CC-BY"'), "`CC-BY` is not an SPDX licence id"),
        (item('licence = "ofl-1.1"'), "did you mean `OFL-1.1`?"),
        (item('licence = "my own"'), "https://spdx.org/licenses"),
        (item(""), "what allows the use of"),
        (item('receipt = "order 311"'), "what does this receipt allow?"),
        (item('receipt = "order 311"\nallows = ["sel"]'), "did you mean `sell`?"),
        (item('licence = "CC0-1.0"\nallows = ["sell"]'), "a licence says by itself what it allows"),
        (item('licence = "CC0-1.0"').replace('source = "https://leaves.example/lime"', ""), "the source of"),
        (item('licence = "CC0-1.0"').replace('by = "Oda Fenn"', ""), "who made"),
        ('[assets]\nown = ["../art/*"]\n', "names no files of the product's folder"),
        ('[assets]\nown = ["/art/*"]\n', "names no files of the product's folder"),
        ("[assets]\nowns = []\n", "did you mean `own`?"),
        ("[assets]\n[[assets.item]]\nlicence = \"CC0-1.0\"\n", "which file is this about?"),
    ],
)
def test_mistakes_are_told_with_their_place(assets, said, tmp_path):
    code, _, message = judged(pocket(assets), tmp_path)
    assert code == 2 and said in message, message
    assert re.search(r"product\.toml:\d+:\d+: ", message), message


def font(bits):
    """Bitstream Vera as reportlab carries it, with these licence bits (OpenType, OS/2 fsType)."""
    face = TTFont(os.path.join(reportlab.__path__[0], "fonts/Vera.ttf"))
    face["OS/2"].fsType = bits
    out = io.BytesIO()
    face.save(out)
    return out.getvalue()


FONT = '[style]\nfonts = { label = "fonts/Vera.ttf" }\n'
VERA = """[assets]
own = ["art/*"]
[[assets.item]]
file = "fonts/Vera.ttf"
by = "Bitstream"
source = "reportlab"
"""


def test_a_restricted_font_needs_its_makers_word(tmp_path):
    files = {"fonts/Vera.ttf": font(2)}
    labelled = LEAF + '[[sticker]]\nmotif = "to-do-box"\nlabel = "Leaves"\n'
    guide = labelled.replace("[stickers]", FONT + "[stickers]")
    free = pocket(VERA + 'licence = "Bitstream-Vera"\n', guide, **files)
    code, _, said = judged(free, tmp_path / "free")
    assert code == 2 and "forbids embedding" in said and 'allows = ["embed"]' in said, said
    # A licence for everybody does not lift it either; a receipt that says so does.
    allowed = pocket(VERA + 'receipt = "letter of 3 May 2026"\nallows = ["sell", "embed"]\n', guide, **files)
    code, found, said = judged(allowed, tmp_path / "allowed")
    assert code == 0, said
    assert all(f["severity"] == "note" for f in found if f["check"].startswith("font-embedding")), found
    open_font = pocket(VERA + 'licence = "Bitstream-Vera"\n', guide, **{"fonts/Vera.ttf": font(0)})
    code, found, said = judged(open_font, tmp_path / "open")
    assert code == 0 and not [f for f in found if f["family"] in ("licences", "fonts")], (found, said)


def test_a_font_that_stands_nowhere_is_told(tmp_path):
    guide = LEAF.replace("[stickers]", FONT + "[stickers]")
    _, found, _ = judged(pocket('[assets]\nown = ["art/*"]\n', guide, **{"fonts/Vera.ttf": font(0)}), tmp_path)
    assert ("asset-not-listed", "fonts/Vera.ttf") in [(f["check"], f["file"]) for f in found]


def test_the_list_of_ids_is_the_published_one():
    """SPDX 3.27.0 as carried by the Python package reuse; the program carries a copy."""
    wanted = (ROOT / "tests/fixtures/refs/spdx_ids.csv").read_bytes()
    assert (ROOT / "pipeline/manifest/spdx_ids.csv").read_bytes() == wanted
    ids = [row["id"] for row in csv.DictReader(io.StringIO(wanted.decode()))]
    assert len(ids) == len(set(ids)) > 600 and {"OFL-1.1", "CC0-1.0", "CC-BY-4.0", "MIT"} <= set(ids)


@pytest.mark.parametrize("product", ["allotment-year", "sticker-pocket"])
def test_the_samples_say_whose_everything_is(product):
    text = (ROOT / "products" / product / "product.toml").read_text(encoding="utf-8")
    assert "[assets]" in text


def test_every_check_of_the_ledger_is_explained():
    for check in (
        "asset-may-not-be-changed asset-may-not-be-file asset-not-for-sale asset-not-listed asset-not-used "
        "asset-rights-not-declared asset-shares-alike sticker-art-too-small"
    ).split():
        run = sheafwright("explain", check)
        assert run.returncode == 0 and check in run.stdout
    assert Path(ROOT / "pipeline/judge/validate/catalogue/licences.rs").is_file()
