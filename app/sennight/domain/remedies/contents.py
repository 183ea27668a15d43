"""How much of each herb one dose of a remedy holds.

Tea: grams per cup × cups × share; millilitres of tea are cups by the cup's water, grams are
grams of the dry mixture. Tincture: mL × share ÷ ratio, as grams of dried herb. Capsule: mg ×
count ÷ 1000; grams and milligrams are of the contents, herbs in their proportion. A rub is
not counted, since it is not taken. Where a unit cannot be turned into an amount (a capsule of
tea, a gram of tincture) the amount is unknown, with the reason; it is never guessed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import assert_never

from sennight.domain.directions.directions import Unit
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.remedies.forms import Composition, Form, composition_of
from sennight.domain.remedies.remedies import Filling, Ingredient, Remedy

GRAM_UNITS: dict[Unit, Fraction] = {Unit.G: Fraction(1), Unit.MG: Fraction(1, 1000)}


@dataclass(frozen=True, slots=True)
class Unknown:
    """Why an amount cannot be told."""

    reason: str


@dataclass(frozen=True, slots=True)
class HerbAmount:
    """A herb in one dose: grams of dried herb, or of extract, and the ingredient's ratio."""

    herb: str
    form: TakenAs
    grams: Fraction | Unknown
    ratio: Fraction | None = None


def millilitres(amount: Fraction, unit: Unit, drops_per_ml: Fraction) -> Fraction | None:
    """An amount in mL (tsp 5 mL, tbsp 15 mL); None for a unit that is no volume of fixed size."""
    sizes = {Unit.ML: Fraction(1), Unit.TSP: Fraction(5), Unit.TBSP: Fraction(15)}
    if unit is Unit.DROP:
        return amount / drops_per_ml
    return amount * sizes[unit] if unit in sizes else None


def herb_amounts(remedy: Remedy, amount: Fraction, unit: Unit) -> tuple[HerbAmount, ...]:
    """The herbs in one dose, one entry an ingredient, in the formula's order; none for a rub."""
    match remedy.form:
        case Form.TEA:
            return tuple(_in_tea(remedy, amount, unit))
        case Form.TINCTURE:
            return tuple(_in_tincture(remedy, amount, unit))
        case Form.CAPSULE:
            return tuple(_in_capsule(remedy, amount, unit))
        case Form.RUB:
            return ()
        case _:
            assert_never(remedy.form)


def taken_as(form: Form, ingredient: Ingredient) -> frozenset[TakenAs]:
    """The form in which an ingredient is taken; none for what is rubbed in."""
    match form:
        case Form.TEA:
            return frozenset((TakenAs.TEA,))
        case Form.TINCTURE:
            return frozenset((TakenAs.LIQUID,))
        case Form.CAPSULE:
            is_extract = ingredient.filling is Filling.EXTRACT
            return frozenset((TakenAs.EXTRACT if is_extract else TakenAs.POWDER,))
        case Form.RUB:
            return frozenset()
        case _:
            assert_never(form)


def shares(remedy: Remedy) -> tuple[Fraction | None, ...]:
    """Each ingredient's part of the whole, by weight or volume; capsules by mg.

    None for all where one has no parts.
    """
    by_piece = composition_of(remedy.form) is Composition.BY_PIECE
    parts = [part.mg if by_piece else part.parts for part in remedy.ingredients]
    known = [part for part in parts if part is not None]
    if len(known) < len(parts) or sum(known) == 0:
        return (None,) * len(parts)
    whole = sum(known, Fraction(0))
    return tuple(part / whole for part in known)


def _in_tea(remedy: Remedy, amount: Fraction, unit: Unit) -> Iterator[HerbAmount]:
    mixture = dry_mixture(remedy, amount, unit)
    for ingredient, share in zip(remedy.ingredients, shares(remedy), strict=True):
        yield HerbAmount(ingredient.herb, TakenAs.TEA, _part(mixture, share))


def dry_mixture(remedy: Remedy, amount: Fraction, unit: Unit) -> Fraction | Unknown:
    """Grams of dry mixture in an amount of tea; unknown, with why, where it cannot be told."""
    if unit in GRAM_UNITS:
        return amount * GRAM_UNITS[unit]
    if remedy.tea is None:
        return Unknown("how the tea is made is not said")
    ml = millilitres(amount, unit, remedy.drops_per_ml)
    cups = amount if unit is Unit.CUP else ml / remedy.tea.water_ml if ml is not None else None
    return Unknown(_no_measure(unit, remedy)) if cups is None else cups * remedy.tea.grams_per_cup


def _in_tincture(remedy: Remedy, amount: Fraction, unit: Unit) -> Iterator[HerbAmount]:
    ml = millilitres(amount, unit, remedy.drops_per_ml)
    volume = Unknown(_no_measure(unit, remedy)) if ml is None else ml
    for ingredient, share in zip(remedy.ingredients, shares(remedy), strict=True):
        yield HerbAmount(
            ingredient.herb,
            TakenAs.LIQUID,
            _dried(_part(volume, share), ingredient),
            ingredient.ratio,
        )


def _dried(ml: Fraction | Unknown, ingredient: Ingredient) -> Fraction | Unknown:
    """Grams of dried herb in so many mL of a tincture: 1:5 gives 0.2 g in 1 mL."""
    if isinstance(ml, Unknown):
        return ml
    if not ingredient.ratio:
        return Unknown("the ratio of the tincture is not said")
    return ml / ingredient.ratio


def _in_capsule(remedy: Remedy, amount: Fraction, unit: Unit) -> Iterator[HerbAmount]:
    for ingredient, share in zip(remedy.ingredients, shares(remedy), strict=True):
        form = TakenAs.EXTRACT if ingredient.filling is Filling.EXTRACT else TakenAs.POWDER
        grams: Fraction | Unknown
        if unit in GRAM_UNITS:
            grams = _part(amount * GRAM_UNITS[unit], share)
        elif unit is not Unit.CAPSULE:
            grams = Unknown(_no_measure(unit, remedy))
        elif ingredient.mg is None:
            grams = Unknown("the mg in one capsule are not said")
        else:
            grams = ingredient.mg * amount / 1000
        yield HerbAmount(ingredient.herb, form, grams, ingredient.ratio)


def _part(whole: Fraction | Unknown, share: Fraction | None) -> Fraction | Unknown:
    if isinstance(whole, Unknown):
        return whole
    return Unknown("the parts of the formula are not said") if share is None else whole * share


def _no_measure(unit: Unit, remedy: Remedy) -> str:
    return f"a {remedy.form} is not measured in {unit}"
