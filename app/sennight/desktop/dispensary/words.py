"""What the dispensary says of materials, amounts and deliveries."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from typing import assert_never

from sennight.desktop.kit.translating import translate
from sennight.domain.amounts import rounded
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.stock import Delivery, Held, Material
from sennight.domain.remedies.form_facts import Composition
from sennight.domain.remedies.forms import Form, composition_of, units_of

UNIT_WORDS = {Unit.G: "g", Unit.ML: "mL"}


def unit_words(unit: Unit) -> str:
    """A unit as the dispensary writes it."""
    return UNIT_WORDS.get(unit) or translate("Dispensary", "pieces")


def amount_words(amount: Fraction, unit: Unit) -> str:
    """An amount with its unit: 320 g."""
    return f"{rounded(amount, 2)} {unit_words(unit)}"


def unit_of(form: Form) -> Unit:
    """What a remedy of a form is prepared in."""
    composition = composition_of(form)
    match composition:
        case Composition.BY_WEIGHT | Composition.IN_BASE:
            return Unit.G
        case Composition.BY_VOLUME:
            return Unit.ML
        case Composition.BY_PIECE:
            return units_of(form)[0]
        case _:
            assert_never(composition)


def held_words(held: Held) -> str:
    """As what a material is held."""
    match held:
        case Held.DRIED:
            return translate("Dispensary", "dried herb")
        case Held.POWDER:
            return translate("Dispensary", "powder")
        case Held.EXTRACT:
            return translate("Dispensary", "dry extract")
        case Held.LIQUID:
            return translate("Dispensary", "tincture or other liquid")
        case Held.OTHER:
            return translate("Dispensary", "something else")
        case _:
            assert_never(held)


def material_words(material: Material, names: Mapping[str, str]) -> str:
    """A material by its name and what tells it from others: Ginger, 1:5, 45 %."""
    ratio = material.ratio
    parts = [names.get(material.name, material.name)]
    if material.held is not Held.OTHER and material.held is not Held.LIQUID:
        parts.append(held_words(material.held))
    if material.held is Held.LIQUID and ratio:
        parts.append(f"1:{rounded(ratio, 2)}")
    if material.held is Held.EXTRACT and ratio:
        parts.append(f"{rounded(1 / ratio, 2)}:1")
    if material.ethanol is not None:
        parts.append(f"{rounded(material.ethanol, 1)} %")
    return ", ".join(parts)


def best_before_words(delivery: Delivery, today: date) -> str:
    """Until when it is good, and that it is past."""
    if delivery.best_before is None:
        return translate("Dispensary", "no date")
    day = plain_date(delivery.best_before)
    past = translate("Dispensary", "out of date, {day}")
    return past.format(day=day) if delivery.is_out_of_date(today) else day
