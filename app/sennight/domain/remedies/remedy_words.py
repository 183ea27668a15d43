"""What a client is told of one remedy beyond what holds for its form."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from sennight.domain.amounts import plain_number, rounded
from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.contents import sugar_grams
from sennight.domain.remedies.remedies import Remedy


def ratio_words(ratio: Fraction) -> str:
    """A ratio as it is written: `1:5` of a liquid, `5:1` of an extract stronger than its herb."""
    if ratio < 1:
        return f"{plain_number(1 / ratio)}:1"
    return f"1:{plain_number(ratio)}"


def remedy_words(remedy: Remedy) -> tuple[str, ...]:
    """Lines about how this remedy is taken."""
    return tuple(_lines(remedy))


def _lines(remedy: Remedy) -> Iterator[str]:
    if remedy.stirred_into:
        yield f"Stir each dose into {remedy.stirred_into}."
    elif remedy.form.facts.has_spoon:
        yield "Stir each dose into water, yoghurt or porridge."
    sugar = sugar_grams(remedy, Fraction(5), Unit.ML)
    if isinstance(sugar, Fraction) and sugar:
        yield f"5 mL contains about {rounded(sugar, 1)} g of sugar."
