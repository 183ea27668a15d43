"""What a remedy can be measured out in: the units of its form that this remedy says enough for.

A bought-in product is measured in what its packet tells the contents of: pieces, a volume, a
weight, or its own scoop. A dropperful is measured only where it is known how much the dropper
holds: droppers differ, and none is guessed.
"""

from __future__ import annotations

from fractions import Fraction
from typing import assert_never

from sennight.domain.directions.directions import Unit
from sennight.domain.directions.parser import DirectionsError
from sennight.domain.directions.understanding import read_usual_amount
from sennight.domain.remedies.form_facts import Composition
from sennight.domain.remedies.forms import PIECES, VOLUMES, WEIGHTS, Form, called, units_of
from sennight.domain.remedies.remedies import Portion, Remedy

_FAMILIES = (PIECES, VOLUMES, WEIGHTS)
DROPPER_UNITS = (Unit.ML, Unit.DROP)
"""What a dropperful is measured in."""
PACKET_UNITS = (*PIECES, Unit.ML, Unit.TSP, Unit.TBSP, Unit.DROP, *WEIGHTS, Unit.SCOOP)
"""What a bought-in product's packet may tell its contents of."""
CONTAINER_BOUNDS = 1, 10_000
"""The least and the most that one container holds, in whatever it is filled by."""
UNMEASURED_DROPPER = (
    "how much its dropper holds is not recorded: fill it, and measure the mL or count the drops"
)


def measured_units(remedy: Remedy) -> tuple[Unit, ...]:
    """The units that a remedy can be measured in, the usual one first; dropperfuls among them."""
    if remedy.form.facts.own_formula:
        return units_of(remedy.form)
    usual = remedy.mg_in.unit if remedy.mg_in else PIECES[0]
    family = next((units for units in _FAMILIES if usual in units), (usual,))
    return (usual, *(unit for unit in family if unit is not usual))


def container_units(form: Form) -> tuple[Unit, ...]:
    """What a container of a form is filled by, the usual unit first."""
    composition = form.facts.composition
    match composition:
        case Composition.BY_WEIGHT:
            return (Unit.G,)
        case Composition.BY_VOLUME:
            return (Unit.ML,)
        case Composition.IN_BASE:
            return (Unit.G, Unit.ML)
        case Composition.BY_PIECE if form.facts.own_formula:
            return units_of(form)[:1]
        case Composition.BY_PIECE:
            return (*PIECES, Unit.ML, Unit.G, Unit.SCOOP)
        case _:
            assert_never(composition)


def container_holds(remedy: Remedy, unit: Unit) -> Fraction | None:
    """How much of a unit the remedy's own container holds; None where that is not said."""
    holds = remedy.container
    if holds is None or (holds.unit is not unit and not {holds.unit, unit} <= set(PIECES)):
        return None
    return holds.amount


def read_portion(text: str, units: tuple[Unit, ...]) -> Portion:
    """A measure from any usual spelling, in one of some units; raises DirectionsError."""
    measure = Portion(*read_usual_amount(text))
    if measure.unit not in units:
        expected = f"an amount in {', '.join(units)}"
        raise DirectionsError(text, 0, len(text), expected)
    return measure


def unit_mistake(remedy: Remedy, unit: Unit) -> str:
    """What is wrong with measuring a remedy in a unit, and what was expected; else empty."""
    units = measured_units(remedy)
    if unit not in units:
        return f"measures {called(remedy.form)} in {unit}; expected one of {', '.join(units)}"
    if unit is Unit.DROPPERFUL and remedy.dropperful is None:
        return f"is in dropperfuls, and {UNMEASURED_DROPPER}"
    return ""
