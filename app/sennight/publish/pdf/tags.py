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


class TaggedCanvas(Canvas):
    """A canvas that keeps the tree of tags while it is drawn on, and writes it when saved.

    `before_save` draws what can only be known once all pages are there.
    """

    _code: list[str]
    _doc: Any
    _filename: Any

    def __init__(
        self,
        *args: Any,  # noqa: ANN401 - the library's
        before_save: Callable[[Canvas], None],
        **kwargs: Any,  # noqa: ANN401 - the library's
    ) -> None:
        super().__init__(*args, **kwargs)
        self.before_save = before_save
        self.pieces: list[list[tuple[str, str]]] = [[]]
        """For each page its pieces in order: tag, and the words for a picture."""
        self._depth = 0

    def begin_piece(self, tag: str, alt: str) -> None:
        """Begin a piece of content, or, where the tag is Artifact, of decoration."""
        self._depth += 1
        if self._depth > 1:
            return
        if tag == "Artifact":
            self._code.append("/Artifact BMC")
        else:
            self._code.append(f"/{tag} <</MCID {len(self.pieces[-1])}>> BDC")
            self.pieces[-1].append((tag, alt))

    def end_piece(self) -> None:
        """End the piece that was begun."""
        self._depth -= 1
        if self._depth == 0:
            self._code.append("EMC")

    def showPage(self) -> None:
        """End the page."""
        super().showPage()
        self.pieces.append([])

    def save(self) -> None:
        """End the last page and write the file, the tree of tags with it."""
        if self._code:
            self.showPage()
        self.before_save(self)
        self._write_tree()
        self._doc.SaveToFile(self._filename, self)

    def _write_tree(self) -> None:
        document = self._doc
        root = PDFDictionary({"Type": PDFName("StructTreeRoot")})
        root_ref = document.Reference(root)
        body = PDFDictionary({"S": PDFName("Document"), "P": root_ref})
        body_ref = document.Reference(body)
        kids, parents = [], []
        for number, page in enumerate(document.Pages.pages):
            page.__NoDefault__ = [*page.__NoDefault__, "StructParents", "Tabs"]
            page.StructParents, page.Tabs = number, PDFName("S")
            elements = [
                document.Reference(_element(piece, mcid, body_ref, document.Reference(page)))
                for mcid, piece in enumerate(self.pieces[number])
            ]
            kids += elements
            parents += [number, document.Reference(PDFArray(elements))]
        body["K"] = PDFArray(kids)
        root["K"] = PDFArray([body_ref])
        root["ParentTree"] = document.Reference(PDFDictionary({"Nums": PDFArray(parents)}))
        root["ParentTreeNextKey"] = len(document.Pages.pages)
        document.Catalog.StructTreeRoot = root_ref
        document.Catalog.MarkInfo = PDFDictionary({"Marked": "true"})
        document.Catalog.ViewerPreferences = PDFDictionary({"DisplayDocTitle": "true"})


def _element(piece: tuple[str, str], mcid: int, parent: object, page: object) -> PDFDictionary:
    tag, alt = piece
    entries = {"S": PDFName(tag), "P": parent, "Pg": page, "K": mcid}
    return PDFDictionary(entries | ({"Alt": PDFString(alt)} if alt else {}))


@contextmanager
def tagged(canvas: Canvas, tag: str, alt: str = "") -> Iterator[None]:
    """Draw a piece of content under a tag; `alt` says in words what a picture shows."""
    if not isinstance(canvas, TaggedCanvas):
        yield
        return
    canvas.begin_piece(tag, alt)
    yield
    canvas.end_piece()


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
