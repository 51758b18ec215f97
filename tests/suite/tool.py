"""Runs Sheafwright and the programs that its files are held against, and reads what they say."""

import json
import os
import re
import subprocess
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from again import AGAIN

ROOT = Path(__file__).resolve().parents[2]
# The samples: each by itself, and those of a shop.
SAMPLES = sorted(p.parent for p in (ROOT / "products").glob("**/product.toml"))
BINARY = Path(os.environ.get("SHEAFWRIGHT_BIN", ROOT / "target/release/sheafwright"))


def sheafwright(*arguments, cwd=None):
    """Runs the tool and gives what it said, whatever its exit code."""
    command = [str(BINARY), *map(str, arguments)]
    kept = AGAIN.before(arguments, cwd)
    run = subprocess.run(command, cwd=cwd, capture_output=True, text=True, encoding="utf-8", timeout=600)
    if kept:
        # What builds is built again in another way, and compared (`again.py`).
        (AGAIN.after if run.returncode == 0 else AGAIN.drop)(kept)
    return run


def program(*command, may_fail=False, text=True):
    """Standard output of another program; a failure of that program fails the test."""
    encoding = "utf-8" if text else None
    run = subprocess.run([str(c) for c in command], capture_output=True, text=text, encoding=encoding, timeout=600)
    if not may_fail:
        assert run.returncode == 0, f"{' '.join(map(str, command))} gave {run.returncode}:\n{run.stdout}\n{run.stderr}"
    return run if may_fail else run.stdout


@dataclass
class Bundle:
    """A built bundle, and the product that it was built from."""

    product: Path
    folder: Path
    said: str = ""
    recipe: object = field(default=None, repr=False)

    @cached_property
    def record(self):
        return json.loads((self.folder / "bundle.json").read_text(encoding="utf-8"))

    @property
    def slug(self):
        return self.record["product"]

    def of_kind(self, kind):
        """Paths of all files of a kind, as the record lists them."""
        return [self.folder / f["path"] for f in self.record["files"] if f["kind"] == kind]

    @property
    def notebook(self):
        (path,) = [p for p in self.of_kind("notebook") if "contents" in p.parts]
        return path

    @property
    def pdfs(self):
        return sorted((self.folder / "contents").glob("*.pdf"))

    @property
    def stickers(self):
        return sorted((self.folder / "contents/stickers").glob("*.png"))


def build(product, out, *more, expect=0):
    """Builds a product and gives its bundle."""
    run = sheafwright("build", product, "--out", out, *more)
    assert run.returncode == expect, f"build gave {run.returncode}, not {expect}:\n{run.stdout}\n{run.stderr}"
    bundles = [p.parent for p in Path(out).glob("*/*/bundle.json")]
    # The members of a set lie beside it.
    sets = [p for p in bundles if "members" in json.loads((p / "bundle.json").read_text(encoding="utf-8"))]
    (folder,) = sets or bundles
    return Bundle(Path(product), folder, run.stdout + run.stderr)


def pdfinfo(path):
    """What pdfinfo says, as a table of its words."""
    lines = program("pdfinfo", path).splitlines()
    return {key.strip(): value.strip() for key, _, value in (line.partition(":") for line in lines)}


def page_size(path):
    """Width and height in points as poppler reads them."""
    match = re.match(r"([\d.]+) x ([\d.]+) pts", pdfinfo(path)["Page size"])
    return float(match[1]), float(match[2])


def page_text(path, page):
    """Text of a page, counted from 0, as poppler finds it."""
    return program("pdftotext", "-layout", "-f", page + 1, "-l", page + 1, path, "-")


def tree(folder):
    """Every file below a folder with its bytes."""
    folder = Path(folder)
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}
