"""What a build says on a terminal and elsewhere: one moving line while it works, one table when it is done."""

import os
import pty
import re
import subprocess
import time

import pytest

import products
import tool

ESCAPE = re.compile(r"\x1b\[[0-9;]*[A-Za-z]")


def on_terminal(*arguments, columns=80, **environment):
    """Runs the tool on a terminal of its own (Python's pty) and gives its exit code and all that it showed."""
    parent, child = pty.openpty()
    set_size = f"stty cols {columns} rows 24 <&0"
    subprocess.run(["sh", "-c", set_size], stdin=child, check=True)
    variables = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "TERM")} | {"TERM": "xterm-256color"}
    command = [str(tool.BINARY), *map(str, arguments)]
    run = subprocess.Popen(command, stdin=child, stdout=child, stderr=child, env=variables | environment)
    os.close(child)
    shown, end = b"", time.monotonic() + 600
    while time.monotonic() < end:
        try:
            part = os.read(parent, 1 << 16)
        except OSError:
            break
        if not part:
            break
        shown += part
    os.close(parent)
    return run.wait(timeout=60), shown.decode("utf-8").replace("\r\n", "\n")


def screen(shown):
    """What stands on the terminal in the end: a line that was taken away is gone (ECMA-48: CR, EL 0)."""
    lines = []
    for line in shown.split("\n"):
        last = line.split("\r")[-1]
        lines.append(ESCAPE.sub("", last))
    return "\n".join(lines)


def settled(text):
    """The same without what differs from one machine, run or version of the tool to the next."""
    text = re.sub(r"\d+\.\d\d s", "0.00 s", text)
    text = re.sub(r"[\d.,]+ (kB|MB|bytes)", "0 kB", text)
    text = re.sub(r"[#.]{20} +\d+ %", "#################### 0 %", text)
    return re.sub(r"/\S*/(dist)", r"\1", text)


def test_a_terminal_sees_stage_count_item_and_time_and_then_the_table(tmp_path):
    # A sample that takes seconds to build, so that counts are seen on any machine.
    product = tool.ROOT / "products/sticker-pocket"
    code, shown = on_terminal("build", product, "--out", tmp_path / "dist", columns=72)
    assert code == 0
    # What follows the last one, which only takes the line away, is the report.
    drawn = [part.replace("\r", "") for part in shown.split("\r\x1b[K")[1:-1]]
    assert drawn, "a build of more than a quarter of a second shows its line"
    assert all(len(line) < 72 for line in drawn)
    assert all(re.search(r"\d\.\d s$", line) for line in drawn)
    assert any(re.match(r"[a-z ]+ \d+/\d+", line) for line in drawn)
    # The line is gone, and the table stands there.
    assert "render" not in screen(shown)
    assert re.search(r"^Window Seat 1\.0\.0$", screen(shown), re.M)


def test_elsewhere_nothing_moves_and_nothing_is_coloured(tmp_path):
    product = products.FULL_PRODUCT.write(tmp_path / "product")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist")
    assert run.returncode == 0
    assert "\x1b" not in run.stdout + run.stderr and "\r" not in run.stdout + run.stderr
    wanted = """\
Harbour Log 1.0.0
  made      notebook of 22 pages, 0 kB
            4 covers, 0 kB
            5 stickers, and 1 sheet of them, 0 kB
            guide of 5 pages, 2 texts beside
  upload    harbour-log.pdf         #################### 0 %  0 kB of 0 kB
            harbour-log-extras.zip  #################### 0 %  0 kB of 0 kB
            2 of the shop's 5 files
  listing   title 51 of 140 characters, 3 of 13 tags, 0 pictures
  checks    0 errors, 1 warning, 0 notes
  took      0.00 s
  lies in   dist/harbour-log/1.0.0
  next      look it over in dist/harbour-log/1.0.0/proof.html
            then upload the 2 files of dist/harbour-log/1.0.0/upload
"""
    table = "".join(line for line in run.stdout.splitlines(True) if not line.startswith("note: "))
    assert settled(table) == wanted


@pytest.mark.parametrize("variables", [{"NO_COLOR": "1"}, {"TERM": "dumb"}])
def test_no_colour_and_plain_terminals_are_heeded(tmp_path, variables):
    recipe = products.Recipe("Loose Log", page='size = "A5"\nlayout = "single"', sections=["Boats", "Tides"])
    product = recipe.write(tmp_path / "product")
    manifest = product / "product.toml"
    manifest.write_text(manifest.read_text().replace("[notebook]", "[notebook]\ntitle = \"\"", 1))
    _, shown = on_terminal("build", product, "--out", tmp_path / "dist", "--strict", **variables)
    codes = set(ESCAPE.findall(shown))
    allowed = {"\x1b[K"} if "NO_COLOR" in variables else set()
    assert codes <= allowed, codes


def test_a_stopped_build_leaves_the_bundle_and_says_where_to_look(tmp_path):
    product = products.FULL_PRODUCT.write(tmp_path / "product")
    good = tool.tree(tool.build(product, tmp_path / "dist").folder)
    manifest = product / "product.toml"
    text = manifest.read_text(encoding="utf-8")
    manifest.write_text(text.replace('own = ["art/*"]', 'own = ["nothing/*"]'), encoding="utf-8")
    run = tool.sheafwright("build", product, "--out", tmp_path / "dist", "--strict")
    assert run.returncode == 1
    page = tmp_path / "dist/harbour-log/1.0.0-stopped.html"
    assert str(page) in run.stdout and "an earlier bundle stays as it is" in run.stdout
    assert "Not written" in page.read_text(encoding="utf-8") and "asset-not-listed" in page.read_text(encoding="utf-8")
    assert tool.tree(tmp_path / "dist/harbour-log/1.0.0") == good
    # Mended, the page goes.
    manifest.write_text(text, encoding="utf-8")
    tool.build(product, tmp_path / "dist")
    assert not page.exists()
