"""The sheet of weeks: the picture of the screen's calendar, with boxes for the client to tick.

Each week is a row with a lane for every remedy of that week. A day's lane shows the
remedy's mark and a box for each dose; hatching is a day off, a dotted line takes a mark for
each dose as needed. Dye, pattern and letter say the same, so a grey copy can be read.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from functools import partial
from html import escape

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import course_week
from sennight.domain.directions.plain_words import MONTH_NAMES, WEEKDAY_NAMES, plain_day
from sennight.domain.remedies.letters import letter_of
from sennight.domain.schedule.weeks import CalendarWeek, DayCell, RemedyMark, State, course_weeks
from sennight.dyes import dye_of
from sennight.publish.handout.lanes import DATE_SIZE, Box, draw_lane
from sennight.publish.pdf.paragraphs import Text, text
from sennight.publish.pdf.style import (
    HAIRLINE,
    HAIRLINE_COLOUR,
    INK_COLOUR,
    QUIET_COLOUR,
    Page,
    style,
)
from sennight.publish.pdf.tables import Columns
from sennight.publish.pdf.tags import decoration, stamp, tagged
from sennight.publish.pdf.typeface import BOLD, HEADING, SEMIBOLD, TEXT, with_replacements

HEAD = 23 * mm
LANE, TIGHT_LANE = 15.5, 13
MOST_WIDE_LANES = 8
"""With more lanes than these in a week they stand closer."""
MOST_LANES = 16
DATE = 15
PAD = 6
BAND = 24
LONGEST_HELD = 30


class WeekRow(Flowable):
    """One week of the sheet."""

    def __init__(
        self,
        page: Page,
        row: CalendarWeek,
        starts: Sequence[DayCell],
        *,
        lanes: Sequence[int],
        words: str,
    ) -> None:
        super().__init__()
        self.row, self.starts, self.words = row, starts, words
        self.width = page.measure
        self.lanes = lanes
        band = BAND if starts else 0
        self.lane = LANE if len(self.lanes) <= MOST_WIDE_LANES else TIGHT_LANE
        self.body = DATE + max(1, len(self.lanes)) * self.lane + PAD
        self.height = self.body + band

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002
        """Its size, whatever the space."""
        return self.width, self.height

    @property
    def day_width(self) -> float:
        """How wide one day is."""
        return (self.width - HEAD) / 7

    def draw(self) -> None:
        """Draw it."""
        with tagged(self.canv, "Figure", self.words, box=(0, 0, self.width, self.height)):
            self._draw_band()
            self._draw_head()
            for column, cell in enumerate(self.row.cells):
                if cell.in_course:
                    x = HEAD + column * self.day_width
                    self._draw_day(cell, Box(x, 0, self.day_width, self.body))

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
        canvas.setFillColor(INK_COLOUR)
        canvas.setFont(SEMIBOLD, 12)
        canvas.drawString(0, top - 12.5, f"Week {self.row.week}" if self.row.week else "Last days")
        canvas.setStrokeColor(HAIRLINE_COLOUR)
        canvas.setLineWidth(HAIRLINE)
        canvas.line(0, 0, self.width, 0)

    def _draw_day(self, cell: DayCell, box: Box) -> None:
        canvas = self.canv
        begins = any(cell is start for start in self.starts)
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
            if mark.index not in self.lanes:
                continue
            lane = self.lanes.index(mark.index)
            y = box.y + box.height - DATE - (lane + 1) * self.lane
            stamp(
                canvas,
                _lane_name(mark, self.lane),
                partial(draw_lane, mark=mark, box=Box(0, 0, box.width, self.lane)),
                at=(box.x, y),
                size=(box.width, self.lane),
            )

    def _date(self, cell: DayCell) -> str:
        """The day of the month, with the month where it begins or the row does."""
        if cell.day.day == 1 or cell.day == self.row.first:
            return _day_and_month(cell, short=True)
        return str(cell.day.day)


def _day_and_month(cell: DayCell, *, short: bool = False) -> str:
    month = MONTH_NAMES[cell.day.month - 1]
    return f"{cell.day.day}\u00a0{month[:3] if short else month}"


def _lane_name(mark: RemedyMark, height: float) -> str:
    needed = "" if mark.as_needed_max is None else "-needed"
    return f"lane-{mark.index}-{mark.state.name}-{mark.doses}{needed}-{height}"


class WeekdayHead(Flowable):
    """The names of the weekdays, above each page's weeks."""

    def __init__(self, page: Page) -> None:
        super().__init__()
        self.width, self.height = page.measure, 22

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002
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


def sheet(page: Page, layout: Layout) -> Columns:
    """All weeks of a course; the key and the weekdays come again on each further page."""
    calendar = course_weeks(layout)
    heads: list[Flowable] = [*_keys(layout, calendar), WeekdayHead(page)]
    begins = {run.span.first for run in layout.phases}
    weeks = [part for row in calendar for part in _week(page, layout, row, begins)]
    return Columns(
        [[row] for row in (*heads, *weeks)],
        colWidths=[page.measure],
        repeatRows=len(heads),
        style=[
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
        ],
        hAlign="LEFT",
    )


def _week(page: Page, layout: Layout, row: CalendarWeek, begins: set[date]) -> Iterator[WeekRow]:
    """A week, in parts where it has more lanes than a page can well hold."""
    starts = [cell for cell in row.cells if cell.in_course and cell.day in begins]
    lanes = sorted({mark.index for cell in row.cells for mark in cell.marks})
    for at in range(0, max(1, len(lanes)), MOST_LANES):
        part = lanes[at : at + MOST_LANES]
        yield WeekRow(page, row, () if at else starts, lanes=part, words=week_words(layout, row))


def week_words(layout: Layout, row: CalendarWeek) -> str:
    """A week for a screen reader: its days, and each remedy with its doses from day to day."""
    inside = [cell for cell in row.cells if cell.in_course]
    number = row.week or course_week(layout.course.start, inside[0].day)
    sentences = [f"Week {number}, {plain_day(inside[0].day)} to {plain_day(inside[-1].day)}"]
    for index in sorted({mark.index for cell in inside for mark in cell.marks}):
        name = layout.course.remedies[index].name
        sentences.append(f"{name}: {_lane_words(inside, index)}")
    return ". ".join(sentences) + "."


def _lane_words(cells: Sequence[DayCell], index: int) -> str:
    days: dict[str, list[str]] = {}
    for cell in cells:
        for mark in cell.marks:
            if mark.index == index:
                name = WEEKDAY_NAMES[cell.day.weekday()][:3]
                days.setdefault(_mark_words(mark), []).append(name)
    return "; ".join(f"{what} {' '.join(names)}" for what, names in days.items())


def _mark_words(mark: RemedyMark) -> str:
    if mark.state is State.TAKEN:
        doses = f"{mark.doses} dose{'' if mark.doses == 1 else 's'}"
        return f"{doses} and as needed" if mark.as_needed_max is not None else doses
    return str(mark.state)


def _keys(layout: Layout, calendar: Sequence[CalendarWeek]) -> list[Text]:
    """What the letters and signs mean, as far as they come in this course."""
    marks = [mark for row in calendar for cell in row.cells for mark in cell.marks]
    used = sorted({mark.index for mark in marks})
    names = [_key(layout, index) for index in used]
    states = {mark.state for mark in marks}
    signs = ["Tick a box for each dose that you take."]
    if any(mark.as_needed_max is not None for mark in marks):
        signs.append("Dotted line: taken when needed; put a mark for each dose.")
    if State.OFF in states:
        signs.append("Hatched: days off. Leave that remedy out.")
    if State.PAUSED in states:
        signs.append("Crossed out: a break. Take nothing.")
    return [Text("\u00a0\u00a0 ".join(names), style("body")), text(" ".join(signs), "quiet")]


def _key(layout: Layout, index: int) -> str:
    """A remedy's letter in its dye, and its name; a name of usual length stays in one line."""
    name = with_replacements(layout.course.remedies[index].name)
    held = name.replace(" ", "\u00a0") if len(name) <= LONGEST_HELD else name
    letter = f'<font name="{BOLD}" color="{dye_of(index).light}">{letter_of(index)}</font>'
    return f"{letter}\u00a0{escape(held, quote=False)}"
