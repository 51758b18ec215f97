"""The proof of a planner in a real browser: a jump to a date, the kinds of pages, the strip of months and days; and pages that
are stored as what differs from the page under them look as poppler draws them."""

import base64
import calendar
import datetime
import io
import re

import numpy
import pikepdf
import pytest
from PIL import Image, ImageFilter

import tool
from test_proof import browse, data

MANIFEST = """\
name = "Ferry Year"
version = "1.0.0"
released = 2026-11-01
language = "en-GB"
shop = { name = "Fernhill Paper", contact = "help@fernhill.example" }
guide = { wanted = false }
page = { size = "A5", layout = "single", coil = "none" }
[calendar]
first = "2027-08"
months = 10
first-day = "monday"
[[notebook.dated]]
pages = "year"
[[notebook.dated]]
pages = "month"
[[notebook.dated]]
pages = "week"
[[notebook.dated]]
pages = "day"
"""
FIRST, LAST = datetime.date(2027, 8, 1), datetime.date(2028, 5, 31)
ASKED = ["2027-08-02", "2027-08-17", "2028-02-29", "2028-05-31"]


@pytest.fixture(scope="module")
def bundle(tmp_path_factory):
    folder = tmp_path_factory.mktemp("year")
    (folder / "product").mkdir()
    (folder / "product/product.toml").write_text(MANIFEST, encoding="utf-8")
    return tool.build(folder / "product", folder / "dist")


@pytest.fixture(scope="module")
def seen(bundle):
    return browse("planner.mjs", bundle.folder / "proof.html", *ASKED)


@pytest.fixture(scope="module")
def labels(bundle):
    with pikepdf.open(bundle.notebook) as pdf:
        return [page.label for page in pdf.pages]


def test_a_date_leads_to_its_page(seen, labels):
    for text, found in seen["dates"].items():
        assert labels[found["page"] - 1] == text
        day = datetime.date.fromisoformat(text)
        said = f"{calendar.day_name[day.weekday()]}, {day.day} {calendar.month_name[day.month]} {day.year}"
        assert said in found["current"]


def test_what_is_stored_as_a_difference_looks_as_poppler_draws_it(seen, bundle, tmp_path):
    assert any(found["under"] for found in seen["dates"].values())
    for text, found in seen["dates"].items():
        shown = Image.open(io.BytesIO(base64.b64decode(found["picture"]))).convert("RGB")
        n = found["page"]
        tool.program("pdftoppm", "-r", "100", "-png", "-singlefile", "-f", n, "-l", n, bundle.notebook, tmp_path / "page")
        with Image.open(tmp_path / "page.png") as drawn:
            drawn = drawn.convert("RGB").resize(shown.size, Image.LANCZOS)
        # Two programs and a small picture: what must agree is where there is ink and which colour it has, a little blurred.
        a, b = (numpy.asarray(p.filter(ImageFilter.GaussianBlur(4))).astype(int) for p in (shown, drawn))
        assert abs(a - b).mean() < 3 and numpy.percentile(abs(a - b), 99.5) < 40, text


def test_the_strip_has_every_month_and_day(seen, labels):
    months = [date for date in (FIRST + datetime.timedelta(n) for n in range((LAST - FIRST).days + 1)) if date.day == 1]
    names = [f"{calendar.month_abbr[m.month]} {m.year}" for m in months]
    assert [name for name, _ in seen["strip"]["months"]] == names
    assert [labels[page - 1] for _, page in seen["strip"]["months"]] == [f"{m:%Y-%m}" for m in months]
    days = calendar.monthrange(LAST.year, LAST.month)[1]
    wanted = [LAST.replace(day=n).isoformat() for n in range(1, days + 1)]
    assert [labels[page - 1] for _, page in seen["strip"]["days"]] == wanted


def test_pages_are_shown_by_their_kind(seen, labels):
    forms = {
        "year": r"\d{4}/\d\d",
        "month": r"\d{4}-\d\d",
        "week": r"W\d\d",
        "day": r"\d{4}-\d\d-\d\d",
    }
    assert set(seen["kinds"]) == set(forms)
    for kind, form in forms.items():
        assert seen["kinds"][kind] == [n for n, label in enumerate(labels, 1) if re.fullmatch(form, label)], kind


def test_axe_finds_nothing_and_nothing_is_asked_for(seen):
    # Tap areas of the page are as large as on the page; the list below the page has the same links (WCAG 2.2, 2.5.8: equivalent).
    own = [line for found in seen["axe"].values() for line in found if not re.match(r'target-size: <a href="#d0p\d+" aria-label="Go to', line)]
    assert own == [] and len(seen["axe"]) == 3
    assert seen["diary"]["console"] == [] and len(seen["diary"]["requests"]) == 1
    assert seen["overflow"] <= 0


def test_the_page_is_light(bundle):
    """More than 360 different pages in less than two and a half megabytes: about 7 kB each, pictures, links and all."""
    shown = data(bundle.folder)["documents"][0]["pages"]
    assert len(shown) > 360
    assert (bundle.folder / "proof.html").stat().st_size < 7_000 * len(shown)
