"""Finished notebooks as other people's libraries write them, and the products that take them in.

The pages, names and words are drawn here for the tests: a tide-table notebook of an invented shop.
"""

import io
from dataclasses import dataclass, field
from pathlib import Path

import pikepdf
import pypdf
from pikepdf import Array, Dictionary, Name, OutlineItem
from reportlab.pdfgen import canvas

from tool import program

PAGES = 12
SIZE = (480, 360)

HEAD = """\
name = "Harbour Year"
version = "1.0.0"
released = 2027-03-01
language = "en-GB"
shop = { name = "Tarn and Tide Papers", contact = "help@tarn-and-tide.example" }
[guide]
wanted = false
[notebook]
file = "exports/notebook.pdf"
"""

TABS = """\
[[notebook.section]]
name = "Neaps"
page = 3
[[notebook.section]]
name = "Springs"
page = 6
[[notebook.section]]
name = "Gales"
page = 9
last-page = 11
"""


def planner(pages=PAGES, size=SIZE, unbalanced=()):
    """A notebook by reportlab: text, rules, an outline, links by name and to an address."""
    out = io.BytesIO()
    pen = canvas.Canvas(out, pagesize=size, invariant=1)
    pen.setTitle("Harbour Year")
    for n in range(1, pages + 1):
        pen.bookmarkPage(f"page-{n}")
        if n % 4 == 1:
            pen.addOutlineEntry(f"Part {n // 4 + 1}", f"page-{n}", 0)
        pen.setFillColorRGB(0.96, 0.97, 0.99)
        pen.rect(0, 0, *size, fill=1, stroke=0)
        pen.setFillColorRGB(0.1, 0.2, 0.3)
        pen.setFont("Helvetica", 18)
        pen.drawString(40, size[1] - 60, f"Page {n} of the harbour year")
        for i in range(8):
            pen.line(40, size[1] - 90 - i * 25, size[0] - 60, size[1] - 90 - i * 25)
        pen.linkAbsolute("next", f"page-{n % pages + 1}", Rect=(40, 20, 140, 50))
        pen.linkURL("https://tarn-and-tide.example/help", (160, 20, 260, 50))
        if n in unbalanced:
            # The state is changed and never put back.
            pen.translate(30, -40)
            pen.rotate(7)
            pen.scale(1.3, 0.8)
        pen.showPage()
    pen.save()
    return out.getvalue()


def reworked(change, data=None, **save):
    """The planner changed with pikepdf."""
    with pikepdf.open(io.BytesIO(data or planner())) as pdf:
        change(pdf)
        out = io.BytesIO()
        pdf.save(out, deterministic_id="encryption" not in save, **save)
    return out.getvalue()


def by_qpdf(*options):
    """The planner written by qpdf with these options."""

    def make(folder):
        (folder / "in.pdf").write_bytes(planner())
        program("qpdf", *options, folder / "in.pdf", folder / "out.pdf")
        return (folder / "out.pdf").read_bytes()

    return make


def by_mutool(*options):
    def make(folder):
        (folder / "in.pdf").write_bytes(planner())
        program("mutool", "clean", *options, folder / "in.pdf", folder / "out.pdf")
        return (folder / "out.pdf").read_bytes()

    return make


def inherited(pdf):
    """Resources, boxes and the turn stand at the root of the page tree, for pages to inherit."""
    root = pdf.Root.Pages
    first = pdf.pages[0].obj
    root.MediaBox, root.Resources = first.MediaBox, pdf.make_indirect(first.Resources)
    root.CropBox, root.Rotate = Array([20, 10, 470, 350]), 180
    for page in pdf.pages:
        for key in ("/MediaBox", "/Resources", "/Rotate", "/CropBox"):
            if key in page.obj:
                del page.obj[key]


def deep_tree(pdf):
    """Pages in branches of three, with the size at the branches."""
    kids = list(pdf.Root.Pages.Kids)
    branches = []
    for i in range(0, len(kids), 3):
        some = kids[i : i + 3]
        branch = pdf.make_indirect(
            Dictionary(Type=Name.Pages, Parent=pdf.Root.Pages, Count=len(some), MediaBox=some[0].MediaBox)
        )
        for kid in some:
            kid.Parent = branch
            del kid["/MediaBox"]
        branch.Kids = Array(some)
        branches.append(branch)
    pdf.Root.Pages.Kids = Array(branches)


def name_tree(pdf):
    """Links by names of a name tree, half of them through GoTo actions, half as destinations."""
    names = []
    for i, page in enumerate(pdf.pages):
        target = Array([page.obj, Name.XYZ, 0, 360, None])
        names += [pikepdf.String(f"tide-{i + 1:02}"), Dictionary(D=target) if i % 2 else target]
    pdf.Root.Names = Dictionary(Dests=Dictionary(Names=Array(names)))
    if "/Dests" in pdf.Root:
        del pdf.Root["/Dests"]
    for i, page in enumerate(pdf.pages):
        link = page.obj.Annots[0]
        for key in ("/Dest", "/A"):
            if key in link:
                del link[key]
        name = pikepdf.String(f"tide-{(i + 1) % len(pdf.pages) + 1:02}")
        if i % 2:
            link.A = Dictionary(S=Name.GoTo, D=name)
        else:
            link.Dest = name
    with pdf.open_outline() as outline:
        for n, item in enumerate(outline.root):
            item.destination, item.action = Array([pdf.pages[n * 4].obj, Name.Fit]), None
        outline.root[0].children.append(OutlineItem("Within", 1))


def updated(folder):
    """Two incremental updates by pypdf over a file with object streams."""
    data = by_qpdf("--object-streams=generate")(folder)
    for turn in range(2):
        writer = pypdf.PdfWriter(io.BytesIO(data), incremental=True)
        writer.pages[turn + 2].rotate(90)
        out = io.BytesIO()
        writer.write(out)
        data = out.getvalue()
    return data


def updated_table(folder):
    """An incremental update by pypdf over a file with a table."""
    writer = pypdf.PdfWriter(io.BytesIO(planner()), incremental=True)
    writer.pages[4].rotate(270)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def mixed(pdf):
    """Every turn, crop boxes, other sizes, a unit of two points, a box that does not begin at the origin."""
    for i, page in enumerate(pdf.pages):
        page.obj.Rotate = [0, 90, 180, 270][i % 4]
        if i % 3 == 1:
            page.obj.CropBox = Array([30, 15, 460, 340])
    pdf.pages[5].obj.MediaBox = Array([-50, -70, 550, 430])
    pdf.pages[6].obj.MediaBox = Array([480, 360, 0, 0])
    pdf.pages[8].obj.UserUnit = 2
    if "/Rotate" in pdf.pages[7].obj:
        pdf.pages[7].obj.Rotate = -90


def odd_contents(pdf):
    """Content in several streams, an indirect array of them, a shared stream, a page without any."""
    for i in (1, 2):
        page = pdf.pages[i].obj
        data = page.Contents.read_bytes()
        at = data.index(b"\n", len(data) // 2)
        parts = Array([pdf.make_stream(data[:at]), pdf.make_stream(data[at:])])
        page.Contents = pdf.make_indirect(parts) if i == 2 else parts
    pdf.pages[4].obj.Contents = pdf.pages[5].obj.Contents
    del pdf.pages[9].obj["/Contents"]
    pdf.pages[10].obj.Annots = pdf.make_indirect(pdf.pages[10].obj.Annots)
    del pdf.pages[11].obj["/Annots"]


def in_memory(change, **save):
    return lambda folder: reworked(change, **save)


# Files as programs write them, by name.
FOREIGN = {
    "reportlab": lambda folder: planner(),
    "object-streams": by_qpdf("--object-streams=generate"),
    "plain-objects": by_qpdf("--qdf"),
    "linearized": by_qpdf("--linearize"),
    "linearized-packed": by_qpdf("--linearize", "--object-streams=generate"),
    "uncompressed": by_qpdf("--stream-data=uncompress", "--object-streams=disable"),
    "mutool": by_mutool("-gggg", "-z"),
    "mutool-decoded": by_mutool("-d", "-a"),
    "updates": updated,
    "update-of-a-table": updated_table,
    "inherited": in_memory(inherited),
    "inherited-packed": in_memory(inherited, object_stream_mode=pikepdf.ObjectStreamMode.generate),
    "deep-tree": in_memory(deep_tree),
    "names": in_memory(name_tree),
    "mixed": in_memory(mixed),
    "odd-contents": in_memory(odd_contents),
    "unbalanced": lambda folder: planner(unbalanced=(3, 4, 7)),
}


@dataclass
class Finished:
    """A product around a finished file; a recipe as the shelf takes it."""

    name: str
    data: bytes = field(repr=False)
    more: str = ""
    head: str = HEAD

    def write(self, folder: Path):
        (folder / "exports").mkdir(parents=True, exist_ok=True)
        (folder / "exports/notebook.pdf").write_bytes(self.data)
        (folder / "product.toml").write_text(self.head + self.more, encoding="utf-8")
        return folder
