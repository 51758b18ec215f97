"""The version that buyers have, in the proof of the next one: each changed page beside what it was there.

The earlier picture is held against the proof that was written with that version, and against what poppler draws of its file.
"""

import numpy
import pytest
from PIL import Image

import products
import tool
from test_proof import browse, data, decoded, soft
from test_versions import build, manifest


TEMPLATES = '[[notebook.template]]\nname = "Harbour log"\nruling = "lined"\n[[notebook.template]]\nname = "Ferry table"\nruling = "chart"\n'


@pytest.fixture(scope="module")
def versions(tmp_path_factory):
    """1.0.0 is what buyers have; in 1.1.0 a template comes first that was not there, and another has other lines."""
    folder = tmp_path_factory.mktemp("before")
    product, dist = products.LAYOUTS["one-section"].write(folder / "product"), folder / "dist"
    manifest(
        product,
        ('version = "1.0.0"', 'version = "1.0.0"\nissued = true'),
        ("[[notebook.section]]", TEMPLATES + "[[notebook.section]]"),
    )
    build(product, dist)
    manifest(
        product,
        ('version = "1.0.0"\nissued = true', 'version = "1.1.0"'),
        ('name = "Harbour log"', 'name = "Sail plan"\nruling = "isometric"\n[[notebook.template]]\nname = "Harbour log"'),
        ('Ferry table"\nruling = "chart"', 'Ferry table"\nruling = "chart"\nwith = { columns = 3 }'),
    )
    build(product, dist)
    (slug,) = [p for p in dist.iterdir() if p.is_dir() and not p.name.startswith(".")]
    return slug / "1.0.0", slug / "1.1.0"


@pytest.fixture(scope="module")
def pages(versions):
    """The pages of the notebook in both proofs, and the pictures of both."""
    old, new = (data(folder) for folder in versions)
    return old["documents"][0]["pages"], new["documents"][0]["pages"], old["pictures"], new["pictures"]


def test_changed_pages_have_the_picture_that_they_had(pages):
    old, new, pictures, now = pages
    changed = [page for page in new if page.get("before")]
    assert 2 <= len(changed) < len(new), "a few pages changed, and not all"
    moved = 0
    for page in changed:
        was, picture = page["before"]
        assert now[picture] == pictures[old[was - 1]["picture"]], f"page {was} of 1.0.0"
        assert now[picture] != now[page["picture"]], "what looks as it did is not shown twice"
        moved += was - 1 != new.index(page)
    assert moved, "a page that stands elsewhere now finds what it was"
    assert not any(page.get("before") for page in old), "the first version has none before it"


def test_an_earlier_picture_is_what_poppler_draws(versions, pages, tmp_path):
    *_, new, _, now = pages
    book = tool.Bundle(versions[0], versions[0]).notebook
    for was, picture in [page["before"] for page in new if page.get("before")]:
        shown = decoded(now[picture])
        tool.program("pdftoppm", "-png", "-singlefile", "-f", was, "-l", was, "-scale-to-x", shown.width, "-scale-to-y", shown.height, book, tmp_path / f"{was}")
        drawn = Image.open(tmp_path / f"{was}.png")
        assert numpy.abs(soft(drawn) - soft(shown)).mean() < 3, f"page {was}, by two renderers"


def test_both_stand_side_by_side(versions, pages, tmp_path):
    _, new, _, now = pages
    changed = [n for n, page in enumerate(new, 1) if page.get("before")]
    at = changed[-1]
    seen = browse("before.mjs", versions[1] / "proof.html", at, tmp_path / "before.png")
    assert seen["axe"] == {"light": [], "dark": []}, seen["axe"]
    was, picture = new[at - 1]["before"]
    for name, (first, beside, *more) in seen["at"].items():
        assert not first["shown"] and beside["shown"] and beside["whole"], name
        assert beside["says"] == f"1.0.0, page {was}" and beside["picture"] == now[picture]
        assert beside["wide"] <= 0, f"{name}: it is {beside['wide']} px too wide"
        (left, top, width, height), (x, y, w, h) = beside["boxes"]
        assert width == pytest.approx(w, abs=1) and height == pytest.approx(h, rel=0.01), f"{name}: both are of one size"
        if name == "phone":
            assert y + h <= top + 1, "one below the other, the page of now first"
        else:
            assert left + width <= x and top == pytest.approx(y, abs=1), f"{name}: the earlier one at the left"
    home, off = seen["at"]["desk"][2:]
    assert not home["shown"] and home["unchanged"] and not off["unchanged"], "a page that did not change says so"
    assert seen["pressed"] == "true" and seen["changed"] == [f"#d0p{n}" for n in changed]
    assert seen["diary"]["console"] == []
