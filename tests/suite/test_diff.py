"""What changed between two versions, against pairs whose changes are known."""

import json
import random
import subprocess

import pikepdf
import pytest

import pairs
import tool

MIRROR = {
    "page-inserted": "page-removed",
    "file-added": "file-removed",
    "link-added": "link-removed",
}
MIRROR |= {b: a for a, b in MIRROR.items()}


def program() -> str:
    return str(tool.BINARY)


def diff(old, new):
    """Exit code and report."""
    done = subprocess.run([program(), "diff", str(old), str(new), "--json"], capture_output=True, text=True)
    assert done.returncode in (0, 1), done.stderr
    report = json.loads(done.stdout)
    assert report["same"] == (done.returncode == 0)
    assert (report["verdict"] == "same") == report["same"]
    return report


def kinds(report):
    return sorted({d["kind"] for d in report["differences"]})


def only(report, kind):
    return [d for d in report["differences"] if d["kind"] == kind]


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    return pairs.notebook(tmp_path_factory.mktemp("book") / "notebook.pdf")


def test_a_file_is_the_same_as_itself(book):
    report = diff(book, book)
    assert report["differences"] == [] and report["verdict"] == "same"


@pytest.mark.parametrize("store", [pairs.recompressed, pairs.plain])
def test_recompression_is_only_stored_differently(book, tmp_path, store):
    report = diff(book, store(book, tmp_path / "notebook.pdf"))
    assert kinds(report) == ["stored-differently"]
    assert not report["download_again"]


def test_one_inserted_page_is_one_inserted_page(book, tmp_path):
    extra = pairs.notebook(tmp_path / "extra.pdf", pages=1, words={1: "A page for the compost heap"})

    def insert(pdf):
        with pikepdf.open(extra) as other:
            del other.pages[0].Annots
            pdf.pages.insert(4, other.pages[0])

    new = pairs.edited(book, tmp_path / "new.pdf", insert)
    report = diff(book, new)
    assert kinds(report) == ["page-inserted"]
    assert [(d["page_old"], d["page_new"]) for d in report["differences"]] == [(None, 5)]
    assert report["verdict"] == "minor"
    back = diff(new, book)
    assert kinds(back) == ["page-removed"]
    assert [(d["page_old"], d["page_new"]) for d in back["differences"]] == [(5, None)]
    assert back["verdict"] == "major"


def test_a_deleted_page_breaks_the_links_to_it(book, tmp_path):
    new = pairs.edited(book, tmp_path / "new.pdf", lambda pdf: pdf.pages.__delitem__(6))
    report = diff(book, new)
    assert [d["page_old"] for d in only(report, "page-removed")] == [7]
    # The index (page 1) led to it; the outline did as well.
    assert [(d["page_old"], d["page_new"]) for d in only(report, "link-retargeted")] == [(1, 1)]
    assert kinds(report) == ["link-retargeted", "metadata-changed", "page-removed"]
    assert report["verdict"] == "major"


def test_a_moved_page_keeps_its_links(book, tmp_path):
    def move(pdf):
        page = pdf.pages[2]
        del pdf.pages[2]
        pdf.pages.insert(8, page)

    report = diff(book, pairs.edited(book, tmp_path / "new.pdf", move))
    assert kinds(report) == ["page-moved"]
    assert [(d["page_old"], d["page_new"]) for d in report["differences"]] == [(3, 9)]


def test_a_re_aimed_link(book, tmp_path):
    def aim(pdf):
        pdf.pages[3].Annots[0].Dest[0] = pdf.pages[5].obj

    report = diff(book, pairs.edited(book, tmp_path / "new.pdf", aim))
    assert kinds(report) == ["link-retargeted"]
    assert [(d["page_old"], d["page_new"]) for d in report["differences"]] == [(4, 4)]
    message = report["differences"][0]["message"]
    assert "led to page 1 (“Bed 1”) and leads to page 6 (“Bed 6”)" in message
    assert report["rule"]["stated"] is False and report["verdict"] == "major"


def test_links_come_and_go(book, tmp_path):
    def drop(pdf):
        del pdf.pages[9].Annots[0]

    new = pairs.edited(book, tmp_path / "new.pdf", drop)
    assert kinds(diff(book, new)) == ["link-removed"]
    back = diff(new, book)
    assert kinds(back) == ["link-added"] and back["verdict"] == "minor"


def test_changed_words_are_shown(tmp_path, book):
    new = pairs.notebook(tmp_path / "new.pdf", words={8: "Bed 8: sow, prick out, water"})
    report = diff(book, new)
    assert {(d["kind"], d["page_new"]) for d in report["differences"]} >= {
        ("page-redrawn", 8),
        ("text-changed", 8),
    }
    assert "+ Bed 8: sow, prick out, water" in only(report, "text-changed")[0]["message"]
    assert {d["page_new"] for d in report["differences"]} == {8}
    assert report["verdict"] == "patch"


def test_a_turned_page(book, tmp_path):
    report = diff(book, pairs.edited(book, tmp_path / "new.pdf", lambda pdf: pdf.pages[1].rotate(90, relative=True)))
    assert {d["page_new"] for d in only(report, "page-redrawn")} == {2}


def test_title(book, tmp_path):
    def rename(pdf):
        pdf.docinfo["/Title"] = "Allotment Year, second edition"

    assert kinds(diff(book, pairs.edited(book, tmp_path / "new.pdf", rename))) == ["metadata-changed"]


def test_every_edit_is_found_and_nothing_else(book, tmp_path):
    """Pages taken out and put elsewhere at random, against the same done to a list."""
    dice = random.Random(20270115)
    for round_ in range(6):
        gone = sorted(dice.sample(range(1, 12), 2), reverse=True)

        def remove(pdf):
            for page in gone:
                del pdf.pages[page]

        report = diff(book, pairs.edited(book, tmp_path / f"{round_}.pdf", remove))
        assert sorted(d["page_old"] - 1 for d in only(report, "page-removed")) == sorted(gone)
        assert not only(report, "page-inserted") and not only(report, "page-redrawn")
        assert not only(report, "page-moved")


def test_stickers(tmp_path):
    old = pairs.sticker(tmp_path / "old.png")
    report = diff(old, pairs.sticker(tmp_path / "new.png", dot=True))
    assert kinds(report) == ["image-changed"]
    assert report["differences"][0]["message"].startswith("1 of 10800 pixels changed")
    assert "1 × 1 at 60, 45" in report["differences"][0]["message"]
    packed = pairs.sticker(tmp_path / "packed.png", level=0)
    assert kinds(diff(old, packed)) == ["stored-differently"]


def test_archives(tmp_path):
    files = {"a.txt": b"one\ntwo\n", "b.txt": b"three\n" * 50}
    old = pairs.archive(tmp_path / "old.zip", files)
    other = pairs.archive(tmp_path / "new.zip", dict(reversed(files.items())), stored=True)
    assert kinds(diff(old, other)) == ["stored-differently"]
    changed = pairs.archive(tmp_path / "changed.zip", files | {"a.txt": b"one\n2\n", "c.txt": b"new words here\n"})
    report = diff(old, changed)
    assert {(d["path"], d["kind"]) for d in report["differences"]} == {("a.txt", "text-changed"), ("c.txt", "file-added")}


def test_a_stored_pdf_in_an_archive(book, tmp_path):
    """Such an archive has the mark of a PDF among its first bytes."""
    new = pairs.edited(book, tmp_path / "new.pdf", lambda pdf: pdf.pages.__delitem__(6))
    for side, pdf in (("old", book), ("new", new)):
        (tmp_path / side / "upload").mkdir(parents=True)
        pairs.archive(tmp_path / side / "upload" / "all.zip", {"notebook.pdf": pdf.read_bytes()}, stored=True)
    report = diff(tmp_path / "old", tmp_path / "new")
    assert {d["path"] for d in report["differences"]} == {"upload/all.zip/notebook.pdf"}
    assert [d["page_old"] for d in only(report, "page-removed")] == [7]


def test_folders(tmp_path, book):
    for side in ("old", "new"):
        (tmp_path / side / "contents").mkdir(parents=True)
        (tmp_path / side / "contents" / "notebook.pdf").write_bytes(book.read_bytes())
    old, new = tmp_path / "old" / "contents", tmp_path / "new" / "contents"
    pairs.sticker(old / "01-leaf.png")
    pairs.sticker(new / "07-bean.png")
    (old / "licence-terms.txt").write_text("For one person.\nNo resale.\n")
    (new / "licence-terms.txt").write_text("For one household.\nNo resale.\n")
    (old / "a-note.txt").write_text("hello there\n")
    report = diff(tmp_path / "old", tmp_path / "new")
    found = [(d["path"], d["kind"]) for d in report["differences"]]
    assert found[0] == ("contents/licence-terms.txt", "text-changed")
    assert "the licence terms changed" in report["differences"][0]["message"]
    assert set(found[1:]) == {("contents/07-bean.png", "file-renamed"), ("contents/a-note.txt", "file-removed")}
    back = diff(tmp_path / "new", tmp_path / "old")
    assert sorted(MIRROR.get(k, k) for k in kinds(back)) == kinds(report)


def test_what_cannot_be_read(tmp_path):
    done = subprocess.run([program(), "diff", str(tmp_path / "no"), str(tmp_path / "nor")], capture_output=True)
    assert done.returncode == 2


def test_change_note(book, tmp_path):
    new = pairs.edited(book, tmp_path / "new.pdf", lambda pdf: pdf.pages.__delitem__(6))
    done = subprocess.run([program(), "diff", str(book), str(new), "--note"], capture_output=True, text=True)
    assert done.returncode == 1 and "- One page is gone: “Bed 7”." in done.stdout
