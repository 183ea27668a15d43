"""How much of each remedy a course asks for, read from its stretches.

The timed doses, and a share of the most that as-needed lines allow: half, unless the practice
sets another (design decision: what is taken as needed is rarely all that may be); of
what a ceiling leaves to several remedies each has its part. Where another
formula takes a remedy's place, it is another bottle, and counted for itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span
from sennight.domain.directions.directions import Directions, Unit
from sennight.domain.kept import kept
from sennight.domain.remedies.contents import Unknown
from sennight.domain.remedies.portions import container_holds
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.supply.as_needed import NeededDoses, needed_doses
from sennight.domain.supply.quantities import Quantity, dispensed

ALWAYS = Span(date.min, date.max)


@dataclass(frozen=True, slots=True)
class Allowance:
    """What is reckoned beside the timed doses.

    `as_needed` is the share of the most that as-needed lines allow, 0 to 1; `spillage` the share
    of everything that is lost in measuring out, 0 or more.
    """

    as_needed: Fraction = Fraction(1, 2)
    spillage: Fraction = Fraction(0)


USUAL = Allowance()


@dataclass(frozen=True, slots=True)
class Bottle:
    """What comes out of one container: a remedy made by one formula, measured in one unit.

    `holds` is what the formula's own container holds, in that unit; None for the usual one.
    """

    remedy: str
    formula: str
    unit: Unit
    holds: Fraction | None = None


@dataclass(frozen=True, slots=True)
class DailyNeed:
    """What one stretch takes out of a bottle on each day on which it is taken."""

    stretch: Stretch
    bottle: Bottle
    a_day: Fraction

    def days_taken(self, before: date) -> int:
        """On how many of the stretch's days before a date it is taken."""
        first, end = self.stretch.span.first, min(self.stretch.span.end, before)
        if end <= first:
            return 0
        rule = self.stretch.days
        if not rule.weekdays:
            return -(-(end - first).days // rule.every)
        weeks, rest = divmod((end - first).days, 7)
        last_days = Span(end - timedelta(days=rest), end)
        return weeks * len(rule.weekdays) + sum(d.weekday() in rule.weekdays for d in last_days)

    def last_day_covered(self, since: date, held: Fraction) -> date | None:
        """The last day taken from `since` on that `held` is enough for; None for not even one."""
        before = self.days_taken(since)
        left = self.days_taken(self.stretch.span.end) - before
        covered = left if not self.a_day else min(left, held // self.a_day)
        if covered <= 0:
            return None
        return self.day_taken(before + covered)

    def day_taken(self, number: int) -> date:
        """The day on which it is taken for the nth time, from 1."""
        rule, first = self.stretch.days, self.stretch.span.first
        if not rule.weekdays:
            return first + timedelta(days=(number - 1) * rule.every)
        weeks, rest = divmod(number - 1, len(rule.weekdays))
        week = Span(first + timedelta(weeks=weeks), first + timedelta(weeks=weeks + 1))
        return [day for day in week if day.weekday() in rule.weekdays][rest]


@dataclass(frozen=True, slots=True)
class Need:
    """What a phase asks for out of one bottle, from its first to its last day taken."""

    bottle: Bottle
    phase: str
    amount: Fraction
    first: date
    last: date


@dataclass(frozen=True, slots=True)
class Unmeasured:
    """A remedy whose need in a phase cannot be told, and why."""

    remedy: str
    phase: str
    why: str


def daily_needs(layout: Layout, allowance: Allowance = USUAL) -> tuple[DailyNeed, ...]:
    """What each stretch takes a day, in order; those that cannot be told left out."""
    return tuple(need for need in _daily(layout, allowance) if isinstance(need, DailyNeed))


def unmeasured(layout: Layout) -> tuple[Unmeasured, ...]:
    """The remedies and phases whose need cannot be told, each once."""
    gaps = (need for need in _daily(layout, USUAL) if isinstance(need, Unmeasured))
    return tuple(dict.fromkeys(gaps))


def _daily(layout: Layout, allowance: Allowance) -> Iterator[DailyNeed | Unmeasured]:
    for needed in needed_doses(layout):
        stretch = needed.stretch
        formula = layout.course.remedy(stretch.formula)
        dose = _dose(formula, stretch.directions)
        if isinstance(dose, Unknown):
            yield Unmeasured(stretch.remedy, stretch.phase, dose.reason)
        else:
            yield _need_of(needed, formula, dose, allowance)


@kept(256)
def _dose(remedy: Remedy, directions: Directions) -> Quantity | Unknown:
    return dispensed(remedy, directions.largest, directions.unit)


def _need_of(
    needed: NeededDoses, formula: Remedy, dose: Quantity, allowance: Allowance
) -> DailyNeed:
    stretch = needed.stretch
    times = len(stretch.times) + needed.most * allowance.as_needed
    holds = container_holds(formula, dose.unit)
    bottle = Bottle(stretch.remedy, stretch.formula, dose.unit, holds)
    return DailyNeed(stretch, bottle, dose.amount * times * (1 + allowance.spillage))


def needs(layout: Layout, allowance: Allowance = USUAL, within: Span = ALWAYS) -> tuple[Need, ...]:
    """What each phase asks for of each bottle on the days within a span, in order of first day."""
    return phase_needs(daily_needs(layout, allowance), within)


def phase_needs(daily: Iterable[DailyNeed], within: Span = ALWAYS) -> tuple[Need, ...]:
    """The same from daily needs: one entry for each bottle in each phase that takes from it."""
    sums: dict[tuple[Bottle, str], Need] = {}
    for need in daily:
        before = need.days_taken(within.first)
        days = need.days_taken(within.end) - before
        if days <= 0 or not need.a_day:
            continue
        first, last = need.day_taken(before + 1), need.day_taken(before + days)
        key = need.bottle, need.stretch.phase
        known = sums.get(key, Need(*key, Fraction(0), first, last))
        sums[key] = Need(
            *key,
            known.amount + days * need.a_day,
            min(known.first, first),
            max(known.last, last),
        )
    return tuple(sums.values())


def lasts_until(
    daily: Iterable[DailyNeed], bottle: Bottle, since: date, held: Fraction
) -> date | None:
    """The last day, from `since` on, whose doses are all covered by what is held.

    The last day taken of the course where it is enough for all; None where it is not enough
    for the first day, or nothing is taken any more.
    """
    covered: date | None = None
    for need in (need for need in daily if need.bottle == bottle):
        days = need.days_taken(need.stretch.span.end) - need.days_taken(since)
        if days <= 0:
            continue
        last = need.last_day_covered(since, held)
        if last is None:
            return covered
        covered = last
        if held < days * need.a_day:
            return covered
        held -= days * need.a_day
    return covered


def last_day_needed(daily: Iterable[DailyNeed], bottle: Bottle) -> date | None:
    """The last day on which anything is taken from a bottle; None where nothing is."""
    days = [
        need.day_taken(need.days_taken(need.stretch.span.end))
        for need in daily
        if need.bottle == bottle and need.a_day
    ]
    return max(days, default=None)
