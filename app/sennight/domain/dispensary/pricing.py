"""What a batch costs and what is asked for it. Money is exact, in the practice's currency.

No bookkeeping: a cost, a price with its tax, and the lines of a receipt.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from sennight.domain.dispensary.batches import Batch
from sennight.domain.dispensary.stock import Delivery, Movement, MovementKind


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


def batch_cost(batch: Batch, costs: Mapping[str, Fraction]) -> Fraction | None:
    """What a batch's parts cost; None where the cost of one of them is not known."""
    total = Fraction(0)
    for part in batch.parts:
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
