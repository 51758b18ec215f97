"""Measures what is made to be looked at: the proof of a 150-page product and its listing pictures: `seen.py [RUNS]`.

Beside each stands what a person would script with public tools: poppler's pdftoppm draws the pages, Pillow makes small
pictures of few colours of them and puts them into a page as base64; for the listing, Pillow lays pages on a ground with
a soft shadow. Times are medians of the wall time in the same minute; what counts is the ratio. The cache is empty in
each run but those that say otherwise.
"""

import os
import shutil
import sys
import tempfile
from pathlib import Path

from runs import repeated

SECTIONS = ["Moorings", "Tides", "Crew", "Repairs", "Ports", "Birds"]
TEMPLATES = ["lined", "dot-grid", "square-grid", "checklist", "chart", "day"]
PICTURES = "\n[pictures]\nusual = true\n"

PROOF = """
import base64, io, subprocess, sys, tempfile
from pathlib import Path
from PIL import Image
book, out = sys.argv[1:]
parts = []
with tempfile.TemporaryDirectory() as folder:
    subprocess.run(["pdftoppm", "-scale-to", "1100", "-png", book, f"{folder}/p"], check=True)
    for path in sorted(Path(folder).glob("*.png")):
        small = Image.open(path).convert("RGB").quantize(128)
        data = io.BytesIO()
        small.save(data, "PNG", optimize=True)
        parts.append(f'<img src="data:image/png;base64,{base64.b64encode(data.getvalue()).decode()}">')
Path(out).write_text("<!doctype html><title>Proof</title>" + "".join(parts))
"""

LISTING = """
import subprocess, sys, tempfile
from pathlib import Path
from PIL import Image, ImageFilter
book, out, count, each = sys.argv[1], Path(sys.argv[2]), int(sys.argv[3]), 6
with tempfile.TemporaryDirectory() as folder:
    last = str(count * each)
    subprocess.run(["pdftoppm", "-l", last, "-scale-to", "1400", "-png", book, f"{folder}/p"], check=True)
    pages = [Image.open(p).convert("RGB") for p in sorted(Path(folder).glob("*.png"))]
out.mkdir()
for n in range(count):
    ground = Image.new("RGB", (2000, 1500), "#e9e5dc")
    for k, page in enumerate(pages[n * each:(n + 1) * each]):
        small = page.resize((760, 760 * page.height // page.width), Image.Resampling.LANCZOS)
        at = (80 + k % 3 * 600, 120 + k // 3 * 640)
        shadow = Image.new("L", ground.size, 0)
        shadow.paste(120, (at[0] + 10, at[1] + 16, at[0] + small.width + 10, at[1] + small.height + 16))
        ground.paste("#4a443a", mask=shadow.filter(ImageFilter.GaussianBlur(18)))
        ground.paste(small, at)
    ground.save(out / f"{n}.png", optimize=True)
"""


def manifest(pictures=""):
    pages = ", ".join(f'{{ template = "{name}", count = 4 }}' for name in TEMPLATES[:5])
    text = 'name = "Harbour Book"\nversion = "1.0.0"\nreleased = 2027-03-01\nshop = { name = "Tarn and Tide Papers" }\n'
    text += pictures + '\n[[lower]]\ncheck = "page-out-of-reach"\nreason = "long sections are leafed through"\n[notebook]\n'
    text += "".join(f'[[notebook.section]]\nname = "{name}"\npages = [{pages}]\n' for name in SECTIONS)
    return text + "".join(f'[[notebook.template]]\nname = "{n}"\nruling = "{n}"\n' for n in TEMPLATES)


def main(runs):
    tool = os.environ["SHEAFWRIGHT_BIN"]
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        dist, out = folder / "dist", folder / "peer"
        for name, pictures in (("plain", ""), ("seen", PICTURES)):
            (folder / name).mkdir()
            (folder / name / "product.toml").write_text(manifest(pictures))
        for name, script in (("proof.py", PROOF), ("listing.py", LISTING)):
            (folder / name).write_text(script)

        def empty():
            shutil.rmtree(dist, ignore_errors=True)
            shutil.rmtree(out, ignore_errors=True)

        # Everything that comes later is made of this one.
        kept = folder / "kept"
        repeated(1, [tool, "build", folder / "seen", "--out", kept])
        (bundle,) = kept.glob("*/1.0.0")
        book = bundle / "contents/harbour-book.pdf"
        count = len(list((bundle / "listing/pictures").iterdir()))
        plain = repeated(runs, [tool, "build", folder / "plain", "--out", dist], empty)
        seen = repeated(runs, [tool, "build", folder / "seen", "--out", dist], empty)
        page = folder / "proof.html"
        proof = repeated(runs, [tool, "proof", bundle, "--out", page])
        theirs = repeated(runs, [sys.executable, folder / "proof.py", book, folder / "theirs.html"])
        laid = repeated(runs, [sys.executable, folder / "listing.py", book, out, count], empty)

        def size(path):
            return sum(p.stat().st_size for p in path.iterdir()) if path.is_dir() else path.stat().st_size

        rows = [
            ("proof: pdftoppm and Pillow", theirs, theirs, folder / "theirs.html"),
            ("proof of the bundle", proof, theirs, page),
            (f"{count} pictures: pdftoppm, Pillow", laid, laid, out),
            ("build with listing pictures", seen, laid, bundle / "listing/pictures"),
            ("build without them", plain, laid, None),
        ]
        print(f"{'':34} {'seconds':>8} {'ratio':>6} {'MB':>6} {'bytes':>11}")
        for name, (seconds, _, memory, _), measure, made in rows:
            bytes_ = f"{size(made):11,}" if made else ""
            print(f"{name:34} {seconds:8.3f} {seconds / measure[0]:6.2f} {memory / 1e6:6.0f} {bytes_}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
