"""Which doses fall together on which days: strands laid over one another, as fewest runs.

Between two edges of strands the set of strands stays the same. There the days go by weekday,
or, where some strand is taken every so many days, by their place in the cycle that all the
rules share.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction
from itertools import pairwise
from math import lcm

from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.directions import DAILY, DayRule, Unit
from sennight.domain.reminders_runs import ALL_WEEKDAYS, WEEK, Run, fewest, on_weekdays, stepped


@dataclass(frozen=True, slots=True, order=True)
class Portion:
    """What is due at a minute of the day: so much of a remedy; `place` is the remedy's order."""

    minute: int
    place: int
    remedy: str
    amount: Fraction
    unit: Unit


Portions = tuple[Portion, ...]
Pieces = dict[Portions, list[Run]]


@dataclass(frozen=True, slots=True)
class Strand:
    """A portion on the days of a span that a rule says, counted from the span's first day."""

    span: Span
    days: DayRule
    portion: Portion

    @property
    def weekdays(self) -> tuple[int, ...]:
        """The weekdays it falls on, where its rule can be said by weekdays; else none."""
        if self.days.weekdays:
            return self.days.weekdays
        if self.days.every == 1:
            return ALL_WEEKDAYS
        return (self.span.first.weekday(),) if self.days.every == WEEK else ()


def partition(strands: Iterable[Strand]) -> Iterator[tuple[Portions, Run]]:
    """Fewest runs such that each day lies in exactly one, with all that is due on its days."""
    for portions, runs in _laid_over(tuple(strands)).items():
        for run in fewest(runs):
            yield portions, run


def _laid_over(strands: tuple[Strand, ...]) -> Pieces:
    found: Pieces = defaultdict(list)
    edges = sorted({edge for s in strands for edge in (s.span.first, s.span.end)})
    for first, end in pairwise(edges):
        span = Span(first, end)
        here = [s for s in strands if s.span.touches(span)]
        for portions, runs in _between(span, here).items():
            found[portions].extend(runs)
    return found


def _between(span: Span, strands: list[Strand]) -> Pieces:
    """The runs within a span in which every strand goes on from its first to its last day."""
    counted = [s for s in strands if not s.weekdays]
    if not counted:
        return _by_weekday(span, strands)
    proper_weeks = any(s.weekdays not in ((), ALL_WEEKDAYS) for s in strands)
    cycle = lcm(*(s.days.every for s in counted), WEEK if proper_weeks else 1)
    if cycle > span.days:
        return _day_by_day_where_counted(span, strands, counted)
    by_cycle = _by_place_in_cycle(span, strands, cycle)
    days_counted = sum(span.days // s.days.every for s in counted)
    if 2 * _number(by_cycle) <= days_counted:
        return by_cycle
    return min(by_cycle, _day_by_day_where_counted(span, strands, counted), key=_number)


def _number(pieces: Pieces) -> int:
    return sum(map(len, pieces.values()))


def _by_weekday(span: Span, strands: list[Strand]) -> Pieces:
    on: dict[Portions, list[int]] = defaultdict(list)
    for weekday in ALL_WEEKDAYS:
        due = tuple(sorted(s.portion for s in strands if weekday in s.weekdays))
        if due:
            on[due].append(weekday)
    runs = {portions: on_weekdays(span, weekdays) for portions, weekdays in on.items()}
    return {portions: [run] for portions, run in runs.items() if run}


def _by_place_in_cycle(span: Span, strands: list[Strand], cycle: int) -> Pieces:
    """Days by their place in the cycle after which all the strands repeat."""
    places: dict[Portions, set[int]] = defaultdict(set)
    for place in range(cycle):
        due = _due(span, strands, place)
        if due:
            places[due].add(place)
    return {due: _fewest_steps(span, found, cycle) for due, found in places.items()}


def _due(span: Span, strands: list[Strand], place: int) -> Portions:
    day = span.first + timedelta(days=place)
    return tuple(
        sorted(
            s.portion
            for s in strands
            if (
                day.weekday() in s.weekdays
                if s.weekdays
                else (day - s.span.first).days % s.days.every == 0
            )
        )
    )


def _fewest_steps(span: Span, places: set[int], cycle: int) -> list[Run]:
    """Places of a cycle as even steps and weekdays; the coarsest first, or weekdays first."""
    steps = [n for n in range(1, cycle + 1) if cycle % n == 0]
    weeks_first = [WEEK, *(n for n in steps if n != WEEK)] if WEEK in steps else steps
    both = (_covered(span, set(places), cycle, order) for order in (steps, weeks_first))
    return min(both, key=len)


def _covered(span: Span, left: set[int], cycle: int, steps: list[int]) -> list[Run]:
    runs: list[Run | None] = []
    for step in steps:
        starts = [n for n in range(step) if left.issuperset(range(n, cycle, step))]
        left -= {place for n in starts for place in range(n, cycle, step)}
        if step == WEEK and starts:
            weekdays = [(span.first.weekday() + n) % WEEK for n in starts]
            runs.append(on_weekdays(span, weekdays))
        elif starts:
            firsts = (span.first + timedelta(days=n) for n in starts)
            runs += [stepped(Span(first, span.end), step) for first in firsts]
    return [run for run in runs if run]


def _day_by_day_where_counted(span: Span, strands: list[Strand], counted: list[Strand]) -> Pieces:
    """Each day of a counted strand by itself and what lies between them by weekdays.

    Better than the cycle where the counted days are few and far between.
    """
    singles = []
    for strand in counted:
        wait = -(span.first - strand.span.first).days % strand.days.every
        run = stepped(Span(span.first + timedelta(days=wait), span.end), strand.days.every)
        singles += [Strand(Span(day, day + ONE_DAY), DAILY, strand.portion) for day in run or ()]
    others = [Strand(span, DayRule(weekdays=s.weekdays), s.portion) for s in strands if s.weekdays]
    found = _laid_over((*others, *singles))
    step = max(s.days.every for s in counted)
    return {portions: list(fewest(runs, step)) for portions, runs in found.items()}
