"""What a newcomer does before the first build of their own: starting points, `add`, `look`, `explain`, the manual, the man page
and what shells complete. Judges from outside: tomllib, axe-core, man, and the shells themselves."""

import json
import os
import re
import subprocess
import tomllib

import pytest
import test_proof
import tool

sheafwright = tool.sheafwright

NAMES = ["my-first-log", "Tide & Ebb", "\U0001f33f", "\u062f\u0641\u062a\u0631", "\U0001f33f herbs", "a'b \"c\"", "x" * 90]


def findings(product, out):
    run = sheafwright("build", product, "--out", out, "--strict", "--json")
    assert run.returncode == 0, run.stdout + run.stderr
    return json.loads(run.stdout)["findings"]


@pytest.mark.parametrize("name", NAMES)
def test_any_folder_name_makes_a_notebook_that_can_be_built(name, tmp_path):
    run = sheafwright("new", tmp_path / name)
    assert run.returncode == 0, run.stderr
    assert findings(tmp_path / name, tmp_path / "dist") == []
    assert tomllib.loads((tmp_path / name / "product.toml").read_text("utf-8"))["name"].isprintable()


@pytest.mark.parametrize("kind", ["--notebook", "--planner", "--stickers", "--art"])
def test_every_starting_point_builds_without_a_finding(kind, tmp_path):
    product = tmp_path / "\U0001f33f start"
    assert sheafwright("new", product, kind).returncode == 0
    text = (product / "product.toml").read_text("utf-8")
    assert 15 <= len(text.splitlines()) <= 60 and text.count("#") > 5, "small, with comments"
    found = findings(product, tmp_path / "dist")
    # The days of a month's grid are small by nature: that is told as a note, and is the only thing that is told.
    small = [f for f in found if kind == "--planner" and f["check"] == "tap-area-small" and f["severity"] == "note"]
    assert found == small, found


def test_a_finished_pdf_is_a_starting_point(tmp_path):
    assert sheafwright("new", tmp_path / "drawn").returncode == 0
    bundle = tool.build(tmp_path / "drawn", tmp_path / "dist")
    # A PDF of the designer's is no file of the tool's: its links and outline are left out, as a drawing program writes it.
    plain = tmp_path / "My export.pdf"
    import pikepdf

    with pikepdf.open(bundle.notebook) as pdf:
        for page in pdf.pages:
            if "/Annots" in page:
                del page.Annots
        for key in ("/Outlines", "/PageLabels", "/Names", "/Metadata"):
            if key in pdf.Root:
                del pdf.Root[key]
        del pdf.docinfo
        pdf.save(plain)
    run = sheafwright("new", tmp_path / "mine", "--finished", plain)
    assert run.returncode == 0, run.stderr
    assert (tmp_path / "mine/exports/My export.pdf").read_bytes() == plain.read_bytes()
    run = sheafwright("build", tmp_path / "mine", "--out", tmp_path / "dist2", "--json")
    assert run.returncode == 0, run.stdout + run.stderr
    run = sheafwright("new", tmp_path / "other", "--finished", tmp_path / "drawn/product.toml")
    assert run.returncode == 2 and "no PDF" in run.stderr and not (tmp_path / "other").exists()


def test_what_is_to_be_typed_next_can_be_typed(tmp_path):
    for name in ("My log", "Ann's log", "a$b"):
        run = sheafwright("new", tmp_path / name)
        typed = run.stderr.strip().split("Next: sheafwright build ", 1)[1]
        shown = subprocess.run(["bash", "-c", f"printf %s {typed}"], capture_output=True, text=True, check=True).stdout
        assert shown == str(tmp_path / name)


ADDED = [
    (("template", "margin-ruled"), lambda t: t["notebook"]["template"][-1] == {"ruling": "margin-ruled"}),
    (("template", "square-grid", "--name", "Squares"), lambda t: t["notebook"]["template"][-1]["name"] == "Squares"),
    (("section", "Letters"), lambda t: t["notebook"]["section"][-1]["name"] == "Letters"),
    (("sticker", "speech-bubble", "--colour", "#8a9a5b"), lambda t: t["sticker"][-1] == {"motif": "speech-bubble", "colour": "#8a9a5b"}),
    (("cover", "leaves"), lambda t: t["cover"][-1]["pattern"] == "leaves"),
    (("cover", "banded"), lambda t: t["cover"][-1]["design"] == "banded"),
    (("variant", "colourway/dusk", "--colour", "#4a5f8a"), lambda t: t["variants"]["colourway"]["dusk"]["style"]["accent"]),
]


@pytest.mark.parametrize("kind", ["--notebook", "--planner", "--stickers", "--art"])
def test_things_are_added_and_everything_else_stays(kind, tmp_path):
    product = tmp_path / "log"
    sheafwright("new", product, kind)
    manifest = product / "product.toml"
    for words, holds in ADDED:
        before = manifest.read_text()
        run = sheafwright("add", product, *words)
        assert run.returncode == 0, (words, run.stderr)
        after = manifest.read_text()
        assert holds(tomllib.loads(after)), (words, after)
        for line in before.splitlines():
            assert line in after.splitlines() or line.rstrip(",") in after, (words, line)
        written = [line.split("|", 1)[1].strip() for line in run.stdout.splitlines() if " | " in line]
        assert written and all(line in after for line in written), run.stdout
    tool.build(product, tmp_path / "dist")


def test_a_fault_leaves_the_manifest_as_it_was(tmp_path):
    sheafwright("new", tmp_path / "log")
    manifest = tmp_path / "log/product.toml"
    before = manifest.read_bytes()
    for words, help_ in [
        (("template", "lned"), "did you mean `lined`?"),
        (("sticker", "strr"), "did you mean `star`?"),
        (("cover", "leafs"), "did you mean `leaves`?"),
        (("sticker", "art/none.svg"), "no such file"),
        (("variant", "dusk"), "colourway/dusk"),
        (("section", "Plans", "--colour", "red"), "is not a colour"),
    ]:
        run = sheafwright("add", tmp_path / "log", *words)
        assert run.returncode == 2 and help_ in run.stderr and "stays as it was" in run.stderr, (words, run.stderr)
        assert manifest.read_bytes() == before


def test_a_look_tells_what_is_there_and_what_comes_next(tmp_path):
    folder = tmp_path / "my things"
    folder.mkdir()
    assert f"sheafwright new '{folder}'" in sheafwright("look", folder).stdout
    (folder / "page.svg").write_text("<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>")
    assert f"sheafwright new '{folder}' --art" in sheafwright("look", folder).stdout
    sheafwright("new", folder)
    told = sheafwright("look", folder).stdout
    assert "Used by nothing in product.toml:\n  page.svg" in told and "sheafwright build" in told, told
    assert "1 notebook, 3 sections, 2 templates, 1 sticker" in told, told
    manifest = folder / "product.toml"
    manifest.write_text(manifest.read_text().replace("dot-grid", "dot-gird"))
    told = sheafwright("look", folder).stdout
    assert "one thing to mend" in told and "did you mean `dot-grid`?" in told, told
    assert sheafwright("look", tmp_path / "nowhere").returncode == 2


def test_explain_knows_keys_rulings_motifs_words_and_checks():
    for name, part in [
        ("style.accent", 'accent = "#5f7d5a"'),
        ("lined", "a ruling"),
        ("week-hours", "a dated ruling"),
        ("water-row", "a motif"),
        ("flip-through", "a layout"),
        ("gingham", "cover.pattern"),
        ("link-to-nowhere", "looks for"),
    ]:
        run = sheafwright("explain", name)
        assert run.returncode == 0 and part in run.stdout, (name, run.stdout, run.stderr)


@pytest.fixture(scope="module")
def manual(tmp_path_factory):
    folder = tmp_path_factory.mktemp("manual")
    names = {"--html": "manual.html", "--schema": "product.schema.json", "--shop-schema": "shop.schema.json", "--man": "sheafwright.1"}
    run = sheafwright("manual", *[word for flag, name in names.items() for word in (flag, folder / name)])
    assert run.returncode == 0, run.stderr
    return folder


def test_the_manual_holds_everything_with_its_picture(manual):
    text = (manual / "manual.html").read_text()
    for name in ("staves", "two-days", "weather-row", "gingham", "flip-through", "fonts.heading-italic", "link-to-nowhere"):
        assert name.rsplit(".", 1)[-1] in text, name
    shelves = re.findall(r'<div class="shelf ([\w-]+)">(.*?)</div></section>', text, re.S)
    counts = {name: (shelf.count("<article>"), shelf.count("<img")) for name, shelf in shelves}
    assert counts["ruling"][0] >= 53 and counts["motif"][0] >= 150 and counts["layout"][0] >= 9, counts
    assert all(things == pictures for things, pictures in counts.values()), counts
    assert not re.search(r'(src|href)="(?!data:|#)', text), "it asks nothing of any other computer"


def test_the_manual_in_a_browser(manual, tmp_path):
    seen = test_proof.browse("manual.mjs", manual / "manual.html", tmp_path / "manual.png")
    assert seen["axe"] == {"light": [], "dark": []}
    assert seen["all"] > 400 and seen["again"] == seen["plain"] == seen["all"], "without a script it shows everything"
    assert seen["found"] == ["water-row"] and seen["said"] == "1 found", seen["found"]
    assert seen["broken"] == [] and seen["wide"] <= 0, (seen["broken"], seen["wide"])
    assert seen["diary"] == {"console": [], "requests": [(manual / "manual.html").as_uri()]}, seen["diary"]


def test_the_man_page_is_shown(manual):
    shown = subprocess.run(["man", "-l", manual / "sheafwright.1"], capture_output=True, text=True, env={**os.environ, "MANPAGER": "cat", "MANWIDTH": "100"})
    assert shown.returncode == 0 and "--finished" in shown.stdout and "REDATE" in shown.stdout, shown.stderr


def test_the_schema_is_one_and_takes_the_samples(manual):
    import jsonschema

    def judge_of(name):
        schema = json.loads((manual / name).read_text())
        jsonschema.Draft202012Validator.check_schema(schema)
        return jsonschema.Draft202012Validator(schema)

    products, shops = judge_of("product.schema.json"), judge_of("shop.schema.json")
    samples = [(sample / "product.toml", products) for sample in tool.SAMPLES]
    samples += [(shop, shops) for shop in sorted((tool.ROOT / "products").glob("**/shop.toml"))]
    assert len(samples) >= 7
    for sample, judge in samples:
        value = json.loads(json.dumps(tomllib.loads(sample.read_text("utf-8")), default=str))
        assert [e.message for e in judge.iter_errors(value)] == [], sample


SHELLS = {"bash": ["bash", "-n"], "zsh": ["zsh", "-n"], "fish": ["fish", "--no-execute"]}


@pytest.mark.parametrize("shell", SHELLS)
def test_shells_load_the_completions(shell, tmp_path):
    run = sheafwright("completions", shell)
    assert run.returncode == 0 and run.stdout, run.stderr
    script = tmp_path / f"sheafwright.{shell}"
    script.write_text(run.stdout)
    loaded = subprocess.run([*SHELLS[shell], script], capture_output=True, text=True)
    assert loaded.returncode == 0, loaded.stderr


def test_names_are_completed(tmp_path):
    product = tmp_path / "products/tide-log"
    sheafwright("new", product)

    def completed(*words):
        env = {**os.environ, "COMPLETE": "bash", "_CLAP_IFS": "\n", "_CLAP_COMPLETE_INDEX": str(len(words)), "_CLAP_COMPLETE_COMP_TYPE": "9", "_CLAP_COMPLETE_SPACE": "true"}
        run = subprocess.run([tool.BINARY, "--", "sheafwright", *words], capture_output=True, text=True, env=env, cwd=tmp_path)
        return run.stdout.split("\n")

    assert "products/tide-log" in completed("build", "pro")
    assert "link-to-nowhere" in completed("explain", "link-")
    assert "style.accent" in completed("explain", "style.a")
    assert "margin-ruled" in completed("add", "products/tide-log", "template", "marg")
    assert "week-strip" in completed("add", "products/tide-log", "sticker", "week-")


# What is asked stands where `|` does.
EDITED = """\
#:schema ./product.schema.json
name = "Tide Log"
version = "1.0.0"
released = 2027-01-15
|

[style]
look = |""

[[notebook.template]]
ruling = |""

[[notebook.template]]
ruling = "lined"
with = { pitch = 400 }

[[notebook.template]]
ruling = "parts"
with = { parts = [{ part = "lines", rows = 900 }] }
"""


def test_an_editor_completes_and_finds_faults(manual, tmp_path):
    """Taplo is what editors ask about TOML; it knows of us nothing but the schema."""
    (tmp_path / "product.schema.json").write_text((manual / "product.schema.json").read_text())
    lines, places = EDITED.splitlines(), []
    for n, line in enumerate(lines):
        if "|" in line:
            # Within the quotes, where there are some.
            places.append(f"{n}:{line.index('|') + (1 if '=' in line else 0)}")
    (tmp_path / "product.toml").write_text("\n".join(line.replace("|", "") for line in lines) + "\n")
    samples = {"-".join(sample.relative_to(tool.ROOT).parts) + ".toml": sample for sample in tool.SAMPLES}
    for name, sample in samples.items():
        text = (sample / "product.toml").read_text(encoding="utf-8")
        (tmp_path / name).write_text(f"#:schema ./product.schema.json\n{text}", encoding="utf-8")
    seen = test_proof.browse("editor.mjs", tmp_path, "product.toml", *samples, *places)
    assert all(file["schema"].endswith("/product.schema.json") for file in seen["files"].values())
    assert len(samples) >= 7 and all(seen["files"][name]["found"] == [] for name in samples), "samples are sound"
    keys, looks, rulings = ([label.strip('"') for label in seen["completed"][place]] for place in places)
    schema = json.loads((manual / "product.schema.json").read_text())
    assert set(schema["properties"]) - {"name", "version", "released", "style"} <= set(keys), "every key that is not there yet"
    assert {"gazebo", "night-train"} <= set(looks)
    assert len(set(rulings)) >= 53 and {"lined", "meal-plan", "parts"} <= set(rulings)
    said = {found["line"] + 1: found["message"] for found in seen["files"]["product.toml"]["found"]}
    assert '"" is not one of' in said[11], "a ruling of no name"
    assert "400 is" in said[15] and "900 is greater than the maximum of 200" in said[19], said


TEXTS = [tool.ROOT / "README.md", *sorted((tool.ROOT / "pipeline/manual/chapters").glob("*.md"))]


def typed(text):
    """Lines of the blocks of shell commands, without their remarks."""
    blocks = re.findall(r"^```sh\n(.*?)^```", text, re.M | re.S)
    return [line.split(" #")[0].strip() for block in blocks for line in block.splitlines() if line.startswith("sheafwright ")]


@pytest.mark.parametrize("path", [p for p in TEXTS if typed(p.read_text(encoding="utf-8"))], ids=lambda path: path.stem)
def test_what_a_text_tells_to_type_does_what_it_says(path, tmp_path):
    """Every line of the blocks, one after the other, in a folder that holds nothing but the two products named there."""
    (tmp_path / "sheafwright").symlink_to(tool.BINARY)
    run = lambda line: subprocess.run(["bash", "-c", line], cwd=tmp_path, env={**os.environ, "PATH": f"{tmp_path}:{os.environ['PATH']}"}, capture_output=True, text=True)
    for name in ("tide-log", "knots"):
        assert tool.sheafwright("new", tmp_path / "products" / name).returncode == 0
    for line in typed(path.read_text(encoding="utf-8")):
        if "--shard 2/5" in line:
            # The text shows the second of five; the others do as it does.
            for part in "1345":
                assert run(line.replace("2/5", f"{part}/5").replace("2.json", f"{part}.json")).returncode == 0
        done = run(line)
        assert done.returncode == 0, (line, done.stdout, done.stderr)
        assert "error:" not in done.stdout + done.stderr, (line, done.stdout, done.stderr)


@pytest.mark.parametrize("path", TEXTS, ids=lambda path: path.stem)
def test_commands_and_options_that_a_text_names_are_there(path):
    told = re.findall(r"`(?:sheafwright )([a-z]+)((?: [^`]*)?)`", path.read_text(encoding="utf-8"))
    for command, rest in told:
        shown = tool.sheafwright(command, "--help")
        assert shown.returncode == 0, command
        for option in re.findall(r"--[a-z-]+", rest):
            assert option in shown.stdout, f"sheafwright {command}{rest}"
