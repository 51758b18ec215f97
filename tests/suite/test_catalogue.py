"""The catalogue of a shop: every figure against the bundles' files (pikepdf, unzip's counts, the disk), the table by Python's
csv, the page in Chromium with axe-core."""

import csv
import datetime
import io
import json
import re

import pikepdf
import pytest

import test_proof
from products import Recipe
from tool import sheafwright

TEMPLATES = [("Deck log", "lined", "{}"), ("Watch list", "checklist", "{}")]
STICKERS = '[[sticker]]\nmotif = "tally"\n[[sticker]]\nmotif = "star"\n'
PICTURES = "[pictures]\nusual = true\n"
LISTING = '[listing]\ntitle = "A {0}, \\"by hand\\""\ntags = ["{1}", "tablet notebook"]\n'


def small(name, tag, more=""):
    return Recipe(name, page='size = "A6"\nlayout = "single"', sections=["Boats"], templates=TEMPLATES, more=more + LISTING.format(name, tag))


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    """Five products: one that buyers have in an older version, one with variants, one ahead of its bundle, one never
    built, one that cannot be read."""
    root = tmp_path_factory.mktemp("catalogue")
    products = root / "products"
    small("Harbour Log", "harbour").write(products / "harbour")
    small("Lantern Log", "lanterns", '[variants.hand]\nleft = { page.hand = "left" }\nright = { page.hand = "right" }\n' + PICTURES).write(products / "lantern")
    small("Knot Stickers", "tally stickers", STICKERS).write(products / "knots")
    small("Never Built", "none").write(products / "never")
    assert sheafwright("build", "products/harbour", "products/lantern", "products/knots", "--out", "dist", cwd=root).returncode == 0
    assert sheafwright("release", "dist/harbour-log/1.0.0", cwd=root).returncode == 0
    text = (products / "harbour/product.toml").read_text().replace('"1.0.0"', '"1.1.0"').replace('name = "Boats"', 'name = "Boats"\n[[notebook.section]]\nname = "Tides"')
    (products / "harbour/product.toml").write_text(text)
    assert sheafwright("build", "products/harbour", "--out", "dist", cwd=root).returncode == 0
    (products / "knots/product.toml").write_text((products / "knots/product.toml").read_text().replace('"1.0.0"', '"1.2.0"'))
    (products / "broken").mkdir()
    (products / "broken/product.toml").write_text('name = "Broken\n')
    run = sheafwright("catalogue", "products", "--out", "dist", cwd=root)
    return root, run


@pytest.fixture(scope="module")
def told(shop):
    return {p["product"]: p for p in json.loads((shop[0] / "dist/catalogue.json").read_text(encoding="utf-8"))["products"]}


def test_what_cannot_be_read_is_told_and_stops_nothing(shop, told):
    root, run = shop
    assert run.returncode == 1 and run.stdout == "dist/catalogue.html\n"
    assert run.stderr.startswith("products/broken:\nerror: product.toml:1:15: the text has no end")
    states = {p["product"]: p["state"] for p in told.values()}
    assert states == {"broken": "unreadable", "never-built": "unbuilt", "harbour-log": "built", "lantern-log": "built", "knot-stickers": "behind"}
    assert "product.toml:1:15" in told["broken"]["fault"]


@pytest.mark.parametrize("slug", ["harbour-log", "lantern-log", "knot-stickers"])
def test_every_figure_is_that_of_the_bundle(shop, told, slug):
    root, _ = shop
    entry = told[slug]
    folder = root / "dist" / entry["folder"]
    assert entry["lies"] == {"harbour-log": "1.1.0", "lantern-log": "1.0.0", "knot-stickers": "1.0.0"}[slug]
    uploads = list((folder / "upload").iterdir())
    assert (entry["uploads"], entry["upload_bytes"]) == (len(uploads), sum(p.stat().st_size for p in uploads))
    books = [p for p in folder.glob("contents/**/*.pdf") if re.search(rf"{slug}(-left|-right)?\.pdf$", p.name)]
    assert len(books) == {"lantern-log": 2}.get(slug, 1)
    pages, links = [], []
    for book in books:
        with pikepdf.open(book) as pdf:
            pages.append(len(pdf.pages))
            links.append(sum(a.Subtype == "/Link" for page in pdf.pages for a in page.get("/Annots", [])))
    assert entry["pages"] == [min(pages), max(pages)] and entry["links"] == [min(links), max(links)]
    stickers = len(list(folder.glob("contents/**/stickers/*.png")))
    assert entry["stickers"] == ([stickers, stickers] if stickers else None)
    assert entry["findings"] == [0, 0, 0] and len(entry["variants"]) == {"lantern-log": 2}.get(slug, 0)
    assert [(root / "dist" / p).is_file() for p in entry["pictures"]] == [True] * len(list((folder / "listing").glob("pictures/*")))
    assert entry["description"] == (folder / "listing/description.md").read_text(encoding="utf-8")
    assert entry["tags"] == (folder / "listing/tags.txt").read_text(encoding="utf-8").split("\n")[:-1]
    assert entry["title"] == f'A {entry["name"]}, "by hand"'


def test_what_buyers_have_and_what_changed_since(told):
    entry = told["harbour-log"]
    assert entry["sealed"] == ["1.0.0", "2027-03-01"]
    today = datetime.datetime.now(datetime.UTC).date()
    assert abs(entry["days"] - (today - datetime.date(2027, 3, 1)).days) <= 1
    assert entry["changed"].startswith("since 1.0.0, which buyers have: ")
    assert all(told[slug][key] is None for slug in ("lantern-log", "knot-stickers") for key in ("sealed", "days", "changed"))


def test_the_table_says_the_same(shop, told):
    raw = (shop[0] / "dist/catalogue.csv").read_bytes()
    assert raw.decode("utf-8").count("\r\n") == len(told) + 1
    rows = {row["product"]: row for row in csv.DictReader(io.StringIO(raw.decode("utf-8"), newline=""))}
    assert rows.keys() == told.keys()
    for slug, row in rows.items():
        entry = told[slug]
        assert (row["name"], row["state"], row["version"], row["title"]) == tuple(entry[k] for k in ("name", "state", "version", "title"))
        assert row["description"] == entry["description"] and row["tags"].split("\n") == (entry["tags"] or [""])
        assert row["upload bytes"] == (str(entry["upload_bytes"]) if entry["lies"] else "")
        span = entry["pages"] and sorted(set(entry["pages"]))
        assert row["pages"] == ("" if not span else " to ".join(map(str, span)))


def test_the_page_in_a_browser(shop, told, tmp_path):
    page = shop[0] / "dist/catalogue.html"
    seen = test_proof.browse("catalogue.mjs", page, tmp_path / "catalogue.png")
    assert seen["axe"] == {"light": [], "opened": [], "dark": []}
    everything = ["broken", "Harbour Log", "Knot Stickers", "Lantern Log", "Never Built"]
    assert seen["all"] == seen["plain"] == seen["order"]["name"] == seen["only"]["all"] == everything
    assert seen["only"] | {"all": 0} == {"all": 0, "found": [], "changed": ["Harbour Log"], "undone": ["broken", "Knot Stickers", "Never Built"]}
    assert seen["order"]["days"][0] == "Harbour Log"
    sizes = sorted(("harbour-log", "lantern-log", "knot-stickers"), key=lambda slug: -told[slug]["upload_bytes"])
    assert seen["order"]["bytes"][:3] == [told[slug]["name"] for slug in sizes]
    assert seen["found"] == [["Knot Stickers"], "1 of 5"]
    assert seen["broken"] == [True] * 3 and seen["wide"] <= 0
    assert seen["copied"][0] == told["harbour-log"]["description"]
    assert len(seen["leads"]) == 6 and all((shop[0] / "dist" / href).exists() for href in seen["leads"])
    assert seen["diary"] == {"console": [], "requests": [page.as_uri()]}


def test_what_is_wrong_is_told(tmp_path):
    run = sheafwright("catalogue", "products", "--out", "gone", cwd=tmp_path)
    assert run.returncode == 2 and run.stderr.startswith("error: gone: there is no such folder")
