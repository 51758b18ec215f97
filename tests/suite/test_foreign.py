"""Well-made files of other people's libraries get no finding of severity error, and are counted as pikepdf counts them."""

import io

import fpdf
import pikepdf
import pytest
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import getSampleStyleSheet
from reportlab.pdfgen import canvas
from reportlab.platypus import PageBreak, Paragraph, SimpleDocTemplate, Table
from reportlab.platypus.tableofcontents import TableOfContents

from test_checks import ROOT, check


class Book(SimpleDocTemplate):
    """A document whose headings make a table of contents and an outline."""

    def afterFlowable(self, flowable):
        if getattr(getattr(flowable, "style", None), "name", "") == "Heading1":
            key = flowable.getPlainText()
            self.canv.bookmarkPage(key)
            self.canv.addOutlineEntry(key, key)
            self.notify("TOCEntry", (0, key, self.page, key))


def book(path):
    styles = getSampleStyleSheet()
    story = [TableOfContents(), PageBreak()]
    for n in range(8):
        story.append(Paragraph(f"Bed {n + 1}", styles["Heading1"]))
        story.append(Paragraph('Sow <a href="https://example.org/">beans</a> early. ' * 60, styles["BodyText"]))
        story.append(Table([["bed", "crop", "weeks"]] * 6))
    Book(str(path), pagesize=A4, title="The year in eight beds").multiBuild(story)


def plain(path):
    page = canvas.Canvas(str(path), pagesize=A4)
    for n in range(5):
        page.bookmarkPage(f"p{n}")
        page.linkAbsolute("back", "p0", (50, 700, 150, 740), Border="[0 0 0]")
        page.drawString(60, 710, f"page {n}")
        page.showPage()
    page.save()


def with_fpdf(path):
    document = fpdf.FPDF()
    document.set_title("Beds")
    for n in range(4):
        document.add_page()
        document.set_font("helvetica", size=14)
        document.start_section(f"Bed {n + 1}")
        document.cell(80, 12, "to the first page", link=document.add_link(page=1))
    document.output(str(path))


@pytest.mark.parametrize("make", [book, plain, with_fpdf])
def test_no_errors(make, tmp_path):
    path = tmp_path / f"{make.__name__}.pdf"
    make(path)
    code, report = check(path)
    errors = [f for f in report["findings"] if f["severity"] == "error"]
    assert code == 0 and not errors, errors


# Made by LaTeX with hyperref and by LibreOffice; where they come from is written in tests/fixtures/SOURCES.md.
STORED = sorted((ROOT / "tests/fixtures/foreign").glob("*.pdf"))


@pytest.mark.parametrize("path", STORED, ids=lambda path: path.stem)
def test_no_errors_in_what_others_made(path):
    code, report = check(path)
    errors = [f for f in report["findings"] if f["severity"] == "error"]
    assert code == 0 and not errors, errors
    assert counts_of(report["files"][0]) == counts_of_pikepdf(path)


def corners(box):
    """A box with its corners in order, to a thousandth of a point."""
    x0, y0, x1, y1 = (float(v) for v in box)
    return tuple(round(v, 3) for v in (min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)))


def counts_of(file):
    """Pages, links and boxes, as the program counts them."""
    boxes = [(corners(run["media"]), corners(run["crop"])) for run in file["boxes"] for _ in range(run["pages"])]
    return file["pages"], file["links"], boxes


def counts_of_pikepdf(path):
    """The same, as pikepdf counts them."""
    with pikepdf.open(path) as pdf:
        links, boxes = 0, []
        for page in pdf.pages:
            annotations = page.obj.get("/Annots", [])
            links += sum(a.get("/Subtype") == "/Link" for a in annotations if isinstance(a, pikepdf.Dictionary))
            boxes.append((corners(page.mediabox), corners(page.cropbox)))
        return len(pdf.pages), links, boxes


def test_saved_in_every_way(tmp_path):
    """The same file with and without object streams, linearised, and with 1.4 tables."""
    plain(tmp_path / "plain.pdf")
    for n, how in enumerate(
        [
            {"object_stream_mode": pikepdf.ObjectStreamMode.generate},
            {"object_stream_mode": pikepdf.ObjectStreamMode.disable, "force_version": "1.4"},
            {"linearize": True},
            {"qdf": True},
            {"compress_streams": False},
        ]
    ):
        path = tmp_path / f"saved-{n}.pdf"
        with pikepdf.open(io.BytesIO((tmp_path / "plain.pdf").read_bytes())) as pdf:
            pdf.save(path, **how)
        code, report = check(path)
        told = {f["check"] for f in report["findings"]}
        assert code == 0 and "pdf-needs-repair" not in told, (how, told)
