"""Faults: kills, disks that fill up, folders that vanish, no network, little memory. What must hold is that the bundle is whole,
the old one or the new one, that words are said instead of a panic, and that the next build leaves nothing behind.

Kills at system calls and the order of what reaches the disk are those of strace; full disks are small file systems in a
namespace of the test's own (user_namespaces(7), tmpfs(5)). The table in DEVELOPERS.md lists all of it.
"""

import io
import os
import random
import re
import resource
import shutil
import signal
import socket
import subprocess
import threading
import time
from dataclasses import replace

import pytest
from PIL import Image

import hostile
import tool
from products import Recipe

BOOK = Recipe(
    "Lock Log",
    page='size = "A6"\nlayout = "single"',
    sections=["Gates"],
    templates=[("Deck log", "lined", "{}")],
    more='[[sticker]]\nmotif = "star"\nlongest = "12 mm"\n[[sticker]]\nmotif = "tally"\nlongest = "12 mm"\n',
)
OTHER = replace(BOOK, sections=["Sluices"])
# How often a build is killed at a random moment. The suite does with few; more are run by hand.
KILLS = int(os.environ.get("SHEAFWRIGHT_KILLS", "20"))
LASTING = {".lock-log", "lock-log", ".cache", ".products"}


class Shelf:
    """A product in two states, and both bundles as they are when nothing goes wrong."""

    def __init__(self, folder):
        self.product, self.dist = folder / "product", folder / "dist"
        self.bundle = self.dist / "lock-log/1.0.0"
        self.states = {}
        for name, recipe in (("new", OTHER), ("old", BOOK)):
            recipe.write(self.product)
            self.build()
            self.states[name] = tool.tree(self.bundle)

    def write(self, recipe):
        recipe.write(self.product)

    def build(self):
        run = self.run()
        assert run.returncode == 0, run.stdout + run.stderr
        return run

    def command(self):
        return [str(tool.BINARY), "build", str(self.product), "--out", str(self.dist), "--jobs", "1"]

    def run(self, *before, **how):
        return subprocess.run([*map(str, before), *self.command()], capture_output=True, text=True, timeout=300, **how)

    def state(self):
        """Which of the two lies there: all of it, byte for byte."""
        there = tool.tree(self.bundle)
        (name,) = [name for name, tree in self.states.items() if tree == there] or [sorted(there)]
        return name

    def left(self):
        """Whatever lies in dist beside bundles, locks and the cache's entries."""
        paths = (p.relative_to(self.dist).as_posix() for p in self.dist.rglob("*") if self.bundle not in p.parents)
        known = re.compile(r"lock-log|lock-log/1\.0\.0|lock-log/\.1\.0\.0\.lock|\.products(/lock-log)?|\.cache(/[0-9a-f]{2}(/[0-9a-f]{62})?)?")
        return [p for p in paths if not known.fullmatch(p)]


@pytest.fixture
def shelf(tmp_path):
    return Shelf(tmp_path)


# What the change of places and what comes before and after it is made of.
CALLS = ["rename", "renameat2", "fsync", "unlink", "unlinkat", "rmdir", "mkdir", "ftruncate", "flock"]


def traced(shelf, *options):
    """A build of the new state under strace: what it came to, and the calls in their order."""
    log = shelf.dist.parent / "calls"
    run = shelf.run("strace", "-f", "-qq", "-y", "-o", log, "-e", f"trace={','.join(CALLS)}", "-e", "signal=none", *options)
    return run, log.read_text().splitlines()


def named(line):
    """The call of a line."""
    match = re.match(r"\d+ +(\w+)\(", line)
    return match[1] if match else ""


@pytest.mark.parametrize("way", ["one step", "two renames"])
def test_killed_at_each_call_of_the_swap(shelf, way):
    """The old one or the new one lies there, whole, after a kill at any call; the next build puts all in order."""
    # Where two folders cannot change places, it takes two renames.
    cannot = ["-e", "inject=renameat2:error=EINVAL"] if way == "two renames" else []
    shelf.write(OTHER)
    shelf.build()
    shelf.write(BOOK)
    shelf.build()
    shelf.write(OTHER)
    run, lines = traced(shelf, *cannot)
    assert run.returncode == 0 and shelf.state() == "new", run.stderr
    counts = {call: sum(named(line) == call for line in lines) for call in CALLS}
    assert counts["fsync"] > 8 and counts["renameat2"] == 1 and counts["unlinkat"] + counts["unlink"] > 8, counts
    killed, states = 0, set()
    for call, count in counts.items():
        if cannot and call not in ("rename", "unlinkat"):
            continue
        for n in range(1, count + 1):
            shelf.write(BOOK)
            shelf.build()
            assert shelf.state() == "old" and not shelf.left(), (call, n)
            shelf.write(OTHER)
            run, _ = traced(shelf, *cannot, "-e", f"inject={call}:signal=KILL:when={n}")
            if run.returncode in (0, 2):
                continue
            killed += 1
            if cannot and not shelf.bundle.exists():
                # For a moment there is none: the previous one waits beside it.
                assert tool.tree(shelf.bundle.parent / ".1.0.0.old") == shelf.states["old"], (call, n)
                states.add("waits")
            else:
                states.add(shelf.state())
            shelf.build()
            assert shelf.state() == "new" and not shelf.left(), (call, n, shelf.left())
    assert killed >= (3 if cannot else 30) and states >= {"old", "new"}, (killed, states)
    assert "waits" in states or not cannot


def test_killed_at_random_moments(shelf):
    """Whenever it is: one or the other, and nothing is left over."""
    seed = int(os.environ.get("SHEAFWRIGHT_SEED", "17"))
    dice = random.Random(seed)
    begun = time.monotonic()
    shelf.write(OTHER)
    shelf.build()
    whole = time.monotonic() - begun
    states = set()
    for n in range(KILLS):
        shelf.write([BOOK, OTHER][n % 2])
        if dice.random() < 0.3:
            # A build that was killed early has not made one yet.
            shutil.rmtree(shelf.dist / ".cache", ignore_errors=True)
        child = subprocess.Popen(shelf.command(), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        time.sleep(dice.random() * whole * 1.2)
        child.send_signal(signal.SIGKILL)
        child.wait()
        states.add(shelf.state())
        if n % 5 == 4:
            shelf.build()
            assert shelf.state() == ["old", "new"][n % 2], (seed, n)
            beside = [p for p in shelf.left() if not p.startswith(".cache/")]
            assert not beside, (seed, n, beside)
    assert states <= {"old", "new"}


def test_what_reaches_the_disk_first(shelf):
    """Every file and folder of the new bundle is flushed before the two change places, and the folder above after it. What stays as
    it was is taken over from the bundle before, which was flushed in its time."""
    shelf.write(OTHER)
    log = shelf.dist.parent / "calls"
    run = shelf.run("strace", "-f", "-qq", "-y", "-s", "0", "-o", log, "-e", "trace=write,fsync,renameat2,openat,mkdir,link,linkat", "-e", "signal=none")
    assert run.returncode == 0, run.stderr
    lines = log.read_text().splitlines()
    (swap,) = [n for n, line in enumerate(lines) if named(line) == "renameat2"]
    fresh = f"{shelf.bundle.parent}/.1.0.0.new"

    def of(call, upto):
        found = {}
        for n, line in enumerate(lines[:upto]):
            match = re.search(rf"\b{call}\(\d+<([^>]+)>", line)
            if match and (match[1] == fresh or match[1].startswith(f"{fresh}/")):
                found[match[1]] = n
        return found

    written, flushed = of("write", swap), of("fsync", swap)
    files = {f"{fresh}/{path}" for path in shelf.states["new"]}
    folders = {os.path.dirname(path) for path in files}
    stay = {f"{fresh}/{p}" for p, data in shelf.states["new"].items() if shelf.states["old"].get(p) == data}
    linked = {m[1]: n for n, line in enumerate(lines[:swap]) if (m := re.search(r'\blink(?:at)?\(.*"([^"]+)"', line))}
    assert stay == {path for path in linked if path.startswith(f"{fresh}/")} and stay
    # An empty file takes no write.
    assert {f"{fresh}/{path}" for path, data in shelf.states["new"].items() if data} - stay == written.keys()
    for path in files - stay:
        assert flushed[path] > written.get(path, -1), path
    for folder in folders:
        inside = [n for path, n in (flushed | linked).items() if os.path.dirname(path) == folder and path in files]
        assert flushed[folder] > max(inside, default=-1), folder
    after = [line for line in lines[swap:] if re.search(rf"fsync\(\d+<{re.escape(str(shelf.bundle.parent))}>", line)]
    assert after, "the folder with the new name is flushed as well"
    assert not [line for line in lines[swap:] if named(line) == "write" and "/.1.0.0.new/" in line]


@pytest.mark.parametrize("room", [40, 200, 400, 700, 1000, 1400])
def test_a_disk_that_fills_up(tmp_path, room):
    """In a small file system: the bundle is written whole, with or without the cache, or it is said that there is no room."""
    product, place, out = BOOK.write(tmp_path / "product"), tmp_path / "small", tmp_path / "out"
    place.mkdir()
    script = f"""
mount -t tmpfs -o size={room}k tmpfs '{place}' || exit 99
'{tool.BINARY}' build '{product}' --out '{place}/dist' --jobs 1
code=$?
cp -a '{place}/dist' '{out}' 2>/dev/null
exit $code
"""
    run = subprocess.run(["unshare", "-rm", "sh", "-c", script], capture_output=True, text=True, timeout=300)
    assert run.returncode in (0, 2) and "panicked" not in run.stderr, run.stderr
    bundles = [p.parent for p in out.rglob("bundle.json")]
    if run.returncode == 0:
        (bundle,) = bundles
        wanted = tool.tree(tool.build(product, tmp_path / "dist").folder)
        assert tool.tree(bundle) == wanted
    else:
        assert "room on the disk" in run.stderr and not bundles, run.stderr
        assert not list(out.rglob("*.new/*"))


def test_a_disk_that_is_full_from_some_moment_on(shelf):
    """Every write from the nth on says that there is no room: what lay there stays."""
    seen = set()
    for n in (1, 3, 6, 9, 12, 20, 40):
        shelf.write(BOOK)
        shelf.build()
        shutil.rmtree(shelf.dist / ".cache")
        shelf.write(OTHER)
        run = shelf.run("strace", "-f", "-qq", "-o", "/dev/null", "-e", "trace=write", "-e", f"inject=write:error=ENOSPC:when={n}+")
        assert run.returncode in (0, 1, 2) and "panicked" not in run.stderr, run.stderr
        seen.add(run.returncode)
        assert shelf.state() == ("new" if run.returncode == 0 else "old")
    shelf.build()
    assert shelf.state() == "new" and 2 in seen and not shelf.left()


def test_files_that_may_not_grow(shelf):
    """`ulimit -f`: a file beyond the limit is a fault in words (EFBIG), in the cache it is of no consequence."""
    for kilobytes in (8, 64, 100_000):
        shelf.write(BOOK)
        shelf.build()
        shutil.rmtree(shelf.dist / ".cache")
        shelf.write(OTHER)

        def limit(most=kilobytes << 10):
            # The signal is ignored, as Python does; the call then fails in words.
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))

        run = shelf.run(preexec_fn=limit, restore_signals=False)
        assert run.returncode in (0, 2) and "panicked" not in run.stderr, run.stderr
        assert shelf.state() == ("new" if run.returncode == 0 else "old")
        assert (kilobytes > 64) == (run.returncode == 0), run.stderr
    shelf.build()
    assert not shelf.left()


@pytest.mark.parametrize("which", ["dist", "product", "cache"])
def test_a_folder_that_vanishes(shelf, which):
    """In the middle of a build, at eight moments: words or a whole bundle, and the next build is as if nothing had been."""
    folder = {"dist": shelf.dist, "product": shelf.product, "cache": shelf.dist / ".cache"}[which]
    for moment in range(8):
        shelf.write([BOOK, OTHER][moment % 2])
        child = subprocess.Popen(shelf.command(), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        time.sleep(moment * 0.06)
        shutil.rmtree(folder, ignore_errors=True)
        said = child.communicate(timeout=120)
        assert child.returncode in (0, 2) and "panicked" not in said[1], said[1]
        assert child.returncode == 0 or "error:" in said[1]
        shelf.write([BOOK, OTHER][moment % 2])
        shelf.build()
        assert shelf.state() == ["old", "new"][moment % 2] and not [p for p in shelf.left() if not p.startswith(".cache/")]


def test_a_cache_of_another_version(shelf):
    """Entries in a form that this program does not know, in the wrong place, or cut: made anew, with the same bytes."""
    shelf.write(OTHER)
    shelf.build()
    entries = sorted(p for p in (shelf.dist / ".cache").rglob("*") if p.is_file())
    assert len(entries) > 5
    whole = [p.read_bytes() for p in entries]
    # An entry was once the digest of its bytes and these; others begin with nothing, or belong to their neighbour.
    forms = [lambda n: whole[n][64:], lambda n: whole[n][128:], lambda n: b"", lambda n: whole[n - 1], lambda n: whole[n][: len(whole[n]) // 2]]
    for form in forms:
        for n, path in enumerate(entries):
            path.parent.mkdir(exist_ok=True)
            path.write_bytes(form(n))
        shutil.rmtree(shelf.bundle)
        shelf.build()
        assert shelf.state() == "new"


def test_no_network(shelf):
    """In a namespace without any network the same bytes are made; and nowhere is one asked for (strace: no socket but those of
    the system's own)."""
    shelf.write(OTHER)
    shutil.rmtree(shelf.dist / ".cache")
    run = shelf.run("unshare", "-rn")
    assert run.returncode == 0 and shelf.state() == "new", run.stderr
    log = shelf.dist.parent / "net"
    shelf.write(BOOK)
    shutil.rmtree(shelf.dist / ".cache")
    run = shelf.run("strace", "-f", "-qq", "-o", log, "-e", "trace=%network", "-e", "signal=none")
    assert run.returncode == 0 and shelf.state() == "old", run.stderr
    assert not re.search(r"AF_INET|connect\(|bind\(|sendto\(", log.read_text()), log.read_text()[:500]


# As somebody on the loopback would try it.


@pytest.fixture(scope="module")
def watched(tmp_path_factory):
    folder = tmp_path_factory.mktemp("watched")
    BOOK.write(folder / "product")
    command = [tool.BINARY, "watch", folder / "product", "--out", folder / "dist"]
    child = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    said = ""
    late = threading.Timer(120, child.kill)
    late.start()
    while not (found := re.search(r"http://127\.0\.0\.1:(\d+)", said)):
        line = child.stdout.readline()
        assert line, said
        said += line
    drain = threading.Thread(target=child.stdout.read, daemon=True)
    drain.start()
    yield int(found[1])
    late.cancel()
    child.kill()
    child.wait()


def ask(port, text, host="127.0.0.1"):
    with socket.create_connection((host, port), timeout=20) as line:
        line.sendall(text if isinstance(text, bytes) else text.encode())
        out = b""
        while b"</html>" not in out and (more := line.recv(65536)):
            out += more
    return out.decode("latin-1")


def status(port, *lines, path="/", method="GET"):
    words = f"{method} {path} HTTP/1.1\r\n" + "".join(f"{line}\r\n" for line in lines) + "\r\n"
    answer = ask(port, words)
    return int(answer.split()[1]) if answer.startswith("HTTP/1.1 ") else 0


def test_its_own_page_is_answered(watched):
    own = f"Host: 127.0.0.1:{watched}"
    answer = ask(watched, f"GET / HTTP/1.1\r\n{own}\r\n\r\n")
    assert " 200 " in answer and "X-Frame-Options: DENY" in answer and "Access-Control" not in answer
    assert status(watched, f"Host: localhost:{watched}") == 200
    assert status(watched, own, f"Origin: http://127.0.0.1:{watched}", "Sec-Fetch-Site: same-origin") == 200
    assert status(watched, own, "Sec-Fetch-Site: none") == 200


@pytest.mark.parametrize(
    "lines",
    [
        [],
        ["Host:"],
        ["Host: planner.example"],
        ["Host: 127.0.0.1"],
        ["Host: 127.0.0.1:1"],
        ["Host: 127.0.0.1.planner.example:{port}"],
        ["Host: 127.0.0.1:{port}@planner.example"],
        ["Host: [::1]:{port}"],
        ["Host: 0.0.0.0:{port}"],
        ["Host: 2130706433:{port}"],
        ["Host: planner.example", "Host: 127.0.0.1:{port}"],
        ["Host: 127.0.0.1:{port}", "Host: planner.example"],
        ["X-Forwarded-Host: 127.0.0.1:{port}"],
        ["Host: 127.0.0.1:{port}", "Origin: http://planner.example"],
        ["Host: 127.0.0.1:{port}", "Origin: null"],
        ["Host: 127.0.0.1:{port}", "Origin: http://127.0.0.1:1"],
        ["Host: 127.0.0.1:{port}", "Origin: https://127.0.0.1:{port}"],
        ["Host: 127.0.0.1:{port}", "Origin: http://localhost:{port}"],
        ["Host: 127.0.0.1:{port}", "Sec-Fetch-Site: cross-site"],
        ["Host: 127.0.0.1:{port}", "Sec-Fetch-Site: same-site"],
        ["Host: 127.0.0.1:{port}", "Origin: http://127.0.0.1:{port}", "Origin: http://planner.example"],
    ],
)
def test_other_names_and_other_pages_are_refused(watched, lines):
    lines = [line.format(port=watched) for line in lines]
    for path in ("/", "/events", "/picture/x"):
        assert status(watched, *lines, path=path) in (400, 403)


@pytest.mark.parametrize(
    "path",
    ["/../product.toml", "/%2e%2e/product.toml", "//etc/passwd", "/picture/../../etc/passwd", "/..%2f..%2fetc%2fpasswd", "\\..\\product.toml",
     "/proof.html", "/product.toml", "/.cache/", "http://planner.example/", "file:///etc/passwd", "*", "/picture/" + "a" * 5000],
)  # fmt: skip
def test_paths_that_climb_are_refused(watched, path):
    assert status(watched, f"Host: 127.0.0.1:{watched}", path=path) in (400, 404)


def test_what_is_no_request(watched):
    own = f"Host: 127.0.0.1:{watched}\r\n\r\n"
    for method in ("POST", "PUT", "DELETE", "OPTIONS", "HEAD", "CONNECT", "get", "TRACE"):
        assert status(watched, own.strip(), method=method) == 400
    noise = [b"\0" * 200, b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03", b"GET\r\n\r\n", b"GET /\r\n\r\n", b"\r\n\r\n",
             b"GET / HTTP/1.1\r\n" + b"X: y\r\n" * 500 + own.encode(), b"GET / HTTP/1.1\r\nno colon\r\n" + own.encode()]  # fmt: skip
    for text in noise:
        try:
            answer = ask(watched, text + b"\r\n\r\n")
        except ConnectionResetError:
            answer = ""
        assert " 200 " not in answer.split("\r\n")[0], text[:40]
    # Silence on many lines keeps nobody away for long: others are answered as soon as one of them is let go.
    idle = [socket.create_connection(("127.0.0.1", watched)) for _ in range(20)]
    assert status(watched, own.strip()) == 200
    for line in idle:
        line.close()


def test_it_listens_on_the_loopback_alone(watched):
    rows = [line.split() for line in open("/proc/net/tcp").read().splitlines()[1:]]
    listening = [row[1] for row in rows if row[3] == "0A" and int(row[1].split(":")[1], 16) == watched]
    assert listening == [f"0100007F:{watched:04X}"]


# Memory, each with its figure (DEVELOPERS.md).


def test_memory_of_five_thousand_pages(tmp_path):
    recipe = replace(BOOK, more="", section_pages={"Gates": [("deck-log", 5000)]})
    code, _, err = hostile.run("build", recipe.write(tmp_path / "p"), "--out", tmp_path / "dist", megabytes=1024)
    assert code == 0, err


def test_memory_of_two_thousand_stickers(tmp_path):
    more = "".join(f'[[sticker]]\nmotif = "star"\nname = "Star {n}"\nlongest = "8 mm"\n' for n in range(2000))
    recipe = replace(BOOK, more=f'[stickers]\noptimise = "quick"\nsheets = "none"\n{more}')
    code, _, err = hostile.run("build", recipe.write(tmp_path / "p"), "--out", tmp_path / "dist", megabytes=500)
    assert code == 0, err


def test_memory_of_large_stickers_on_sheets(tmp_path):
    """80 stickers of 1,200 × 1,200 pixels are 460 MB of pixels, and their sheets 300 MB more: not held at once."""
    more = "".join(f'[[sticker]]\nmotif = "star"\nname = "Star {n}"\nlongest = "100 mm"\n' for n in range(80))
    recipe = replace(BOOK, more=f'[stickers]\ndpi = 305\noptimise = "quick"\nsheets = "both"\n{more}')
    code, _, err = hostile.run("build", recipe.write(tmp_path / "p"), "--out", tmp_path / "dist", megabytes=500)
    assert code == 0, err


def test_memory_of_a_hundred_megabytes_of_art(tmp_path):
    """Photographs of which nothing can be packed smaller: the file, what was planned of it, the document and its bytes."""
    dice, files = random.Random(3), {}
    for n in range(6):
        noise, packed = Image.frombytes("RGB", (3000, 2250), dice.randbytes(3000 * 2250 * 3)), io.BytesIO()
        noise.save(packed, "JPEG", quality=95, subsampling=0)
        files[f"art/{n}.jpg"] = packed.getvalue
    assert sum(len(make()) for make in files.values()) > 95e6
    art = "".join(f'[[notebook.template]]\nname = "Photograph {n}"\nart = "art/{n}.jpg"\n' for n in range(6))
    recipe = replace(BOOK, more=f'{art}[limits]\nmegabytes = 2000\n[assets]\nown = ["art/*"]\n', files=files)
    code, _, err = hostile.run("build", recipe.write(tmp_path / "p"), "--out", tmp_path / "dist", megabytes=250 + 500)
    assert code == 0, err


def test_memory_of_a_picture_of_400_megapixels(tmp_path):
    """20,000 × 20,000 in a file of some 50 kB: refused with its number before it is unpacked, as art and as a file to check."""
    import struct
    import zlib

    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    packer = zlib.compressobj(9)
    rows = b"".join(packer.compress(bytes(2501)) for _ in range(20_000)) + packer.flush()
    png = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", 20_000, 20_000, 1, 0, 0, 0, 0)) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")
    product = replace(BOOK, more='[[sticker]]\nfile = "art/wide.png"\n', files={"art/wide.png": lambda: png}).write(tmp_path / "p")
    code, _, err = hostile.run("build", product, "--out", tmp_path / "dist", megabytes=300)
    assert code == 2 and "art/wide.png" in err and "120 million" in err, err
    code, out, err = hostile.run("check", product / "art/wide.png", megabytes=300)
    assert code in (0, 1), err
