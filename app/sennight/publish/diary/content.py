"""What a diary sheet asks about: the days up to the next visit, and the doses of each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from sennight.domain.courses.advice_days import AdviceRun, advice_runs
from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span, course_week
from sennight.domain.day import MEALS, ClientDay, Moment
from sennight.domain.directions.directions import FOOD_SHIFT
from sennight.domain.follow_up.measures import STIFFNESS, Better, Measure, Measures
from sennight.domain.remedies.dose_words import dose_words
from sennight.domain.reminders.markers import review_days
from sennight.domain.schedule.day_plan import day_plan

LONGEST = timedelta(weeks=12)
"""The most days that one diary is for."""
SHORTEST = timedelta(days=6)
"""A visit sooner than this is not waited for: the diary goes on to the one after it."""
OVERALL = "overall"
"""What is rated where the course waits for no measure."""
OVERALL_MEASURE = Measure(OVERALL, "Overall", Better.MORE)
"""As the sheet asks for it."""
RATED = (0, 10)
"""The scale that the sheet has a row for, a box for each number."""
MINUTES = (0, 5, 10, 15, 20, 30, 45, 60, 90, 120, 180)
"""What a row in minutes has boxes for: the nearest is crossed, the last by all who need longer.

Finer where it is short: around 30 and 60 minutes the length of morning stiffness tells most
(common practice). As many as a rating has, so that all boxes of a week stand in columns.
"""


@dataclass(frozen=True, slots=True, order=True)
class Column:
    """One box a day: of the remedy at `index`, at a time of the day or when needed.

    `minute` counts from the midnight that begins the client's day; 1440 and more is the night
    after. When needed there is no time, and `number` counts the doses from 1. With `is_advice` it
    is of a line of advice, which are counted on from the remedies; without a time it is for the
    whole day.
    """

    minute: int | None
    index: int
    number: int = 0
    is_advice: bool = False

    @property
    def place(self) -> tuple[int, int, int]:
        """What columns are put in order by: times of the day, then what is taken when needed."""
        return (10_000 if self.minute is None else self.minute, self.index, self.number)


@dataclass(frozen=True, slots=True)
class DiaryDay:
    """One of the client's days; of the columns that have a box on it, how much is taken.

    Advice has no amount.
    """

    day: date
    week: int
    taken: dict[Column, str]


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
    runs = tuple(run for run in advice_runs(layout) if run.advice.diary)
    return tuple(_day(layout, day, runs) for day in days)


def _dose(layout: Layout, stretch: Stretch) -> str:
    return dose_words(stretch.directions, layout.course.remedy(stretch.formula))


def _day(layout: Layout, day: date, runs: Sequence[AdviceRun]) -> DiaryDay:
    plan = day_plan(layout, day)
    taken = {
        Column(at.minute, dose.index): _dose(layout, dose.stretch)
        for at in plan.times
        for dose in at.doses
    }
    for needed in plan.as_needed:
        for number in range(1, needed.ceiling + 1):
            taken[Column(None, needed.index, number)] = _dose(layout, needed.stretch)
    names = names_of(layout.course)
    for run in runs:
        if run.holds_on(day):
            index = names.index(run.advice.text, len(layout.course.remedies))
            for minute in run.times or (None,):
                taken[Column(minute, index, is_advice=True)] = ""
    return DiaryDay(day, course_week(layout.course.start, day), taken)


def names_of(course: Course) -> tuple[str, ...]:
    """What a column's index stands for: the remedies, then the advice that is ticked off."""
    phases = course.protocol.phases
    advice = dict.fromkeys(line.text for phase in phases for line in phase.advice if line.diary)
    return (*(remedy.name for remedy in course.remedies), *advice)


def weeks_of(days: Sequence[DiaryDay]) -> tuple[tuple[DiaryDay, ...], ...]:
    """The days by their weeks of the course, of which the first may be short."""
    weeks: dict[int, list[DiaryDay]] = {}
    for day in days:
        weeks.setdefault(day.week, []).append(day)
    return tuple(tuple(week) for week in weeks.values())


def changes(days: Sequence[DiaryDay], indexes: frozenset[int]) -> dict[date, dict[int, str]]:
    """The days on which a remedy's amount differs from the one before, with the new amount."""
    last: dict[int, str] = {}
    found: dict[date, dict[int, str]] = {}
    for day in days:
        for column, amount in day.taken.items():
            if column.index in indexes and last.get(column.index, amount) != amount:
                found.setdefault(day.day, {})[column.index] = amount
            last[column.index] = amount
    return found


def first_amounts(days: Sequence[DiaryDay]) -> dict[int, str]:
    """What each remedy's amount is at first, by its place in the course."""
    found: dict[int, str] = {}
    for day in days:
        for column, amount in day.taken.items():
            found.setdefault(column.index, amount)
    return dict(sorted(found.items()))


def measures_of(
    layout: Layout, days: Span, recorded: Sequence[str], own: Measures
) -> tuple[str, ...]:
    """What the client rates each week: what was rated before, what a phase waits for.

    The sheet has rows of 0 to 10, and of minutes for morning stiffness; what has another scale is
    asked for by word of mouth.
    """
    waited = [
        run.phase.gate.measure
        for run in layout.phases
        if run.phase.gate and run.span.touches(days)
    ]
    on_row = (name for name in (*recorded, *waited) if _has_row(name, own))
    return tuple(dict.fromkeys(on_row)) or (OVERALL,)


def _has_row(measure: str, own: Measures) -> bool:
    return is_in_minutes(measure) or own.scale(measure) == RATED


def is_in_minutes(measure: str) -> bool:
    """Whether the sheet asks for the minutes of morning stiffness."""
    return measure.casefold() == STIFFNESS.id


def choices_of(measure: str) -> tuple[int, ...]:
    """What the boxes of a measure's row stand for."""
    return MINUTES if is_in_minutes(measure) else tuple(range(RATED[0], RATED[1] + 1))


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
