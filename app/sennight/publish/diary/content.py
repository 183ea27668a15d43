"""What a diary sheet asks about: the days up to the next visit, and the doses of each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span, course_week
from sennight.domain.day import MEALS, ClientDay, Moment
from sennight.domain.directions.directions import FOOD_SHIFT
from sennight.domain.directions.plain_words import plain_dose
from sennight.domain.reminders.markers import review_days
from sennight.domain.schedule.day_plan import day_plan

LONGEST = timedelta(weeks=12)
"""The most days that one diary is for."""
SHORTEST = timedelta(days=6)
"""A visit sooner than this is not waited for: the diary goes on to the one after it."""
OVERALL = "overall"
"""What is rated where the course waits for no measure."""


@dataclass(frozen=True, slots=True, order=True)
class Column:
    """One box a day: of the remedy at `index`, at a time of the day or when needed.

    `minute` counts from the midnight that begins the client's day; 1440 and more is the night
    after. When needed there is no time, and `number` counts the doses from 1.
    """

    minute: int | None
    index: int
    number: int = 0

    @property
    def place(self) -> tuple[int, int, int]:
        """What columns are put in order by: times of the day, then what is taken when needed."""
        return (10_000 if self.minute is None else self.minute, self.index, self.number)


@dataclass(frozen=True, slots=True)
class DiaryDay:
    """One of the client's days, and what is taken in the columns that have a box on it."""

    day: date
    week: int
    taken: dict[Column, Stretch]


@dataclass(frozen=True, slots=True)
class NamedTime:
    """A time of the day: a moment, or half an hour before or after a meal; or a clock time."""

    moment: Moment | None
    shift: int = 0


def diary_days(layout: Layout, today: date) -> Span:
    """The days of a diary that is given today: up to the next visit, 12 weeks at most.

    Empty where the course has no day left.
    """
    first = max(today, layout.days.first)
    visits = [day for day in review_days(layout) if day >= first + SHORTEST]
    last = min([*visits[:1], layout.days.last, first + LONGEST - timedelta(days=1)])
    return Span(first, max(first, last + timedelta(days=1)))


def diary_content(layout: Layout, days: Span) -> tuple[DiaryDay, ...]:
    """The days of a diary with their boxes."""
    return tuple(_day(layout, day) for day in days)


def _day(layout: Layout, day: date) -> DiaryDay:
    plan = day_plan(layout, day)
    taken = {Column(at.minute, dose.index): dose.stretch for at in plan.times for dose in at.doses}
    for needed in plan.as_needed:
        for number in range(1, needed.ceiling + 1):
            taken[Column(None, needed.index, number)] = needed.stretch
    return DiaryDay(day, course_week(layout.course.start, day), taken)


def weeks_of(days: Sequence[DiaryDay]) -> tuple[tuple[DiaryDay, ...], ...]:
    """The days by their weeks of the course, of which the first may be short."""
    weeks: dict[int, list[DiaryDay]] = {}
    for day in days:
        weeks.setdefault(day.week, []).append(day)
    return tuple(tuple(week) for week in weeks.values())


def changes(days: Sequence[DiaryDay], indexes: frozenset[int]) -> dict[date, dict[int, Stretch]]:
    """The days on which a remedy's amount differs from the one before, with the new amount."""
    last: dict[int, Stretch] = {}
    found: dict[date, dict[int, Stretch]] = {}
    for day in days:
        for column, stretch in day.taken.items():
            before = last.get(column.index)
            if column.index in indexes and before is not None and _differ(before, stretch):
                found.setdefault(day.day, {})[column.index] = stretch
            last[column.index] = stretch
    return found


def _differ(before: Stretch, after: Stretch) -> bool:
    return plain_dose(before.directions) != plain_dose(after.directions)


def first_amounts(days: Sequence[DiaryDay]) -> dict[int, Stretch]:
    """What each remedy's amount is at first, by its place in the course."""
    found: dict[int, Stretch] = {}
    for day in days:
        for column, stretch in day.taken.items():
            found.setdefault(column.index, stretch)
    return dict(sorted(found.items()))


def measures(layout: Layout, days: Span, recorded: Sequence[str]) -> tuple[str, ...]:
    """What the client rates each week: what was rated before, what a phase waits for."""
    waited = [
        run.phase.gate.measure
        for run in layout.phases
        if run.phase.gate and run.span.touches(days)
    ]
    return tuple(dict.fromkeys((*recorded, *waited))) or (OVERALL,)


def named_time(day: ClientDay, minute: int) -> NamedTime:
    """What a time is called."""
    return dict(_names(day)).get(minute, NamedTime(None))


def _names(day: ClientDay) -> Iterator[tuple[int, NamedTime]]:
    """Names of minutes, of which the later go before the earlier."""
    for meal in MEALS:
        yield day.minute(meal) + FOOD_SHIFT, NamedTime(meal, FOOD_SHIFT)
        yield day.minute(meal) - FOOD_SHIFT, NamedTime(meal, -FOOD_SHIFT)
    for moment in Moment:
        yield day.minute(moment), NamedTime(moment)
