"""Measures a watch: a product of 150 pages, one page of it changed, from the save to the picture in a headless Chromium.

Needs what tests/run installs (SHEAFWRIGHT_BROWSER) and a release build (SHEAFWRIGHT_BIN). `live.py [TIMES [PAUSE]]`: ten
saves by default, each four seconds after the last picture. With a pause in seconds they come at all moments from at once to
that long after it, so that many of them fall into what the round before still has to do.
"""

import json
import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
SECTIONS = ["Moorings", "Tides", "Crew", "Repairs", "Ports", "Birds", "Bread", "Stars"]
HEAD = """\
name = "Long Log"
version = "1.0.0"
released = 2027-03-01
[page]
size = "240 x 180 mm"
layout = "spread"
coil = "middle"
[pictures]
usual = true
[notebook]
"""
TEMPLATES = """
[[notebook.template]]
name = "Deck log"
ruling = "lined"
[[notebook.template]]
name = "Sea chart"
ruling = "square-grid"
[[notebook.template]]
name = "Tide table"
ruling = "chart"
with = { columns = 4, rows = 12 }
[[cover]]
name = "Slate"
design = "banded"
colour = "#5a6b78"
"""
MOTIFS = ["to-do-box", "tally", "week-strip", "star", "reminder-bell", "date-tag", "progress-bar", "good-things"]


def manifest():
    """With cover, welcome, index, eight dividers, overview and templates 150 pages in all."""
    text = [HEAD]
    for number, name in enumerate(SECTIONS):
        count = 16 if number == 0 else 17
        text.append(f'[[notebook.section]]\nname = "{name}"\npages = [{{ template = "deck-log", count = {count} }}]\n')
    text.append(TEMPLATES)
    text += [f'[[sticker]]\nmotif = "{name}"\n' for name in MOTIFS]
    return "\n".join(text)


def main(times, pause=None):
    with tempfile.TemporaryDirectory() as folder:
        product = Path(folder) / "product"
        product.mkdir()
        (product / "product.toml").write_text(manifest())
        command = [os.environ["SHEAFWRIGHT_BIN"], "watch", product, "--out", Path(folder) / "dist"]
        with subprocess.Popen([str(c) for c in command], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as run:
            address = run.stdout.readline().strip()
            for line in run.stderr:
                print("   ", line.strip(), file=sys.stderr)
                if "done after" in line:
                    break
            browse = ["node", ROOT / "tests/browser/live.mjs", address, product / "product.toml", "rows = 12", "rows = 9"]
            # The tide table is the last page.
            arguments = [*map(str, browse), "#d0p150", str(times), *([] if pause is None else [str(1000 * pause)])]
            took = json.loads(subprocess.run(arguments, check=True, capture_output=True, text=True).stdout)
            run.terminate()
            for line in run.stderr:
                print("   ", line.strip(), file=sys.stderr)
    took.sort()
    late = took[min(len(took) - 1, int(0.95 * len(took)))]
    told = f"median {statistics.median(took):.0f} ms, 19 of 20 within {late} ms, longest {took[-1]} ms"
    print(f"from the save to the picture, {len(took)} times: {told}, all {took}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10, *map(float, sys.argv[2:3]))
