"""The diary by day and by week: taken, of what was due, with what has no entry told apart."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span, course_week
from sennight.domain.day import ClientDay, Moment
from sennight.domain.directions.directions import AtTimes, Timing
from sennight.domain.follow_up.adherence import DayTaken


@dataclass(frozen=True, slots=True)
class Fullness:
    """Timed doses of a day, or of a remedy's week.

    `due` are all of them, `recorded` those on days with an entry for their remedy, and `taken`
    those that were taken; so `taken` is at most `recorded`, and that at most `due`.
    """

    due: int
    recorded: int
    taken: int

    @property
    def share(self) -> Fraction | None:
        """Taken of those with an entry; None where there is no entry, or nothing was due."""
        return Fraction(self.taken, self.recorded) if self.recorded else None

    @property
    def missed(self) -> int:
        """Those with an entry that were not taken."""
        return self.recorded - self.taken

    @property
    def unrecorded(self) -> int:
        """Those without an entry."""
        return self.due - self.recorded


@dataclass(frozen=True, slots=True)
class WeekFullness:
    """A remedy's doses in a course week, from 1."""

    remedy: str
    week: int
    fullness: Fullness


def fullness_by_day(
    layout: Layout, days: Iterable[DayTaken], until: date
) -> tuple[tuple[date, Fullness], ...]:
    """Each day of the course up to one, over all remedies; `days` are the diary's entries."""
    entries: dict[date, list[DayTaken]] = defaultdict(list)
    for entry in days:
        entries[entry.day].append(entry)
    due: dict[date, int] = defaultdict(int)
    for day, stretch in _due(layout, until):
        due[day] += len(stretch.times)
    within = layout.days.overlap(Span.of_days(layout.course.start, until))
    return tuple((day, _sum(due[day], entries[day])) for day in within)


def fullness_by_week(
    layout: Layout, days: Iterable[DayTaken], until: date
) -> tuple[WeekFullness, ...]:
    """Each remedy's course weeks up to a day in which any dose of it was due, in order."""
    start = layout.course.start
    entries: dict[tuple[str, int], list[DayTaken]] = defaultdict(list)
    for entry in days:
        entries[entry.remedy, course_week(start, entry.day)].append(entry)
    due: dict[tuple[str, int], int] = defaultdict(int)
    for day, stretch in _due(layout, until):
        due[stretch.remedy, course_week(start, day)] += len(stretch.times)
    places = {remedy.id: n for n, remedy in enumerate(layout.course.remedies)}
    keys = sorted(due, key=lambda key: (places[key[0]], key[1]))
    return tuple(WeekFullness(*key, _sum(due[key], entries[key])) for key in keys)


def _due(layout: Layout, until: date) -> Iterator[tuple[date, Stretch]]:
    """The days up to one on which a stretch has timed doses."""
    past = Span.of_days(layout.course.start, until)
    for stretch in layout.stretches:
        if stretch.times:
            for day in stretch.span.overlap(past):
                if stretch.taken_on(day):
                    yield day, stretch


def _sum(due: int, entries: Sequence[DayTaken]) -> Fullness:
    recorded = sum(entry.due for entry in entries)
    return Fullness(due, recorded, sum(entry.taken for entry in entries))


@dataclass(frozen=True, slots=True)
class MomentShare:
    """Doses due at a moment of the day, on days with an entry, and how many of them were taken.

    The diary counts a remedy's doses of a day and not which of them: where some were missed, the
    moment is known only between `least` and `most`. `moment` is None for doses by the clock.
    """

    moment: Moment | None
    due: int
    least: int
    most: int


def fullness_by_moment(layout: Layout, days: Iterable[DayTaken]) -> tuple[MomentShare, ...]:
    """The moments at which anything was due, in the day's order, those by the clock last."""
    counts: dict[Moment | None, list[int]] = {moment: [0, 0, 0] for moment in (*Moment, None)}
    day = layout.course.client.day
    for entry in days:
        for moment, doses in _moments(layout, entry, day).items():
            count = counts[moment]
            count[0] += doses
            count[1] += max(0, entry.taken - (entry.due - doses))
            count[2] += min(doses, entry.taken)
    return tuple(MomentShare(moment, *count) for moment, count in counts.items() if count[0])


def _moments(layout: Layout, entry: DayTaken, day: ClientDay) -> dict[Moment | None, int]:
    """How many of the doses due in a diary entry fall at which moment."""
    found: dict[Moment | None, int] = defaultdict(int)
    for stretch in layout.stretches:
        if stretch.remedy == entry.remedy and stretch.taken_on(entry.day):
            named = _named_minutes(stretch, day)
            for minute in stretch.times:
                found[named.get(minute)] += 1
    return found


def _named_minutes(stretch: Stretch, day: ClientDay) -> dict[int, Moment]:
    """The moments of a stretch's doses by their minute, `ac` and `pc` reckoned in."""
    directions = stretch.directions
    if not isinstance(directions.rhythm, AtTimes):
        return {}
    return {
        minute: when
        for when in directions.rhythm.times
        if isinstance(when, Moment)
        for minute in Timing(AtTimes((when,)), food=directions.food).minutes(day)
    }
