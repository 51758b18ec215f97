"""Variants in the proof, in a real browser: the switch shows the other notebook at the same place, and nothing of others."""

import base64
import io
import re

import numpy
import pikepdf
import pytest
from PIL import Image, ImageFilter

import matrix
import tool
from test_proof import browse, data
from test_watch import Watched

NAMES = {"moss-right": "Moss, Right", "moss-left": "Moss, Left", "clay-right": "Clay pot, Right"}


@pytest.fixture(scope="module")
def creel(shelf):
    """The bundle."""
    return shelf(matrix.CREEL_LOG)


@pytest.fixture(scope="module")
def seen(creel, tmp_path_factory):
    """One round of switching in its proof."""
    return browse("variants.mjs", creel.folder / "proof.html", tmp_path_factory.mktemp("pictures"))


def notebook(creel, variant):
    return creel.folder / f"contents/{variant}/creel-log-{variant}.pdf"


def page_called(path, title):
    """The page that pikepdf finds behind the first entry of the outline with this title, from 1."""
    with pikepdf.open(path) as pdf:
        number = {page.obj.objgen: n for n, page in enumerate(pdf.pages, 1)}
        with pdf.open_outline() as outline:
            entries = list(outline.root)
            for entry in entries:
                entries.extend(entry.children)
            return next(number[e.destination[0].objgen] for e in entries if e.title == title)


def figures(creel, variant):
    """What stands under the title, counted by other readers: taps are those of the notebook, as the listing counts them."""
    folder = creel.folder / "contents" / variant
    with pikepdf.open(notebook(creel, variant)) as pdf:
        pages = len(pdf.pages)
        taps = sum(1 for page in pdf.pages for a in page.obj.get("/Annots", []) if a.get("/Subtype") == "/Link")
    with pikepdf.open(folder / f"creel-log-covers-{variant}.pdf") as pdf:
        covers = len(pdf.pages)
    return {
        "notebook pages": str(pages),
        "taps": f"{taps:,}",
        "covers": str(covers),
        "stickers": str(len(list((folder / "stickers").glob("*.png")))),
    }


def soft(picture):
    return numpy.asarray(picture.convert("RGB").filter(ImageFilter.GaussianBlur(2)), dtype=float)


def drawn(path, number, size, folder):
    """A page as poppler draws it."""
    stem = folder / f"{path.stem}-{number}"
    size = ["-scale-to-x", size[0], "-scale-to-y", size[1]]
    tool.program("pdftoppm", "-png", "-singlefile", "-f", number, *size, path, stem)
    with Image.open(stem.with_suffix(".png")) as image:
        return soft(image)


def of(variant, look):
    """Whether everything that was seen belongs to a variant."""
    others = [n for n in NAMES if n != variant]
    listed = look["files"] + look["covers"] + look["guides"]
    return all(f"-{variant}.pdf" in f for f in listed) and not any(o in f for f in listed for o in others)


def test_the_other_notebook_is_shown_at_the_same_place(seen, creel, tmp_path):
    looks = [
        (seen["first"], "moss-right", 1),
        (seen["before"], "moss-right", page_called(notebook(creel, "moss-right"), "Tides")),
        (seen["clay"], "clay-right", page_called(notebook(creel, "clay-right"), "Tides")),
        (seen["back"], "moss-right", page_called(notebook(creel, "moss-right"), "Tides")),
        (seen["right"], "moss-left", 1),
    ]
    assert seen["before"]["page"] != seen["clay"]["page"]
    for look, variant, page in looks:
        assert look["page"] == page
        mine = soft(Image.open(io.BytesIO(base64.b64decode(look["picture"].split(",", 1)[1]))))
        size = (mine.shape[1], mine.shape[0])
        assert list(size) == look["size"]
        far = {name: numpy.abs(mine - drawn(notebook(creel, name), page, size, tmp_path)).mean() for name in NAMES}
        assert far[variant] < 4
        assert far[variant] == min(far.values()), far


def test_files_covers_guide_stickers_and_figures_are_those_of_the_variant(seen, creel):
    upload = sum(p.stat().st_size for p in (creel.folder / "upload").iterdir())
    for name, variant in (("first", "moss-right"), ("clay", "clay-right"), ("right", "moss-left")):
        look = seen[name]
        assert of(variant, look), look
        assert len(look["files"]) == len(list((creel.folder / "contents" / variant).glob("*.pdf")))
        assert look["says"] == [f"{NAMES[variant]}, one of 3 variants"]
        shown = dict(look["figures"])
        size = float(shown.pop("to upload, all 3 variants").split()[0])
        assert size == pytest.approx(upload / 1000, rel=0.01)
        assert shown == figures(creel, variant)
        names = sorted(p.stem for p in (creel.folder / "contents" / variant / "stickers").glob("*.png"))
        assert look["stickers"] == [f"Sticker {n}" for n in names]
        assert look["cards"] == int(shown["notebook pages"])
        assert look["ways"].count("Covers") == look["ways"].count("Guide") == 1


def test_the_switch_has_a_control_a_row_and_what_is_not_made_leads_to_the_nearest(seen):
    assert seen["groups"] == ["Colourway", "A hand"]
    assert seen["controls"] == ["Moss", "Clay pot", "Right", "Left"]
    assert seen["right"]["chosen"] == ["Moss", "Left"]
    assert seen["far"] == [["Clay pot, with Right", "Comes only with Right"]]
    assert seen["nearest"]["chosen"][0].startswith("Clay pot") and seen["nearest"]["chosen"][1] == "Right"
    assert "Clay pot comes only with Right" in seen["nearest"]["said"]


def test_keys_switch_and_everybody_is_told(seen):
    assert seen["status"] == "status"
    assert of("clay-right", seen["arrow"]) and seen["focus"] == "1"
    assert seen["clay"]["said"] == seen["arrow"]["said"] == "Clay pot, Right is shown."
    assert [re.search(r"creel-log-(.*)\.pdf", f)[1] for f in seen["v"]] == ["moss-right", "moss-left", "moss-right"]


def test_ways_into_another_variant_switch_along(seen):
    assert of("clay-right", seen["way"]) and seen["way"]["page"] == 5
    assert of("clay-right", seen["sticker"]) and seen["insight"]
    assert seen["covers"]["file"] == "Covers (creel-log-covers-clay-right.pdf)"
    assert seen["filtered"]["filter"] == "Tides" and seen["filtered"]["cards"] == 3


def test_a_finding_leads_to_its_variant(seen, creel):
    text = (creel.folder / "proof.html").read_text(encoding="utf-8")
    shown = data(creel.folder)["documents"]
    assert [d["file"] for d in shown if d["kind"] == "notebook"] == [f"contents/{v}/creel-log-{v}.pdf" for v in NAMES]
    for href, variant in re.findall(r'<a href="(#d\d+)p\d+f\d+">contents/([^/]+)/', text):
        assert shown[int(href[2:])]["file"].startswith(f"contents/{variant}/")


def test_what_is_in_sight_stays_and_a_newer_proof_keeps_the_choice(seen):
    before, after = seen["steady"]
    assert abs(before - after) <= 1
    old, new = seen["renewed"]
    assert of("clay-right", old) and {**new, "said": ""} == {**old, "said": ""}


def test_axe_finds_nothing_and_nothing_is_asked_for(seen):
    assert {name: found for name, found in seen["axe"].items() if found} == {}
    assert len(seen["axe"]) == 6
    assert seen["overflow"] <= 0 and seen["sticks"]
    assert seen["diary"]["console"] == []
    assert len(seen["diary"]["requests"]) == 1


def test_what_looks_the_same_is_in_the_page_once(creel):
    proof = data(creel.folder)
    assert len(set(proof["pictures"])) == len(proof["pictures"])
    # Stickers of both hands of a colourway are the same.
    text = (creel.folder / "proof.html").read_text(encoding="utf-8")
    stickers = re.findall(r'<li id="sticker-\d+".*?data-picture="(\d+)" alt="Sticker ([^"]+)"', text)
    assert len(stickers) == 7 and len(set(stickers)) == 5


def test_a_live_page_keeps_the_variant(tmp_path):
    watched = Watched(tmp_path, matrix.CREEL_LOG)
    try:
        watched.until(lambda name, data: name == "built" and data >= 1)
        live = browse("variants-live.mjs", watched.address, watched.manifest)
    finally:
        watched.stop()
    assert live["before"]["chosen"] == ["Clay pot", "Right"]
    assert live["after"] == live["before"]
    assert live["redrawn"]
    assert [line for line in live["console"] if not line.startswith("warning")] == []
    assert len(live["requests"]) == 1 and live["requests"][0].startswith("127.0.0.1:")
