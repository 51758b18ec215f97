"""Random products with variants, and a reader that counts again by itself what the texts of their bundles say.

Pages and links are counted with pikepdf, pictures with Pillow, entries with zipfile. What is read out of a text is a number
and the word behind it; which variant it is said of follows from the folder or the title in the same line or heading.
"""

import random
import re
import zipfile
from dataclasses import replace
from pathlib import Path

import pikepdf
from PIL import Image

import products

NAMES = ["Boats", "Tides", "Crew", "Repairs", "Ports", "Knots", "Weather", "Birds"]
SIZES = ['"A5"', '"A4"', '"tablet-4x3"', '"tablet-3x2"', '"Letter"', '"150 x 200 mm"', '"1640 x 2360 px at 264 dpi"']
MOTIFS = ["tally", "week-strip", "star", "to-do-box", "habit-dots", "month-dots"]
RULINGS = ["lined", "checklist", "dot-grid", "square-grid", "day", "week", "month", "blank"]


def stickers(dice, count):
    chosen = dice.sample(MOTIFS, count)
    return "[" + ", ".join(f'{{ motif = "{m}" }}' for m in chosen) + "]"


def sections(dice, count):
    named = dice.random() < 0.7
    rows = [f'{{ name = "{n}" }}' if named or dice.random() < 0.4 else "{}" for n in dice.sample(NAMES, count)]
    return "[" + ", ".join(rows) + "]"


def structure(dice, own, behind, templates, chosen):
    """Which parts a notebook has, and which templates it offers: keys of the notebook, and of templates by their name."""
    slug = lambda name: name.lower().replace(" ", "-")  # noqa: E731
    keys, hidden = [], {}
    if dice.random() < 0.5:
        front = [p for p in ["cover", "welcome", "index"] if dice.random() < 0.7]
        back = dice.choice([["overview", "templates"], ["overview", "templates"], ["templates"], []])
        if dice.random() < 0.3:
            front, back = back, front
        keys.append(f"parts = {front + ['sections'] + back}".replace("'", '"'))
    if dice.random() < 0.25 and "parts" not in chosen:
        keys.append("dividers = false")
        for name in own[1:]:
            behind[name] = [(slug(templates[-1][0]), dice.choice([1, 3]))]
    keys += [f"{key} = false" for key in ("foot", "marks") if dice.random() < 0.2]
    if dice.random() < 0.3:
        hidden[templates[-1][0]] = "overview = false"
    return "\n".join(keys), hidden


def recipe(seed):
    """A product that comes in two to six variants, which differ in one to three ways."""
    dice = random.Random(seed)
    rows = {
        "size": lambda: {f"s{i}": f"page.size = {s}" for i, s in enumerate(dice.sample(SIZES, dice.choice([2, 3])))},
        "hand": lambda: {"right": "", "left": 'page.hand = "left"'},
        "tongue": lambda: {"british": "", "french": 'language = "fr-FR"'},
        "set": lambda: {
            "small": f"sticker = {stickers(dice, 1)}",
            "large": f"sticker = {stickers(dice, dice.choice([3, 5, 6]))}",
        },
        "sheet": lambda: {"both": "", "plain": 'stickers.sheets = "pdf"', "clear": 'stickers.sheets = "png"'},
        "parts": lambda: {
            "few": f"notebook.section = {sections(dice, 2)}",
            "many": f"notebook.section = {sections(dice, dice.choice([3, 7]))}",
        },
        "wraps": lambda: {
            "one": 'cover = [{ name = "Slate" }]',
            "three": 'cover = [{ name = "Slate" }, { name = "Rope" }, { name = "Sailcloth" }]',
        },
    }
    chosen = dice.sample(sorted(rows), dice.choice([1, 1, 2, 2, 3]))
    text, count = [], 1
    for name in chosen:
        choices = rows[name]()
        if count * len(choices) > 6:
            break
        count *= len(choices)
        lines = [f"[variants.{name}]"]
        for key, over in choices.items():
            # One key after the other: `a.b = 1` and `c = 2` stand in the same table.
            lines.append(f"{key} = {{ {over} }}")
        text.append("\n".join(lines))
    base = ['[[cover]]\nname = "Lantern"\n'] if "wraps" in chosen or dice.random() < 0.7 else []
    if "set" in chosen or dice.random() < 0.8:
        base += [f'[[sticker]]\nmotif = "{m}"\n' for m in dice.sample(MOTIFS, dice.choice([1, 2, 4]))]
    if "sheet" in chosen and not any("[[sticker]]" in part for part in base):
        # Without stickers all choices of sheets are the same, which the tool refuses.
        base.append('[[sticker]]\nmotif = "star"\n')
    templates = [(f"{r.replace('-', ' ').title()} page", r, "{}") for r in dice.sample(RULINGS, dice.choice([1, 2, 5]))]
    slug = lambda name: name.lower().replace(" ", "-")  # noqa: E731
    own = dice.sample(NAMES, dice.choice([1, 3, 5]))
    behind = {own[0]: [(slug(templates[0][0]), dice.choice([1, 2, 13]))]}
    if dice.random() < 0.4:
        behind[own[0]] += [(slug(templates[0][0]), f"Leg {n + 1}") for n in range(dice.choice([1, 4, 30]))]
    keys, hidden = structure(dice, own, behind, templates, chosen)
    layout = dice.choice(["single", "single", "spread"])
    return products.Recipe(
        f"Random Log {seed}",
        page=f'size = {dice.choice(SIZES)}\nlayout = "{layout}"',
        coil=dice.choice(["none", "middle" if layout == "spread" else "top"]),
        sections=own,
        section_pages=behind,
        keys=keys,
        template_keys=hidden,
        templates=templates,
        more="\n".join([*base, *text]),
    )


class Counted:
    """What a bundle holds, counted from its files alone: for each variant, and for all of it."""

    def __init__(self, bundle):
        self.root = Path(bundle.folder)
        self.variants = bundle.record.get("variants", [])
        self.kinds = {f["path"]: f["kind"] for f in bundle.record["files"]}
        self.loose = sorted(p.relative_to(self.root).as_posix() for p in (self.root / "contents").rglob("*") if p.is_file())
        self.pages, self.links, self.taps, self.dpi, self.templates, self.sections = {}, {}, {}, {}, {}, {}
        for path in self.loose:
            if path.endswith(".pdf"):
                with pikepdf.open(self.root / path) as pdf:
                    self.pages[path] = len(pdf.pages)
                    marks = [a for page in pdf.pages for a in page.get("/Annots", []) if a.Subtype == "/Link"]
                    self.links[path] = sum(1 for a in marks if "/Dest" in a)
                    # Those to addresses as well.
                    self.taps[path] = len(marks)
                    with pdf.open_outline() as outline:
                        tops = [e for e in outline.root if e.title in ("Templates", "Template pages")]
                        self.templates[path] = sum(len(e.children) for e in tops)
                        self.sections[path] = sum(len(e.children) for e in outline.root if e.title == "Sections")
            elif path.endswith(".png"):
                with Image.open(self.root / path) as picture:
                    self.dpi[path] = round(picture.info["dpi"][0])

    def of(self, variant):
        """The loose files that a buyer of this variant wants; of all where it is None."""
        names = {v["name"] for v in self.variants}
        folder = lambda path: path.split("/")[1] if path.count("/") > 1 else ""  # noqa: E731
        return [p for p in self.loose if folder(p) not in names or variant is not None and folder(p) == variant["name"]]

    def figures(self, variant):
        """Each figure of a variant, by the word that counts it."""
        mine = self.of(variant)
        kind = lambda k: [p for p in mine if self.kinds[p] == k]  # noqa: E731
        sheets = kind("sheet")
        total = lambda paths: sum(self.pages[p] for p in paths if p in self.pages)  # noqa: E731
        printed = total(sheets)
        return {
            "notebook pages": total(kind("notebook")),
            "links": sum(self.links[p] for p in kind("notebook")),
            "taps": sum(self.taps[p] for p in kind("notebook")),
            "sections": sum(self.sections[p] for p in kind("notebook")),
            "templates": sum(self.templates[p] for p in kind("notebook")),
            "covers": total(kind("covers")),
            "stickers": len(kind("sticker")),
            "sheets": printed or sum(1 for p in sheets if p.endswith(".png")),
            "sheet pictures": sum(1 for p in sheets if p.endswith(".png")),
            "guide pages": total(kind("guide")),
        }

    def all(self):
        return [self.figures(v) for v in self.variants or [None]]

    def entries(self, upload):
        with zipfile.ZipFile(self.root / "upload" / upload) as archive:
            return len(archive.namelist())


NUMBER = r"(no|[\d,]+(?: to [\d,]+)?|up to [\d,]+)"
WORDS = {
    "notebook pages": rf"{NUMBER}[ -]pages?\b(?! of| template)",
    "links": rf"{NUMBER} links?\b",
    "templates": rf"{NUMBER} page templates?\b",
    "covers": rf"{NUMBER} covers?\b",
    "stickers": rf"{NUMBER} stickers?\b(?! sheet)",
    "sheets": rf"{NUMBER} sticker sheets?\b",
}


def span(said):
    """The least and the most that a number or a range states."""
    numbers = [int(n.replace(",", "")) for n in re.findall(r"[\d,]+", said)]
    if said.startswith("up to"):
        return [0, numbers[0]]
    return [0, 0] if said == "no" else [min(numbers), max(numbers)]


def description(bundle, counted):
    """Every number that the description states, as (what, said, true): `said` and `true` are the least and the most."""
    out = []
    text = (counted.root / "listing/description.md").read_text(encoding="utf-8")
    every = counted.all()
    over = lambda what: [min(f[what] for f in every), max(f[what] for f in every)]  # noqa: E731
    for line in text.splitlines():
        spoken = [v for v in counted.variants if line.strip().startswith(f"- {v['title']}") and line.startswith("  ")]
        guide = re.search(rf"guide\*{{0,2}} of {NUMBER} pages?", line)
        rest = line.replace(guide[0], "") if guide else line
        for what, pattern in [*WORDS.items(), ("guide pages", rf"guide\*{{0,2}} of {NUMBER} pages?")]:
            upload = re.match(r"- `([^`]+)`: ", line)
            # A cover is a page without links; nothing is counted there.
            if upload or "covers have no links" in line:
                continue
            for found in re.finditer(pattern, line if what == "guide pages" else rest):
                true = [counted.figures(spoken[0])[what]] * 2 if spoken else over(what)
                out.append((f"{what}: {line}", span(found[1]), true))
        upload = re.match(r"- `([^`]+)`: zip archive.*, ([\d,]+) files?", line)
        if upload:
            out.append((line, span(upload[2]), [counted.entries(upload[1])] * 2))
    return out


def start_here(bundle, counted):
    """Every number of the text to read first, likewise."""
    text = (counted.root / "contents/start-here.txt").read_text(encoding="utf-8")
    # Lines are wrapped: what is set in belongs to the line before.
    lines = re.sub(r"\n {2,}", " ", text)
    lines = re.sub(r"(?<=[a-z,;:(]) ?\n(?=[a-z(])", " ", lines).splitlines()
    spoken, out, seen = [None], [], False
    for line in lines:
        seen |= line.startswith("What each file is")
        if not seen:
            continue
        named = [v for v in counted.variants if re.search(rf"\b{re.escape(v['name'])}/", line)]
        if line.startswith("In ") and named:
            spoken = named
        own = lambda v: [p for p in counted.of(v) if v is None or p.startswith(f"contents/{v['name']}/")]  # noqa: E731
        for v in spoken:
            kinds = lambda k: [p for p in own(v) if counted.kinds[p] == k]  # noqa: E731
            pages = lambda k: sum(counted.pages.get(p, 0) for p in kinds(k))  # noqa: E731
            for pattern, true in [
                (r": the notebook, ([\d,]+) pages?", pages("notebook")),
                (r": ([\d,]+) covers?, to put", pages("covers")),
                (r"step by step, ([\d,]+) pages?", pages("guide")),
                (r"stickers on sheets, ([\d,]+) pages?", pages("sheet")),
                (r"([\d,]+) pictures? on a clear ground", sum(p.endswith(".png") for p in kinds("sheet"))),
                (r": ([\d,]+) stickers?, a PNG", len(kinds("sticker"))),
            ]:
                out += [(f"{v and v['name']}: {line}", span(n), [true] * 2) for n in re.findall(pattern, line)]
    return out


def guides(bundle, counted):
    """Numbers in the guide, of each variant that it is for."""
    import tool

    out = []
    for path in [p for p in counted.loose if counted.kinds[p] == "guide"]:
        owners = [v for v in counted.variants if path.startswith(f"contents/{v['name']}/")] or counted.variants or [None]
        text = " ".join(tool.program("pdftotext", counted.root / path, "-").split())
        for v in owners:
            figures = counted.figures(v)
            for pattern, what in [
                (r"A notebook of (\d+) pages? takes a moment", "notebook pages"),
                (r"The notebook brings (\d+) page templates?", "templates"),
                (r"There (?:is|are) (\d+) of them, of the same size", "covers"),
                (r"You have (\d+) stickers?: PNG", "stickers"),
            ]:
                out += [(f"guide of {v}: {what}", span(n), [figures[what]] * 2) for n in re.findall(pattern, text)]
    return out


def files_txt(bundle, counted):
    """Pages, pictures, entries and bytes of every file in the list of files."""
    text = (counted.root / "listing/files.txt").read_text(encoding="utf-8")
    _, _, loose = text.partition("Files after unzipping")
    out = []
    for name, figures in re.findall(r"\n(\S+)\n    ([^\n]+(?:\n {4}[^- ][^\n]*)*)", loose):
        path = f"contents/{name}"
        size = re.search(r"([\d,]+) bytes", figures)
        out.append((f"bytes of {name}", span(size[1]), [(counted.root / path).stat().st_size] * 2))
        pages = re.search(r"([\d,]+) pages?", figures)
        if pages:
            out.append((f"pages of {name}", span(pages[1]), [counted.pages[path]] * 2))
    for folder, block, files in [
        ("contents", r"after unzipping", [counted.root / path for path in counted.loose]),
        ("upload", r"to download", [p for p in (counted.root / "upload").rglob("*") if p.is_file()]),
    ]:
        stated = re.search(rf"{block}: ([\d,]+) files?, ([\d,]+) bytes", " ".join(text.split()))
        out.append((f"files in {folder}", span(stated[1]), [len(files)] * 2))
        out.append((f"bytes in {folder}", span(stated[2]), [sum(p.stat().st_size for p in files)] * 2))
    uploads, _, _ = text.partition("Files after unzipping")
    for name, figures in re.findall(r"\n(\S+)\n    ([^\n]+(?:\n {4}[^- ][^\n]*)*)", uploads):
        size = re.search(r"([\d,]+) bytes", figures)
        out.append((f"bytes of {name}", span(size[1]), [(counted.root / "upload" / name).stat().st_size] * 2))
        files = re.search(r"([\d,]+) files?\b", figures)
        if files:
            out.append((f"files in {name}", span(files[1]), [counted.entries(name)] * 2))
    return out


def proof(bundle, counted):
    """The figures at the head of the proof: of the product, or of each variant that one switches to."""
    text = (counted.root / "proof.html").read_text(encoding="utf-8")
    lists = re.findall(r'<dl class="facts"(?: data-variant="(\d+)")?(?: hidden)?>(.*?)</dl>', text, re.S)
    assert len(lists) == max(1, len(counted.variants)), [of for of, _ in lists]
    names = {"notebook pages": "notebook pages", "taps": "taps", "covers": "covers", "stickers": "stickers"}
    out = []
    for of, rows in lists:
        variant = counted.variants[int(of)] if of else None
        figures = counted.figures(variant)
        stated = {label: int(n.replace(",", "")) for label, n in re.findall(r"<dt>([a-z ]+)</dt><dd>([\d,]+)</dd>", rows)}
        # What there is none of is not told.
        out += [(f"proof of {variant}: {label}", [stated.get(label, 0)] * 2, [figures[what]] * 2) for label, what in names.items()]
    return out


def on_pictures(counted):
    """The figures that stand on listing pictures, as they must be written: over all variants, the least and the most."""
    every = counted.all()

    def said(what):
        least, most = min(f[what] for f in every), max(f[what] for f in every)
        return f"{most:,}" if least == most else f"{least:,}\u2013{most:,}"

    return {what: said(what) for what in ("notebook pages", "links", "sections", "templates", "covers", "stickers")}


READERS = [description, start_here, guides, files_txt, proof]
__all__ = ["Counted", "READERS", "on_pictures", "recipe", "replace"]
