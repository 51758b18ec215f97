"""Draws art/sowing-wheel.pdf: a year as a wheel, with room to write in. Needs reportlab, and matplotlib for its typeface.

    python3 sowing_wheel.py ../sowing-wheel.pdf
"""

import math
import os
import sys

import matplotlib
from reportlab.lib.colors import HexColor
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

WIDTH, HEIGHT = 222 * mm, 169.1 * mm
INK, RULE, PAPER = HexColor("#33403a"), HexColor("#b9bfae"), HexColor("#fdfbf5")
# From snow to snow: a colour for every month, cold to warm and back.
MONTHS = [
    ("January", "#c9d6dc"), ("February", "#cbdcd6"), ("March", "#cfe0c3"), ("April", "#c6dba6"),
    ("May", "#b7d190"), ("June", "#cdd687"), ("July", "#e6d98a"), ("August", "#ecc987"),
    ("September", "#e8b489"), ("October", "#dda58c"), ("November", "#cfb5a6"), ("December", "#cccac6"),
]  # fmt: skip
ROWS = ["Under glass", "Out of doors", "Planted on", "First picked"]


def fonts():
    """Two faces of DejaVu Sans, which may be embedded in files that people write on."""
    folder = os.path.join(matplotlib.get_data_path(), "fonts", "ttf")
    pdfmetrics.registerFont(TTFont("Plain", os.path.join(folder, "DejaVuSans.ttf")))
    pdfmetrics.registerFont(TTFont("Bold", os.path.join(folder, "DejaVuSans-Bold.ttf")))


def ring(c, x, y, inner, outer, start, sweep):
    """A piece of a ring as a path."""
    path = c.beginPath()
    path.arc(x - outer, y - outer, x + outer, y + outer, start, sweep)
    path.arcTo(x - inner, y - inner, x + inner, y + inner, start + sweep, -sweep)
    path.close()
    return path


def around(c, text, x, y, radius, angle, font, size):
    """Text along a circle, its middle at an angle; it stands on its feet in the lower half as well."""
    widths = [pdfmetrics.stringWidth(ch, font, size) for ch in text]
    lower = math.sin(math.radians(angle)) < -0.1
    turn = 1 if lower else -1
    radius = radius + (size * 0.7 if lower else 0)
    at = angle - turn * math.degrees(sum(widths) / radius) / 2
    c.setFont(font, size)
    for ch, width in zip(text, widths):
        middle = at + turn * math.degrees(width / radius) / 2
        c.saveState()
        c.translate(x + radius * math.cos(math.radians(middle)), y + radius * math.sin(math.radians(middle)))
        c.rotate(middle + (90 if lower else -90))
        c.drawString(-width / 2, 0, ch)
        c.restoreState()
        at += turn * math.degrees(width / radius)


def leaf(c, x, y, size, angle, colour):
    """A leaf with its midrib."""
    c.saveState()
    c.translate(x, y)
    c.rotate(angle)
    c.setFillColor(HexColor(colour))
    path = c.beginPath()
    path.moveTo(0, 0)
    path.curveTo(size * 0.25, size * 0.42, size * 0.75, size * 0.36, size, 0)
    path.curveTo(size * 0.75, -size * 0.36, size * 0.25, -size * 0.42, 0, 0)
    c.drawPath(path, stroke=0, fill=1)
    c.setStrokeColor(PAPER)
    c.setLineWidth(0.5)
    c.line(size * 0.1, 0, size * 0.86, 0)
    c.restoreState()


def wheel(c, x, y):
    """The wheel itself: month names outside, four rings to write in, a leaf in the middle that leads home."""
    edges = [11 * mm, 18.5 * mm, 25 * mm, 31.5 * mm, 38 * mm]
    for i, (name, colour) in enumerate(MONTHS):
        start = 90 - 30 * (i + 1)
        c.setFillColor(HexColor(colour))
        c.drawPath(ring(c, x, y, edges[-1], edges[-1] + 6 * mm, start, 30), stroke=0, fill=1)
        c.setFillColor(HexColor(colour), alpha=0.28)
        c.drawPath(ring(c, x, y, edges[0], edges[-1], start, 30), stroke=0, fill=1)
        c.setFillColor(INK, alpha=1)
        around(c, name, x, y, edges[-1] + 1.8 * mm, start + 15, "Plain", 7.4)
    c.setStrokeColor(RULE)
    c.setLineWidth(0.5)
    for edge in edges:
        c.circle(x, y, edge)
    for i in range(12):
        angle = math.radians(30 * i)
        outer = edges[-1] + 6 * mm
        c.line(
            x + edges[0] * math.cos(angle), y + edges[0] * math.sin(angle),
            x + outer * math.cos(angle), y + outer * math.sin(angle),
        )  # fmt: skip
    for angle, colour in ((90, "#5c7f5e"), (210, "#7a8f4a"), (330, "#8fa873")):
        leaf(c, x, y, 8 * mm, angle, colour)


def notes(c, x, width, top):
    """The page beside it: a row for every ring and lines for what to do differently."""
    c.setFillColor(INK)
    c.setFont("Bold", 9)
    c.drawString(x, top, "From the inner ring to the outer")
    y = top - 9 * mm
    for i, row in enumerate(ROWS):
        c.setStrokeColor(INK)
        c.setFillColor(HexColor(MONTHS[3 + i][1]))
        c.circle(x + 2.2 * mm, y + 1.2 * mm, 2.2 * mm, stroke=0, fill=1)
        c.setFillColor(INK)
        c.setFont("Plain", 8)
        c.drawCentredString(x + 2.2 * mm, y + 0.3 * mm, str(i + 1))
        c.drawString(x + 7 * mm, y, row)
        c.setStrokeColor(RULE)
        c.line(x + 32 * mm, y - 0.8 * mm, x + width, y - 0.8 * mm)
        y -= 9 * mm
    y -= 6 * mm
    c.setFont("Bold", 9)
    c.drawString(x, y, "Sooner or later next year")
    c.setStrokeColor(RULE)
    y -= 9 * mm
    while y > 14 * mm:
        c.line(x, y, x + width, y)
        y -= 7.1 * mm


def main(out):
    fonts()
    # `invariant` keeps the clock out of the file: the same bytes every time.
    c = Canvas(out, pagesize=(WIDTH, HEIGHT), invariant=1, pageCompression=1)
    c.setTitle("Sowing wheel")
    c.setFillColor(PAPER)
    c.rect(0, 0, WIDTH, HEIGHT, stroke=0, fill=1)
    x, y = 53.7 * mm, 80 * mm
    c.setFillColor(INK)
    c.setFont("Bold", 15)
    c.drawString(10.4 * mm, HEIGHT - 17 * mm, "Sowing wheel")
    c.setFont("Plain", 8)
    c.drawString(10.4 * mm, HEIGHT - 23.5 * mm, "Write what goes where in its month. The leaves lead to the index.")
    wheel(c, x, y)
    notes(c, 125 * mm, 86.5 * mm, HEIGHT - 17 * mm)
    # The leaves lead to the page itself; the manifest says where they lead in the notebook.
    c.bookmarkPage("home")
    c.linkRect("Home", "home", (x - 10 * mm, y - 10 * mm, x + 10 * mm, y + 10 * mm), thickness=0)
    c.showPage()
    c.save()


if __name__ == "__main__":
    main(sys.argv[1])
