"""Archives, sums, record and listing against unzip, bsdtar, Python's zipfile, sha256sum, pdfinfo and the file system."""

import hashlib
import re
import struct
import zipfile
from dataclasses import replace

import pytest
from PIL import Image

import products
import tool
from reading import Reading
from tool import program


def archives(bundle):
    found = sorted((bundle.folder / "upload").glob("*.zip"))
    assert found, "no archive to test"
    return found


def number(text):
    return int(text.replace(",", ""))


def uploads(bundle):
    return sorted((bundle.folder / "upload").iterdir())


def test_the_bundle_has_its_rooms(full):
    names = {p.name for p in full.folder.iterdir()}
    assert names == {"upload", "contents", "listing", "bundle.json", "SHA256SUMS", "proof.html"}
    assert full.folder.parts[-2:] == ("harbour-log", "1.0.0")
    listing = {p.name for p in (full.folder / "listing").iterdir()} - {"pictures"}
    assert listing == {"description.md", "files.txt", "tags.txt"}


def test_archives_are_sound_to_three_readers(full, tmp_path):
    for path in archives(full):
        program("unzip", "-tqq", path)
        program("bsdtar", "-tf", path)
        with zipfile.ZipFile(path) as archive:
            assert archive.testzip() is None
            names = archive.namelist()
        assert program("bsdtar", "-tf", path).split("\n")[:-1] == names
        assert program("unzip", "-Z1", path).split("\n")[:-1] == names
        # What comes out is what lies loose beside it.
        program("unzip", "-qq", path, "-d", tmp_path / path.stem)
        for name, data in tool.tree(tmp_path / path.stem).items():
            assert data == (full.folder / "contents" / name).read_bytes(), name


def test_entries_are_sorted_timeless_and_plain(full):
    """PKWARE APPNOTE 6.3: the least date is 1980-01-01 00:00; bit 11 of the flags means that names are UTF-8."""
    for path in archives(full):
        data = path.read_bytes()
        with zipfile.ZipFile(path) as archive:
            entries = archive.infolist()
            assert archive.comment == b""
        names = [entry.filename for entry in entries]
        assert names == sorted(names) and len(set(map(str.casefold, names))) == len(names)
        for entry in entries:
            assert re.fullmatch(r"[A-Za-z0-9._-]+(/[A-Za-z0-9._-]+)*", entry.filename)
            assert entry.date_time == (1980, 1, 1, 0, 0, 0)
            assert entry.extra == b"" and entry.comment == b""
            assert entry.compress_type in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
            assert not entry.is_dir() and entry.compress_size <= entry.file_size
            # The local header says the same: no bit 3, no extra field, the same sizes.
            header = struct.unpack("<4sHHHHHLLLHH", data[entry.header_offset : entry.header_offset + 30])
            assert header[0] == b"PK\3\4" and header[2] & ~0x800 == 0 and header[10] == 0
            assert header[6:9] == (entry.CRC, entry.compress_size, entry.file_size)


def test_every_loose_file_is_uploaded_once(full):
    loose = sorted(p.relative_to(full.folder / "contents").as_posix() for p in (full.folder / "contents").rglob("*.*"))
    packed = [p.name for p in uploads(full) if p.suffix != ".zip"]
    for path in archives(full):
        packed += zipfile.ZipFile(path).namelist()
    assert sorted(packed) == loose


def test_the_notebook_is_uploaded_as_it_is(full):
    assert (full.folder / "upload/harbour-log.pdf").read_bytes() == full.notebook.read_bytes()


@pytest.mark.parametrize("files, megabytes", [(5, 20), (1, 20), (3, 0.12), (5, 0.08)])
def test_uploads_keep_to_the_shops_limits(files, megabytes, workshop):
    # With a guide of its own, which has no pictures: one file alone is larger than such limits otherwise.
    limits = f'\n[limits]\nfiles = {files}\nmegabytes = {megabytes}\n[guide]\ntext = "texts/guide.md"\n'
    recipe = replace(products.FULL_PRODUCT, more=products.FULL + limits)
    bundle = workshop(replace(recipe, files={**recipe.files, "texts/guide.md": lambda: b"# How to\n\nOpen it and write.\n"}))
    found = uploads(bundle)
    assert 1 <= len(found) <= files
    assert all(p.stat().st_size <= megabytes * 1e6 for p in found)
    if files == 1:
        assert [p.suffix for p in found] == [".zip"]
    first = next(p for p in found if p.suffix == ".zip")
    assert "start-here.txt" in zipfile.ZipFile(first).namelist()


def test_what_does_not_fit_is_refused_with_figures(tmp_path):
    limits = "\n[limits]\nfiles = 1\nmegabytes = 0.02\n"
    recipe = replace(products.FULL_PRODUCT, more=products.FULL + limits)
    run = tool.sheafwright("build", recipe.write(tmp_path / "product"), "--out", tmp_path / "dist")
    assert run.returncode in (1, 2), run.stderr
    assert "harbour-log.pdf" in run.stdout + run.stderr
    assert list((tmp_path / "dist").glob("*/*/bundle.json")) == []


def test_what_does_not_fit_goes_on_a_delivery_card(full, workshop):
    # Room for the notebook as it is and for an archive of the same size, which is less than the rest needs.
    most = full.notebook.stat().st_size + 500
    assert sum(path.stat().st_size for path in archives(full)) > most
    limits = f"\n[limits]\nfiles = 2\nmegabytes = {most / 1e6}\n"
    address = '\n[delivery]\naddress = "https://tarn-and-tide.example/files/harbour-log"\n'
    bundle = workshop(replace(products.FULL_PRODUCT, more=products.FULL + limits + address))
    (card,) = [p for p in bundle.of_kind("delivery-card") if "contents" in p.parts]
    book = Reading(card)
    (annotation,) = book.annotations(0)
    assert str(annotation.A.URI) == "https://tarn-and-tide.example/files/harbour-log"
    assert len(book.pages) == 1
    assert len(uploads(bundle)) <= 2 and all(p.stat().st_size <= most for p in uploads(bundle))
    packed = {p.name for p in uploads(bundle)}
    for path in archives(bundle):
        packed |= set(zipfile.ZipFile(path).namelist())
    loose = {p.relative_to(bundle.folder / "contents").as_posix() for p in (bundle.folder / "contents").rglob("*.*")}
    left_out = loose - packed
    assert left_out and card.name in packed
    text = " ".join(word.text for word in book.words[0])
    for name in left_out:
        assert name.split("/")[0] in text, f"the card does not say that {name} is at the link"


def test_sums_agree_with_sha256sum(full):
    program("sh", "-c", f'cd "{full.folder}" && sha256sum --check --strict --quiet SHA256SUMS')
    lines = (full.folder / "SHA256SUMS").read_text().splitlines()
    listed = [line.split("  ", 1)[1] for line in lines]
    assert listed == sorted(listed)
    assert set(listed) == set(tool.tree(full.folder)) - {"SHA256SUMS"}


def test_record_agrees_with_the_file_system(full):
    record, there = full.record, tool.tree(full.folder)
    assert (record["product"], record["version"], record["released"]) == ("harbour-log", "1.0.0", "2027-03-01")
    assert re.fullmatch(r"sheafwright \d+\.\d+\.\d+", record["tool"])
    assert {f["path"] for f in record["files"]} == set(there) - {"bundle.json", "SHA256SUMS", "proof.html"}
    kinds = "notebook covers sticker sheet guide licence start-here delivery-card upload listing".split()
    for file in record["files"]:
        data = there[file["path"]]
        assert file["size"] == len(data) and file["sha256"] == hashlib.sha256(data).hexdigest(), file["path"]
        assert file["kind"] in kinds or file["path"] == "proof.html"
    inputs = {i["path"]: i["sha256"] for i in record["inputs"]}
    given = {path: hashlib.sha256(data).hexdigest() for path, data in tool.tree(full.product).items()}
    assert inputs == given


def test_recorded_facts_agree_with_other_readers(full):
    for file in full.record["files"]:
        path, facts = full.folder / file["path"], file["facts"]
        if path.suffix == ".pdf":
            book = Reading(path)
            assert facts["pages"] == int(tool.pdfinfo(path)["Pages"])
            assert facts["links"] == sum(len(page) for page in book.links)
            assert facts["links_within"] == sum(link.target >= 0 for page in book.links for link in page)
            (size,) = facts["page_sizes"]
            assert size == pytest.approx(tool.page_size(path), abs=0.006)
        if path.suffix == ".png":
            with Image.open(path) as picture:
                assert (facts["width"], facts["height"]) == picture.size


def test_files_txt_tells_the_truth(full):
    text = (full.folder / "listing/files.txt").read_text(encoding="utf-8")
    blocks = {"Files to download": full.folder / "upload", "Files after unzipping": full.folder / "contents"}
    for title, folder in blocks.items():
        there = tool.tree(folder)
        count, total = re.search(rf"{title}: (\d+) files?, ([\d,]+) bytes", text).groups()
        assert (int(count), number(total)) == (len(there), sum(map(len, there.values())))
        part = text.split(title)[1].split("\n\nFiles ")[0]
        rows = dict(re.findall(r"^(\S+)\n    (.+)$", part, re.M))
        assert set(rows) == set(there)
        for name, says in rows.items():
            assert number(re.search(r"([\d,]+) bytes", says)[1]) == len(there[name]), name
            path = folder / name
            if path.suffix == ".pdf":
                assert int(re.search(r"([\d,]+) pages?", says)[1]) == int(tool.pdfinfo(path)["Pages"])
            if path.suffix == ".png":
                with Image.open(path) as picture:
                    wide, high, dpi = re.search(r"([\d,]+) × ([\d,]+) px at (\d+) dpi", says).groups()
                    assert (number(wide), number(high)) == picture.size
                    assert int(dpi) == round(picture.info["dpi"][0])
            if path.suffix == ".zip":
                names = program("unzip", "-Z1", path).split("\n")[:-1]
                assert int(re.search(r"(\d+) files?$", says)[1]) == len(names)
                assert re.findall(r"^    - (\S+)$", part, re.M) == names


def test_description_tells_the_truth(full):
    text = (full.folder / "listing/description.md").read_text(encoding="utf-8")
    book = Reading(full.notebook)
    pages = int(tool.pdfinfo(full.notebook)["Pages"])
    links = sum(link.target >= 0 for page in book.links for link in page)
    assert f"{pages} pages with {links:,} links" in text
    wide, high = tool.page_size(full.notebook)
    for unit, factor in (("pt", 1), ("mm", 25.4 / 72), ("in", 1 / 72), ("px on a screen with 264 pixels to the inch", 264 / 72)):
        one, other = re.search(rf"([\d.,]+) × ([\d.,]+) {unit}", text).groups()
        rounding = 0.5 if "px" in unit else 0.06 if unit == "mm" else 0.006
        assert float(one.replace(",", "")) == pytest.approx(wide * factor, abs=rounding), unit
        assert float(other.replace(",", "")) == pytest.approx(high * factor, abs=rounding), unit
    covers = next(p for p in full.of_kind("covers") if "contents" in p.parts)
    assert re.search(r"(\d+) (alternate )?covers", text)[1] in (
        tool.pdfinfo(covers)["Pages"],
        str(int(tool.pdfinfo(covers)["Pages"]) - 1),
    )
    assert f"**{len(full.stickers)} stickers**" in text
    with Image.open(full.stickers[0]) as picture:
        assert f"{round(picture.info['dpi'][0])} dpi" in text
    assert f"{len(full.recipe.sections)} sections" in text and f"{len(full.recipe.templates)} page templates" in text
    for name, _, _ in full.recipe.templates:
        assert f"- {name}\n" in text
    for path in uploads(full):
        kilobytes = re.search(rf"`{re.escape(path.name)}`: .*?([\d.]+) (kB|MB)", text)
        size = float(kilobytes[1]) * {"kB": 1e3, "MB": 1e6}[kilobytes[2]]
        assert size == pytest.approx(path.stat().st_size, rel=0.01)


def test_texts_are_plain(full):
    paths = [p for p in full.folder.rglob("*") if p.suffix in (".txt", ".md", ".json") or p.name == "SHA256SUMS"]
    assert len(paths) >= 7
    for path in paths:
        data = path.read_bytes()
        text = data.decode("utf-8")
        assert not data.startswith(b"\xef\xbb\xbf") and b"\r" not in data and text.endswith("\n"), path.name
        if path.suffix == ".txt":
            long = [line for line in text.splitlines() if len(line) > 78]
            assert not long, f"{path.name}: {long}"


def test_tags_and_title_keep_to_the_limits(full):
    tags = (full.folder / "listing/tags.txt").read_text().split("\n")[:-1]
    assert tags == ["digital notebook", "sailing log", "boat journal"]


def test_terms_say_what_the_manifest_chose(full):
    text = " ".join((full.folder / "contents/licence-terms.txt").read_text(encoding="utf-8").split())
    for words in ("25 sold items", "14 days", "not legal advice", "drawn for this product", "Open Font License"):
        assert words in text, words
    assert "classroom" not in text.lower(), "no seats were granted"
