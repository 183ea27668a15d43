"""What the client keeps at home for flare-up plans, before a flare and again after one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from math import ceil

from sennight.domain.courses.possible_flares import (
    PossibleFlare,
    possible_flares,
    repeated_flares,
)
from sennight.domain.courses.stretches import Layout
from sennight.domain.supply.containers import PhaseSupply
from sennight.domain.supply.needs import needs
from sennight.domain.supply.settings import USUAL_SUPPLY, SupplySettings


def supplies_if_flare(
    layout: Layout, settings: SupplySettings = USUAL_SUPPLY
) -> tuple[PhaseSupply, ...]:
    """What one run of each plan needs that no flare has called, in containers of its own.

    At its fullest directions, and without dates: a flare has none before it is called. A plan
    without a length is counted to the course's end.
    """
    return tuple(
        supply for flare in possible_flares(layout) for supply in _of_plan(flare, None, settings)
    )


def supplies_again(
    layout: Layout, settings: SupplySettings = USUAL_SUPPLY
) -> tuple[PhaseSupply, ...]:
    """The same for plans that flares have called and another may: what was kept is used up.

    `order_by` is the last day of the flare, by which it should be at home again.
    """
    return tuple(
        supply
        for flare, ended in repeated_flares(layout)
        for supply in _of_plan(flare, ended, settings)
    )


def _of_plan(
    flare: PossibleFlare, order_by: date | None, settings: SupplySettings
) -> Iterator[PhaseSupply]:
    plan = flare.phase.id
    own = tuple(stretch for stretch in flare.once.stretches if stretch.phase == plan)
    for need in needs(replace(flare.once, stretches=own), settings.allowance):
        size = settings.size_of(need.bottle)
        containers = None if size is None else ceil(need.amount / size)
        yield PhaseSupply(need.bottle, plan, need.amount, containers, None, None, order_by)
