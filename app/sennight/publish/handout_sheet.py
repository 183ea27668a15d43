"""The sheet of weeks: the picture of the screen's calendar, with boxes for the client to tick.

Each week is a row with a lane for every remedy of that week. A day's lane shows the
remedy's mark and a box for each dose; hatching is a day off, a dotted line takes a stroke for
each dose as needed. Dye, pattern and letter say the same, so a grey copy can be read.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from html import escape

from reportlab.lib.colors import white
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, Table

from sennight.domain.dates import course_week
from sennight.domain.plain_words import MONTH_NAMES, WEEKDAY_NAMES, plain_day
from sennight.domain.sheet import Cell, Mark, Row, State, course_sheet
from sennight.domain.stretches import Layout
from sennight.dyes import dye_of, letter_of
from sennight.publish.handout_marks import draw_letter, draw_mark, mark_width
from sennight.publish.handout_style import (
    HAIRLINE,
    HAIRLINE_COLOUR,
    INK_COLOUR,
    QUIET_COLOUR,
    Page,
    Text,
    style,
    text,
)
from sennight.publish.handout_tags import decoration, stamp, tagged
from sennight.publish.typeface import BOLD, HEADING, SEMIBOLD, TEXT, with_replacements

HEAD = 23 * mm
LANE = 15.5
MARK = 11.5
DATE = 15
PAD = 4
BAND = 24
MOST_BOXES = 4
DATE_SIZE = 10
LONGEST_HELD = 30


@dataclass(frozen=True, slots=True)
class _Box:
    """A rectangle from its lower left corner, in points."""

    x: float
    y: float
    width: float
    height: float


class WeekRow(Flowable):
    """One week of the sheet."""

    def __init__(self, page: Page, row: Row, starts: Sequence[Cell], words: str) -> None:
        super().__init__()
        self.row, self.starts, self.words = row, starts, words
        self.width = page.measure
        self.lanes = sorted({mark.index for cell in row.cells for mark in cell.marks})
        band = BAND if starts else 0
        self.body = DATE + max(1, len(self.lanes)) * LANE + PAD
        self.height = self.body + band

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: N803, ARG002
        """Its size, whatever the space."""
        return self.width, self.height

    @property
    def day_width(self) -> float:
        """How wide one day is."""
        return (self.width - HEAD) / 7

    def draw(self) -> None:
        """Draw it."""
        with tagged(self.canv, "Figure", self.words):
            self._draw_band()
            self._draw_head()
            for column, cell in enumerate(self.row.cells):
                if cell.in_course:
                    x = HEAD + column * self.day_width
                    self._draw_day(cell, _Box(x, 0, self.day_width, self.body))

    def _draw_band(self) -> None:
        """The phases that begin this week, above it."""
        x = 0.0
        for cell in self.starts:
            name = phase_name(cell.phase or "")
            day = f"from {WEEKDAY_NAMES[cell.day.weekday()]} {_day_and_month(cell)}"
            self.canv.setFillColor(INK_COLOUR)
            self.canv.setFont(HEADING, 14)
            self.canv.drawString(x, self.body + 7, name)
            x += self.canv.stringWidth(name, HEADING, 14) + 6
            self.canv.setFillColor(QUIET_COLOUR)
            self.canv.setFont(TEXT, 12)
            self.canv.drawString(x, self.body + 7, day)
            x += self.canv.stringWidth(day, TEXT, 12) + 18

    def _draw_head(self) -> None:
        canvas, top = self.canv, self.body
        canvas.setStrokeColor(INK_COLOUR if self.starts else HAIRLINE_COLOUR)
        canvas.setLineWidth(0.8 if self.starts else HAIRLINE)
        canvas.line(0, top, self.width, top)
        if self.row.week is not None:
            canvas.setFillColor(INK_COLOUR)
            canvas.setFont(SEMIBOLD, 12)
            canvas.drawString(0, top - 12.5, f"Week {self.row.week}")

    def _draw_day(self, cell: Cell, box: _Box) -> None:
        canvas = self.canv
        begins = any(cell is one for one in self.starts)
        canvas.setStrokeColor(INK_COLOUR if begins else HAIRLINE_COLOUR)
        canvas.setLineWidth(1.6 if begins else HAIRLINE)
        canvas.line(box.x, box.y, box.x, box.y + box.height)
        canvas.setFillColor(QUIET_COLOUR)
        canvas.setFont(TEXT, DATE_SIZE)
        canvas.drawString(box.x + 4, box.y + box.height - 11.5, self._date(cell))
        if cell.flare:
            canvas.setFillColor(INK_COLOUR)
            canvas.setFont(SEMIBOLD, DATE_SIZE)
            right = box.x + box.width - 3
            canvas.drawRightString(right, box.y + box.height - 11.5, "flare")
        for mark in cell.marks:
            lane = self.lanes.index(mark.index)
            y = box.y + box.height - DATE - (lane + 1) * LANE
            stamp(
                canvas,
                f"lane-{mark.index}-{mark.state.name}-{mark.doses}-{mark.as_needed_max is not None}",
                partial(draw_lane, mark=mark, box=_Box(0, 0, box.width, LANE)),
                at=(box.x, y),
                size=(box.width, LANE),
            )

    def _date(self, cell: Cell) -> str:
        """The day of the month, with the month where it begins or the row does."""
        if cell.day.day == 1 or cell.day == self.row.first:
            return _day_and_month(cell, short=True)
        return str(cell.day.day)


def _day_and_month(cell: Cell, *, short: bool = False) -> str:
    month = MONTH_NAMES[cell.day.month - 1]
    return f"{cell.day.day}\u00a0{month[:3] if short else month}"


def draw_lane(canvas: Canvas, mark: Mark, box: _Box) -> None:
    """One remedy on one day."""
    x, y = box.x + 4, box.y + (box.height - MARK) / 2
    if mark.state in (State.OFF, State.PAUSED):
        _draw_off(canvas, mark, box)
        return
    draw_mark(canvas, mark.index, x, y, MARK)
    x += mark_width(mark.index, MARK) + 3
    x = _draw_boxes(canvas, mark, x, _Box(box.x, y, box.width, MARK))
    if mark.as_needed_max is not None:
        canvas.setStrokeColor(INK_COLOUR)
        canvas.setLineWidth(0.9)
        canvas.setDash(0.9, 2)
        canvas.line(x, y + 1, box.x + box.width - 4, y + 1)
        canvas.setDash()


def _draw_boxes(canvas: Canvas, mark: Mark, x: float, box: _Box) -> float:
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


def _draw_off(canvas: Canvas, mark: Mark, box: _Box) -> None:
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


class WeekdayHead(Flowable):
    """The names of the weekdays, above each page's weeks."""

    def __init__(self, page: Page) -> None:
        super().__init__()
        self.width, self.height = page.measure, 17

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: N803, ARG002
        """Its size, whatever the space."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw it."""
        day = (self.width - HEAD) / 7
        with decoration(self.canv):
            self.canv.setFillColor(QUIET_COLOUR)
            self.canv.setFont(SEMIBOLD, 12)
            for n, name in enumerate(WEEKDAY_NAMES):
                self.canv.drawString(HEAD + n * day + 4, 5, name[:3])


def phase_name(phase: str) -> str:
    """A phase's id as a heading."""
    words = with_replacements(phase.replace("-", " ").replace("_", " "))
    return f"{words[:1].upper()}{words[1:]}"


def sheet(page: Page, layout: Layout) -> Table:
    """All weeks of a course; the key and the weekdays come again on each further page."""
    found = course_sheet(layout)
    heads: list[Flowable] = [*_keys(layout, found), WeekdayHead(page)]
    begins = {run.span.first for run in layout.phases}
    weeks = [_week(page, layout, row, begins) for row in found]
    return Table(
        [[one] for one in (*heads, *weeks)],
        colWidths=[page.measure],
        repeatRows=len(heads),
        style=[
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
            ("LINEBELOW", (0, "splitlast"), (-1, "splitlast"), HAIRLINE, HAIRLINE_COLOUR),
            ("LINEBELOW", (0, -1), (-1, -1), HAIRLINE, HAIRLINE_COLOUR),
        ],
        hAlign="LEFT",
    )


def _week(page: Page, layout: Layout, row: Row, begins: set[object]) -> WeekRow:
    starts = [cell for cell in row.cells if cell.in_course and cell.day in begins]
    return WeekRow(page, row, starts, week_words(layout, row))


def week_words(layout: Layout, row: Row) -> str:
    """A week for a screen reader: its days, and each remedy with its doses from day to day."""
    inside = [cell for cell in row.cells if cell.in_course]
    number = row.week or course_week(layout.course.start, inside[0].day)
    said = [f"Week {number}, {plain_day(inside[0].day)} to {plain_day(inside[-1].day)}"]
    for index in sorted({mark.index for cell in inside for mark in cell.marks}):
        name = layout.course.remedies[index].name
        said.append(f"{name}: {_lane_words(inside, index)}")
    return ". ".join(said) + "."


def _lane_words(cells: Sequence[Cell], index: int) -> str:
    days: dict[str, list[str]] = {}
    for cell in cells:
        for mark in cell.marks:
            if mark.index == index:
                name = WEEKDAY_NAMES[cell.day.weekday()][:3]
                days.setdefault(_mark_words(mark), []).append(name)
    return "; ".join(f"{what} {' '.join(names)}" for what, names in days.items())


def _mark_words(mark: Mark) -> str:
    if mark.state is State.TAKEN:
        doses = f"{mark.doses} dose{'' if mark.doses == 1 else 's'}"
        return f"{doses} and as needed" if mark.as_needed_max is not None else doses
    return str(mark.state)


def _keys(layout: Layout, found: Sequence[Row]) -> list[Text]:
    """What the letters and signs mean, as far as they come in this course."""
    marks = [mark for row in found for cell in row.cells for mark in cell.marks]
    used = sorted({mark.index for mark in marks})
    names = [_key(layout, index) for index in used]
    states = {mark.state for mark in marks}
    signs = ["Tick a box for each dose that you take."]
    if any(mark.as_needed_max is not None for mark in marks):
        signs.append("Dotted line: taken when needed; make a stroke for each dose.")
    if State.OFF in states:
        signs.append("Hatched: days off; leave that remedy out.")
    if State.PAUSED in states:
        signs.append("Ruled through: paused.")
    return [Text("   ".join(names), style("body")), text(" ".join(signs), "quiet")]


def _key(layout: Layout, index: int) -> str:
    """A remedy's letter in its dye, and its name; a name of usual length stays in one line."""
    name = with_replacements(layout.course.remedies[index].name)
    held = name.replace(" ", "\u00a0") if len(name) <= LONGEST_HELD else name
    letter = f'<font name="{BOLD}" color="{dye_of(index).light}">{letter_of(index)}</font>'
    return f"{letter}\u00a0{escape(held, quote=False)}"
