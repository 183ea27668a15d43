"""A formula as it is put together and tried out: its ingredients changed one at a time, what a
dose and a day of it hold, and what falls out of solution in it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
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
from sennight.domain.remedies.contents import (
    HerbAmount,
    Unknown,
    herb_amounts,
    millilitres,
    sugar_grams,
)
from sennight.domain.remedies.form_facts import Composition
from sennight.domain.remedies.forms import Form, composition_of, is_taken_by_mouth
from sennight.domain.remedies.portions import unit_mistake
from sennight.domain.remedies.remedies import Ingredient, Remedy

USUAL_RATIO = Fraction(5)
"""1:5, the usual ratio of a tincture of dried herb (common practice)."""

USUAL_MG = Fraction(300)
USUAL_PERCENT = Fraction(10)
"""Percent by weight of an infused oil or tincture in a base (common practice: 10 to 20)."""


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
            return Ingredient(herb.id, mg=USUAL_MG, filling=form.facts.fillings[0])
        case Composition.BY_WEIGHT:
            return Ingredient(herb.id, Fraction(1))
        case Composition.BY_VOLUME:
            return _usual_liquid(herb, form)
        case Composition.IN_BASE:
            return Ingredient(herb.id, filling=form.facts.fillings[0], percent=USUAL_PERCENT)
        case _:
            assert_never(composition)


def _usual_liquid(herb: Herb, form: Form) -> Ingredient:
    if not form.facts.has_ratio:
        return Ingredient(herb.id, Fraction(1), ethanol=Fraction(0))
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
    strength_needed = max(ethanol, least) if form.facts.has_ethanol else None
    return Ingredient(herb.id, Fraction(1), ratio, strength_needed)


def with_whole(remedy: Remedy, whole: Fraction) -> Remedy:
    """The formula with its parts written as amounts that come to `whole`; shares stay.

    What it is thinned with is scaled alike. For a piece `whole` is the mg in one. Raises
    CalculationError where parts are not said.
    """
    by_piece = composition_of(remedy.form) is Composition.BY_PIECE
    parts = [ingredient.mg if by_piece else ingredient.parts for ingredient in remedy.ingredients]
    known = [part for part in parts if part is not None]
    base = remedy.base
    before = sum(known, base.parts if base else Fraction(0))
    if len(known) < len(parts) or before <= 0 or whole <= 0:
        raise CalculationError("expected an amount above 0, and parts for every herb")
    times = whole / before
    return replace(
        remedy,
        ingredients=tuple(
            replace(part, mg=new * times) if by_piece else replace(part, parts=new * times)
            for part, new in zip(remedy.ingredients, known, strict=True)
        ),
        base=replace(base, parts=base.parts * times) if base else None,
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
    sugar: Fraction | Unknown | None = None
    """Grams of sugar in one dose; None for what is made without."""


def trial(
    remedy: Remedy, directions: Directions, day: ClientDay, materia_medica: MateriaMedica
) -> Trial:
    """What one dose and one day of a remedy hold."""
    timed = len(directions.minutes(day))
    most = timed + (directions.as_needed.ceiling(day) if directions.as_needed else 0)
    percent = strength(remedy) if is_taken_by_mouth(remedy.form) else None
    ml = millilitres(remedy, directions.largest, directions.unit)
    dose = None if percent is None or ml is None else grams(ml, percent)
    return Trial(
        directions,
        timed,
        most,
        herb_amounts(remedy, directions.amount, directions.unit),
        remedy_exposures(remedy, directions, day, materia_medica),
        dose,
        None if dose is None else dose * most,
        sugar_grams(remedy, directions.largest, directions.unit),
    )


def usual_trial(remedy: Remedy) -> str:
    """The dose that a formula is tried with at first, in the short form of directions."""
    return f"{remedy.mg_in} od" if remedy.mg_in else remedy.form.facts.usual_dose


def trial_directions(remedy: Remedy, text: str) -> Directions | None:
    """Directions as typed; None where they cannot be read or do not fit the remedy's form."""
    try:
        directions = read_usual_directions(text)
    except DirectionsError:
        return None
    return None if unit_mistake(remedy, directions.unit) else directions


def usual_day_trial(remedy: Remedy, text: str, materia_medica: MateriaMedica) -> Trial | None:
    """What a typed dose holds on a usual day; None where that cannot be told."""
    directions = trial_directions(remedy, text)
    if directions is None:
        return None
    try:
        return trial(remedy, directions, ClientDay.at(), materia_medica)
    except SameTimeError:
        return None


@dataclass(frozen=True, slots=True)
class FullDay:
    """How much of a full day a formula is: each herb's part of its own maximum, added up.

    `herbs` were added, of `unknown` no range is held; the latter are told, never guessed.
    """

    part: Fraction
    herbs: int
    unknown: tuple[str, ...]


def full_day(rows: Iterable[Exposure]) -> FullDay:
    """The sum over a formula's herbs; of a herb in several forms its row over all of them."""
    by_herb: dict[str, Exposure] = {}
    for row in rows:
        if row.form is None or row.herb not in by_herb:
            by_herb[row.herb] = row
    known = [part for row in by_herb.values() if (part := row.fraction_of_max) is not None]
    unknown = tuple(herb for herb, row in by_herb.items() if row.fraction_of_max is None)
    return FullDay(sum(known, Fraction(0)), len(known), unknown)


# In solution


@dataclass(frozen=True, slots=True)
class Falling:
    """A herb whose constituents want a stronger blend than this one to stay in solution."""

    herb: Herb
    needs: Stated
    strength: Fraction


def falling_out(remedy: Remedy, materia_medica: MateriaMedica) -> tuple[Falling, ...]:
    """The herbs that the blend is too weak for; none where its strength is not known.

    Only of what is drawn out with ethanol: glycerol and pressed juice hold herbs in other ways.
    """
    return tuple(_falling(remedy, materia_medica))


def _falling(remedy: Remedy, materia_medica: MateriaMedica) -> Iterator[Falling]:
    percent, facts = strength(remedy), remedy.form.facts
    if percent is None or not (facts.has_ethanol and facts.has_ratio):
        return
    for ingredient in remedy.ingredients:
        herb = materia_medica.herb(ingredient.herb)
        needs = herb.min_ethanol if herb else None
        if herb and needs and percent < needs.value:
            yield Falling(herb, needs, percent)
