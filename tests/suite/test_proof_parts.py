"""Parts of the proof that are looked at rather than walked through: fill bars, listing pictures, and a thousand pages."""

import base64
import io
import json
import re
import shutil

import numpy
import pikepdf
import pytest
from PIL import Image
from pikepdf import Array, Dictionary, Name

import tool
from test_listing_pictures import PICTURED
from test_proof import browse, decoded, soft


@pytest.fixture(scope="module")
def taken(shelf):
    return shelf(PICTURED)


@pytest.fixture(scope="module")
def parts(taken):
    return browse("parts.mjs", taken.folder / "proof.html")


def uploads(folder):
    """Every upload by name, and its bytes."""
    return {path.name: path.stat().st_size for path in sorted((folder / "upload").iterdir())}


def filled(bar, size, limit):
    """Whether a bar is as full as the file is of the limit; a little is always seen."""
    share = min(1, size / limit)
    # The page states tenths of a per cent; a bar is at least three pixels wide.
    wanted = max(3, share * bar["room"])
    return bar["filled"] == pytest.approx(wanted, abs=bar["room"] * 0.0006 + 0.1)


def test_bars_are_as_full_as_the_record_says(parts, taken):
    limits, files = taken.record["limits"], uploads(taken.folder)
    assert sorted(bar["name"] for bar in parts["uploads"]) == sorted(files) and len(files) >= 2
    for bar in parts["uploads"]:
        size = files[bar["name"]]
        assert filled(bar, size, limits["bytes"]), bar
        assert bar["over"] == [False, False]
        stated = float(re.search(r"([\d.]+) %", bar["says"])[1])
        assert stated == pytest.approx(100 * size / limits["bytes"], abs=0.051)
    assert parts["slots"] == [f"{len(files)} of the shop's {limits['files']} files are used.", ""]


def test_a_page_that_nobody_named_is_not_written_over(taken, tmp_path):
    page = tmp_path / "proof.html"
    first = tool.sheafwright("proof", taken.folder, cwd=tmp_path)
    assert first.returncode == 0 and first.stdout.strip() == "proof.html", first.stderr
    page.write_text("somebody's remarks", encoding="utf-8")
    again = tool.sheafwright("proof", taken.folder, cwd=tmp_path)
    assert again.returncode == 2 and "proof.html" in again.stderr and "--out" in again.stderr
    assert page.read_text(encoding="utf-8") == "somebody's remarks"
    named = tool.sheafwright("proof", taken.folder, "--out", "proof.html", cwd=tmp_path)
    assert named.returncode == 0 and page.read_text(encoding="utf-8").startswith("<!doctype html>"), named.stderr


def test_a_bar_over_the_limit_is_marked(parts, taken, tmp_path):
    """The same bundle for a shop that takes less: the larger upload is over the limit, the smaller nearly at it."""
    shutil.copytree(taken.folder, tmp_path / "bundle")
    files = uploads(taken.folder)
    small, large = sorted(files.values())[:: len(files) - 1]
    assert small < large
    record = taken.record | {"limits": taken.record["limits"] | {"bytes": small + 1, "files": 1}}
    (tmp_path / "bundle/bundle.json").write_text(json.dumps(record), encoding="utf-8")
    run = tool.sheafwright("proof", tmp_path / "bundle", "--out", tmp_path / "proof.html")
    assert run.returncode in (0, 1), run.stderr
    seen = browse("parts.mjs", tmp_path / "proof.html")
    usual = {bar["colour"] for bar in parts["uploads"]}
    assert len(usual) == 1
    for bar in seen["uploads"]:
        over = files[bar["name"]] > small + 1
        assert bar["over"] == [over, over], bar
        assert filled(bar, files[bar["name"]], small + 1), bar
        assert (bar["colour"] in usual) != over, bar
    words, kind = seen["slots"]
    assert words.startswith(f"{len(files)} of the shop's 1 ") and kind == "over"


def bytes_of(address):
    return base64.b64decode(address.split(",", 1)[1])


def test_listing_pictures_are_shown_from_the_files_of_the_bundle(parts, taken):
    files = sorted((taken.folder / "listing/pictures").iterdir())
    assert [shot["name"] for shot in parts["shots"]] == [path.name for path in files]
    for shot, path in zip(parts["shots"], files, strict=True):
        with Image.open(path) as image:
            assert shot["stated"] == list(image.size)
            assert f"{image.width} × {image.height} px" in shot["says"]
            moves = getattr(image, "n_frames", 1) > 1
            small = image.convert("RGB").resize(shot["natural"], Image.Resampling.LANCZOS)
        assert shot["natural"][0] <= shot["stated"][0]
        shape = [w / h for w, h in (shot["natural"], shot["stated"])]
        assert shape[0] == pytest.approx(shape[1], rel=0.01)
        assert numpy.abs(soft(decoded(shot["source"])) - soft(small)).mean() < 3, path.name
        assert shot["plays"] == moves


def test_the_moving_one_starts_on_the_button_and_stops_again(parts, taken):
    (flip,) = (taken.folder / "listing/pictures").glob("*.gif")
    (states,) = parts["started"]
    (before, still), (during, moving), (after, last) = states
    assert (before, during, after) == ("false", "true", "false")
    assert bytes_of(moving) == flip.read_bytes()
    assert last == still
    with Image.open(io.BytesIO(bytes_of(still))) as image:
        assert getattr(image, "n_frames", 1) == 1
    assert parts["diary"]["console"] == []


PAGES, PARTS, BITS = 1000, 8, 10


@pytest.fixture(scope="module")
def thousand(tmp_path_factory):
    """A thousand pages in eight parts. Each shows its own number in dark and light squares and leads to twenty others."""
    folder = tmp_path_factory.mktemp("thousand")
    (folder / "files").mkdir()
    with pikepdf.new() as pdf:
        for number in range(1, PAGES + 1):
            squares = ["0.95 0.93 0.88 rg 0 0 300 200 re f"]
            for bit in range(BITS):
                grey = 0.1 if number >> bit & 1 else 0.8
                squares.append(f"{grey} g {10 + 28 * bit} 90 24 24 re f")
            page = Dictionary(Type=Name.Page, MediaBox=[0, 0, 300, 200], Resources=Dictionary())
            page.Contents = pdf.make_stream("\n".join(squares).encode())
            pdf.pages.append(pikepdf.Page(pdf.make_indirect(page)))
        for number, page in enumerate(pdf.pages):
            links = []
            for n in range(20):
                goal = pdf.pages[(number * 7 + 50 * n) % PAGES].obj
                area = Array([10 + 14 * n, 10, 22 + 14 * n, 30])
                link = Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=area, Border=Array([0, 0, 0]), F=4)
                link.Dest = Array([goal, Name.XYZ, 0, 200, None])
                links.append(pdf.make_indirect(link))
            page.obj.Annots = Array(links)
        with pdf.open_outline() as outline:
            outline.root.extend(pikepdf.OutlineItem(f"Bed {n + 1}", n * PAGES // PARTS) for n in range(PARTS))
        pdf.save(folder / "files/year.pdf")
    run = tool.sheafwright("proof", folder / "files", "--out", folder / "proof.html")
    assert run.returncode in (0, 1), run.stderr
    return browse("many.mjs", folder / "proof.html", 987)


def test_a_thousand_pages_open_light(thousand):
    assert thousand["diary"]["console"] == [] and len(thousand["diary"]["requests"]) == 1
    assert thousand["cards"] == PAGES
    # A handful of elements a page, and pictures only of what is in sight or near it.
    assert thousand["elements"] < 10 * PAGES
    assert 1 <= thousand["pictures"] < 80
    assert thousand["after"] < 160


def number_in(address):
    """The number that a picture of a page shows."""
    image = decoded(address).convert("L")
    scale = image.width / 300
    shades = [image.getpixel((int((22 + 28 * bit) * scale), int((200 - 102) * scale))) for bit in range(BITS)]
    return sum(1 << bit for bit, shade in enumerate(shades) if shade < 100)


def test_a_jump_among_a_thousand_shows_that_page(thousand):
    assert thousand["page"] == 987
    assert number_in(thousand["paper"]) == 987
    assert thousand["current"]["href"] == "#d0p987" and thousand["current"]["seen"]
    assert number_in(thousand["current"]["src"]) == 987


def test_the_filter_divides_a_thousand_pages(thousand):
    shown = dict(thousand["filter"])
    shown.pop("pages with findings", None)
    assert shown.pop("all pages") == list(range(1, PAGES + 1))
    starts = [n * PAGES // PARTS + 1 for n in range(PARTS + 1)]
    assert list(shown.values()) == [list(range(a, b)) for a, b in zip(starts, starts[1:])]
