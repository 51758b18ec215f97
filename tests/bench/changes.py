"""Measures `diff` on two bundles of 1,000 and of 5,000 pages of which five differ: `changes.py [RUNS]`, three by default.

Each bundle holds the notebook twice, loose and in an archive. Every run is a process of its own; the median of the wall
times is shown, with the largest memory. Two peers stand beside it as a measure of the machine: qpdf --check of both
files, which reads every object once and compares nothing, and a walk with pikepdf that takes the contents and links of
every page of both, which is where a script of one's own would begin. What counts is the last column: the time as a part
of that of qpdf in the same minute.
"""

import multiprocessing
import os
import shlex
import sys
import tempfile
import zipfile
from pathlib import Path

import pikepdf
from reportlab.pdfgen import canvas

from runs import repeated

LINKS = 22


def notebook(path, pages):
    """A notebook of ruled pages; each leads to the first and to others."""
    c = canvas.Canvas(str(path), pagesize=(680, 510), invariant=1)
    for n in range(pages):
        c.bookmarkPage(f"p{n}")
        c.setFont("Times-Roman", 14)
        c.drawString(40, 480, f"Watch {n}")
        for row in range(24):
            c.line(40, 450 - row * 18, 640, 450 - row * 18)
        for i in range(LINKS):
            c.linkRect("", f"p{(n * 7 + i * 31) % pages}", (640, 20 + i * 20, 670, 36 + i * 20), thickness=0)
        c.showPage()
    c.save()


WALK = """
import hashlib, sys
import pikepdf
sides = []
for path in sys.argv[1:]:
    with pikepdf.open(path) as pdf:
        number = {page.objgen: n for n, page in enumerate(pdf.pages)}
        side = []
        for page in pdf.pages:
            contents = page.Contents if isinstance(page.Contents, pikepdf.Array) else [page.Contents]
            drawn = hashlib.sha256(b"".join(c.read_bytes() for c in contents)).digest()
            side.append((drawn, [number.get(a.Dest[0].objgen) for a in page.Annots]))
        sides.append(side)
sys.exit(sum(a != b for a, b in zip(*sides)) != 5)
"""


def bundle(folder, make):
    """A bundle with a notebook, which lies in it loose and packed."""
    for place in ("contents", "upload"):
        (folder / place).mkdir(parents=True)
    path = folder / "contents" / "notebook.pdf"
    make(path)
    with zipfile.ZipFile(folder / "upload" / "notebook.zip", "w", zipfile.ZIP_DEFLATED) as z:
        z.write(path, "notebook.pdf")
    return path


def both(old, new, pages):
    """The two bundles."""
    before = bundle(old, lambda path: notebook(path, pages))

    def edit(path):
        with pikepdf.open(before) as pdf:
            for n in range(5):
                pdf.pages[pages // 6 * (n + 1)].contents_add(b"q 0 0 0 rg 100 100 90 60 re f Q")
            pdf.save(path, deterministic_id=True)

    bundle(new, edit)


def main(runs):
    tool = os.environ["SHEAFWRIGHT_BIN"]
    print(f"{'':34} {'seconds':>8} {'MB':>6} {'of qpdf':>8}")
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        (folder / "walk.py").write_text(WALK)
        for pages in (1000, 5000):
            old, new = folder / f"old{pages}", folder / f"new{pages}"
            # In a process of its own: a child begins with the memory of its parent, which must stay small.
            making = multiprocessing.Process(target=both, args=(old, new, pages))
            making.start()
            making.join()
            before, after = (side / "contents" / "notebook.pdf" for side in (old, new))
            check = "; ".join(shlex.join(["qpdf", "--check", str(path)]) for path in (before, after))
            # Their exit codes say that the files differ, which is no failure here.
            differ = lambda *words: ["sh", "-c", f"{shlex.join(map(str, words))} >/dev/null; [ $? = 1 ]"]
            rows = (
                ("qpdf --check of both", ["sh", "-c", check]),
                ("a walk with pikepdf", [sys.executable, folder / "walk.py", before, after]),
                ("diff", differ(tool, "diff", old, new, "--json")),
                ("diff with a page", differ(tool, "diff", old, new, "--html", folder / "a.html")),
            )
            measure = None
            for name, command in rows:
                seconds, _, memory, _ = repeated(runs, command)
                measure = measure or seconds
                row = f"{name + f', {pages:,} pages':34} {seconds:8.3f} {memory / 1e6:6.0f} {seconds / measure:8.2f}"
                print(row, flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
