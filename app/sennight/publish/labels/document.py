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
    pair_block,
)
from sennight.publish.labels.stocks import LabelStock, Place
from sennight.publish.pdf.codes import draw_code
from sennight.publish.pdf.style import colour_of
from sennight.publish.pdf.tags import TaggedCanvas, decoration, tagged
from sennight.publish.pdf.typeface import TEXT, register_faces

STRIP = 1.6 * mm
"""The strip in the remedy's dye at a label's left edge."""
GAP = 1.2 * mm

_Text = tuple[list[Paragraph], bool]
"""A label's paragraphs, and whether its code stands beside them."""


@dataclass(frozen=True, slots=True)
class _Placed:
    """One label's text, and where it goes."""

    label: Label
    dye: int
    blocks: tuple[Block, ...]
    may_have_code: bool
    page: int
    place: Place


@dataclass(frozen=True, slots=True)
class LaidLine:
    """A paragraph of a label with its lower left corner on the page, in points."""

    paragraph: Paragraph
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class LaidLabel:
    """One label as it is printed: its page from 0, its lower left corner and its parts, in points.

    `code` is the lower left corner of its code, None where the words leave no room for one.
    """

    label: Label
    dye: int
    page: int
    corner: tuple[float, float]
    lines: tuple[LaidLine, ...]
    code: tuple[float, float] | None


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
    what to read before a dose, and the rest, which begins with whose it is. The same content gives
    the same bytes. Raises LabelTooSmallError, and ValueError for a start that the sheet has not.
    """
    target = BytesIO()
    width, height = (side * mm for side in stock.page)
    register_faces()
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
    for laid in lay_labels(labels, stock, start=start, in_two=in_two):
        for _ in range(laid.page - page):
            canvas.showPage()
        page = laid.page
        _draw(canvas, laid, stock)
    canvas.save()
    return target.getvalue()


def lay_labels(
    labels: Sequence[tuple[Label, int]],
    stock: LabelStock,
    *,
    start: int = 1,
    in_two: bool = False,
) -> Iterator[LaidLabel]:
    """Where everything goes, as `labels_pdf` prints it, which says what it raises."""
    register_faces()
    set_already: dict[tuple[tuple[Block, ...], bool], _Text] = {}
    for placed in _placed(labels, stock, start, in_two=in_two):
        # Containers of one remedy mostly say the same, and to find the size takes the time.
        same = placed.blocks, placed.may_have_code
        if same not in set_already:
            set_already[same] = _text(placed, stock)
        yield _laid(placed, set_already[same], stock)


def _placed(
    labels: Sequence[tuple[Label, int]], stock: LabelStock, start: int, *, in_two: bool
) -> Iterator[_Placed]:
    places = stock.places(start)
    has_room = stock.label[0] * mm >= CODE_FROM
    for label, dye in labels:
        colour = colour_of(dye)
        front, back = front_blocks(label, colour), back_blocks(label)
        second = (pair_block(label, colour), *back)
        texts = ((front, False), (second, has_room)) if in_two else ((front + back, has_room),)
        for blocks, may_have_code in texts:
            yield _Placed(label, dye, blocks, may_have_code, *next(places))


def _laid(placed: _Placed, text: _Text, stock: LabelStock) -> LaidLabel:
    """One label: the text beside the strip in the dye, and the code in the lower right corner."""
    left, top = placed.place[0] * mm, (stock.page[1] - placed.place[1]) * mm
    width, height = (side * mm for side in stock.label)
    edge = stock.corner * mm
    paragraphs, has_code = text
    lines, y = [], top - edge
    for paragraph in paragraphs:
        y -= paragraph.height
        lines.append(LaidLine(paragraph, left + edge + STRIP + GAP, y))
    bottom = top - height
    code = (left + width - edge - CODE_SIDE, bottom + edge) if has_code else None
    return LaidLabel(placed.label, placed.dye, placed.page, (left, bottom), tuple(lines), code)


def _draw(canvas: TaggedCanvas, laid: LaidLabel, stock: LabelStock) -> None:
    left, bottom = laid.corner
    height, edge = stock.label[1] * mm, stock.corner * mm
    with decoration(canvas):
        canvas.setFillColor(colour_of(laid.dye))
        canvas.rect(left + edge, bottom + edge, STRIP, height - 2 * edge, stroke=0, fill=1)
    for number, line in enumerate(laid.lines):
        if number == 0:
            canvas.bookmark(line.paragraph.getPlainText(), 0, bottom + height)
        tag = "P" if number else "H1"
        _draw_paragraph(canvas, line.paragraph, (line.x, line.y), tag=tag)
    if laid.code is not None:
        _draw_code(canvas, laid.label, *laid.code)


def _text(placed: _Placed, stock: LabelStock) -> _Text:
    """A label's text and whether its code has room beside it.

    Words come before the code, and the code before words that may be left out.
    """
    width, height = (side * mm - 2 * stock.corner * mm for side in stock.label)
    width -= STRIP + GAP
    needed = tuple(block for block in placed.blocks if not block.may_be_left_out)
    if placed.may_have_code:
        for blocks in dict.fromkeys((placed.blocks, needed)):
            with suppress(LabelTooSmallError):
                return fitted(blocks, width - CODE_SIDE - GAP, height), True
    with suppress(LabelTooSmallError):
        return fitted(placed.blocks, width, height), False
    return fitted(needed, width, height), False


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
