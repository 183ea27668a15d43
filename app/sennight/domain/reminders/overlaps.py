"""Which doses fall together on which days: series of doses laid over one another, as fewest runs.

Between two edges of series the set of series stays the same. There the days go by weekday,
or, where some series is taken every so many days, by their place in the cycle that all the
rules share.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise
from math import lcm

from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.directions.directions import DayRule, Unit
from sennight.domain.reminders.runs import ALL_WEEKDAYS, WEEK, Run, fewest, on_weekdays, stepped


@dataclass(frozen=True, slots=True, order=True)
class DueDose:
    """What is due at a minute of the day: so much of a remedy, or advice, which has no unit.

    `place` is the remedy's order in the course; `label` says it in words, `details` what else
    the client should know of it.
    """

    minute: int
    place: int
    remedy: str
    amount: Fraction
    unit: Unit | None
    label: str = ""
    details: str = ""
    formula: str = ""
    """The id of the remedy whose formula it is."""


DueDoses = tuple[DueDose, ...]


@dataclass(frozen=True, slots=True)
class DoseSeries:
    """A dose on the days of a span that a rule says, counted from the span's first day."""

    span: Span
    days: DayRule
    dose: DueDose

    def __contains__(self, day: date) -> bool:
        if day not in self.span:
            return False
        if self.days.weekdays:
            return day.weekday() in self.days.weekdays
        return (day - self.span.first).days % self.days.every == 0

    def before(self, day: date) -> DoseSeries | None:
        """What of it comes before a day."""
        span = Span(self.span.first, min(day, self.span.end))
        return replace(self, span=span) if span else None

    def from_on(self, day: date) -> DoseSeries | None:
        """What of it comes on a day and after it, counted from its first day there."""
        wait = max(0, (day - self.span.first).days)
        if not self.days.weekdays:
            wait = -(-wait // self.days.every) * self.days.every
        span = Span(self.span.first + timedelta(days=wait), self.span.end)
        return replace(self, span=span) if span else None


@dataclass(frozen=True, slots=True)
class _IndexedSeries:
    """A series with its dose as a number, which is quicker to sort and look up.

    `weekdays` are those it falls on, where its rule can be said by weekdays; else none.
    """

    first: date
    end: date
    every: int
    weekdays: tuple[int, ...]
    number: int


_Due = tuple[int, ...]
_Pieces = dict[_Due, list[Run]]


def partition(dose_series: Iterable[DoseSeries]) -> Iterator[tuple[DueDoses, Run]]:
    """Fewest runs such that each day lies in exactly one, with all that is due on its days."""
    doses: list[DueDose] = []
    places: dict[int, int] = {}
    each = list(dose_series)
    for dose in sorted({id(series.dose): series.dose for series in each}.values()):
        if not doses or doses[-1] != dose:
            doses.append(dose)
        places[id(dose)] = len(doses) - 1  # of the few doses there are, each has many series
    numbered = (_indexed(series, places[id(series.dose)]) for series in each)
    indexed = sorted(numbered, key=lambda series: series.number)
    for due, runs in _laid_over(indexed).items():
        due_doses = tuple(doses[number] for number in due)
        for run in fewest(runs):
            yield due_doses, run


def _indexed(series: DoseSeries, number: int) -> _IndexedSeries:
    span, every, weekdays = series.span, series.days.every, series.days.weekdays
    if not weekdays and every == 1:
        weekdays = ALL_WEEKDAYS
    elif not weekdays and every == WEEK:
        weekdays = (span.first.weekday(),)
    return _IndexedSeries(span.first, span.end, every, weekdays, number)


def _laid_over(indexed: list[_IndexedSeries]) -> _Pieces:
    pieces: _Pieces = defaultdict(list)
    edges = sorted({edge for series in indexed for edge in (series.first, series.end)})
    coming = sorted(indexed, key=lambda series: series.first, reverse=True)
    here: list[_IndexedSeries] = []
    for first, end in pairwise(edges):
        here = [series for series in here if series.end > first]
        while coming and coming[-1].first == first:
            here.append(coming.pop())
        for due, runs in _between(Span(first, end), here).items():
            pieces[due].extend(runs)
    return pieces


def _between(span: Span, indexed: list[_IndexedSeries]) -> _Pieces:
    """The runs within a span in which every series goes on from its first to its last day."""
    counted = [series for series in indexed if not series.weekdays]
    if not counted:
        return _by_weekday(span, indexed)
    proper_weeks = any(series.weekdays not in ((), ALL_WEEKDAYS) for series in indexed)
    cycle = lcm(*(series.every for series in counted), WEEK if proper_weeks else 1)
    if cycle > span.days:
        return _day_by_day_where_counted(span, indexed)
    # Two ways of telling the same days. By the cycle's places one run serves the whole span, but a
    # cycle of 7 × 5 × 3 days has many places; day by day is short where few days are counted.
    # Fewer runs mean fewer events on the phone, so where it is not plain both are made.
    by_cycle = _by_place_in_cycle(span, indexed, cycle)
    days_counted = sum(span.days // series.every for series in counted)
    if 2 * _number(by_cycle) <= days_counted:
        return by_cycle
    return min(by_cycle, _day_by_day_where_counted(span, indexed), key=_number)


def _number(pieces: _Pieces) -> int:
    return sum(map(len, pieces.values()))


def _by_weekday(span: Span, indexed: list[_IndexedSeries]) -> _Pieces:
    rules = {series.weekdays for series in indexed}
    if len(rules) == 1:
        run = on_weekdays(span, rules.pop())
        return {tuple(sorted(series.number for series in indexed)): [run]} if run else {}
    on: dict[_Due, list[int]] = defaultdict(list)
    for weekday in ALL_WEEKDAYS:
        due = [series.number for series in indexed if weekday in series.weekdays]
        if due:
            on[tuple(sorted(due))].append(weekday)
    runs = {due: on_weekdays(span, weekdays) for due, weekdays in on.items()}
    return {due: [run] for due, run in runs.items() if run}


def _by_place_in_cycle(span: Span, indexed: list[_IndexedSeries], cycle: int) -> _Pieces:
    """Days by their place in the cycle after which all the series repeat."""
    places: dict[_Due, set[int]] = defaultdict(set)
    for place in range(cycle):
        due = _due(span.first + timedelta(days=place), indexed)
        if due:
            places[due].add(place)
    return {due: _fewest_steps(span, in_cycle, cycle) for due, in_cycle in places.items()}


def _due(day: date, indexed: list[_IndexedSeries]) -> _Due:
    weekday = day.weekday()
    due = (
        series.number
        for series in indexed
        if (
            weekday in series.weekdays
            if series.weekdays
            else (day - series.first).days % series.every == 0
        )
    )
    return tuple(sorted(due))


def _fewest_steps(span: Span, left: set[int], cycle: int) -> list[Run]:
    """Places of a cycle as even steps and weekdays, the closest steps first."""
    runs: list[Run | None] = []
    for step in (step for step in range(1, cycle + 1) if cycle % step == 0):
        starts = [start for start in range(step) if left.issuperset(range(start, cycle, step))]
        left = left - {place for start in starts for place in range(start, cycle, step)}
        if step == WEEK and starts:
            weekdays = [(span.first.weekday() + start) % WEEK for start in starts]
            runs.append(on_weekdays(span, weekdays))
        elif starts:
            firsts = (span.first + timedelta(days=start) for start in starts)
            runs += [stepped(Span(first, span.end), step) for first in firsts]
    return [run for run in runs if run]


def _day_by_day_where_counted(span: Span, indexed: list[_IndexedSeries]) -> _Pieces:
    """Each day of a counted series by itself and what lies between them by weekdays.

    Better than the cycle where the counted days are few and far between.
    """
    pieces = []
    for series in indexed:
        if series.weekdays:
            pieces.append(replace(series, first=span.first, end=span.end))
            continue
        wait = -(span.first - series.first).days % series.every
        run = stepped(Span(span.first + timedelta(days=wait), span.end), series.every)
        pieces += [
            _IndexedSeries(day, day + ONE_DAY, 1, ALL_WEEKDAYS, series.number) for day in run or ()
        ]
    step = max(series.every for series in indexed)
    return {due: list(fewest(runs, step)) for due, runs in _laid_over(pieces).items()}
