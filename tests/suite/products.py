"""The products that the tests build: a shop and scenarios of our own, in every shape that a page can have."""

import io
import json
import random
from dataclasses import dataclass, field

from PIL import Image, ImageDraw

HEAD = """\
name = "{name}"
version = "1.0.0"
released = 2027-03-01
language = "en-GB"
shop = {{ name = "Tarn and Tide Papers", contact = "help@tarn-and-tide.example" }}
"""

TEMPLATES = [
    ("Deck log", "lined", '{ pitch = "wide" }'),
    ("Watch list", "checklist", "{}"),
    ("Sea chart", "square-grid", "{ pitch = 5 }"),
    ("Sounding dots", "dot-grid", "{ pitch = 5 }"),
    ("Tide table", "chart", "{}"),
    ("Day at sea", "day", "{}"),
    ("Open water", "blank", "{}"),
]


@dataclass
class Recipe:
    """A product: its name, what its manifest says beyond that, and the files beside the manifest."""

    name: str
    page: str = ""
    sections: list = field(default_factory=list)
    section_pages: dict = field(default_factory=dict)
    templates: list = field(default_factory=lambda: TEMPLATES)
    coil: str = "none"
    more: str = ""
    top: str = ""
    files: dict = field(default_factory=dict)
    # Keys of the notebook itself, and of templates by their name.
    keys: str = ""
    template_keys: dict = field(default_factory=dict)

    def manifest(self):
        text = [HEAD.format(name=self.name), self.top, f'[page]\n{self.page}\ncoil = "{self.coil}"\n[notebook]\n{self.keys}\n']
        for name in self.sections:
            text.append("[[notebook.section]]\n" + (f'name = "{name}"\n' if name else ""))
            if name in self.section_pages:
                pages = ", ".join(f'{{ template = "{t}", {f"count = {n}" if isinstance(n, int) else f"name = {json.dumps(n)}"} }}' for t, n in self.section_pages[name])
                text.append(f"pages = [{pages}]\n")
        for name, ruling, parameters in self.templates:
            text.append(f'[[notebook.template]]\nname = "{name}"\nruling = "{ruling}"\nwith = {parameters}\n{self.template_keys.get(name, "")}\n')
        return "\n".join(text) + self.more

    def write(self, folder):
        """Lays the product out in a folder."""
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "product.toml").write_text(self.manifest(), encoding="utf-8")
        for path, make in self.files.items():
            (folder / path).parent.mkdir(parents=True, exist_ok=True)
            (folder / path).write_bytes(make())
        return folder


def buoy_png():
    """A buoy with soft edges on a clear ground."""
    picture = Image.new("RGBA", (320, 400), (0, 0, 0, 0))
    pen = ImageDraw.Draw(picture)
    pen.polygon([(60, 380), (260, 380), (200, 90), (120, 90)], fill=(190, 60, 50, 255))
    pen.ellipse((120, 20, 200, 100), fill=(245, 220, 120, 255))
    pen.rectangle((90, 220, 230, 270), fill=(250, 248, 240, 255))
    out = io.BytesIO()
    picture.resize((160, 200), Image.Resampling.LANCZOS).save(out, "PNG")
    return out.getvalue()


def anchor_svg():
    return b"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 120">
<g fill="none" stroke="#2f4f6f" stroke-width="9" stroke-linecap="round">
<circle cx="50" cy="18" r="11"/><path d="M50 30 V108 M28 46 H72 M12 74 Q18 108 50 108 Q82 108 88 74"/></g></svg>"""


def sailcloth_jpg():
    """Woven cloth, the same every time."""
    dice = random.Random(7)
    picture = Image.new("RGB", (240, 180))
    for y in range(180):
        for x in range(240):
            shade = 205 + (x // 3 % 2) * 8 - (y // 3 % 2) * 8 + dice.randrange(-5, 6)
            picture.putpixel((x, y), (shade, shade - 6, shade - 18))
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=85)
    return out.getvalue()


FULL = """
[[cover]]
name = "Slate"
design = "banded"
colour = "#5a6b78"

[[cover]]
name = "Rope"
design = "framed"
colour = "#b08a4f"

[[cover]]
name = "Sailcloth"
texture = "art/sailcloth.jpg"

[stickers]
dpi = 300
padding = "1.5 mm"

[[sticker]]
file = "art/anchor.svg"
longest = "40 mm"

[[sticker]]
file = "art/buoy.png"
longest = "12 mm"
border = { width = "1.5 mm" }

[[sticker]]
motif = "to-do-box"
label = "Before we sail"

[[sticker]]
motif = "tally"

[[sticker]]
motif = "week-strip"

[assets]
own = ["art/*"]

[licence]
small-commercial = 25
refunds = 14
credits = ["Anchor, buoy and sailcloth: drawn for this product"]

[listing]
title = "Harbour Log: a hyperlinked notebook for small boats"
summary = "Write down tides, repairs and good days out."
tags = ["digital notebook", "sailing log", "boat journal"]
"""

FULL_FILES = {"art/anchor.svg": anchor_svg, "art/buoy.png": buoy_png, "art/sailcloth.jpg": sailcloth_jpg}

FULL_PRODUCT = Recipe(
    "Harbour Log",
    page='size = "240 x 180 mm"\nlayout = "spread"',
    coil="middle",
    sections=["Boats", "Tides", "Crew", "Repairs", "Ports"],
    section_pages={"Tides": [("tide-table", 2)], "Repairs": [("watch-list", 1), ("deck-log", 3)]},
    more=FULL,
    files=FULL_FILES,
)

# Every shape of page: the links of each are followed, and each must build without an error.
LAYOUTS = {
    "spread": FULL_PRODUCT,
    "upright": Recipe(
        "Upright Log",
        page='size = "A5"\nlayout = "single"',
        coil="top",
        sections=["Boats", "Tides", "Crew", "Repairs", "Ports", "Knots"],
        section_pages={"Boats": [("deck-log", 2)], "Knots": [("open-water", 1)]},
    ),
    "no-coil": Recipe("Loose Log", page='size = "Letter"\nlayout = "single"', sections=["Boats", "Tides", "Crew"]),
    "phone": Recipe(
        "Pocket Log", page='size = "75 x 162 mm"\nlayout = "single"', sections=[f"P{n}" for n in range(1, 25)]
    ),
    "a4-spread": Recipe(
        "Chart Table",
        page='size = "A4"\norientation = "landscape"\nlayout = "spread"',
        coil="middle",
        sections=[f"Leg {n}" for n in range(1, 25)],
        section_pages={"Leg 24": [("sea-chart", 2)]},
    ),
    "one-section": Recipe(
        "Day Sail", page='size = "tablet-3x2"\nlayout = "single"', coil="top", sections=["Everything"]
    ),
    "toolbar-left": Recipe(
        "Port Side Log",
        page='size = "tablet-4x3"\norientation = "landscape"\nlayout = "spread"\ntoolbar = "12 mm"\ntoolbar-edge = "left"',
        coil="middle",
        sections=["Boats", "", "Crew", "", "Ports", "Knots", "Birds", "Bread", "Wind", "Light", "Rope", "Rest"],
    ),
}
