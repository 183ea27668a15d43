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

    It is used from the first day on which any was handed over, at the timed doses and half of what
    may be taken as needed. What is measured otherwise than the course takes it is left out.
    """
    daily = daily_needs(layout)
    sums: dict[Bottle, tuple[date, Fraction]] = {}
    for part in handed:
        bottle = _bottle(daily, part)
        if bottle is not None:
            first, amount = sums.get(bottle, (part.day, Fraction(0)))
            sums[bottle] = min(first, part.day), amount + part.amount.amount
    return tuple(_lasting(daily, bottle, *found) for bottle, found in sums.items())


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
