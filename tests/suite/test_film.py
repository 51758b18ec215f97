"""Films, read with FFmpeg's libraries (PyAV) and played by a browser: form and length, pages, turns and taps, and the same bytes always."""

import av
import numpy
import pikepdf
import products
import pytest
import tool
from PIL import Image
from test_proof import browse

RATE = 30
SIZE = (640, 480)
SECTIONS = ["Boats", "Tides", "Crew"]
# What a viewer of listings is shown beside: the same way as a GIF.
WAY = f"""
[[picture]]
layout = "flip-through"
name = "film"
format = "mp4"
size = "{SIZE[0]} x {SIZE[1]}"
pages = ["index", "section/2", "template/sea-chart"]
pause = 1.5

[[picture]]
layout = "flip-through"
name = "loop"
size = "{SIZE[0]} x {SIZE[1]}"
pages = ["index", "section/2", "template/sea-chart"]
"""


def log(more, **changed):
    recipe = {"page": 'size = "240 x 180 mm"\nlayout = "spread"', "coil": "middle", "sections": SECTIONS}
    return products.Recipe("Filmed Log", more=more, **recipe | changed)


@pytest.fixture(scope="module")
def taken(shelf):
    return shelf(log(WAY))


class Film:
    """A film with all of its frames."""

    def __init__(self, path):
        self.path = path
        with av.open(str(path)) as file:
            (self.stream,) = file.streams
            assert (file.format.name.split(",")[0], self.stream.type) == ("mov", "video")
            codec = self.stream.codec_context
            self.codec, self.profile, self.pixels = codec.name, codec.profile, codec.pix_fmt
            self.size = (codec.width, codec.height)
            self.range, self.space = codec.color_range, codec.colorspace
            self.frames, self.times, self.keys, self.kinds = [], [], [], []
            for frame in file.decode(video=0):
                self.times.append(frame.time)
                self.keys.append(bool(frame.key_frame))
                self.kinds.append(int(frame.pict_type))
                self.frames.append(frame.to_ndarray(format="rgb24").astype(int))


def films(bundle):
    return sorted((bundle.folder / "listing/pictures").glob("*.mp4"))


@pytest.fixture(scope="module")
def film(taken):
    (path,) = films(taken)
    return Film(path)


def away(a, b):
    return numpy.abs(a - b).mean()


def stands(film):
    """The frames at which a picture stands: the first of each stretch in which nothing moves for a second."""
    quiet = [numpy.abs(a - b).max() < 32 for a, b in zip(film.frames, film.frames[1:], strict=False)]
    out, since = [], 0
    for i, still in enumerate([*quiet, False]):
        if not still:
            if i - since >= RATE - 1:
                out.append((since, i))
            since = i + 1
    return out


def test_a_film_is_what_shops_and_phones_play(film, taken):
    assert film.path.name == "01-film.mp4"
    assert (film.codec, film.profile, film.pixels, film.size) == ("h264", "Constrained Baseline", "yuv420p", SIZE)
    # ITU-T H.264, tables E-3 to E-5: 1 is BT.709, and the range is the narrower one.
    assert (int(film.space), int(film.range)) == (1, 1)
    # One frame after another at an even rate, none that waits for a later one.
    assert numpy.allclose(numpy.diff(film.times), 1 / RATE, atol=1e-3)
    assert set(film.kinds) == {int(av.video.frame.PictureType.I), int(av.video.frame.PictureType.P)}
    assert 5 <= len(film.frames) / RATE <= 15
    # A player can go to every two seconds of it.
    keys = [i for i, key in enumerate(film.keys) if key]
    assert keys[0] == 0 and max(numpy.diff([*keys, len(film.frames)])) <= 2 * RATE
    # It plays while it is still loading: the table of contents lies before the frames.
    data = film.path.read_bytes()
    assert data.index(b"moov") < data.index(b"mdat")
    # The record tells its size, and so does the list of the listing's files.
    (told,) = [f for f in taken.record["files"] if f["path"].endswith(".mp4")]
    assert (told["kind"], told["size"]) == ("picture", len(data))
    assert "listing/pictures/01-film.mp4" in (taken.folder / "SHA256SUMS").read_text()
    assert not [p for p in (taken.folder / "upload").rglob("*.mp4")]


def test_pages_stand_as_they_stand_in_the_loop(film, taken):
    (gif,) = (taken.folder / "listing/pictures").glob("*.gif")
    with Image.open(gif) as loop:
        pages = []
        for i in range(loop.n_frames):
            loop.seek(i)
            if loop.info["duration"] > 1000:
                pages.append(numpy.asarray(loop.convert("RGB")).astype(int))
    shown = stands(film)
    assert len(shown) == len(pages) == 3
    for (first, last), page in zip(shown, pages, strict=True):
        # A second and a half, and what moves less than is seen before and after it.
        assert abs((last - first + 1) / RATE - 1.5) < 0.1
        middle = film.frames[(first + last) // 2]
        assert away(middle, page) < 3
        # The ground, far from any edge, has its very colour but for what two quantisers and a narrower range take.
        assert numpy.abs(middle[:6, :6] - page[:6, :6]).max() <= 6
    others = [(a, b) for a in range(3) for b in range(3) if a != b]
    assert min(away(film.frames[shown[a][0] + 10], pages[b]) for a, b in others) > 5


def test_a_page_turns_evenly_over_the_one_before(film):
    """What is left of the edge that comes from the right is the page before."""
    for (_, last), (first, _) in zip(stands(film), stands(film)[1:], strict=False):
        # The tap comes before the turn; the moment at which nothing but the dot is new is the last with the whole page.
        old, edges = film.frames[first - 12], []
        for frame in film.frames[first - 11 : first]:
            new = numpy.nonzero((numpy.abs(frame - old).max(axis=2) > 24).mean(axis=0) > 0.1)[0]
            edges.append(int(new[0]) if len(new) else SIZE[0])
        assert last < first - 11
        assert all(a >= b for a, b in zip(edges, edges[1:], strict=False)), edges
        assert len(set(edges)) >= 8 and edges[0] - edges[-1] > SIZE[0] / 2, edges
        steps = -numpy.diff(edges)
        # It begins and ends gently.
        assert max(steps[0], steps[-1]) < max(steps) / 2, edges


def where_the_page_lies(frame):
    """Left, top, width and height: all that is not of the ground's colour, but for the words above it."""
    other = numpy.abs(frame - frame[2, 2]).max(axis=2) > 8
    rows, columns = (numpy.nonzero(other.mean(axis=axis) > 0.6)[0] for axis in (1, 0))
    return columns[0], rows[0], numpy.ptp(columns) + 1, numpy.ptp(rows) + 1


def test_a_dot_lies_where_one_taps(film, taken, tmp_path):
    """On a link of the first page that leads to the second."""
    (_, last), (first, _) = stands(film)[:2]
    still, tap = film.frames[last - 8], film.frames[last + 3]
    ys, xs = numpy.nonzero(numpy.abs(tap - still).max(axis=2) > 40)
    assert len(xs) > 30 and numpy.ptp(xs) < SIZE[0] / 8 and numpy.ptp(ys) < SIZE[1] / 8
    left, top, wide, high = where_the_page_lies(still)
    with pikepdf.open(taken.notebook) as pdf:
        index = pdf.pages[2]
        width, height = (float(v) for v in index.mediabox[2:])
        x = (xs.mean() - left) / wide * width
        y = height - (ys.mean() - top) / high * height
        number = {page.obj.objgen: n for n, page in enumerate(pdf.pages, 1)}
        areas = [([float(v) for v in a.Rect], number[a.Dest[0].objgen]) for a in index.Annots if "/Dest" in a]
    (target,) = {to for (x0, y0, x1, y1), to in areas if x0 - 4 <= x <= x1 + 4 and y0 - 4 <= y <= y1 + 4}
    # The page that is shown next is the page that the link leads to.
    shown = film.frames[first + 8][top : top + high, left : left + wide]
    tool.program("pdftoppm", "-scale-to-x", wide, "-scale-to-y", high, taken.notebook, tmp_path / "page")
    pages = sorted(tmp_path.glob("page-*.ppm"))
    distances = [away(numpy.asarray(Image.open(page).convert("RGB")).astype(int), shown) for page in pages]
    assert numpy.argmin(distances) + 1 == target, distances


def test_the_same_film_again(taken, tmp_path):
    (first,) = films(taken)
    again = tool.build(log(WAY).write(tmp_path / "elsewhere"), tmp_path / "dist", "--jobs", 1)
    (second,) = films(again)
    assert first.read_bytes() == second.read_bytes()


def test_a_browser_plays_it_in_the_proof(taken):
    seen = browse("film.mjs", taken.folder / "proof.html")
    assert seen["played"]["error"] is None
    assert (seen["played"]["width"], seen["played"]["height"]) == SIZE
    (path,) = films(taken)
    frames = len(Film(path).frames)
    assert seen["played"]["seconds"] == pytest.approx(frames / RATE, abs=0.05)
    assert "01-film.mp4" in seen["shown"]["says"] and f"{frames / RATE:.1f} seconds" in seen["shown"]["says"]
    assert seen["shown"]["muted"] and seen["shown"]["loop"]
    assert seen["diary"]["console"] == [] and seen["axe"] == []
    assert all(address.startswith("file:") for address in seen["diary"]["requests"])


def refused(tmp_path, more):
    run = tool.sheafwright("build", log(more).write(tmp_path / "p"), "--out", tmp_path / "d")
    assert run.returncode != 0
    assert not list((tmp_path / "d").glob("*/*/bundle.json"))
    return run.stdout + run.stderr


@pytest.mark.parametrize(
    ("keys", "wanted"),
    [
        ('pages = ["index"]\npause = 0.5', ["takes 0.5 seconds", "5 to 15", "pause = 5.1"]),
        ('pages = ["index", 3, "index", 4]\npause = 9', ["5 to 15", "pause = 3."]),
        ('size = "641 x 480"', ["641 x 480", "even"]),
        ('size = "4000 x 3000"', ["4000 x 3000", "at most 3840 x 2160"]),
    ],
)
def test_what_is_no_film_is_told(keys, wanted, tmp_path):
    said = refused(tmp_path, f'[[picture]]\nlayout = "flip-through"\nformat = "mp4"\n{keys}\n')
    for part in wanted:
        assert part in said, said


def test_a_picture_that_stands_still_is_no_film(tmp_path):
    said = refused(tmp_path, '[[picture]]\nlayout = "inside"\nformat = "mp4"\n')
    assert "this picture does not move" in said


@pytest.mark.parametrize("sections", [1, 3])
def test_the_usual_film_fits_a_shop(sections, tmp_path):
    # What the shop says of pictures is not said of films.
    small = '[[picture]]\nlayout = "flip-through"\nformat = "mp4"\nsize = "400 x 300"\n[limits]\npicture-pixels = 320\n'
    recipe = log(small, sections=SECTIONS[:sections], section_pages={"Boats": [("deck-log", 2)]})
    (path,) = films(tool.build(recipe.write(tmp_path / "p"), tmp_path / "d"))
    assert 5 <= len(Film(path).frames) / RATE <= 15
