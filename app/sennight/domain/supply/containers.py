"""Whole containers: how many a phase adds, how long they last, and by when to order.

What is left over from one phase is used in the next: a phase asks only for the containers that
are not yet filled. So the containers of all phases are those of the whole course.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from math import ceil

from sennight.domain.courses.stretches import Layout
from sennight.domain.supply.needs import (
    Bottle,
    DailyNeed,
    Need,
    daily_needs,
    last_day_needed,
    lasts_until,
    phase_needs,
)
from sennight.domain.supply.settings import USUAL_SUPPLY, SupplySettings


@dataclass(frozen=True, slots=True)
class PhaseSupply:
    """What a phase needs of a bottle, and the containers to add for it.

    `lasts_until` is the last day that all containers up to this phase are enough for. `order_by`
    is the day to order the next, None where they are enough to the end. Both are None where the
    containers are: an amount that is counted in applications. What is kept for a flare-up has no
    dates but the day to have it again by, where a flare has used it up.
    """

    bottle: Bottle
    phase: str
    amount: Fraction
    containers: int | None
    first_needed: date | None
    lasts_until: date | None
    order_by: date | None


def phase_supplies(
    layout: Layout, settings: SupplySettings = USUAL_SUPPLY
) -> tuple[PhaseSupply, ...]:
    """The supply of a whole course: one entry for each bottle in each phase, in order."""
    daily = daily_needs(layout, settings.allowance)
    by_bottle: dict[Bottle, list[DailyNeed]] = defaultdict(list)
    for taken in daily:
        by_bottle[taken.bottle].append(taken)
    needed: dict[Bottle, Fraction] = defaultdict(Fraction)
    filled: dict[Bottle, int] = defaultdict(int)
    supplies = []
    for need in phase_needs(daily):
        size = settings.size_of(need.bottle)
        if size is None:
            supplies.append(_counted(need))
            continue
        needed[need.bottle] += need.amount
        added = ceil(needed[need.bottle] / size) - filled[need.bottle]
        filled[need.bottle] += added
        held, of_bottle = filled[need.bottle] * size, by_bottle[need.bottle]
        supplies.append(_contained(need, added, held, of_bottle, settings.order_days))
    return tuple(supplies)


def _counted(need: Need) -> PhaseSupply:
    """What is counted in applications, in no container."""
    return PhaseSupply(need.bottle, need.phase, need.amount, None, need.first, None, None)


def _contained(
    need: Need, added: int, held: Fraction, daily: Sequence[DailyNeed], order_days: int
) -> PhaseSupply:
    last = lasts_until(daily, need.bottle, date.min, held)
    is_enough = last == last_day_needed(daily, need.bottle)
    order_by = None if is_enough or last is None else last - timedelta(days=order_days)
    return PhaseSupply(need.bottle, need.phase, need.amount, added, need.first, last, order_by)
