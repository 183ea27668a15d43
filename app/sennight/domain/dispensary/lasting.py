"""How long what a client was handed lasts, and by when to order more."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from sennight.domain.courses.stretches import Layout
from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.supply.containers import ORDER_DAYS
from sennight.domain.supply.needs import (
    Bottle,
    DailyNeed,
    daily_needs,
    last_day_needed,
    lasts_until,
)


@dataclass(frozen=True, slots=True)
class Lasting:
    """How long a remedy lasts that was handed over.

    `last_day` is the last day whose doses are covered, None where not one is. `order_by` is the
    day to order more, None where what is there is enough to the course's end.
    """

    bottle: Bottle
    last_day: date | None
    order_by: date | None


def lasting(layout: Layout, handed: Iterable[HandedOver]) -> tuple[Lasting, ...]:
    """How long all that was handed over for a course lasts, remedy by remedy.

    It is used from the day on which it was handed over, at the timed doses and half of what may be
    taken as needed; while there was nothing, nothing was taken, and later bottles owe nothing for
    it. What is measured otherwise than the course takes it is left out.
    """
    daily = daily_needs(layout)
    by_bottle: dict[Bottle, list[HandedOver]] = {}
    for part in sorted(handed, key=lambda part: part.day):
        bottle = _bottle(daily, part)
        if bottle is not None:
            by_bottle.setdefault(bottle, []).append(part)
    return tuple(
        _lasting(daily, bottle, *_on_hand(daily, bottle, parts))
        for bottle, parts in by_bottle.items()
    )


def _on_hand(
    daily: Sequence[DailyNeed], bottle: Bottle, parts: Sequence[HandedOver]
) -> tuple[date, Fraction]:
    """The day of the latest hand-over, and what is there then."""
    day, held = parts[0].day, Fraction(0)
    for part in parts:
        held = max(Fraction(0), held - _used(daily, bottle, day, part.day))
        day, held = part.day, held + part.amount.amount
    return day, held


def _used(daily: Sequence[DailyNeed], bottle: Bottle, first: date, end: date) -> Fraction:
    """What is taken from a bottle from a day up to, not including, another."""
    return sum(
        (
            need.a_day * (need.days_taken(end) - need.days_taken(first))
            for need in daily
            if need.bottle == bottle
        ),
        Fraction(0),
    )


def _bottle(daily: Sequence[DailyNeed], part: HandedOver) -> Bottle | None:
    """The bottle that a hand-over filled: the one that is taken from on its day or next."""
    return next(
        (
            need.bottle
            for need in daily
            if need.bottle.remedy == part.remedy
            and need.bottle.unit is part.amount.unit
            and need.stretch.span.end > part.day
        ),
        None,
    )


def _lasting(daily: Sequence[DailyNeed], bottle: Bottle, first: date, amount: Fraction) -> Lasting:
    last = lasts_until(daily, bottle, first, amount)
    if last is None:
        return Lasting(bottle, None, first)
    is_enough = last == last_day_needed(daily, bottle)
    return Lasting(bottle, last, None if is_enough else last - timedelta(days=ORDER_DAYS))
