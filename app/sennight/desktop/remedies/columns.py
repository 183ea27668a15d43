"""The columns of a formula's table, and what an edit in each makes of an ingredient."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from enum import StrEnum
from fractions import Fraction
from typing import assert_never

from sennight.desktop.parts.amounts_reading import (
    read_drops_of_oil,
    read_mg,
    read_parts,
    read_percent,
    read_percent_by_weight,
    read_ratio,
)
from sennight.domain.remedies.form_facts import Composition, Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient


class Part(StrEnum):
    """What a cell is about."""

    HERB = "herb"
    PARTS = "parts"
    RATIO = "ratio"
    ETHANOL = "ethanol"
    MG = "mg"
    PERCENT = "percent"
    DROPS = "drops"
    FILLING = "filling"
    SHARE = "share"


def parts_of(form: Form) -> tuple[Part, ...]:
    """The columns of a formula in a form."""
    facts = form.facts
    match facts.composition:
        case Composition.BY_WEIGHT:
            return (Part.HERB, Part.PARTS, Part.SHARE)
        case Composition.BY_VOLUME:
            ratio = (Part.RATIO,) if facts.has_ratio else ()
            ethanol = (Part.ETHANOL,) if facts.has_ethanol else ()
            return (Part.HERB, Part.PARTS, *ratio, *ethanol, Part.SHARE)
        case Composition.BY_PIECE:
            return (Part.HERB, Part.MG, Part.FILLING, Part.RATIO, Part.SHARE)
        case Composition.IN_BASE:
            return (Part.HERB, Part.PERCENT, Part.DROPS, Part.FILLING, Part.RATIO)
        case _:
            assert_never(facts.composition)


READ: dict[Part, Callable[[str], Fraction]] = {
    Part.PARTS: read_parts,
    Part.RATIO: read_ratio,
    Part.ETHANOL: read_percent,
    Part.MG: read_mg,
    Part.PERCENT: read_percent_by_weight,
    Part.DROPS: read_drops_of_oil,
}
"""How what is typed into a column is read."""


def changed_by(ingredient: Ingredient, part: Part, value: Fraction | None) -> Ingredient:
    """An ingredient with another amount; percent and drops take each other's place."""
    if part is Part.PERCENT:
        return replace(ingredient, percent=value, drops=None)
    if part is Part.DROPS:
        return replace(
            ingredient, percent=None, drops=value, filling=Filling.ESSENTIAL_OIL, ratio=None
        )
    if part is Part.PARTS:
        return replace(ingredient, parts=value)
    if part is Part.RATIO:
        return replace(ingredient, ratio=value)
    return replace(ingredient, mg=value) if part is Part.MG else replace(ingredient, ethanol=value)


def filled_as(ingredient: Ingredient, filling: Filling) -> Ingredient:
    """An ingredient as something else; what only the former had is left out."""
    extract = filling in (Filling.EXTRACT, Filling.TINCTURE, Filling.INFUSED_OIL)
    if ingredient.drops is None or filling is Filling.ESSENTIAL_OIL:
        drops, percent = ingredient.drops, ingredient.percent
    else:
        drops, percent = None, Fraction(1)
    ratio = ingredient.ratio if extract else None
    return replace(ingredient, filling=filling, ratio=ratio, drops=drops, percent=percent)
