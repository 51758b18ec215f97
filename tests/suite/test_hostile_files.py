"""Files that others open are not called damaged, and files that nobody can draw are named with their number and its limit."""

import json
import re
import subprocess
import zipfile
import zlib

import pikepdf
import pytest
from PIL import Image

import hostile
from tool import program


def check(path):
    """The findings by name, and the facts of all files."""
    code, out, err = hostile.run("check", path, "--json")
    assert code in (0, 1), err
    report = json.loads(out)
    return {f["check"]: f for f in report["findings"]}, report["files"]


# ---- ZIP archives: entries by their bytes and their place


def page_with_a_dead_link(path):
    objects = hostile.pages(3) | {
        3: hostile.page(more=b"/Annots[<</Type/Annot/Subtype/Link/Rect[60 60 160 160]/Border[0 0 0]/Dest[77 0 R/XYZ 0 450 null]>>]"),
        20: (b"", b"0.9 g 50 50 60 300 re f"),
    }
    return hostile.pdf(path, objects)


def packed(path, entries, flags=None, extra=b""):
    """An archive by zipfile whose names are these bytes; `flags` takes the place of the general purpose flags."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for n, (name, data) in enumerate(entries):
            info = zipfile.ZipInfo(f"{n:0{len(name)}d}", (1980, 1, 1, 0, 0, 0))
            info.compress_type = zipfile.ZIP_DEFLATED
            info.extra = extra
            archive.writestr(info, data)
    data = path.read_bytes()
    for n, (name, _) in enumerate(entries):
        data = data.replace(f"{n:0{len(name)}d}".encode(), name)
    data = bytearray(data)
    for signature, at in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        for place in [m.start() for m in re.finditer(re.escape(signature), bytes(data))] if flags is not None else []:
            data[place + at : place + at + 2] = flags.to_bytes(2, "little")
    path.write_bytes(bytes(data))
    return path


NAMES = {
    "utf-8 without bit 11": ("Größe.pdf".encode(), 0),
    "utf-8 with bit 11": ("Größe.pdf".encode(), 0x800),
    "apart": ("Gro\u0308ße.pdf".encode(), 0),
    "code page 437": ("Größe.pdf".encode("cp437"), 0),
    "latin 1": ("Größe.pdf".encode("latin-1"), 0),
    "bit 11 and no utf-8": ("Größe.pdf".encode("latin-1"), 0x800),
    "shift jis": ("寸法.pdf".encode("shift-jis"), 0),
}


@pytest.mark.parametrize("name, flags", NAMES.values(), ids=NAMES)
def test_what_is_inside_is_looked_into_whatever_its_name(tmp_path, name, flags):
    inside = page_with_a_dead_link(tmp_path / "in.pdf").read_bytes()
    path = packed(tmp_path / "a.zip", [(b"start-here.txt", b"Sow beans.\n" * 20), (name, inside)], flags)
    program("unzip", "-tq", path)
    found, files = check(path)
    assert not {"entry-damaged", "archive-damaged"} & set(found), found
    assert "link-to-nowhere" in found
    assert len(files) >= 2


def test_two_entries_of_one_name_are_both_sound(tmp_path):
    path = packed(tmp_path / "a.zip", [(b"one.txt", b"Sow beans.\n" * 20), (b"one.txt", b"Pick beans.\n" * 20)])
    found, _ = check(path)
    assert "names-clash" in found and "entry-damaged" not in found, found


def test_damage_is_still_told(tmp_path):
    path = packed(tmp_path / "a.zip", [("Größe.txt".encode(), b"Sow beans.\n" * 20)], 0)
    data = bytearray(path.read_bytes())
    data[30 + len("Größe.txt".encode()) + 6] ^= 0x55
    path.write_bytes(bytes(data))
    assert "entry-damaged" in check(path)[0]


# A name of 20 bytes puts its mark where the locator of ZIP64 stands, right before the end record; zipfile puts it there.
MARKS = {
    "zip64 locator in the last name": [(b"PK\x06\x07" + b"x" * 12 + b".txt", b"Sow beans.\n" * 20)],
    "end record in a name": [(b"PK\x05\x06" + b"x" * 30 + b".txt", b"Sow beans.\n" * 20), (b"b.txt", b"Pick.\n" * 20)],
    "local header in a name": [(b"PK\x03\x04.txt", b"Sow beans.\n" * 20), (b"PK\x01\x02.txt", b"Pick.\n" * 20)],
}


@pytest.mark.parametrize("entries", MARKS.values(), ids=MARKS)
def test_marks_within_names_are_letters(tmp_path, entries):
    path = packed(tmp_path / "a.zip", entries)
    program("unzip", "-tq", path)
    found, _ = check(path)
    assert not {"file-unreadable", "archive-damaged", "entry-damaged", "archive-zip64"} & set(found), found


def test_marks_within_a_comment_are_letters(tmp_path):
    path = packed(tmp_path / "a.zip", [(b"a.txt", b"Sow beans.\n" * 20)])
    with zipfile.ZipFile(path, "a") as archive:
        archive.comment = b"made PK\x05\x06 by hand, long enough to look like a record of its own"
    found, _ = check(path)
    assert not {"file-unreadable", "archive-damaged", "entry-damaged"} & set(found), found


def test_an_archive_behind_a_program_opens(tmp_path):
    path = packed(tmp_path / "a.zip", [(b"a.txt", b"Sow beans.\n" * 20)])
    # Something in front that the offsets do not count, as in archives that unpack themselves.
    path.write_bytes(b"PK\x03\x04" + b"stub" * 50 + path.read_bytes())
    found, _ = check(path)
    assert not {"file-unreadable", "archive-damaged", "entry-damaged"} & set(found), found
    assert "archive-stray-bytes" in found


def test_texts_within_an_archive_may_be_utf_16(tmp_path):
    path = packed(tmp_path / "a.zip", [(b"read-me.txt", "Bohnen säen.\r\n".encode("utf-16"))])
    found, _ = check(path)
    assert "file-unreadable" not in found and found["text-not-utf-8"]["severity"] == "warning", found


# ---- PNG and JPEG with something behind


@pytest.mark.parametrize("ending", ["png", "jpg"])
def test_bytes_behind_a_picture_are_no_damage(tmp_path, ending):
    path = tmp_path / f"leaf.{ending}"
    Image.new("RGB", (40, 30), (60, 120, 80)).save(path)
    path.write_bytes(path.read_bytes() + bytes(range(256)) * 40)
    Image.open(path).load()
    found, _ = check(path)
    assert not {f["check"] for f in found.values() if f["severity"] == "error"}, found
    if ending == "png":
        assert "10240 bytes" in found["picture-stray-bytes"]["message"]


# ---- PDF


@pytest.mark.parametrize("inside", [b"R" * 1_000_000, b"0 " * 500_000, b" " * 1_000_000, b"R (R) " * 160_000], ids=["letters", "digits", "spaces", "strings"])
def test_long_strings_are_read_once(tmp_path, inside):
    """Quadratic reading of a million bytes would take a quarter of an hour."""
    objects = hostile.pages(3) | {3: hostile.page(more=b"/PieceInfo<</X 4 0 R>>"), 4: b"<</Ink (%s)>>" % inside, 20: (b"", b"0 0 9 9 re f")}
    found, _ = check(hostile.pdf(tmp_path / "a.pdf", objects))
    assert "objects-unused" not in found


def tree(path, kids, more=()):
    """Pages 10, 11 and 12, a link on each to the next one, and this order of theirs."""
    objects = hostile.pages(*kids) | dict(more)
    for n, to in ((10, 11), (11, 12), (12, 10)):
        link = b"/Annots[<</Type/Annot/Subtype/Link/Rect[60 60 160 160]/Border[0 0 0]/Contents(next)/Dest[%d 0 R/XYZ 0 450 null]>>]" % to
        objects[n] = hostile.page(n + 10, more=link)
        objects[n + 10] = (b"", b"0.%d g 50 50 %d 300 re f" % (n - 9, n * 10))
    return hostile.pdf(path, objects)


KIDS = {
    "twice in a row": ([10, 11, 11, 12], {}, 4),
    "twice apart": ([10, 11, 12, 10], {}, 4),
    "three times": ([10, 11, 11, 11, 12], {}, 5),
    "a branch twice": ([10, 40, 40], {40: b"<</Type/Pages/Parent 2 0 R/Count 2/Kids[11 0 R 12 0 R]>>"}, 5),
    "a branch within itself": ([10, 11, 40], {40: b"<</Type/Pages/Parent 2 0 R/Count 1/Kids[12 0 R 40 0 R]>>"}, 3),
}


@pytest.mark.parametrize("kids, more, count", KIDS.values(), ids=KIDS)
def test_pages_count_as_often_as_they_are_shown(tmp_path, kids, more, count):
    path = tree(tmp_path / "a.pdf", kids, more)
    data = path.read_bytes().replace(b"/Type/Pages/Count %d/Kids" % len(kids), b"/Type/Pages/Count %d/Kids" % count)
    path.write_bytes(data)
    if "within" not in str(more):
        assert f"Pages:           {count}" in program("pdfinfo", path)
    found, files = check(path)
    assert files[0]["pages"] == count
    assert not {"page-count-wrong", "page-out-of-reach", "page-without-way-home"} & set(found), found


def test_a_finished_notebook_may_hold_a_page_twice(tmp_path):
    """The page is shown twice with different tabs, so it becomes two."""
    tree(tmp_path / "x.pdf", [10, 11, 11, 12])
    sections = "".join(f'[[notebook.section]]\nname = "{n}"\npage = {p}\n' for n, p in (("Sow", 2), ("Pick", 3)))
    (tmp_path / "product.toml").write_text(f'{hostile.HEAD}[notebook]\nfile = "x.pdf"\n[notebook.places]\nindex = 1\n{sections}')
    code, _, err = hostile.run("build", tmp_path, "--out", tmp_path / "dist")
    assert code == 0, err
    (record,) = (tmp_path / "dist").rglob("bundle.json")
    (made,) = [record.parent / f["path"] for f in json.loads(record.read_text())["files"] if f["kind"] == "notebook" and "contents" in f["path"]]
    assert not subprocess.run(["qpdf", "--check", made], capture_output=True).stderr
    with pikepdf.open(made) as pdf:
        ids = [page.objgen for page in pdf.pages]
        assert len(ids) == 4 and len(set(ids)) == 4
        # Each page has its own link, and the tabs of its own place.
        forms = [sorted(str(o.objgen) for o in page.Resources.XObject.values()) for page in pdf.pages]
        assert forms[1] != forms[2]
        assert all(any("/Dest" in a or "/A" in a for a in page.Annots) for page in pdf.pages)


def bundle(folder, file):
    (folder / "contents").mkdir(parents=True)
    file(folder / "contents/notebook.pdf")
    return folder


HEAVY = {
    "forms within forms": lambda path: hostile.nested_forms(path),
    "nothing in the end": lambda path: hostile.nested_forms(path, inner=b""),
    "patterns within patterns": lambda path: patterns(path),
    "glyphs": lambda path: glyphs(path),
    "a form within itself": lambda path: circle(path),
}


def patterns(path):
    objects = hostile.pages(3) | {3: hostile.page(size=(400, 400), resources=b"<</Pattern<</A 30 0 R>>>>"), 20: (b"", b"/Pattern cs /A scn 0 0 400 400 re f")}
    for n in range(8):
        said = b"/Type/Pattern/PatternType 1/PaintType 1/TilingType 1/BBox[0 0 400 400]/XStep 400/YStep 400/Resources<</Pattern<</A %d 0 R>>>>" % (31 + n)
        objects[30 + n] = (said, b"/Pattern cs " + b"/A scn 0 0 400 400 re f\n" * 60 if n < 7 else b"1 0 0 rg 0 0 9 9 re f")
    return hostile.pdf(path, objects)


def glyphs(path):
    objects = hostile.pages(3) | {
        3: hostile.page(size=(400, 400), resources=b"<</Font<</F 30 0 R>>>>"),
        20: (b"", b"BT /F 12 Tf 20 20 Td (%s) Tj ET" % (b"a" * 4000)),
        30: b"<</Type/Font/Subtype/Type3/FontBBox[0 0 10 10]/FontMatrix[0.1 0 0 0.1 0 0]/FirstChar 97/LastChar 97/Widths[10]"
        b"/Encoding<</Differences[97/a]>>/CharProcs<</a 31 0 R>>/Resources<<>>>>",
        31: (b"", b"10 0 d0\n" + b"0 0 10 10 re f\n" * 4000),
    }
    return hostile.pdf(path, objects)


def circle(path):
    said = b"/Type/XObject/Subtype/Form/BBox[0 0 400 400]/Resources<</XObject<</A 30 0 R>>>>"
    objects = hostile.pages(3) | {
        3: hostile.page(size=(400, 400), resources=b"<</XObject<</A 30 0 R>>>>"),
        20: (b"", b"/A Do"),
        30: (said, b"0 0 9 9 re f\n" + b"/A Do\n" * 4),
    }
    return hostile.pdf(path, objects)


@pytest.mark.parametrize("make", HEAVY.values(), ids=HEAVY)
def test_what_nobody_can_draw_is_named_with_its_number(tmp_path, make):
    heavy = bundle(tmp_path / "heavy", make)
    found, _ = check(heavy)
    told = found["page-not-drawn"]["message"]
    number, most = map(int, re.search(r"takes (\d+) operators \((\d+) are the most\)", told).groups())
    assert number > most == 500_000
    code, _, err = hostile.run("proof", heavy, "--out", tmp_path / "proof.html")
    assert code == 0, err
    assert f"{number} operators" in (tmp_path / "proof.html").read_text()
    light = bundle(tmp_path / "light", lambda path: hostile.nested_forms(path, fan=3, levels=3))
    for old, new in ((light, heavy), (heavy, light)):
        code, out, err = hostile.run("diff", old, new)
        assert code == 1 and str(number) in out, out + err


MOST = {
    "uses": lambda path: hostile.nested_forms(path, fan=210, levels=3, inner=b"0 0 3 3 re f"),
    "marks": lambda path: hostile.pdf(path, hostile.pages(3) | {3: hostile.page(), 20: (b"", b"40 40 9 9 re f\n" * 149_000)}),
    "operators": lambda path: hostile.pdf(path, hostile.pages(3) | {3: hostile.page(), 20: (b"", (b"0 0 m\n" + b"9 9 l 3 8 l\n" * 99 + b"S\n") * 2_400)}),
}


@pytest.mark.parametrize("make", MOST.values(), ids=MOST)
def test_the_most_that_is_drawn_is_drawn(tmp_path, make):
    """Just below each limit."""
    full = bundle(tmp_path / "full", make)
    found, _ = check(full)
    assert "page-not-drawn" not in found and "page-too-heavy" in found
    code, _, err = hostile.run("proof", full, "--out", tmp_path / "proof.html")
    assert code == 0, err
    assert "data:image" in (tmp_path / "proof.html").read_text()


def test_instructions_without_end_are_not_unpacked(tmp_path):
    objects = hostile.pages(3) | {3: hostile.page(), 20: (b"/Filter/FlateDecode", zlib.compress(b" " * (200 << 20), 9))}
    heavy = bundle(tmp_path / "heavy", lambda path: hostile.pdf(path, objects))
    found, _ = check(heavy)
    assert "64 MiB" in found["page-not-drawn"]["message"]
    assert hostile.run("proof", heavy, "--out", tmp_path / "proof.html")[0] == 0


STRUCTURE = {
    "its own page": (b"/Pg 11 0 R", b""),
    "a kid's page": (b"/K[41 0 R]", b"<</Type/StructElem/S/Span/P 40 0 R/Pg 11 0 R>>"),
    "a marked kid's page": (b"/K<</Type/MCR/Pg 11 0 R/MCID 0>>", b""),
}


@pytest.mark.parametrize("says, kid", STRUCTURE.values(), ids=STRUCTURE)
@pytest.mark.parametrize("way", [b"/Dest[40 0 R/Fit]", b"/A<</S/GoTo/D[40 0 R/Fit]>>", b"/A<</S/GoTo/SD[40 0 R/Fit]>>"], ids=["Dest", "D", "SD"])
def test_a_link_to_an_element_of_the_structure_leads_to_its_page(tmp_path, says, kid, way):
    """Structure destinations: ISO 32000-2, 12.3.2.3."""
    more = {40: b"<</Type/StructElem/S/H1/P 2 0 R%s>>" % says, 41: kid or b"null"}
    path = tree(tmp_path / "a.pdf", [10, 11, 12], more)
    data = path.read_bytes().replace(b"/Dest[11 0 R/XYZ 0 450 null]", way)
    # The table of contents moved; the file is written anew so that its bytes are right.
    path.write_bytes(data)
    with pikepdf.open(path) as pdf:
        pdf.save(tmp_path / "b.pdf")
    found, _ = check(tmp_path / "b.pdf")
    assert "link-to-nowhere" not in found, found
