"""Remedies: a formula in one form."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from sennight.domain.amounts import plain_number
from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form

DROPS_PER_ML = 20
"""A drop is 0.05 mL unless the remedy says otherwise (holds for water; alcohol gives 30 to 60)."""

USUAL_SUGAR = 85
"""Grams of sugar in 100 mL of simple syrup: USP Syrup, 850 g in 1,000 mL (from memory)."""


class Method(StrEnum):
    """How herbs are drawn out with water."""

    INFUSION = "infusion"
    DECOCTION = "decoction"
    MACERATION = "maceration"
    """Left to stand in cold water."""


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One herb of a formula; which fields are set depends on how its form's formulas are written.

    By weight: `parts`. By volume: `parts`, `ratio` as mL of liquid to 1 g of dried herb (1:5 is
    5; none for juices), `ethanol` in % v/v. By piece: `mg` in one (of a product in what it
    is measured in), `filling`, and for an extract,
    where it is known, `ratio` as g of extract to 1 g of dried herb (a drug-extract ratio of 5:1
    is ⅕). In a base: `percent` by weight of the whole, or for essential oils `drops` in the
    remedy's batch; `filling`, and where it is known `ratio` as for liquids and extracts.
    """

    herb: str
    parts: Fraction | None = None
    ratio: Fraction | None = None
    ethanol: Fraction | None = None
    mg: Fraction | None = None
    filling: Filling | None = None
    percent: Fraction | None = None
    drops: Fraction | None = None


@dataclass(frozen=True, slots=True)
class TeaMaking:
    """How it is made in water at one time: grams of dried herb, mL of water, method, minutes."""

    grams_per_cup: Fraction
    water_ml: Fraction = Fraction(250)
    method: Method = Method.INFUSION
    minutes: int = 10


@dataclass(frozen=True, slots=True)
class Base:
    """What the herbs are in or thinned with: water, simple syrup, an oil, a cream.

    `parts` by volume beside those of the herbs, for liquids; for what is written in percent the
    base is the rest. `sugar` is grams in 100 mL of it.
    """

    name: str = ""
    parts: Fraction = Fraction(0)
    sugar: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Portion:
    """So much of something, as it was measured or as a packet says: 1 mL, 30 drops, a scoop."""

    amount: Fraction
    unit: Unit

    def __str__(self) -> str:
        return f"{plain_number(self.amount)} {self.unit}"


@dataclass(frozen=True, slots=True)
class Remedy:
    """A formula in one form.

    `tea` is set for what is made in water. `batch_g` is the weight that essential oils are
    counted into in drops, `spoon_g` what a teaspoon of a powder weighs, `stirred_into` what the
    client stirs it into. `dropperful` is what this remedy's own dropper holds, in mL or drops as
    it was measured. `mg_in` is what the mg of a bought-in product are in, a piece where None.
    `container` is what one bottle, bag or tub of it holds as it is handed out. None and "" where
    they are not said.
    """

    id: str
    name: str
    form: Form
    ingredients: tuple[Ingredient, ...]
    tea: TeaMaking | None = None
    drops_per_ml: Fraction = Fraction(DROPS_PER_ML)
    base: Base | None = None
    batch_g: Fraction | None = None
    spoon_g: Fraction | None = None
    stirred_into: str = ""
    dropperful: Portion | None = None
    mg_in: Portion | None = None
    container: Portion | None = None
