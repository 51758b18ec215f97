"""The same inputs give the same bytes, wherever they lie, however many work on them, whatever was built before."""

import os
import re
import shutil
import subprocess

import products
import tool


def difference(one, other):
    """Paths that only one tree has or whose bytes differ."""
    return sorted(path for path in one.keys() | other.keys() if one.get(path) != other.get(path))


def test_from_two_folders_with_one_job_and_eight_cold_and_warm(full, tmp_path):
    wanted = tool.tree(full.folder)
    far = tmp_path / "another place" / "with a longer path"
    shutil.copytree(full.product, far)
    for path in far.rglob("*"):
        os.utime(path, (1_000_000_000, 1_000_000_000))
    for jobs in (1, 8):
        out = tmp_path / f"dist {jobs}"
        cold = tool.build(far, out, "--jobs", jobs)
        assert difference(wanted, tool.tree(cold.folder)) == []
        assert any((out / ".cache").rglob("*"))
        # Warm: only the cache is kept.
        shutil.rmtree(out / "harbour-log")
        warm = tool.build(far, out, "--jobs", 9 - jobs)
        assert difference(wanted, tool.tree(warm.folder)) == []


def test_by_a_path_from_elsewhere_in_another_time_zone_and_language(full, tmp_path):
    shutil.copytree(full.product, tmp_path / "log")
    environment = os.environ | {"TZ": "Pacific/Kiritimati", "LC_ALL": "C", "LANG": "tr_TR.UTF-8", "HOME": str(tmp_path)}
    command = [tool.BINARY, "build", "log/product.toml", "--out", "shelf"]
    subprocess.run(command, cwd=tmp_path, env=environment, check=True, capture_output=True, timeout=600)
    assert difference(tool.tree(full.folder), tool.tree(tmp_path / "shelf/harbour-log/1.0.0")) == []


def test_a_spoilt_cache_does_no_harm(full, tmp_path):
    out = tmp_path / "dist"
    tool.build(full.product, out)
    shutil.rmtree(out / "harbour-log")
    spoilt = [path for path in (out / ".cache").rglob("*") if path.is_file()]
    for number, path in enumerate(spoilt):
        data = path.read_bytes()
        path.write_bytes(data[: len(data) // 2] if number % 2 else b"")
    again = tool.build(full.product, out)
    assert difference(tool.tree(full.folder), tool.tree(again.folder)) == []


def test_a_change_of_the_manifest_is_seen(workshop, tmp_path):
    recipe = products.LAYOUTS["no-coil"]
    before = tool.tree(workshop(recipe).folder)
    manifest = tmp_path / "product/product.toml"
    manifest.write_text(manifest.read_text().replace('"Tides"', '"Tide tables"'))
    after = tool.tree(tool.build(tmp_path / "product", tmp_path / "dist").folder)
    assert "contents/loose-log.pdf" in difference(before, after)


def test_a_build_without_changes_leaves_the_folder_untouched(workshop, tmp_path):
    bundle = workshop(products.LAYOUTS["no-coil"])
    stamps = {path: path.stat().st_mtime_ns for path in bundle.folder.rglob("*")}
    tool.build(tmp_path / "product", tmp_path / "dist")
    assert {path: path.stat().st_mtime_ns for path in bundle.folder.rglob("*")} == stamps


ALIKE = """
[[notebook.section]]
name = "Boats"
colour = "#5a7fa0"
[[notebook.section]]
name = "Tides"
colour = "#5b80a1"
"""


def damages(folder):
    """Ways in which a bundle can lose its shape between two builds, each by its own hand."""
    guide, sums = folder / "contents/how-to.pdf", folder / "SHA256SUMS"
    guide = guide if guide.exists() else next((folder / "contents").glob("*.pdf"))
    yield "one byte changed", lambda: guide.write_bytes(guide.read_bytes()[:-2] + b"#\n")
    yield "a file cut short", lambda: sums.write_bytes(sums.read_bytes()[:100])
    yield "a file gone", guide.unlink
    yield "a file of another hand", lambda: (folder / "contents/stray.txt").write_text("not of this build")
    yield "the folder gone", lambda: shutil.rmtree(folder)


def test_a_damaged_bundle_is_made_whole_although_no_input_changed(workshop, tmp_path):
    bundle = workshop(products.LAYOUTS["no-coil"])
    wanted = tool.tree(bundle.folder)
    for name, damage in damages(bundle.folder):
        damage()
        assert not bundle.folder.exists() or difference(wanted, tool.tree(bundle.folder)) != [], name
        tool.build(tmp_path / "product", tmp_path / "dist")
        assert difference(wanted, tool.tree(bundle.folder)) == [], name


def test_an_unchanged_build_says_what_the_first_one_said(tmp_path):
    """A warning does not get lost because nothing had to be made, and `--strict` still stops at it."""
    products.Recipe("Two Blues", more=ALIKE).write(tmp_path / "product")
    runs = [tool.sheafwright("build", tmp_path / "product", "--out", tmp_path / "dist") for _ in range(2)]
    assert [run.returncode for run in runs] == [0, 0], runs[0].stderr
    said = [re.sub(r"\d+(\.\d+)? (m?s)\b", "T", run.stdout + run.stderr) for run in runs]
    assert "warning" in said[0]
    assert said[0] == said[1]
    strict = tool.sheafwright("build", tmp_path / "product", "--out", tmp_path / "dist", "--strict")
    assert strict.returncode == 1, strict.stdout + strict.stderr


def test_lines_that_state_nothing_renew_the_record_alone(workshop, tmp_path):
    """Other products are told so beside every build (`again.py`); here it is seen that nothing is written again."""
    bundle = workshop(products.LAYOUTS["upright"])
    manifest = tmp_path / "product/product.toml"
    text = manifest.read_text(encoding="utf-8")
    lie = {p: (p.stat().st_ino, p.stat().st_mtime_ns) for p in bundle.folder.rglob("*") if p.is_file()}
    manifest.write_text("# Words for myself.\n\n" + text.replace(" = ", "  =  ", 1) + "\n", encoding="utf-8")
    again = tool.build(tmp_path / "product", tmp_path / "dist")
    assert "since the last build: nothing that buyers get" in again.said
    changed = {p.name for p, of in lie.items() if of != (p.stat().st_ino, p.stat().st_mtime_ns)}
    assert changed == {"bundle.json", "SHA256SUMS"}
    assert tool.program("sh", "-c", f"cd '{again.folder}' && sha256sum -c --quiet --strict SHA256SUMS") == ""
    cold = tool.build(tmp_path / "product", tmp_path / "cold")
    assert difference(tool.tree(cold.folder), tool.tree(again.folder)) == []
    # A file that somebody changed meanwhile is made good, as it always was.
    page = again.folder / "listing/listing.txt"
    page = page if page.exists() else next((again.folder / "listing").glob("*.txt"))
    page.write_text("mine", encoding="utf-8")
    manifest.write_text(text, encoding="utf-8")
    mended = tool.build(tmp_path / "product", tmp_path / "dist")
    assert difference(tool.tree(mended.folder), tool.tree(cold.folder)) == ["SHA256SUMS", "bundle.json"]


def test_what_is_found_at_a_line_is_told_at_its_line(tmp_path):
    """What a build says of a line it says of the right one when lines come above it."""
    folder = products.LAYOUTS["upright"].write(tmp_path / "product")
    manifest = folder / "product.toml"
    # Nothing that went into the product is this file.
    unused = '\n[[assets.item]]\nfile = "art/gone.svg"\nby = "A friend"\nsource = "a gift"\nlicence = "CC0-1.0"\n'
    text = manifest.read_text(encoding="utf-8") + unused
    said = []
    for lines, out in ((0, "dist"), (3, "dist"), (3, "cold")):
        manifest.write_text("\n" * lines + text, encoding="utf-8")
        said.append(tool.build(folder, tmp_path / out).said)
    places = [re.findall(r"line (\d+), column", one) for one in said]
    assert places[0] and places[1] == places[2] == [str(int(line) + 3) for line in places[0]]
