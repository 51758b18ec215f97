"""Dated pages that the designer has drawn: one SVG for all days, filled in by tera. What all days have is stored once; taps,
texts and pixels are those of the drawing laid whole. Pixels by poppler, objects by qpdf, dates by Python's calendar."""

import datetime
import re
from collections import Counter

import numpy
import pikepdf
import pytest
from PIL import Image

import tool
from reading import Reading

MANIFEST = """\
name = "Harbour Days"
version = "1.0.0"
released = 2026-11-01
language = "en-GB"
shop = {{ name = "Fernhill Paper", contact = "help@fernhill.example" }}
guide = {{ wanted = false }}
[page]
size = "A5"
layout = "single"
coil = "none"
[calendar]
first = "2027-02"
months = {months}
first-day = "monday"
[[calendar.event]]
name = "Regatta & fair"
on = "2027-02-20"
{sets}
[assets]
own = ["art/*"]
"""

DAY = """[[notebook.dated]]
pages = "day"
art = "art/day.svg"
"""

# Much that is the same each day (a wave of 120 points, forty lines, a heading), and between it what is the day's own: below, in
# the middle and on top; a group whose children differ; a tint on weekends; a strip of all days of the month.
LINES = "".join(f'<path d="M40 {300 + 12 * i} L520 {300 + 12 * i}" stroke="#b9c4cc" stroke-width="0.6"/>' for i in range(40))
WAVE = "M40 240 " + " ".join(f"L{40 + 4 * i} {240 + (i * 37) % 23}" for i in range(120))
ART = f"""<svg xmlns="http://www.w3.org/2000/svg" width="559" height="794" viewBox="0 0 559 794">
<defs><linearGradient id="sky"><stop offset="0" stop-color="#dfe9ee"/><stop offset="1" stop-color="#f8f4ea"/></linearGradient></defs>
<style>.quiet {{ fill: #556270; font-size: 12px }}</style>
<rect width="559" height="794" fill="url(#sky)"/>
{{% if days[0].weekend %}}<rect x="40" y="60" width="480" height="80" fill="#e8d9c0" fill-opacity="0.6"/>{{% endif %}}
<g transform="translate(40 40)" fill="#22303a">
<text x="0" y="20" font-size="14">Harbour log, kept at the quay</text>
<text x="0" y="60" font-size="30">{{{{ heading }}}}</text>
<text x="0" y="90" font-size="16">{{{{ beside }}}}</text>
</g>
<path d="{WAVE}" fill="none" stroke="#3f6f7a" stroke-width="2"/>
<text class="quiet" x="40" y="290">day {{{{ date.of_year }}}}, {{{{ date.left }}}} left{{% for e in events %}}; {{{{ e.name }}}}{{% endfor %}}</text>
{LINES}
<text class="quiet" x="40" y="770">Tides by the harbour board's table</text>
<rect id="link:month" x="40" y="10" width="120" height="28" fill="#ffffff" fill-opacity="0.3"/>
<rect id="link:previous" x="400" y="10" width="50" height="40" fill="none" stroke="#3f6f7a"/>
<rect id="link:next" x="470" y="10" width="50" height="40" fill="none" stroke="#3f6f7a"/>
</svg>
"""


def product(folder, drawing=ART, months=1, sets=DAY, more=None):
    (folder / "art").mkdir(parents=True)
    (folder / "art/day.svg").write_text(drawing, encoding="utf-8")
    for name, text in (more or {}).items():
        (folder / "art" / name).write_text(text, encoding="utf-8")
    (folder / "product.toml").write_text(MANIFEST.format(months=months, sets=sets), encoding="utf-8")
    return folder


def notebook(folder, **what):
    return tool.build(product(folder / "product", **what), folder / "dist").notebook


def forms(path):
    """How often each form is used on dated pages, and the bytes of its content; by a digest of the content."""
    used, sizes = Counter(), {}
    with pikepdf.open(path) as pdf:
        for page in pdf.pages:
            if not re.fullmatch(r"\d{4}-\d\d-\d\d", page.label or ""):
                continue
            for form in page.Resources.get("/XObject", {}).values():
                used[form.objgen] += 1
                sizes[form.objgen] = len(form.read_raw_bytes())
    return used, sizes


def labels(path):
    with pikepdf.open(path) as pdf:
        return [page.label for page in pdf.pages]


def pixels(path, page, folder):
    tool.program("pdftoppm", "-r", "100", "-png", "-singlefile", "-f", page, "-l", page, path, folder / f"page-{page}")
    with Image.open(folder / f"page-{page}.png") as picture:
        return numpy.asarray(picture.convert("RGB")).astype(int)


@pytest.fixture(scope="module")
def february(tmp_path_factory):
    return notebook(tmp_path_factory.mktemp("february"))


def test_what_all_days_have_is_stored_once(february):
    used, sizes = forms(february)
    shared = [form for form, times in used.items() if times == 28]
    # The ground, the words at the head, the wave, the lines with the words at the foot: nothing of that size is there for one
    # day alone.
    assert len(shared) >= 5, used
    alone = [form for form, times in used.items() if times == 1]
    assert alone and max(sizes[form] for form in alone) < 700, sorted(sizes[form] for form in alone)[-3:]
    assert sum(sizes[form] for form in shared) > 1000


def test_fonts_are_cut_down_once_for_all_days(february):
    fonts = tool.program("pdffonts", february).splitlines()[2:]
    # Names of subsets begin with a tag of six letters and a plus (ISO 32000-1, 9.6.4).
    faces = Counter(re.sub(r"^[A-Z]{6}\+", "", line.split()[0]) for line in fonts)
    # A face may be there once for the program's own texts and once for those of drawings.
    assert max(faces.values()) <= 2, fonts


def test_parted_drawings_look_like_the_drawing_laid_whole(february, tmp_path):
    """A drawing that blends with what is below stays whole: the same one with a word of that kind, which changes nothing, is
    what it is held against."""
    plain = ART.replace("<defs>", '<g style="mix-blend-mode:normal"/><defs>')
    whole = notebook(tmp_path, drawing=plain)
    used, _ = forms(whole)
    assert min(used.values()) == 1
    names = labels(february)
    assert labels(whole) == names
    for day in ["2027-02-01", "2027-02-20", "2027-02-28"]:
        page = names.index(day) + 1
        a, b = pixels(february, page, tmp_path), pixels(whole, page, tmp_path)
        # Layers are laid over each other in another order of roundings: a step of a channel, nowhere more.
        assert abs(a - b).max() <= 2, day


def test_every_day_says_what_the_calendar_says_and_its_taps_lead_on(february):
    names = labels(february)
    book = Reading(february)
    for n in range(28):
        day = datetime.date(2027, 2, 1) + datetime.timedelta(n)
        page = names.index(day.isoformat())
        text = tool.page_text(february, page)
        assert f"{day:%A}" in text and f"{day.day} February 2027" in text
        of_year = day.timetuple().tm_yday
        assert f"day {of_year}, {365 - of_year} left" in text
        assert ("Regatta & fair" in text) == (day.day == 20)
        goals = [names[link.target] for link in book.links[page] if link.target >= 0]
        before, after = (day + datetime.timedelta(step) for step in (-1, 1))
        assert (before.isoformat() in goals) == (day.day > 1)
        assert (after.isoformat() in goals) == (day.day < 28)


MONTH = """<svg xmlns="http://www.w3.org/2000/svg" width="559" height="794" viewBox="0 0 559 794">
<rect width="559" height="794" fill="#fdfaf2"/>
<text x="40" y="60" font-size="30">{{ month.name }} {{ date.year }}</text>
{% for name in weekdays %}<text x="{{ 45 + loop.index0 * 68 }}" y="100" font-size="12">{{ name.short }}</text>{% endfor %}
{% for row in month.rows %}{% set y = 110 + loop.index0 * 90 %}{% for cell in row.days %}{% set x = 40 + loop.index0 * 68 %}
{% if cell.inside and cell.shown %}<text x="{{ x + 6 }}" y="{{ y + 20 }}" font-size="14">{{ cell.number }}</text>
<rect id="link:{{ cell.place }}" x="{{ x }}" y="{{ y }}" width="60" height="60" fill="none"/>{% endif %}
{% endfor %}{% endfor %}
<rect id="link:day/*" x="40" y="700" width="480" height="40" fill="#e4dccb"/>
<rect id="link:up" x="480" y="20" width="40" height="40" fill="#e4dccb"/>
</svg>
"""

MONTHS = """[[notebook.dated]]
pages = "year"
[[notebook.dated]]
pages = "month"
art = "art/month.svg"
room = "page"
"""


def test_cells_and_strips_lead_to_their_days(tmp_path):
    """Tap areas of cells, and a strip of a month's days that is divided evenly."""
    path = notebook(tmp_path, months=2, sets=MONTHS + DAY, more={"month.svg": MONTH})
    names, book = labels(path), Reading(path)
    for month, count in ((2, 28), (3, 31)):
        page = names.index(f"2027-{month:02}")
        days = [f"2027-{month:02}-{n:02}" for n in range(1, count + 1)]
        # Positions as they were drawn: CSS pixels of 0.75 points on a page of A5.
        scale = book.width / 559
        of = {day: [link for link in book.links[page] if names[link.target] == day] for day in days}
        for n, day in enumerate(days):
            cell = datetime.date.fromisoformat(day)
            lead = datetime.date(2027, month, 1).weekday()
            row, column = divmod(lead + n, 7)
            middle = ((40 + column * 68 + 30) * scale, (110 + row * 90 + 30) * scale)
            assert cell.weekday() == column
            assert any(hit(link.rect, middle) for link in of[day]), day
            # The strip: each day has the same share of it.
            middle = ((40 + 480 * (n + 0.5) / count) * scale, 720 * scale)
            assert any(hit(link.rect, middle) for link in of[day]), day
        assert any(names[link.target] == "2027" for link in book.links[page])


def hit(rect, point):
    return rect[0] - 0.01 <= point[0] <= rect[2] + 0.01 and rect[1] - 0.01 <= point[1] <= rect[3] + 0.01


def test_drawings_that_cannot_be_parted_stay_whole(tmp_path):
    """A style sheet that asks for what stands beside, and groups that are see-through as one: nothing is lost or doubled."""
    drawing = ART.replace("<style>", "<style>svg > text { letter-spacing: 0 } ")
    a = notebook(tmp_path / "a", drawing=drawing)
    used, _ = forms(a)
    assert min(used.values()) == 1
    see_through = ART.replace('<g transform="translate(40 40)"', '<g opacity="0.5" transform="translate(40 40)"')
    b = notebook(tmp_path / "b", drawing=see_through)
    page = labels(b).index("2027-02-20")
    text = tool.page_text(b, page)
    assert text.count("Harbour log") == 1 and text.count("20 February 2027") == 1


def test_shapes_that_others_use_are_used_and_drawn_once(tmp_path):
    """A shape with a name, drawn below and used again on top by `use`, while what lies between differs each day."""
    used = ART.replace('<path d="' + WAVE, '<path id="wave" d="' + WAVE).replace("</svg>", '<use href="#wave" y="400"/></svg>')
    plain = used.replace("<defs>", '<g style="mix-blend-mode:normal"/><defs>')
    a, b = notebook(tmp_path / "a", drawing=used), notebook(tmp_path / "b", drawing=plain)
    page = labels(a).index("2027-02-20") + 1
    (tmp_path / "pa").mkdir()
    (tmp_path / "pb").mkdir()
    assert abs(pixels(a, page, tmp_path / "pa") - pixels(b, page, tmp_path / "pb")).max() <= 2
    times, sizes = forms(a)
    assert any(n == 28 and sizes[form] > 400 for form, n in times.items())


def test_a_year_of_own_art_is_small(tmp_path):
    """Every set, a drawing of one's own for months and days, a companion a day: more than 800 pages below 4 MB, and far below."""
    drawing = ART.replace("</svg>", '<rect id="link:companion/2" x="300" y="10" width="50" height="40" fill="none" stroke="#3f6f7a"/></svg>')
    sets = '[[notebook.dated]]\npages = "quarter"\n' + MONTHS + '[[notebook.dated]]\npages = "week"\n'
    sets += DAY + 'companions = [{ ruling = "lined", name = "Notes" }]\n'
    path = notebook(tmp_path, drawing=drawing, months=12, sets=sets, more={"month.svg": MONTH})
    assert len(labels(path)) > 800
    assert path.stat().st_size < 1_500_000
