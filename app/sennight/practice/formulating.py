"""Making, copying and rebalancing formulas."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from uuid import uuid4

from sennight.domain.formulas.balance import Bound, balance_of, rebalanced
from sennight.domain.remedies.forms import Form, is_made_in_water
from sennight.domain.remedies.remedies import USUAL_SUGAR, Base, Remedy, TeaMaking
from sennight.practice.balancing import Conflict, balanced

USUAL_GRAMS = {
    "cup": Fraction(3),
    "compress": Fraction(10),
    "bath": Fraction(50),
    "bowl": Fraction(10),
}
"""Grams of dried herb to one making: common practice."""


def new_remedy(name: str, form: Form) -> Remedy:
    """A remedy without herbs, under an id of its own; it is not on the shelf yet."""
    water, making = Fraction(form.facts.water_ml), form.facts.making
    tea = TeaMaking(USUAL_GRAMS[making], water) if is_made_in_water(form) else None
    base = (
        Base("simple syrup", Fraction(1), Fraction(USUAL_SUGAR)) if form.facts.has_sugar else None
    )
    return Remedy(uuid4().hex, name, form, (), tea, base=base)


def copy_of(remedy: Remedy, name: str) -> Remedy:
    """The same formula under another name and id; it is not on the shelf yet."""
    return replace(remedy, id=uuid4().hex, name=name)


@dataclass(frozen=True, slots=True)
class Rebalanced:
    """A formula whose parts were moved to fit, and the sum of the changes of its shares."""

    remedy: Remedy
    change: Fraction


def rebalance(remedy: Remedy, bounds: Iterable[Bound]) -> Rebalanced | Conflict:
    """The formula with the parts nearest to its own that fit, or the bounds that conflict.

    Raises CalculationError for capsules, or where parts are not said.
    """
    result = balanced(balance_of(remedy, bounds))
    if isinstance(result, Conflict):
        return result
    return Rebalanced(rebalanced(remedy, result.shares), result.change)
