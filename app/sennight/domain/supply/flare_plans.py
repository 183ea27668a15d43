"""What the client keeps at home for flare-up plans that no flare has called yet."""

from __future__ import annotations

from dataclasses import replace
from math import ceil

from sennight.domain.courses.possible_flares import possible_flares
from sennight.domain.courses.stretches import Layout
from sennight.domain.supply.containers import PhaseSupply, SizeOf, usual_size
from sennight.domain.supply.needs import USUAL, Allowance, needs


def supplies_if_flare(
    layout: Layout, allowance: Allowance = USUAL, size_of: SizeOf = usual_size
) -> tuple[PhaseSupply, ...]:
    """What one run of each plan needs, at its fullest directions, in containers of its own.

    They have other directions on their labels than those in use, and no dates: a flare has none
    before it is called. A plan without a length is counted to the course's end.
    """
    return tuple(
        replace(supply, containers=None if size is None else ceil(supply.amount / size))
        for flare in possible_flares(layout)
        for supply in _of_plan(flare.once, flare.phase.id, allowance)
        for size in (size_of(supply.bottle),)
    )


def _of_plan(once: Layout, phase: str, allowance: Allowance) -> tuple[PhaseSupply, ...]:
    own = tuple(stretch for stretch in once.stretches if stretch.phase == phase)
    return tuple(
        PhaseSupply(need.bottle, phase, need.amount, None, None, None, None)
        for need in needs(replace(once, stretches=own), allowance)
    )
