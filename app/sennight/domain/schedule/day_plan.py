"""One of the client's days: the doses at their times, and what may be taken as needed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.day import MEALS, ClientDay, Moment
from sennight.domain.directions.directions import FOOD_SHIFT
from sennight.domain.directions.plain_words import plain_meal, plain_moment


@dataclass(frozen=True, slots=True)
class DayDose:
    """One remedy at one time; `index` is its place in the course, from 0."""

    index: int
    remedy: str
    stretch: Stretch


@dataclass(frozen=True, slots=True)
class DayTime:
    """The doses that fall together, at minutes from the midnight that begins the client's day.

    `moment` names the time in the client's own day: `lunch`, `half an hour before supper`;
    empty where it is a clock time alone. 1440 minutes and more carry the next date.
    """

    minute: int
    moment: str
    doses: tuple[DayDose, ...]


@dataclass(frozen=True, slots=True)
class AsNeededDose:
    """What may be taken as needed on a day, with its ceiling beyond the timed doses."""

    index: int
    remedy: str
    stretch: Stretch
    ceiling: int


@dataclass(frozen=True, slots=True)
class DayPlan:
    """A client's day from rising to bedtime, both in minutes as in DayTime."""

    day: date
    rising: int
    bedtime: int
    times: tuple[DayTime, ...]
    as_needed: tuple[AsNeededDose, ...]


def day_plan(layout: Layout, day: date) -> DayPlan:
    """What is taken on one of the client's days; nothing outside the course."""
    taken = tuple(stretch for stretch in layout.stretches if stretch.taken_on(day))
    return plan_of(layout, day, taken)


def plan_of(layout: Layout, day: date, taken: Sequence[Stretch]) -> DayPlan:
    """The day that these stretches make, in order of time, then of remedies in the course."""
    order = {remedy.id: n for n, remedy in enumerate(layout.course.remedies)}
    in_order = sorted(taken, key=lambda stretch: order[stretch.remedy])
    client_day = layout.course.client.day
    minutes = sorted({minute for stretch in in_order for minute in stretch.times})
    return DayPlan(
        day,
        client_day.minute(Moment.RISING),
        client_day.minute(Moment.BEDTIME),
        tuple(
            DayTime(
                minute,
                named_time(client_day, minute),
                tuple(
                    DayDose(order[s.remedy], s.remedy, s) for s in in_order if minute in s.times
                ),
            )
            for minute in minutes
        ),
        tuple(
            AsNeededDose(order[s.remedy], s.remedy, s, s.as_needed_max)
            for s in in_order
            if s.as_needed_max is not None
        ),
    )


def named_time(day: ClientDay, minute: int, *, is_short: bool = False) -> str:
    """What the client calls a time: a moment, half an hour from a meal, or nothing.

    `is_short` is for where there is room for few letters.
    """
    names = {day.minute(moment): plain_moment(moment) for moment in Moment}
    for meal in MEALS:
        half_hour = "½ h" if is_short else "half an hour"
        name = plain_moment(meal) if is_short else plain_meal(meal)
        names.setdefault(day.minute(meal) - FOOD_SHIFT, f"{half_hour} before {name}")
        names.setdefault(day.minute(meal) + FOOD_SHIFT, f"{half_hour} after {name}")
    return names.get(minute, "")
