"""Pairs as people have them: other names, other packing, a folder beside a file, files that are broken, locked or empty."""

import hashlib
import json
import random
import zipfile

import pikepdf
import pytest
from PIL import Image, ImageDraw
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen import canvas

import pairs
import tool

OPPOSITE = {
    "file-added": "file-removed",
    "page-inserted": "page-removed",
    "link-added": "link-removed",
}
OPPOSITE |= {b: a for a, b in OPPOSITE.items()}


def diff(old, new, code=1):
    run = tool.sheafwright("diff", old, new, "--json")
    assert run.returncode == code, run.stdout + run.stderr
    return json.loads(run.stdout)


def told(report):
    return {(d["path"], d["kind"]): d["message"] for d in report["differences"]}


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    return pairs.notebook(tmp_path_factory.mktemp("book") / "notebook.pdf")


@pytest.fixture(scope="module")
def other(book):
    """One page less."""
    return pairs.edited(book, book.parent / "other.pdf", lambda pdf: pdf.pages.__delitem__(6))


def test_a_folder_beside_a_file_is_the_file_of_that_name(book, other, tmp_path):
    for place in ("contents", "upload"):
        (tmp_path / "new" / place).mkdir(parents=True)
        (tmp_path / "new" / place / "notebook.pdf").write_bytes(other.read_bytes())
    (tmp_path / "new" / "contents" / "more.txt").write_text("More.\n")
    report = diff(book, tmp_path / "new")
    assert {d["path"] for d in report["differences"]} == {"notebook.pdf"}
    assert "page-removed" in {d["kind"] for d in report["differences"]}
    assert diff(tmp_path / "new", other.rename(tmp_path / "notebook.pdf"), code=0)["same"]
    (tmp_path / "notebook.pdf").rename(other)
    run = tool.sheafwright("diff", tmp_path / "new", other)
    assert run.returncode == 2 and "holds no other.pdf" in run.stderr and "help:" in run.stderr
    (tmp_path / "new" / "upload" / "notebook.pdf").write_bytes(book.read_bytes())
    run = tool.sheafwright("diff", book, tmp_path / "new")
    assert run.returncode == 2 and "several files of that name" in run.stderr


def test_an_archive_beside_the_folder_that_it_was_packed_from(book, tmp_path):
    folder = tmp_path / "folder"
    (folder / "contents").mkdir(parents=True)
    (folder / "contents" / "notebook.pdf").write_bytes(book.read_bytes())
    (folder / "words.txt").write_text("Sow thinly.\n")
    with zipfile.ZipFile(tmp_path / "packed.zip", "w") as z:
        for file in sorted(p for p in folder.rglob("*") if p.is_file()):
            z.write(file, file.relative_to(folder).as_posix())
    assert diff(folder, tmp_path / "packed.zip", code=0)["same"]
    assert diff(tmp_path / "packed.zip", folder, code=0)["same"]


def locked(source, target, password):
    tool.program("qpdf", "--encrypt", password, "owner", "256", "--", source, target)


def test_files_that_cannot_be_read_are_lost_to_buyers(book, tmp_path):
    cut, empty, lock, open_lock = (tmp_path / name for name in ("cut.pdf", "empty.pdf", "lock.pdf", "open.pdf"))
    cut.write_bytes(book.read_bytes()[:600])
    empty.write_bytes(b"")
    locked(book, lock, "secret")
    locked(book, open_lock, "")
    picture = pairs.sticker(tmp_path / "leaf.png")
    for new, words in [
        (cut, "it cannot be read any more: "),
        (empty, "it cannot be read any more: it is empty"),
        (lock, "it is encrypted now: its pages cannot be seen without the password"),
        (picture, "it was a PDF and is a PNG picture"),
    ]:
        report = diff(book, new)
        assert [d["kind"] for d in report["differences"]] == ["file-changed"]
        assert report["differences"][0]["message"].startswith(words) and report["verdict"] == "major"
    back = diff(cut, book)
    assert back["differences"][0]["message"].startswith("it can be read now; before: ") and back["verdict"] == "patch"
    assert "both are encrypted" in diff(lock, open_lock)["differences"][0]["message"]
    # With an empty password readers open it: the pages are compared, and are the same.
    assert told(diff(book, open_lock)) == {("open.pdf", "metadata-changed"): "it is encrypted now"}
    assert diff(empty, empty, code=0)["same"] and diff(cut, cut, code=0)["same"]


def test_sizes_and_digests_before_and_after(book, other, tmp_path):
    old, new = tmp_path / "old", tmp_path / "new"
    for side, pdf in ((old, book), (new, other)):
        side.mkdir()
        (side / "notebook.pdf").write_bytes(pdf.read_bytes())
    (old / "gone.txt").write_text("gone away\n")
    (old / "leaf.txt").write_text("the very same words\n")
    (new / "leaves.txt").write_text("the very same words\n")
    (new / "come.bin").write_bytes(bytes(range(256)))
    files = {f["path"]: f for f in diff(old, new)["files"]}
    assert set(files) == {"notebook.pdf", "gone.txt", "leaves.txt", "come.bin"}
    assert files["leaves.txt"]["path_old"] == "leaf.txt"
    for path, entry in files.items():
        for side, folder in (("old", old), ("new", new)):
            file = folder / (entry["path_old"] or path) if side == "old" else folder / path
            data = file.read_bytes() if file.is_file() else None
            assert entry[f"size_{side}"] == (len(data) if data is not None else None)
            assert entry[f"sha256_{side}"] == (hashlib.sha256(data).hexdigest() if data is not None else None)


def drawing(path, colour, dpi=300):
    picture = Image.new("RGBA", (300, 240), (0, 0, 0, 0))
    pen = ImageDraw.Draw(picture)
    pen.ellipse((20, 20, 280, 220), fill=(90, 140, 80, 255))
    pen.rectangle((120, 90, 150, 130), fill=colour)
    picture.save(path, dpi=(dpi, dpi))


def test_files_are_found_again_under_other_names_by_what_they_show(book, other, tmp_path):
    old, new = tmp_path / "old", tmp_path / "new"
    for side in (old, new):
        side.mkdir()
    (old / "allotment.pdf").write_bytes(book.read_bytes())
    (new / "year-of-beds.pdf").write_bytes(other.read_bytes())
    drawing(old / "bean.png", (200, 40, 40, 255))
    drawing(new / "first-pod.png", (40, 40, 200, 255))
    Image.new("RGBA", (300, 240), (200, 90, 10, 255)).save(old / "plank.png")
    report = diff(old, new)
    kinds = {(d["path"], d["kind"]) for d in report["differences"] if d["kind"].startswith("file-")}
    assert kinds == {
        ("year-of-beds.pdf", "file-renamed"),
        ("first-pod.png", "file-renamed"),
        ("plank.png", "file-removed"),
    }
    assert ("year-of-beds.pdf", "page-removed") in told(report) and ("first-pod.png", "image-changed") in told(report)


def test_uploads_that_are_packed_otherwise_lose_nothing(book, tmp_path):
    files = {"notebook.pdf": book.read_bytes(), "a.txt": b"Read me first.\n", "b.txt": b"Terms of another kind.\n"}
    for side in ("old", "new"):
        (tmp_path / side / "upload").mkdir(parents=True)
    pairs.archive(tmp_path / "old" / "upload" / "all.zip", files)
    pairs.archive(tmp_path / "new" / "upload" / "pages.zip", {"notebook.pdf": files["notebook.pdf"]})
    pairs.archive(tmp_path / "new" / "upload" / "words.zip", {k: files[k] for k in ("a.txt", "b.txt")})
    report = diff(tmp_path / "old", tmp_path / "new")
    kinds = {(d["path"], d["kind"]) for d in report["differences"]}
    assert kinds == {
        ("upload/all.zip", "file-removed"),
        ("upload/pages.zip", "file-added"),
        ("upload/words.zip", "file-added"),
        ("upload/pages.zip/notebook.pdf", "file-renamed"),
        ("upload/words.zip/a.txt", "file-renamed"),
        ("upload/words.zip/b.txt", "file-renamed"),
    }
    assert report["verdict"] == "patch"
    counted = {f["what"]: (f["old"], f["new"]) for f in report["facts"]}
    assert counted["uploads"] == (1, 2) if "uploads" in counted else counted["bytes of upload/all.zip"][1] is None
    # One of them really goes.
    (tmp_path / "new" / "upload" / "words.zip").unlink()
    lost = diff(tmp_path / "old", tmp_path / "new")
    assert lost["verdict"] == "major" and ("upload/all.zip/a.txt", "file-removed") in told(lost)


def test_a_page_in_another_size_or_turned_is_told_once(book, tmp_path):
    def edit(pdf):
        pdf.pages[2].rotate(90, relative=True)
        pdf.pages[4].MediaBox = [0, 0, 1000, 760]
        pdf.pages[4].contents_add(b"q 0 0 1 rg 20 20 60 60 re f Q")
        pdf.pages[6].CropBox = [10, 10, 900, 700]
        pdf.pages[8].MediaBox = [-20, -20, 1044, 788]
        pdf.pages[8].CropBox = [0, 0, 1024, 768]

    report = diff(book, pairs.edited(book, tmp_path / "notebook.pdf", edit))
    messages = {d["page_new"]: d["message"] for d in report["differences"] if d["kind"] == "page-redrawn"}
    assert len(messages) == len([d for d in report["differences"] if d["kind"] == "page-redrawn"]) == 4
    assert messages[3] == "it is turned by 90 degrees now"
    assert "it was 1024.0 × 768.0 points and is 1000.0 × 760.0" in messages[5] and "drawn otherwise" in messages[5]
    assert "890.0 × 690.0" in messages[7] and "MediaBox" in messages[9]


def test_what_ghostscript_stores_otherwise_is_listed(book, tmp_path):
    new = tmp_path / "notebook.pdf"
    how = ["-dNOPAUSE", "-dBATCH", "-dAutoRotatePages=/None", "-dPreserveAnnots=true"]
    tool.program("gs", "-q", "-sDEVICE=pdfwrite", *how, f"-sOutputFile={new}", book)
    report = diff(book, new)
    stored = [d["message"] for d in report["differences"] if d["kind"] == "stored-differently"]
    assert len(stored) == 1 and stored[0].startswith("looks the same, bytes differ: "), report["differences"]
    for words in ("version 1.3, now 1.7", "XMP metadata now", "now by GPL Ghostscript", "drawing "):
        assert words in stored[0], stored
    assert {d["kind"] for d in report["differences"]} == {"stored-differently"} and not report["download_again"]


def test_a_file_that_readers_must_rebuild_is_told(book, tmp_path):
    new = tmp_path / "notebook.pdf"
    data = book.read_bytes()
    new.write_bytes(data[: data.rindex(b"startxref")] + b"startxref\n12\n%%EOF\n")
    report = diff(book, new)
    assert [d["message"] for d in report["differences"]] == ["its skeleton is broken now: readers have to rebuild it"]
    assert "pdf-needs-repair" in {t["check"] for t in report["checks"]["new"]}


def test_who_made_it_is_told(book, tmp_path):
    def edit(pdf):
        pdf.docinfo["/Author"] = "Fernlea Paper Room"
        pdf.docinfo["/Creator"] = "By hand"

    messages = [d["message"] for d in diff(book, pairs.edited(book, tmp_path / "new.pdf", edit))["differences"]]
    assert any(m.startswith("the author was ") and m.endswith("“Fernlea Paper Room”") for m in messages), messages
    assert any("is “By hand”" in m for m in messages), messages


def test_a_swapped_picture(tmp_path):
    def page(path, colour):
        c = canvas.Canvas(str(path), pagesize=(400, 300), invariant=1)
        for n in range(3):
            c.drawString(40, 260, f"Picture {n}")
            c.drawImage(ImageReader(Image.new("RGB", (60, 40), colour if n == 1 else "navy")), 40, 60, 120, 80)
            c.showPage()
        c.save()
        return path

    report = diff(page(tmp_path / "a.pdf", "red"), page(tmp_path / "b.pdf", "gold"))
    assert {(d["kind"], d["page_new"]) for d in report["differences"]} == {("image-changed", 2), ("page-redrawn", 2)}


def test_entries_of_the_outline(book, tmp_path):
    def edit(pdf):
        with pdf.open_outline() as outline:
            outline.root[3].title = "The long bed"
            del outline.root[5]
            moved = outline.root.pop(7)
            outline.root.insert(1, moved)

    report = diff(book, pairs.edited(book, tmp_path / "new.pdf", edit))
    messages = [d["message"] for d in report["differences"]]
    assert sorted(messages) == [
        "the outline has no “Bed 6” any more",
        "the outline’s “Bed 4” is called “The long bed” now",
        "“Bed 9” stands elsewhere in the outline",
    ]
    weights = {d["message"].split("“")[1].split("”")[0]: d["weight"] for d in report["differences"]}
    assert weights == {"Bed 6": "major", "Bed 4": "patch", "Bed 9": "patch"}


def test_a_list_into_which_an_entry_was_put_aims_its_links_at_the_same_places(tmp_path):
    """The links of the list stand a row lower now; at each spot another one lies. None of them leads elsewhere."""

    def book(path, beds):
        c = canvas.Canvas(str(path), pagesize=(500, 400), invariant=1)
        c.bookmarkPage("list")
        for row, bed in enumerate(beds):
            c.drawString(60, 360 - row * 30, f"Go to {bed}")
            c.linkRect(bed, bed, (50, 350 - row * 30, 200, 376 - row * 30), thickness=0)
        c.showPage()
        for bed in beds:
            c.bookmarkPage(bed)
            c.drawString(60, 300, f"{bed}: {'sow ' * len(bed)}")
            c.showPage()
        c.save()
        return path

    beds = ["Beans", "Carrots", "Leeks", "Onions", "Peas"]
    report = diff(book(tmp_path / "a.pdf", beds), book(tmp_path / "b.pdf", ["Asters", *beds]))
    kinds = [d["kind"] for d in report["differences"] if d["kind"].startswith("link")]
    assert sorted(kinds) == ["link-added"] + ["link-moved"] * 5, report["differences"]
    assert report["verdict"] == "minor"


@pytest.mark.parametrize("seed", range(4))
def test_the_way_back_mirrors_the_way_there(tmp_path, seed):
    """Folders that were changed at random: what came on the way there is gone on the way back, page for page."""
    dice = random.Random(seed)
    old, new = tmp_path / "old", tmp_path / "new"
    for side in (old, new):
        side.mkdir()
    book = pairs.notebook(old / "notebook.pdf", pages=16)
    gone, drawn, aimed = dice.sample(range(1, 15), 3)

    def edit(pdf):
        pages = list(pdf.pages)
        pages[drawn].Contents = pdf.make_stream(pages[drawn].Contents.read_bytes() + b"\nq 0 0 1 rg 300 200 90 90 re f Q")
        pages[aimed].Annots[0].Dest = pikepdf.Array([pages[(aimed + 1) % 16 or 2].obj, pikepdf.Name.Fit])
        del pdf.pages[gone]

    pairs.edited(book, new / "notebook.pdf", edit)
    for n in range(6):
        (old / f"note-{n}.txt").write_text(f"{n} {dice.random()}\n" * 3)
        if dice.random() < 0.6:
            (new / f"note-{n}.txt").write_text((old / f"note-{n}.txt").read_text() + "more\n" * dice.randrange(2))
    there, back = diff(old, new), diff(new, old)
    def mirrored(d):
        return (d["path"], OPPOSITE.get(d["kind"], d["kind"]), d["page_new"], d["page_old"])

    assert sorted(map(mirrored, there["differences"]), key=str) == sorted(
        ((d["path"], d["kind"], d["page_old"], d["page_new"]) for d in back["differences"]), key=str
    )
    assert {f["path"] for f in there["files"]} == {f["path"] for f in back["files"]}
