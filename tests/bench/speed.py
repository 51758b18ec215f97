"""Every row of what speed is promised for, beside its peer in the same run: `speed.py [RUNS] [ROW ...]`, three runs of all rows by default.

Rows: `cutting` (100 stickers from two sheets of 47 megapixels), `stickers` (10 to 1,000 of one motif), `variants` (1 to 24 of a
100-page notebook), `pages` (100 to 10,000, whole, writing alone, one ruling changed) and `diff` (all of 5,000 pages changed).
Peers are Pillow with scipy and oxipng, reportlab, krilla, pdf-writer and pymupdf; `run.sh` gets them. Every run is a process of its
own; wall and processor time are medians, memory is the largest. What counts is the ratio in one run. No timing is ever a test.
"""

import importlib.util
import multiprocessing
import os
import re
import shutil
import sys
import tempfile
from pathlib import Path

from measure import SECTIONS, TEMPLATES
from runs import Took, once, repeated

HERE = Path(__file__).resolve().parent
TOOL = os.environ["SHEAFWRIGHT_BIN"]
PEERS = os.environ.get("SHEAFWRIGHT_PEERS")
TIMES = {"SHEAFWRIGHT_TIMES": "1"}
HEAD = 'version = "1.0.0"\nreleased = 2027-03-01\n[guide]\nwanted = false\n'


def told(name, took, bytes_=None, peer=None):
    """One row, printed at once: a run can take long."""
    size = f"{bytes_:12,}" if bytes_ is not None else " " * 12
    ratio = f"{took.seconds / peer.seconds:6.2f}" if peer else " " * 6
    print(f"{name:52} {took.seconds:8.3f} {took.processor:8.2f} {took.memory / 1e6:6.0f} {size} {ratio}", flush=True)
    return took


def stage(took, *names):
    """Seconds that stages of these names took in the last run."""
    return sum(int(ms) / 1000 for name, ms in re.findall(r"([\w ]+?) (\d+) ms", took.said) if name.strip() in names)


def aside(work, *given):
    """Does it in a process of its own: a child begins with the memory of its parent, which must stay small."""
    process = multiprocessing.Process(target=work, args=given)
    process.start()
    process.join()
    assert process.exitcode == 0, work


def stages(took):
    """Prints what each stage took in the last run."""
    print("    " + next(line.strip() for line in took.said.splitlines() if " ms, " in line))


def bytes_of(path):
    return sum(p.stat().st_size for p in path.rglob("*") if p.is_file()) if path.is_dir() else path.stat().st_size


class Bench:
    def __init__(self, folder, runs):
        self.folder, self.runs = folder, runs
        self.product, self.dist, self.theirs = folder / "product", folder / "dist", folder / "theirs"

    def empty(self):
        for path in (self.dist, self.theirs):
            shutil.rmtree(path, ignore_errors=True)

    def write(self, text, files=None):
        shutil.rmtree(self.product, ignore_errors=True)
        (self.product / "art").mkdir(parents=True)
        (self.product / "product.toml").write_text(text)
        for name, make in (files or {}).items():
            aside(make, self.product / name)

    def build(self, runs=None, cold=True):
        command = [TOOL, "build", self.product, "--out", self.dist]
        return repeated(runs or self.runs, command, self.empty if cold else lambda: None, TIMES)

    def changed(self, *edits):
        """Each edit saved, and built once upon what lies there; the median."""
        file, results = self.product / "product.toml", []
        for old, new in edits:
            text = file.read_text()
            assert old in text, old
            file.write_text(text.replace(old, new))
            results.append(once([TOOL, "build", self.product, "--out", self.dist], TIMES))
        return sorted(results)[len(results) // 2]

    # Cutting.

    def cutting(self):
        def sheet(seed):
            def make(path):
                import numpy
                from PIL import Image, ImageDraw, ImageFilter

                dice = numpy.random.default_rng(seed)
                picture = Image.new("RGBA", (7000, 6720), (0, 0, 0, 0))
                for n in range(50):
                    x, y = n % 10 * 700 + 40, n // 10 * 1344 + 70
                    piece = Image.new("L", (620, 1200), 0)
                    pen = ImageDraw.Draw(piece)
                    pen.ellipse((0, 0, 619, 800), fill=255)
                    pen.rounded_rectangle((120, 500, 500, 1199), 90, fill=255)
                    wash = dice.integers(90, 230, (13, 7, 3), dtype=numpy.uint8)
                    colour = Image.fromarray(wash).resize(piece.size, Image.Resampling.BICUBIC)
                    colour = colour.filter(ImageFilter.GaussianBlur(2))
                    picture.paste(colour, (x, y), piece)
                picture.save(path, compress_level=3)

            return make

        groups = "".join(
            f'[[sticker-group]]\nname = "{name}"\ncut = "art/{name}.png"\nlongest = "101.6 mm"\nborder = {{ width = "1.6 mm" }}\n'
            for name in ("Shore", "Meadow")
        )
        head = HEAD.replace("[guide]\nwanted = false\n", 'page = { size = "A4", layout = "single", coil = "none" }\n')
        text = f'name = "Tin of Finds"\n{head}[assets]\nown = ["art/*"]\n[limits]\nmegabytes = 2000\n[stickers]\ndpi = 300\noptimise = "normal"\nsheets = "both"\n'
        self.write(text + groups, {f"art/{name}.png": sheet(n) for n, name in enumerate(("Shore", "Meadow"))})
        peer = repeated(1, [sys.executable, HERE / "cut.py", self.product / "art", self.theirs], self.empty)
        told("100 stickers cut: Pillow, scipy, oxipng", peer, bytes_of(self.theirs))
        print(" " * 4 + peer.said.strip())
        cold = told("the same by sheafwright", self.build(1), bytes_of(self.dist), peer)
        stages(cold)
        again = self.changed(("version", "\nversion"), ("\n[stickers]", "\n\n[stickers]"), ("\n[limits]", "\n\n[limits]"))
        told("  a blank line added", again, None, peer)
        file = self.product / "product.toml"
        file.write_text(file.read_text().replace('"normal"', '"quick"'))
        told("  quick", self.build(1), bytes_of(self.dist), peer)

    # Stickers of a motif.

    def stickers(self):
        for count in (10, 100, 1000):
            more = "".join(f'[[sticker]]\nmotif = "star"\nname = "Star {n}"\nlongest = "{20 + n % 9} mm"\n' for n in range(count))
            head = HEAD.replace("[guide]\nwanted = false\n", 'page = { size = "A5", layout = "single", coil = "none" }\n')
            self.write(f'name = "Night Jar"\n{head}[limits]\nmegabytes = 2000\n[stickers]\nsheets = "both"\n{more}')
            told(f"{count:,} stickers of a motif", self.build(), bytes_of(self.dist))

    # Variants.

    def variants(self):
        pages = "".join(
            f'[[notebook.section]]\nname = "{name}"\npages = [{{ template = "deck-log", count = 6 }}, {{ template = "sea-chart", count = 4 }}]\n'
            for name in SECTIONS
        )
        templates = "".join(f'[[notebook.template]]\nname = "{name}"\n{ruling}\n' for name, ruling in TEMPLATES)
        base = f'name = "Harbour Book"\n{HEAD}[notebook]\n{pages}{templates}'
        colours = "".join(f'c{n} = {{ style = {{ accent = "#{40 + 20 * n:02x}6f7a" }} }}\n' for n in range(6))
        rows = {
            1: "",
            2: '[variants.hand]\nright = { page = { hand = "right" } }\nleft = { page = { hand = "left" } }\n',
        }
        rows[12] = rows[2] + f"[variants.colourway]\n{colours}"
        rows[24] = rows[12] + '[variants.size]\na5 = { page = { size = "A5" } }\na4 = { page = { size = "A4" } }\n'
        first = None
        for count, more in rows.items():
            self.write(base + more)
            took = told(f"{count} of a 100-page notebook", self.build(), bytes_of(self.dist), first)
            first = first or took
            print(f"    proof of {bytes_of(next(self.dist.glob('*/*/proof.html'))):,} bytes")

    # Pages.

    def pages(self):
        for count in (100, 1000, 10000):
            each = max(1, (count - 12) // len(SECTIONS) // len(TEMPLATES))
            names = [re.sub(r"\s", "-", name.lower()) for name, _ in TEMPLATES]
            inside = ", ".join(f'{{ template = "{name}", count = {each} }}' for name in names)
            text = f'name = "Long Log"\n{HEAD}[page]\nsize = "240 x 180 mm"\nlayout = "spread"\ncoil = "middle"\n'
            text += '[limits]\nmegabytes = 2000\n[[lower]]\ncheck = "page-out-of-reach"\nreason = "long sections are leafed through"\n[notebook]\n'
            text += "".join(f'[[notebook.section]]\nname = "{name}"\npages = [{inside}]\n' for name in SECTIONS)
            text += "".join(f'[[notebook.template]]\nname = "{name}"\n{ruling}\n' for name, ruling in TEMPLATES)
            self.write(text)
            whole = self.build(self.runs if count < 10000 else 1)
            book = next(self.dist.glob("*/*/contents/*.pdf"))
            links = self.folder / "links.txt"
            aside(exported, book, links)
            name = f"{links.read_text().count('page'):,} pages"
            peers = {}
            if PEERS:
                font = Path(importlib.util.find_spec("reportlab").origin).parent / "fonts/Vera.ttf"
                for way in ("by-hand", "with-layout"):
                    out = self.folder / f"{way}.pdf"
                    peers[way] = repeated(self.runs, [PEERS, way, links, font, out])
                    library = {"by-hand": "pdf-writer", "with-layout": "krilla"}[way]
                    told(f"{name}: {library}", peers[way], bytes_of(out))
            out = self.folder / "peer.pdf"
            peer = told(f"{name}: reportlab", repeated(1, [sys.executable, HERE / "peer.py", book, out, "forms"]), bytes_of(out))
            told(f"{name}: whole build", whole, bytes_of(book), peer)
            stages(whole)
            # It is read back there as well, with a library that shares no code with the one that writes.
            writing = Took(stage(whole, "render"), 0.0, whole.memory)
            told(f"{name}: written and read back", writing, None, peers.get("by-hand"))
            edits = (('"wide"', '"college"'), ('"college"', '"narrow"'), ('"narrow" }', '"wide" }'))
            changed = self.changed(*edits[: 3 if count < 10000 else 1])
            told(f"{name}: one ruling changed", changed, None, whole)
            stages(changed)

    # Differences.

    def diff(self):
        from changes import bundle, notebook

        old, new = self.folder / "old", self.folder / "new"
        before, after = (side / "contents/notebook.pdf" for side in (old, new))
        aside(bundle, old, lambda path: notebook(path, 5000))

        def edit(path):
            import pikepdf

            with pikepdf.open(before) as pdf:
                for n, page in enumerate(pdf.pages):
                    page.contents_add(f"q 0 0 0 rg {100 + n % 60} 100 90 60 re f Q".encode())
                pdf.save(path, deterministic_id=True)

        aside(bundle, new, edit)
        peer = told("5,000 pages: both drawn small by pymupdf", repeated(1, [sys.executable, HERE / "compared.py", before, after]))
        shell = f"{TOOL} diff {old} {new} --json >/dev/null; [ $? = 1 ]"
        told("5,000 pages, all changed: diff", repeated(self.runs, ["sh", "-c", shell]), None, peer)
        shell = f"{TOOL} diff {old} {new} --html {self.folder / 'a.html'} >/dev/null; [ $? = 1 ]"
        told("  with a page", repeated(1, ["sh", "-c", shell]), bytes_of(self.folder / "a.html"), peer)


def exported(book, out):
    """The pages and links of a notebook, as the peers that are no Python read them."""
    import pikepdf

    with pikepdf.open(book) as pdf:
        numbers = {page.obj.objgen: n for n, page in enumerate(pdf.pages)}
        box = pdf.pages[0].MediaBox
        lines = [f"{float(box[2])} {float(box[3])}"]
        for number, page in enumerate(pdf.pages):
            lines.append(f"page {number * 4 // 123 % 4}")
            for link in page.get("/Annots", []):
                lines.append(" ".join(f"{float(v):.2f}" for v in link.Rect) + f" {numbers[link.Dest[0].objgen]}")
    out.write_text("\n".join(lines))


def main(words):
    runs = int(words.pop(0)) if words and words[0].isdigit() else 3
    print(f"{'':52} {'seconds':>8} {'cpu':>8} {'MB':>6} {'bytes':>12} {'ratio':>6}")
    for row in words or ["cutting", "stickers", "variants", "pages", "diff"]:
        with tempfile.TemporaryDirectory() as folder:
            getattr(Bench(Path(folder), runs), row)()


if __name__ == "__main__":
    main(sys.argv[1:])
