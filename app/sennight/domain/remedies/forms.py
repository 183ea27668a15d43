"""The forms of a remedy, and what follows from each.

Each question about a form is one function that matches every form, so that a new form is asked
for in each of them by the type checker.
"""

from __future__ import annotations

from enum import StrEnum
from typing import assert_never

from sennight.domain.directions.directions import Unit


class Form(StrEnum):
    """The forms in which a remedy is taken."""

    TEA = "tea"
    TINCTURE = "tincture"
    RUB = "rub"
    CAPSULE = "capsule"


class Composition(StrEnum):
    """How a formula of a form is written, and so what its sums are of."""

    BY_WEIGHT = "by weight"
    """Parts by weight of dried herbs."""

    BY_VOLUME = "by volume"
    """Parts by volume of liquids, each with its ratio and its ethanol."""

    BY_PIECE = "by piece"
    """Milligrams in one piece."""


def composition_of(form: Form) -> Composition:
    """How a formula of the form is written."""
    match form:
        case Form.TEA:
            return Composition.BY_WEIGHT
        case Form.TINCTURE | Form.RUB:
            return Composition.BY_VOLUME
        case Form.CAPSULE:
            return Composition.BY_PIECE
        case _:
            assert_never(form)


def is_taken_by_mouth(form: Form) -> bool:
    """Whether what is in it counts as taken; what is for the skin alone does not."""
    match form:
        case Form.TEA | Form.TINCTURE | Form.CAPSULE:
            return True
        case Form.RUB:
            return False
        case _:
            assert_never(form)


def units_of(form: Form) -> tuple[Unit, ...]:
    """The units that a form can be measured out in, the usual one first."""
    match form:
        case Form.TEA:
            return (Unit.CUP, Unit.ML, Unit.TSP, Unit.TBSP, Unit.G)
        case Form.TINCTURE:
            return (Unit.ML, Unit.TSP, Unit.TBSP, Unit.DROP)
        case Form.RUB:
            return (Unit.APPLICATION, Unit.ML, Unit.G, Unit.TSP, Unit.TBSP, Unit.DROP)
        case Form.CAPSULE:
            return (Unit.CAPSULE, Unit.G, Unit.MG)
        case _:
            assert_never(form)
