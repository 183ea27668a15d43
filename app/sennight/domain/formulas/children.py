"""Rules for children's doses, side by side. None of them is ever applied unasked.

They are estimates from an adult dose, old ones for the most part, and disagree with each other;
the table shows how far. Where a herb's texts state a minimum age above the child's, no dose is
shown at all.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Context, Decimal
from fractions import Fraction

from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.herbs.child_doses import (
    clark_part,
    cowling_part,
    months_of_age,
    salisbury_part,
    young_part,
)
from sennight.domain.herbs.herbs import Herb, Stated

ADULT_M2 = Fraction("1.73")
_DIGITS = Context(prec=34)


@dataclass(frozen=True, slots=True)
class Child:
    """A child's age in completed months, and weight and height where they are known."""

    months: int
    weight_kg: Fraction | None = None
    height_cm: Fraction | None = None

    @property
    def years(self) -> int:
        """Completed years."""
        return self.months // 12


@dataclass(frozen=True, slots=True)
class Estimate:
    """What one rule gives: a part of the adult dose and that dose; None where `needs` is unmet.

    `says` is the rule in words, `from_where` who gave it.
    """

    rule: str
    says: str
    from_where: str
    part: Fraction | None
    dose: Fraction | None
    needs: str = ""


@dataclass(frozen=True, slots=True)
class ChildTable:
    """The estimates; none where a herb's stated minimum age bars them."""

    estimates: tuple[Estimate, ...]
    barred: tuple[tuple[str, Stated], ...]

    @property
    def is_barred(self) -> bool:
        """Whether the child is too young for one of the herbs, whatever a rule gives."""
        return bool(self.barred)


def completed_months(born: date, day: date) -> int:
    """Completed months of age; raises CalculationError before the birth."""
    months = months_of_age(born, day)
    if months < 0:
        raise CalculationError(f"{day} lies before the birth, {born}; expected a later day")
    return months


def child_table(adult: Fraction, child: Child, herbs: Iterable[Herb]) -> ChildTable:
    """What every rule makes of an adult dose (in its own unit) for this child."""
    if adult <= 0:
        raise CalculationError("the adult dose is not above 0; expected the dose of an adult")
    barred = tuple(
        (herb.id, herb.min_age) for herb in herbs if child.months < herb.min_age.value * 12
    )
    return ChildTable(() if barred else tuple(_estimates(adult, child)), barred)


def _estimates(adult: Fraction, child: Child) -> Iterable[Estimate]:
    rules = (
        ("Clark", "weight in pounds ÷ 150", "common practice", clark(child), _WEIGHT),
        ("Young", "age ÷ (age + 12), from 1 year", "common practice", young(child), _YEAR),
        ("Fried", "months ÷ 150, under 2 years", "common practice", fried(child), _INFANT),
        ("Cowling", "age at the next birthday ÷ 24", "common practice", cowling(child), ""),
        (
            "Salisbury",
            "2 % a kg up to 30 kg, above it kg + 30 %",
            "Lack & Stuart-Taylor, Br J Anaesth 1997;78:601",
            salisbury(child),
            _WEIGHT,
        ),
        (
            "Body surface",
            "√(cm × kg ÷ 3600) ÷ 1.73 m²",
            "Mosteller, N Engl J Med 1987;317:1098",
            body_surface(child),
            "weight and height",
        ),
    )
    for rule, says, from_where, part, needs in rules:
        dose = None if part is None else adult * part
        yield Estimate(rule, says, from_where, part, dose, "" if part is not None else needs)


_WEIGHT, _YEAR, _INFANT = "the weight", "an age of 1 year or more", "an age under 2 years"


def clark(child: Child) -> Fraction | None:
    """Weight in pounds ÷ 150, at most the whole."""
    return None if child.weight_kg is None else clark_part(child.weight_kg)


def young(child: Child) -> Fraction | None:
    """Completed years ÷ (years + 12)."""
    return young_part(child.years) if child.years else None


def fried(child: Child) -> Fraction | None:
    """Completed months ÷ 150, for children under 2 years."""
    return Fraction(child.months, 150) if child.months < 24 else None


def cowling(child: Child) -> Fraction:
    """Years at the next birthday ÷ 24, at most the whole."""
    return cowling_part(child.years)


def salisbury(child: Child) -> Fraction | None:
    """2 % a kg up to 30 kg, above it kg + 30 %, at most the whole."""
    return None if child.weight_kg is None else salisbury_part(child.weight_kg)


def surface_m2(child: Child) -> Fraction | None:
    """Body surface in m², √(cm × kg ÷ 3600) to 34 digits; None without weight and height."""
    if child.weight_kg is None or child.height_cm is None:
        return None
    square = child.height_cm * child.weight_kg / 3600
    root = _DIGITS.sqrt(_DIGITS.divide(Decimal(square.numerator), Decimal(square.denominator)))
    return Fraction(root)


def body_surface(child: Child) -> Fraction | None:
    """Body surface ÷ 1.73 m², at most the whole."""
    surface = surface_m2(child)
    return None if surface is None else _at_most_whole(surface / ADULT_M2)


def _at_most_whole(part: Fraction) -> Fraction:
    return min(part, Fraction(1))
