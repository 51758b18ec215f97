"""A PDF as pikepdf (qpdf) and poppler read it: pages, links with the pages that they lead to, words with their places.

Rectangles are (left, top, right, bottom) in points, counted from the top left corner of the page.
"""

import html
import re
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import pikepdf

from tool import program


@dataclass(frozen=True)
class Link:
    page: int
    rect: tuple
    target: int  # the page that it leads to; -1 for an address
    says: str

    @property
    def centre(self):
        left, top, right, bottom = self.rect
        return (left + right) / 2, (top + bottom) / 2


@dataclass(frozen=True)
class Word:
    rect: tuple
    text: str


class Reading:
    """One PDF, read once."""

    def __init__(self, path):
        self.path = Path(path)
        self.pdf = pikepdf.open(path)
        self.numbers = {page.obj.objgen: n for n, page in enumerate(self.pdf.pages)}
        box = self.pdf.pages[0].MediaBox
        self.width, self.height = float(box[2]), float(box[3])

    @property
    def pages(self):
        return range(len(self.pdf.pages))

    def annotations(self, page):
        """The annotations of a page, raw."""
        return list(self.pdf.pages[page].get("/Annots", []))

    @cached_property
    def links(self):
        """Links by page. That each one is well made is a test of its own: here a broken one only fails loudly."""
        return [[self._link(page, annotation) for annotation in self.annotations(page)] for page in self.pages]

    def _link(self, page, annotation):
        left, low, right, high = (float(v) for v in annotation.Rect)
        target = self.numbers[annotation.Dest[0].objgen] if "/Dest" in annotation else -1
        rect = (left, self.height - high, right, self.height - low)
        return Link(page, rect, target, str(annotation.get("/Contents", "")))

    @cached_property
    def outline(self):
        """The outline as nested (title, page, children); pages counted from 0."""
        with self.pdf.open_outline() as outline:
            return [self._entry(item) for item in outline.root]

    def _entry(self, item):
        goal = item.destination if item.destination is not None else item.action.D
        return str(item.title), self.numbers[goal[0].objgen], [self._entry(child) for child in item.children]

    def entry(self, title):
        """The top entry of the outline with this title."""
        (found,) = [entry for entry in self.outline if entry[0] == title]
        return found

    @cached_property
    def words(self):
        """Words of each page, as poppler places them."""
        text = program("pdftotext", "-bbox", self.path, "-")
        out = []
        for page in re.findall(r"<page .*?</page>", text, re.S):
            found = re.findall(r'<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)</word>', page)
            out.append([Word(tuple(map(float, w[:4])), html.unescape(w[4])) for w in found])
        assert len(out) == len(self.pdf.pages)
        return out

    def letters_in(self, page, rect):
        """All letters of the words whose middle lies within a rectangle, sorted: turned text has no order to rely on."""
        left, top, right, bottom = rect
        inside = [
            word.text
            for word in self.words[page]
            if left <= (word.rect[0] + word.rect[2]) / 2 <= right and top <= (word.rect[1] + word.rect[3]) / 2 <= bottom
        ]
        return sorted("".join(inside))


def letters(text):
    """Letters of a text without spaces, sorted."""
    return sorted("".join(text.split()))


def overlap(a, b):
    """The area that two rectangles share."""
    wide = min(a[2], b[2]) - max(a[0], b[0])
    high = min(a[3], b[3]) - max(a[1], b[1])
    return max(wide, 0) * max(high, 0)
