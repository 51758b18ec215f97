"""Products of stickers alone, with art drawn by other people's libraries."""

import io
import json
from dataclasses import dataclass, field

import numpy
from PIL import Image

import tool

HEAD = """\
name = "{name}"
released = 2027-03-01
shop = {{ name = "Tarn and Tide Papers" }}
guide = {{ wanted = false }}
page = {{ size = "A5", layout = "single", toolbar = "0 mm", coil = "none" }}
"""

OWN = '\n[assets]\nown = ["art/*"]\n'


@dataclass
class Pocket:
    """A product without a notebook: what its manifest says of stickers, and files by path."""

    more: str
    files: dict = field(default_factory=dict)
    name: str = "Harbour Pocket"
    assets: str = OWN

    def write(self, folder):
        """Lays the product out in a folder."""
        folder.mkdir(parents=True, exist_ok=True)
        text = HEAD.format(name=self.name) + self.more + self.assets
        (folder / "product.toml").write_text(text, encoding="utf-8")
        for path, content in self.files.items():
            (folder / path).parent.mkdir(parents=True, exist_ok=True)
            (folder / path).write_bytes(content)
        return folder


def build(pocket, folder, expect=0):
    """Builds it and gives its bundle."""
    return tool.build(pocket.write(folder / "product"), folder / "dist", expect=expect)


def judged(pocket, folder):
    """Exit code, findings and messages of a build."""
    run = tool.sheafwright("build", pocket.write(folder / "product"), "--out", folder / "dist", "--json")
    return run.returncode, json.loads(run.stdout)["findings"] if run.stdout else [], run.stderr


def png(pixels):
    """Pixels as a PNG file, by Pillow."""
    out = io.BytesIO()
    Image.fromarray(pixels.astype(numpy.uint8), "RGBA").save(out, "PNG")
    return out.getvalue()


def pixels(path):
    """A PNG file as pixels, by Pillow."""
    with Image.open(path) as picture:
        assert picture.mode == "RGBA"
        return numpy.asarray(picture).astype(int)


def ink(alpha):
    """The rows and columns that are not clear."""
    rows, columns = numpy.flatnonzero(alpha.any(1)), numpy.flatnonzero(alpha.any(0))
    return slice(rows[0], rows[-1] + 1), slice(columns[0], columns[-1] + 1)


def linear(srgb):
    """Linear light of 8-bit sRGB (IEC 61966-2-1)."""
    v = numpy.asarray(srgb, float) / 255
    return numpy.where(v <= 0.04045, v / 12.92, ((v + 0.055) / 1.055) ** 2.4)


def encoded(light):
    """8-bit sRGB of linear light."""
    v = numpy.clip(light, 0, 1)
    return 255 * numpy.where(v <= 0.0031308, v * 12.92, 1.055 * v ** (1 / 2.4) - 0.055)
