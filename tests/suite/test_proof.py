"""The proof in a real browser: taps lead where pikepdf says, pictures look as poppler draws, nothing leaves the page."""

import base64
import io
import json
import os
import re
import subprocess

import numpy
import pikepdf
import pytest
from PIL import Image, ImageFilter

import products
import tool

ROOT = tool.ROOT
MODULES = os.environ.get("SHEAFWRIGHT_BROWSER", str(ROOT / "target/browser"))
LIMIT = 6_000_000


def browse(script, *arguments):
    """What a script in the browser reports."""
    command = ["node", str(ROOT / "tests/browser" / script), *map(str, arguments)]
    environment = os.environ | {"SHEAFWRIGHT_BROWSER": MODULES}
    run = subprocess.run(command, env=environment, capture_output=True, text=True, encoding="utf-8", timeout=900)
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)


def data(folder):
    """The block of data in a proof."""
    text = (folder / "proof.html").read_text(encoding="utf-8")
    return json.loads(re.search(r'id="data">(.*?)</script>', text, re.S)[1])


@pytest.fixture(scope="module")
def seen(full, tmp_path_factory):
    """One walk through the proof of the bundle that has everything in it."""
    return browse("proof.mjs", full.folder / "proof.html", tmp_path_factory.mktemp("pictures"))


def taps(path):
    """Of every page: rectangle (share of the page, from the top left), target page or address, as pikepdf reads them."""
    with pikepdf.open(path) as pdf:
        number = {page.obj.objgen: n for n, page in enumerate(pdf.pages, 1)}
        for page in pdf.pages:
            left, bottom, right, top = map(float, page.cropbox)
            found = []
            for link in page.obj.get("/Annots", []):
                if link.get("/Subtype") != "/Link":
                    continue
                x0, y0, x1, y1 = map(float, link.Rect)
                w, h = right - left, top - bottom
                rect = [(x0 - left) / w, (top - y1) / h, (x1 - x0) / w, (y1 - y0) / h]
                if "/Dest" in link:
                    found.append((rect, number[link.Dest[0].objgen], None))
                else:
                    found.append((rect, None, str(link.A.URI)))
            yield found


def test_every_tap_lands_on_the_page_that_pikepdf_says(seen, full):
    shown = data(full.folder)["documents"]
    assert len(shown) == len(seen["walk"]) == len(full.pdfs)
    clicked = 0
    for document, walked in zip(shown, seen["walk"], strict=True):
        wanted = list(taps(full.folder / document["file"]))
        assert len(wanted) == len(walked["pages"])
        for number, (page, want) in enumerate(zip(walked["pages"], wanted, strict=True), 1):
            assert len(page) == len(want), f"{document['file']} page {number}"
            for tap, (rect, target, address) in zip(page, want, strict=True):
                assert tap["hit"], f"{document['file']} page {number}: the area at {rect} is not what is tapped"
                assert tap["rect"] == pytest.approx(rect, abs=0.002)
                assert (tap["page"], tap["address"]) == (target, address)
                clicked += 1
    assert clicked > 300


def test_axe_finds_nothing_in_light_and_dark_wide_and_on_a_tablet(seen):
    assert {name: found for name, found in seen["axe"].items() if found} == {}
    assert len(seen["axe"]) == 5


def test_nothing_is_asked_for_and_nothing_complained_of(seen):
    assert seen["diary"]["console"] == []
    assert [r for r in seen["diary"]["requests"] if not r.startswith("file:")] == []
    assert len(seen["diary"]["requests"]) == 1
    assert seen["overflow"] <= 0
    assert seen["blank"] == []


def test_keys_jump_and_back(seen, full):
    with pikepdf.open(full.notebook) as pdf:
        last = len(pdf.pages)
        labels = [page.label for page in pdf.pages]
    keys = seen["keys"]
    assert [keys[k] for k in ("End", "Home", "ArrowRight", "PageDown", "ArrowLeft")] == [last, 1, 2, 3, 2]
    assert (keys["shown"], keys["hidden"], seen["back"]) == ("true", "false", True)
    assert seen["legend"]
    jumps = seen["jumps"]
    assert jumps["5"] == 5
    assert jumps["iii"] == labels.index("iii") + 1
    assert jumps["T-2"] == jumps["nowhere"] == labels.index("T-2") + 1
    assert "no page nowhere" in seen["said"]


def test_the_filter_divides_the_pages_by_the_outline(seen, full):
    shown = dict(seen["filter"])
    shown.pop("pages with findings", None)
    with pikepdf.open(full.notebook) as pdf:
        assert shown.pop("all pages") == len(pdf.pages)
        assert sum(shown.values()) == len(pdf.pages)
        number = {page.obj.objgen: n for n, page in enumerate(pdf.pages)}
        with pdf.open_outline() as outline:
            entries = list(outline.root)
            for entry in entries:
                entries.extend(entry.children)
    starts = sorted({number[e.destination[0].objgen] for e in entries})
    assert len(shown) == len(starts)


def test_what_is_copied_is_what_lies_in_the_bundle(seen, full):
    description = (full.folder / "listing/description.md").read_text(encoding="utf-8")
    title, rest = description.split("\n", 1)
    copies = seen["copies"]
    assert copies["text-title"] == title.removeprefix("# ")
    assert copies["text-description"] == rest.strip()
    assert copies["text-tags"] == ", ".join((full.folder / "listing/tags.txt").read_text().splitlines())
    assert copies["text-licence"] == (full.folder / "contents/licence-terms.txt").read_text(encoding="utf-8").rstrip()


def test_stickers_stand_at_true_size_on_three_grounds(seen, full):
    assert len(set(seen["grounds"])) == 3
    assert len(seen["stickers"]) == len(full.stickers)
    for (_, width, height), path in zip(seen["stickers"], full.stickers, strict=True):
        with Image.open(path) as image:
            dpi = image.info["dpi"][0]
            # CSS: 96 px to the inch.
            assert (width, height) == pytest.approx((image.width / dpi * 96, image.height / dpi * 96), abs=1.01)


def decoded(address):
    return Image.open(io.BytesIO(base64.b64decode(address.split(",", 1)[1]))).convert("RGB")


def soft(picture):
    """Pixels of a picture, a little blurred: two programs place a letter up to a pixel apart."""
    return numpy.asarray(picture.convert("RGB").filter(ImageFilter.GaussianBlur(2)), dtype=float)


def test_pictures_look_as_poppler_draws_the_pages(full, tmp_path):
    proof = data(full.folder)
    for document in proof["documents"]:
        for number in sorted({1, 3, len(document["pages"]) // 2 + 1, len(document["pages"])} & set(range(1, len(document["pages"]) + 1))):
            page = document["pages"][number - 1]
            assert page["whole"]
            mine = decoded(proof["pictures"][page["picture"]])
            stem = tmp_path / "page"
            size = ["-scale-to-x", mine.width, "-scale-to-y", mine.height]
            tool.program("pdftoppm", "-png", "-singlefile", "-f", number, *size, full.folder / document["file"], stem)
            with Image.open(stem.with_suffix(".png")) as image:
                other = soft(image)
            difference = numpy.abs(soft(mine) - other).mean()
            assert difference < 4, f"{document['file']} page {number}: {difference:.2f}"


def test_it_is_light(full, shelf):
    assert (full.folder / "proof.html").stat().st_size < LIMIT
    pages = data(full.folder)
    assert len(pages["pictures"]) <= sum(len(d["pages"]) for d in pages["documents"]) + len(full.stickers)


def test_findings_lead_to_their_places(tmp_path):
    alike = '[[notebook.section]]\nname = "Boats"\ncolour = "#5a7fa0"\n[[notebook.section]]\nname = "Tides"\ncolour = "#5b80a1"\n'
    products.Recipe("Two Blues", more=alike).write(tmp_path / "product")
    bundle = tool.build(tmp_path / "product", tmp_path / "dist")
    seen = browse("proof.mjs", bundle.folder / "proof.html")
    assert "look" in seen["verdict"]
    assert seen["findings"]
    for finding in seen["findings"]:
        on_page = re.fullmatch(r"#d\d+p(\d+)f\d+", finding["href"])
        if on_page:
            assert finding["page"] == int(on_page[1])
            assert finding["insight"]
    assert seen["axe"]["wide"] == []
