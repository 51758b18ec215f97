"""Releases: sealed, verified, signed and built again, held from outside with coreutils, hashlib and Ed25519.

Signatures are checked by another implementation: Ed25519 of the library cryptography, BLAKE2b of hashlib, in the form that
minisign documents (https://jedisct1.github.io/minisign/, "Signature format" and "Secret key format").
"""

import base64
import datetime
import hashlib
import json
import os
import re
import shutil
import subprocess
import tomllib
import zipfile
from dataclasses import replace
from pathlib import Path

import jsonschema
import pytest
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

import tool
from products import Recipe

LOG = Recipe(
    "Ferry Log",
    page='size = "A6"\nlayout = "single"',
    sections=["Boats"],
    templates=[("Deck log", "lined", "{}")],
    more='[[sticker]]\nmotif = "star"\nlongest = "12 mm"\n[assets]\nown = ["texts/*"]\n',
)
SCHEMAS = tool.ROOT / "pipeline/cli"


def report(command, *arguments, code):
    """What a command reports as JSON, held against its schema."""
    run = tool.sheafwright(command, *arguments, "--json")
    assert run.returncode == code, run.stdout + run.stderr
    found = json.loads(run.stdout)
    name = {"verify": "verified", "release": "sealing"}[command]
    jsonschema.validate(found, json.loads((SCHEMAS / f"{name}.schema.json").read_text(encoding="utf-8")))
    return found


def verify(*arguments, code=0):
    return report("verify", *arguments, code=code)


def kinds(found):
    return {(d["kind"], d["path"]) for d in found["differences"]}


def sha256(path):
    return hashlib.sha256(Path(path).read_bytes()).hexdigest()


@pytest.fixture(scope="module")
def original(tmp_path_factory):
    folder = tmp_path_factory.mktemp("ferry")
    product = LOG.write(folder / "product")
    return folder, tool.build(product, folder / "dist")


@pytest.fixture
def shelf(original, tmp_path):
    """A product and its bundle, the test's own; the note of where the product lies follows."""
    shutil.copytree(original[0], tmp_path / "ferry", ignore=shutil.ignore_patterns(".cache"))
    folder = tmp_path / "ferry"
    (note,) = (folder / "dist/.products").iterdir()
    note.write_text(str(folder / "product"), encoding="utf-8")
    return folder / "product", folder / "dist" / note.name / "1.0.0"


def test_a_seal_says_what_coreutils_and_hashlib_say(shelf):
    product, bundle = shelf
    found = report("release", bundle, "--date", "2027-04-02", code=0)
    assert found["sealed"] and not found["already"] and found["version"] == "1.0.0"
    (entry,) = tomllib.loads((product / "releases.toml").read_text(encoding="utf-8"))["release"]
    assert entry["released"] == datetime.date(2027, 4, 2)
    assert entry["record"] == sha256(bundle / "bundle.json") == found["record"]
    assert entry["sums"] == sha256(bundle / "SHA256SUMS") == found["sums"]
    assert entry["inputs"]["product.toml"] == sha256(product / "product.toml")
    assert entry["tool"] == json.loads((bundle / "bundle.json").read_text(encoding="utf-8"))["tool"]
    assert entry["libraries"].keys() >= {"typst-assets", "notosans", "icu_datetime_data"}
    subprocess.run(["sha256sum", "-c", "--strict", "--quiet", "SHA256SUMS"], cwd=bundle, check=True)
    # Once more is no second seal, and another date is none either.
    before = (product / "releases.toml").read_bytes()
    assert report("release", bundle, code=0)["already"]
    run = tool.sheafwright("release", bundle, "--date", "2027-04-03")
    assert run.returncode == 2 and "2027-04-02" in run.stderr
    assert (product / "releases.toml").read_bytes() == before


def test_without_a_date_it_is_the_one_of_the_manifest(shelf):
    product, bundle = shelf
    report("release", bundle, code=0)
    (entry,) = tomllib.loads((product / "releases.toml").read_text(encoding="utf-8"))["release"]
    assert entry["released"] == datetime.date(2027, 3, 1)


@pytest.mark.parametrize("given", ["yesterday", "2027-02-30", "2027-01-01T10:00:00", "27-1-1"])
def test_a_date_that_is_none(shelf, given):
    product, bundle = shelf
    assert tool.sheafwright("release", bundle, "--date", given).returncode == 2
    assert not (product / "releases.toml").exists()


def test_a_sealed_version_is_built_the_same_or_refused(shelf):
    product, bundle = shelf
    report("release", bundle, code=0)
    before = tool.tree(bundle)
    dist, manifest = bundle.parent.parent, product / "product.toml"
    tool.build(product, dist)
    assert tool.tree(bundle) == before
    # Lost, it comes back as it was.
    shutil.rmtree(bundle)
    tool.build(product, dist)
    assert tool.tree(bundle) == before
    # Harmed, it is mended.
    upload = sorted((bundle / "upload").iterdir())[0]
    upload.write_bytes(b"harmed")
    tool.build(product, dist)
    assert tool.tree(bundle) == before
    # Another one is refused, with what differs and why, whether the sealed one is there or not.
    text = manifest.read_text(encoding="utf-8")
    manifest.write_text(text.replace('"Boats"', '"Ships"'), encoding="utf-8")
    run = tool.sheafwright("build", product, "--out", dist)
    assert run.returncode == 2 and "was released" in run.stderr and "ferry-log.pdf has changed" in run.stderr, run.stderr
    assert "input product.toml has other bytes" in run.stderr and tool.tree(bundle) == before
    shutil.rmtree(bundle)
    run = tool.sheafwright("build", product, "--out", dist)
    assert run.returncode == 2 and "not the one that was sealed" in run.stderr, run.stderr
    assert "input product.toml has other bytes" in run.stderr and not bundle.exists()
    # Another number is another matter.
    manifest.write_text(text.replace('"Boats"', '"Ships"').replace('"1.0.0"', '"1.0.1"'), encoding="utf-8")
    assert tool.sheafwright("build", product, "--out", dist.parent / "next").returncode == 0


def test_issued_in_the_manifest_is_the_same_seal(tmp_path):
    product, dist = LOG.write(tmp_path / "product"), tmp_path / "dist"
    manifest = product / "product.toml"
    text = manifest.read_text(encoding="utf-8")
    manifest.write_text(text.replace('version = "1.0.0"', 'version = "1.0.0"\nissued = true'), encoding="utf-8")
    bundle = tool.build(product, dist).folder
    (entry,) = tomllib.loads((product / "releases.toml").read_text(encoding="utf-8"))["release"]
    assert entry["record"] == sha256(bundle / "bundle.json")
    assert not list(dist.rglob("*.issued"))
    assert report("release", bundle, code=0)["already"]
    # The word may go again: what is sealed stays sealed.
    manifest.write_text(text.replace('"Boats"', '"Ships"'), encoding="utf-8")
    run = tool.sheafwright("build", product, "--out", dist)
    assert run.returncode == 2 and "was released" in run.stderr


def test_an_error_that_stands_is_no_release(shelf):
    product, bundle = shelf
    text = (bundle / "bundle.json").read_text(encoding="utf-8")
    # Papers that agree with each other, of a bundle with an error: an upload that is larger than the shop takes.
    record = json.loads(text)
    record["limits"]["bytes"] = 10
    record["findings"] = []
    record["tool"] = "sheafwright 0.0.1"
    (bundle / "bundle.json").write_text(json.dumps(record, indent=2), encoding="utf-8")
    lines = [line for line in (bundle / "SHA256SUMS").read_text(encoding="utf-8").splitlines() if "bundle.json" not in line]
    lines.append(f"{sha256(bundle / 'bundle.json')}  bundle.json")
    (bundle / "SHA256SUMS").write_text("\n".join(sorted(lines, key=lambda line: line[66:])) + "\n", encoding="utf-8")
    verify(bundle)
    found = report("release", bundle, code=1)
    assert not found["sealed"] and {f["check"] for f in found["checks"]["findings"]} >= {"slot-too-large"}
    assert not (product / "releases.toml").exists()
    said = tool.sheafwright("release", bundle)
    assert said.returncode == 1 and "an error stands" in said.stdout and "slot-too-large" in said.stdout


@pytest.mark.parametrize("form", ["folder", "zip", "zip of the folder"])
def test_every_byte_of_a_bundle_is_held(shelf, tmp_path, form):
    """Each file of a bundle altered by one bit, taken away, and one added: told by its path and kind, and nothing else."""
    product, bundle = shelf
    report("release", bundle, code=0)
    files = tool.tree(bundle)

    def look(tree):
        if form == "folder":
            # In its own place, so that the seal is found.
            shutil.rmtree(bundle)
            for path, data in tree.items():
                (bundle / path).parent.mkdir(parents=True, exist_ok=True)
                (bundle / path).write_bytes(data)
            return bundle
        packed = tmp_path / "packed.zip"
        with zipfile.ZipFile(packed, "w") as archive:
            for path, data in tree.items():
                archive.writestr(("1.0.0/" if form != "zip" else "") + path, data)
        return packed

    whole = verify(look(files), "--product", product)
    assert whole["holds"] and whole["part"] == "bundle" and whole["seal"]["same"] and whole["version"] == "1.0.0"
    assert whole["files"] == len(files)
    for path, data in files.items():
        if path == "bundle.json":
            continue
        harmed = verify(look(files | {path: bytes([data[0] ^ 1]) + data[1:] if data else b"x"}), "--product", product, code=1)
        wanted = {("altered", path)}
        assert kinds(harmed) == wanted or path == "SHA256SUMS" and wanted <= kinds(harmed), harmed
        assert not harmed["holds"]
        gone = verify(look({p: d for p, d in files.items() if p != path}), "--product", product, code=1)
        assert ("missing", path) in kinds(gone), gone
    added = verify(look(files | {"contents/extra.txt": b"x"}), "--product", product, code=1)
    assert kinds(added) == {("added", "contents/extra.txt")}
    # The record itself: consistent papers that are not those of the seal.
    record = json.loads(files["bundle.json"]) | {"shop": "Somebody else"}
    other = json.dumps(record).encode()
    digests = {p: hashlib.sha256(d).hexdigest() for p, d in (files | {"bundle.json": other}).items() if p != "SHA256SUMS"}
    sums = "".join(f"{digest}  {path}\n" for path, digest in sorted(digests.items())).encode()
    forged = verify(look(files | {"bundle.json": other, "SHA256SUMS": sums}), "--product", product, code=1)
    assert forged["differences"] == [] and forged["seal"]["same"] is False
    run = tool.sheafwright("verify", look(files | {"bundle.json": b"{"}))
    assert run.returncode == 2 and "record cannot be read" in run.stderr


def test_what_a_buyer_has(shelf, tmp_path):
    """The uploads alone, one of them, and what is unpacked from them, against the record or the list of checksums."""
    _, bundle = shelf
    uploads = tmp_path / "downloads"
    shutil.copytree(bundle / "upload", uploads)
    run = tool.sheafwright("verify", uploads)
    assert run.returncode == 2 and "--record" in run.stderr
    (upload,) = uploads.glob("*.zip")
    for papers in (bundle, bundle / "bundle.json", bundle / "SHA256SUMS"):
        assert verify(uploads, "--record", papers)["part"] == "uploads"
        assert verify(upload, "--record", papers)["files"] == 1
    unpacked = tmp_path / "unpacked"
    tool.program("unzip", "-q", upload, "-d", unpacked)
    for loose in uploads.glob("*.pdf"):
        shutil.copy(loose, unpacked)
    found = verify(unpacked, "--record", bundle)
    assert found["part"] == "contents" and found["files"] == len(tool.tree(unpacked))
    (unpacked / "start-here.txt").unlink()
    assert kinds(verify(unpacked, "--record", bundle, code=1)) == {("missing", "start-here.txt")}
    # An upload that was packed anew with another file in it says which.
    changed = tmp_path / "changed" / upload.name
    changed.parent.mkdir()
    with zipfile.ZipFile(upload) as old, zipfile.ZipFile(changed, "w") as new:
        for name in old.namelist():
            new.writestr(name, old.read(name) + (b"!" if name == "start-here.txt" else b""))
    (difference,) = verify(changed, "--record", bundle, code=1)["differences"]
    assert difference["kind"] == "altered" and "start-here.txt is altered" in difference["message"]
    renamed = uploads / "other name.zip"
    upload.rename(renamed)
    found = verify(uploads, "--record", bundle, code=1)
    assert kinds(found) == {("missing", upload.name), ("added", renamed.name)}
    assert all(upload.name in d["message"] + d["path"] for d in found["differences"])


def test_building_again(shelf):
    product, bundle = shelf
    report("release", bundle, code=0)
    before = tool.tree(bundle)
    again = verify(bundle, "--rebuild")
    assert again["rebuilt"] == {"same": True, "differences": [], "reasons": []}
    manifest = product / "product.toml"
    text = manifest.read_text(encoding="utf-8")
    manifest.write_text(text.replace('"Boats"', '"Ships"'), encoding="utf-8")
    found = verify(bundle, "--rebuild", code=1)
    assert found["differences"] == [] and found["seal"]["same"] and not found["rebuilt"]["same"]
    assert "contents/ferry-log.pdf" in {d["path"] for d in found["rebuilt"]["differences"]}
    assert found["rebuilt"]["reasons"] == ["input product.toml has other bytes than then"]
    manifest.write_text(text, encoding="utf-8")
    # Another tool, another font, other data of languages: told from the entry.
    entry = product / "releases.toml"
    seal = entry.read_text(encoding="utf-8")
    seal = re.sub(r'("notosans" = )"[^"]*"', r'\1"0.0.9"', seal)
    seal = re.sub(r'("icu_datetime_data" = )"[^"]*"', r'\1"1.0.0"', seal)
    entry.write_text(re.sub(r'program = "[^"]*"', 'program = "0123"', seal), encoding="utf-8")
    reasons = "\n".join(verify(bundle, "--rebuild")["rebuilt"]["reasons"])
    for part in ("fonts in notosans was 0.0.9", "CLDR data in icu_datetime_data was 1.0.0", "the program is another one"):
        assert part in reasons, reasons
    assert tool.tree(bundle) == before


def test_a_product_that_moved(shelf, tmp_path):
    product, bundle = shelf
    moved = tmp_path / "moved"
    product.rename(moved)
    run = tool.sheafwright("release", bundle)
    assert run.returncode == 2 and "--product" in run.stderr
    assert report("release", bundle, "--product", moved, code=0)["sealed"]
    other = replace(LOG, name="Tide Log").write(tmp_path / "other")
    run = tool.sheafwright("release", bundle, "--product", other)
    assert run.returncode == 2 and "tide-log" in run.stderr and not (other / "releases.toml").exists()


def test_releases_that_cannot_be_read(shelf):
    product, bundle = shelf
    (product / "releases.toml").write_text('[[release]]\nversion = "1.0.0\n', encoding="utf-8")
    for command in (["build", product, "--out", bundle.parent.parent], ["release", bundle], ["verify", bundle], ["proof", bundle]):
        run = tool.sheafwright(*command)
        assert run.returncode == 2 and "releases.toml:2:" in run.stderr, run.stderr


# Signatures.


def minisign_key(seed, number=b"\x01\x02\x03\x04\x05\x06\x07\x08", password=None):
    """A pair of keys as minisign writes them, made here for the test: secret text, public text, public key."""
    private = Ed25519PrivateKey.from_private_bytes(seed)
    public = private.public_key().public_bytes(Encoding.Raw, PublicFormat.Raw)
    secret = seed + public
    check = hashlib.blake2b(b"Ed" + number + secret, digest_size=32).digest()
    body, salt, cost = number + secret + check, bytes(32), bytes(16)
    if password is not None:
        # The least cost that the format knows, so that the test is quick: N = 2**10, r = 8, p = 1.
        salt, ops, memory = bytes(range(32)), 32768, 16 << 20
        stream = hashlib.scrypt(password.encode(), salt=salt, n=1 << 10, r=8, p=1, maxmem=64 << 20, dklen=len(body))
        body = bytes(a ^ b for a, b in zip(body, stream, strict=True))
        cost = ops.to_bytes(8, "little") + memory.to_bytes(8, "little")
    raw = b"Ed" + (b"\0\0" if password is None else b"Sc") + b"B2" + salt + cost + body
    text = "untrusted comment: a key for a test\n" + base64.b64encode(raw).decode() + "\n"
    shown = "untrusted comment: its other half\n" + base64.b64encode(b"Ed" + number + public).decode() + "\n"
    return text, shown, private


def minisign_holds(signature, message, public):
    """Whether a signature holds, by another implementation; raises if not. Gives the comment."""
    lines = signature.splitlines()
    raw, whole = base64.b64decode(lines[1]), base64.b64decode(lines[3])
    comment = lines[2].removeprefix("trusted comment: ")
    assert raw[:2] == b"ED" and len(raw) == 74 and len(whole) == 64
    public.verify(raw[10:], hashlib.blake2b(message, digest_size=64).digest())
    public.verify(whole, raw[10:] + comment.encode())
    return comment


@pytest.mark.parametrize("password", [None, "kelp and tar"])
def test_a_signature_holds_for_others_as_well(shelf, tmp_path, monkeypatch, password):
    _, bundle = shelf
    secret, public, private = minisign_key(bytes(range(32)), password=password)
    key, shown = tmp_path / "mine.key", tmp_path / "mine.pub"
    key.write_text(secret)
    shown.write_text(public)
    before = tool.tree(bundle)
    if password:
        # Nobody sits at a terminal: the password is asked for in words.
        run = subprocess.run(
            [tool.BINARY, "release", bundle, "--key", key], capture_output=True, text=True, stdin=subprocess.DEVNULL, start_new_session=True
        )
        assert run.returncode == 2 and "SHEAFWRIGHT_KEY_PASSWORD" in run.stderr, run.stderr
        monkeypatch.setenv("SHEAFWRIGHT_KEY_PASSWORD", "wrong")
        assert "password" in tool.sheafwright("release", bundle, "--key", key).stderr.lower()
        monkeypatch.setenv("SHEAFWRIGHT_KEY_PASSWORD", password)
    signature = Path(report("release", bundle, "--key", key, code=0)["signature"])
    assert signature == bundle.parent / "1.0.0.minisig" and tool.tree(bundle) == before
    sums = (bundle / "SHA256SUMS").read_bytes()
    comment = minisign_holds(signature.read_text(), sums, private.public_key())
    assert "ferry-log 1.0.0" in comment
    with pytest.raises(InvalidSignature):
        minisign_holds(signature.read_text(), sums + b"x", private.public_key())
    found = verify(bundle, "--public-key", shown)
    assert found["signature"] == {"holds": True, "key": "0807060504030201", "comment": comment}
    said = tool.sheafwright("verify", bundle, "--public-key", shown).stdout
    assert "says nothing about rights" in said
    # The second line alone is a key too; a build goes on beside the signature.
    shown.write_text(public.splitlines()[1])
    verify(bundle, "--public-key", shown)
    product = bundle.parent.parent.parent / "product"
    assert tool.build(product, bundle.parent.parent).folder == bundle


def test_signatures_that_do_not_hold(shelf, tmp_path):
    """Another key, another file, any bit of the signature or of its comment: refused. No key, no signature: said in words."""
    _, bundle = shelf
    (tmp_path / "key").write_text(minisign_key(bytes(32))[0])
    (tmp_path / "pub").write_text(minisign_key(bytes(32))[1])
    (tmp_path / "other").write_text(minisign_key(b"\1" * 32)[1])
    report("release", bundle, "--key", tmp_path / "key", code=0)
    kept = bundle.parent / "1.0.0.minisig"
    good = kept.read_text()
    assert verify(bundle, "--public-key", tmp_path / "other", code=1)["signature"]["holds"] is False
    lines = good.splitlines()
    for line in (1, 3):
        raw = base64.b64decode(lines[line])
        # The first two bytes of the first name the algorithm: another one is no signature at all.
        for at in range(2 if line == 1 else 0, len(raw), 9):
            harmed = raw[:at] + bytes([raw[at] ^ 4]) + raw[at + 1 :]
            kept.write_text("\n".join([*lines[:line], base64.b64encode(harmed).decode(), *lines[line + 1 :]]) + "\n")
            assert verify(bundle, "--public-key", tmp_path / "pub", code=1)["signature"]["holds"] is False, (line, at)
    kept.write_text(good.replace("ferry-log 1.0.0", "ferry-log 1.0.1"))
    assert verify(bundle, "--public-key", tmp_path / "pub", code=1)["signature"]["holds"] is False
    # One bit of the list that was signed, with the bytes in order: the signature tells.
    kept.write_text(good)
    (bundle / "proof.html").write_bytes((bundle / "proof.html").read_bytes() + b"\n")
    lines = (bundle / "SHA256SUMS").read_text().splitlines()
    lines = [f"{sha256(bundle / 'proof.html')}  proof.html" if line.endswith(" proof.html") else line for line in lines]
    (bundle / "SHA256SUMS").write_text("\n".join(lines) + "\n")
    found = verify(bundle, "--public-key", tmp_path / "pub", code=1)
    assert found["differences"] == [] and found["signature"]["holds"] is False
    for broken in ["", "untrusted comment: x\n", good[:60], "\n\n\n\n", "ä" * 200, good.replace("\n", "")]:
        kept.write_text(broken)
        run = tool.sheafwright("verify", bundle, "--public-key", tmp_path / "pub")
        assert run.returncode == 2 and "no signature" in run.stderr and "panic" not in run.stderr, run.stderr
        kept.write_text(good)
        (tmp_path / "bad").write_text(broken)
        for arguments in (["verify", bundle, "--public-key", tmp_path / "bad"], ["release", bundle, "--key", tmp_path / "bad"]):
            run = tool.sheafwright(*arguments)
            assert run.returncode == 2 and "minisign" in run.stderr and "panic" not in run.stderr, run.stderr
    kept.unlink()
    run = tool.sheafwright("verify", bundle, "--public-key", tmp_path / "pub")
    assert run.returncode == 2 and "1.0.0.minisig" in run.stderr


def test_a_signature_that_was_made_elsewhere(shelf, tmp_path):
    """One of the record, by another program, with any comment."""
    _, bundle = shelf
    _, public, private = minisign_key(b"\7" * 32)
    (tmp_path / "pub").write_text(public)
    for name in ("bundle.json", "SHA256SUMS"):
        digest = hashlib.blake2b((bundle / name).read_bytes(), digest_size=64).digest()
        raw = b"ED" + b"\x01\x02\x03\x04\x05\x06\x07\x08" + private.sign(digest)
        comment = f"timestamp:1\tfile:{name}\thashed"
        lines = ["untrusted comment: mine", base64.b64encode(raw).decode(), f"trusted comment: {comment}",
                 base64.b64encode(private.sign(raw[10:] + comment.encode())).decode()]  # fmt: skip
        (tmp_path / "sig").write_text("\n".join(lines) + "\n")
        found = verify(bundle, "--public-key", tmp_path / "pub", "--signature", tmp_path / "sig")
        assert found["signature"]["comment"] == comment
    # A buyer has the uploads, the list and the signature.
    found = verify(bundle / "upload", "--record", bundle / "SHA256SUMS", "--public-key", tmp_path / "pub", "--signature", tmp_path / "sig")
    assert found["part"] == "uploads" and found["signature"]["holds"]
