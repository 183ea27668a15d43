"""What a batch costs and what is asked for it. Money is exact, in the practice's currency.

No bookkeeping: a cost, a price with its tax, and the lines of a receipt.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from sennight.domain.dispensary.batches import Batch
from sennight.domain.dispensary.preparing import base_material
from sennight.domain.dispensary.stock import (
    Delivery,
    Material,
    Movement,
    MovementKind,
    material_of,
)
from sennight.domain.formulas.calculations import amounts_for, base_for
from sennight.domain.remedies.remedies import Remedy


@dataclass(frozen=True, slots=True)
class PriceRule:
    """How a price follows from a cost: `markup` and `tax` as shares (0.5 is half as much again).

    `fee` is what one container and its filling cost beside the contents. Prices are rounded up
    to `step`, which is above 0.
    """

    markup: Fraction = Fraction(0)
    fee: Fraction = Fraction(0)
    tax: Fraction = Fraction(0)
    step: Fraction = Fraction(1, 100)


@dataclass(frozen=True, slots=True)
class Prices:
    """How a practice prices: a rule for all, others for some forms, and the currency's sign.

    `rules` go by the form's name.
    """

    usual: PriceRule = PriceRule()
    rules: Mapping[str, PriceRule] = field(default_factory=dict)
    currency: str = "£"

    def rule_of(self, remedy: Remedy) -> PriceRule:
        """The rule of a remedy's form."""
        return self.rules.get(str(remedy.form), self.usual)

    def words(self, amount: Fraction) -> str:
        """A sum with the currency's sign: £12.50."""
        pounds, pence = divmod(int(_to_hundredths(amount) * 100), 100)
        return f"{self.currency}{pounds}.{pence:02}"


@dataclass(frozen=True, slots=True)
class Price:
    """A price: before tax, the tax, and both together."""

    net: Fraction
    tax: Fraction

    @property
    def total(self) -> Fraction:
        """What the client pays."""
        return self.net + self.tax


def unit_costs(
    deliveries: Iterable[Delivery], movements: Iterable[Movement]
) -> Mapping[str, Fraction]:
    """What a gram, mL or piece of each delivery cost: its cost by what was received of it."""
    received: dict[str, Fraction] = {}
    for movement in movements:
        if movement.kind is MovementKind.RECEIVED:
            before = received.get(movement.delivery, Fraction(0))
            received[movement.delivery] = before + movement.amount
    return {
        delivery.id: delivery.cost / received[delivery.id]
        for delivery in deliveries
        if delivery.cost is not None and received.get(delivery.id)
    }


def material_costs(
    deliveries: Iterable[Delivery], movements: Iterable[Movement]
) -> Mapping[Material, Fraction]:
    """What a gram, mL or piece of each material cost when it came last with its cost."""
    rows = tuple(deliveries)
    costs = unit_costs(rows, movements)
    return {delivery.material: costs[delivery.id] for delivery in rows if delivery.id in costs}


def remedy_cost(
    remedy: Remedy, amount: Fraction, costs: Mapping[Material, Fraction]
) -> Fraction | None:
    """What the ingredients of so much of a remedy cost; None where one is not known.

    The base counts where its cost is known. Else what it costs is in the price rule's fee, as a
    container and filling it are. Raises CalculationError as `amounts_for`.
    """
    base = base_material(remedy)
    known = costs.get(base, Fraction(0)) if base is not None else Fraction(0)
    total = known * base_for(remedy, amount)
    for ingredient, part in zip(remedy.ingredients, amounts_for(remedy, amount), strict=True):
        material = material_of(remedy, ingredient)
        if material not in costs:
            return None
        total += costs[material] * part
    return total


def batch_cost(batch: Batch, costs: Mapping[str, Fraction]) -> Fraction | None:
    """What a batch's parts cost; None where the cost of one of them is not known.

    A base that came from no delivery is in the price rule's fee.
    """
    base = base_material(batch.remedy)
    total = Fraction(0)
    for part in batch.parts:
        if base is not None and (part.herb, part.delivery) == (base.name, None):
            continue
        if part.delivery is None or part.delivery not in costs:
            return None
        total += costs[part.delivery] * part.amount.amount
    return total


def price_of(cost: Fraction, containers: int, rule: PriceRule) -> Price:
    """The price of what cost so much, in so many containers, rounded up to the rule's step."""
    asked = (cost * (1 + rule.markup) + rule.fee * containers) * (1 + rule.tax)
    total = -(-asked // rule.step) * rule.step
    net = total / (1 + rule.tax)
    tax = _to_hundredths(total - net)
    return Price(total - tax, tax)


def _to_hundredths(amount: Fraction) -> Fraction:
    return Fraction((amount * 100 + Fraction(1, 2)) // 1, 100)
