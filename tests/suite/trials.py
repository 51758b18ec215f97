"""Three products as a designer would make them, in scenarios of our own: a planner in eight variants, art of one's own beside a
notebook that came finished, and a year by hand."""

import products
from finished import planner as finished_pdf

HEAD = """\
name = "{name}"
version = "1.0.0"
released = 2027-03-01
language = "en-GB"
shop = {{ name = "Gannet Rock Stationers", contact = "keeper@gannet-rock.example" }}
"""


class Written(products.Recipe):
    """A product by its whole manifest."""

    text = ""

    def manifest(self):
        return self.text


def written(name, text, **files):
    made = Written(name, files={path: (lambda content=content: content) for path, content in files.items()})
    made.text = HEAD.format(name=name) + text
    return made


# A lighthouse keeper's planner: two sizes, two hands, two colourways, each its own archive.
PLANNER = written(
    "Lamp Room Planner",
    """
[page]
size = "A5"
layout = "single"
coil = "top"
[calendar]
first = "2027-05"
months = 2
[notebook]
first-day = "monday"
[[notebook.dated]]
pages = "month"
[[notebook.dated]]
pages = "week"
[[notebook.section]]
name = "Lamp"
pages = [{ template = "lamp-log", count = 2 }]
[[notebook.section]]
name = "Stores"
[[notebook.template]]
name = "Lamp log"
ruling = "chart"
[[notebook.template]]
name = "Weather"
ruling = "lined"
[[cover]]
name = "Fog"
[[sticker]]
motif = "weather-row"
[[sticker]]
motif = "star"
[limits]
files = 10
[delivery]
zip-per-variant = true
[variants.size]
small = {}
tablet = { page.size = "tablet-4x3" }
[variants.hand]
right = {}
left = { page.hand = "left" }
[variants.colourway]
brass = { style.accent = "#8a6a2f" }
storm = { style.accent = "#3d566b", notebook.section = [{ name = "Lamp", pages = [{ template = "lamp-log", count = 5 }] }, { name = "Stores" }, { name = "Boats" }] }
""",
)

GULL = b"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 80"><path d="M10 50 Q35 10 60 45 Q85 10 110 50 L60 62 Z" fill="#6d7f8c"/></svg>"""
WRECK = b"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 120"><path d="M10 90 H90 L75 112 H25 Z" fill="#7a4a2f"/><path d="M50 12 V88" stroke="#4d2f1f" stroke-width="6"/></svg>"""
COVER = b"""<svg xmlns="http://www.w3.org/2000/svg" width="480" height="360"><rect width="480" height="360" fill="#274156"/><circle cx="330" cy="120" r="60" fill="#e8d9a8"/></svg>"""

# A salvage diver's art, and a notebook that another program has exported.
FINISHED = written(
    "Wreck Book",
    """
[assets]
own = ["art/*", "exports/*"]
[notebook]
file = "exports/notebook.pdf"
[[notebook.section]]
name = "Neaps"
page = 3
[[notebook.section]]
name = "Springs"
page = 6
last-page = 11
[[cover]]
name = "Moonrise"
art = "art/cover.svg"
[[sticker]]
file = "art/gull.svg"
longest = "38 mm"
border = { width = "2 mm" }
[[sticker]]
file = "art/wreck.svg"
longest = "30 mm"
[[sticker]]
file = "art/buoy.png"
longest = "11 mm"
""",
    **{
        "exports/notebook.pdf": finished_pdf(),
        "art/cover.svg": COVER,
        "art/gull.svg": GULL,
        "art/wreck.svg": WRECK,
        "art/buoy.png": products.buoy_png(),
    },
)

MONTHS = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"]
HIVES = ["Orchard", "Quarry", "Chapel"]
HIVE = b"""<svg xmlns="http://www.w3.org/2000/svg" width="148" height="210" viewBox="0 0 148 210">
<text x="14" y="24" font-size="9">{{ name }}</text>
<text x="14" y="40" font-size="6">Queen of {{ data.queen }}, {{ data.frames }} frames</text>
<rect id="link:page/{{ data.next }}" x="14" y="50" width="60" height="24" fill="#f0e2b8"/></svg>"""


def month(i):
    names = HIVES if i == 0 else []
    hives = [
        f'{{ template = "hive", name = "{h}", data = {{ queen = {2024 + k}, frames = {8 + k}, next = "{HIVES[(k + 1) % 3].lower()}" }} }}'
        for k, h in enumerate(names)
    ]
    sticker = 'stickers = [{ sticker = "star", at = ["30 %", "50 %"], width = "18 mm", turn = 10 }]'
    pages = [f'{{ template = "days-by-hand", name = "{MONTHS[i]} by hand", {sticker} }}', '{ template = "notes", count = 2 }', *hives]
    return f'[[notebook.section]]\nname = "{MONTHS[i]}"\npages = [{", ".join(pages)}]\n'


# A beekeeper's year with pages by hand, each with a name, some with data: drawn once, used over and over, not offered.
BY_HAND = written(
    "Hive Year",
    """
[assets]
own = ["art/*"]
[page]
size = "A5"
layout = "single"
coil = "none"
[notebook]
parts = ["cover", "index", "sections", "overview", "templates", "welcome"]
foot = false
"""
    + "".join(month(i) for i in range(12))
    + """
[[notebook.template]]
name = "Days by hand"
ruling = "month"
overview = false
[[notebook.template]]
name = "Hive"
art = "art/hive.svg"
overview = false
[[notebook.template]]
name = "Notes"
ruling = "lined"
[[notebook.template]]
name = "Sketch"
ruling = "dot-grid"
[[sticker]]
motif = "star"
[[sticker]]
motif = "tally"
""",
    **{"art/hive.svg": HIVE},
)

ALL = {"planner": PLANNER, "finished": FINISHED, "by-hand": BY_HAND}
