"""The grain of papers, read off pages that poppler and MuPDF draw."""

import numpy
import pikepdf
import pytest
from PIL import Image

import tool
from test_looks import colour, drawn, product

GRAINS = ["laid", "flecked", "cold-pressed", "aged"]
PAPERS = {"light": "#fdfbf6", "cream": "#f1e6d2", "dark": "#20242b"}
# Of the contrast, as the page on the keys says it.
LOUDEST = 1.06


def luminance(pixels):
    """Relative luminance of sRGB pixels (WCAG 2.2, definition of "relative luminance")."""
    part = pixels / 255
    linear = numpy.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    return linear @ numpy.array([0.2126, 0.7152, 0.0722])


def contrasts(pixels, paper):
    """How far each pixel is from the paper, as a ratio of contrast (WCAG 2.2, "contrast ratio")."""
    of, to = luminance(pixels), luminance(numpy.array(colour(paper)))
    return (numpy.maximum(of, to) + 0.05) / (numpy.minimum(of, to) + 0.05)


def by_mupdf(path, page):
    png = path.with_suffix(".png")
    tool.program("mutool", "draw", "-q", "-r", 144, "-o", png, path, page)
    return numpy.asarray(Image.open(png).convert("RGB")).astype(int)


def built(folder, paper, grain, out, size=None, first=""):
    folder = product(folder, f'paper = "{paper}"\ngrain = "{grain}"')
    manifest = folder / "product.toml"
    text = f"guide.wanted = false\npictures.usual = false\n{first}" + manifest.read_text(encoding="utf-8")
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
            bare = (plain == numpy.array(colour(paper))).all(axis=2)
            assert bare.mean() > 0.5
            told = contrasts(grained, paper)
            assert told[bare].max() <= LOUDEST, (grain, draw.__name__, told[bare].max())
            assert told[bare].mean() > 1.004 and told[bare].std() > 0.001, (grain, told[bare].mean(), told[bare].std())
            # It goes to all edges of the papers: no tenth of the page is without.
            differs = (grained != plain).any(axis=2)
            for axis in (0, 1):
                for part in zip(numpy.array_split(differs, 10, axis), numpy.array_split(bare, 10, axis)):
                    assert part[1].sum() < 1000 or part[0][part[1]].mean() > 0.15, (grain, draw.__name__)
            # Desk, tabs and rings have none.
            away = bare.copy()
            for axis in (0, 1):
                for by in (-2, -1, 1, 2):
                    away |= numpy.roll(bare, by, axis)
            assert not differs[~away & (contrasts(plain, paper) > 1.3)].any(), (grain, draw.__name__)
        # What is written stays, and the picture is there once for all pages.
        assert tool.page_text(path, 5) == tool.page_text(smooth, 5)
        with pikepdf.open(path) as pdf, pikepdf.open(smooth) as bare_pdf:
            pictures = [[o for o in p.objects if isinstance(o, pikepdf.Stream) and o.get("/Subtype") == "/Image"] for p in (pdf, bare_pdf)]
            assert len(pictures[0]) - len(pictures[1]) == 2, "a picture and its mask"
        assert path.stat().st_size - smooth.stat().st_size < 120_000


@pytest.mark.parametrize("grain", GRAINS)
def test_no_tile_shows_its_edge(grain, tmp_path):
    """Where tiles meet, no line is darker or lighter than lines are elsewhere."""
    path = built(tmp_path / "p", "#fdfbf6", grain, tmp_path / "d", "A4").notebook
    for draw in (drawn, by_mupdf):
        pixels = luminance(draw(path, 5))
        inner = pixels[200:-200, 200:-200]
        for axis in (0, 1):
            # Lines that are ruled are far from the paper; what is left is grain.
            lines = numpy.median(inner, axis=axis)
            quiet = lines[lines > luminance(numpy.array(colour("#fdfbf6"))) / LOUDEST - 0.01]
            steps = abs(quiet - numpy.median(quiet))
            assert steps.max() < 0.04, (grain, draw.__name__, axis, steps.max())


def test_from_right_to_left_and_in_every_size_it_fills_the_papers(tmp_path):
    for n, (size, language) in enumerate([("A6", "en-GB"), ("90 x 195 mm", "ar"), ("297 x 210 mm", "he"), ("tablet-4x3", "de-DE")]):
        path = {}
        for grain in ("smooth", "flecked"):
            folder = tmp_path / f"p{n}" / grain
            path[grain] = built(folder, "#f1e6d2", grain, tmp_path / f"d{n} {grain}", size, f'language = "{language}"\n').notebook
        plain, grained = drawn(path["smooth"], 5), drawn(path["flecked"], 5)
        bare = (plain == numpy.array(colour("#f1e6d2"))).all(axis=2)
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
