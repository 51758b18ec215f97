"""The same art gives the same bytes, whatever kind it is; its fonts are stored once, and only those that are drawn with."""

import base64
import io
import random
import re

import numpy as np
import pikepdf
import pytest
import tool
from PIL import Image, ImageCms
from reportlab.lib.units import mm
from test_art import ALONE, DEJAVU, FEATURES, SIZES, linked_pdf, made, page_of, photograph, picture, product, refused, reportlab_pdf, svg

FACES = {f"fonts/{name}.ttf": (DEJAVU.parent / f"{name}.ttf").read_bytes() for name in ("DejaVuSans", "DejaVuSans-Bold", "DejaVuSerif", "DejaVuSansMono")}
WORDS = "Slack water Harbour Beacon Quay Ångström fjärd 0123 — ½".split()


def lettered(draw):
    """A text in several faces, in an order that the seed decides."""
    faces = [("DejaVu Sans", "400"), ("DejaVu Sans", "700"), ("DejaVu Serif", "400"), ("DejaVu Sans Mono", "400")]
    draw.shuffle(faces)
    return "".join(
        f'<text x="{30 + 20 * n}" y="{60 + 70 * n}" font-family="{family}" font-weight="{weight}" font-size="{draw.randint(12, 40)}">'
        f"{' '.join(draw.sample(WORDS, 3))}</text>"
        for n, (family, weight) in enumerate(faces[: draw.randint(2, 4)])
    )


def mixed(seed):
    """Files and templates: drawings of several parts and faces each, and a picture or page of every other kind."""
    draw = random.Random(seed)
    files = dict(FACES)
    for n in range(6):
        parts = "".join(f'<g id="g{i}">{FEATURES[name]}</g>' for i, name in enumerate(draw.sample(sorted(FEATURES), 1)))
        files[f"art/{n}.svg"] = svg(parts + lettered(draw), size=draw.choice(SIZES))
    files |= {"art/6.png": photograph("PNG"), "art/7.jpg": photograph("JPEG"), "art/8.pdf": linked_pdf(), "art/9.pdf": reportlab_pdf()}
    art = sorted(path for path in files if path.startswith("art/"))
    draw.shuffle(art)
    keys = {".svg": 'fit = "fill"\n', ".pdf": "keep-links = false\n"}
    pages = [f'name = "Art {n}"\nart = "{path}"\n{keys.get(path[-4:], "")}{ALONE}' for n, path in enumerate(art)]
    return files, "".join(f"\n[[notebook.template]]\n{page}" for page in pages)


@pytest.mark.parametrize("seed", range(4))
def test_art_of_all_kinds_gives_the_same_bytes(seed, tmp_path):
    """Built here with an empty cache and again elsewhere (`again.py`); here once more, in a process of its own."""
    files, pages = mixed(seed)
    folder = product(tmp_path / "product", files, 'ruling = "blank"\n', after=pages)
    one, two = (tool.build(folder, tmp_path / out, "--jobs", jobs) for out, jobs in (("one", 1), ("two", 4)))
    assert tool.tree(one.folder) == tool.tree(two.folder)


def test_the_licence_is_none_of_the_notebooks_business(tmp_path):
    """Six edits of the licence alone: each in a process of its own, and the notebook stays as it is."""
    files, pages = mixed(5)
    after = "\n[licence]\nsmall-commercial = 20\n"
    folder = product(tmp_path / "product", files, 'ruling = "blank"\n', after=pages + after)
    first = tool.build(folder, tmp_path / "dist")
    wanted, terms = first.notebook.read_bytes(), set()
    manifest = folder / "product.toml"
    for number in range(21, 27):
        manifest.write_text(re.sub(r"small-commercial = \d+", f"small-commercial = {number}", manifest.read_text(encoding="utf-8")), encoding="utf-8")
        bundle = tool.build(folder, tmp_path / "dist")
        assert bundle.notebook.read_bytes() == wanted
        terms.update(path.read_bytes() for path in bundle.of_kind("licence"))
    assert len(terms) == 6


def test_a_comment_in_the_manifest_of_an_issued_version(tmp_path):
    """The bytes are the same, so there is nothing to refuse."""
    files, pages = mixed(6)
    folder = product(tmp_path / "product", files, 'ruling = "blank"\n', after=pages)
    manifest = folder / "product.toml"
    text = manifest.read_text(encoding="utf-8").replace('version = "1.0.0"', 'version = "1.0.0"\nissued = true')
    manifest.write_text(text, encoding="utf-8")
    before = tool.build(folder, tmp_path / "dist")
    wanted = {path: data for path, data in tool.tree(before.folder).items() if path.startswith(("contents/", "upload/", "listing/"))}
    for number in range(3):
        manifest.write_text(f"# {number}\n{text}", encoding="utf-8")
        after = tool.build(folder, tmp_path / "dist")
        assert {path: tool.tree(after.folder)[path] for path in wanted} == wanted


def programs(path):
    """The names of the fonts in a file without the letters that mark a subset, each as often as it is there."""
    lines = tool.program("pdffonts", path).splitlines()[2:]
    assert all(re.search(r" yes +(yes|no) +(yes|no) +\d+ +\d+$", line) for line in lines), lines
    return sorted(line.split()[0].split("+")[-1].removesuffix("-Identity-H") for line in lines)


def test_drawings_share_one_subset_of_a_face(tmp_path):
    """Six drawings in two faces: two programs, and the words of each still there."""
    words = ["Ebb", "Flood", "Springs", "Neaps", "Slack", "Bore"]
    files = {f"art/{n}.svg": svg(
        f'<text x="20" y="90" font-family="DejaVu Serif" font-size="30">{word} {n}</text><text x="20" y="190" font-family="DejaVu Sans Mono">{word}</text>',
        size=SIZES[0]) for n, word in enumerate(words)}  # fmt: skip
    pages = "".join(f'\n[[notebook.template]]\nname = "{w}"\nart = "art/{n}.svg"\n{ALONE}' for n, w in enumerate(words))
    bundle = made(tmp_path, files | FACES, 'ruling = "blank"\n', after=pages)
    found = programs(bundle.notebook)
    assert found.count("DejaVuSerif") == 1 and found.count("DejaVuSansMono") == 1, found
    text = tool.program("pdftotext", "-layout", bundle.notebook, "-")
    assert all(f"{word} {n}" in text for n, word in enumerate(words))


def test_a_font_that_a_page_names_and_does_not_draw_with_goes(tmp_path):
    """reportlab sets Helvetica at the head of every page (common knowledge of its output, checked here)."""
    source = reportlab_pdf()
    (tmp_path / "source.pdf").write_bytes(source)
    assert "Helvetica" in tool.program("pdffonts", tmp_path / "source.pdf")
    bundle = made(tmp_path, {"art/a.pdf": source}, 'art = "art/a.pdf"\n' + ALONE)
    assert "Helvetica" not in programs(bundle.notebook)
    assert "standard-font-relied-on" not in bundle.said


def test_a_font_that_a_page_draws_with_stays_and_is_told(tmp_path):
    def paint(canvas, _):
        canvas.setFont("Times-Roman", 9)
        canvas.drawString(20 * mm, 20 * mm, "Lent")

    files = {"art/a.pdf": reportlab_pdf(paint=paint)}
    run = tool.sheafwright("build", product(tmp_path / "product", files, 'art = "art/a.pdf"\n' + ALONE), "--out", tmp_path / "dist")
    assert "standard-font-relied-on" in run.stdout + run.stderr and "Times-Roman" in run.stdout + run.stderr
    assert "Helvetica" not in run.stdout + run.stderr


def encoded(form, mode="RGB", **options):
    out = io.BytesIO()
    Image.new("RGB", (60, 40), (90, 140, 60)).convert(mode).save(out, form, **options)
    return out.getvalue()


def holding(data, kind):
    address = f"data:image/{kind};base64,{base64.b64encode(data).decode()}"
    return svg(f'<image x="40" y="40" width="400" height="280" preserveAspectRatio="none" href="{address}"/>', size=SIZES[0])


P3 = ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes()
INNER = {
    "PNG": (encoded("PNG"), "png"),
    "PNG with a profile": (encoded("PNG", icc_profile=P3), "png"),
    "PNG of 16 grey levels": (encoded("PNG", "L", bits=4), "png"),
    "JPEG": (encoded("JPEG", quality=95), "jpeg"),
    "JPEG with a profile": (encoded("JPEG", quality=95, icc_profile=P3), "jpeg"),
    "JPEG in inks": (encoded("JPEG", "CMYK", quality=95), "jpeg"),
    "GIF": (encoded("GIF"), "gif"),
    "WEBP": (encoded("WEBP", lossless=True), "webp"),
}


@pytest.mark.parametrize("name", INNER)
def test_a_picture_in_a_drawing_is_in_srgb_on_the_page(name, tmp_path):
    data, kind = INNER[name]
    bundle = made(tmp_path, {"art/a.svg": holding(data, kind)}, 'art = "art/a.svg"\n' + ALONE)
    with pikepdf.open(bundle.notebook) as pdf:
        spaces = {str(o.get("/ColorSpace")) for o in pdf.objects if isinstance(o, pikepdf.Stream) and o.get("/Subtype") == "/Image"}
    assert spaces <= {"/DeviceRGB", "/DeviceGray"}, spaces
    middle = picture(bundle.notebook, page_of(bundle, "Chart"), 72)[150:200, 200:300].mean(axis=(0, 1))
    # What Pillow makes of the same file.
    wanted = np.asarray(Image.open(io.BytesIO(data)).convert("RGB"), dtype=float).mean(axis=(0, 1))
    assert np.abs(middle - wanted).max() < 4, (middle, wanted)


@pytest.mark.parametrize("form", ["PNG", "JPEG", "GIF", "WEBP"])
def test_a_damaged_picture_in_a_drawing_is_refused(form, tmp_path):
    data = encoded(form)
    text = refused(tmp_path, {"art/a.svg": holding(data[: len(data) // 2], form.lower())}, 'art = "art/a.svg"\n')
    assert "art/a.svg" in text and "a picture in the drawing cannot be read" in text, text


def nested(depth):
    groups = '<g opacity=".99">' * depth + '<rect width="400" height="300" fill="#804020"/>' + "</g>" * depth
    return svg(groups, size=SIZES[0])


def test_groups_within_groups(tmp_path):
    """Up to the limit they are drawn, each a form within a form; what is deeper is refused with a word."""
    for depth in (50, 250):
        bundle = made(tmp_path / str(depth), {"art/a.svg": nested(depth)}, 'art = "art/a.svg"\n' + ALONE)
        tool.program("qpdf", "--check", bundle.notebook)
    assert "256 elements deep" in refused(tmp_path, {"art/a.svg": nested(400)}, 'art = "art/a.svg"\n')
