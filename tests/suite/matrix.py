"""A product that comes in variants: two colourways for two hands, one pair left out."""

import products

MORE = """
[[cover]]
name = "Slate"
design = "banded"
colour = "#5a6b78"

[[sticker]]
motif = "tally"

[[sticker]]
motif = "week-strip"

[variants.colourway]
moss = { style = { accent = "#3f6b4a" } }

# One section more in front, so that the same place has another number; and a label of its own on a sticker.
[variants.colourway.clay]
title = "Clay pot"
style = { accent = "#a4553a" }
notebook = { cover = { colour = "#8d4630" }, section = [{ name = "Weather" }, { name = "Boats" }, { name = "Tides", pages = [{ template = "tide-table", count = 2 }] }, { name = "Crew" }] }
sticker = [{ motif = "tally" }, { motif = "week-strip" }, { motif = "to-do-box", label = "Nets" }]

[variants.a-hand]
right = {}
left = { page = { toolbar = "12 mm", toolbar-edge = "left" } }

[[variants.skip]]
colourway = "clay"
a-hand = "left"
"""

CREEL_LOG = products.Recipe(
    "Creel Log",
    page='size = "240 x 180 mm"\nlayout = "spread"',
    coil="middle",
    sections=["Boats", "Tides", "Crew"],
    section_pages={"Tides": [("tide-table", 2)]},
    more=MORE,
)
