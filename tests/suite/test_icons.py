"""Icons on tabs and dividers, read off pages that poppler draws and from their texts."""

import numpy
import pikepdf
import pytest

import tool
from test_looks import ALONE, drawn, luminance, product

ICONS = {"Sills": "sprout", "Panes": "sun-and-cloud", "Latches": "key"}


def built(folder, out, icons, style="", page=""):
    folder = product(folder, style, page, top=ALONE)
    manifest = folder / "product.toml"
    text = manifest.read_text(encoding="utf-8")
    for name, icon in icons.items():
        text = text.replace(f'name = "{name}"', f'name = "{name}"\nicon = "{icon}"')
    manifest.write_text(text, encoding="utf-8")
    return tool.build(folder, out, "--strict")


def words(bundle, number):
    return tool.page_text(bundle.notebook, number - 1).split()


def tab_of(bundle, number, rank):
    """The pixels of a tab of the right edge, by its order, from its link's rectangle."""
    with pikepdf.open(bundle.notebook) as pdf:
        page = pdf.pages[number - 1]
        width, height = (float(v) for v in page.mediabox[2:])
        areas = [[float(v) for v in a.Rect] for a in page.Annots]
    edge = sorted((a for a in areas if a[2] > width - 4 and a[3] - a[1] > a[2] - a[0]), key=lambda a: -a[3])
    x0, y0, x1, y1 = edge[rank]
    pixels, scale = drawn(bundle.notebook, number), 2
    return pixels[round((height - y1) * scale) : round((height - y0) * scale), round(x0 * scale) : round(x1 * scale)]


@pytest.mark.parametrize("style", ["", 'look = "night-train"', 'look = "graphite"', 'tabs = "scalloped"'])
def test_an_icon_takes_the_place_of_name_and_number(style, tmp_path):
    named = built(tmp_path / "p", tmp_path / "d", {}, style)
    marked = built(tmp_path / "q", tmp_path / "e", ICONS, style)
    index, divider = 3, 4
    for name in ICONS:
        # The index goes on naming the section; on its tab it is not named, and taps say where they lead.
        assert words(named, index).count(name) > words(marked, index).count(name) >= 1
    for rank in range(3):
        with_name, with_icon = tab_of(named, index, rank), tab_of(marked, index, rank)
        assert with_name.shape == with_icon.shape
        ground = numpy.median(with_icon.reshape(-1, 3), axis=0)
        away = abs(with_icon - ground).max(axis=2) > 60
        ys, xs = numpy.nonzero(away[:, 8:-6])
        # It stands in the middle, and is as large as a tab allows: 3 mm at least, at 144 to the inch.
        assert ys.max() - ys.min() > 3 / 25.4 * 144, (rank, ys.max() - ys.min())
        assert abs((ys.max() + ys.min()) / 2 - away.shape[0] / 2) < 4
        tones = luminance(with_icon.reshape(-1, 3))
        assert (tones.max() + 0.05) / (tones.min() + 0.05) > 4.5
    # The number of the section, which the numbers of lines on its divider are no larger than.
    assert words(named, divider).count("1") == words(marked, divider).count("1") + 1


def entries_of(bundle, number):
    """The areas of the index in which numbers stand: of the two links of each section on its page the narrower, from top to bottom."""
    with pikepdf.open(bundle.notebook) as pdf:
        page = pdf.pages[number - 1]
        width, height = (float(v) for v in page.mediabox[2:])
        targets = {}
        for link in page.Annots:
            x0, y0, x1, y1 = (float(v) for v in link.Rect)
            if x1 < width / 2 and "/Dest" in link:
                targets.setdefault(link.Dest[0].objgen, []).append((x0, height - y1, x1, height - y0))
    return sorted((min(areas, key=lambda a: a[2] - a[0]) for areas in targets.values() if len(areas) == 2), key=lambda a: a[1])


@pytest.mark.parametrize("manner", ["boxes", "lines", "discs", "cards"])
@pytest.mark.parametrize("look", ["", 'look = "night-train"\n'])
def test_an_icon_takes_the_place_of_the_number_in_the_index(manner, look, tmp_path):
    style = f'{look}index = "{manner}"'
    named = built(tmp_path / "p", tmp_path / "d", {}, style)
    marked = built(tmp_path / "q", tmp_path / "e", ICONS, style)
    index, scale = 3, 2
    for number in "123":
        assert words(named, index).count(number) == words(marked, index).count(number) + 1
    entries = entries_of(marked, index)
    assert entries == entries_of(named, index) and len(entries) == 3
    with_number, with_icon = drawn(named.notebook, index), drawn(marked.notebook, index)
    for x0, y0, x1, y1 in entries:
        part = numpy.s_[round(y0 * scale) + 2 : round(y1 * scale) - 2, round(x0 * scale) + 2 : round(x1 * scale) - 2]
        tones = luminance(with_icon[part].reshape(-1, 3))
        assert (tones.max() + 0.05) / (tones.min() + 0.05) > 3
        # What changed is the icon and the number that stood there: as large as a figure, and clear of the edges.
        ys, xs = numpy.nonzero(abs(with_icon[part] - with_number[part]).max(axis=2) > 40)
        assert ys.max() - ys.min() > 4 / 25.4 * 144
        assert ys.min() > 1 and xs.min() > 1 and xs.max() < with_icon[part].shape[1] - 2
    # Nothing else on the page moved, but for the tabs.
    changed = abs(with_icon - with_number).max(axis=2) > 8
    for x0, y0, x1, y1 in entries:
        changed[round(y0 * scale) : round(y1 * scale) + 1, round(x0 * scale) : round(x1 * scale) + 1] = False
    assert not changed[:, : changed.shape[1] // 2].any()


def test_the_other_tabs_keep_their_names(tmp_path):
    bundle = built(tmp_path / "p", tmp_path / "d", {"Panes": "leaf"})
    plain = built(tmp_path / "q", tmp_path / "e", {})
    assert words(bundle, 3).count("Sills") == words(plain, 3).count("Sills")
    assert words(bundle, 3).count("Panes") == words(plain, 3).count("Panes") - 1


def test_an_icon_that_is_none_is_told_with_the_nearest(tmp_path):
    folder = product(tmp_path / "p")
    manifest = folder / "product.toml"
    manifest.write_text(manifest.read_text(encoding="utf-8").replace('name = "Sills"', 'name = "Sills"\nicon = "sprowt"'), encoding="utf-8")
    said = tool.sheafwright("build", folder, "--out", tmp_path / "d")
    assert said.returncode == 2 and "sprout" in said.stderr, said.stderr
    line = manifest.read_text(encoding="utf-8").splitlines().index('icon = "sprowt"') + 1
    assert f"product.toml:{line}:8" in said.stderr, said.stderr
