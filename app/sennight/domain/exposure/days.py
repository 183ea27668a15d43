"""Which day of a run is the fullest, where several lines fall on days of their own.

Days are counted by their ordinals. A filter's days are arithmetic progressions
(`DayProgression`): every day, every so many days from one day, or every seven from each weekday.
Days that two progressions share form a progression again (Chinese remainder theorem), so nothing
here walks over days.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from math import gcd
from typing import NamedTuple

from sennight.domain.courses.stretches import Stretch
from sennight.domain.dates import Span
from sennight.domain.directions.directions import DAILY, DayRule

MONDAY = 1
"""The ordinal of the first Monday: 1 January of the year 1."""


class DayFilter(NamedTuple):
    """On which days of a run something is taken, whichever line it comes from.

    `phase` is the anchor's ordinal modulo `rule.every`, so that equal filters are equal days.
    """

    rule: DayRule = DAILY
    phase: int = 0

    @classmethod
    def of(cls, stretch: Stretch) -> DayFilter:
        """The filter of a stretch; directions hold no list of all seven weekdays."""
        rule = stretch.days
        return cls(rule, stretch.span.first.toordinal() % rule.every)

    @property
    def combs(self) -> tuple[DayProgression, ...]:
        """Its days."""
        if self.rule.weekdays:
            return tuple(DayProgression((MONDAY + day) % 7, 7) for day in self.rule.weekdays)
        return (DayProgression(self.phase, self.rule.every),)

    def falls_in(self, span: Span) -> bool:
        """Whether a span holds one of its days."""
        return span.days >= self.period or any(comb.falls_in(span) for comb in self.combs)

    @property
    def period(self) -> int:
        """The number of days after which its days come round again."""
        return 7 if self.rule.weekdays else self.rule.every


@dataclass(frozen=True, slots=True)
class DayProgression:
    """Every `step`-th day: those whose ordinal leaves `rest` on division by it."""

    rest: int
    step: int

    def falls_in(self, span: Span) -> bool:
        """Whether a span holds one of its days."""
        return self.first_from(span.first) < span.end.toordinal()

    def first_from(self, day: date) -> int:
        """The ordinal of its first day from a day on."""
        return day.toordinal() + (self.rest - day.toordinal()) % self.step

    def shared(self, other: DayProgression) -> DayProgression | None:
        """The days in both, or None where there are none."""
        # Days n with n ≡ rest (mod step) and n ≡ other.rest (mod other.step). There are any only
        # where the rests differ by a multiple of the steps' common divisor, and they repeat with
        # the steps' least common multiple; pow(…, -1, …) is the inverse that finds the first.
        common = gcd(self.step, other.step)
        apart, left = divmod(other.rest - self.rest, common)
        if left:
            return None
        step = other.step // common
        times = apart * pow(self.step // common, -1, step) % step
        whole = self.step * step
        return DayProgression((self.rest + self.step * times) % whole, whole)


def day_patterns(filters: Sequence[DayFilter], span: Span) -> tuple[frozenset[int], ...]:
    """Sets of filters (by position) that share a day of a span.

    Every set that falls together on some day is among them; so are parts of such sets. The
    number follows the number of filters, not of days.
    """
    members_of: dict[DayProgression, frozenset[int]] = {DayProgression(0, 1): frozenset()}
    for n, day_filter in enumerate(filters):
        for comb, members in tuple(members_of.items()):
            for shared in _shared(comb, day_filter, span):
                members_of[shared] = members_of.get(shared, frozenset()) | members | {n}
    return tuple(dict.fromkeys(members_of.values()))


def _shared(comb: DayProgression, day_filter: DayFilter, span: Span) -> Iterator[DayProgression]:
    for other in day_filter.combs:
        both = comb.shared(other)
        if both and both.falls_in(span):
            yield both
