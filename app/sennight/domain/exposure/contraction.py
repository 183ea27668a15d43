"""Ethanol and water mixed: the volume shrinks, so the blend is a little stronger than its parts.

Mass does not shrink. So the parts' masses are added, by the densities at 20 °C of OIML R 22
(Council Directive 76/766/EEC, annex), and the blend's volume and strength follow from its mass.
That holds for ethanol and water alone: extracted matter, sugar and glycerol are not in the tables.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

# A₁ to A₁₂ of the general formula, which at 20 °C is a polynomial of the strength by mass.
_A = tuple(
    map(
        Fraction,
        (
            *("998.20123", "-192.9769495", "389.1238958", "-1668.103923", "13522.15441"),
            *("-88292.78388", "306287.4042", "-613838.1234", "747017.2998"),
            *("-547846.1354", "223446.0334", "-39032.85426"),
        ),
    )
)
_STEPS = 40
"""Halvings by which a strength by mass is found: to less than a billionth."""


@dataclass(frozen=True, slots=True)
class Blend:
    """What parts come to when they are mixed: mL, and % v/v at 20 °C."""

    ml: Fraction
    strength: Fraction


def density(by_mass: Fraction) -> Fraction:
    """Grams in one litre of ethanol and water at 20 °C; `by_mass` is g of ethanol in 1 g."""
    total = Fraction(0)
    for coefficient in reversed(_A):
        total = total * by_mass + coefficient
    return total


PURE = density(Fraction(1))


@lru_cache(maxsize=256)
def by_mass(percent: Fraction) -> Fraction:
    """g of ethanol in 1 g of a strength in % v/v (0 to 100)."""
    low, high = Fraction(0), Fraction(1)
    for _ in range(_STEPS):
        middle = (low + high) / 2
        if middle * density(middle) * 100 < percent * PURE:
            low = middle
        else:
            high = middle
    return high if percent else Fraction(0)


def blended(parts: Sequence[tuple[Fraction, Fraction]]) -> Blend:
    """What (mL, % v/v) parts come to; all of them together more than 0 mL."""
    grams = [(ml * density(by_mass(percent)) / 1000, percent) for ml, percent in parts]
    whole = sum((mass for mass, _ in grams), Fraction(0))
    ethanol = sum((mass * by_mass(percent) for mass, percent in grams), Fraction(0))
    share = ethanol / whole
    dense = density(share)
    return Blend(whole * 1000 / dense, share * dense * 100 / PURE)
