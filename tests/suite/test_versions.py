"""The rule for version numbers: stated in the manifest, kept in the record, applied by diff and by the next build."""

import json
import re
from dataclasses import replace

import pytest

import products
import tool

RULE = '\n[versions]\nmajor = ["page-inserted"]\nminor = ["text-changed"]\ndownload-again = "major"\n'


def manifest(product, *changes):
    path = product / "product.toml"
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")


def build(product, dist, *more, code=0):
    run = tool.sheafwright("build", product, "--out", dist, *more)
    assert run.returncode == code, run.stdout + run.stderr
    return run


def report(old, new):
    return json.loads(tool.sheafwright("diff", old, new, "--json").stdout)


@pytest.fixture(scope="module")
def shelf(tmp_path_factory):
    """1.0.0 is issued; 1.1.0 has a page more; 1.2.0 states a rule by which that is a major change."""
    folder = tmp_path_factory.mktemp("shelf")
    product, dist = products.LAYOUTS["one-section"].write(folder / "product"), folder / "dist"
    manifest(product, ('version = "1.0.0"', 'version = "1.0.0"\nissued = true'))
    said = {"1.0.0": build(product, dist)}
    template = '[[notebook.template]]\nname = "Harbour log"\nruling = "lined"\n'
    manifest(
        product,
        ('version = "1.0.0"\nissued = true', 'version = "1.0.1"'),
        ("[[notebook.section]]", template + "[[notebook.section]]"),
    )
    said["1.0.1"] = build(product, dist)
    manifest(product, ('version = "1.0.1"', 'version = "1.1.0"'))
    said["1.1.0"] = build(product, dist)
    manifest(product, ('version = "1.1.0"', 'version = "1.2.0"'))
    path = product / "product.toml"
    path.write_text(path.read_text(encoding="utf-8") + RULE, encoding="utf-8")
    said["1.2.0"] = build(product, dist)
    (slug,) = [p for p in dist.iterdir() if p.is_dir() and not p.name.startswith(".")]
    return product, dist, slug, said


def test_the_usual_rule_goes_without_saying(shelf):
    *_, slug, _ = shelf
    assert "versions" not in json.loads((slug / "1.1.0/bundle.json").read_text(encoding="utf-8"))
    found = report(slug / "1.0.0", slug / "1.1.0")
    assert found["rule"]["stated"] is False and found["verdict"] == "minor" and found["download_again"]
    assert found["numbers"]["needed"] == "1.1.0" and found["numbers"]["enough"]


def test_the_new_bundle_states_the_rule(shelf):
    *_, slug, _ = shelf
    record = json.loads((slug / "1.2.0/bundle.json").read_text(encoding="utf-8"))["versions"]
    assert "page-inserted" in record["major"] and record["download_again"] == "major"
    found = report(slug / "1.0.0", slug / "1.2.0")
    assert found["rule"]["stated"] and found["verdict"] == "major" and found["download_again"]
    assert not found["numbers"]["enough"]
    assert {d["kind"] for d in found["differences"] if d["weight"] == "major"} == {"page-inserted"}
    people = tool.sheafwright("diff", slug / "1.0.0", slug / "1.2.0").stdout
    assert "By the rule that the product states, because of: 1 page new." in people or re.search(
        r"because of: \d+ pages new\.", people
    )
    # The rule of the new version counts, not that of the old one.
    back = report(slug / "1.2.0", slug / "1.1.0")
    assert back["rule"]["stated"] is False
    assert any("another rule" in d["message"] for d in back["differences"])
    # Between two versions of which only numbers and rule differ there is nothing to download for.
    assert not report(slug / "1.1.0", slug / "1.2.0")["download_again"]


def test_a_build_says_what_the_version_must_be(shelf):
    *_, said = shelf
    assert "since" not in said["1.0.0"].stdout
    assert "since 1.0.0, which buyers have" in said["1.0.1"].stdout
    assert "1.0.1 is too low, 1.1.0 is needed" in said["1.0.1"].stdout
    assert "version-too-low" in said["1.0.1"].stderr and "asks for 1.1.0 at least" in said["1.0.1"].stderr
    # 1.0.1 lies there too, and is newer; but buyers have 1.0.0.
    assert "since 1.0.0, which buyers have" in said["1.1.0"].stdout
    assert "(a minor change: 1.1.0 or higher)" in said["1.1.0"].stdout
    assert "version-too-low" not in said["1.1.0"].stderr
    assert "asks for 2.0.0 at least" in said["1.2.0"].stderr


def test_the_proof_shows_what_changed_since_the_version_that_buyers_have(shelf):
    *_, slug, _ = shelf
    first, second = ((slug / version / "proof.html").read_text(encoding="utf-8") for version in ("1.0.0", "1.0.1"))
    assert 'id="since"' not in first
    section = second[second.index('<section id="since"') : second.index('<section id="walk"')]
    assert "Since 1.0.0</h2>" in section and "What buyers have, of 2027-03-01." in section
    assert "1.0.1 is too low: what changed asks for 1.1.0" in section and "<strong>A minor version</strong>" in section
    # Every page that is new is a way to that page of the notebook.
    new = {d["page_new"] for d in report(slug / "1.0.0", slug / "1.0.1")["differences"] if d["kind"] == "page-inserted"}
    ways = set(map(int, re.findall(r'<span class="kind">page new</span> <a href="#d0p(\d+)">', section)))
    assert new == ways and new


def test_a_version_that_is_too_low_is_a_warning_that_can_be_lowered(shelf, tmp_path):
    product, dist, *_ = shelf
    before = (product / "product.toml").read_text(encoding="utf-8")
    try:
        build(product, dist, "--strict", code=1)
        again = build(product, dist)
        assert "version-too-low" in again.stderr, "a build of which nothing changed says it again"
        lower = '\n[[lower]]\ncheck = "version-too-low"\nto = "off"\nreason = "nobody bought 1.0.0"\n'
        (product / "product.toml").write_text(before + lower, encoding="utf-8")
        quiet = build(product, dist, "--strict")
        assert "asks for 2.0.0 at least" not in quiet.stderr
    finally:
        (product / "product.toml").write_text(before, encoding="utf-8")


def test_without_an_issued_version_the_newest_earlier_one_counts(tmp_path):
    product, dist = products.LAYOUTS["one-section"].write(tmp_path / "product"), tmp_path / "dist"
    for old, new in [("1.0.0", "1.0.0"), ("1.0.0", "1.9.0"), ("1.9.0", "1.10.0")]:
        manifest(product, (f'version = "{old}"', f'version = "{new}"'))
        run = build(product, dist)
    assert "since 1.9.0: " in run.stdout and "buyers have" not in run.stdout


@pytest.mark.parametrize(
    "table, place, words",
    [
        ('major = ["page-vanished"]', ":2:10:", "no kind of change"),
        ('major = ["page-moved"]\nminor = ["page-moved"]', ":3:10:", "cannot make both"),
        ('download-again = "sometimes"', ":2:18:", "unknown value"),
        ('enormous = ["page-moved"]', ":2:1:", "unknown key"),
        ("minor = 3", ":2:9:", "the number 3"),
    ],
)
def test_a_wrong_rule_is_told_with_its_place(tmp_path, table, place, words):
    product = products.LAYOUTS["one-section"].write(tmp_path / "product")
    path = product / "product.toml"
    before = path.read_text(encoding="utf-8").rstrip("\n")
    path.write_text(f"{before}\n[versions]\n{table}\n", encoding="utf-8")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist")
    lines, (_, line, column, _) = before.count("\n") + 1, place.split(":")
    assert run.returncode == 2 and words in run.stderr, run.stderr
    assert f"product.toml:{lines + int(line)}:{column}" in run.stderr.replace(" ", ""), run.stderr


def test_a_build_that_changes_every_page_says_so_of_all_of_them(tmp_path):
    """Another name on a tab is on every page. The build counts them all and measures the first; diff measures all."""
    recipe = products.LAYOUTS["one-section"]
    recipe = replace(recipe, section_pages={recipe.sections[0]: [("deck-log", 60)]})
    product, dist = recipe.write(tmp_path / "product"), tmp_path / "dist"
    build(product, dist)
    manifest(product, ('version = "1.0.0"', 'version = "1.1.0"'), (f'name = "{recipe.sections[0]}"', 'name = "Other things"'))
    run = build(product, dist)
    pages = int(re.search(r"since 1\.0\.0: .*?(\d+) pages redrawn", run.stdout)[1])
    assert pages >= 60
    (slug,) = [p for p in dist.iterdir() if p.is_dir() and not p.name.startswith(".")]
    measured = [d for d in report(slug / "1.0.0", slug / "1.1.0")["differences"] if "looks different" in d["message"]]
    assert len(measured) >= 60, "diff itself measures them all"
    proof = (slug / "1.1.0/proof.html").read_text(encoding="utf-8")
    assert "of the page looks different" in proof and "more; <code>sheafwright diff</code>" in proof
