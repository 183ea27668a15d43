"""A formula as it is put together and tried out: its ingredients changed one at a time, what a
dose and a day of it hold, and what falls out of solution in it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import assert_never

from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import Directions, SameTimeError
from sennight.domain.directions.parser import DirectionsError
from sennight.domain.directions.understanding import read_usual_directions
from sennight.domain.exposure.ethanol import grams, strength
from sennight.domain.exposure.exposure import Exposure, remedy_exposures
from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.herbs.doses import Preparation, Route, TakenAs
from sennight.domain.herbs.herbs import Herb, MateriaMedica, Stated
from sennight.domain.herbs.ranges import working_range
from sennight.domain.remedies.contents import HerbAmount, herb_amounts, millilitres
from sennight.domain.remedies.forms import (
    Composition,
    Form,
    composition_of,
    is_taken_by_mouth,
    units_of,
)
from sennight.domain.remedies.remedies import Filling, Ingredient, Remedy

USUAL_RATIO = Fraction(5)
"""1:5, the usual ratio of a tincture of dried herb (common practice)."""

USUAL_MG = Fraction(300)


# Ingredients


def with_ingredient(remedy: Remedy, index: int, ingredient: Ingredient) -> Remedy:
    """The formula with another ingredient in that place, or one more behind the last."""
    before, after = remedy.ingredients[:index], remedy.ingredients[index + 1 :]
    return replace(remedy, ingredients=(*before, ingredient, *after))


def without_ingredient(remedy: Remedy, index: int) -> Remedy:
    """The formula without the ingredient in that place."""
    kept = (*remedy.ingredients[:index], *remedy.ingredients[index + 1 :])
    return replace(remedy, ingredients=kept)


def moved_ingredient(remedy: Remedy, index: int, by: int) -> Remedy:
    """The formula with an ingredient so many places further down; the ends stop it."""
    order = list(remedy.ingredients)
    ingredient = order.pop(index)
    order.insert(min(max(index + by, 0), len(order)), ingredient)
    return replace(remedy, ingredients=tuple(order))


def usual_ingredient(herb: Herb, form: Form) -> Ingredient:
    """A first entry of a herb in a formula: one part, in the ratio and strength of its texts.

    The strength is never below the least that keeps the herb's constituents in solution.
    """
    composition = composition_of(form)
    match composition:
        case Composition.BY_PIECE:
            return Ingredient(herb.id, mg=USUAL_MG, filling=Filling.POWDER)
        case Composition.BY_WEIGHT:
            return Ingredient(herb.id, Fraction(1))
        case Composition.BY_VOLUME:
            return _usual_liquid(herb)
        case _:
            assert_never(composition)


def _usual_liquid(herb: Herb) -> Ingredient:
    herb_range = working_range(herb, TakenAs.LIQUID)
    rows = [row for row in herb.doses if row.ratio and row.route is Route.ORAL]
    tinctures = [row for row in rows if row.form is Preparation.TINCTURE]
    best = (
        herb_range.row
        if herb_range and herb_range.row in tinctures
        else next(iter(tinctures), None)
    )
    ratio = best.ratio.made_per_herb if best and best.ratio else USUAL_RATIO
    ethanol = sum(best.ethanol, Fraction(0)) / 2 if best and best.ethanol else Fraction(0)
    least = herb.min_ethanol.value if herb.min_ethanol else Fraction(0)
    return Ingredient(herb.id, Fraction(1), ratio, max(ethanol, least))


def with_whole(remedy: Remedy, whole: Fraction) -> Remedy:
    """The formula with its parts written as amounts that come to `whole`; shares stay.

    For a capsule `whole` is the mg in one. Raises CalculationError where parts are not said.
    """
    by_piece = composition_of(remedy.form) is Composition.BY_PIECE
    parts = [ingredient.mg if by_piece else ingredient.parts for ingredient in remedy.ingredients]
    known = [part for part in parts if part is not None]
    before = sum(known, Fraction(0))
    if len(known) < len(parts) or before <= 0 or whole <= 0:
        raise CalculationError("expected an amount above 0, and parts for every herb")
    scaled = (part * whole / before for part in known)
    return replace(
        remedy,
        ingredients=tuple(
            replace(ingredient, mg=new) if by_piece else replace(ingredient, parts=new)
            for ingredient, new in zip(remedy.ingredients, scaled, strict=True)
        ),
    )


# A trial dose


@dataclass(frozen=True, slots=True)
class Trial:
    """What a remedy holds when it is taken so.

    `doses` holds the herbs of one dose, `rows` a day against the ranges. `timed` and `most`
    count the doses of a day, with and without what is taken as needed. Grams of ethanol are
    None where they are not known, or where nothing of the remedy is taken with any.
    """

    directions: Directions
    timed: int
    most: int
    doses: tuple[HerbAmount, ...]
    rows: tuple[Exposure, ...]
    ethanol_dose: Fraction | None
    ethanol_day: Fraction | None


def trial(
    remedy: Remedy, directions: Directions, day: ClientDay, materia_medica: MateriaMedica
) -> Trial:
    """What one dose and one day of a remedy hold."""
    timed = len(directions.minutes(day))
    most = timed + (directions.as_needed.ceiling(day) if directions.as_needed else 0)
    percent = strength(remedy) if is_taken_by_mouth(remedy.form) else None
    ml = millilitres(directions.largest, directions.unit, remedy.drops_per_ml)
    dose = None if percent is None or ml is None else grams(ml, percent)
    return Trial(
        directions,
        timed,
        most,
        herb_amounts(remedy, directions.amount, directions.unit),
        remedy_exposures(remedy, directions, day, materia_medica),
        dose,
        None if dose is None else dose * most,
    )


def usual_trial(form: Form) -> str:
    """The dose that a new formula of the form is tried with, in the short form of directions."""
    match form:
        case Form.TEA:
            return "1 cup tds"
        case Form.TINCTURE:
            return "5 mL tds"
        case Form.RUB:
            return "1 application bd"
        case Form.CAPSULE:
            return "1 capsule bd"
        case _:
            assert_never(form)


def trial_directions(remedy: Remedy, text: str) -> Directions | None:
    """Directions as typed; None where they cannot be read or do not fit the remedy's form."""
    try:
        directions = read_usual_directions(text)
    except DirectionsError:
        return None
    return directions if directions.unit in units_of(remedy.form) else None


def usual_day_trial(remedy: Remedy, text: str, materia_medica: MateriaMedica) -> Trial | None:
    """What a typed dose holds on a usual day; None where that cannot be told."""
    directions = trial_directions(remedy, text)
    if directions is None:
        return None
    try:
        return trial(remedy, directions, ClientDay.at(), materia_medica)
    except SameTimeError:
        return None


# In solution


@dataclass(frozen=True, slots=True)
class Falling:
    """A herb whose constituents want a stronger blend than this one to stay in solution."""

    herb: Herb
    needs: Stated
    strength: Fraction


def falling_out(remedy: Remedy, materia_medica: MateriaMedica) -> tuple[Falling, ...]:
    """The herbs that the blend is too weak for; none where its strength is not known."""
    return tuple(_falling(remedy, materia_medica))


def _falling(remedy: Remedy, materia_medica: MateriaMedica) -> Iterator[Falling]:
    percent = strength(remedy)
    if percent is None:
        return
    for ingredient in remedy.ingredients:
        herb = materia_medica.herb(ingredient.herb)
        needs = herb.min_ethanol if herb else None
        if herb and needs and percent < needs.value:
            yield Falling(herb, needs, percent)
