"""Pairs of files, made with other people's tools: an old version, and a new one with known changes.

reportlab draws the notebook, pikepdf edits it, Pillow makes stickers, zipfile packs, qpdf recompresses.
"""

import subprocess
import zipfile
from pathlib import Path

import pikepdf
from PIL import Image, ImageDraw
from reportlab.lib.pagesizes import landscape
from reportlab.pdfgen import canvas

SIZE = landscape((768, 1024))


def notebook(path: Path, pages: int = 12, words: dict[int, str] | None = None) -> Path:
    """A notebook in which page 1 links to every page and every page links home."""
    words = words or {}
    c = canvas.Canvas(str(path), pagesize=SIZE, invariant=1)
    c.setTitle("Allotment Year")
    for n in range(1, pages + 1):
        c.bookmarkPage(f"p{n}")
        c.addOutlineEntry(f"Bed {n}", f"p{n}", 0)
        c.setFont("Times-Roman", 20)
        c.drawString(60, 700, words.get(n, f"Bed {n}: sow, thin, water"))
        c.setFont("Helvetica", 12)
        for row in range(20):
            c.line(60, 640 - row * 24, 900, 640 - row * 24)
            c.drawString(920, 640 - row * 24, f"{n}.{row}")
        c.linkRect("Home", "p1", (10, 10, 60, 60), thickness=0)
        if n == 1:
            for m in range(2, pages + 1):
                c.linkRect(f"Bed {m}", f"p{m}", (100 + 60 * (m % 12), 20 + 30 * (m // 12), 150 + 60 * (m % 12), 45 + 30 * (m // 12)), thickness=0)
        c.showPage()
    c.save()
    return path


def edited(source: Path, target: Path, edit) -> Path:
    """A copy with an edit by pikepdf."""
    with pikepdf.open(source) as pdf:
        edit(pdf)
        pdf.save(target, deterministic_id=True)
    return target


def recompressed(source: Path, target: Path) -> Path:
    """The same file as qpdf stores it best."""
    how = ["--object-streams=generate", "--recompress-flate", "--compression-level=9", "--linearize"]
    subprocess.run(["qpdf", *how, str(source), str(target)], check=True)
    return target


def plain(source: Path, target: Path) -> Path:
    """The same file, unpacked and without object streams."""
    how = ["--object-streams=disable", "--stream-data=uncompress", "--normalize-content=y"]
    subprocess.run(["qpdf", *how, str(source), str(target)], check=True)
    return target


def sticker(path: Path, dot: bool = False, level: int = 6) -> Path:
    """A sticker; with `dot`, one pixel is another colour."""
    image = Image.new("RGBA", (120, 90), (0, 0, 0, 0))
    ImageDraw.Draw(image).ellipse((10, 10, 109, 79), fill=(90, 140, 80, 255))
    if dot:
        image.putpixel((60, 45), (200, 40, 40, 255))
    image.save(path, dpi=(300, 300), compress_level=level)
    return path


def archive(path: Path, files: dict[str, bytes], stored: bool = False) -> Path:
    """A ZIP with the files in the order given."""
    how = zipfile.ZIP_STORED if stored else zipfile.ZIP_DEFLATED
    with zipfile.ZipFile(path, "w", how) as z:
        for name, data in files.items():
            z.writestr(zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0)), data, how)
    return path
