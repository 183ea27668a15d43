"""What was taken, of what was due, on the charts' axis: a lane a remedy, a cell a week; and days.

A cell is filled from the left: taken in the remedy's dye, then a line through what has no entry,
and what was missed is blank. So a week half entered does not look like a week half taken.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

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
from sennight.domain.charts.time_axis import TimeAxis, today_line, week_numbers
from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import counted, plain_date
from sennight.domain.follow_up.fullness import Fullness, WeekFullness
from sennight.domain.remedies.letters import letter_of

NOTE_DOT = 0.13
"""The radius of the dot that tells of a note, as a part of the cell's shorter side."""
LANE = 1.5
"""The height of a remedy's lane, in sizes of text."""


@dataclass(frozen=True, slots=True)
class DiaryChart:
    """What the lanes are drawn from; `until` is the last day that is told of."""

    layout: Layout
    weeks: tuple[WeekFullness, ...]
    until: date

    @property
    def remedies(self) -> tuple[str, ...]:
        """The remedies that have a lane, in the course's order."""
        return tuple(dict.fromkeys(week.remedy for week in self.weeks))

    def height(self, text: float) -> float:
        """How high it is drawn, the weeks' numbers beneath it."""
        return text * (LANE * len(self.remedies) + 1.6)


def diary_drawing(chart: DiaryChart, axis: TimeAxis) -> Drawing:
    """Draw the lanes."""
    text = axis.text
    height = chart.height(text)
    places = {remedy.id: n for n, remedy in enumerate(chart.layout.course.remedies)}
    rows = {remedy: n for n, remedy in enumerate(chart.remedies)}
    shapes: list[Shape] = []
    for remedy, row in rows.items():
        place = places[remedy]
        x, y = axis.left - text * 0.5, text * LANE * (row + 0.5)
        letter = letter_of(place)
        shapes.append(Words(x, y, letter, text, align=Align.END, is_strong=True, dye=place))
    for week in chart.weeks:
        top = text * (LANE * rows[week.remedy] + 0.2)
        shapes += _cell(chart, axis, week, top, places[week.remedy])
    shapes += today_line(axis, chart.until, 0, text * LANE * len(rows))
    shapes += week_numbers(axis, chart.layout.course.start, height - text * 0.7)
    return Drawing(axis.right + text, height, tuple(shapes), _words(chart))


def _cell(
    chart: DiaryChart, axis: TimeAxis, week: WeekFullness, top: float, place: int
) -> Iterator[Shape]:
    first = chart.layout.course.start + timedelta(weeks=week.week - 1)
    left, right = axis.room_of(Span(first, first + timedelta(weeks=1)))
    gap = min(axis.text * 0.15, (right - left) / 8)
    left, width, height = left + gap, right - left - gap * 2, axis.text * (LANE - 0.4)
    yield from _filled(week.fullness, Box(left, top, width, height), place)


def _filled(fullness: Fullness, room: Box, place: int) -> Iterator[Shape]:
    """A cell as full as its doses were taken; of a week something is always due."""
    taken = room.width * fullness.taken / fullness.due
    unrecorded = room.width * fullness.unrecorded / fullness.due
    if taken:
        yield DyedBox(room.x, room.y, taken, room.height, place)
    if unrecorded:
        yield _struck(Box(room.x + taken, room.y, unrecorded, room.height))
    stroke = Stroke.DOTTED if not fullness.recorded else Stroke.SOLID
    yield Box(room.x, room.y, room.width, room.height, edge=Ink.QUIET, stroke=stroke)


def _struck(room: Box) -> Lines:
    """The line through a place for which there is no entry."""
    middle = room.y + room.height / 2
    return Lines(((room.x, middle), (room.x + room.width, middle)), Ink.QUIET)


def _words(chart: DiaryChart) -> str:
    """Every cell in words, a remedy after the other."""
    names = {remedy.id: remedy.name for remedy in chart.layout.course.remedies}
    told = []
    for remedy in chart.remedies:
        weeks = [week for week in chart.weeks if week.remedy == remedy]
        cells = ", ".join(f"week {week.week} {fullness_words(week.fullness)}" for week in weeks)
        told.append(f"{names[remedy]}: {cells}")
    return "; ".join(told)


def fullness_words(fullness: Fullness) -> str:
    """`5 of 6`, `5 of 6, 2 without an entry`, `no entry for 3`."""
    if not fullness.due:
        return "nothing due"
    if not fullness.recorded:
        return f"no entry for {fullness.due}"
    told = f"{fullness.taken} of {fullness.recorded}"
    return f"{told}, {fullness.unrecorded} without an entry" if fullness.unrecorded else told


def day_words(day: date, fullness: Fullness) -> str:
    """A day of the diary in a sentence."""
    if not fullness.due:
        return f"{plain_date(day)}: nothing due"
    if not fullness.recorded:
        return f"{plain_date(day)}: {counted(fullness.due, 'dose')} due, no entry"
    told = f"{plain_date(day)}: {fullness.taken} of {fullness.recorded} doses taken"
    return f"{told}, {fullness.unrecorded} without an entry" if fullness.unrecorded else told


def day_drawing(
    fullness: Fullness | None, width: float, height: float, *, is_noted: bool = False
) -> Drawing:
    """A day's cell: a column as high as was taken; None is a day outside the diary.

    A dot in its upper left corner tells that something was said of the day.
    """
    shapes = () if fullness is None else tuple(_day(fullness, Box(0, 0, width, height)))
    if is_noted:
        r = min(width, height) * NOTE_DOT
        at = r * 2.2
        shapes = (*shapes, Dot(at, at, r * 1.5, Ink.PAPER), Dot(at, at, r, Ink.INK))
    return Drawing(width, height, shapes)


def _day(fullness: Fullness, room: Box) -> Iterator[Shape]:
    if not fullness.due:
        middle = room.y + room.height / 2
        ends = (room.x + room.width * 0.4, middle), (room.x + room.width * 0.6, middle)
        yield Lines(ends, Ink.QUIET)
        return
    taken = room.height * fullness.taken / fullness.due
    missed = room.height * fullness.missed / fullness.due
    top = room.y + room.height - taken
    yield Box(room.x, top, room.width, taken, Ink.TAKEN)
    if fullness.unrecorded:
        rest = room.height - taken - missed
        yield _struck(Box(room.x, room.y, room.width, rest))
    stroke = Stroke.DOTTED if not fullness.recorded else Stroke.SOLID
    yield Box(room.x, room.y, room.width, room.height, edge=Ink.QUIET, stroke=stroke)


def day_weeks(
    days: Sequence[tuple[date, Fullness]],
) -> tuple[tuple[tuple[date, Fullness] | None, ...], ...]:
    """The days as rows from Monday to Sunday, None where a row begins or ends outside them."""
    rows: dict[date, list[tuple[date, Fullness] | None]] = {}
    for day, fullness in days:
        monday = day - timedelta(days=day.weekday())
        rows.setdefault(monday, [None] * 7)[day.weekday()] = day, fullness
    return tuple(tuple(row) for row in rows.values())
