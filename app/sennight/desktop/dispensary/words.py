"""What the dispensary says of materials, amounts and deliveries."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from sennight.desktop.kit.translating import translate
from sennight.domain.amounts import rounded
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.stock import Delivery

UNIT_WORDS = {Unit.G: "g", Unit.ML: "mL"}


def unit_words(unit: Unit) -> str:
    """A unit as the dispensary writes it."""
    return UNIT_WORDS.get(unit) or translate("Dispensary", "pieces")


def amount_words(amount: Fraction, unit: Unit) -> str:
    """An amount with its unit: 320 g."""
    return f"{rounded(amount, 2)} {unit_words(unit)}"


def best_before_words(delivery: Delivery, today: date) -> str:
    """Until when it is good, and that it is past."""
    if delivery.best_before is None:
        return translate("Dispensary", "no date")
    day = plain_date(delivery.best_before)
    past = translate("Dispensary", "out of date, {day}")
    return past.format(day=day) if delivery.is_out_of_date(today) else day
