"""The notebook of the benchmark as a person would script it with reportlab: `peer.py NOTEBOOK OUT forms|inline`.

Page size, tabs, rings, links and titles are taken from the notebook that Sheafwright built, so that both have the same
pages and the same tap areas. Only drawing and writing is measured against: reading the notebook takes a part of the
time, which is printed to standard error.
"""

import os
import sys
import time

import pikepdf
import reportlab
from reportlab.lib.colors import HexColor
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen import canvas

MM = 72 / 25.4
INK, RULE, PAPER, DESK = map(HexColor, ("#333138", "#b4b4ae", "#fdfbf6", "#e9e5dc"))
TABS = list(map(HexColor, ("#8fae8b", "#8aa9bd", "#b59bb5", "#c99a8f", "#c2ab7a", "#9fb0a0", "#7fb0ad", "#a59dc4")))


def read(path):
    """Size, and the links of every page as (rectangle, page that it leads to, words)."""
    with pikepdf.open(path) as pdf:
        numbers = {page.obj.objgen: n for n, page in enumerate(pdf.pages)}
        pages = [
            [
                ([float(v) for v in a.Rect], numbers[a.Dest[0].objgen], str(a.Contents))
                for a in page.get("/Annots", [])
            ]
            for page in pdf.pages
        ]
        box = pdf.pages[0].MediaBox
        with pdf.open_outline() as outline:
            titles = [(str(i.title), numbers[i.destination[0].objgen]) for i in outline.root]
            sections = [(str(i.title), numbers[i.destination[0].objgen]) for i in outline.root[3].children]
        return float(box[2]), float(box[3]), pages, titles, sections


class Script:
    def __init__(self, out, size, shared):
        self.pdf = canvas.Canvas(out, pagesize=size, pageCompression=1)
        self.width, self.height = size
        self.shared = shared
        self.made = set()

    def form(self, name, draw):
        """Draws once and uses it, or draws it every time."""
        if not self.shared:
            draw()
            return
        if name not in self.made:
            self.pdf.beginForm(name)
            draw()
            self.pdf.endForm()
            self.made.add(name)
        self.pdf.doForm(name)

    def papers(self):
        gap, tab, edge = 2 * MM, 9 * MM, 8 * MM
        wide = (self.width - 2 * tab - gap) / 2
        return [(tab + i * (wide + gap), 3 * MM, wide, self.height - edge - 3 * MM) for i in range(2)]

    def chrome(self, links, sections):
        pdf = self.pdf
        pdf.setFillColor(DESK)
        pdf.rect(0, 0, self.width, self.height, stroke=0, fill=1)
        pdf.setFillColor(PAPER)
        for paper in self.papers():
            pdf.roundRect(*paper, 7, stroke=0, fill=1)
        places = {page: n for n, (_, page) in enumerate(sections)}
        for (left, low, right, high), target, _ in links:
            if target in places:
                pdf.setFillColor(TABS[places[target] % len(TABS)])
                pdf.roundRect(left, low + 1.5, right - left, high - low - 3, 3, stroke=0, fill=1)
                pdf.saveState()
                pdf.translate((left + right) / 2 + 2, (low + high) / 2)
                pdf.rotate(90)
                pdf.setFillColor(INK)
                pdf.setFont("Vera", 7)
                pdf.drawCentredString(0, 0, sections[places[target]][0])
                pdf.restoreState()
            elif abs((left + right) / 2 - self.width / 2) < 2:
                pdf.setStrokeColor(INK)
                pdf.setLineWidth(3)
                pdf.line(left + 3, (low + high) / 2, right - 3, (low + high) / 2)

    def ruling(self, kind):
        pdf = self.pdf
        pdf.setStrokeColor(RULE)
        pdf.setFillColor(RULE)
        pdf.setLineWidth(0.5)
        for x, y, w, h in self.papers():
            x, y, w, h = x + 30, y + 30, w - 60, h - 60
            if kind in (0, 1):
                pitch = (8.7, 6.35)[kind] * MM
                pdf.lines([(x, y + i * pitch, x + w, y + i * pitch) for i in range(int(h / pitch) + 1)])
            elif kind == 2:
                pitch = 5 * MM
                for i in range(int(w / pitch) + 1):
                    for j in range(int(h / pitch) + 1):
                        pdf.circle(x + i * pitch, y + j * pitch, 0.5, stroke=0, fill=1)
            else:
                pitch = 5 * MM
                across, down = int(w / pitch), int(h / pitch)
                pdf.grid([x + i * pitch for i in range(across + 1)], [y + i * pitch for i in range(down + 1)])


def main(source, out, way):
    begun = time.perf_counter()
    width, height, pages, titles, sections = read(source)
    print(f"reading took {time.perf_counter() - begun:.2f} s", file=sys.stderr)
    pdfmetrics.registerFont(TTFont("Vera", os.path.join(reportlab.__path__[0], "fonts/Vera.ttf")))
    script = Script(out, (width, height), way == "forms")
    pdf = script.pdf
    pdf.setTitle("Long Log")
    starts = dict((page, title) for title, page in titles + sections)
    for number, links in enumerate(pages):
        pdf.bookmarkPage(f"p{number}", fit="XYZ", left=0, top=height)
        if number in starts:
            pdf.addOutlineEntry(starts[number], f"p{number}", level=int(any(number == p for _, p in sections)))
        if number:
            state = tuple(rect[0] for rect, target, _ in links if any(target == p for _, p in sections))
            script.form(f"chrome{hash(state)}", lambda: script.chrome(links, sections))
            kind = number * 4 // 123 % 4
            script.form(f"ruling{kind}", lambda: script.ruling(kind))
        pdf.setFont("Vera", 7)
        pdf.setFillColor(INK)
        pdf.drawString(40, 12, starts.get(number, "Long Log"))
        for rect, target, says in links:
            pdf.linkRect(says, f"p{target}", Rect=rect, relative=0, thickness=0)
        pdf.showPage()
    pdf.save()


if __name__ == "__main__":
    main(*sys.argv[1:])
