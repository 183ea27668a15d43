"""What leaves the shelf: a dose as the dispensary weighs, measures or counts it.

A tea is weighed dry, in grams; a liquid is measured in mL; capsules are counted. A rub told in
applications cannot be turned into mL, and is counted in applications.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import assert_never

from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.contents import GRAM_UNITS, Unknown, dry_mixture, millilitres, shares
from sennight.domain.remedies.forms import Composition, composition_of
from sennight.domain.remedies.remedies import Ingredient, Remedy


@dataclass(frozen=True, slots=True)
class Quantity:
    """So much of a remedy or of an ingredient: grams, mL, capsules or applications."""

    amount: Fraction
    unit: Unit

    def times(self, factor: Fraction | int) -> Quantity:
        """So many times as much."""
        return Quantity(self.amount * factor, self.unit)


def dispensed(remedy: Remedy, amount: Fraction, unit: Unit) -> Quantity | Unknown:
    """An amount of the directions as it is dispensed; unknown, with why, where it cannot be told.

    Tea: grams of the dry mixture. Liquids: mL. Capsules: how many.
    """
    match composition_of(remedy.form):
        case Composition.BY_WEIGHT:
            grams = dry_mixture(remedy, amount, unit)
            return grams if isinstance(grams, Unknown) else Quantity(grams, Unit.G)
        case Composition.BY_VOLUME:
            return _liquid(remedy, amount, unit)
        case Composition.BY_PIECE:
            return _pieces(remedy, amount, unit)
        case _:
            assert_never(remedy.form)


def _liquid(remedy: Remedy, amount: Fraction, unit: Unit) -> Quantity:
    ml = millilitres(amount, unit, remedy.drops_per_ml)
    return Quantity(amount, unit) if ml is None else Quantity(ml, Unit.ML)


def _pieces(remedy: Remedy, amount: Fraction, unit: Unit) -> Quantity | Unknown:
    """Capsules; grams and milligrams are of their contents."""
    if unit not in GRAM_UNITS:
        return Quantity(amount, unit)
    grams_each = sum((part.mg or Fraction(0) for part in remedy.ingredients), Fraction(0)) / 1000
    if not grams_each:
        return Unknown("the mg in one capsule are not said")
    return Quantity(amount * GRAM_UNITS[unit] / grams_each, Unit.CAPSULE)


def ingredients_of(
    remedy: Remedy, quantity: Quantity
) -> tuple[tuple[Ingredient, Quantity | Unknown], ...]:
    """What to weigh or measure for so much of a remedy, in the formula's order.

    Tea: grams of each herb. Liquids: mL of each, blended by volume. Capsules: grams of what
    they are filled with. Unknown where the formula has no parts, or applications are counted.
    """
    return tuple(
        (ingredient, _ingredient(ingredient, share, quantity))
        for ingredient, share in zip(remedy.ingredients, shares(remedy), strict=True)
    )


def _ingredient(
    ingredient: Ingredient, share: Fraction | None, quantity: Quantity
) -> Quantity | Unknown:
    match quantity.unit:
        case Unit.CAPSULE if ingredient.mg is not None:
            return Quantity(ingredient.mg * quantity.amount / 1000, Unit.G)
        case Unit.G | Unit.ML if share is not None:
            return quantity.times(share)
        case Unit.G | Unit.ML | Unit.CAPSULE:
            return Unknown("the parts of the formula are not said")
        case _:
            return Unknown(f"how much one {quantity.unit} takes is not said")
