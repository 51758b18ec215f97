"""Sheets of drawings cut into stickers: against scipy's parts and distances, Pillow's resizing, art by matplotlib and cairo."""

import io
import random
import re

import cairocffi
import matplotlib
import numpy
import pytest
from PIL import Image, ImageDraw
from scipy import ndimage
from scipy.spatial import cKDTree

from pocket import Pocket, build, encoded, ink, judged, linear, pixels, png
from tool import ROOT

matplotlib.use("Agg")
from matplotlib import pyplot  # noqa: E402  (the backend is chosen first)

GROUP = '\n[[sticker-group]]\nname = "Finds"\ncut = "{file}"\n{keys}\n'
PLAIN = '[stickers]\ndpi = 254\npadding = "1 mm"\noptimise = "quick"\nsheets = "none"\n'


def cut(file, content, keys="", stickers=PLAIN):
    return Pocket(stickers + GROUP.format(file=file, keys=keys), {file: content})


def blobs(seed, width=420, height=300):
    """Random discs, bars and specks on a clear ground; hard edges, so that parts can be counted exactly."""
    dice = random.Random(seed)
    picture = Image.new("L", (width, height), 0)
    pen = ImageDraw.Draw(picture)
    for _ in range(dice.randrange(6, 16)):
        x, y, a, b = dice.randrange(20, width - 60), dice.randrange(20, height - 60), dice.randrange(6, 40), dice.randrange(6, 40)
        (pen.ellipse if dice.random() < 0.5 else pen.rectangle)((x, y, x + a, y + b), fill=255)
    for _ in range(8):
        pen.point((dice.randrange(width), dice.randrange(height)), fill=255)
    mask = numpy.asarray(picture) > 0
    colour = numpy.array([dice.randrange(40, 200) for _ in range(3)])
    out = numpy.zeros((height, width, 4), int)
    out[mask] = [*colour, 255]
    return mask, out


def parts_by_scipy(mask, gap, speck):
    """Sizes of the boxes of all parts: pixels that touch belong together, and parts with `gap` clear pixels or fewer
    between them; those with fewer than `speck` pixels are dropped."""
    labels, count = ndimage.label(mask, structure=numpy.ones((3, 3)))
    spots = [numpy.argwhere(labels == i + 1) for i in range(count)]
    trees = [cKDTree(s) for s in spots]
    root = list(range(count))

    def find(i):
        while root[i] != i:
            i = root[i]
        return i

    for i in range(count):
        for j in range(i):
            if trees[i].query(spots[j])[0].min() <= gap + 1:
                root[find(i)] = find(j)
    groups = {}
    for i in range(count):
        groups.setdefault(find(i), []).append(spots[i])
    kept = [numpy.concatenate(g) for g in groups.values() if sum(map(len, g)) >= speck]
    return sorted(tuple(int(v) for v in s.max(0) - s.min(0) + 1) for s in kept)


@pytest.mark.parametrize("seed", range(5))
def test_parts_are_scipys(seed, tmp_path):
    mask, art = blobs(seed)
    # 254 dpi are 10 pixels a millimetre: a gap of 6 pixels, and specks below 3 by 3.
    wanted = parts_by_scipy(mask, 6, 9)
    keys = f'gap = "0.6 mm"\nspeck = "0.3 mm"\ncount = {len(wanted)}'
    bundle = build(cut("art/finds.png", png(art), keys), tmp_path)
    trimmed = sorted(pixels(p)[ink(pixels(p)[..., 3])].shape[:2] for p in bundle.stickers)
    assert trimmed == wanted


def test_another_number_shows_both_and_every_box(tmp_path):
    mask, art = blobs(3)
    count = len(parts_by_scipy(mask, 10, 25))
    code, _, said = judged(cut("art/finds.png", png(art), 'names = ["gull", "knot"]'), tmp_path)
    assert code == 2
    assert f"2 names are given, and art/finds.png holds {count} drawings" in said, said
    assert re.search(r"product\.toml:\d+:\d+: ", said) and 'names = ["gull", "knot"]' in said, said
    boxes = re.findall(r"\((\d+) × (\d+) px at (\d+), (\d+)\)", said)
    assert len(boxes) == count, said
    labels = numpy.argwhere(mask)
    left = min(int(x) for *_, x, _ in boxes)
    assert left == labels[:, 1].min() or left >= labels[:, 1].min()
    code, _, said = judged(cut("art/finds.png", png(art), f"count = {count + 1}"), tmp_path)
    assert code == 2 and f"the count is {count + 1}, and art/finds.png holds {count} drawings" in said, said


def matplotlib_svg():
    """Three shapes with ids that were given, and one that matplotlib counted."""
    figure, axes = pyplot.subplots(figsize=(4, 3))
    axes.set_axis_off()
    axes.set_xlim(0, 40), axes.set_ylim(0, 30)
    for gid, patch in {
        "gull": pyplot.Circle((8, 22), 4, color="#4477aa"),
        "crab": pyplot.Rectangle((20, 18), 9, 7, color="#aa4433"),
        "kelp": pyplot.Polygon([(6, 3), (12, 3), (9, 12)], color="#447744"),
        "": pyplot.Circle((28, 7), 4, color="#998844"),
    }.items():
        patch.set_linewidth(0)
        axes.add_patch(patch)
        if gid:
            patch.set_gid(gid)
    out = io.BytesIO()
    figure.savefig(out, format="svg", transparent=True)
    pyplot.close(figure)
    return out.getvalue()


def test_names_come_from_the_ids_that_somebody_gave(tmp_path):
    bundle = build(cut("art/shore.svg", matplotlib_svg(), "count = 4"), tmp_path)
    names = [p.stem.split("-", 1)[1] for p in bundle.stickers]
    assert names == ["gull", "crab", "kelp", "shore-4"]
    # matplotlib counts 72 points to the inch, and says so: the crab is 9 of 40 units of the axes' 0.775 of 4 inches.
    crab = pixels(bundle.stickers[1])
    assert crab[ink(crab[..., 3])].shape[1] / 254 == pytest.approx(9 / 40 * 0.775 * 4, rel=0.02)


def test_names_come_from_the_labels_of_inkscape(tmp_path):
    """What was named in the program; the ids are its own. The third drawing has no name: the sheet's and its number."""
    sheet = (ROOT / "tests/fixtures/art/inkscape-sheet.svg").read_bytes()
    bundle = build(cut("art/quay.svg", sheet, "count = 3"), tmp_path)
    assert [p.stem.split("-", 1)[1] for p in bundle.stickers] == ["lamp-buoy", "harbour-crate", "quay-3"]


def cairo_svg():
    out = io.BytesIO()
    surface = cairocffi.SVGSurface(out, 200, 100)
    pen = cairocffi.Context(surface)
    for x, colour in ((40, (0.2, 0.4, 0.6)), (100, (0.7, 0.3, 0.2)), (160, (0.3, 0.5, 0.3))):
        pen.set_source_rgb(*colour)
        pen.arc(x, 50, 20, 0, 6.2832)
        pen.fill()
    surface.finish()
    return out.getvalue()


@pytest.mark.parametrize(("reading", "order"), [("rows", "bgr"), ("rows-from-right", "rgb")])
def test_a_sheet_by_cairo_in_both_directions(reading, order, tmp_path):
    keys = f'longest = "12 mm"\nreading = "{reading}"\nnames = ["one", "two", "three"]'
    bundle = build(cut("art/dots.svg", cairo_svg(), keys), tmp_path)
    strongest = []
    for path in bundle.stickers:
        seen = pixels(path)
        middle = seen[seen.shape[0] // 2, seen.shape[1] // 2]
        strongest.append("rgb"[int(middle[:3].argmax())])
        assert max(seen[ink(seen[..., 3])].shape[:2]) == pytest.approx(120, abs=1)
    assert "".join(strongest) == {"bgr": "brg", "rgb": "grb"}[order]


def disc(size, colour, matte=None):
    """A disc with soft edges; with a matte its edge pixels hold a mix with it, as when art is cut out of a background."""
    big = Image.new("L", (size * 4, size * 4), 0)
    ImageDraw.Draw(big).ellipse((40, 40, size * 4 - 41, size * 4 - 41), fill=255)
    alpha = numpy.asarray(big.resize((size, size), Image.Resampling.BOX)).astype(float)
    out = numpy.zeros((size, size, 4))
    share = alpha[..., None] / 255
    out[..., :3] = colour if matte is None else share * colour + (1 - share) * matte
    out[..., 3] = alpha
    return out


@pytest.mark.parametrize(("keys", "cleaned"), [("", True), ('clean-edges = "#ffffff"', True), ("clean-edges = false", False)])
def test_the_colour_of_an_old_background_is_taken_off(keys, cleaned, tmp_path):
    colour = numpy.array([40.0, 60.0, 90.0])
    art = disc(160, colour, numpy.array([255.0, 255.0, 255.0])).round()
    pocket = Pocket(
        PLAIN + f'\n[[sticker]]\nfile = "art/disc.png"\nlongest = "160 px"\n{keys}\n', {"art/disc.png": png(art)}
    )
    code, found, said = judged(pocket, tmp_path)
    (path,) = (tmp_path / "dist").glob("*/*/contents/stickers/*.png") if code == 0 else [None]
    seen = pixels(path)
    edge = (seen[..., 3] > 40) & (seen[..., 3] < 220)
    off = numpy.abs(seen[edge][:, :3] - colour).mean()
    assert off < 6 if cleaned else off > 40, (off, said)
    rims = [f for f in found if f["check"] == "sticker-has-rim"]
    assert bool(rims) != cleaned, found


def test_shrinking_is_pillows_in_linear_light(tmp_path):
    dice = numpy.random.default_rng(5)
    noise = ndimage.gaussian_filter(dice.uniform(0, 255, (300, 240, 4)), (6, 6, 0))
    art = (noise - noise.min()) / (noise.max() - noise.min()) * 255
    art[..., 3] = numpy.where(art[..., 3] > 110, 255, art[..., 3])
    art[0], art[-1], art[:, 0], art[:, -1] = 255, 255, 255, 255
    art = art.round()
    keys = '\n[[sticker]]\nfile = "art/weather.png"\nheight = "100 px"\nclean-edges = false\n'
    bundle = build(Pocket(PLAIN + keys, {"art/weather.png": png(art)}), tmp_path)
    seen = pixels(bundle.stickers[0])
    seen = seen[ink(seen[..., 3])]
    alpha = art[..., 3:] / 255
    planes = numpy.concatenate([linear(art[..., :3]) * alpha, alpha], 2)
    small = [Image.fromarray(planes[..., i].astype("f")).resize((80, 100), Image.Resampling.HAMMING) for i in range(4)]
    small = numpy.stack([numpy.asarray(plane) for plane in small], 2)
    wanted = numpy.concatenate([encoded(small[..., :3] / numpy.maximum(small[..., 3:], 1e-6)), small[..., 3:] * 255], 2)
    assert seen.shape == wanted.shape
    visible = wanted[..., 3] > 16
    assert numpy.abs(seen - wanted)[visible].max() <= 2.5


def test_nothing_is_enlarged_and_it_is_said(tmp_path):
    art = disc(100, numpy.array([90.0, 120.0, 60.0])).round()
    pocket = Pocket(PLAIN + '\n[[sticker]]\nfile = "art/disc.png"\nlongest = "40 mm"\n', {"art/disc.png": png(art)})
    code, found, _ = judged(pocket, tmp_path)
    assert code == 0 and [f["check"] for f in found] == ["sticker-art-too-small"]
    (path,) = (tmp_path / "dist").glob("*/*/contents/stickers/*.png")
    with Image.open(path) as picture:
        # The art's own pixels, and a millimetre of padding on every side.
        assert max(picture.size) == 80 + 2 * 2
        # 80 pixels of art on 40 mm.
        assert picture.info["dpi"][0] == pytest.approx(80 / 40 * 25.4, abs=0.05)
    assert "51 dpi" in found[0]["message"] and "254 dpi" in found[0]["message"], found


def test_a_coarse_sheet_is_said_once(tmp_path):
    _, art = blobs(2)
    code, found, _ = judged(cut("art/finds.png", png(art), 'width = "200 mm"'), tmp_path)
    # Some of the finds look alike, which is another matter.
    (coarse,) = [f for f in found if f["check"] == "sticker-art-too-small"]
    assert code == 0 and coarse["file"] == "art/finds.png"


@pytest.mark.parametrize("width", [1.0, 2.5])
def test_the_border_is_as_wide_as_scipys_distance_says(width, tmp_path):
    mask = numpy.zeros((200, 260), bool)
    mask[60:140, 60:200] = True
    mask[60:100, 120:140] = False
    art = numpy.zeros((200, 260, 4), int)
    art[mask] = [50, 90, 120, 255]
    border = f'border = {{ width = "{width} mm", colour = "#f0d040", fill-holes = false }}'
    pocket = Pocket(
        PLAIN + f'\n[[sticker]]\nfile = "art/comb.png"\nlongest = "140 px"\n{border}\n', {"art/comb.png": png(art)}
    )
    seen = pixels(build(pocket, tmp_path).stickers[0])
    # From the middle of a clear pixel to the edge of the art is half a pixel less than to the middle of its pixels.
    far = ndimage.distance_transform_edt(~numpy.pad(mask, 60)) - 0.5
    reach = width * 10
    inside = ink(far <= reach + 0.49)
    whole = seen[ink(seen[..., 3])]
    far = far[inside]
    assert abs(whole.shape[0] - far.shape[0]) <= 1 and abs(whole.shape[1] - far.shape[1]) <= 1
    if whole.shape[:2] == far.shape:
        sure = numpy.abs(far - reach) > 1
        assert ((whole[..., 3] > 127) == (far < reach))[sure].all()
        assert (whole[(far > 1) & (far < reach - 1)] == [0xF0, 0xD0, 0x40, 255]).all()


def test_every_level_gives_the_same_pixels_and_more_effort_no_larger_files(tmp_path):
    seen, sizes = [], []
    for level in ("quick", "normal", "best"):
        stickers = PLAIN.replace("quick", level)
        bundle = build(cut("art/finds.png", png(blobs(4)[1]), "", stickers), tmp_path / level)
        seen.append([pixels(p).tolist() for p in bundle.stickers])
        sizes.append(sum(p.stat().st_size for p in bundle.stickers))
    assert seen[0] == seen[1] == seen[2]
    assert sizes[0] >= sizes[1] >= sizes[2], sizes


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ('[[sticker]]\nmotif = "star"\ngroup = "Shore"\n', "there is no group called “Shore”"),
        ('[[sticker-group]]\nname = "Shore"\n', "no sticker is in the group “Shore”"),
        ('[[sticker-group]]\nname = "Shore"\ncount = 3\n', "`count` is said of a sheet that is cut"),
        ('[[sticker]]\nmotif = "star"\nlongest = "20 mm"\nwidth = "20 mm"\n', "a sticker has one size"),
        ('[[sticker]]\nmotif = "star"\nlongest = "9 px"\n', "is no size for a sticker"),
        ('[[sticker]]\nmotif = "star"\nlongest = "wide px"\n', "is not a number of pixels"),
        ('[[sticker]]\nmotif = "star"\nclean-edges = "white"\n', "`white` is not a colour"),
        ('[[sticker]]\nmotif = "star"\nborder = { widht = 2 }\n', "did you mean `width`?"),
        ('[[sticker-group]]\nname = "Shore"\ncut = "art/none.png"\n', "there is no such file"),
        ('[[sticker-group]]\nname = "Shore"\ncut = "art/a.png"\nnames = ["knot", "Knot"]\n', "`knot` stands twice"),
        ('[[sticker-group]]\nname = "Shore"\ncut = "art/a.png"\nreading = "upwards"\n', "unknown value `upwards`"),
        ('[stickers]\noptimise = "bets"\n', "did you mean `best`?"),
    ],
)
def test_mistakes_are_told_with_their_place(more, said, tmp_path):
    pocket = Pocket('[[sticker]]\nmotif = "star"\nname = "sun"\n' + more, {"art/a.png": png(blobs(1)[1])})
    if more.startswith("[stickers]"):
        pocket.more = more
    code, _, message = judged(pocket, tmp_path)
    assert code == 2 and said in message, message
    assert re.search(r"product\.toml:\d+:\d+: ", message), message


def test_a_sheet_without_a_clear_ground_is_refused(tmp_path):
    art = numpy.full((60, 80, 4), 255)
    code, _, said = judged(cut("art/scan.png", png(art)), tmp_path)
    assert code == 2 and "its ground is not transparent" in said and "product.toml:" in said, said
    code, _, said = judged(cut("art/void.png", png(art * 0)), tmp_path)
    assert code == 2 and "no drawing was found on the sheet" in said, said


def spoilt(kind):
    out = io.BytesIO()
    if kind == "cmyk":
        Image.new("CMYK", (40, 40), (10, 90, 60, 0)).save(out, "JPEG")
    elif kind == "wide":
        Image.new("RGBA", (60_000, 3)).save(out, "PNG")
    elif kind == "cut off":
        out.write(png(blobs(1)[1])[:900])
    elif kind == "words":
        out.write(b"not a picture at all")
    return out.getvalue()


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        ("cmyk", "CMYK"),
        ("wide", "60000 × 3 px"),
        ("cut off", "the PNG is cut off"),
        ("words", "neither a PNG nor a JPEG"),
        ("empty", "the file is empty"),
    ],
)
def test_art_that_cannot_be_used_gets_a_clear_word(kind, said, tmp_path):
    pocket = Pocket(PLAIN + '\n[[sticker]]\nfile = "art/bad.png"\n', {"art/bad.png": spoilt(kind)})
    code, _, message = judged(pocket, tmp_path)
    assert code == 2 and said in message and re.search(r"product\.toml:\d+:\d+: ", message), message


@pytest.mark.parametrize("name", ["basi6a08", "basn4a08", "tp1n3p08"])
def test_every_form_of_png_is_read_as_pillow_reads_it(name, tmp_path):
    """Interlaced, grey with alpha and palette with transparency, of PngSuite."""
    source = ROOT / "tests/fixtures/pngsuite" / f"{name}.png"
    keys = '\n[[sticker]]\nfile = "art/suite.png"\nlongest = "32 px"\nclean-edges = false\n'
    bundle = build(Pocket(PLAIN + keys, {"art/suite.png": source.read_bytes()}), tmp_path)
    wanted = numpy.asarray(Image.open(source).convert("RGBA")).astype(int)
    wanted[wanted[..., 3] <= 2] = 0
    wanted = wanted[ink(wanted[..., 3])]
    seen = pixels(bundle.stickers[0])
    seen = seen[ink(seen[..., 3])]
    # The longest side may be a pixel short of 32 once the haze is gone.
    if seen.shape == wanted.shape:
        assert (seen == wanted).all()
    else:
        assert max(seen.shape[:2]) == 32
