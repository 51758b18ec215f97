"""Builds the notebook of the benchmark with Sheafwright and with its peer, and prints what each took.

Every command runs as a process of its own, several times; the median of the wall times is shown, with the largest
memory. `measure.py [RUNS]`, five by default.
"""

import os
import resource
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from runs import repeated

HERE = Path(__file__).resolve().parent
SECTIONS = ["Moorings", "Tides", "Crew", "Repairs", "Ports", "Birds", "Bread", "Stars"]
TEMPLATES = [
    ("Deck log", 'ruling = "lined"\nwith = { pitch = "wide" }'),
    ("Narrow log", 'ruling = "lined"\nwith = { pitch = "narrow" }'),
    ("Sounding dots", 'ruling = "dot-grid"'),
    ("Sea chart", 'ruling = "square-grid"'),
]
# Of each section: 8 × 123 pages, with cover, welcome, index, 8 dividers, overview and templates 1,000 in all.
COUNTS = [("deck-log", 31), ("narrow-log", 31), ("sounding-dots", 31), ("sea-chart", 30)]


def manifest():
    text = [
        'name = "Long Log"\nversion = "1.0.0"\nreleased = 2027-03-01\n',
        '[page]\nsize = "240 x 180 mm"\nlayout = "spread"\ncoil = "middle"\n[guide]\nwanted = false\n',
        '[[lower]]\ncheck = "page-out-of-reach"\nreason = "long sections are leafed through"\n[notebook]\n',
    ]
    pages = ", ".join(f'{{ template = "{name}", count = {count} }}' for name, count in COUNTS)
    text += [f'[[notebook.section]]\nname = "{name}"\npages = [{pages}]\n' for name in SECTIONS]
    text += [f'[[notebook.template]]\nname = "{name}"\n{ruling}\n' for name, ruling in TEMPLATES]
    return "\n".join(text)


def recompressed(path, folder):
    """Size after qpdf's best recompression."""
    out = folder / f"{path.stem}-qpdf.pdf"
    options = ["--object-streams=generate", "--recompress-flate", "--compression-level=9"]
    subprocess.run(["qpdf", *options, path, out], check=True)
    return out.stat().st_size


def counted(path):
    import pikepdf

    with pikepdf.open(path) as pdf:
        return len(pdf.pages), sum(len(page.get("/Annots", [])) for page in pdf.pages)


def main(runs):
    with tempfile.TemporaryDirectory() as folder:
        measure(runs, Path(folder))


def measure(runs, folder):
    tool = os.environ["SHEAFWRIGHT_BIN"]
    product, dist = folder / "product", folder / "dist"
    product.mkdir()
    (product / "product.toml").write_text(manifest())
    build = [tool, "build", product, "--out", dist]
    empty = lambda: shutil.rmtree(dist, ignore_errors=True)  # noqa: E731
    rows = []
    whole = repeated(runs, build, empty)
    book = dist / "long-log/1.0.0/contents/long-log.pdf"
    rows.append(("sheafwright, build whole", whole, book))
    rows.append(("the same, one job", repeated(runs, [*build, "--jobs", "1"], empty), book))
    rows.append(("the same, nothing changed", repeated(runs, build), book))
    rows.append(("sheafwright, check of the PDF", repeated(runs, [tool, "check", book]), book))
    for way in ("forms", "inline"):
        out = folder / f"peer-{way}.pdf"
        command = [sys.executable, HERE / "peer.py", book, out, way]
        rows.append((f"reportlab script, {way}", repeated(max(1, runs // 2), command), out))
    print(f"{'':32} {'pages':>6} {'links':>7} {'seconds':>8} {'ratio':>6} {'MB':>6} {'bytes':>10} {'ratio':>6} {'qpdf':>10} {'saves':>6}")
    first = rows[0]
    for name, took, path in rows:
        seconds, memory = took.seconds, took.memory
        size, (pages, links), best = path.stat().st_size, counted(path), recompressed(path, folder)
        print(
            f"{name:32} {pages:6} {links:7} {seconds:8.3f} {seconds / first[1].seconds:6.2f} {memory / 1e6:6.0f} {size:10,} "
            f"{size / first[2].stat().st_size:6.2f} {best:10,} {1 - best / size:6.1%}"
        )


if __name__ == "__main__":
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
