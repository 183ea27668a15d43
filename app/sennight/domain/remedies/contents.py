"""How much of each herb one dose of a remedy holds.

Made in water: grams at one making × cups × share; millilitres of tea are cups by the cup's
water, grams are grams of the dry mixture. A powder: grams × share, a teaspoon as heavy as the
remedy says. Liquids: mL × share ÷ ratio, as grams of dried herb; juice of the fresh plant as
grams of juice, 1 mL as 1 g, for it is compared with juice alone. Pieces: mg × count ÷ 1000;
grams and milligrams are of the contents, herbs in their proportion. A bought-in product whose
mg are in 5 mL, in a scoop or in two capsules: mg × how many of these a dose is. What is for the
skin or spat out is not counted, since it is not taken. Where a unit cannot be turned into an
amount (a capsule of tea, a gram of tincture, a dropperful of a dropper that nobody measured) the
amount is unknown, with the reason; it is never guessed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import assert_never

from sennight.domain.directions.directions import Unit
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.remedies.form_facts import Composition, Filling
from sennight.domain.remedies.forms import (
    VOLUMES,
    Form,
    called,
    composition_of,
    is_taken_by_mouth,
    units_of,
)
from sennight.domain.remedies.portions import UNMEASURED_DROPPER, measured_units
from sennight.domain.remedies.remedies import DROPS_PER_ML, Ingredient, Portion, Remedy

GRAM_UNITS: dict[Unit, Fraction] = {Unit.G: Fraction(1), Unit.MG: Fraction(1, 1000)}
SPOONS: dict[Unit, int] = {Unit.TSP: 1, Unit.TBSP: 3}
"""Teaspoons (5 mL) in a spoon."""

_UNMADE = "how the tea is made is not recorded"


@dataclass(frozen=True, slots=True)
class Unknown:
    """Why an amount cannot be told."""

    reason: str


@dataclass(frozen=True, slots=True)
class HerbAmount:
    """A herb in one dose: grams of dried herb, juice, extract or substance, and its ratio."""

    herb: str
    form: TakenAs
    grams: Fraction | Unknown
    ratio: Fraction | None = None


def millilitres(remedy: Remedy, amount: Fraction, unit: Unit) -> Fraction | None:
    """An amount in mL (tsp 5 mL, tbsp 15 mL), by the remedy's own drops and dropper.

    None for a unit that is no volume of known size, a dropperful that was never measured too.
    """
    if unit is Unit.DROPPERFUL:
        holds = remedy.dropperful
        return None if holds is None else millilitres(remedy, amount * holds.amount, holds.unit)
    if unit is Unit.DROP:
        return amount / remedy.drops_per_ml
    if unit in SPOONS:
        return amount * SPOONS[unit] * 5
    return amount if unit is Unit.ML else None


@lru_cache(maxsize=512)
def herb_amounts(remedy: Remedy, amount: Fraction, unit: Unit) -> tuple[HerbAmount, ...]:
    """The herbs in one dose, one entry an ingredient, in order; none of what is not swallowed."""
    taken = composition_of(remedy.form) if is_taken_by_mouth(remedy.form) else None
    match taken:
        case None | Composition.IN_BASE:
            return ()
        case Composition.BY_WEIGHT:
            return tuple(_in_mixture(remedy, amount, unit))
        case Composition.BY_VOLUME:
            return tuple(_in_liquid(remedy, amount, unit))
        case Composition.BY_PIECE:
            return tuple(_in_pieces(remedy, amount, unit))
        case _:
            assert_never(taken)


def taken_as(form: Form, ingredient: Ingredient) -> frozenset[TakenAs]:
    """The form in which an ingredient is taken; none for what is not swallowed."""
    return frozenset((_counted_as(form, ingredient),)) if is_taken_by_mouth(form) else frozenset()


def _counted_as(form: Form, ingredient: Ingredient) -> TakenAs:
    if form.facts.counted_as:
        return form.facts.counted_as
    filling = ingredient.filling or form.facts.fillings[0]
    match filling:
        case Filling.POWDER:
            return TakenAs.POWDER
        case Filling.SUBSTANCE:
            return TakenAs.SUBSTANCE
        case Filling.TINCTURE:
            return TakenAs.LIQUID
        case Filling.EXTRACT | Filling.INFUSED_OIL | Filling.ESSENTIAL_OIL:
            return TakenAs.EXTRACT
        case _:
            assert_never(filling)


def shares(remedy: Remedy) -> tuple[Fraction | None, ...]:
    """Each ingredient's part of the whole, the base counted with it.

    By weight, by volume, by mg in a piece, or by percent. None for all where one is not said.
    """
    parts = [_part_of(remedy, ingredient) for ingredient in remedy.ingredients]
    known = [part for part in parts if part is not None]
    if len(known) < len(parts) or sum(known) == 0:
        return (None,) * len(parts)
    if composition_of(remedy.form) is Composition.IN_BASE:
        return tuple(part / 100 for part in known)
    whole = sum(known, remedy.base.parts if remedy.base else Fraction(0))
    return tuple(part / whole for part in known)


def _part_of(remedy: Remedy, ingredient: Ingredient) -> Fraction | None:
    composition = composition_of(remedy.form)
    match composition:
        case Composition.BY_PIECE:
            return ingredient.mg
        case Composition.BY_WEIGHT | Composition.BY_VOLUME:
            return ingredient.parts
        case Composition.IN_BASE:
            return percent_of(remedy, ingredient)
        case _:
            assert_never(composition)


def percent_of(remedy: Remedy, ingredient: Ingredient) -> Fraction | None:
    """Percent by weight of an ingredient in a base; None where neither it nor drops are said.

    A drop of essential oil is counted as 0.05 mL and 1 mL of it as 1 g, both a little on the
    heavy side: 6 drops in 30 g are 1 % (common practice).
    """
    if ingredient.percent is not None:
        return ingredient.percent
    if ingredient.drops is None or not remedy.batch_g:
        return None
    return ingredient.drops * 100 / DROPS_PER_ML / remedy.batch_g


def is_over_the_whole(remedy: Remedy) -> bool:
    """Whether what is written in percent comes to more than 100 of them."""
    return sum(percent_of(remedy, part) or Fraction(0) for part in remedy.ingredients) > 100


def has_drops_in_nothing(remedy: Remedy) -> bool:
    """Whether an oil is counted in drops, and nobody said into how many grams."""
    return not remedy.batch_g and any(part.drops is not None for part in remedy.ingredients)


# Made in water, and powders


def _in_mixture(remedy: Remedy, amount: Fraction, unit: Unit) -> Iterator[HerbAmount]:
    mixture = dry_mixture(remedy, amount, unit)
    for ingredient, share in zip(remedy.ingredients, shares(remedy), strict=True):
        form = _counted_as(remedy.form, ingredient)
        yield HerbAmount(ingredient.herb, form, _part(mixture, share))


def dry_mixture(remedy: Remedy, amount: Fraction, unit: Unit) -> Fraction | Unknown:
    """Grams of dry mixture in an amount of what is made of it; unknown, with why, if not told."""
    if unit in GRAM_UNITS:
        return amount * GRAM_UNITS[unit]
    if remedy.form.facts.has_spoon and unit in SPOONS:
        if remedy.spoon_g is None:
            return Unknown("how much a teaspoon of it weighs is not recorded")
        return amount * SPOONS[unit] * remedy.spoon_g
    if remedy.tea is None:
        return Unknown(_no_measure(unit, remedy) if remedy.form.facts.has_spoon else _UNMADE)
    ml = millilitres(remedy, amount, unit)
    whole = unit in (Unit.CUP, Unit.APPLICATION) and unit in units_of(remedy.form)
    cups = amount if whole else ml / remedy.tea.water_ml if ml is not None else None
    return Unknown(_no_measure(unit, remedy)) if cups is None else cups * remedy.tea.grams_per_cup


# Liquids


def _in_liquid(remedy: Remedy, amount: Fraction, unit: Unit) -> Iterator[HerbAmount]:
    ml = millilitres(remedy, amount, unit)
    volume = Unknown(_no_measure(unit, remedy)) if ml is None else ml
    for ingredient, share in zip(remedy.ingredients, shares(remedy), strict=True):
        form = _counted_as(remedy.form, ingredient)
        part = _part(volume, share)
        grams = part if form is TakenAs.JUICE else _dried(part, ingredient)
        yield HerbAmount(ingredient.herb, form, grams, ingredient.ratio)


def _dried(ml: Fraction | Unknown, ingredient: Ingredient) -> Fraction | Unknown:
    """Grams of dried herb in so many mL of a tincture: 1:5 gives 0.2 g in 1 mL."""
    if isinstance(ml, Unknown):
        return ml
    if not ingredient.ratio:
        return Unknown("the ratio of the tincture is not recorded")
    return ml / ingredient.ratio


def has_sugar_in_nothing(remedy: Remedy) -> bool:
    """Whether a base has sugar of which no parts are said, so that nothing can be counted."""
    base = remedy.base
    return remedy.form.facts.has_sugar and bool(base and base.sugar and not base.parts)


def sugar_grams(remedy: Remedy, amount: Fraction, unit: Unit) -> Fraction | Unknown | None:
    """Grams of sugar in one dose: mL × the base's share × its sugar; None for what has none."""
    if not remedy.form.facts.has_sugar:
        return None
    ml = millilitres(remedy, amount, unit)
    if ml is None:
        return Unknown(_no_measure(unit, remedy))
    known = [share for share in shares(remedy) if share is not None]
    if remedy.base is None or has_sugar_in_nothing(remedy) or len(known) < len(remedy.ingredients):
        return Unknown("how much syrup is in it is not recorded")
    return ml * (1 - sum(known, Fraction(0))) * remedy.base.sugar / 100


# Pieces


def _in_pieces(remedy: Remedy, amount: Fraction, unit: Unit) -> Iterator[HerbAmount]:
    for ingredient, share in zip(remedy.ingredients, shares(remedy), strict=True):
        form = _counted_as(remedy.form, ingredient)
        grams: Fraction | Unknown
        portions = labelled_portions(remedy, amount, unit)
        if remedy.form.facts.own_formula and unit in GRAM_UNITS:
            grams = _part(amount * GRAM_UNITS[unit], share)
        elif isinstance(portions, Unknown):
            grams = portions
        elif ingredient.mg is None:
            grams = Unknown(f"the mg in one {remedy.form.facts.noun} is not recorded")
        else:
            grams = ingredient.mg * portions / 1000
        yield HerbAmount(ingredient.herb, form, grams, ingredient.ratio)


def labelled_portions(remedy: Remedy, amount: Fraction, unit: Unit) -> Fraction | Unknown:
    """How many of what the mg are told for an amount is: 10 mL are 2 where they are in 5 mL."""
    told = remedy.mg_in or Portion(Fraction(1), Unit.PIECE)
    if unit not in measured_units(remedy):
        return Unknown(_no_measure(unit, remedy))
    if unit in GRAM_UNITS and told.unit in GRAM_UNITS:
        return amount * GRAM_UNITS[unit] / (told.amount * GRAM_UNITS[told.unit])
    if unit in VOLUMES:
        ml, whole = millilitres(remedy, amount, unit), millilitres(remedy, told.amount, told.unit)
        return Unknown(_no_measure(unit, remedy)) if ml is None or not whole else ml / whole
    return amount / told.amount


def _part(whole: Fraction | Unknown, share: Fraction | None) -> Fraction | Unknown:
    if isinstance(whole, Unknown):
        return whole
    return Unknown("the parts of the formula are not recorded") if share is None else whole * share


def _no_measure(unit: Unit, remedy: Remedy) -> str:
    if unit is Unit.DROPPERFUL and unit in measured_units(remedy):
        return UNMEASURED_DROPPER
    return f"{called(remedy.form)} is not measured in {unit}"


# On the skin


@dataclass(frozen=True, slots=True)
class SkinStrength:
    """How strong a herb is in what goes on the skin.

    `percent` of the whole, by weight in a base, by volume in a liquid; `grams` of dried herb in
    100 g (or mL) of it, None where a ratio is not said or what is in it is an essential oil.
    """

    herb: str
    filling: Filling | None
    percent: Fraction | None
    grams: Fraction | None


def skin_strengths(remedy: Remedy) -> tuple[SkinStrength, ...]:
    """The strength of each herb, in the formula's order; none for what is not on the skin."""
    composition = composition_of(remedy.form)
    if composition not in (Composition.IN_BASE, Composition.BY_VOLUME):
        return ()
    return tuple(
        SkinStrength(
            ingredient.herb,
            ingredient.filling,
            None if share is None else share * 100,
            _dried_in_100(ingredient, share),
        )
        for ingredient, share in zip(remedy.ingredients, shares(remedy), strict=True)
    )


def _dried_in_100(ingredient: Ingredient, share: Fraction | None) -> Fraction | None:
    if share is None or ingredient.filling is Filling.ESSENTIAL_OIL:
        return None
    if ingredient.filling is Filling.POWDER:
        return share * 100
    return share * 100 / ingredient.ratio if ingredient.ratio else None


def essential_oil_percent(remedy: Remedy) -> Fraction | None:
    """Essential oils together, in percent by weight; None where one is not said."""
    oils = [part for part in remedy.ingredients if part.filling is Filling.ESSENTIAL_OIL]
    parts = [percent_of(remedy, oil) for oil in oils]
    known = [part for part in parts if part is not None]
    return sum(known, Fraction(0)) if len(known) == len(parts) else None
