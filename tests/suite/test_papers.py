"""The grain of papers, read off pages that poppler and MuPDF draw."""

import shutil

import numpy
import pikepdf
import pytest
from PIL import Image

import tool
from test_looks import ALONE, colour, drawn, luminance, product

GRAINS = ["laid", "flecked", "cold-pressed", "aged"]
# Of a tile, in points.
SIDES = {"laid": 144, "flecked": 144, "cold-pressed": 144, "aged": 180}
PAPERS = {"light": "#fdfbf6", "cream": "#f1e6d2", "dark": "#20242b"}
DESK = "#8fa39a"
# Of the contrast, as the page on the keys says it.
LOUDEST = 1.06


def contrasts(pixels, paper):
    """How far each pixel is from the paper, as a ratio of contrast (WCAG 2.2, "contrast ratio")."""
    of, to = luminance(pixels), luminance(numpy.array(colour(paper)))
    return (numpy.maximum(of, to) + 0.05) / (numpy.minimum(of, to) + 0.05)


def within(pixels, wanted, draw=drawn):
    """Where pixels have a colour. MuPDF rounds down, so that a channel may be one less."""
    return (abs(pixels - numpy.array(colour(wanted))) <= (1 if draw is by_mupdf else 0)).all(axis=2)


def by_mupdf(path, page):
    png = path.with_suffix(".png")
    tool.program("mutool", "draw", "-q", "-r", 144, "-o", png, path, page)
    return numpy.asarray(Image.open(png).convert("RGB")).astype(int)


def built(folder, paper, grain, out, size=None, ruling="lined", right_to_left=False):
    folder = product(folder, f'paper = "{paper}"\ndesk = "{DESK}"\ngrain = "{grain}"', top=ALONE)
    manifest = folder / "product.toml"
    text = manifest.read_text(encoding="utf-8").replace('"lined"', f'"{ruling}"')
    if right_to_left:
        font = "fonts/NotoNaskhArabic-Regular.woff2"
        (folder / "fonts").mkdir()
        shutil.copy(tool.ROOT / "products/lamplight-log-ar" / font, folder / font)
        text = 'language = "ar"\n' + text.replace("[style]", f'[style]\nfonts = {{ heading = ["{font}", "Noto Sans"], label = ["{font}", "Noto Sans"] }}')
        text = text.replace('own = ["looks/*"]', 'own = ["fonts/*"]')
    if size:
        text = text.replace('size = "240 x 180 mm"\nlayout = "spread"\ncoil = "middle"', f'size = "{size}"\nlayout = "single"')
    manifest.write_text(text, encoding="utf-8")
    return tool.build(folder, out, "--strict")


@pytest.mark.parametrize("name", PAPERS)
def test_a_grain_is_quiet_even_and_on_papers_alone(name, tmp_path):
    paper = PAPERS[name]
    smooth = built(tmp_path / "p", paper, "smooth", tmp_path / "d").notebook
    pages = {draw: draw(smooth, 5) for draw in (drawn, by_mupdf)}
    for grain in GRAINS:
        path = built(tmp_path / grain, paper, grain, tmp_path / f"d {grain}").notebook
        for draw, plain in pages.items():
            grained = draw(path, 5)
            bare = within(plain, paper, draw)
            assert bare.mean() > 0.5
            told = contrasts(grained, paper)
            assert told[bare].max() <= LOUDEST + (0.016 if draw is by_mupdf else 0), (grain, draw.__name__, told[bare].max())
            assert told[bare].mean() > 1.003 and told[bare].std() > 0.001, (grain, told[bare].mean(), told[bare].std())
            # It goes to all edges of the papers: no tenth of the page is without.
            differs = (grained != plain).any(axis=2)
            for axis in (0, 1):
                for part in zip(numpy.array_split(differs, 10, axis), numpy.array_split(bare, 10, axis)):
                    assert part[1].sum() < 1000 or part[0][part[1]].mean() > 0.15, (grain, draw.__name__)
            # What the papers lie on has none.
            desk = within(plain, DESK, draw)
            assert desk.mean() > 0.02 and not differs[desk].any(), (grain, draw.__name__)
        # What is written stays, and the picture is there once for all pages.
        assert tool.page_text(path, 5) == tool.page_text(smooth, 5)
        with pikepdf.open(path) as pdf, pikepdf.open(smooth) as bare_pdf:
            pictures = [[o for o in p.objects if isinstance(o, pikepdf.Stream) and o.get("/Subtype") == "/Image"] for p in (pdf, bare_pdf)]
            assert len(pictures[0]) - len(pictures[1]) == 1, "a picture for all pages"
        assert path.stat().st_size - smooth.stat().st_size < 120_000


@pytest.mark.parametrize("grain", GRAINS)
def test_no_tile_shows_its_edge(grain, tmp_path):
    """Where tiles meet, no line of pixels is further from the others than lines are elsewhere."""
    plain, path = (built(tmp_path / g, "#fdfbf6", g, tmp_path / f"d {g}", "A4", "blank").notebook for g in ("smooth", grain))
    for draw in (drawn, by_mupdf):
        bare, grained = within(draw(plain, 5), "#fdfbf6", draw), luminance(draw(path, 5))
        for axis in (0, 1):
            # The lines of pixels on which a tile begins, at 144 to the inch: tiles are laid from the papers' upper left.
            lines = numpy.nonzero(bare.sum(axis=1 - axis) > bare.shape[1 - axis] / 2)[0]
            inner = numpy.take(grained, range(*sorted(numpy.nonzero(bare.sum(axis=axis) > bare.shape[axis] / 2)[0][[200, -200]])), axis=1 - axis)
            means = inner.mean(axis=1 - axis)
            side = SIDES[grain] * 2
            seams = [at for k in range(1, 8) for at in range(round(lines[0] + k * side) - 2, round(lines[0] + k * side) + 3) if at < lines[-1] - 40]
            assert seams
            # How far a line is from the two beside it. A step of the 256 greys of a screen is 0.009 here, next to white.
            off = abs(means[1:-1] - (means[:-2] + means[2:]) / 2)
            others = [at for at in range(lines[0] + 40, lines[-1] - 40) if at not in seams]
            assert off[[at - 1 for at in seams]].max() <= max(0.0045, off[[at - 1 for at in others]].max() * 1.35), (grain, draw.__name__, axis)


def test_from_right_to_left_and_in_every_size_it_fills_the_papers(tmp_path):
    for n, (size, turned) in enumerate([("A6", False), ("90 x 195 mm", True), ("297 x 210 mm", True), ("tablet-4x3", False)]):
        path = {}
        for grain in ("smooth", "flecked"):
            folder = tmp_path / f"p{n}" / grain
            path[grain] = built(folder, "#f1e6d2", grain, tmp_path / f"d{n} {grain}", size, right_to_left=turned).notebook
        plain, grained = drawn(path["smooth"], 5), drawn(path["flecked"], 5)
        bare = within(plain, "#f1e6d2")
        differs = (grained != plain).any(axis=2)
        for corner in ((0, 0), (0, 1), (1, 0), (1, 1)):
            ys, xs = numpy.nonzero(bare)
            y = slice(ys.min(), ys.min() + 120) if corner[0] == 0 else slice(ys.max() - 120, ys.max())
            x = slice(xs.min(), xs.min() + 120) if corner[1] == 0 else slice(xs.max() - 120, xs.max())
            assert differs[y, x][bare[y, x]].mean() > 0.15, (size, corner)


def test_a_grain_that_is_none_is_told(tmp_path):
    folder = product(tmp_path / "p", 'grain = "rough"')
    said = tool.sheafwright("build", folder, "--out", tmp_path / "d")
    assert said.returncode == 2
    assert "rough" in said.stderr and "cold-pressed" in said.stderr, said.stderr
