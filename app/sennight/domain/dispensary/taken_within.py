"""What a course takes on some days: how much of each remedy, in containers, and what goes in."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.dispensary.preparing import materials_for
from sennight.domain.dispensary.stock import Material
from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.supply.needs import Bottle, needs
from sennight.domain.supply.quantities import Quantity
from sennight.domain.supply.settings import USUAL_SUPPLY, SupplySettings


@dataclass(frozen=True, slots=True)
class Taken:
    """How much of a remedy is taken; `remedy` is the formula that it is made by.

    `containers` is None for what is not measured out. `materials` are what goes into the amount,
    empty where the formula does not say its parts.
    """

    remedy: Remedy
    amount: Quantity
    containers: int | None
    materials: tuple[tuple[Material, Fraction], ...]


def taken_within(
    layout: Layout, within: Span, settings: SupplySettings = USUAL_SUPPLY
) -> tuple[Taken, ...]:
    """What is taken on the days of a span, in order of the first day."""
    sums: dict[Bottle, Fraction] = {}
    for need in needs(layout, settings.allowance, within):
        sums[need.bottle] = sums.get(need.bottle, Fraction(0)) + need.amount
    return tuple(_taken(layout, bottle, amount, settings) for bottle, amount in sums.items())


def _taken(layout: Layout, bottle: Bottle, amount: Fraction, settings: SupplySettings) -> Taken:
    remedy, size = layout.course.remedy(bottle.formula), settings.size_of(bottle)
    try:
        materials = tuple(materials_for(remedy, amount)) if size is not None else ()
    except CalculationError:
        materials = ()
    containers = None if size is None else ceil(amount / size)
    return Taken(remedy, Quantity(amount, bottle.unit), containers, materials)
