"""Labels as a PDF: one or two a container, from any label of the first sheet on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.colors import black
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Paragraph

from sennight.domain.dispensary.labels import Label
from sennight.publish.labels.setting import (
    CODE_FROM,
    CODE_SIDE,
    Block,
    LabelTooSmallError,
    back_blocks,
    fitted,
    front_blocks,
)
from sennight.publish.labels.stocks import LabelStock, Place
from sennight.publish.pdf.codes import draw_code
from sennight.publish.pdf.style import colour_of
from sennight.publish.pdf.tags import TaggedCanvas, decoration, tagged
from sennight.publish.pdf.typeface import TEXT, register_faces

STRIP = 1.6 * mm
"""The strip in the remedy's dye at a label's left edge."""
GAP = 1.2 * mm


@dataclass(frozen=True, slots=True)
class _Placed:
    """One label's text, and where it goes."""

    label: Label
    dye: int
    blocks: tuple[Block, ...]
    may_have_code: bool
    page: int
    place: Place


def labels_pdf(
    labels: Sequence[tuple[Label, int]],
    stock: LabelStock,
    *,
    practice: str,
    start: int = 1,
    in_two: bool = False,
) -> bytes:
    """The labels, each with the place of its remedy in the course (its dye), in order.

    `start` is the first free label of the first sheet. `in_two` gives each container two labels:
    what to read before a dose, and the rest. The same content gives the same bytes. Raises
    LabelTooSmallError, and ValueError for a start that the sheet does not have.
    """
    register_faces()
    target = BytesIO()
    width, height = (side * mm for side in stock.page)
    canvas = TaggedCanvas(
        target,
        pagesize=(width, height),
        before_save=lambda _: None,
        invariant=1,
        initialFontName=TEXT,
        lang="en-GB",
        pdfVersion=(1, 7),
    )
    canvas.setTitle("Labels")
    canvas.setAuthor(practice)
    page = 0
    for placed in _placed(labels, stock, start, in_two=in_two):
        for _ in range(placed.page - page):
            canvas.showPage()
        page = placed.page
        _draw(canvas, placed, stock)
    canvas.save()
    return target.getvalue()


def _placed(
    labels: Sequence[tuple[Label, int]], stock: LabelStock, start: int, *, in_two: bool
) -> Iterator[_Placed]:
    places = stock.places(start)
    has_room = stock.label[0] * mm >= CODE_FROM
    for label, dye in labels:
        front, back = front_blocks(label, colour_of(dye)), back_blocks(label)
        texts = ((front, False), (back, has_room)) if in_two else ((front + back, has_room),)
        for blocks, may_have_code in texts:
            yield _Placed(label, dye, blocks, may_have_code, *next(places))


def _draw(canvas: TaggedCanvas, placed: _Placed, stock: LabelStock) -> None:
    """One label: the strip in the dye, the text, and the code in the lower right corner."""
    left, top = placed.place[0] * mm, (stock.page[1] - placed.place[1]) * mm
    width, height = (side * mm for side in stock.label)
    edge = stock.corner * mm
    with decoration(canvas):
        canvas.setFillColor(colour_of(placed.dye))
        canvas.rect(left + edge, top - height + edge, STRIP, height - 2 * edge, stroke=0, fill=1)
    inner = left + edge + STRIP + GAP
    room = width - 2 * edge - STRIP - GAP
    paragraphs, has_code = _text(placed, room, height - 2 * edge)
    y = top - edge
    for number, paragraph in enumerate(paragraphs):
        y -= paragraph.height
        if number == 0:
            canvas.bookmark(paragraph.getPlainText(), 0, top)
        _draw_paragraph(canvas, paragraph, (inner, y), tag="P" if number else "H1")
    if has_code:
        corner = left + width - edge - CODE_SIDE, top - height + edge
        _draw_code(canvas, placed.label, *corner)


def _text(placed: _Placed, width: float, height: float) -> tuple[list[Paragraph], bool]:
    """A label's text and whether its code has room beside it; words come before the code."""
    if placed.may_have_code:
        with suppress(LabelTooSmallError):
            return fitted(placed.blocks, width - CODE_SIDE - GAP, height), True
    return fitted(placed.blocks, width, height), False


def _draw_paragraph(
    canvas: TaggedCanvas, paragraph: Paragraph, at: tuple[float, float], *, tag: str
) -> None:
    with tagged(canvas, tag):
        paragraph.drawOn(canvas, *at)


def _draw_code(canvas: Canvas, label: Label, x: float, y: float) -> None:
    box = (x, y, x + CODE_SIDE, y + CODE_SIDE)
    with tagged(canvas, "Figure", f"Code of batch {label.batch}", box=box):
        canvas.setFillColor(black)
        draw_code(canvas, label.code, x, y, CODE_SIDE)
