"""Tags for printed sheets: the order and role of what is on the page, for screen readers.

A tagged PDF (ISO 32000-1, 14.7 and 14.8) marks each piece of a page's content and names the
pieces in a tree. What is only decoration is marked as an artifact.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFString
from reportlab.pdfgen.canvas import Canvas

from sennight.publish.pdf.tag_tree import Box, Element, Link, write_tree

PRINTED = 4
"""The flag of an annotation that is not left out in print (ISO 32000-1, 12.5.3)."""


class TaggedCanvas(Canvas):
    """A canvas that keeps the tree of tags while it is drawn on, and writes it when saved.

    `before_save` draws what can only be known once all pages are there.
    """

    _code: list[str]
    _doc: Any
    _filename: Any
    _addAnnotation: Callable[..., None]  # noqa: N815 - the library's name

    def __init__(
        self,
        *args: Any,  # noqa: ANN401 - the library's
        before_save: Callable[[Canvas], None],
        **kwargs: Any,  # noqa: ANN401 - the library's
    ) -> None:
        super().__init__(*args, **kwargs)
        self.before_save = before_save
        self.root = Element("Document")
        self.marked: list[list[Element]] = [[]]
        """For each page, whose the pieces are, in the order of their numbers."""
        self.links: list[Link] = []
        self._open = [self.root]
        self._depth = 0
        self._bookmarks = 0

    @property
    def is_content(self) -> bool:
        """Whether what is drawn now is neither within a piece nor decoration."""
        return self._depth == 0

    def begin_piece(
        self, tag: str, alt: str, box: Box | None, of: object, spoken: str
    ) -> Element | None:
        """Begin a piece of content, or, where the tag is Artifact, of decoration."""
        self._depth += 1
        if self._depth > 1:
            return None
        if tag == "Artifact":
            self._code.append("/Artifact BMC")
            return None
        element = self._child(tag, of)
        element.alt, element.box = alt, self._on_page(box)
        pieces = self.marked[-1]
        said = f" /ActualText <FEFF{spoken.encode('utf-16-be').hex().upper()}>" if spoken else ""
        self._code.append(f"/{tag} <</MCID {len(pieces)}{said}>> BDC")
        element.kids.append((len(self.marked) - 1, len(pieces)))
        pieces.append(element)
        return element

    def end_piece(self) -> None:
        """End the piece that was begun."""
        self._depth -= 1
        if self._depth == 0:
            self._code.append("EMC")

    def begin_group(self, tag: str, of: object, scope: str) -> None:
        """Begin what holds pieces and further groups; inside a piece there is none."""
        element = self._child(tag, of)
        element.scope = scope
        self._open.append(element)

    def end_group(self) -> None:
        """End the group that was begun."""
        self._open.pop()

    def _child(self, tag: str, of: object) -> Element:
        """A new element in the open group, or the one that a former page began `of` the same."""
        parent = self._open[-1]
        if of is not None:
            for kid in parent.kids:
                if isinstance(kid, Element) and kid.of is of:
                    return kid
        element = Element(tag, of=of)
        parent.kids.append(element)
        return element

    def _on_page(self, box: Box | None) -> Box | None:
        if box is None:
            return None
        corners = [self.absolutePosition(x, y) for x in box[::2] for y in box[1::2]]
        across, up = zip(*corners, strict=True)
        return (min(across), min(up), max(across), max(up))

    def link(self, to: str, words: str, box: Box, element: Element) -> None:
        """Let a box on the page lead to an address; `words` say where to."""
        corners = self._on_page(box) or box
        action = {"S": PDFName("URI"), "URI": PDFString(to)}
        annotation = PDFDictionary(
            {
                "Type": PDFName("Annot"),
                "Subtype": PDFName("Link"),
                "Rect": PDFArray([round(at, 2) for at in corners]),
                "Border": PDFArray([0, 0, 0]),
                "F": PRINTED,
                "Contents": PDFString(words),
                "A": PDFDictionary(action),
            }
        )
        name = f"link-{len(self.links)}"
        self._addAnnotation(annotation, name)
        self.links.append(Link(name, annotation, element, len(self.marked) - 1))

    def bookmark(self, words: str, level: int, top: float) -> None:
        """Set a bookmark at a height; 0 is the outermost level."""
        self._bookmarks += 1
        key = f"bookmark-{self._bookmarks}"
        self.bookmarkHorizontal(key, 0, top)
        self.addOutlineEntry(words, key, level if self._bookmarks > 1 else 0)

    def showPage(self) -> None:
        """End the page."""
        super().showPage()
        self.marked.append([])

    def save(self) -> None:
        """End the last page and write the file, the tree of tags with it."""
        if self._code:
            self.showPage()
        self.before_save(self)
        write_tree(self._doc, self.root, self.marked, self.links)
        self._doc.SaveToFile(self._filename, self)


@contextmanager
def tagged(
    canvas: Canvas,
    tag: str,
    alt: str = "",
    *,
    box: Box | None = None,
    of: object = None,
    spoken: str = "",
) -> Iterator[Element | None]:
    """Draw a piece of content under a tag.

    `alt` says in words what a picture shows, and `box` is where it is. What is drawn in parts on
    several pages is one element where all parts say that they are `of` the same object.
    `spoken` is what is read aloud where that is not what is drawn, letter by letter.
    """
    if not isinstance(canvas, TaggedCanvas):
        yield None
        return
    yield canvas.begin_piece(tag, alt, box, of, spoken)
    canvas.end_piece()


@contextmanager
def grouped(canvas: Canvas, tag: str, *, of: object = None, scope: str = "") -> Iterator[None]:
    """Draw several pieces under a tag of their own, such as a table's row.

    `scope` says of which cells a table's head is the head, Row or Column.
    """
    if not isinstance(canvas, TaggedCanvas) or not canvas.is_content:
        yield
        return
    canvas.begin_group(tag, of, scope)
    yield
    canvas.end_group()


def stamp(
    canvas: Canvas,
    name: str,
    draw: Callable[[Canvas], None],
    *,
    at: tuple[float, float],
    size: tuple[float, float],
) -> None:
    """Draw what comes again and again: described once in the file, under a name of its own."""
    if not canvas.hasForm(name):
        canvas.beginForm(name, 0, 0, *size)
        draw(canvas)
        canvas.endForm()
    canvas.saveState()
    canvas.translate(*at)
    canvas.doForm(name)
    canvas.restoreState()


@contextmanager
def decoration(canvas: Canvas) -> Iterator[None]:
    """Draw what a screen reader should pass over."""
    with tagged(canvas, "Artifact"):
        yield
