"""Measures a shop: generated products of mixed kinds in four variants each, built cold, built again unchanged, and built as four
parts in four processes, whose bundles must be the same byte for byte.

`shop.py [PRODUCTS] [JOBS]`, 200 products and 2 jobs by default; SHEAFWRIGHT_BIN names the program. No timing is ever a test;
`tests/suite/test_many.py` runs it with eight products.
"""

import hashlib
import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

SHOP = """\
language = "en-GB"
shop = { name = "Lantern Quay Paper", contact = "desk@lantern-quay.example" }
[page]
size = "A6"
layout = "single"
[style]
corner = "1 mm"
"""
HEAD = 'name = "{name}"\nversion = "1.0.0"\nreleased = 2027-03-01\n'
COLOURS = ["#5f7d5a", "#7a4f7d", "#4a5f8a", "#8a5a44", "#3f7f86"]
# Two hands in two colours: four variants.
VARIANTS = """\
[variants.hand]
left = {{ page.hand = "left" }}
right = {{ page.hand = "right" }}
[variants.colourway]
first = {{ style.accent = "{0}" }}
second = {{ style.accent = "{1}" }}
"""
# Stickers know no hand: four colours.
OF_STICKERS = '[variants.colourway]\n' + "".join(f'{name} = {{ style.accent = "{colour}" }}\n' for name, colour in zip(("fern", "plum", "rain", "clay"), COLOURS))
NOTEBOOK = '[[notebook.section]]\nname = "Piers"\n[[notebook.section]]\nname = "Tides"\n[[notebook.template]]\nname = "Log {n}"\nruling = "lined"\n[[notebook.template]]\nname = "Watch list"\nruling = "checklist"\n'
PLANNER = '[calendar]\nfirst = "2027-{month:02}"\nmonths = 1\n[notebook]\ndated = [{{ pages = "month" }}]\n'
STICKERS = '[[sticker]]\nmotif = "star"\n[[sticker]]\nmotif = "tally"\n'
COVERS = '[[cover]]\nname = "Quay {n}"\ndesign = "banded"\n'
KINDS = [NOTEBOOK, NOTEBOOK + STICKERS, STICKERS, PLANNER, NOTEBOOK + COVERS]


def product(n):
    """The manifest of the nth product."""
    body = KINDS[n % len(KINDS)].format(n=n, month=n % 12 + 1)
    variants = OF_STICKERS if KINDS[n % len(KINDS)] == STICKERS else VARIANTS.format(COLOURS[n % 5], COLOURS[(n + 2) % 5])
    return HEAD.format(name=f"Quay Log {n:03}") + body + variants


def write(folder, count):
    """Lays a shop of so many products out in a folder."""
    folder.mkdir(parents=True)
    (folder / "shop.toml").write_text(SHOP, encoding="utf-8")
    for n in range(count):
        (folder / f"quay-{n:03}").mkdir()
        (folder / f"quay-{n:03}/product.toml").write_text(product(n), encoding="utf-8")


def digests(dist):
    """Every file of the bundles with its digest; what lies hidden beside them is the program's own."""
    files = (p for p in dist.rglob("*") if p.is_file() and not any(part.startswith(".") for part in p.relative_to(dist).parts))
    return {p.relative_to(dist).as_posix(): hashlib.sha256(p.read_bytes()).hexdigest() for p in files}


def main(count, jobs):
    tool = os.environ.get("SHEAFWRIGHT_BIN", "target/release/sheafwright")
    with tempfile.TemporaryDirectory() as root:
        root = Path(root)
        write(root / "products", count)

        def build(dist, *more):
            command = [Path(tool).resolve(), "build", "products", "--out", dist, "--json", *more]
            return subprocess.Popen(command, cwd=root, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)

        def timed(what, runs):
            begun, before = time.monotonic(), resource.getrusage(resource.RUSAGE_CHILDREN)
            reports = [json.loads(run.communicate()[0]) for run in runs()]
            after = resource.getrusage(resource.RUSAGE_CHILDREN)
            rows = [row for report in reports for row in report["products"]]
            assert len(rows) == count and all(row["state"] in ("built", "unchanged") for row in rows), [r for r in rows if r["state"] not in ("built", "unchanged")][:3]
            cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
            print(f"{what}: {time.monotonic() - begun:.1f} s, {cpu:.1f} s of CPU, largest process {after.ru_maxrss / 1024:.0f} MB", flush=True)

        print(f"{count} products in 4 variants each", flush=True)
        timed("cold", lambda: [build("whole", "--jobs", str(jobs))])
        whole = digests(root / "whole")
        timed("unchanged", lambda: [build("whole", "--jobs", str(jobs))])
        assert digests(root / "whole") == whole
        each = [f"dist-{part}" for part in range(1, 5)]
        timed("4 parts in 4 processes, cold", lambda: [build(dist, "--jobs", "1", "--shard", f"{n}/4") for n, dist in enumerate(each, 1)])
        parts = {}
        for dist in each:
            parts |= digests(root / dist)
        assert parts == whole, sorted(parts.items() ^ whole.items())[:5]
        print(f"{len(whole)} files, the same bytes in all", flush=True)


if __name__ == "__main__":
    given = [int(n) for n in sys.argv[1:]]
    main(*given, *(200, 2)[len(given) :])
