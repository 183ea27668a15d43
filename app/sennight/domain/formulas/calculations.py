"""The dispensary's sums: scaling a formula, mixing to a strength, ratios and percent.

All exact: nothing is rounded before the last step, which is the caller's. Volumes are taken as
additive; where ethanol meets water the true volume is up to 4 % less, so a mixture is made up
to its volume, never by adding a fixed amount of water (British Pharmacopoeia, Dilute Ethanols).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from sennight.domain.amounts import rounded
from sennight.domain.remedies.contents import shares
from sennight.domain.remedies.form_facts import Composition
from sennight.domain.remedies.forms import composition_of
from sennight.domain.remedies.remedies import Remedy


class CalculationError(ValueError):
    """A sum that has no answer; the message says what was expected."""


# Formulas


def amounts_for(remedy: Remedy, whole: Fraction) -> tuple[Fraction, ...]:
    """How much of each ingredient makes so much of the formula, in the unit of `whole`.

    Grams of a tea's dry mixture, mL of a tincture or rub; for capsules a number of capsules
    gives grams. Raises CalculationError where the parts are not said or `whole` is not above 0.
    """
    _above_zero("the amount to make", whole)
    if composition_of(remedy.form) is Composition.BY_PIECE:
        return tuple(_known(ingredient.mg) * whole / 1000 for ingredient in remedy.ingredients)
    return tuple(_known(share) * whole for share in shares(remedy))


def base_for(remedy: Remedy, whole: Fraction) -> Fraction:
    """How much of the base goes into so much of the formula: the rest, by `amounts_for`."""
    if composition_of(remedy.form) is Composition.BY_PIECE:
        return Fraction(0)
    return whole - sum(amounts_for(remedy, whole), Fraction(0))


def _known(share: Fraction | None) -> Fraction:
    if share is None:
        raise CalculationError(
            "some parts of the formula are missing; expected them for each herb"
        )
    return share


def percents(parts: Sequence[Fraction]) -> tuple[Fraction, ...]:
    """Each part in percent of their sum."""
    whole = sum(parts, Fraction(0))
    _above_zero("the sum of the parts", whole)
    return tuple(part * 100 / whole for part in parts)


def same_herb(ml: Fraction, ratio: Fraction, other: Fraction) -> Fraction:
    """mL of another ratio that hold the same dried herb: 2 mL of 1:5 are 0.4 mL of 1:1."""
    _above_zero("a ratio", ratio)
    _above_zero("a ratio", other)
    return ml * other / ratio


def with_ratio(remedy: Remedy, index: int, ratio: Fraction) -> Remedy:
    """The formula with one ingredient in another ratio, its parts holding the same dried herb.

    The parts' sum changes with it; so in the same volume the shares of all herbs do.
    """
    ingredient = remedy.ingredients[index]
    if ingredient.ratio is None or ingredient.parts is None:
        raise CalculationError("the ratio or the parts are missing; expected both")
    changed = replace(
        ingredient, ratio=ratio, parts=same_herb(ingredient.parts, ingredient.ratio, ratio)
    )
    ingredients = (*remedy.ingredients[:index], changed, *remedy.ingredients[index + 1 :])
    return replace(remedy, ingredients=ingredients)


# Strengths


def mixed_strength(parts: Sequence[tuple[Fraction, Fraction]]) -> Fraction:
    """The strength of (volume, strength) parts mixed: alligation medial."""
    whole = sum((volume for volume, _ in parts), Fraction(0))
    _above_zero("the whole volume", whole)
    return sum((volume * strength for volume, strength in parts), Fraction(0)) / whole


def alligate(high: Fraction, low: Fraction, wanted: Fraction) -> tuple[int, int]:
    """Parts of the stronger and of the weaker that give a strength, as least whole numbers.

    Alligation alternate: wanted − low of the stronger to high − wanted of the weaker. Raises
    CalculationError where the strength does not lie between the two.
    """
    _is_strength(low)
    _is_strength(high)
    if not low <= wanted <= high or low == high:
        raise CalculationError(
            f"{_plain(wanted)} % cannot be mixed from {_plain(low)} % and {_plain(high)} %; "
            "expected a strength between two that differ"
        )
    stronger, weaker = wanted - low, high - wanted
    if not stronger or not weaker:
        return int(stronger > 0), int(weaker > 0)
    return (stronger / weaker).as_integer_ratio()


def mix(
    whole: Fraction, high: Fraction, low: Fraction, wanted: Fraction
) -> tuple[Fraction, Fraction]:
    """How much of the stronger and of the weaker make `whole` of a strength; see `alligate`."""
    _above_zero("the amount to make", whole)
    a, b = alligate(high, low, wanted)
    return whole * a / (a + b), whole * b / (a + b)


def dilute(whole: Fraction, stock: Fraction, wanted: Fraction) -> Fraction:
    """How much stock, made up with water to `whole`, gives a strength: C₁V₁ = C₂V₂."""
    return mix(whole, stock, Fraction(0), wanted)[0]


def percent_of_ratio(ratio: Fraction) -> Fraction:
    """% w/v of a ratio strength: 1:5 (ratio 5) is 20 % w/v, 200 mg in 1 mL."""
    _above_zero("a ratio", ratio)
    return 100 / ratio


def ratio_of_percent(percent: Fraction) -> Fraction:
    """The mL to 1 g of a strength in % w/v: 20 % is 1:5."""
    _above_zero("a strength", percent)
    return 100 / percent


def herb_in(ml: Fraction, ratio: Fraction) -> Fraction:
    """Grams of dried herb in so many mL of a ratio."""
    return ml * percent_of_ratio(ratio) / 100


def menstruum_for(herb_grams: Fraction, ratio: Fraction) -> Fraction:
    """mL of liquid for so many grams of dried herb at a ratio."""
    _above_zero("a ratio", ratio)
    return herb_grams * ratio


def _is_strength(percent: Fraction) -> None:
    if not 0 <= percent <= 100:
        raise CalculationError(f"{_plain(percent)} % is no strength; expected 0 to 100")


def _above_zero(what: str, value: Fraction) -> None:
    if value <= 0:
        raise CalculationError(f"{what} is {_plain(value)}; expected more than 0")


def _plain(value: Fraction) -> str:
    return rounded(value, 4)
