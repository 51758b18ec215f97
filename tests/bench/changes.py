"""Measures `diff` on two bundles of 1,000 and of 5,000 pages of which five differ: `changes.py [RUNS]`, three by default.

Every run is a process of its own; the median of the wall times is shown, with the largest memory. qpdf --check of both
files stands beside it as a measure of the machine: it reads every object once and compares nothing.
"""

import os
import shlex
import sys
import tempfile
from pathlib import Path

import pikepdf
from measure import repeated
from reportlab.pdfgen import canvas

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


def main(runs):
    tool = os.environ["SHEAFWRIGHT_BIN"]
    print(f"{'':34} {'seconds':>8} {'MB':>6}")
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        for pages in (1000, 5000):
            old, new = folder / f"old{pages}", folder / f"new{pages}"
            old.mkdir()
            new.mkdir()
            notebook(old / "notebook.pdf", pages)
            with pikepdf.open(old / "notebook.pdf") as pdf:
                for n in range(5):
                    pdf.pages[pages // 6 * (n + 1)].contents_add(b"q 0 0 0 rg 100 100 90 60 re f Q")
                pdf.save(new / "notebook.pdf", deterministic_id=True)
            for name, command in (
                ("diff", [tool, "diff", old, new, "--json"]),
                ("diff with a page", [tool, "diff", old, new, "--html", folder / "a.html"]),
            ):
                # Its exit code says that they differ, which is no failure here.
                words = shlex.join(str(c) for c in command)
                seconds, memory = repeated(runs, ["sh", "-c", f"{words} >/dev/null; [ $? = 1 ]"])
                print(f"{name + f', {pages:,} pages':34} {seconds:8.3f} {memory / 1e6:6.0f}")
            seconds, memory = repeated(runs, ["qpdf", "--check", str(new / "notebook.pdf")])
            print(f"{f'qpdf --check, {pages:,} pages':34} {seconds:8.3f} {memory / 1e6:6.0f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
