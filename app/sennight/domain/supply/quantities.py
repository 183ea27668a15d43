"""A dose as the dispensary weighs, measures or counts it.

What is made in water is weighed dry, in grams; a liquid is measured in mL; pieces are counted.
A bought-in product comes as it is measured: in pieces, mL, grams or scoops.
What is rubbed in and told in applications cannot be turned into mL, and is counted in them.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import assert_never

from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.contents import GRAM_UNITS, Unknown, dry_mixture, millilitres
from sennight.domain.remedies.form_facts import Composition
from sennight.domain.remedies.forms import VOLUMES, composition_of, units_of
from sennight.domain.remedies.portions import UNMEASURED_DROPPER
from sennight.domain.remedies.remedies import Remedy


@dataclass(frozen=True, slots=True)
class Quantity:
    """So much of a remedy: grams, mL, pieces or applications."""

    amount: Fraction
    unit: Unit


def dispensed(remedy: Remedy, amount: Fraction, unit: Unit) -> Quantity | Unknown:
    """An amount of the directions as it is dispensed; unknown, with why, where it cannot be told.

    By weight: grams of the dry mixture. Liquids: mL. Pieces: how many. In a base: as told.
    """
    match composition_of(remedy.form):
        case Composition.BY_WEIGHT:
            grams = dry_mixture(remedy, amount, unit)
            return grams if isinstance(grams, Unknown) else Quantity(grams, Unit.G)
        case Composition.BY_VOLUME | Composition.IN_BASE:
            return _liquid(remedy, amount, unit)
        case Composition.BY_PIECE:
            return _pieces(remedy, amount, unit)
        case _:
            assert_never(remedy.form)


def _liquid(remedy: Remedy, amount: Fraction, unit: Unit) -> Quantity | Unknown:
    if unit is Unit.DROPPERFUL and remedy.dropperful is None:
        return Unknown(UNMEASURED_DROPPER)
    ml = millilitres(remedy, amount, unit)
    return Quantity(amount, unit) if ml is None else Quantity(ml, Unit.ML)


def _pieces(remedy: Remedy, amount: Fraction, unit: Unit) -> Quantity | Unknown:
    """Capsules; grams and milligrams are of their contents. Products as they are measured."""
    if not remedy.form.facts.own_formula:
        return _product(remedy, amount, unit)
    if unit not in GRAM_UNITS:
        return Quantity(amount, unit)
    grams_each = sum((part.mg or Fraction(0) for part in remedy.ingredients), Fraction(0)) / 1000
    if not grams_each:
        return Unknown(f"the mg in one {remedy.form.facts.noun} is not recorded")
    return Quantity(amount * GRAM_UNITS[unit] / grams_each, units_of(remedy.form)[0])


def _product(remedy: Remedy, amount: Fraction, unit: Unit) -> Quantity | Unknown:
    if unit in VOLUMES:
        return _liquid(remedy, amount, unit)
    if unit in GRAM_UNITS:
        return Quantity(amount * GRAM_UNITS[unit], Unit.G)
    return Quantity(amount, unit)
