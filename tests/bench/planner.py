"""Planners of a year: every set of dated pages with a companion a day, by the built-in drawings and by a drawing of one's own;
many variants of one; and beside them a reportlab script that draws a linked year, months, weeks and days.

Every command is a process of its own; the median of the wall times is shown, with the largest memory. No timing is ever a
test. `planner.py [RUNS] [VARIANTS]`, three runs and 24 variants by default; needs what `run.sh` needs.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import pikepdf

from runs import repeated

ROOT = Path(__file__).resolve().parents[2]
HEAD = """\
name = "Long Year"
version = "1.0.0"
released = 2026-11-01
language = "en-GB"
shop = { name = "Fernhill Paper", contact = "help@fernhill.example" }
guide = { wanted = false }
page = { size = "A5", layout = "single", coil = "none" }
[calendar]
first = "2027-01"
first-day = "monday"
week-numbers = "iso"
"""
KINDS = "".join(f'[[notebook.dated]]\npages = "{kind}"\n' for kind in ("year", "quarter", "month", "week"))
DAYS = '[[notebook.dated]]\npages = "day"\ncompanions = [{ ruling = "lined", name = "Notes" }]\n'
OWN = DAYS + 'art = "art/day.svg"\n[assets]\nown = ["art/*"]\n'
COLOURS = ["#7a4f6d", "#3f6f7a", "#4f7257", "#8a5a3c", "#4c5a8a", "#6b6b3f"]


def art():
    """A day of one's own: a wave and forty lines that all days have, and words that are the day's."""
    lines = "".join(f'<path d="M40 {300 + 12 * i} L520 {300 + 12 * i}" stroke="#b9c4cc" stroke-width="0.6"/>' for i in range(38))
    wave = "M40 240 " + " ".join(f"L{40 + 4 * i} {240 + (i * 37) % 23}" for i in range(120))
    taps = (("up", 40), ("previous", 340), ("next", 400), ("companion/2", 460))
    taps = "".join(f'<rect id="link:{to}" x="{x}" y="10" width="50" height="40" fill="none" stroke="#3f6f7a"/>' for to, x in taps)
    words = '<text x="40" y="100" font-size="30">{{ heading }}</text><text x="40" y="130" font-size="16">{{ beside }}</text>'
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="559" height="794" viewBox="0 0 559 794">'
        f'<rect width="559" height="794" fill="#fbf8f0"/>{words}<path d="{wave}" fill="none" stroke="#3f6f7a"/>{lines}{taps}</svg>'
    )


def variants(count):
    """Colourways, hands and starts of the week: at most 24 variants."""
    colours = COLOURS[: max(1, count // 4)]
    text = "[variants.colourway]\n" + "".join(f'c{n} = {{ style = {{ accent = "{c}" }} }}\n' for n, c in enumerate(colours))
    text += '[variants.hand]\nright = { page = { hand = "right" } }\nleft = { page = { hand = "left" } }\n'
    return text + (
        '[variants.week]\nmonday = { calendar = { first-day = "monday", week-numbers = "iso" } }\n'
        'sunday = { calendar = { first-day = "sunday", week-numbers = "january-first" } }\n'
    )


def main():
    runs, many = (int(value) for value in (sys.argv[1:] + ["3", "24"][len(sys.argv) - 1 :])[:2])
    binary = os.environ.get("SHEAFWRIGHT_BIN", str(ROOT / "target/release/sheafwright"))
    products = {
        "all sets": (HEAD + KINDS + DAYS, {}),
        "all sets, own art": (HEAD + KINDS + OWN, {"art/day.svg": art()}),
        f"{many} variants": (HEAD + KINDS + DAYS + variants(many), {}),
    }
    print("| planner | pages | links | MB | seconds | MB of memory |\n|---|---|---|---|---|---|")
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)

        def row(name, took, memory, files):
            pages = links = size = 0
            for path in files:
                size += path.stat().st_size
                with pikepdf.open(path) as pdf:
                    pages += len(pdf.pages)
                    links += sum(len(page.obj.get("/Annots", [])) for page in pdf.pages)
            print(f"| {name} | {pages:,} | {links:,} | {size / 1e6:.2f} | {took:.1f} | {memory / 1e6:.0f} |", flush=True)

        for name, (manifest, files) in products.items():
            product, out = folder / "product", folder / "dist"
            shutil.rmtree(product, ignore_errors=True)
            product.mkdir()
            (product / "product.toml").write_text(manifest, encoding="utf-8")
            for path, text in files.items():
                (product / path).parent.mkdir(exist_ok=True)
                (product / path).write_text(text, encoding="utf-8")
            took, _, memory, _ = repeated(runs, [binary, "build", product, "--out", out], lambda out=out: shutil.rmtree(out, ignore_errors=True))
            row(name, took, memory, sorted(out.glob("*/*/contents/**/*.pdf")))
        script = (
            f"import sys; sys.path.insert(0, {str(ROOT / 'tests/fixtures/checks')!r}); import planners; "
            f"planners.write(planners.pages(first=(2027, 1), months=12), {str(folder / 'peer.pdf')!r})"
        )
        took, _, memory, _ = repeated(runs, [sys.executable, "-c", script])
        row("reportlab, without quarters and companions", took, memory, [folder / "peer.pdf"])
    subprocess.run(["uname", "-mr"], check=False)


if __name__ == "__main__":
    main()
