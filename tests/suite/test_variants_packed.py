"""`delivery.zip-per-variant`: every variant is an archive of its own, and what all share is another.

Archives are read with unzip and zipfile, and held against record, listing texts, check and verify."""

import itertools
import json
import re
import zipfile
from dataclasses import replace

import pytest

import agree
import tool
from products import Recipe
from tool import program

SIZES = {"small": "", "large": 'page.size = "A4"'}
HANDS = {"right": "", "left": 'page.hand = "left"'}
COLOURS = {"slate": "", "clay": 'style.accent = "#a4553a"'}
ROWS = {"size": SIZES, "hand": HANDS, "colourway": COLOURS}


def rows(count):
    chosen = list(ROWS.items())[:count]
    text = "".join(f"[variants.{row}]\n" + "".join(f"{name} = {{ {keys} }}\n" for name, keys in of.items()) for row, of in chosen)
    return text, ["-".join(names) for names in itertools.product(*(of for _, of in chosen))]


def recipe(count, stickers=True, files=10):
    text, _ = rows(count)
    more = '[[cover]]\nname = "Slate"\n' + '[[sticker]]\nmotif = "tally"\n[[sticker]]\nmotif = "star"\ncolour = "#446688"\n' * stickers
    more += f"[limits]\nfiles = {files}\n[delivery]\nzip-per-variant = true\n"
    return Recipe(
        f"Packed Log {count} {stickers} {files}",
        page='size = "A5"\nlayout = "single"',
        sections=["Boats", "Tides"],
        section_pages={"Tides": [("deck-log", 2)]},
        templates=[("Deck log", "lined", "{}"), ("Watch list", "checklist", "{}")],
        more=more + text,
    )


@pytest.mark.parametrize(("count", "stickers"), [(1, True), (2, False), (3, True)])
def test_every_variant_is_an_archive_of_its_own(count, stickers, tmp_path):
    _, names = rows(count)
    assert len(names) == 2**count
    product = recipe(count, stickers).write(tmp_path / "product")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist", "--json")
    assert run.returncode == 0, run.stdout + run.stderr
    (path,) = (tmp_path / "dist").glob("*/*/bundle.json")
    bundle = tool.Bundle(product, path.parent)
    assert [v["name"] for v in bundle.record["variants"]] == names
    contents = bundle.folder / "contents"
    loose = {p.relative_to(contents).as_posix(): p.read_bytes() for p in contents.rglob("*") if p.is_file()}
    shared = {name for name in loose if name.split("/")[0] not in names}
    # An archive a variant, named after it, with all that is the variant's and nothing of another; one for what all share.
    archives = {p.name: p for p in (bundle.folder / "upload").iterdir()}
    slug = bundle.slug
    assert {f"{slug}-{name}.zip" for name in names} <= set(archives) and len(archives) == len(names) + 1
    (rest,) = set(archives) - {f"{slug}-{name}.zip" for name in names}
    packed = {}
    (tmp_path / "out").mkdir()
    for name, archive in archives.items():
        program("unzip", "-tqq", archive)
        program("unzip", "-qq", archive, "-d", tmp_path / "out" / name)
        packed[name] = tool.tree(tmp_path / "out" / name)
        assert sorted(packed[name]) == sorted(zipfile.ZipFile(archive).namelist())
        assert all(loose[entry] == data for entry, data in packed[name].items())
    for name in names:
        assert set(packed[f"{slug}-{name}.zip"]) == {n for n in loose if n.startswith(f"{name}/")}
        assert any(re.fullmatch(rf"{name}/{slug}-{name}\.pdf", n) for n in packed[f"{slug}-{name}.zip"])
    assert set(packed[rest]) == shared and {"start-here.txt", "licence-terms.txt"} <= shared
    # The record has each archive with its entries.
    recorded = {f["path"]: f for f in bundle.record["files"] if f["kind"] == "upload"}
    assert set(recorded) == {f"upload/{name}" for name in archives}
    for name, entries in packed.items():
        kept = {e["name"]: e for e in recorded[f"upload/{name}"]["facts"]["entries"]}
        assert set(kept) == set(entries)
    # The listing's texts name each with its number of files and its bytes.
    described = (bundle.folder / "listing/description.md").read_text(encoding="utf-8")
    listed = (bundle.folder / "listing/files.txt").read_text(encoding="utf-8")
    for name, entries in packed.items():
        (line,) = [n for n in described.splitlines() if n.startswith(f"- `{name}`")]
        assert re.search(rf", {len(entries)} files?\b", line), line
        block = listed[listed.index(f"\n{name}\n") :].split("\n\n")[0]
        assert f"{archives[name].stat().st_size:,} bytes" in block
        assert sorted(re.findall(r"^    - (\S+)$", block, re.M)) == sorted(entries)
    # Check and verify have nothing to add.
    checked = tool.sheafwright("check", bundle.folder, "--json")
    assert not agree.differences(run, checked)
    assert not [f for f in json.loads(run.stdout)["findings"] if f["severity"] != "note"], run.stdout
    assert tool.sheafwright("verify", bundle.folder).returncode == 0
    # What a buyer has of it is verified by the record as well, and what is missing of it is named: the files of one variant.
    for n, archive in enumerate(archives.values()):
        program("unzip", "-qq", archive, "-d", tmp_path / "mine")
        mine = tool.sheafwright("verify", tmp_path / "mine", "--record", bundle.folder / "bundle.json")
        there = tool.tree(tmp_path / "mine")
        assert mine.returncode == (n + 1 < len(archives)), mine.stdout + mine.stderr
        assert set(re.findall(r"^ *missing +(\S+): ", mine.stdout, re.M)) == set(loose) - set(there)


@pytest.mark.parametrize(("count", "files"), [(2, 4), (3, 8), (1, 1)])
def test_what_has_no_room_is_told_with_its_figures(count, files, tmp_path):
    product = recipe(count, files=files).write(tmp_path / "product")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist")
    assert run.returncode == 2 and f"{2**count} variants, an archive each" in run.stderr, run.stderr
    assert f"{files} upload" in run.stderr and "zip-per-variant" in run.stderr


def test_without_variants_there_is_nothing_to_pack(tmp_path):
    plain = replace(recipe(1), more="[delivery]\nzip-per-variant = true\n")
    run = tool.sheafwright("build", plain.write(tmp_path / "product"), "--out", tmp_path / "dist")
    assert run.returncode == 2 and "there are no variants to pack" in run.stderr
