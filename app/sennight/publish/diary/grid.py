"""Where everything on a diary sheet stands, in millimetres from the paper's upper left corner.

Four weeks go on a page where they fit, fewer where amounts change often; more columns than a
page is wide go on further pages of the same days. What is placed here is drawn, and written as
the grid by which a photo of the sheet is read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from reportlab.lib.units import mm
from reportlab.lib.utils import simpleSplit
from reportlab.pdfbase.pdfmetrics import stringWidth

from sennight.domain.courses.courses import Course
from sennight.domain.directions.plain_words import plain_day
from sennight.domain.follow_up.measures import NO_OWN, Measures
from sennight.domain.remedies.letters import letter_of
from sennight.domain.take_home.saying import Saying
from sennight.publish.diary.columns import Heads, column_parts, place_heads
from sennight.publish.diary.content import (
    Column,
    DiaryDay,
    changes,
    choices_of,
    first_amounts,
)
from sennight.publish.diary.measures import EDGE, LEFT, Paper
from sennight.publish.diary.words import rating_words, scale_words
from sennight.publish.pdf.typeface import TEXT

_AIR = 2.0
"""Around a number before its box, in millimetres."""
_NEAR = 0.6
"""Of it, between the number and its box, so that it is not taken for that of the box before."""


@dataclass(frozen=True, slots=True)
class Rating:
    """One value of a measure that is rated on a day for its week."""

    day: date
    measure: str
    value: int


@dataclass(frozen=True, slots=True)
class DoseBox:
    """A dose of a column on one of the client's days."""

    day: date
    column: Column


@dataclass(frozen=True, slots=True)
class GridBox:
    """A box to tick, by its upper left corner, and what a tick in it says."""

    x: float
    y: float
    size: float
    says: DoseBox | Rating


@dataclass(frozen=True, slots=True)
class TextLine:
    """Words on a line of their own; `height` from its top."""

    y: float
    height: float
    words: str


@dataclass(frozen=True, slots=True)
class Number:
    """A number by the right end and the top of its line; its box stands right of it."""

    x: float
    y: float
    value: int


@dataclass(frozen=True, slots=True)
class RatingRow:
    """A measure's boxes in a row, or in lines; the label stands above them or at their side."""

    label: TextLine
    numbers: tuple[Number, ...]


@dataclass(frozen=True, slots=True)
class PlacedWeek:
    """A week on a page: from its top to its foot, its days, and what stands between them."""

    week: int
    top: float
    bottom: float
    days: tuple[tuple[float, DiaryDay], ...]
    changes: tuple[TextLine, ...]
    ratings: tuple[RatingRow, ...]


@dataclass(frozen=True, slots=True)
class GridPage:
    """A page: its weeks with the columns that it has, and all its boxes."""

    heads: Heads
    row: float
    """How high the row of a day is."""
    amounts: dict[int, str]
    """The remedies of the page by their place in the course, with their amount at first."""
    weeks: tuple[PlacedWeek, ...]
    boxes: tuple[GridBox, ...]

    @property
    def first(self) -> date:
        """The first day."""
        return self.weeks[0].days[0][1].day

    @property
    def last(self) -> date:
        """The last day."""
        return self.weeks[-1].days[-1][1].day


Weeks = Sequence[tuple[DiaryDay, ...]]
_EXACT = 0.001
"""Rows that share the room of a page out fill it up to so much, in millimetres."""
HeadHeight = Callable[[dict[int, str]], float]
"""Millimetres that the words above the boxes take on a page with these remedies and amounts."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a diary asks: of which course, each week rated by which measures, in which words.

    `known` is what is held of the measures.
    """

    course: Course
    measures: tuple[str, ...]
    saying: Saying
    known: Measures = NO_OWN


def lay_out_pages(
    weeks: Weeks, asked: Asked, paper: Paper, head_height: HeadHeight
) -> tuple[GridPage, ...]:
    """The pages of a diary; `head_height` says how much room the words above the boxes take."""
    pages: list[GridPage] = []
    at = 0
    while at < len(weeks):
        for count in range(min(paper.sizes.most_weeks, len(weeks) - at), 0, -1):
            chosen = weeks[at : at + count]
            parts = list(_pages(chosen, asked, paper, head_height))
            if count == 1 or all(_fits(page, paper) for page in parts):
                pages += parts
                at += count
                break
    return tuple(pages)


def _fits(page: GridPage, paper: Paper) -> bool:
    return page.weeks[-1].bottom <= paper.bottom + _EXACT


def _pages(
    weeks: Weeks, asked: Asked, paper: Paper, head_height: HeadHeight
) -> Iterator[GridPage]:
    """The pages of these weeks: one, or as many as their columns need."""
    columns = {column for week in weeks for day in week for column in day.taken}
    for number, part in enumerate(column_parts(columns, paper)):
        asks = asked if number == 0 else replace(asked, measures=())
        yield from _parts(part, _Room(weeks, paper, head_height), asks)


@dataclass(frozen=True, slots=True)
class _Room:
    """The weeks that share a page, and the paper."""

    weeks: Weeks
    paper: Paper
    head_height: HeadHeight


def _parts(part: Sequence[Column], room: _Room, asked: Asked) -> Iterator[GridPage]:
    """The columns on a page; on two where even one week does not fit beneath long names."""
    page = _page(part, room, asked)
    is_over = page.weeks[-1].bottom > room.paper.bottom
    if len(room.weeks) == 1 and is_over and len(part) > 1:
        half = len(part) // 2
        yield from _parts(part[:half], room, asked)
        yield from _parts(part[half:], room, replace(asked, measures=()))
    else:
        yield page


def _page(part: Sequence[Column], room: _Room, asked: Asked) -> GridPage:
    """The weeks with these columns, the rows as far apart as the page has room for."""
    weeks, paper = room.weeks, room.paper
    days = [day for week in weeks for day in week]
    indexes = frozenset(column.index for column in part)
    amounts = {index: amount for index, amount in first_amounts(days).items() if index in indexes}
    heads = place_heads(part, asked.saying, paper, EDGE + room.head_height(amounts))
    least = paper.sizes.least_row
    close = _Placing(paper, asked, heads, least).place(weeks, amounts, indexes)
    spare = (paper.bottom - close.weeks[-1].bottom) / len(days)
    row = min(paper.sizes.most_row, least + max(0.0, spare))
    return _Placing(paper, asked, heads, row).place(weeks, amounts, indexes)


class _Placing:
    """Places the rows of one page from top to bottom."""

    def __init__(self, paper: Paper, asked: Asked, heads: Heads, row: float) -> None:
        self.paper, self.sizes, self.heads, self.row = paper, paper.sizes, heads, row
        self.measures, self.known = asked.measures, asked.known
        self.y = heads.bottom
        self.boxes: list[GridBox] = []

    def place(self, weeks: Weeks, amounts: dict[int, str], indexes: frozenset[int]) -> GridPage:
        days = [day for week in weeks for day in week]
        changed = changes(days, indexes)
        placed = []
        for week in weeks:
            top, rows, lines = self.y, [], []
            for day in week:
                if day.day in changed:
                    lines.append(self._change(day.day, changed[day.day]))
                rows.append((self.y, day))
                self._day(day)
            ratings = tuple(self._rating(week[-1].day, measure) for measure in self.measures)
            placed.append(
                PlacedWeek(week[0].week, top, self.y, tuple(rows), tuple(lines), ratings)
            )
            self.y += self.sizes.week_gap
        return GridPage(self.heads, self.row, amounts, tuple(placed), tuple(self.boxes))

    def _day(self, day: DiaryDay) -> None:
        up = (self.row - self.sizes.box) / 2
        for column, x in self.heads.columns.items():
            if column in day.taken:
                box = GridBox(x, self.y + up, self.sizes.box, DoseBox(day.day, column))
                self.boxes.append(box)
        self.y += self.row

    def _change(self, day: date, taken: Mapping[int, str]) -> TextLine:
        amounts = "; ".join(f"{letter_of(index)} {amount}" for index, amount in taken.items())
        return self._line(f"From {plain_day(day)}: {amounts}")

    def _line(self, words: str) -> TextLine:
        lines = simpleSplit(words, TEXT, self.sizes.type, (self.paper.right - LEFT) * mm)
        height = self.sizes.change + (len(lines) - 1) * self.sizes.leading / mm
        line = TextLine(self.y, height, words)
        self.y += height
        return line

    def _side(self) -> float:
        """The room for the longest label, so that the boxes of all stand in columns."""
        longest = max(self.measures, key=lambda name: self._width(scale_words(name)))
        return self._width(scale_words(longest)) + 3

    def _width(self, words: str) -> float:
        return stringWidth(words, TEXT, self.sizes.type) / mm

    def _rating(self, day: date, measure: str) -> RatingRow:
        """The label stands at the side, or above where it and the boxes need more room.

        What is too wide for one line even so goes on in as few as it needs.
        """
        words, values = rating_words(measure, self.known), choices_of(measure)
        room = self.paper.right - LEFT
        side = self._side()
        if sum(self._widths(values)) <= room - side:
            label, room = TextLine(self.y, self.sizes.score, words), room - side
        else:
            label = self._line(words)
        numbers: list[Number] = []
        for line in self._lines(values, room):
            numbers += self._boxes(line, day, measure, room)
            self.y += self.sizes.score
        return RatingRow(label, tuple(numbers))

    def _widths(self, values: Sequence[int]) -> list[float]:
        """The room for each number and its box, the same for all of one length."""
        numbers = (self._width("0" * len(str(value))) for value in values)
        return [self.sizes.box + number + _AIR for number in numbers]

    def _lines(self, values: Sequence[int], room: float) -> list[Sequence[int]]:
        """The numbers in as few lines as there is room for, about as many in each."""
        for count in range(1, len(values)):
            most = -(-len(values) // count)
            lines = [values[at : at + most] for at in range(0, len(values), most)]
            if all(sum(self._widths(line)) <= room for line in lines):
                return lines
        return [[value] for value in values]

    def _boxes(
        self, values: Sequence[int], day: date, measure: str, room: float
    ) -> Iterator[Number]:
        """A line of boxes up to the right edge, with equal steps where there is room for them."""
        widths, up = self._widths(values), (self.sizes.score - self.sizes.box) / 2
        if max(widths) * len(widths) <= room:
            widths = [max(widths)] * len(widths)
        spare = (room - sum(widths)) / len(widths)
        end = self.paper.right - room
        for value, width in zip(values, widths, strict=True):
            end += width + spare
            x = end - self.sizes.box
            says = Rating(day, measure, value)
            self.boxes.append(GridBox(x, self.y + up, self.sizes.box, says))
            yield Number(x - _NEAR, self.y, value)
