"""Every product that a test builds is built again, beside the tests: in another process, from another folder, with another
number of jobs, in another time zone and language, with an empty cache and then with a filled one. The bundles must be the
same, byte for byte; and a check of the bundle must say what its build said. Of one in four, and of every sample, the manifest
is then said in other words: nothing but the record, which names it by its digest, may follow."""

import hashlib
import itertools
import json
import os
import shutil
import subprocess
import tempfile
import tomllib
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import agree

ZONES = itertools.cycle(["Pacific/Kiritimati", "America/St_Johns", "Asia/Kathmandu"])
LANGUAGES = itertools.cycle(["tr_TR.UTF-8", "C", "de_CH.UTF-8"])


def digests(folder):
    """The digest of every file below a folder, but for the cache and the notes in which folder a product lies."""
    folder = Path(folder)
    hidden = {".cache", ".products"}
    files = (p for p in sorted(folder.rglob("*")) if p.is_file() and not hidden & set(p.relative_to(folder).parts))
    return {p.relative_to(folder).as_posix(): hashlib.sha256(p.read_bytes()).hexdigest() for p in files}


def shop_of(folder):
    """The folder whose `shop.toml` holds for a product: its own, or the nearest of four above it, as far as a repository goes."""
    for place in [folder.resolve(), *folder.resolve().parents][:5]:
        if (place / "shop.toml").exists():
            return place
        if (place / ".git").exists():
            break
    return None


def shop_files(shop):
    """What lies in a shop's folder, but for its products and what hides."""
    for path in sorted(shop.iterdir()):
        if path.is_file():
            yield path
        elif not path.name.startswith(".") and not any(path.rglob("product.toml")) and not any(path.rglob("bundle.json")):
            yield from (p for p in sorted(path.rglob("*")) if p.is_file())


def kin(folder):
    """The folders of other products that a manifest names, and those that theirs name: sisters, the members of a set, what it
    translates."""
    found, waiting = [], [folder.resolve()]
    while waiting:
        here = waiting.pop()
        try:
            manifest = tomllib.loads((here / "product.toml").read_text(encoding="utf-8"))
        except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError):
            continue
        goes, of_set = manifest.get("goes-with", []), manifest.get("set", {})
        named = goes if isinstance(goes, list) else []
        named = [n.get("product", "") if isinstance(n, dict) else n for n in named]
        named += of_set.get("products", []) if isinstance(of_set, dict) else []
        named += [manifest["translation-of"]] if isinstance(manifest.get("translation-of"), str) else []
        for way in named:
            other = Path(os.path.normpath(here / str(way)))
            if other.is_dir() and other not in [folder.resolve(), *found]:
                found.append(other)
                waiting.append(other)
    return found


def copied(folder, to):
    """A copy of a folder without the cache, and with stamps of its own."""
    shutil.copytree(folder, to, ignore=shutil.ignore_patterns(".cache"), copy_function=shutil.copyfile)
    return to


class Again:
    """Builds seen so far, and what came of building them again."""

    def __init__(self):
        self.root = Path(tempfile.mkdtemp(prefix="again "))
        # One at a time, beside the tests: those mostly wait for one program at a time themselves.
        self.worker = ThreadPoolExecutor(max_workers=1)
        # Of all that run this beside each other, the first one to see a build has it made again.
        run = os.environ.get("PYTEST_XDIST_TESTRUNUID")
        self.seen = Path(tempfile.gettempdir()) / f"seen {run}" if run else self.root / "seen"
        self.seen.mkdir(exist_ok=True)
        self.count = 0
        self.running = []

    def before(self, arguments, cwd):
        """Keeps what a build is made from, before it begins: tests change products, and builds lie over earlier ones.
        `None` if the same was built before, or if it is no plain build."""
        words = [str(a) for a in arguments]
        if words[:1] != ["build"] or len(words) < 2 or words[1].startswith("-") or "--out" not in words:
            return None
        # Several products in one go are held against a build of each alone, by tests of their own.
        if not words[2].startswith("-"):
            return None
        place = Path(cwd or ".")
        product, out = place / words[1], place / words[words.index("--out") + 1]
        name = product.name if product.is_file() else None
        folder = product.parent if name else product
        if not (folder / (name or "product.toml")).is_file():
            return None
        earlier = digests(out) if out.is_dir() else {}
        if not any(path.endswith("/bundle.json") for path in earlier):
            earlier = {}
        options = [w for w in words[2:] if w == "--strict"]
        # What the product shares with others of its shop lies above it.
        shop, way = shop_of(folder), Path("product")
        shared = {} if shop is None else {p.relative_to(shop): p.read_bytes() for p in shop_files(shop)}
        if shop is not None and shop != folder.resolve():
            way = Path("shop") / folder.resolve().relative_to(shop)
        others = {os.path.relpath(other, folder.resolve()): other for other in kin(folder)}
        of_others = sorted((place, digests(other)) for place, other in others.items())
        inputs = repr((digests(folder), earlier, options, name, sorted(shared.items()), of_others))
        key = hashlib.sha256(inputs.encode()).hexdigest()
        try:
            (self.seen / key).touch(exist_ok=False)
        except FileExistsError:
            return None
        self.count += 1
        number = self.count
        kept = self.root / f"{number} kept"
        copied(folder, kept / way)
        for place, other in others.items():
            copied(other, Path(os.path.normpath(kept / way / place)))
        for path, content in shared.items() if way.parts[0] == "shop" else ():
            (kept / "shop" / path).parent.mkdir(parents=True, exist_ok=True)
            (kept / "shop" / path).write_bytes(content)
        if earlier:
            copied(out, kept / "earlier")
        sample = (Path(__file__).resolve().parents[2] / "products") in folder.resolve().parents
        return number, kept, way, name, out, options, sample or number % 4 == 0

    def after(self, kept):
        """Notes what the build has made and has it made again."""
        number, folder, way, name, out, options, reworded = kept
        wanted = digests(out)
        self.running.append(self.worker.submit(self.rebuild, number, folder, way, name, options, wanted, reworded))

    def drop(self, kept):
        """The build did not succeed: there is nothing to compare with."""
        shutil.rmtree(kept[1])

    def rebuild(self, number, folder, way, name, options, wanted, reworded):
        """Builds cold and warm; gives what differs."""
        from tool import BINARY

        out = self.root / f"{number} on a longer path" / "shelf"
        found = []
        for time, jobs in (("cold", 1 + number % 2 * 4), ("warm", 1 + (number + 1) % 2 * 2)):
            # Warm: nothing but the cache is left.
            for bundle in out.iterdir() if out.is_dir() else ():
                if bundle.name != ".cache":
                    shutil.rmtree(bundle) if bundle.is_dir() else bundle.unlink()
            if (folder / "earlier").is_dir():
                shutil.copytree(folder / "earlier", out, dirs_exist_ok=True)
            home = {"TZ": next(ZONES), "LC_ALL": next(LANGUAGES), "LANG": next(LANGUAGES), "HOME": str(self.root)}
            product = folder / way / name if name else folder / way
            command = [BINARY, "build", product, "--out", out, "--jobs", str(jobs), "--json", *options]
            run = subprocess.run(command, env=os.environ | home, capture_output=True, text=True, timeout=600)
            if run.returncode != 0:
                found.append(f"{time}: gave {run.returncode}\n{run.stdout}{run.stderr}")
                continue
            made = digests(out)
            if time == "cold":
                found.extend(self.looked_at(product, run))
            differing = sorted(p for p in made.keys() | wanted.keys() if made.get(p) != wanted.get(p))
            found.extend(f"{time}: {path}" for path in differing)
        if reworded and not found:
            found = self.reworded(folder / way / (name or "product.toml"), command, out)
        if found:
            return [f"{folder / way} ({', '.join(wanted)[:200]})", *found]
        shutil.rmtree(folder)
        shutil.rmtree(out.parent)
        return []

    def reworded(self, manifest, command, out):
        """Adds lines to a manifest that state nothing; gives what other than the digests in the record changes of the bundle that
        was just built."""
        before = {p: p.read_bytes() for p in out.rglob("*") if p.is_file() and ".cache" not in p.parts}
        text = manifest.read_bytes()
        # What is found at a line of the manifest moves with it.
        moved = any(b'"span"' in data or b".toml:" in data for p, data in before.items() if p.name == "bundle.json")
        manifest.write_bytes(text + b"\n# again\n" if moved else b"\n# again\n\n" + text + b"\n")
        run = subprocess.run(command, capture_output=True, text=True, timeout=600)
        if run.returncode != 0:
            return [f"reworded: gave {run.returncode}\n{run.stdout}{run.stderr}"]
        of = [hashlib.sha256(data).hexdigest().encode() for data in (text, manifest.read_bytes())]
        found = []
        for path, data in sorted(before.items()):
            if path.name == "bundle.json" and path.read_bytes() != data:
                record = path.read_bytes()
                found += [] if record == data.replace(*of) else [f"reworded: {path} beside the digest"]
                sums = path.with_name("SHA256SUMS")
                of_record = [hashlib.sha256(bytes_).hexdigest().encode() for bytes_ in (data, record)]
                same = sums.read_bytes() == before[sums].replace(*of_record)
                found += [] if same else [f"reworded: {sums} beside the digest"]
            elif path.name not in ("bundle.json", "SHA256SUMS") and path.read_bytes() != data:
                found.append(f"reworded: {path}")
        now = {p for p in out.rglob("*") if p.is_file() and ".cache" not in p.parts}
        return found + [f"reworded: {path} is new" for path in sorted(now - before.keys())]

    def looked_at(self, product, built):
        """What a check of the bundle that was just built says otherwise than its build."""
        from tool import BINARY

        # Members of a set, and earlier versions, lie beside it.
        bundle = json.loads(built.stdout)["folder"]
        look = subprocess.run([BINARY, "check", bundle, "--json"], capture_output=True, text=True, timeout=600)
        said = agree.differences(built, look)
        return [f"of {product}, {line}" for line in said]

    def close(self):
        """Waits for all that is still being built; gives what differs, and how many were compared."""
        found = [line for future in self.running for line in future.result()]
        self.worker.shutdown()
        if not found:
            shutil.rmtree(self.root)
        return found, len(self.running)


AGAIN = Again()
