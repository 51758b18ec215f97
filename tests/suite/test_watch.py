"""Live rebuilds: every save shows up, a broken one is said and harms nothing, nothing is left running or lying about."""

import json
import os
import queue
import signal
import subprocess
import threading
import time
import urllib.error
import urllib.request

import pytest

import products
import tool
from test_proof import browse

RECIPE = products.FULL_PRODUCT


class Watched:
    """A running `watch`, and what it tells."""

    def __init__(self, folder, recipe=RECIPE):
        self.product = recipe.write(folder / "product")
        self.manifest = self.product / "product.toml"
        self.out = folder / "dist"
        command = [str(tool.BINARY), "watch", str(self.product), "--out", str(self.out)]
        # A shell that runs the tests in the background has them ignore the signal that stops the program.
        heed = lambda: signal.signal(signal.SIGINT, signal.SIG_DFL)  # noqa: E731
        self.run = subprocess.Popen(
            command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, preexec_fn=heed
        )
        self.address = self.run.stdout.readline().strip()
        self.events = queue.Queue()
        self.said = []
        threading.Thread(target=lambda: self.said.extend(self.run.stderr), daemon=True).start()
        threading.Thread(target=self.listen, daemon=True).start()

    def listen(self):
        try:
            with urllib.request.urlopen(self.address + "events", timeout=120) as stream:
                name = ""
                for line in stream:
                    line = line.decode().strip()
                    if line.startswith("event: "):
                        name = line[7:]
                    elif line.startswith("data: "):
                        self.events.put((name, json.loads(line[6:])))
        except OSError:
            pass

    def page(self):
        with urllib.request.urlopen(self.address, timeout=30) as answer:
            return answer.read().decode()

    def until(self, wanted, seconds=240):
        """Waits for an event of which `wanted` is true."""
        end = time.monotonic() + seconds
        while True:
            try:
                event = self.events.get(timeout=max(0.1, end - time.monotonic()))
            except queue.Empty:
                raise AssertionError(f"nothing came of it; it said {self.said}") from None
            if wanted(*event):
                return event

    def quiet(self, seconds):
        """The events of so many seconds."""
        time.sleep(seconds)
        found = []
        while not self.events.empty():
            found.append(self.events.get())
        return found

    def stop(self):
        self.run.send_signal(signal.SIGINT)
        self.run.wait(timeout=20)


@pytest.fixture
def watched(tmp_path):
    running = Watched(tmp_path)
    running.until(lambda name, data: name == "built" and data >= 1)
    yield running
    if running.run.poll() is None:
        running.stop()


def replace(path, old, new):
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def comes(ask, seconds=120):
    """Asks until there is an answer."""
    end = time.monotonic() + seconds
    while not (answer := ask()):
        assert time.monotonic() < end, "it never came"
        time.sleep(0.1)
    return answer


def test_saves_of_every_kind(watched):
    # In place.
    replace(watched.manifest, "Sea chart", "Chart of the bay")
    watched.until(lambda name, data: name == "built")
    assert "Chart of the bay" in watched.page()
    # As editors do it: a new file takes the old one's name.
    text = watched.manifest.read_text(encoding="utf-8").replace("Chart of the bay", "Chart of the sound")
    fresh = watched.manifest.with_suffix(".toml.new")
    fresh.write_text(text, encoding="utf-8")
    os.replace(fresh, watched.manifest)
    watched.until(lambda name, data: name == "built" and "Chart of the sound" in watched.page())
    # Art.
    art = sorted(p for p in watched.product.rglob("*.svg"))[0]
    drawing = art.read_bytes()
    art.write_bytes(drawing.replace(b"#2f4f6f", b"#8f2f4f"))
    watched.until(lambda name, data: name == "built")
    # Gone, and back again.
    art.unlink()
    _, message = watched.until(lambda name, data: name == "broken")
    assert art.name in message
    assert "Chart of the sound" in watched.page()
    art.write_bytes(drawing)
    watched.until(lambda name, data: name == "built")


def test_fifty_quick_saves_come_to_the_last_one(watched):
    text = watched.manifest.read_text(encoding="utf-8")
    for number in range(50):
        watched.manifest.write_text(text.replace("Sea chart", f"Chart {number}"), encoding="utf-8")
        time.sleep(0.01)
    watched.until(lambda name, data: name == "built" and "Chart 49" in watched.page())
    # Reading and building wake nobody: after that all is still.
    watched.quiet(3)
    assert watched.quiet(2) == []
    assert sum("errors," in line for line in watched.said) < 25


def test_saves_that_fall_into_the_writing_leave_a_whole_bundle_and_nothing_else(watched):
    """Each comes a little later after the picture of the one before, so that many meet a bundle that is being written."""
    text = watched.manifest.read_text(encoding="utf-8")
    # A bundle that is being written lies in a hidden folder beside its place.
    (bundle,) = comes(lambda: [p.parent for p in watched.out.glob("*/[!.]*/bundle.json")])
    for number in range(12):
        watched.manifest.write_text(text.replace("Sea chart", f"Chart {number:02}"), encoding="utf-8")
        watched.until(lambda name, data: name == "built" and f"Chart {number:02}" in watched.page())
        # What lies there is the bundle of one round, whichever.
        names = (bundle / "bundle.json").read_text(encoding="utf-8")
        assert len({n for n in range(12) if f"Chart {n:02}" in names}) <= 1
        time.sleep(number / 8)
    comes(lambda: "Chart 11" in (bundle / "bundle.json").read_text(encoding="utf-8"))
    watched.quiet(2)
    assert {p.name for p in bundle.parent.iterdir()} == {bundle.name, f".{bundle.name}.lock"}
    tool.program("sh", "-c", f'cd "{bundle}" && sha256sum --check --strict --quiet SHA256SUMS')


def test_a_broken_manifest_is_said_with_its_place_and_the_last_proof_stays(watched):
    good = watched.manifest.read_text(encoding="utf-8")
    before = watched.page()
    watched.manifest.write_text(good.replace("[page]", "[page", 1), encoding="utf-8")
    _, message = watched.until(lambda name, data: name == "broken")
    line = good[: good.index("[page]")].count("\n") + 1
    assert any(f"product.toml:{n}:" in message for n in (line, line + 1)), message
    assert watched.page() == before
    watched.manifest.write_text(good, encoding="utf-8")
    watched.until(lambda name, data: name == "built")


def test_a_drawing_that_nobody_can_draw_ends_no_watch(watched):
    """Whatever is wrong with it, the file is named, and the next save is built."""
    good = watched.manifest.read_text(encoding="utf-8")
    (watched.product / "art").mkdir(exist_ok=True)
    drawing = watched.product / "art/probe.svg"
    head = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 100">'
    text = head + '<text x="10" y="60"><tspan>Love </tspan><tspan>\u0bae\u0bbf\u0bb4\u0bcd \u2764\ufe0f</tspan></text></svg>'
    sticker = '\n[[sticker]]\nname = "Probe"\nfile = "art/probe.svg"\nlongest = "20 mm"\n'
    drawing.write_text(head + '<rect width="99" height="50"/></svg>', encoding="utf-8")
    watched.manifest.write_text(good + sticker, encoding="utf-8")
    watched.until(lambda name, data: name == "built")
    for broken in (text, head + "<g>" * 90_000 + "</g>" * 90_000 + "</svg>", head + '<path d="M0 0h99" stroke="#000" stroke-dasharray="1e-7"/></svg>'):
        drawing.write_text(broken, encoding="utf-8")
        name, message = watched.until(lambda name, data: name in ("broken", "built"))
        assert watched.run.poll() is None
        assert name == "built" or "probe.svg" in message, message
        drawing.write_text(head + f'<rect width="{99 - len(broken) % 7}" height="50"/></svg>', encoding="utf-8")
        watched.until(lambda name, data: name == "built")
    watched.manifest.write_text(good, encoding="utf-8")
    watched.until(lambda name, data: name == "built")


def test_it_serves_this_machine_only(watched):
    assert watched.address.startswith("http://127.0.0.1:")
    request = urllib.request.Request(watched.address, headers={"Host": "elsewhere.example"})
    with pytest.raises(urllib.error.HTTPError) as refused:
        urllib.request.urlopen(request, timeout=10)
    assert refused.value.code == 403


def test_nothing_is_left_behind(watched):
    pid = watched.run.pid
    children = f"/proc/{pid}/task/{pid}/children"
    assert not os.path.exists(children) or open(children).read().split() == []
    replace(watched.manifest, "Sea chart", "Chart of the bay")
    watched.until(lambda name, data: name == "built" and "Chart of the bay" in watched.page())
    watched.quiet(2)
    watched.stop()
    with pytest.raises(OSError):
        urllib.request.urlopen(watched.address, timeout=5)
    (bundle,) = [p.parent for p in watched.out.glob("*/*/bundle.json")]
    assert {p.name for p in bundle.parent.iterdir()} == {bundle.name, f".{bundle.name}.lock"}
    assert not [p for p in watched.out.rglob("*") if p.name.startswith((".new-", ".writable-"))]
    # What lies there is a bundle like any other: its own proof listens to nobody.
    tool.program("sh", "-c", f'cd "{bundle}" && sha256sum --check --strict --quiet SHA256SUMS')
    assert "connect-src" not in (bundle / "proof.html").read_text(encoding="utf-8")


def test_the_browser_keeps_page_and_scroll(watched):
    seen = browse("watch.mjs", watched.address, watched.manifest)
    assert seen["before"]["page"] == "5" and seen["before"]["taps"] == "true"
    assert seen["after"] == seen["before"]
    assert seen["redrawn"]
    assert "Chart of the bay" in seen["text"]
    assert "product.toml" in seen["broken"]
    assert seen["kept"] > 5 and seen["healed"]
    assert seen["back"] == seen["before"]
    assert [line for line in seen["console"] if not line.startswith("warning")] == []
    assert len(seen["requests"]) == 1 and seen["requests"][0].startswith("127.0.0.1:")


def test_notes_on_pages_are_kept_until_they_are_done(watched, tmp_path):
    kept = watched.product / "proof-notes.json"
    watched.quiet(3)
    seen = browse("notes.mjs", watched.address, tmp_path)
    assert seen["written"] == [" tab too pale <b>"] and seen["emptied"] == "", seen
    assert seen["elsewhere"][0] == [] and "1 open note on other pages" in seen["elsewhere"][1], seen
    assert seen["found"] == [[" tab too pale <b>"], "3"], "shown again, and led back to its page"
    assert seen["axe"] == {"light": [], "dark": []} and seen["console"] == []
    assert seen["wide"] == {"tablet": 0, "phone": 0}, "no sideways scrolling on a tablet or a phone"
    (note,) = json.loads(kept.read_text(encoding="utf-8"))
    assert note["done"] and note["page"] == 3 and note["text"] == "tab too pale <b>", note
    # A note is no change of the product.
    assert watched.quiet(2) == []
    # Another program of this machine may read and write the file, but no page of another site.
    asked = urllib.request.Request(watched.address + "notes", data=b"[]", headers={"Content-Type": "application/json"})
    with pytest.raises(urllib.error.HTTPError):
        urllib.request.urlopen(asked, timeout=30)
    assert json.loads(kept.read_text(encoding="utf-8")) == [note]
