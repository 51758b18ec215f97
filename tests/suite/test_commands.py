"""The command line: exit codes, what goes to which output, and the JSON that other programs read."""

import json
import os
import re
import tomllib
import zipfile

import pikepdf
import pytest

import tool
from tool import sheafwright

SEVERITIES = {"error", "warning", "note"}
FAMILIES = set("file links pages fonts images stickers names archive listing licences dates look".split())


def report(run):
    data = json.loads(run.stdout)
    assert {"findings", "errors", "warnings", "notes"} <= set(data)
    for finding in data["findings"]:
        assert {"check", "severity", "family", "file", "page", "entry", "message", "help"} <= set(finding)
        assert finding["severity"] in SEVERITIES and finding["family"] in FAMILIES, finding
        assert finding["message"] and finding["help"], finding
    for key, severity in (("errors", "error"), ("warnings", "warning"), ("notes", "note")):
        assert data[key] == sum(f["severity"] == severity for f in data["findings"])
    return data


@pytest.fixture
def crossed(full, tmp_path):
    """The notebook with one tab that leads to a page that is not in the page tree."""
    path = tmp_path / "crossed.pdf"
    with pikepdf.open(full.notebook) as pdf:
        lost = pdf.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.Page, MediaBox=pdf.pages[0].MediaBox))
        annotation = pikepdf.Dictionary(pdf.pages[4].Annots[0])
        annotation.Dest = pikepdf.Array([lost, pikepdf.Name.XYZ, 0, 100, None])
        annotations = pikepdf.Array(list(pdf.pages[4].Annots))
        annotations[0] = pdf.make_indirect(annotation)
        pdf.pages[4].Annots = annotations
        pdf.save(path)
    return path


def test_new_makes_a_short_product_that_builds_at_once(tmp_path):
    run = sheafwright("new", tmp_path / "my-first-log")
    assert run.returncode == 0 and run.stdout == "", run
    text = (tmp_path / "my-first-log/product.toml").read_text()
    assert 15 <= len(text.splitlines()) <= 35
    assert tomllib.loads(text)["name"] == "My first log"
    bundle = tool.build(tmp_path / "my-first-log", tmp_path / "dist", "--strict")
    assert int(tool.pdfinfo(bundle.notebook)["Pages"]) > 5


def test_new_never_writes_over_a_product(tmp_path):
    (tmp_path / "product.toml").write_text("mine")
    run = sheafwright("new", tmp_path)
    assert run.returncode == 2 and (tmp_path / "product.toml").read_text() == "mine"


@pytest.mark.parametrize("name", ['Tide "and" time', "Ebbe & Flut", "ёлка", "a'b"])
def test_new_takes_any_name(name, tmp_path):
    assert sheafwright("new", tmp_path / name).returncode == 0
    tool.build(tmp_path / name, tmp_path / "dist")


def test_the_shortest_manifest_builds(tmp_path):
    (tmp_path / "product.toml").write_text('name = "Log"\nreleased = 2027-01-01\n')
    assert int(tool.pdfinfo(tool.build(tmp_path, tmp_path / "dist").notebook)["Pages"]) > 12


def test_build_says_where_the_bundle_lies(full, tmp_path):
    run = sheafwright("build", full.product, "--out", tmp_path)
    assert re.search(rf"^  lies in +{re.escape(str(tmp_path))}/harbour-log/1\.0\.0$", run.stdout, re.M), run.stdout
    for path in (full.folder / "upload").iterdir():
        assert path.name in run.stdout


def test_build_reports_as_json(full, tmp_path):
    run = sheafwright("build", full.product, "--out", tmp_path, "--json")
    assert run.returncode == 0
    data = report(run)
    assert data["errors"] == 0 and data["folder"] == str(tmp_path / "harbour-log/1.0.0")


def test_check_is_content_with_what_build_made(full):
    for paths in ([full.folder], [full.product], full.pdfs, full.stickers, list((full.folder / "upload").iterdir())):
        run = sheafwright("check", *paths, "--json")
        data = report(run)
        assert run.returncode == 0 and data["errors"] == 0, [f for f in data["findings"] if f["severity"] == "error"]


def test_check_finds_a_link_to_a_lost_page(crossed):
    run = sheafwright("check", crossed, "--json")
    assert run.returncode == 1
    (finding,) = [f for f in report(run)["findings"] if f["severity"] == "error"]
    assert (finding["check"], finding["family"], finding["page"]) == ("link-to-nowhere", "links", 5)
    assert finding["file"].endswith("crossed.pdf")
    run = sheafwright("check", crossed)
    assert run.returncode == 1 and "link-to-nowhere" in run.stdout


def test_strict_counts_warnings(full, tmp_path):
    path = tmp_path / "odd.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.write(full.notebook, "harbour-log.pdf")
        archive.writestr("Thumbs.db", b"x")
    loose, strict = sheafwright("check", path, "--json"), sheafwright("check", path, "--json", "--strict")
    data = report(loose)
    assert data["errors"] == 0 and data["warnings"] > 0, data
    assert not [f for f in data["findings"] if f["check"].startswith("pdf-")], "the archive was taken for the PDF in it"
    assert (loose.returncode, strict.returncode) == (0, 1)


def test_check_cannot_run_on_what_is_not_there(tmp_path):
    run = sheafwright("check", tmp_path / "nothing.pdf")
    assert run.returncode == 2 and run.stdout == "" and "no such file" in run.stderr


def test_check_reads_anything_without_falling_over(full, tmp_path):
    data = full.notebook.read_bytes()
    for name, bytes_ in {
        "half.pdf": data[: len(data) // 2],
        "empty.pdf": b"",
        "head.pdf": b"%PDF-1.7\n",
        "noise.png": b"\x89PNG\r\n\x1a\n" + bytes(range(256)),
        "half.zip": next((full.folder / "upload").glob("*.zip")).read_bytes()[:5000],
    }.items():
        (tmp_path / name).write_bytes(bytes_)
        run = sheafwright("check", tmp_path / name, "--json")
        assert run.returncode == 1 and report(run)["errors"] >= 1, (name, run.stdout, run.stderr)
        assert "panicked" not in run.stderr


def test_listing_prints_what_is_pasted(full):
    run = sheafwright("listing", full.folder)
    assert run.returncode == 0
    for name in ("description.md", "files.txt", "tags.txt"):
        assert (full.folder / "listing" / name).read_text(encoding="utf-8") in run.stdout
    run = sheafwright("listing", full.product)
    assert run.returncode == 2 and run.stdout == "" and "bundle" in run.stderr


def test_explain_knows_every_check_and_suggests():
    names = [line.split()[0] for line in sheafwright("explain").stdout.splitlines() if re.match(r"[a-z0-9-]+ {2,}", line)]
    assert len(names) > 20 and names == sorted(names)
    for name in ("link-to-nowhere", names[0], names[-1]):
        run = sheafwright("explain", name)
        assert run.returncode == 0 and run.stdout.startswith(name)
    run = sheafwright("explain", "link-to-nowere")
    assert run.returncode == 2 and "did you mean `link-to-nowhere`?" in run.stderr


def test_wrong_arguments_cannot_run():
    for arguments in (["build"], ["build", "x", "--jobs", "0"], ["bild", "x"], ["check"]):
        run = sheafwright(*arguments)
        assert run.returncode == 2 and run.stdout == "", arguments


def test_help_and_version_go_to_standard_output():
    assert re.fullmatch(r"sheafwright \d+\.\d+\.\d+\n", sheafwright("--version").stdout)
    for command in ("new", "build", "check", "listing", "explain"):
        assert command in sheafwright("--help").stdout
        assert sheafwright(command, "--help").returncode == 0


def test_a_reader_that_goes_away_is_no_crash(full):
    command = f'"{tool.BINARY}" listing "{full.folder}" | head -n 1'
    run = tool.program("bash", "-c", f"set -o pipefail; {command}", may_fail=True)
    assert run.stdout.startswith("# Harbour Log") and "panicked" not in run.stderr, run


def test_no_colour_and_no_progress_off_the_terminal(full, tmp_path):
    run = sheafwright("build", full.product, "--out", tmp_path / "dist")
    assert "\x1b" not in run.stdout + run.stderr and "\r" not in run.stdout + run.stderr
    assert os.environ.get("NO_COLOR") is None
