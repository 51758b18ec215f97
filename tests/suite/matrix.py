"""A product that comes in variants, put together by hand: what `proof` shows of a bundle, whoever made it."""

import hashlib
import json
import shutil
from pathlib import Path

import products
import tool

STICKERS = """
[[cover]]
name = "Slate"
design = "banded"
colour = "{colour}"

[[sticker]]
motif = "tally"

[[sticker]]
motif = "week-strip"
{more}
[style]
accent = "{colour}"
"""


def recipe(colour, sections, stickers=""):
    return products.Recipe(
        "Creel Log",
        page='size = "A5"\nlayout = "single"',
        sections=sections,
        section_pages={"Tides": [("tide-table", 2)]},
        more=STICKERS.format(colour=colour, more=stickers),
    )


BOATS = ["Boats", "Tides", "Crew"]
# Clay has a section more in front, so that the same place has another number; and a sticker more.
VARIANTS = {
    "moss-left": ("Moss, Left hand", {"hand": "left", "colourway": "moss"}, recipe("#3f6b4a", BOATS)),
    "moss-right": ("Moss, Right hand", {"hand": "right", "colourway": "moss"}, recipe("#3f6b4b", BOATS)),
    "clay-left": (
        "Clay pot, Left hand",
        {"hand": "left", "colourway": "clay"},
        recipe("#a4553a", ["Weather", *BOATS], '[[sticker]]\nmotif = "to-do-box"\nlabel = "Nets"\n'),
    ),
}
SHARED = ("licence-terms.txt",)


def put_together(folder):
    """Builds every variant and lays the files out as one bundle; gives its folder."""
    out, files = folder / "bundle", []
    record = {}
    for name, (_, _, made) in VARIANTS.items():
        built = tool.build(made.write(folder / name), folder / f"{name}-dist")
        record = record or built.record
        for file in built.record["files"]:
            path = Path(file["path"])
            if path.parts[0] != "contents":
                continue
            shared = path.name in SHARED
            inner = Path(*path.parts[1:])
            if not shared:
                inner = Path(name, inner if len(inner.parts) > 1 else f"{inner.stem}-{name}{inner.suffix}")
            target = out / "contents" / inner
            if target.exists():
                continue
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(built.folder / path, target)
            digest = hashlib.sha256(target.read_bytes()).hexdigest()
            entry = file | {"path": f"contents/{inner.as_posix()}", "sha256": digest}
            files.append(entry if shared else entry | {"variant": name})
    titled = [{"name": n, "title": title, "values": values} for n, (title, values, _) in VARIANTS.items()]
    record |= {"files": files, "variants": titled}
    (out / "bundle.json").write_text(json.dumps(record, indent=2), encoding="utf-8")
    return out
