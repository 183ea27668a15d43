"""One remedy on one day of the sheet of weeks: its mark, boxes to tick, or hatching."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.lib.colors import white
from reportlab.pdfgen.canvas import Canvas

from sennight.domain.schedule.weeks import RemedyMark, State
from sennight.publish.handout.marks import draw_letter, draw_mark, mark_width
from sennight.publish.pdf.style import INK_COLOUR, QUIET_COLOUR
from sennight.publish.pdf.typeface import TEXT

MARK = 11.5
MOST_BOXES = 4
DATE_SIZE = 10
"""The size of figures in the sheet, in points."""


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle from its lower left corner, in points."""

    x: float
    y: float
    width: float
    height: float


def draw_lane(canvas: Canvas, mark: RemedyMark, box: Box) -> None:
    """One remedy on one day."""
    x, y = box.x + 4, box.y + (box.height - MARK) / 2
    if mark.state in (State.OFF, State.PAUSED):
        _draw_off(canvas, mark, box)
        return
    draw_mark(canvas, mark.index, x, y, MARK)
    x += mark_width(mark.index, MARK) + 3
    x = _draw_boxes(canvas, mark, x, Box(box.x, y, box.width, MARK))
    if mark.as_needed_max is not None:
        canvas.setStrokeColor(INK_COLOUR)
        canvas.setLineWidth(0.9)
        canvas.setDash(0.9, 2)
        canvas.line(x, y + 1, box.x + box.width - 4, y + 1)
        canvas.setDash()


def _draw_boxes(canvas: Canvas, mark: RemedyMark, x: float, box: Box) -> float:
    """A box for each dose, or, for many, one box with their number; where the next may stand."""
    canvas.setStrokeColor(INK_COLOUR)
    canvas.setLineWidth(0.7)
    if mark.doses > MOST_BOXES:
        canvas.roundRect(x, box.y + 0.5, 14, 10.5, 1.2)
        canvas.setFillColor(QUIET_COLOUR)
        canvas.setFont(TEXT, DATE_SIZE)
        canvas.drawString(x + 16, box.y + 2.5, f"of {mark.doses}")
        return x + 42
    room = (box.x + box.width - 2 - x) / MOST_BOXES
    side = min(10.5, room - 1.4)
    for n in range(mark.doses):
        canvas.roundRect(x + n * (side + 1.4), box.y + (MARK - side) / 2, side, side, 1.2)
    return x + mark.doses * (side + 1.4)


def _draw_off(canvas: Canvas, mark: RemedyMark, box: Box) -> None:
    """A day off is hatched, a pause ruled through; the letter says whose."""
    canvas.saveState()
    inner = canvas.beginPath()
    inner.rect(box.x + 1, box.y + 1, box.width - 2, box.height - 2)
    canvas.clipPath(inner, stroke=0, fill=0)
    canvas.setStrokeColor(QUIET_COLOUR)
    canvas.setLineWidth(0.5)
    if mark.state is State.OFF:
        at = box.x - box.height
        while at < box.x + box.width:
            canvas.line(at, box.y, at + box.height, box.y + box.height)
            at += 4.2
    else:
        for part in (0.4, 0.6):
            y = box.y + box.height * part
            canvas.line(box.x, y, box.x + box.width, y)
    x = box.x + 4 + MARK * 0.5
    canvas.setFillColor(white)
    canvas.rect(x, box.y, mark_width(mark.index, MARK) - MARK * 0.3, box.height, stroke=0, fill=1)
    draw_letter(canvas, mark.index, x + MARK * 0.18, box.y + (box.height - MARK) / 2, MARK)
    canvas.restoreState()
