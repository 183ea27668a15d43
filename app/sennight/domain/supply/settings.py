"""What a practice sets about supply: what is reckoned beside timed doses, containers, orders."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.portions import container_holds
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.supply.needs import USUAL, Allowance, Bottle

SizeOf = Callable[[Bottle], Fraction | None]


@dataclass(frozen=True, slots=True)
class SupplySettings:
    """What is reckoned with, what a usual container holds, and when more is ordered.

    `ml`, `grams` and `capsules` are what a bottle, a bag and a tub hold, above 0: 100 mL, 100 g
    and 60 capsules unless the practice says otherwise (common practice). `order_days`, from 0, is
    how many days before it runs out more is ordered: a week (common practice).
    """

    allowance: Allowance = USUAL
    ml: Fraction = Fraction(100)
    grams: Fraction = Fraction(100)
    capsules: Fraction = Fraction(60)
    order_days: int = 7

    def size_in(self, unit: Unit) -> Fraction | None:
        """How much the usual container holds; None for what is not measured out so."""
        sizes = {Unit.ML: self.ml, Unit.G: self.grams, Unit.CAPSULE: self.capsules}
        return sizes.get(unit)

    def size_of(self, bottle: Bottle) -> Fraction | None:
        """How much a bottle's container holds, its formula's own or else the usual one."""
        return bottle.holds or self.size_in(bottle.unit)

    def container_of(self, remedy: Remedy, unit: Unit) -> Fraction | None:
        """How much a remedy's container holds, its own or else the usual one."""
        return container_holds(remedy, unit) or self.size_in(unit)


USUAL_SUPPLY = SupplySettings()
"""What holds where a practice set nothing."""
