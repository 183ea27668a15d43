"""Runs: days that one calendar rule can say, in closed form.

A run is an even step (every day, every 3 days) or a set of weekdays, from its first to its
last day. Nothing here walks over a course day by day; the loops are over a week or over the
terms that fit in one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from sennight.domain.dates import ONE_DAY, WEEKDAYS, Span

WEEK = 7
ALL_WEEKDAYS = tuple(range(WEEK))


@dataclass(frozen=True, slots=True)
class Run:
    """Days from `first` to `last`, both of them days of the run.

    Every `every` days, or, where `weekdays` (0 is Monday) is not empty, on those; it is empty
    wherever an even step says the same, and a run of one day has `every` 1. So two runs of the
    same days are equal, if the functions below made them.
    """

    first: date
    last: date
    every: int = 1
    weekdays: tuple[int, ...] = ()

    def __contains__(self, day: date) -> bool:
        if not self.first <= day <= self.last:
            return False
        if self.weekdays:
            return day.weekday() in self.weekdays
        return (day - self.first).days % self.every == 0

    def __iter__(self) -> Iterator[date]:
        """Its days in order; for readers of single days, never for planning."""
        step = 1 if self.weekdays else self.every
        days = range(0, (self.last - self.first).days + 1, step)
        return (day for offset in days if (day := self.first + timedelta(days=offset)) in self)

    @property
    def is_single(self) -> bool:
        """Whether it is one day."""
        return self.first == self.last

    @property
    def is_weekly(self) -> bool:
        """Whether its rule goes by weekdays."""
        return bool(self.weekdays) or self.every == WEEK

    @property
    def count(self) -> int:
        """How many days it has."""
        if self.weekdays:
            return _count(self.first, self.last, self.weekdays)
        return (self.last - self.first).days // self.every + 1

    @property
    def rule(self) -> str:
        """The rule in words: `once`, `daily`, `every 3 days`, `mon wed fri`."""
        if self.is_single:
            return "once"
        days = self.weekdays or ((self.first.weekday(),) if self.every == WEEK else ())
        if days:
            return " ".join(WEEKDAYS[day] for day in days)
        return "daily" if self.every == 1 else f"every {self.every} days"

    def within(self, span: Span) -> Run | None:
        """Its days within a span; None where there are none."""
        if self.weekdays:
            return on_weekdays(
                Span(max(self.first, span.first), min(self.last + ONE_DAY, span.end)),
                self.weekdays,
            )
        wait = max(0, -(-(span.first - self.first).days // self.every)) * self.every
        return stepped(
            Span(self.first + timedelta(days=wait), min(self.last + ONE_DAY, span.end)),
            self.every,
        )

    def until(self, last: date) -> Run | None:
        """The same rule from the same first day, up to another last day at most."""
        span = Span.of_days(self.first, last)
        return on_weekdays(span, self.weekdays) if self.weekdays else stepped(span, self.every)


def stepped(span: Span, every: int) -> Run | None:
    """Every so many days from the first day of a span; None for an empty span."""
    if not span:
        return None
    steps = (span.days - 1) // every
    last = span.first + timedelta(days=steps * every)
    return Run(span.first, last, every if steps else 1)


def on_weekdays(span: Span, weekdays: Iterable[int]) -> Run | None:
    """The days of a span on these weekdays, as the plainest run; None where there are none."""
    wanted = tuple(sorted(set(weekdays)))
    if wanted == ALL_WEEKDAYS:
        return Run(span.first, span.last) if span else None
    ahead = [day for day in _week_from(span.first) if day in span and day.weekday() in wanted]
    if not ahead:
        return None
    first, last = ahead[0], span.last
    while last.weekday() not in wanted:
        last -= ONE_DAY
    if (last - first).days < WEEK:
        return _within_a_week(ahead)
    if len(wanted) == 1:
        return Run(first, last, WEEK)
    return Run(first, last, 1, wanted)


def _within_a_week(days: list[date]) -> Run:
    steps = {(next_day - day).days for day, next_day in pairwise(days)}
    if len(steps) <= 1:
        return Run(days[0], days[-1], min(steps, default=1))
    return Run(days[0], days[-1], 1, tuple(sorted(day.weekday() for day in days)))


def _week_from(day: date) -> Iterator[date]:
    return (day + timedelta(days=offset) for offset in range(WEEK))


def _count(first: date, last: date, weekdays: tuple[int, ...]) -> int:
    weeks, rest = divmod((last - first).days + 1, WEEK)
    over = (first.weekday() + offset for offset in range(rest))
    return weeks * len(weekdays) + sum(day % WEEK in weekdays for day in over)


def _weekdays_of(run: Run) -> set[int]:
    if run.weekdays:
        return set(run.weekdays)
    terms = range(min(WEEK, run.count))
    return {(run.first.weekday() + term * run.every) % WEEK for term in terms}


def together(first: Run, second: Run, lone: int = WEEK) -> Run | None:
    """Two runs without a day in common as one run; None where no one rule says just both.

    Two single days stay two where they are more than `lone` days apart.
    """
    earlier, later = (first, second) if first.first < second.first else (second, first)
    return _continued(earlier, later, lone) or _same_weeks(earlier, later)


def _continued(earlier: Run, later: Run, lone: int) -> Run | None:
    """One even step going on in the other."""
    gap = (later.first - earlier.last).days
    if (
        earlier.weekdays
        or later.weekdays
        or gap < 1
        or (earlier.is_single and later.is_single and gap > lone)
    ):
        return None
    fits = all(run.is_single or run.every == gap for run in (earlier, later))
    return Run(earlier.first, later.last, gap) if fits else None


def _same_weeks(earlier: Run, later: Run) -> Run | None:
    """Both as one set of weekdays, where that holds no day besides theirs."""
    if (later.first - earlier.last).days > WEEK:
        return None
    last = max(earlier.last, later.last)
    weekdays = tuple(sorted(_weekdays_of(earlier) | _weekdays_of(later)))
    if _count(earlier.first, last, weekdays) != earlier.count + later.count:
        return None
    return on_weekdays(Span.of_days(earlier.first, last), weekdays)


def fewest(runs: Iterable[Run], lone: int = WEEK) -> tuple[Run, ...]:
    """The same days as fewer runs, each joined in order to one that it carries on.

    `lone` is as in `together`.
    """
    kept: list[Run] = []
    for run in sorted(runs, key=lambda run: run.first):
        for index in reversed(range(len(kept))):
            both = together(kept[index], run, lone)
            if both:
                kept[index] = both
                break
        else:
            kept.append(run)
    return tuple(sorted(kept, key=lambda run: run.first))
