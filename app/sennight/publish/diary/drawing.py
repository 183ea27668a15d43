"""Draws a page of a diary sheet."""

from __future__ import annotations

from contextlib import nullcontext
from dataclasses import dataclass

from reportlab.lib.colors import HexColor, black
from reportlab.lib.units import mm
from reportlab.lib.utils import simpleSplit
from reportlab.pdfbase.pdfmetrics import getAscentDescent

from sennight.publish.diary.grid import Asked, GridPage, PlacedWeek, RatingRow, TextLine
from sennight.publish.diary.measures import CODE, EDGE, LEFT, MARK, Paper
from sennight.publish.diary.record import code_text
from sennight.publish.diary.words import NOTHING, day_words, week_words
from sennight.publish.handout.marks import draw_mark, mark_width
from sennight.publish.pdf.codes import draw_small_code
from sennight.publish.pdf.paragraphs import Text
from sennight.publish.pdf.scripts import draw_line
from sennight.publish.pdf.style import INK_COLOUR, QUIET_COLOUR
from sennight.publish.pdf.tags import TaggedCanvas, decoration, tagged
from sennight.publish.pdf.typeface import SEMIBOLD, TEXT

FRAME = HexColor("#9AA29C")
"""The lines of boxes: seen well enough by people, and lighter than any tick."""
FRAME_WIDTH = 0.25 * mm
_ROW_LINE = HexColor("#DDE1DD")
_LETTER = 0.95
_SIDE = 16.6
"""Where the names of weeks stand, which read from below."""


@dataclass(frozen=True, slots=True)
class PageWords:
    """The words above the boxes, set: those beside the code, and the key below; in points."""

    beside: tuple[Text, ...]
    dates: Text
    """Of those beside the code, the one that says which days the page is for."""
    key: Text
    upper: float
    height: float


class PageDrawing:
    """Draws one page; millimetres from the upper left corner become points from the lower."""

    def __init__(self, canvas: TaggedCanvas, paper: Paper, asked: Asked, page: GridPage) -> None:
        self.canvas, self.paper, self.page = canvas, paper, page
        self.course, self.saying = asked.course, asked.saying
        self.sizes = paper.sizes

    def draw(self, words: PageWords, *, version: str, number: int, pages: int) -> None:
        """Draw everything."""
        self._marks(code_text(self.course, version, number))
        self._words(words, is_first=number == 1)
        name = f"Page {number}" if pages > 1 else "Boxes to tick"
        self.canvas.bookmark(name, 0, self._up(self.page.heads.top))
        self._heads()
        for week in self.page.weeks:
            self._week(week)
        self._foot(number, pages)

    def _up(self, y: float) -> float:
        return (self.paper.height - y) * mm

    def _marks(self, code: str) -> None:
        with decoration(self.canvas):
            self.canvas.setFillColor(black)
            for x, y in self.paper.marks:
                self.canvas.rect(x * mm, self._up(y + MARK), MARK * mm, MARK * mm, 0, 1)
            draw_small_code(
                self.canvas, code, self.paper.code_left * mm, self._up(EDGE + CODE), CODE * mm
            )

    def _words(self, words: PageWords, *, is_first: bool) -> None:
        """The words above; what the first page has said already is decoration on the others."""
        y = self._up(EDGE)
        for part in words.beside:
            y -= part.height
            is_new = is_first or part is words.dates
            with nullcontext() if is_new else decoration(self.canvas):
                part.drawOn(self.canvas, LEFT * mm, y)
        y = self._up(EDGE) - words.upper - words.key.height
        words.key.drawOn(self.canvas, LEFT * mm, y)

    def _type(self, font: str = TEXT, *, quiet: bool = False) -> None:
        self.canvas.setFont(font, self.sizes.type)
        self.canvas.setFillColor(QUIET_COLOUR if quiet else INK_COLOUR)

    def _heads(self) -> None:
        heads, leading = self.page.heads, self.sizes.leading
        box = (LEFT * mm, self._up(heads.bottom), self.paper.right * mm, self._up(heads.top))
        with tagged(self.canvas, "P", box=box):
            for time in heads.times:
                for line, words in enumerate(time.lines):
                    self._type(SEMIBOLD if line == 0 else TEXT, quiet=line == 1)
                    if heads.upright:
                        x = time.x * mm + (line + 1) * leading - leading * 0.25
                        self._read_up(x, self._up(heads.letters - 1), words)
                    else:
                        y = self._up(heads.top) - (line + 1) * leading + leading * 0.25
                        self.canvas.drawString(time.x * mm, y, words)
        with decoration(self.canvas):
            height = self.sizes.type * _LETTER
            for column, x in heads.columns.items():
                middle = (x + self.sizes.box / 2) * mm - mark_width(column.index, height) / 2
                draw_mark(self.canvas, column.index, middle, self._up(heads.bottom) + 1.5, height)

    def _read_up(self, x: float, y: float, words: str) -> None:
        self.canvas.saveState()
        self.canvas.translate(x, y)
        self.canvas.rotate(90)
        self.canvas.drawString(0, 0, words)
        self.canvas.restoreState()

    def _week(self, week: PlacedWeek) -> None:
        left, right = (LEFT - 6) * mm, self.paper.right * mm
        days = [day for _, day in week.days]
        box = (left, self._up(week.bottom), right, self._up(week.top))
        words = week_words(self.course, self.saying, days, tuple(self.page.heads.columns))
        with tagged(self.canvas, "Figure", words, box=box):
            self.canvas.setStrokeColor(INK_COLOUR)
            self.canvas.setLineWidth(0.8)
            self.canvas.line(LEFT * mm, self._up(week.top), right, self._up(week.top))
            self._type(SEMIBOLD)
            name = f"Week {week.week}"
            if self.canvas.stringWidth(name, SEMIBOLD, self.sizes.type) < box[3] - box[1]:
                below = self._up(week.top) - self.canvas.stringWidth(
                    name, SEMIBOLD, self.sizes.type
                )
                self._read_up(_SIDE * mm, below - 2, name)
            for line in week.changes:
                self._line(line, SEMIBOLD)
            for y, day in week.days:
                self._day(y, day_words(day.day), empty=not day.taken)
            for row in week.ratings:
                self._rating(row)
            self._frames(week)

    def _day(self, y: float, words: str, *, empty: bool) -> None:
        self.canvas.setStrokeColor(_ROW_LINE)
        self.canvas.setLineWidth(0.15 * mm)
        below = self._up(y + self.page.row)
        self.canvas.line(LEFT * mm, below, self.paper.right * mm, below)
        self._type()
        at = self._baseline(y, self.page.row)
        self.canvas.drawString(LEFT * mm, at, words)
        if empty:
            self._type(quiet=True)
            self.canvas.drawString((LEFT + self.sizes.date) * mm, at, NOTHING)

    def _baseline(self, y: float, height: float) -> float:
        """Where type stands in the middle of a row."""
        ascent, descent = getAscentDescent(TEXT, self.sizes.type)
        return self._up(y + height / 2) - (ascent + descent) / 2 + self.sizes.type * 0.06

    def _line(self, line: TextLine, font: str) -> None:
        self._type(font)
        lines = simpleSplit(line.words, TEXT, self.sizes.type, (self.paper.right - LEFT) * mm)
        y = self._baseline(line.y, self.sizes.change)
        for words in lines:
            self.canvas.drawString(LEFT * mm, y, words)
            y -= self.sizes.leading

    def _rating(self, row: RatingRow) -> None:
        self._type()
        at = self._baseline(row.label.y, row.label.height)
        self.canvas.drawString(LEFT * mm, at, row.label.words)
        for number in row.numbers:
            at = self._baseline(number.y, self.sizes.score)
            self.canvas.drawRightString(number.x * mm, at, str(number.value))

    def _frames(self, week: PlacedWeek) -> None:
        self.canvas.setStrokeColor(FRAME)
        self.canvas.setLineWidth(FRAME_WIDTH)
        for box in self.page.boxes:
            if week.top <= box.y < week.bottom:
                side = box.size * mm
                self.canvas.rect(box.x * mm, self._up(box.y) - side, side, side)

    def _foot(self, number: int, pages: int) -> None:
        with decoration(self.canvas):
            self._type(quiet=True)
            y = (EDGE + 1) * mm
            count = f"Page {number} of {pages}"
            right = self.paper.right * mm
            self.canvas.drawRightString(right, y, count)
            size = self.sizes.type
            room = right - LEFT * mm - self.canvas.stringWidth(count, TEXT, size) - 20
            draw_line(self.canvas, self.course.client.name, (LEFT * mm, y), room=room, size=size)
