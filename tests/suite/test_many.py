"""Many products in one go: each bundle as if it were built alone, one table, shards that are the whole together.

Bundles are compared byte for byte; the reports are held against their schema by jsonschema."""

import json
import re
import subprocess
import sys

import jsonschema
import pytest

import memory
import tool
from again import digests
from products import Recipe
from tool import ROOT, sheafwright

TEMPLATES = [("Deck log", "lined", "{}"), ("Watch list", "checklist", "{}")]
STICKERS = '[[sticker]]\nmotif = "tally"\n[[sticker]]\nmotif = "star"\n'


def small(name, **more):
    return Recipe(name, page='size = "A6"\nlayout = "single"', sections=["Boats"], templates=TEMPLATES, **more)


GOOD = {
    "harbour": small("Harbour Log"),
    "winter/lantern": small("Lantern Log", more='[variants.hand]\nleft = { page.hand = "left" }\nright = { page.hand = "right" }\n'),
    "winter/knots": small("Knot Stickers", more=STICKERS),
}
# What stops a product, and what keeps one from being made at all.
STOPPED = small("Galley Log")
STOPPED.sections = ["Stews \U0001f963"]
BROKEN = 'name = "Broken\n'


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    """A folder of products, of which two are no good."""
    root = tmp_path_factory.mktemp("shop")
    for folder, recipe in GOOD.items():
        recipe.write(root / "products" / folder)
    STOPPED.write(root / "products/galley")
    (root / "products/broken").mkdir()
    (root / "products/broken/product.toml").write_text(BROKEN)
    (root / "products/notes").mkdir()
    return root


@pytest.fixture(scope="module")
def whole(shop):
    """All of them in one go."""
    run = sheafwright("build", "products", "--out", "dist", "--json", cwd=shop)
    return run, json.loads(run.stdout), digests(shop / "dist")


def rows(report):
    """Rows without what a clock says, and without where bundles lie."""
    return [{k: v for k, v in row.items() if k not in ("seconds", "folder", "proof")} for row in report["products"]]


def held(report):
    schema = json.loads((ROOT / "pipeline/cli/products.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator(schema).validate(report)


def test_one_report_says_of_each_product_what_became_of_it(whole):
    run, report, _ = whole
    assert run.returncode == 2, run.stderr
    held(report)
    states = {row["path"]: row["state"] for row in report["products"]}
    good = {f"products/{folder}": "built" for folder in GOOD}
    assert states == good | {"products/galley": "stopped", "products/broken": "failed"}
    assert [row["path"] for row in report["products"]] == sorted(states)
    by = {row["path"]: row for row in report["products"]}
    assert "product.toml:1:15" in by["products/broken"]["faults"][0]
    assert by["products/galley"]["errors"] == report["errors"] > 0 and by["products/galley"]["folder"] is None
    assert any("\U0001f963" in f["message"] for f in by["products/galley"]["findings"])


def test_each_bundle_is_what_a_build_of_it_alone_gives(shop, whole, tmp_path):
    _, report, together = whole
    alone = {}
    for number, folder in enumerate(GOOD):
        bundle = tool.build(shop / "products" / folder, tmp_path / str(number))
        alone |= digests(tmp_path / str(number))
        (row,) = [r for r in report["products"] if r["path"] == f"products/{folder}"]
        uploads = list((bundle.folder / "upload").iterdir())
        assert (row["uploads"], row["bytes"]) == (len(uploads), sum(p.stat().st_size for p in uploads))
        assert (row["product"], row["version"]) == (bundle.slug, "1.0.0")
    assert {path: d for path, d in together.items() if not path.endswith("-stopped.html")} == alone


@pytest.mark.parametrize("costs", [False, True], ids=["by bytes", "by past cost"])
def test_shards_are_the_whole_together(shop, whole, costs, tmp_path):
    _, report, together = whole
    (shop / "last.json").write_text(json.dumps(report))
    reports, parts = [], []
    for number in (1, 2, 3):
        more = ["--costs", "last.json"] if costs else []
        run = sheafwright("build", "products", "--out", tmp_path / "dist", "--json", "--shard", f"{number}/3", *more, cwd=shop)
        part = json.loads(run.stdout)
        held(part)
        parts.append([row["path"] for row in part["products"]])
        reports.append(tmp_path / f"{number}.json")
        reports[-1].write_text(run.stdout)
    assert sorted(sum(parts, [])) == [row["path"] for row in report["products"]]
    assert all(parts), parts
    assert digests(tmp_path / "dist") == together
    merged = sheafwright("table", *reports, "--json")
    assert merged.returncode == 2
    held(json.loads(merged.stdout))
    assert rows(json.loads(merged.stdout)) == rows(report)


def test_parts_are_even_by_what_products_cost(shop, tmp_path):
    """The costliest product is alone in its part where it costs as much as all others."""
    rows = [{"path": f"products/{folder}", "seconds": 9.0 if folder == "harbour" else 1.0} for folder in [*GOOD, "galley", "broken"]]
    common = {"product": "x", "version": None, "state": "built", "uploads": 0, "bytes": 0, "errors": 0, "warnings": 0, "notes": 0}
    common |= {"changed": None, "folder": None, "proof": None, "faults": [], "findings": []}
    (tmp_path / "costs.json").write_text(json.dumps({"products": [common | row for row in rows]}))
    run = sheafwright("build", "products", "--out", tmp_path / "dist", "--shard", "1/2", "--costs", tmp_path / "costs.json", "--json", cwd=shop)
    assert [row["path"] for row in json.loads(run.stdout)["products"]] == ["products/harbour"]
    assert "Part 1 of 2: 1 of 5 products." in run.stderr


def test_the_table_for_people_counts_and_is_even(shop, whole):
    run = sheafwright("build", "products/harbour", "products/winter", "products/harbour/product.toml", "products/galley", "--out", "dist", cwd=shop)
    assert run.returncode == 1
    head, *lines, last = run.stdout.splitlines()
    assert [line.split()[0] for line in lines] == ["harbour-log", "knot-stickers", "lantern-log", "galley-log"]
    places = [head.index(word) for word in ("version", "to upload", "checks", "changed", "took")]
    for line in lines:
        assert all(line[place - 1] == " " and line[place] != " " for place in places), line
    assert last.startswith("4 products: 3 built, 1 stopped by its checks, in ")
    # What stops one is told in full, before the table.
    assert run.stderr.startswith("products/galley:\n") and "mend:" in run.stderr and "galley-log/1.0.0-stopped.html" in run.stderr


def test_two_products_of_one_name_are_both_refused(tmp_path):
    for folder in ("a", "b"):
        small("Harbour Log").write(tmp_path / "products" / folder)
    small("Pier Log").write(tmp_path / "products/c")
    run = sheafwright("build", "products", "--out", "dist", cwd=tmp_path)
    assert run.returncode == 2
    for here, other in (("a", "b"), ("b", "a")):
        assert f"products/{here}:\nerror: product.toml: this product and products/{other} are both harbour-log 1.0.0" in run.stderr
    assert [p.name for p in (tmp_path / "dist").iterdir() if not p.name.startswith(".")] == ["pier-log"]
    # Another version of it lands in another folder.
    text = (tmp_path / "products/b/product.toml").read_text().replace("1.0.0", "1.1.0")
    (tmp_path / "products/b/product.toml").write_text(text)
    assert sheafwright("build", "products", "--out", "dist", cwd=tmp_path).returncode == 0


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["build", "products", "--shard", "0/3"], "a part is written as its number and how many there are"),
        (["build", "products", "--shard", "4/3"], "a part is written as its number and how many there are"),
        (["build", "products", "--costs", "x.json"], "--shard"),
        (["build", "products", "--shard", "1/2", "--costs", "gone.json"], "gone.json: "),
        (["table", "products/harbour/product.toml"], "products/harbour/product.toml: this is no report of many products (line 1, column"),
        (["build", "products/notes"], "product.toml"),
        (["build", "products/gone", "products/harbour"], "products/gone:\nerror: products/gone: cannot be opened"),
    ],
)
def test_what_is_wrong_is_told(shop, arguments, says):
    run = sheafwright(*arguments, cwd=shop)
    assert run.returncode == 2 and says in run.stderr, run.stderr


def test_a_generated_shop_has_the_same_bytes_in_four_processes():
    """Eight products of mixed kinds in four variants each: cold, unchanged, and in four parts at once."""
    said = tool.program("env", f"SHEAFWRIGHT_BIN={tool.BINARY}", sys.executable, ROOT / "tests/bench/shop.py", 8, 2)
    assert said.startswith("8 products in 4 variants each\ncold: ") and said.count("largest process") == 3
    files = re.search(r"(\d+) files, the same bytes in all", said)
    assert files and int(files[1]) > 8 * 10, said


def test_products_side_by_side_stay_within_the_memory_that_they_are_given(tmp_path):
    """Four planners of a year with a page for each day, in two variants: what they need is the links and texts of their pages."""
    dated = "".join(f'[[notebook.dated]]\npages = "{kind}"\n' for kind in ("month", "week", "day"))
    hands = '[variants.hand]\nleft = { page.hand = "left" }\nright = { page.hand = "right" }\n'
    for name in ("Ash", "Birch", "Cedar", "Elm"):
        small(f"{name} Year", more=f'[calendar]\nfirst = "2027-01"\n{dated}{hands}').write(tmp_path / "products" / name)

    def run(megabytes):
        out, peak = tmp_path / f"dist-{megabytes}", tmp_path / f"peak-{megabytes}"
        command = [tool.BINARY, "build", tmp_path / "products", "--out", out, "--jobs", "4", "--memory", str(megabytes), "--json"]
        done = subprocess.run(memory.measured(command, peak), capture_output=True, text=True)
        assert done.returncode == 0, done.stdout + done.stderr
        return digests(out), memory.megabytes(peak)

    (alone, within), (together, without) = run(500), run(100_000)
    assert alone == together
    assert within < 500 and within < 0.9 * without, (within, without)


@pytest.mark.parametrize("said", ["0", "-1", "much", "1000001"])
def test_a_memory_that_is_none_is_refused(shop, said):
    run = sheafwright("build", "products", f"--memory={said}", "--out", "dist", cwd=shop)
    assert run.returncode == 2 and "--memory" in run.stderr and said in run.stderr
