"""The whole course on one sheet, as the calendar and the handout draw it.

Rows are calendar weeks, columns Monday to Sunday. A row carries the number of the course week
that *begins* in it: course weeks are counted from the start date, whatever its weekday, so
exactly one of them begins in each row, and row n has week n. In a course that starts on
a Wednesday, row 1 begins with two blank cells, and the Monday and Tuesday of row 2 still
belong to course week 1; each cell knows its own week. A last row in which no week of the
course begins has no number.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from functools import cached_property

from sennight.domain.courses.phase_names import plan_title
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span, without
from sennight.domain.directions.plain_words import counted, plain_day, plain_dose, plain_times

AT_ONCE = 8
"""So many rows are worked out together."""


class State(StrEnum):
    """What a remedy does on a day."""

    TAKEN = "taken"
    AS_NEEDED = "as needed"
    OFF = "off"
    PAUSED = "paused"


@dataclass(frozen=True, slots=True)
class RemedyMark:
    """One remedy on one day.

    `index` is its place in the course, from 0 (its dye, pattern and letter); `doses` the
    timed doses; `as_needed_max` the most doses beyond these, None where there are none;
    `in_flare` whether it is taken or left out under the flare-up plan; `stretch` what it is
    taken by, None on a day off or in a pause.
    """

    index: int
    remedy: str
    state: State
    doses: int = 0
    as_needed_max: int | None = None
    in_flare: bool = False
    stretch: Stretch | None = None


@dataclass(frozen=True, slots=True)
class DayCell:
    """One day: its course week and phases where it lies in the course, its marks in order.

    A day on which a remedy of the phase is not due (every other day, other weekdays) has no
    mark for it. `resting` is a day on which nothing is taken and at least one remedy is off.
    """

    day: date
    in_course: bool
    week: int | None = None
    phase: str | None = None
    flare: str | None = None
    paused: bool = False
    marks: tuple[RemedyMark, ...] = ()

    @property
    def resting(self) -> bool:
        """Whether all remedies that have a mark are off."""
        return bool(self.marks) and all(mark.state is State.OFF for mark in self.marks)


@dataclass(frozen=True, slots=True)
class CalendarWeek:
    """A calendar week: seven cells from `monday`, and the course week that begins in it."""

    week: int | None
    monday: date
    cells: tuple[DayCell, ...]

    @property
    def first(self) -> date:
        """The first of its days that lies in the course."""
        return next((cell.day for cell in self.cells if cell.in_course), self.monday)


class CourseWeeks:
    """The rows of a course, from the week of its first day to that of its last.

    Some rows at a time are worked out when one of them is first asked for: of a year on the
    screen, a few weeks are seen.
    """

    def __init__(self, layout: Layout) -> None:
        self._layout, self._days = layout, layout.days
        self._monday = self._days.first - timedelta(days=self._days.first.weekday())
        self._rows: dict[int, CalendarWeek] = {}

    def __len__(self) -> int:
        days = self._days
        return (days.last - self._monday).days // 7 + 1 if days else 0

    def __iter__(self) -> Iterator[CalendarWeek]:
        return map(self.row, range(len(self)))

    @property
    def mondays(self) -> tuple[date, ...]:
        """The first day of each row."""
        return tuple(self._monday + timedelta(weeks=n) for n in range(len(self)))

    def row(self, number: int) -> CalendarWeek:
        """A row, counted from 0."""
        if number not in self._rows:
            first = number - number % AT_ONCE
            numbers = range(first, min(first + AT_ONCE, len(self)))
            self._rows.update(zip(numbers, self._worked_out(numbers), strict=True))
        return self._rows[number]

    def cell(self, day: date) -> DayCell | None:
        """A day of the course; None for one outside it."""
        if day not in self._days:
            return None
        return self.row((day - self._monday).days // 7).cells[day.weekday()]

    def _worked_out(self, numbers: range) -> Iterator[CalendarWeek]:
        first = self._monday + timedelta(weeks=numbers.start)
        shown = Span(first, first + timedelta(weeks=len(numbers)))
        cells = tuple(self._cells(shown))
        start = self._layout.course.start
        for at, number in enumerate(numbers):
            yield _row(cells[at * 7 : at * 7 + 7], start, number + 1)

    def _cells(self, shown: Span) -> Iterator[DayCell]:
        layout, within = self._layout, shown.overlap(self._days)
        marks = _marks_by_day(self._marks, shown)
        phases = _by_day(shown, ((run.span, run.phase.id) for run in layout.phases))
        flares = _by_day(shown, ((run.span, run.phase.id) for run in layout.flares))
        paused = _by_day(shown, ((span, "paused") for span in layout.pauses))
        before = (shown.first - self._days.first).days
        for n, day in enumerate(shown):
            if day not in within:
                yield DayCell(day, in_course=False)
                continue
            yield DayCell(
                day,
                in_course=True,
                week=(before + n) // 7 + 1,
                phase=phases[n],
                flare=flares[n],
                paused=paused[n] is not None,
                marks=tuple(marks[n]),
            )

    @cached_property
    def _marks(self) -> list[tuple[Span, RemedyMark]]:
        return sorted(_spans_of_marks(self._layout), key=lambda pair: pair[1].index)


def _row(cells: tuple[DayCell, ...], start: date, number: int) -> CalendarWeek:
    begins = start + timedelta(weeks=number - 1)
    in_course = any(cell.in_course and cell.day == begins for cell in cells)
    return CalendarWeek(number if in_course else None, cells[0].day, cells)


def _by_day(days: Span, spans: Iterable[tuple[Span, str]]) -> list[str | None]:
    values: list[str | None] = [None] * days.days
    for span, value in spans:
        for n in _offsets(days, span):
            values[n] = value
    return values


def _offsets(days: Span, span: Span, step: int = 1) -> range:
    """Every so many days of a span that lie in some days, counted from the first of these."""
    first, end = (span.first - days.first).days, (span.end - days.first).days
    return range(first if first >= 0 else first % step, min(end, days.days), step)


def _marks_by_day(marks: Iterable[tuple[Span, RemedyMark]], days: Span) -> list[list[RemedyMark]]:
    by_day: list[list[RemedyMark]] = [[] for _ in range(days.days)]
    for span, mark in marks:
        rule = mark.stretch.days if mark.stretch else None
        weekdays = rule.weekdays if rule else ()
        for n in _offsets(days, span, rule.every if rule else 1):
            if not weekdays or (days.first.weekday() + n) % 7 in weekdays:
                by_day[n].append(mark)
    return by_day


def _spans_of_marks(layout: Layout) -> Iterator[tuple[Span, RemedyMark]]:
    order = {remedy.id: n for n, remedy in enumerate(layout.course.remedies)}
    rescues = {run.phase.id for run in layout.flares}
    for s in layout.stretches:
        state = State.TAKEN if s.times else State.AS_NEEDED
        in_flare = s.phase in rescues
        yield (
            s.span,
            RemedyMark(
                order[s.remedy], s.remedy, state, len(s.times), s.as_needed_max, in_flare, s
            ),
        )
    for rest in layout.rests:
        yield (
            rest.span,
            RemedyMark(order[rest.remedy], rest.remedy, State.OFF, in_flare=rest.phase in rescues),
        )
    for span, remedy in _paused(layout):
        yield span, RemedyMark(order[remedy], remedy, State.PAUSED)


def _paused(layout: Layout) -> Iterator[tuple[Span, str]]:
    """The days on which a pause keeps a remedy of the running phase from being taken."""
    for run in layout.phases:
        for line in run.phase.lines:
            for span in _not_in_flare(layout, line.remedy, run.span):
                yield span, line.remedy
    for remedy, days in layout.plan.joined_on():
        for span in _not_in_flare(layout, remedy, days):
            yield span, remedy


def _not_in_flare(layout: Layout, remedy: str, span: Span) -> Iterator[Span]:
    stopped = [day for stopped_remedy, day in layout.plan.stops if stopped_remedy == remedy]
    holes = [
        flare.span
        for flare in layout.flares
        if flare.phase.stand_in or any(line.remedy == remedy for line in flare.phase.lines)
    ]
    holes += [Span(day, date.max) for day in stopped]
    for pause in layout.pauses:
        yield from without(pause.overlap(span), tuple(holes))


# A day in words


@dataclass(frozen=True, slots=True)
class DayText:
    """A day in words: the day with its week and phase, then each remedy's doses."""

    head: str
    doses: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """All of it, for a screen reader."""
        return f"{self.head}: {'; '.join(self.doses)}."


def day_text(layout: Layout, cell: DayCell) -> DayText:
    """A cell in words."""
    head = plain_day(cell.day)
    if not cell.in_course:
        return DayText(head, ("outside the course",))
    where = [head, f"week {cell.week}", *([cell.phase] if cell.phase else [])]
    where += [plan_title(cell.flare)] if cell.flare else []
    doses = tuple(_mark_words(layout, mark) for mark in cell.marks)
    nothing = "paused" if cell.paused else "nothing to take"
    return DayText(", ".join(where), doses or (nothing,))


def _mark_words(layout: Layout, mark: RemedyMark) -> str:
    name = layout.course.remedy(mark.remedy).name
    stretch = mark.stretch
    if stretch is None:
        return f"{name} {'off' if mark.state is State.OFF else 'paused'}"
    amount = plain_dose(stretch.directions)
    text = f"{name} {amount}"
    if stretch.times:
        text += f" at {plain_times(stretch.times)}"
    if stretch.as_needed_max is not None:
        also = ", and" if stretch.times else ""
        more = " more" if stretch.times else ""
        times = "once" if stretch.as_needed_max == 1 else counted(stretch.as_needed_max, "time")
        text += f"{also} when needed, at most {times}{more}"
    return text
