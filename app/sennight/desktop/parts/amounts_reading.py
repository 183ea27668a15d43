"""Reads what is typed into a formula: parts, ratios, strengths, milligrams.

The bounds are those of the course file. Each reader raises ReadingError, whose message says
what was expected.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.translating import translate
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.parser import DirectionsError
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.portions import (
    CONTAINER_BOUNDS,
    DROPPER_UNITS,
    PACKET_UNITS,
    container_units,
    read_portion,
)
from sennight.domain.remedies.remedies import Portion

_DECIMAL = re.compile(r"[0-9]{1,6}(?:[.,][0-9]{1,6})?|[.,][0-9]{1,6}")
_WHOLE = re.compile(r"[0-9]{1,6}")
_QUOTIENT = re.compile(r"([0-9]{1,6})\s*/\s*([0-9]{1,6})")
_PART_OF = re.compile(r"\s*(?:%|mL|g|parts?)\s*$", re.IGNORECASE)
_VULGAR = {"¼": Fraction(1, 4), "½": Fraction(1, 2), "¾": Fraction(3, 4)} | {
    "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3),
}


@dataclass(frozen=True, slots=True)
class Bounds:
    """Between what an amount lies; `low` itself is left out unless `from_low`."""

    what: str
    high: int
    low: int = 0
    from_low: bool = False

    def holds(self, value: Fraction) -> bool:
        """Whether a value lies between."""
        return (value > self.low or (self.from_low and value == self.low)) and value <= self.high


def read_number(text: str, bounds: Bounds) -> Fraction:
    """A number typed as `2`, `2.5`, `1/3` or `½`, within bounds."""
    value = _number(text.strip())
    if value is None or not bounds.holds(value):
        lower = (
            translate("Formula", "from {low}")
            if bounds.from_low
            else translate("Formula", "above {low}")
        ).format(low=bounds.low)
        template = translate("Formula", "Enter {what}, {lower} and up to {high}")
        raise ReadingError(template.format(what=bounds.what, lower=lower, high=bounds.high))
    return value


def _number(text: str) -> Fraction | None:
    if text in _VULGAR:
        return _VULGAR[text]
    if text and text[-1] in _VULGAR and _WHOLE.fullmatch(text[:-1]):
        return int(text[:-1]) + _VULGAR[text[-1]]
    if _DECIMAL.fullmatch(text):
        return Fraction(text.replace(",", "."))
    match = _QUOTIENT.fullmatch(text)
    if match and int(match[2]):
        return Fraction(int(match[1]), int(match[2]))
    return None


def read_parts(text: str) -> Fraction:
    """Parts by weight or volume; g, mL and % are parts of what they come to."""
    what = translate("Formula", "a number of parts, for example 2 or 1/3")
    return read_number(_PART_OF.sub("", text), Bounds(what, 100_000))


def read_percent_by_weight(text: str) -> Fraction:
    """Percent by weight of the whole."""
    return read_number(
        text, Bounds(translate("Formula", "percent by weight, for example 10"), 100)
    )


def read_drops_of_oil(text: str) -> Fraction:
    """Drops of an essential oil in the batch."""
    return read_number(
        text, Bounds(translate("Formula", "a number of drops, for example 6"), 1000)
    )


def read_batch(text: str) -> Fraction:
    """Grams of a batch."""
    return read_number(text, Bounds(translate("Formula", "grams, for example 50"), 100_000))


def read_spoon(text: str) -> Fraction:
    """Grams of a powder in a level teaspoon."""
    return read_number(text, Bounds(translate("Formula", "grams, for example 2.5"), 100))


def read_sugar(text: str) -> Fraction:
    """Grams of sugar in 100 mL."""
    what = translate("Formula", "grams of sugar in 100 mL, for example 85")
    return read_number(text, Bounds(what, 100, from_low=True))


def read_base_parts(text: str) -> Fraction:
    """Parts of what a liquid is thinned with."""
    what = translate("Formula", "a number of parts, or 0")
    return read_number(text, Bounds(what, 100_000, from_low=True))


def read_mg(text: str) -> Fraction:
    """Milligrams in one capsule."""
    return read_number(
        text, Bounds(translate("Formula", "a number of mg, for example 400"), 100_000)
    )


def read_percent(text: str) -> Fraction:
    """A strength in % v/v."""
    what = translate("Formula", "a strength in % v/v, for example 45")
    return read_number(text.replace("%", ""), Bounds(what, 100, from_low=True))


def read_ratio(text: str) -> Fraction:
    """The mL (or g) to 1 g of dried herb, typed as `1:5` or `5`, of a dry extract as `5:1`."""
    bounds = Bounds(translate("Formula", "a ratio, for example 1:5"), 1000)
    herb, colon, made = text.partition(":")
    if not colon:
        return read_number(text, bounds)
    return read_number(made, bounds) / read_number(herb, bounds)


def read_grams(text: str) -> Fraction:
    """Grams of dried herb to a cup."""
    return read_number(
        text, Bounds(translate("Formula", "a number of grams, for example 3"), 1000)
    )


def read_water(text: str) -> Fraction:
    """mL of water to a cup."""
    return read_number(text, Bounds(translate("Formula", "a number of mL, for example 250"), 5000))


def read_drops(text: str) -> Fraction:
    """Drops to one mL."""
    return read_number(text, Bounds(translate("Formula", "drops to one mL, for example 40"), 200))


def read_dropperful(text: str) -> Portion:
    """What one dropperful of a remedy holds; a bare number is in mL."""
    return _measure(text, Unit.ML, DROPPER_UNITS, translate("Formula", "1 mL, or 30 drops"))


def read_packet(text: str) -> Portion:
    """What a packet tells its contents of; a bare number is of pieces."""
    example = translate("Formula", "5 mL, 1 scoop or 2 capsules")
    return _measure(text, Unit.PIECE, PACKET_UNITS, example)


def read_container(form: Form, text: str) -> Portion:
    """What one container of a form holds; a bare number is in the form's first unit."""
    units, (least, most) = container_units(form), CONTAINER_BOUNDS
    portion = _measure(text, units[0], units, f"500 {units[0]}")
    if not least <= portion.amount <= most:
        template = translate("Formula", "Enter an amount from {least} to {most}")
        raise ReadingError(template.format(least=least, most=most))
    return portion


def _measure(text: str, usual: Unit, units: tuple[Unit, ...], example: str) -> Portion:
    bare = _number(text.strip())
    if bare:
        return Portion(bare, usual)
    try:
        return read_portion(text, units)
    except DirectionsError:
        template = translate("Formula", "Enter an amount with its unit, for example {example}")
        raise ReadingError(template.format(example=example)) from None


def read_amount(text: str) -> Fraction:
    """An amount above 0, of anything."""
    return read_number(text, Bounds(translate("Formula", "a number, for example 100"), 1_000_000))


def read_minutes(text: str) -> int:
    """Whole minutes."""
    what = translate("Formula", "whole minutes, for example 10")
    value = read_number(text, Bounds(what, 1440))
    if value.denominator != 1:
        raise ReadingError(translate("Formula", "Enter whole minutes, for example 10"))
    return int(value)
