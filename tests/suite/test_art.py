"""Her own artwork: pages from drawings, pictures and PDF files that other programs made, held against the other programs'
own pictures of the same source."""

import io
import os
import re
import struct
import zlib
from pathlib import Path

import matplotlib
import numpy as np
import pikepdf
import png
import pypdf
import pytest
import resvg_py
from fontTools.feaLib.builder import addOpenTypeFeaturesFromString
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.ttLib import TTFont
from PIL import Image, ImageDraw, ImageFont, features
from reportlab.lib.colors import CMYKColor
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase import ttfonts
from reportlab.pdfgen.canvas import Canvas

import tool

matplotlib.use("Agg")
import matplotlib.pyplot as plt  # noqa: E402

DEJAVU = Path(matplotlib.get_data_path()) / "fonts/ttf/DejaVuSans.ttf"
WIDTH, HEIGHT = 480, 360  # points of a page

HEAD = """\
name = "Harbour Art"
version = "1.0.0"
released = 2027-03-01
language = "en-GB"
shop = { name = "Tarn and Tide Papers", contact = "help@tarn-and-tide.example" }

[page]
size = "480 x 360 pt"
layout = "single"
coil = "none"

[notebook]
"""

SECTIONS = "".join(f'\n[[notebook.section]]\nname = "{n}"\n' for n in ("Tides", "Repairs", "Ports"))


def product(folder, files, template, notebook="", after=""):
    """A product with one template that is art, by the keys of its table."""
    folder.mkdir(parents=True, exist_ok=True)
    for path, data in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(data if isinstance(data, bytes) else data.encode())
    manifest = HEAD + notebook + SECTIONS + '\n[[notebook.template]]\nname = "Chart"\n' + template + "\n" + after
    manifest += '\n[[notebook.template]]\nname = "Deck log"\nruling = "lined"\n'
    (folder / "product.toml").write_text(manifest, encoding="utf-8")
    return folder


def made(tmp_path, files, template, **more):
    return tool.build(product(tmp_path / "product", files, template, **more), tmp_path / "dist")


def refused(tmp_path, files, template, **more):
    run = tool.sheafwright("build", product(tmp_path / "product", files, template, **more), "--out", tmp_path / "dist")
    assert run.returncode not in (0, 101), run.stdout + run.stderr
    assert "panicked" not in run.stderr
    return run.stdout + run.stderr


def places(pdf):
    """Named destinations of the notebook, by page index; our names end in the place."""
    numbers = {page.obj.objgen: i for i, page in enumerate(pdf.pages)}
    found = {}
    names = pikepdf.NameTree(pdf.Root.Names.Dests) if "/Names" in pdf.Root else {}
    for name, dest in names.items():
        array = dest.D if isinstance(dest, pikepdf.Dictionary) else dest
        found[str(name)] = numbers[array[0].objgen]
    return found


def page_of(bundle, title):
    """Index of the page that an outline entry of this title leads to."""
    reader = pypdf.PdfReader(bundle.notebook)

    def walk(items):
        for item in items:
            if isinstance(item, list):
                yield from walk(item)
            else:
                yield item.title, reader.get_destination_page_number(item)

    return dict(walk(reader.outline))[title]


def links(bundle, page):
    """Links of a page: left, top, right and bottom in points from the top left, and page index or address."""
    reader = pypdf.PdfReader(bundle.notebook)
    sheet = reader.pages[page]
    height = float(sheet.mediabox.height)
    out = []
    for annotation in sheet.get("/Annots", []):
        a = annotation.get_object()
        x0, y0, x1, y1 = (float(v) for v in a["/Rect"])
        action = a.get("/A", {})
        if "/URI" in action:
            target = str(action["/URI"])
        else:
            dest = a.get("/Dest") or action.get("/D")
            if isinstance(dest, (str, bytes)):
                dest = reader.named_destinations[str(dest)]
                target = reader.get_destination_page_number(dest)
            else:
                target = reader.get_page_number(dest[0].get_object())
        out.append(((x0, height - y1, x1, height - y0), target))
    return out


def has_link(found, rect, target, slack=0.6):
    return any(t == target and max(abs(a - b) for a, b in zip(r, rect)) < slack for r, t in found)


def picture(pdf, page, dpi=100):
    """A page as poppler draws it."""
    out = tool.program("pdftoppm", "-r", dpi, "-f", page + 1, "-l", page + 1, "-png", pdf, text=False)
    return np.asarray(Image.open(io.BytesIO(out)).convert("RGB"), dtype=float)


def difference(a, b):
    assert abs(a.shape[0] - b.shape[0]) <= 1 and abs(a.shape[1] - b.shape[1]) <= 1, (a.shape, b.shape)
    h, w = min(a.shape[0], b.shape[0]), min(a.shape[1], b.shape[1])
    return np.abs(a[:h, :w] - b[:h, :w]).mean()


def figure():
    """A tide curve with words, a filled field and a picture, by matplotlib."""
    fig = plt.figure(figsize=(WIDTH / 72, HEIGHT / 72))
    axes = fig.add_axes([0.1, 0.12, 0.85, 0.76])
    x = np.linspace(0, 24, 200)
    axes.fill_between(x, 2.4 + 1.8 * np.sin(x / 12.4 * 2 * np.pi), color="#8fb3c2", alpha=0.6)
    axes.plot(x, 2.4 + 1.8 * np.sin(x / 12.4 * 2 * np.pi), color="#2f4f6f", linewidth=2)
    axes.imshow(np.outer(np.linspace(0, 1, 20), np.ones(30)), extent=(15, 21, 3.2, 4.2), cmap="viridis", aspect="auto")
    axes.set_title("Height of the tide")
    axes.set_xlim(0, 24)
    axes.set_ylim(0, 4.6)
    return fig


def drawn(kind, **options):
    out = io.BytesIO()
    with matplotlib.rc_context(options):
        fig = figure()
        fig.savefig(out, format=kind, dpi=100)
        plt.close(fig)
    return out.getvalue()


def reportlab_pdf(pages=1, paint=None):
    """Pages by reportlab with an embedded font, a curve and a picture."""
    if "DejaVu" not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(ttfonts.TTFont("DejaVu", str(DEJAVU)))
    out = io.BytesIO()
    c = Canvas(out, pagesize=(WIDTH, HEIGHT), invariant=1)
    for n in range(pages):
        c.setFillColorRGB(0.96, 0.94, 0.88)
        c.rect(0, 0, WIDTH, HEIGHT, stroke=0, fill=1)
        c.setFillColorRGB(0.2, 0.3, 0.4)
        c.setFont("DejaVu", 24)
        c.drawString(60, 280, f"Chart of page {n + 1}")
        c.setStrokeColorRGB(0.7, 0.3, 0.2)
        c.bezier(60, 80, 160, 240, 300, 40, 420, 200)
        c.drawImage(ImageReader(Image.new("RGB", (40, 30), (90, 140, 90))), 300, 220, 80, 60)
        if paint:
            paint(c, n)
        c.showPage()
    c.save()
    return out.getvalue()


# The tool's tap areas without its tabs, so that nothing but the art is seen.
ALONE = 'navigation = "taps"\n'
# None of the tool's tap areas; one of her own leads home.
BARE = 'navigation = "none"\nlink = [{ to = "index", at = ["150 mm", "2 mm", "15 mm", "12 mm"] }]\n'


def test_a_drawing_looks_like_its_source(tmp_path):
    """matplotlib writes one figure as SVG and draws it itself (Agg): both pictures are the same but for the edges."""
    svg = drawn("svg", **{"svg.fonttype": "path", "svg.hashsalt": "tide"})
    bundle = made(tmp_path, {"art/tide.svg": svg}, 'art = "art/tide.svg"\n' + ALONE)
    own = np.asarray(Image.open(io.BytesIO(drawn("png"))).convert("RGB"), dtype=float)
    assert difference(picture(bundle.notebook, page_of(bundle, "Chart")), own) < 2.0


def test_a_drawing_by_inkscape(tmp_path):
    """Its own picture and ours are the same but for the edges and the grain of a blur; the label and the id that were
    set in it are tap areas."""
    fixtures = tool.ROOT / "tests/fixtures/art"
    files = {"art/a.svg": (fixtures / "inkscape-chart.svg").read_bytes(), "fonts/DejaVuSans.ttf": DEJAVU.read_bytes()}
    bundle = made(tmp_path, files, 'art = "art/a.svg"\n' + ALONE)
    page = page_of(bundle, "Chart")
    own = np.asarray(Image.open(fixtures / "inkscape-chart.png").convert("RGB"), dtype=float)
    assert difference(picture(bundle.notebook, page, dpi=75), own) < 2.0
    found = links(bundle, page)
    assert has_link(found, (40, 290, 160, 320), page_of(bundle, "Repairs"))
    assert has_link(found, (200, 290, 320, 320), page_of(bundle, "Index"))


# Everything that drawings are made of, each on a page of its own. What is named is what only it has.
SEA = '<stop offset="0" stop-color="#cfe3ea"/><stop offset=".6" stop-color="#4d7387"/><stop offset="1" stop-color="#26323a"/>'
FADE = '<stop offset="0" stop-color="#b8564f"/><stop offset="1" stop-color="#b8564f" stop-opacity="0"/>'
# 36 units are 50 pixels of the pictures that are compared: renderers round tiles to pixels.
TILE = '<circle cx="10" cy="10" r="6" fill="#4d7387"/><path d="M4 30 L30 20" stroke="#b8564f" stroke-width="3"/>'
BOAT = '<path id="boat" d="M60 200 H260 L220 260 H100 Z M150 190 V60 L250 190 Z" fill="#8a4f3a" stroke="#26323a" stroke-width="6"/>'
FEATURES = {
    "gradient of a shape": f'<linearGradient id="g" x2="0" y2="1">{SEA}</linearGradient><rect x="30" y="20" width="400" height="300" fill="url(#g)"/>',
    "gradient of the page": f'<linearGradient id="g" gradientUnits="userSpaceOnUse" x1="50" y1="40" x2="400" y2="300">{SEA}</linearGradient>'
    '<rect x="30" y="20" width="400" height="300" fill="url(#g)"/>',
    "gradient turned": f'<linearGradient id="g" gradientTransform="rotate(30) scale(.6 1.4)">{SEA}</linearGradient>'
    '<g transform="translate(60 30) scale(1.2 .8)"><rect width="300" height="300" fill="url(#g)"/></g>',
    "round gradient": f'<radialGradient id="g" cx=".4" cy=".3" r=".6" fx=".3" fy=".2">{SEA}</radialGradient><ellipse cx="240" cy="170" rx="200" ry="130" fill="url(#g)"/>',
    "gradient that fades": f'<linearGradient id="g" x2="1" y2="1">{FADE}</linearGradient><rect x="30" y="20" width="400" height="300" fill="url(#g)"/>',
    "gradient of a line": f'<linearGradient id="g" x2="0" y2="1">{SEA}</linearGradient><path d="M60 280 C160 20 300 320 420 60" stroke="url(#g)" stroke-width="30" fill="none"/>',
    "pattern": f'<pattern id="p" width="36" height="36" patternUnits="userSpaceOnUse">{TILE}</pattern><rect x="30" y="20" width="400" height="300" fill="url(#p)"/>',
    "pattern turned": f'<pattern id="p" width="36" height="36" patternUnits="userSpaceOnUse" patternTransform="translate(12 7) rotate(25)">{TILE}</pattern>'
    '<rect x="30" y="20" width="400" height="300" fill="url(#p)"/>',
    "mask": f'<linearGradient id="g"><stop stop-color="#000"/><stop offset="1" stop-color="#fff"/></linearGradient>'
    f'<mask id="m" maskUnits="userSpaceOnUse" x="0" y="0" width="480" height="360"><rect width="480" height="360" fill="url(#g)"/></mask><g mask="url(#m)">{BOAT}</g>',
    "clip": f'<clipPath id="c"><circle cx="170" cy="170" r="90"/></clipPath><g clip-path="url(#c)">{BOAT}</g>',
    "symbol": f'<symbol id="s" viewBox="0 0 300 300">{BOAT}</symbol><use href="#s" x="30" y="40" width="160" height="120"/><use href="#s" x="220" y="90" width="220" height="200" opacity=".5"/>',
    "drawing inside": f'<svg x="90" y="40" width="300" height="200" viewBox="40 40 240 240" preserveAspectRatio="xMidYMid slice">{BOAT}</svg>',
    "opacity of a group": f'<g opacity=".4">{BOAT}<circle cx="160" cy="220" r="60" fill="#4d7387"/></g>',
    "multiplied": f'{BOAT}<circle cx="180" cy="170" r="90" fill="#e8c15a" style="mix-blend-mode:multiply"/>',
    "dashes and ends": '<path d="M60 60 L420 60 L300 280 Z" fill="none" stroke="#26323a" stroke-width="16" stroke-dasharray="40 24" stroke-linecap="round" stroke-linejoin="bevel"/>',
    "marker": '<marker id="a" orient="auto" markerWidth="5" markerHeight="5" refX="2" refY="2.5"><path d="M0 0 L5 2.5 L0 5 Z" fill="#b8564f"/></marker>'
    '<path d="M60 60 L200 240 L420 90" fill="none" stroke="#26323a" stroke-width="8" marker-mid="url(#a)" marker-end="url(#a)"/>',
    "holes": '<path fill-rule="evenodd" fill="#4d7387" d="M60 40 H420 V300 H60 Z M120 90 H360 V250 H120 Z M180 130 H300 V210 H180 Z"/>',
    "blur": f'<filter id="b"><feGaussianBlur stdDeviation="5"/></filter><g filter="url(#b)">{BOAT}</g>',
    "shadow": f'<filter id="d"><feDropShadow dx="8" dy="10" stdDeviation="4" flood-opacity=".5"/></filter><g filter="url(#d)">{BOAT}</g>',
    "text on a path": '<path id="t" d="M40 240 Q240 40 440 240" fill="none"/><text font-family="DejaVu Sans" font-size="28" fill="#26323a"><textPath href="#t">The tide turns at noon</textPath></text>',
    "text in parts": '<text x="60" y="90" font-family="DejaVu Sans" font-size="26" fill="#26323a">Low <tspan font-size="40" fill="#b8564f" dy="10">water</tspan>'
    '<tspan x="60" dy="60" letter-spacing="4">at the quay</tspan></text>',
    "text with a gradient": f'<linearGradient id="g" x2="0" y2="1">{SEA}</linearGradient><text x="40" y="200" font-family="DejaVu Sans" font-size="90" fill="url(#g)">Harbour</text>',
    "turned text": '<text transform="translate(200 180) rotate(-60)" font-family="DejaVu Sans" font-size="60" text-anchor="middle" fill="#26323a">Harbour</text>',
}
SIZES = ['width="480pt" height="360pt" viewBox="0 0 480 360"', 'viewBox="0 0 480 360"', 'width="1920" height="1440" viewBox="0 0 480 360"']


def feature(name):
    """The drawing of a feature; the three ways of saying how large a drawing is take turns."""
    return svg(f'<rect width="480" height="360" fill="#fff"/>{FEATURES[name]}', size=SIZES[list(FEATURES).index(name) % 3])


@pytest.fixture(scope="module")
def drawings(tmp_path_factory):
    files = {f"art/{n.replace(' ', '-')}.svg": feature(n) for n in FEATURES}
    files["fonts/DejaVuSans.ttf"] = DEJAVU.read_bytes()
    pages = [f'name = "{n.capitalize()}"\nart = "art/{n.replace(" ", "-")}.svg"\nfit = "fill"\n{ALONE}' for n in FEATURES]
    more = "".join(f"\n[[notebook.template]]\n{page}" for page in pages)
    return made(tmp_path_factory.mktemp("features"), files, 'ruling = "blank"\n', after=more)


@pytest.mark.parametrize("name", FEATURES)
def test_every_part_of_a_drawing_looks_as_resvg_draws_it(drawings, name):
    """mupdf's picture of the page against resvg's picture of the drawing."""
    drawn = resvg_py.svg_to_bytes(svg_string=feature(name), width=667, height=500, dpi=96, font_files=[str(DEJAVU)], skip_system_fonts=True)
    own = np.asarray(Image.open(io.BytesIO(bytes(drawn))).convert("RGB"), dtype=float)
    number = page_of(drawings, name.capitalize()) + 1
    page = tool.program("mutool", "draw", "-q", "-r", 100, "-F", "png", "-o", "-", drawings.notebook, number, text=False)
    page = np.asarray(Image.open(io.BytesIO(page)).convert("RGB"), dtype=float)
    # The tool's own marks stand in the lower corners.
    own, page = own[:450], page[:450]
    assert (np.abs(own - 255).max(axis=2) > 20).mean() > 0.01, "the drawing shows nothing"
    # Both set the tiles of patterns by their own rounding; unscaled ones differ by 20.
    assert difference(page, own) < (5 if "pattern" in name else 1.5)


@pytest.mark.parametrize("method", ["reflect", "repeat"])
@pytest.mark.parametrize("shape", ['linearGradient id="waves" x2=".25"', 'radialGradient id="waves" r=".25"'])
def test_a_gradient_that_repeats_is_told(shape, method, tmp_path):
    """PDF shadings cannot (ISO 32000-1, 8.7.4.5.3); what is told is what every reader shows."""
    rect = '<rect width="480" height="360" fill="url(#waves)"/>'

    def art(method):
        return svg(f'<{shape} spreadMethod="{method}">{SEA}</{shape.split()[0]}>{rect}', size=SIZES[0])

    bundle = made(tmp_path, {"art/a.svg": art(method)}, 'art = "art/a.svg"\n' + ALONE)
    assert "art-left-out" in bundle.said and "gradient `waves` repeats" in bundle.said, bundle.said
    once = resvg_py.svg_to_bytes(svg_string=art("pad"), width=480, height=360, dpi=96)
    once = np.asarray(Image.open(io.BytesIO(bytes(once))).convert("RGB"), dtype=float)
    number = page_of(bundle, "Chart") + 1
    for command in (
        ["mutool", "draw", "-q", "-w", 480, "-h", 360, "-F", "png", "-o", "-", bundle.notebook, number],
        ["pdftoppm", "-png", "-f", number, "-l", number, "-scale-to-x", 480, "-scale-to-y", 360, bundle.notebook],
    ):
        page = tool.program(*command, text=False)
        page = np.asarray(Image.open(io.BytesIO(page)).convert("RGB"), dtype=float)
        # The tool's own marks stand in the lower corners.
        assert page.shape == once.shape
        assert difference(page[:320], once[:320]) < 1.5, command[0]


def test_a_drawing_stays_a_drawing(tmp_path):
    """Words of an SVG are words on the page, in a font that is inside, and no picture stands in for it."""
    svg = f"""<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH}pt" height="{HEIGHT}pt" viewBox="0 0 480 360">
<rect width="480" height="360" fill="#f4efe2"/><text x="60" y="120" font-size="30">Slack water</text>
<path d="M40 200C140 100 300 320 440 180" fill="none" stroke="#2f4f6f" stroke-width="5"/></svg>"""
    bundle = made(tmp_path, {"art/a.svg": svg}, 'art = "art/a.svg"\n' + ALONE)
    page = page_of(bundle, "Chart")
    assert "Slack water" in tool.page_text(bundle.notebook, page)
    listed = tool.program("pdfimages", "-list", "-f", page + 1, "-l", page + 1, bundle.notebook).splitlines()
    assert len(listed) == 2, listed  # the two lines of the table's head
    assert all(" yes " in line for line in tool.program("pdffonts", bundle.notebook).splitlines()[2:])


def reworked(make):
    """A reportlab page after pikepdf has had it in hand."""

    def inner(tmp_path):
        with pikepdf.open(io.BytesIO(reportlab_pdf(2))) as pdf:
            options = make(pdf) or {}
            out = io.BytesIO()
            pdf.save(out, **options)
        return out.getvalue()

    return inner


def rotated(pdf):
    for page in pdf.pages:
        page.obj.MediaBox = pikepdf.Array([0, 0, HEIGHT, WIDTH])
        page.contents_add(b"q 0 1 -1 0 360 0 cm", prepend=True)
        page.contents_add(b"Q")
        page.obj.Rotate = 90


def cropped(pdf):
    for page in pdf.pages:
        page.obj.MediaBox = pikepdf.Array([-50, -30, WIDTH + 10, HEIGHT + 70])
        page.obj.CropBox = pikepdf.Array([0, 0, WIDTH, HEIGHT])


def handed_down(pdf):
    pages = pdf.Root.Pages
    pages.Resources, pages.MediaBox = pdf.pages[1].obj.Resources, pdf.pages[1].obj.MediaBox
    for page in pdf.pages:
        del page.obj.Resources, page.obj.MediaBox


def enlarged(pdf):
    for page in pdf.pages:
        page.obj.MediaBox = pikepdf.Array([0, 0, WIDTH / 2, HEIGHT / 2])
        page.obj.UserUnit = 2
        page.contents_add(b"q .5 0 0 .5 0 0 cm", prepend=True)
        page.contents_add(b"Q")


def added_to(tmp_path):
    """An incremental update: the file is longer, what was there stays."""
    reader = pypdf.PdfReader(io.BytesIO(reportlab_pdf(2)))
    writer = pypdf.PdfWriter(reader, incremental=True)
    writer.add_metadata({"/Title": "Added to"})
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def ghostscript(tmp_path):
    source, out = tmp_path / "source.pdf", tmp_path / "gs.pdf"
    source.write_bytes(reportlab_pdf(2))
    tool.program("gs", "-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=pdfwrite", f"-sOutputFile={out}", source)
    return out.read_bytes()


def qpdf_pages(tmp_path):
    source, out = tmp_path / "source.pdf", tmp_path / "qpdf.pdf"
    source.write_bytes(reportlab_pdf(2))
    tool.program("qpdf", "--object-streams=generate", "--linearize", source, out)
    return out.read_bytes()


SOURCES = {
    "reportlab": lambda _: reportlab_pdf(2),
    "matplotlib outlines": lambda _: drawn("pdf", **{"pdf.fonttype": 3}),
    "matplotlib TrueType": lambda _: drawn("pdf", **{"pdf.fonttype": 42}),
    "ghostscript": ghostscript,
    "qpdf object streams, linearised": qpdf_pages,
    "old table, unpacked": reworked(
        lambda _: {"object_stream_mode": pikepdf.ObjectStreamMode.disable, "compress_streams": False}
    ),
    "incremental update": added_to,
    "rotated": reworked(rotated),
    "cropped": reworked(cropped),
    "inherited resources": reworked(handed_down),
    "user unit": reworked(enlarged),
}


@pytest.mark.parametrize("name", SOURCES)
def test_a_page_of_a_pdf_looks_like_its_source(tmp_path, name):
    """poppler draws the source and our page alike."""
    data = SOURCES[name](tmp_path)
    (tmp_path / "one.pdf").write_bytes(data)
    number = len(pypdf.PdfReader(io.BytesIO(data)).pages)
    bundle = made(tmp_path, {"art/one.pdf": data}, f'art = "art/one.pdf"\npage = {number}\n' + ALONE)
    page = page_of(bundle, "Chart")
    scale = 200 if name == "user unit" else 100  # pdftoppm leaves user units out
    source = picture(tmp_path / "one.pdf", number - 1, scale)
    if name == "cropped":
        source = np.asarray(
            Image.open(
                io.BytesIO(
                    tool.program(
                        "pdftoppm", "-cropbox", "-r", 100, "-f", number, "-png", tmp_path / "one.pdf", text=False
                    )
                )
            ).convert("RGB"),
            dtype=float,
        )
    assert difference(picture(bundle.notebook, page), source) < 1.0
    words = "Height of the tide" if "matplotlib" in name else f"Chart of page {number}"
    if name != "matplotlib outlines":
        assert words in tool.page_text(bundle.notebook, page)
    tool.program("qpdf", "--check", bundle.notebook)


def photograph(kind, **options):
    dice = np.random.default_rng(3)
    smooth = Image.fromarray(dice.integers(0, 255, (9, 12, 3), dtype=np.uint8)).resize((960, 720), Image.BICUBIC)
    out = io.BytesIO()
    smooth.save(out, kind, **options)
    return out.getvalue()


def streams(bundle, **wanted):
    with pikepdf.open(bundle.notebook) as pdf:
        return [
            o.read_raw_bytes()
            for o in pdf.objects
            if isinstance(o, pikepdf.Stream) and all(o.get("/" + k) == v for k, v in wanted.items())
        ]


def test_a_jpeg_keeps_its_bytes_and_is_stored_once(tmp_path):
    jpeg = photograph("JPEG", quality=88)
    again = '\n[[notebook.template]]\nname = "Chart again"\nart = "art/p.jpg"\nroom = "writing-area"\nfit = "fill"\n'
    bundle = made(
        tmp_path,
        {"art/p.jpg": jpeg},
        'art = "art/p.jpg"\n' + ALONE,
        notebook='cover = { art = "art/p.jpg" }\n',
        after=again,
    )
    assert streams(bundle, Width=960, Height=720) == [jpeg]
    source = np.asarray(Image.open(io.BytesIO(jpeg)).resize((667, 500), Image.LANCZOS), dtype=float)
    assert difference(picture(bundle.notebook, page_of(bundle, "Chart")), source) < 2.0


def test_a_png_keeps_its_pixels(tmp_path):
    data = photograph("PNG")
    bundle = made(tmp_path, {"art/p.png": data}, 'art = "art/p.png"\n' + ALONE)
    with pikepdf.open(bundle.notebook) as pdf:
        (image,) = [o for o in pdf.objects if isinstance(o, pikepdf.Stream) and o.get("/Width") == 960]
        pixels = np.asarray(pikepdf.PdfImage(image).as_pil_image().convert("RGB"))
    assert (pixels == np.asarray(Image.open(io.BytesIO(data)))).all()


def test_tap_areas_of_a_drawing(tmp_path):
    svg = """<svg xmlns="http://www.w3.org/2000/svg" width="480pt" height="360pt" viewBox="0 0 960 720">
<rect width="960" height="720" fill="#f4efe2"/>
<g transform="translate(100 50) scale(2)"><rect id="link:index" x="10" y="20" width="60" height="40" fill="#8fb3c2"/></g>
<rect id="link:section/2" width="100" height="60" fill="#c9a66b" transform="translate(600 100) rotate(90)"/>
<rect id="link:section/*" x="60" y="500" width="600" height="100" fill="#9db98a"/>
<circle id="link:https://tarn-and-tide.example/log" cx="800" cy="300" r="60" fill="#a66"/>
</svg>"""
    bundle = made(tmp_path, {"art/a.svg": svg}, 'art = "art/a.svg"\nnavigation = "none"\n')
    page = page_of(bundle, "Chart")
    found = links(bundle, page)
    assert has_link(found, (60, 45, 120, 85), page_of(bundle, "Index"))
    assert has_link(found, (270, 50, 300, 100), page_of(bundle, "Repairs"))
    for i, name in enumerate(("Tides", "Repairs", "Ports")):
        assert has_link(found, (30 + 100 * i, 250, 130 + 100 * i, 300), page_of(bundle, name))
    assert has_link(found, (370, 120, 430, 180), "https://tarn-and-tide.example/log")
    assert len(found) == 6


def test_tap_areas_of_the_manifest(tmp_path):
    """Points, millimetres of the page, pixels and parts of a hundred of the art."""
    table = """art = "art/p.png"
navigation = "none"
link = [
  { to = "index", at = ["10 mm", "20 mm", "30 mm", "15 mm"] },
  { to = "section/3", at = ["480 px", "360 px", "240 px", "120 px"] },
  { to = "template/deck-log", at = ["10 %", "75 %", "50 %", "20 %"] },
]
"""
    bundle = made(tmp_path, {"art/p.png": photograph("PNG")}, table)
    found = links(bundle, page_of(bundle, "Chart"))
    mm = 72 / 25.4
    assert has_link(found, (10 * mm, 20 * mm, 40 * mm, 35 * mm), page_of(bundle, "Index"))
    assert has_link(found, (240, 180, 360, 240), page_of(bundle, "Ports"))
    assert has_link(found, (48, 270, 288, 342), page_of(bundle, "Deck log"))
    assert len(found) == 3


def linked_pdf():
    def paint(c, n):
        if n == 0:
            c.linkAbsolute("", "second", (60, 40, 160, 100))
            c.linkURL("https://tarn-and-tide.example/", (200, 40, 300, 100))
        else:
            c.bookmarkPage("second")

    return reportlab_pdf(2, paint)


@pytest.mark.parametrize(
    ("keys", "expected"),
    [
        ('re-aim = { "page 2" = "section/1" }', {"Tides", "https://tarn-and-tide.example/"}),
        ('keep-links = false\nre-aim = { "https://tarn-and-tide.example/" = "index" }', {"Index"}),
        ("keep-links = false", set()),
        ('re-aim = { "page 2" = "", "https://tarn-and-tide.example/" = "cover" }', {"Cover"}),
    ],
)
def test_links_of_a_pdf(tmp_path, keys, expected):
    bundle = made(tmp_path, {"art/l.pdf": linked_pdf()}, f'art = "art/l.pdf"\n{keys}\n' + BARE)
    found = [(rect, target) for rect, target in links(bundle, page_of(bundle, "Chart")) if rect[0] < 400]
    wanted = {e if e.startswith("https") else page_of(bundle, e) for e in expected}
    assert {t for _, t in found} == wanted
    for rect, _ in found:
        assert rect[1] == pytest.approx(HEIGHT - 100, abs=0.5) and rect[3] == pytest.approx(HEIGHT - 40, abs=0.5)


def test_pages_of_one_pdf_find_each_other(tmp_path):
    """A link to page 2 of the file leads to the page of the notebook that shows page 2."""
    after = '\n[[notebook.template]]\nname = "Second"\nart = "art/l.pdf"\npage = 2\n' + ALONE
    bundle = made(tmp_path, {"art/l.pdf": linked_pdf()}, 'art = "art/l.pdf"\n' + ALONE, after=after)
    found = links(bundle, page_of(bundle, "Chart"))
    assert has_link(found, (60, 260, 160, 320), page_of(bundle, "Second"))
    # The typeface that both pages use is in the file once.
    fonts = [line for line in tool.program("pdffonts", bundle.notebook).splitlines() if "DejaVu" in line]
    assert len(streams(bundle, Subtype=pikepdf.Name("/Image"), Width=40)) == 1
    assert fonts


DIVIDER = """<svg xmlns="http://www.w3.org/2000/svg" width="480pt" height="360pt" viewBox="0 0 480 360">
<rect width="480" height="360" fill="{{ colour | lighter(by=0.5) }}"/>
<text x="60" y="120" font-size="30">{{ number | pad(width=2) }} {{ section }}</text>
<text x="60" y="160" font-size="14">{{ data.motto }}</text></svg>"""


def test_one_drawing_makes_every_divider(tmp_path):
    bundle = made(
        tmp_path,
        {"art/d.svg": DIVIDER},
        'ruling = "blank"',
        notebook='divider = { art = "art/d.svg" }\n',
        after='\n[data]\nmotto = "Fair & <free>"\n',
    )
    for i, name in enumerate(("Tides", "Repairs", "Ports")):
        text = tool.page_text(bundle.notebook, page_of(bundle, name))
        assert f"0{i + 1} {name}" in text and "Fair & <free>" in text


def test_an_unknown_variable_is_named_with_its_place(tmp_path):
    svg = DIVIDER.replace("{{ section }}", "{{ sektion }}")
    said = refused(
        tmp_path, {"art/d.svg": svg}, 'ruling = "blank"', notebook='divider = { art = "art/d.svg" }\n',
        after='\n[data]\nmotto = ""\n',
    )  # fmt: skip
    assert "art/d.svg" in said and "sektion" in said
    line = svg.splitlines()[2]
    assert re.search(rf"3\D+{line.index('sektion') + 1}\b", said), said


def chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def huge_png():
    head = struct.pack(">IIBBBBB", 60_000, 10, 8, 2, 0, 0, 0)
    rows = zlib.compress(b"\0" * (180_001 * 10), 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


def image(kind, mode="RGB", size=(96, 72), **options):
    out = io.BytesIO()
    Image.new(mode, size, options.pop("colour", None)).save(out, kind, **options)
    return out.getvalue()


def svg(inner, head="", size='width="480" height="360"'):
    return f'{head}<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" {size}>{inner}</svg>'


def locked_pdf(password):
    with pikepdf.open(io.BytesIO(reportlab_pdf())) as pdf:
        out = io.BytesIO()
        pdf.save(out, encryption=pikepdf.Encryption(owner="harbour", user=password))
    return out.getvalue()


def layered_pdf():
    with pikepdf.open(io.BytesIO(reportlab_pdf())) as pdf:
        group = pdf.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name="Sketch"))
        pdf.Root.OCProperties = pikepdf.Dictionary(OCGs=[group], D=pikepdf.Dictionary(OFF=[group]))
        out = io.BytesIO()
        pdf.save(out)
    return out.getvalue()


def ink(c, _):
    c.setFillColor(CMYKColor(0.1, 0.8, 0.2, 0))
    c.rect(10, 10, 50, 50, stroke=0, fill=1)


def bad_art():
    page = reportlab_pdf()
    return {
        "truncated PNG": ("a.png", photograph("PNG")[:9_000], ["cut off"]),
        "truncated SVG": ("a.svg", svg("<g>").replace("</svg>", ""), ["cut off"]),
        "truncated PDF": ("a.pdf", page[: len(page) // 2], ["cut off"]),
        "empty file": ("a.png", b"", ["empty"]),
        "empty PDF": ("a.pdf", b"", ["empty"]),
        "60,000 px wide": ("a.png", huge_png(), ["60000", "20000"]),
        "60,000 px wide drawing": ("a.svg", svg("<rect/>", size='width="60000" height="10"'), ["60000"]),
        "zero sized": ("a.svg", svg("<rect/>", size='width="0" height="10"'), ["zero"]),
        "external entity": (
            "a.svg",
            svg("<text>&x;</text>", '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]>'),
            ["entity", "outside"],
        ),
        "entities of entities": (
            "a.svg",
            svg(
                "<text>&d;</text>",
                "<!DOCTYPE svg [" + "".join(
                    f'<!ENTITY {n} "{("&" + p + ";") * 90}">' for n, p in (("b", "a"), ("c", "b"), ("d", "c"))
                ) + f'<!ENTITY a "{"x" * 90}">]>',
            ),
            ["entity"],
        ),
        "remote picture": ("a.svg", svg('<image href="https://harbour.example/a.png"/>'), ["remote"]),
        "picture beside it": ("a.svg", svg('<image xlink:href="../secret.png"/>'), ["another file"]),
        "script": ("a.svg", svg("<script>fetch('x')</script>"), ["script"]),
        "imported styles": ("a.svg", svg("<style>@import url(a.css);</style>"), ["imports"]),
        "CMYK JPEG": ("a.jpg", image("JPEG", "CMYK"), ["CMYK", "sRGB"]),
        "CMYK PDF": ("a.pdf", reportlab_pdf(1, ink), ["CMYK", "sRGB"]),
        "locked PDF": ("a.pdf", locked_pdf("sesame"), ["locked"]),
        "locked PDF without a password": ("a.pdf", locked_pdf(""), ["locked"]),
        "hidden layers": ("a.pdf", layered_pdf(), ["layers"]),
        "no such page": ("a.pdf", page, ["no page 9"], "page = 9\n"),
        "not what it says": ("a.png", b"GIF89a" + b"\0" * 40, ["neither a PNG nor a JPEG"]),
        "not art": ("a.gif", image("GIF", "P"), ["no art that can be read"]),
        "not a PDF": ("a.pdf", b"plain words, at some length, and no more", ["no PDF"]),
        "link to nowhere": ("a.svg", svg('<rect id="link:section/9" width="90" height="90"/>'), ["section/9", "no place"]),
        "page of a drawing": ("a.svg", svg("<rect/>"), ["PDF alone"], "page = 2\n"),
    }  # fmt: skip


@pytest.mark.parametrize("name", bad_art())
def test_bad_art_gets_a_clear_word(tmp_path, name):
    file, data, words, *keys = bad_art()[name]
    said = refused(tmp_path, {f"art/{file}": data}, f'art = "art/{file}"\n' + "".join(keys))
    assert f"art/{file}" in said or keys and "product.toml:26" in said
    for word in words:
        assert word.replace(",", "") in said.replace(",", ""), said


def test_art_outside_of_the_folder_is_not_read(tmp_path):
    (tmp_path / "secret.svg").write_text(svg("<rect/>"))
    assert "does not stay inside" in refused(tmp_path, {}, 'art = "../secret.svg"\n')
    folder = tmp_path / "product/art"
    folder.mkdir(parents=True, exist_ok=True)
    os.symlink(tmp_path / "secret.svg", folder / "a.svg")
    said = refused(tmp_path, {}, 'art = "art/a.svg"\n')
    assert "art/a.svg" in said


def deep_png():
    ramp = np.linspace(0, 65535, 480, dtype=np.uint16)[None, :].repeat(360, axis=0)
    out = io.BytesIO()
    Image.fromarray(ramp).save(out, "PNG")
    return out.getvalue()


def moving_png():
    frames = [Image.new("RGB", (480, 360), c) for c in ("#8fb3c2", "#c9a66b")]
    out = io.BytesIO()
    frames[0].save(out, "PNG", save_all=True, append_images=frames[1:])
    return out.getvalue()


def interlaced_png():
    """Pillow does not write interlaced PNGs; pypng does."""
    picture = np.asarray(Image.open(io.BytesIO(photograph("PNG"))).convert("RGB"))
    out = io.BytesIO()
    height, width, channels = picture.shape
    png.Writer(width, height, greyscale=False, interlace=True).write(out, picture.reshape(height, width * channels))
    assert out.getvalue()[28] == 1
    return out.getvalue()


@pytest.mark.parametrize(
    "name, make, note",
    [
        ("16-bit", deep_png, None),
        ("animated", moving_png, "animated"),
        ("interlaced", interlaced_png, None),
        ("grey JPEG", lambda: image("JPEG", "L", (480, 360), colour=120), None),
        ("progressive JPEG", lambda: photograph("JPEG", progressive=True), None),
    ],
)
def test_odd_pictures_are_drawn(tmp_path, name, make, note):
    data = make()
    ending = "jpg" if "JPEG" in name else "png"
    bundle = made(tmp_path, {f"art/a.{ending}": data}, f'art = "art/a.{ending}"\n' + ALONE)
    if note:
        assert note in bundle.said
    source = Image.open(io.BytesIO(data))
    if source.mode.startswith("I"):
        source = Image.fromarray((np.asarray(source) // 257).astype(np.uint8))
    source = np.asarray(source.convert("RGB").resize((667, 500), Image.LANCZOS), dtype=float)
    assert difference(picture(bundle.notebook, page_of(bundle, "Chart")), source) < 2.0


def test_a_label_to_write_on_lies_over_an_art_cover_when_asked_for(tmp_path):
    """The middle of the optical centre (three eighths from the top, common practice, no source) is paper, or art."""
    art = svg('<rect width="480" height="360" fill="#4d7387"/>', size='width="480pt" height="360pt"')
    seen = {}
    for label in ("true", "false"):
        after = f'\n[[cover]]\nname = "Sea"\nart = "art/sea.svg"\nlabel = {label}\n'
        bundle = made(tmp_path / label, {"art/sea.svg": art}, 'ruling = "lined"\n', after=after)
        page = picture(next(bundle.folder.glob("contents/*-covers.pdf")), 1, dpi=72)
        seen[label] = page[int(360 * 0.33), 240]
    assert np.abs(seen["false"] - (0x4D, 0x73, 0x87)).max() <= 2
    assert seen["true"].min() > 235


def test_another_shape_is_a_finding_with_the_numbers(tmp_path):
    square = svg('<rect width="300" height="300" fill="#ccc"/>', size='width="100mm" height="100mm" viewBox="0 0 300 300"')
    bundle = made(tmp_path, {"art/a.svg": square}, 'art = "art/a.svg"\nfit = "fill"\n' + ALONE)
    # 480 × 360 points are 169.3 × 127 mm.
    for words in ("art-shape-off", "100 × 100 mm", "169.3 × 127 mm", "42.3 mm are cut off"):
        assert words in bundle.said, bundle.said


def test_a_text_too_long_is_a_finding_with_the_overshoot(tmp_path):
    """Width by the font's own metrics: DejaVu Sans, read with fontTools."""
    font = TTFont(DEJAVU)
    words, size = "Mmmmmmmmmmmmmmmmmmmmmm", 40
    width = sum(font["hmtx"][font.getBestCmap()[ord(c)]][0] for c in words) / font["head"].unitsPerEm * size
    text = f'<text x="20" y="100" font-family="DejaVu Sans" font-size="{size}">{words}</text>'
    art = svg('<rect width="480" height="360" fill="#eee"/>' + text, size='width="480pt" height="360pt" viewBox="0 0 480 360"')
    files = {"art/a.svg": art, "fonts/DejaVuSans.ttf": DEJAVU.read_bytes()}
    bundle = made(tmp_path, files, 'art = "art/a.svg"\n' + ALONE)
    told = re.search(r"is ([\d.]+) mm too long", bundle.said)
    assert told, bundle.said
    assert float(told[1]) == pytest.approx((20 + width - 480) / 72 * 25.4, abs=1.5)


def test_the_tools_own_words_too_long_are_findings(tmp_path):
    """Every letter more makes the overshoot longer by that letter's width, in the smallest type (5 pt, tracked by a
    tenth of an em on covers); the width by fontTools."""
    font = TTFont(DEJAVU)
    advance = font["hmtx"][font.getBestCmap()[ord("M")]][0] / font["head"].unitsPerEm
    over = {}
    for letters in (120, 140):
        cover = f'cover = {{ design = "flat", line = "{"M" * letters}" }}\n'
        style = '\n[style.fonts]\nlabel = "fonts/DejaVuSans.ttf"\n'
        files = {"fonts/DejaVuSans.ttf": DEJAVU.read_bytes()}
        bundle = made(tmp_path / str(letters), files, 'ruling = "lined"\n', notebook=cover, after=style)
        told = re.search(r"page 1, [^“]*: “M+” is ([\d.]+) mm too long for its room, which shows “M+…”", bundle.said)
        assert told and "text-too-long" in bundle.said, bundle.said
        over[letters] = float(told[1])
    assert over[140] - over[120] == pytest.approx(20 * (advance + 0.1) * 5 / 72 * 25.4, abs=0.11)


def test_section_names_too_long_for_tabs_are_told(tmp_path):
    long = "Everything that is to be done before the boat goes into the water again in spring"
    bundle = made(tmp_path, {}, 'ruling = "lined"\n', notebook="", after=f'\n[[notebook.section]]\nname = "{long}"\n')
    assert re.search(rf"“{long}” is [\d.]+ mm too long for its room, which shows “Everything that is to be done before…”", bundle.said), bundle.said
    short = made(tmp_path / "short", {}, 'ruling = "lined"\n')
    assert "text-too-long" not in short.said


def test_a_missing_character_is_named(tmp_path):
    art = svg('<text x="20" y="100" font-size="40">Tide \u4e2d</text>', size='width="480pt" height="360pt"')
    run = tool.sheafwright("build", product(tmp_path / "product", {"art/a.svg": art}, 'art = "art/a.svg"\n'), "--out", tmp_path / "dist")
    assert "\u4e2d" in run.stdout + run.stderr and "U+4E2D" in run.stdout + run.stderr


def cff_font():
    """A font with CFF outlines and one pair of kerning, made with fontTools from shapes of our own."""
    builder = FontBuilder(1000, isTTF=False)
    names = [".notdef", "A", "V"]
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap({ord("A"): "A", ord("V"): "V"})
    shapes = {
        ".notdef": [],
        "A": [(0, 0), (300, 700), (600, 0)],
        "V": [(0, 700), (300, 0), (600, 700)],
    }
    glyphs = {}
    for name, points in shapes.items():
        pen = T2CharStringPen(600, None)
        if points:
            pen.moveTo(points[0])
            for p in points[1:]:
                pen.lineTo(p)
            pen.closePath()
        glyphs[name] = pen.getCharString()
    builder.setupCFF("TarnSail", {"FullName": "Tarn Sail"}, glyphs, {})
    builder.setupHorizontalMetrics({n: (600, 0) for n in names})
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": "Tarn Sail", "styleName": "Regular", "psName": "TarnSail-Regular"})
    builder.setupOS2(sTypoAscender=800, sTypoDescender=-200, usWinAscent=800, usWinDescent=200, fsType=0)
    builder.setupPost()
    addOpenTypeFeaturesFromString(builder.font, "languagesystem DFLT dflt; feature kern { pos A V -250; } kern;")
    out = io.BytesIO()
    builder.save(out)
    return out.getvalue()


def extent(pixels):
    """Left, top, right and bottom of what is dark."""
    dark = pixels.mean(axis=2) < 128
    ys, xs = np.where(dark.any(axis=1))[0], np.where(dark.any(axis=0))[0]
    return xs[0], ys[0], xs[-1] + 1, ys[-1] + 1


def test_opentype_outlines_and_kerning(tmp_path):
    """Two letters of 600 units, 250 nearer to each other: 950 units from edge to edge."""
    art = svg(
        '<text x="40" y="200" font-family="Tarn Sail" font-size="200">AV</text>',
        size='width="480pt" height="360pt" viewBox="0 0 480 360"',
    )
    files = {"art/a.svg": art, "fonts/TarnSail.otf": cff_font()}
    bundle = made(tmp_path, files, 'art = "art/a.svg"\nroom = "page"\n' + ALONE)
    page = page_of(bundle, "Chart")
    pixels = picture(bundle.notebook, page, 144)
    left, _, right, _ = extent(pixels[: int(pixels.shape[0] * 0.6)])
    assert (right - left) / 2 == pytest.approx(0.95 * 200, abs=1.5)
    assert "AV" in tool.page_text(bundle.notebook, page)


@pytest.mark.parametrize(
    "words", ["\u0633\u0644\u0627\u0645 \u0628\u062d\u0631", "\u05e9\u05dc\u05d5\u05dd \u05d9\u05dd", "e\u0301a\u0308o\u0302", "AVATAR To"]
)
def test_shaping_against_raqm(tmp_path, words):
    """Right-to-left words, marks and kerning: the ink is as wide and as high as Pillow with libraqm makes it."""
    assert features.check("raqm"), "Pillow without libraqm cannot shape: install the wheel from PyPI"
    art = svg(
        f'<text x="60" y="200" font-family="DejaVu Sans" font-size="60">{words}</text>',
        size='width="480pt" height="360pt" viewBox="0 0 480 360"',
    )
    files = {"art/a.svg": art, "fonts/DejaVuSans.ttf": DEJAVU.read_bytes()}
    bundle = made(tmp_path, files, 'art = "art/a.svg"\n' + ALONE)
    ours = picture(bundle.notebook, page_of(bundle, "Chart"), 144)
    canvas = Image.new("RGB", (960, 720), "white")
    font = ImageFont.truetype(str(DEJAVU), 120, layout_engine=ImageFont.Layout.RAQM)
    ImageDraw.Draw(canvas).text((120, 400), words, fill="black", font=font, anchor="ls")
    theirs = np.asarray(canvas, dtype=float)
    a, b = extent(ours), extent(theirs)
    assert a[2] - a[0] == pytest.approx(b[2] - b[0], abs=4)
    assert a[3] - a[1] == pytest.approx(b[3] - b[1], abs=4)
    box = [ours[a[1] : a[3], a[0] : a[2]], theirs[b[1] : b[3], b[0] : b[2]]]
    h, w = min(x.shape[0] for x in box), min(x.shape[1] for x in box)
    dark = [x[:h, :w].mean(axis=2) < 128 for x in box]
    assert (dark[0] & dark[1]).sum() / (dark[0] | dark[1]).sum() > 0.85


def test_the_same_bytes_each_time(tmp_path):
    files = {"art/d.svg": DIVIDER, "art/l.pdf": linked_pdf(), "art/p.jpg": photograph("JPEG")}
    table = 'art = "art/l.pdf"\nre-aim = { "page 2" = "index" }\n'
    notebook = 'divider = { art = "art/d.svg" }\ncover = { art = "art/p.jpg" }\n'
    folder = product(tmp_path / "product", files, table, notebook=notebook, after='\n[data]\nmotto = "Fair"\n')
    one, two = (tool.build(folder, tmp_path / out) for out in ("one", "two"))
    assert one.notebook.read_bytes() == two.notebook.read_bytes()
