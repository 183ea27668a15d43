"""The marks that stand for remedies: dye, pattern and letter, and the drawings of their forms."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Callable, Sequence
from functools import cache, partial

from reportlab.lib.colors import white
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.letters import letter_of
from sennight.domain.take_home.document import Mark
from sennight.dyes import dye_of
from sennight.places import own_folder
from sennight.publish.handout.paper import Paper
from sennight.publish.pdf.paragraphs import Text
from sennight.publish.pdf.scripts import markup
from sennight.publish.pdf.style import QUIET_COLOUR, colour_of
from sennight.publish.pdf.tags import decoration, stamp
from sennight.publish.pdf.typeface import BOLD, SEMIBOLD

FORM_BOX = 24
"""The forms are drawn in a box of so many units a side."""

_SWATCH = 0.5  # of a mark's height
_LETTER = 0.82
_LEAST_MARK = 12.05 / _LETTER
"""The height of a mark whose letter is 12 points."""
_STEP = 3.2  # points between the lines of a pattern


def mark_width(index: int, height: float) -> float:
    """How wide the mark of a remedy is, in points."""
    letter = stringWidth(letter_of(index), BOLD, height * _LETTER)
    return height * (_SWATCH + 0.18) + letter


def draw_mark(canvas: Canvas, index: int, x: float, y: float, height: float) -> None:
    """A swatch in the remedy's dye and pattern, then its letter, from the lower left corner."""
    stamp(
        canvas,
        f"mark-{index}-{height}",
        partial(_draw_mark, index=index, height=height),
        at=(x, y),
        size=(mark_width(index, height) + 1, height),
    )


def _draw_mark(canvas: Canvas, index: int, height: float) -> None:
    x = y = 0.0
    width = height * _SWATCH
    colour = colour_of(index)
    canvas.saveState()
    box = canvas.beginPath()
    box.roundRect(x, y, width, height, 1.2)
    canvas.clipPath(box, stroke=0, fill=0)
    canvas.setFillColor(colour)
    canvas.rect(x, y, width, height, stroke=0, fill=1)
    canvas.setStrokeColor(white)
    canvas.setFillColor(white)
    canvas.setLineWidth(0.9)
    _PATTERNS[dye_of(index).pattern](canvas, x, y, width, height)
    canvas.restoreState()
    draw_letter(canvas, index, x + height * (_SWATCH + 0.18), y, height)


def draw_letter(canvas: Canvas, index: int, x: float, y: float, height: float) -> None:
    """The letter of a mark alone."""
    canvas.setFillColor(colour_of(index))
    canvas.setFont(BOLD, height * _LETTER)
    canvas.drawString(x, y + height * 0.23, letter_of(index))


def _plain(_canvas: Canvas, _x: float, _y: float, _width: float, _height: float) -> None:
    """Nothing upon the dye."""


def _rising(canvas: Canvas, x: float, y: float, width: float, height: float) -> None:
    at = y - width
    while at < y + height:
        canvas.line(x, at, x + width, at + width)
        at += _STEP * 1.3


def _falling(canvas: Canvas, x: float, y: float, width: float, height: float) -> None:
    at = y - width
    while at < y + height:
        canvas.line(x + width, at, x, at + width)
        at += _STEP * 1.3


def _crossed(canvas: Canvas, x: float, y: float, width: float, height: float) -> None:
    _rising(canvas, x, y, width, height)
    _falling(canvas, x, y, width, height)


def _bars(canvas: Canvas, x: float, y: float, width: float, height: float) -> None:
    for part in (0.33, 0.67):
        canvas.line(x + width * part, y, x + width * part, y + height)


def _dots(canvas: Canvas, x: float, y: float, width: float, height: float) -> None:
    count = max(2, round(height / _STEP))
    for n in range(count):
        for part in (0.3, 0.7):
            canvas.circle(x + width * part, y + height * (n + 0.5) / count, 0.75, stroke=0, fill=1)


_PATTERNS = {
    "plain": _plain,
    "rising": _rising,
    "falling": _falling,
    "crossed": _crossed,
    "bars": _bars,
    "dots": _dots,
}


# Forms


@cache
def _strokes(form: Form) -> tuple[tuple[tuple[str, tuple[float, ...]], ...], ...]:
    """The paths of a form's drawing: each a row of commands with their numbers."""
    file = own_folder("resources") / "marks" / f"{form}.svg"
    paths = ET.parse(file).getroot().iter("{http://www.w3.org/2000/svg}path")  # noqa: S314 - ours
    return tuple(
        tuple(
            (command, tuple(float(n) for n in numbers.split()))
            for command, numbers in re.findall(r"([MLCZ])([^MLCZ]*)", path.get("d", ""))
        )
        for path in paths
    )


def draw_form(canvas: Canvas, form: Form, x: float, y: float, size: float) -> None:
    """The drawing of a form in a square of `size` points, from its lower left corner."""
    canvas.saveState()
    canvas.translate(x, y + size)
    canvas.scale(size / FORM_BOX, -size / FORM_BOX)
    canvas.setStrokeColor(QUIET_COLOUR)
    canvas.setLineWidth(1.5)
    canvas.setLineCap(1)
    canvas.setLineJoin(1)
    for stroke in _strokes(form):
        path = canvas.beginPath()
        draw: dict[str, Callable[..., None]] = {
            "M": path.moveTo,
            "L": path.lineTo,
            "C": path.curveTo,
            "Z": path.close,
        }
        for command, numbers in stroke:
            draw[command](*numbers)
        canvas.drawPath(path, stroke=1, fill=0)
    canvas.restoreState()


class MarkLine(Flowable):
    """A remedy's mark with its form's drawing beside it: decoration, for the name is said."""

    def __init__(self, mark: Mark, body: float) -> None:
        super().__init__()
        self.mark, self.size = mark, max(_LEAST_MARK, body * 1.05)

    @property
    def least(self) -> float:
        """The least width."""
        return mark_width(self.mark.index, self.size) + self.size + 6

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002
        """Its size, whatever the space."""
        self.width, self.height = self.least, self.size + 2
        return self.width, self.height

    def draw(self) -> None:
        """Draw it."""
        with decoration(self.canv):
            draw_mark(self.canv, self.mark.index, 0, 1, self.size)
            x = mark_width(self.mark.index, self.size) + 4
            draw_form(self.canv, self.mark.form, x, 0, self.size * 1.15)


class MarkedText(Text):
    """A paragraph that a remedy's mark stands beside, at its first line."""

    mark: Mark | None = None

    def split(self, aW: float, aH: float) -> list[Flowable]:
        """Its parts, the mark at the first."""
        parts = super().split(aW, aH)
        if parts and isinstance(parts[0], MarkedText):
            parts[0].mark = self.mark
        return parts

    def draw(self) -> None:
        """Draw it."""
        if self.mark is not None:
            height = max(_LEAST_MARK, self.style.fontSize * 0.95)
            with decoration(self.canv):
                at = self.height - self.style.leading + (self.style.leading - height) / 2
                draw_mark(self.canv, self.mark.index, 0, at, height)
        super().draw()


def marked(paper: Paper, mark: Mark, words: str, name: str = "body") -> MarkedText:
    """Words that hang beside a remedy's mark."""
    return _hanging(paper, mark, markup(words), name)


def marked_in_parts(paper: Paper, mark: Mark, parts: Sequence[tuple[str, bool]]) -> MarkedText:
    """The same of several parts, those that are meant strongly in bold."""
    said = (
        f'<font name="{SEMIBOLD}">{markup(words)}</font>' if strong else markup(words)
        for words, strong in parts
    )
    return _hanging(paper, mark, " ".join(said), "pair")


def _hanging(paper: Paper, mark: Mark, said: str, name: str) -> MarkedText:
    width = mark_width(mark.index, max(_LEAST_MARK, paper.body)) + 6
    text = MarkedText(said, paper.style(name, max(indent_of(paper), width)))
    text.mark = mark
    return text


def indent_of(paper: Paper) -> float:
    """How far words stand in beside a mark."""
    return paper.body * 2
