"""Paints drawings onto a page, from the same description as the window paints them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import assert_never

from reportlab.lib.colors import Color, HexColor, white
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from sennight.domain.charts.drawing import (
    Align,
    Box,
    Dot,
    Drawing,
    DyedBox,
    Ink,
    Lines,
    Shape,
    Stroke,
    Words,
)
from sennight.dyes import CHART_COLOURS, dye_of
from sennight.publish.pdf.scripts import draw_line
from sennight.publish.pdf.style import colour_of
from sennight.publish.pdf.tags import tagged
from sennight.publish.pdf.typeface import SEMIBOLD, TEXT

_DASHES: dict[Stroke, tuple[float, ...]] = {
    Stroke.SOLID: (),
    Stroke.DASHED: (4, 2.5),
    Stroke.DOTTED: (1, 2),
}
_STEP = 4.2
"""Points between the lines of a pattern."""
_SINK = 0.35
"""How far the foot of figures stands beneath their middle, in sizes of text."""


def _colour(ink: Ink) -> Color:
    """The paper is white here; the rest as on light ground."""
    return white if ink is Ink.PAPER else HexColor(CHART_COLOURS[ink].light)


class DrawingFlowable(Flowable):
    """A drawing under a tag of its own, whose words say what it shows."""

    def __init__(self, drawing: Drawing) -> None:
        super().__init__()
        self.drawing = drawing
        self.width, self.height = drawing.width, drawing.height

    def wrap(self, _availWidth: float, _availHeight: float) -> tuple[float, float]:
        """It has the size that it was made for."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw it."""
        box = (0.0, 0.0, self.width, self.height)
        with tagged(self.canv, "Figure", self.drawing.words, box=box):
            painter = _Painter(self.canv, self.height)
            for shape in self.drawing.shapes:
                self.canv.saveState()
                painter.paint(shape)
                self.canv.restoreState()


@dataclass(frozen=True, slots=True)
class _Painter:
    """Draws on a canvas; places from the upper left corner become points from the lower one."""

    canvas: Canvas
    height: float

    def paint(self, shape: Shape) -> None:
        """Draw one shape."""
        match shape:
            case Box():
                self._box(shape)
            case DyedBox():
                self._dyed(shape)
            case Lines():
                self._lines(shape)
            case Dot():
                self._dot(shape)
            case Words():
                self._words(shape)
            case _:
                assert_never(shape)

    def _up(self, y: float) -> float:
        return self.height - y

    def _box(self, box: Box) -> None:
        room = box.x, self._up(box.y + box.height), box.width, box.height
        canvas = self.canvas
        if box.fill is not None:
            canvas.setFillColor(_colour(box.fill))
            canvas.rect(*room, stroke=0, fill=1)
        if box.edge is not None:
            canvas.setStrokeColor(_colour(box.edge))
            canvas.setLineWidth(0.6)
            self._dashed(box.stroke)
            canvas.rect(*room, stroke=1, fill=0)

    def _dashed(self, stroke: Stroke) -> None:
        if _DASHES[stroke]:
            self.canvas.setDash(list(_DASHES[stroke]))

    def _clip(self, room: tuple[float, float, float, float]) -> None:
        path = self.canvas.beginPath()
        path.rect(*room)
        self.canvas.clipPath(path, stroke=0, fill=0)

    def _dyed(self, box: DyedBox) -> None:
        room = box.x, self._up(box.y + box.height), box.width, box.height
        self._clip(room)
        self.canvas.setFillColor(colour_of(box.index))
        self.canvas.rect(*room, stroke=0, fill=1)
        self.canvas.setStrokeColor(white)
        self.canvas.setFillColor(white)
        self.canvas.setLineWidth(0.8)
        mark = _PATTERNS.get(dye_of(box.index).pattern)
        if mark is not None:
            mark(self.canvas, room)

    def _lines(self, lines: Lines) -> None:
        canvas, path = self.canvas, self.canvas.beginPath()
        (x, y), *rest = lines.points
        path.moveTo(x, self._up(y))
        for x, y in rest:
            path.lineTo(x, self._up(y))
        canvas.setStrokeColor(_colour(lines.ink))
        canvas.setLineWidth(lines.weight)
        self._dashed(lines.stroke)
        if lines.fill is not None:
            path.close()
            canvas.setFillColor(_colour(lines.fill))
        canvas.drawPath(path, stroke=1, fill=int(lines.fill is not None))

    def _dot(self, dot: Dot) -> None:
        self.canvas.setStrokeColor(_colour(dot.ink))
        self.canvas.setLineWidth(max(0.9, dot.radius / 2.5))
        self.canvas.setFillColor(_colour(Ink.PAPER if dot.is_hollow else dot.ink))
        self.canvas.circle(dot.x, self._up(dot.y), dot.radius, stroke=1, fill=1)

    def _words(self, words: Words) -> None:
        canvas, y = self.canvas, self._up(words.y) - words.size * _SINK
        canvas.setFillColor(_colour(words.ink) if words.dye is None else colour_of(words.dye))
        if words.align is Align.START and words.room is not None:
            draw_line(canvas, words.text, (words.x, y), room=words.room, size=words.size)
            return
        face = SEMIBOLD if words.is_strong else TEXT
        wide = stringWidth(words.text, face, words.size)
        shift = {Align.START: 0.0, Align.MIDDLE: wide / 2, Align.END: wide}[words.align]
        canvas.setFont(face, words.size)
        canvas.drawString(words.x - shift, y, words.text)


Room = tuple[float, float, float, float]


def _slants(canvas: Canvas, room: Room) -> None:
    x, y, width, height = room
    at = x - height
    while at < x + width:
        canvas.line(at, y, at + height, y + height)
        at += _STEP


def _falling(canvas: Canvas, room: Room) -> None:
    x, y, width, height = room
    at = x - height
    while at < x + width:
        canvas.line(at, y + height, at + height, y)
        at += _STEP


def _crossed(canvas: Canvas, room: Room) -> None:
    _slants(canvas, room)
    _falling(canvas, room)


def _bars(canvas: Canvas, room: Room) -> None:
    x, y, width, height = room
    at = x + _STEP / 2
    while at < x + width:
        canvas.line(at, y, at, y + height)
        at += _STEP


def _dots(canvas: Canvas, room: Room) -> None:
    x, y, width, height = room
    at = x + _STEP / 2
    while at < x + width:
        canvas.circle(at, y + height / 2, 0.9, stroke=0, fill=1)
        at += _STEP


_PATTERNS: dict[str, Callable[[Canvas, Room], None]] = {
    "rising": _slants,
    "falling": _falling,
    "crossed": _crossed,
    "bars": _bars,
    "dots": _dots,
}
"""What is drawn upon a dye, so that it is known without colour; one of them has nothing."""
