"""The program for Windows against the one for Linux: the same bundles, and the same words of them. `tests/windows` runs this file;
it is no part of the other suites, which have one program."""

import json
import os
import re
import subprocess

import pytest

import products
import tool
from again import digests
from test_samples import golden

LINUX = os.environ.get("SHEAFWRIGHT_LINUX", "")


def said(program, *arguments, cwd):
    run = subprocess.run([program, *map(str, arguments)], cwd=cwd, capture_output=True, text=True, encoding="utf-8", timeout=900)
    # How long it took is another matter.
    out = re.sub(r"\d+\.\d\d s\b", "0.00 s", run.stdout)
    return run.returncode, out, re.sub(r"\d+\.\d\d s\b", "0.00 s", run.stderr)


@pytest.fixture(scope="module")
def shelf_of_samples(tmp_path_factory):
    """Bundles of the samples as they were built on Windows, each built once."""
    out, built = tmp_path_factory.mktemp("samples"), set()

    def get(product):
        if product not in built:
            # Not by `tool`: what it builds is built twice more.
            code, _, words = said(tool.BINARY, "build", product, "--out", out / product.name, cwd=tool.ROOT)
            assert code == 0, words
            built.add(product)
        return out / product.name

    return get


@pytest.mark.parametrize("product", tool.SAMPLES, ids=lambda p: p.name)
def test_a_sample_has_the_bytes_of_linux(product, shelf_of_samples):
    sample = product.name
    made = {path: digest for path, digest in digests(shelf_of_samples(product)).items() if path.split("/")[0] == sample}
    wanted = {path: digest for path, digest in golden().items() if path.split("/")[0] == sample}
    assert wanted, "no digests are kept of this sample"
    assert sorted(p for p in made.keys() | wanted.keys() if made.get(p) != wanted.get(p)) == []


@pytest.mark.parametrize("product", tool.SAMPLES, ids=lambda p: p.name)
@pytest.mark.parametrize("way", ["relative", "with backslashes", "full"])
def test_the_same_is_said_of_a_bundle(product, way, shelf_of_samples):
    out = shelf_of_samples(product)
    (bundle,) = [p.parent for p in out.glob(f"{product.name}/*/bundle.json")]
    place = bundle if way == "full" else bundle.relative_to(out)
    typed = str(place).replace("/", "\\") if way == "with backslashes" else place
    commands = [["check", "--json"], ["verify"], ["verify", "--json"], ["listing"]]
    if way == "relative":
        commands += [["check"], ["check", "--sarif"]]
    for command, *more in commands:
        here = said(tool.BINARY, command, typed, *more, cwd=out)
        assert here == said(LINUX, command, place, *more, cwd=out), (command, *more)
        assert here[0] == 0 and "\\\\" not in here[1] + here[2]


def test_the_same_changes_are_found(tmp_path):
    """Two versions of a product, built on Windows: what changed, as JSON, as a note and as a page."""
    recipe = products.FULL_PRODUCT
    for name, text in {"old": recipe.manifest(), "new": recipe.manifest().replace("Sea chart", "Chart of the bay").replace('version = "1.0.0"', 'version = "1.1.0"')}.items():
        recipe.write(tmp_path / name)
        (tmp_path / name / "product.toml").write_text(text, encoding="utf-8")
        code, _, words = said(tool.BINARY, "build", name, "--out", "dist", cwd=tmp_path)
        assert code == 0, words
    old, new = "dist/harbour-log/1.0.0", "dist/harbour-log/1.1.0"
    for more in (["--json"], [], ["--note"]):
        here = said(tool.BINARY, "diff", old.replace("/", "\\"), new.replace("/", "\\"), *more, cwd=tmp_path)
        assert here == said(LINUX, "diff", old, new, *more, cwd=tmp_path)
        assert here[0] == 1
    pages = []
    for program in (tool.BINARY, LINUX):
        code, _, words = said(program, "diff", old, new, "--html", tmp_path / "changes.html", cwd=tmp_path)
        assert code == 1, words
        pages.append((tmp_path / "changes.html").read_bytes())
    assert pages[0] == pages[1]
    # A bundle knows its product, which was written down on the other system.
    report = json.loads(said(tool.BINARY, "build", "new", "--out", "dist", "--json", cwd=tmp_path)[1])
    assert report["folder"] == new


def test_names_in_other_capitals_are_refused(tmp_path):
    """Windows finds `art/Anchor.svg` as `art/anchor.svg`; a product that builds there has to build elsewhere too."""
    recipe = products.FULL_PRODUCT
    product = recipe.write(tmp_path / "product")
    manifest = product / "product.toml"
    manifest.write_text(manifest.read_text(encoding="utf-8").replace("art/anchor.svg", "Art/Anchor.svg"), encoding="utf-8")
    answers = [said(program, "build", "product", "--out", "dist", cwd=tmp_path) for program in (tool.BINARY, LINUX)]
    assert answers[0] == answers[1]
    assert answers[0][0] == 2 and "`art/anchor.svg`" in answers[0][2]
