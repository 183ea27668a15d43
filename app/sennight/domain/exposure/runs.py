"""Intakes of one herb, gathered into the longest runs of days on which nothing changes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from itertools import pairwise
from math import lcm
from typing import NamedTuple

from sennight.domain.courses.sharing import Offer, greatest_day
from sennight.domain.dates import Span
from sennight.domain.exposure.days import DayFilter, day_patterns
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.kept import kept


class FormDays(NamedTuple):
    """A form, and the days that an amount falls on."""

    form: TakenAs
    days: DayFilter


@dataclass(frozen=True, slots=True)
class Amount:
    """Grams a day on the days that something is taken.

    `low` counts timed doses, `high` adds the most that is taken as needed; where an amount is
    unknown, for these reasons, both leave it out. `shared` are the doses in `high` that come under
    a ceiling with other remedies: `greatest` counts no more of them than it leaves.
    """

    low: Fraction
    high: Fraction
    ratios: frozenset[Fraction | None] = frozenset()
    unknown: frozenset[str] = frozenset()
    shared: tuple[Offer, ...] = ()

    def __add__(self, other: Amount) -> Amount:
        return Amount(
            self.low + other.low,
            self.high + other.high,
            self.ratios | other.ratios,
            self.unknown | other.unknown,
            self.shared + other.shared,
        )


def greatest(weighed: Iterable[tuple[Amount, Fraction]]) -> Fraction:
    """The most of several amounts in one day, each counted by its weight, no ceiling passed."""
    total, offers = Fraction(0), list[Offer]()
    for amount, weight in weighed:
        total += amount.high * weight
        offers += [offer.times(weight) for offer in amount.shared]
    if len(offers) < 2:
        return total
    return total - sum(o.each * o.doses for o in offers) + greatest_day(offers)


@dataclass(frozen=True, slots=True)
class Intake:
    """One ingredient of one stretch."""

    span: Span
    herb: str
    key: FormDays
    amount: Amount


State = dict[FormDays, Amount]
_FORMS = tuple(TakenAs)


def runs(taken: list[Intake]) -> Iterator[tuple[Span, State]]:
    """The longest runs on which the same amounts fall on the same days."""
    edges = sorted({edge for intake in taken for edge in (intake.span.first, intake.span.end)})
    joined: list[tuple[Span, State]] = []
    for first, end in pairwise(edges):
        state: State = {}
        for intake in taken:
            if intake.span.first <= first < intake.span.end:
                before = state.get(intake.key)
                state[intake.key] = _both(before, intake.amount) if before else intake.amount
        if joined and joined[-1][1] == state:
            joined[-1] = Span(joined[-1][0].first, end), state
        else:
            joined.append((Span(first, end), state))
    return (run for run in joined if run[1])


@kept(256)
def _both(amount: Amount, other: Amount) -> Amount:
    """Two amounts together, the same one for the same two."""
    return amount + other


def falling(state: State, span: Span) -> State:
    """What has a day in the span, in a fixed order."""
    order = sorted(state, key=_order) if len(state) > 1 else state
    return {key: state[key] for key in order if key.days.falls_in(span)}


def from_day_taken(state: State, span: Span) -> Span:
    """The span from its first day taken, where all of it falls on the same counted days.

    A row's counted days start on its first day, as a stretch's do.
    """
    filters = {key.days for key in state}
    days = next(iter(filters))
    if len(filters) > 1 or days.rule.every == 1:
        return span
    return Span(date.fromordinal(days.combs[0].first_from(span.first)), span.end)


def _order(key: FormDays) -> tuple[int, tuple[int, ...], int, int]:
    rule = key.days.rule
    return _FORMS.index(key.form), rule.weekdays, rule.every, key.days.phase


def period(keys: Iterable[FormDays]) -> int:
    """The number of days after which the days of all keys come round again."""
    return lcm(*(key.days.period for key in keys))


def patterns(keys: Iterable[FormDays], span: Span) -> list[list[FormDays]]:
    """The keys that share a day, for every pattern of days in the span."""
    listed = list(keys)
    filters = tuple(dict.fromkeys(key.days for key in listed))
    if len(filters) == 1:
        return [listed]
    return [
        [key for key in listed if filters.index(key.days) in pattern]
        for pattern in day_patterns(filters, span)
    ]
