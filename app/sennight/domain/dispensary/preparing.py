"""Preparing: what to weigh and measure for an amount of a remedy, and from which deliveries.

Amounts are rounded to what the practice's scale and measures can tell, halves up; a part is
never rounded away to nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from math import ceil
from typing import assert_never

from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.batches import UsedPart
from sennight.domain.dispensary.stock import (
    Delivery,
    Draw,
    Held,
    Material,
    Movement,
    MovementKind,
    draw,
    material_of,
)
from sennight.domain.formulas.calculations import amounts_for, base_for
from sennight.domain.remedies.form_facts import Composition
from sennight.domain.remedies.forms import Form, composition_of, units_of
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.supply.quantities import Quantity


@dataclass(frozen=True, slots=True)
class Rounding:
    """The smallest step that can be weighed or measured, by unit; above 0."""

    steps: Mapping[Unit, Fraction] = field(
        default_factory=lambda: {Unit.G: Fraction(1, 10), Unit.ML: Fraction(1, 2)}
    )

    def of(self, amount: Fraction, unit: Unit) -> Fraction:
        """An amount to the nearest step, halves up, at least one step; exact without a step."""
        step = self.steps.get(unit)
        if step is None or amount <= 0:
            return amount
        return max(1, (amount / step + Fraction(1, 2)) // 1) * step


USUAL_ROUNDING = Rounding()
"""A scale that tells 0.1 g and a cylinder that tells 0.5 mL (common practice)."""


NAMELESS = "base"
"""What a base without a name is called in stock."""


@dataclass(frozen=True, slots=True)
class ToMeasure:
    """One ingredient or the base of what is prepared: how much of it, and where from."""

    material: Material
    amount: Fraction
    draw: Draw

    @property
    def untraced(self) -> Fraction:
        """How much of it comes from no delivery on record."""
        return self.amount - sum((amount for _, amount in self.draw.amounts), Fraction(0))

    @property
    def is_at_hand(self) -> bool:
        """Whether it is taken as there without being stocked."""
        return not self.draw.amounts and not self.draw.missing


@dataclass(frozen=True, slots=True)
class Preparation:
    """An amount of a remedy to be made, its ingredients in the formula's order, then the base."""

    remedy: Remedy
    amount: Quantity
    to_measure: tuple[ToMeasure, ...]

    @property
    def missing(self) -> tuple[ToMeasure, ...]:
        """The ingredients of which too little is held."""
        return tuple(part for part in self.to_measure if part.draw.missing)

    @property
    def parts(self) -> tuple[UsedPart, ...]:
        """What goes into the batch; what no delivery has is kept without one."""
        return tuple(part for measured in self.to_measure for part in _parts(measured))

    def movements(self, batch: str, day: date) -> tuple[Movement, ...]:
        """What leaves the stock when the batch is made."""
        return tuple(
            Movement(delivery.id, day, MovementKind.USED, -amount, batch=batch)
            for measured in self.to_measure
            for delivery, amount in measured.draw.amounts
        )


def _parts(measured: ToMeasure) -> Iterable[UsedPart]:
    herb, unit = measured.material.name, measured.material.unit
    for delivery, amount in measured.draw.amounts:
        yield UsedPart(herb, Quantity(amount, unit), delivery.id)
    if measured.untraced:
        yield UsedPart(herb, Quantity(measured.untraced, unit))


def unit_of(form: Form) -> Unit:
    """What a remedy of a form is prepared in."""
    composition = composition_of(form)
    match composition:
        case Composition.BY_WEIGHT | Composition.IN_BASE:
            return Unit.G
        case Composition.BY_VOLUME:
            return Unit.ML
        case Composition.BY_PIECE:
            return units_of(form)[0]
        case _:
            assert_never(composition)


def prepare(
    remedy: Remedy,
    amount: Quantity,
    deliveries: Sequence[Delivery],
    stock: Mapping[str, Fraction],
    today: date,
    rounding: Rounding = USUAL_ROUNDING,
) -> Preparation:
    """What to weigh and measure for an amount of a remedy: grams, mL or capsules.

    What an ingredient takes is gone for the next one from the same material. A base that never
    came as a delivery (water, a cream that is bought by the tub) is taken as at hand. Raises
    CalculationError where the formula does not say its parts or the amount is not above 0.
    """
    left = dict(stock)
    measured = []
    base = base_material(remedy)
    known = {delivery.material for delivery in deliveries}
    for material, part in materials_for(remedy, amount.amount):
        rounded = rounding.of(part, material.unit)
        taken = draw(material, rounded, deliveries, left, today)
        for delivery, used in taken.amounts:
            left[delivery.id] -= used
        if material == base and material not in known:
            taken = Draw((), Fraction(0))
        measured.append(ToMeasure(material, rounded, taken))
    return Preparation(remedy, amount, tuple(measured))


def materials_for(remedy: Remedy, whole: Fraction) -> Iterator[tuple[Material, Fraction]]:
    """The materials of a formula with how much of each makes so much of it, the base last.

    Raises CalculationError as `amounts_for`.
    """
    amounts = amounts_for(remedy, whole)
    for ingredient, part in zip(remedy.ingredients, amounts, strict=True):
        yield material_of(remedy, ingredient), part
    base = base_material(remedy)
    if base is not None and (rest := base_for(remedy, whole)) > 0:
        yield base, rest


def base_material(remedy: Remedy) -> Material | None:
    """What a remedy's base is in stock; None without one."""
    if remedy.base is None:
        return None
    return Material(remedy.base.name or NAMELESS, Held.OTHER, unit_of(remedy.form))


def whole_containers(amount: Fraction, size: Fraction) -> tuple[int, Fraction]:
    """How many containers of a size hold an amount, and how much fills them all; size above 0."""
    containers = ceil(amount / size)
    return containers, containers * size


def in_order_of_the_shelf(
    preparations: Iterable[Preparation],
) -> tuple[tuple[Material, tuple[tuple[Preparation, ToMeasure], ...]], ...]:
    """All that several preparations take, material by material, by name: one walk to the shelf."""
    by_material: dict[Material, list[tuple[Preparation, ToMeasure]]] = {}
    for preparation in preparations:
        for measured in preparation.to_measure:
            by_material.setdefault(measured.material, []).append((preparation, measured))
    ordered = sorted(by_material.items(), key=lambda item: (item[0].held, item[0].name))
    return tuple((material, tuple(uses)) for material, uses in ordered)
