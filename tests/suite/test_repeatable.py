"""The same inputs give the same bytes, wherever they lie, however many work on them, whatever was built before."""

import os
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
