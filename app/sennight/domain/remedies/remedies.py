"""Remedies: a formula in one form."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from sennight.domain.remedies.forms import Form

DROPS_PER_ML = 20
"""A drop is 0.05 mL unless the remedy says otherwise (holds for water; alcohol gives 30 to 60)."""


class Method(StrEnum):
    """How a tea is made."""

    INFUSION = "infusion"
    DECOCTION = "decoction"


class Filling(StrEnum):
    """What a capsule holds of a herb."""

    POWDER = "powder"
    EXTRACT = "extract"


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One herb of a formula; which fields are set depends on the remedy's form.

    Tea: `parts` by weight. Tincture and rub: `parts` by volume, `ratio` as mL of liquid to
    1 g of dried herb (1:5 is 5), `ethanol` in % v/v. Capsule: `mg` in one capsule,
    `filling`, and for an extract, where it is known, `ratio` as g of extract to 1 g of dried herb
    (a drug-extract ratio of 5:1 is ⅕).
    """

    herb: str
    parts: Fraction | None = None
    ratio: Fraction | None = None
    ethanol: Fraction | None = None
    mg: Fraction | None = None
    filling: Filling | None = None


@dataclass(frozen=True, slots=True)
class TeaMaking:
    """How one cup of a tea is made: grams of dried herb, mL of water, method, minutes."""

    grams_per_cup: Fraction
    water_ml: Fraction = Fraction(250)
    method: Method = Method.INFUSION
    minutes: int = 10


@dataclass(frozen=True, slots=True)
class Remedy:
    """A formula in one form; `tea` is set for teas alone."""

    id: str
    name: str
    form: Form
    ingredients: tuple[Ingredient, ...]
    tea: TeaMaking | None = None
    drops_per_ml: Fraction = Fraction(DROPS_PER_ML)
