"""Single doses: the one place where a course is expanded day by day."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction
from math import lcm

from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.day import DAY_MINUTES, as_time
from sennight.domain.directions.directions import Unit


@dataclass(frozen=True, slots=True)
class Dose:
    """One timed dose, at its calendar date and wall-clock time.

    `day` is the client's day that it belongs to: the date before, for a dose past midnight.
    """

    date: dt.date
    time: dt.time
    day: dt.date
    phase: str
    remedy: str
    amount: Fraction
    unit: Unit


def doses_of(stretch: Stretch) -> Iterator[Dose]:
    """The timed doses of one stretch, day by day."""
    for day in stretch.days_taken():
        for minute in stretch.times:
            yield Dose(
                day + timedelta(days=minute // DAY_MINUTES),
                as_time(minute),
                day,
                stretch.phase,
                stretch.remedy,
                stretch.amount,
                stretch.unit,
            )


def doses(layout: Layout) -> tuple[Dose, ...]:
    """All timed doses in order of date and time, then of the remedies in the course."""
    order = {remedy.id: n for n, remedy in enumerate(layout.course.remedies)}
    every_dose = (dose for stretch in layout.stretches for dose in doses_of(stretch))
    return tuple(sorted(every_dose, key=lambda d: (d.date, d.time, order.get(d.remedy, 0))))


def expected(stretches: Iterable[Stretch], remedy: str, day: dt.date) -> int:
    """How many timed doses of a remedy belong to one of the client's days."""
    return sum(len(s.times) for s in stretches if s.remedy == remedy and s.taken_on(day))


def most_times_a_day(layout: Layout, *, since: dt.date) -> int:
    """The most different clock times of doses on any day from `since` on.

    The set of stretches that hold changes only where one begins. From there on the days of all
    that hold come round again after so many days as every rule's period divides: these are
    looked at, at most to the course's end.
    """
    most = 0
    for start in sorted({max(stretch.span.first, since) for stretch in layout.stretches}):
        due = [stretch for stretch in layout.stretches if start in stretch.span and stretch.times]
        period = lcm(*(7 if s.days.weekdays else s.days.every for s in due))
        for n in range(min(period, max((s.span.end - start).days for s in due) if due else 0)):
            day = start + timedelta(days=n)
            held = (stretch for stretch in due if stretch.taken_on(day))
            most = max(most, len({minute for stretch in held for minute in stretch.times}))
    return most
