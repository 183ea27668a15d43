"""Published doses of a herb: a row for each preparation in each text."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from sennight.domain.herbs.sources import Basis, Origin


class Route(StrEnum):
    """Taken by mouth, or used on the skin or in the mouth without swallowing."""

    ORAL = "oral"
    TOPICAL = "topical"


class Preparation(StrEnum):
    """The forms in which texts give a herb."""

    INFUSION = "infusion"
    DECOCTION = "decoction"
    MACERATE = "macerate"
    POWDER = "powder"
    TINCTURE = "tincture"
    LIQUID_EXTRACT = "liquid-extract"
    DRY_EXTRACT = "dry-extract"
    SUBSTANCE = "substance"
    JUICE = "juice"
    SYRUP = "syrup"
    WHOLE_FRUIT = "whole-fruit"
    WHOLE_SEED = "whole-seed"
    FRESH_PLANT = "fresh-plant"
    INHALATION = "inhalation"
    MOUTHWASH = "mouthwash"
    BATH = "bath"
    OINTMENT = "topical-ointment"
    CREAM = "topical-cream"
    GEL = "topical-gel"
    OIL = "topical-oil"
    COMPRESS = "topical-compress"
    PAINT = "topical-paint"
    PLASTER = "topical-plaster"


class TakenAs(StrEnum):
    """The forms in which amounts of a herb are compared with its ranges."""

    TEA = "tea"
    LIQUID = "liquid"
    JUICE = "juice"
    """Of the fresh plant, never read as dried herb; grams of juice, 1 mL as 1 g."""

    POWDER = "powder"
    EXTRACT = "extract"
    SUBSTANCE = "substance"
    """By itself, no herb: glucosamine, zinc."""


class DoseUnit(StrEnum):
    """What published doses are counted in."""

    G = "g"
    MG = "mg"
    ML = "mL"
    DROP = "drop"
    TSP = "tsp"
    BERRY = "berry"


@dataclass(frozen=True, slots=True)
class DoseRange:
    """A published amount from `low` to `high`, both included.

    Of the preparation itself, unless `of` names what the figure counts instead: a marker
    substance, or the root that an extract stands for.
    """

    low: Fraction
    high: Fraction
    unit: DoseUnit
    of: str = ""


@dataclass(frozen=True, slots=True)
class Ratio:
    """How much herb stands for how much of a preparation, as spans: 1:5, 1:3.5-4.5, 4-7:1.

    Grams to mL for liquids, grams to grams for dry extracts.
    """

    herb: tuple[Fraction, Fraction]
    made: tuple[Fraction, Fraction]

    @property
    def made_per_herb(self) -> Fraction:
        """mL (or g) of the preparation to 1 g of dried herb, by the middles of the spans."""
        return (self.made[0] + self.made[1]) / (self.herb[0] + self.herb[1])


@dataclass(frozen=True, slots=True)
class DoseRow:
    """What one text says of one preparation of a herb.

    Rows of several texts stand side by side; they are no alternatives to be averaged. The dose
    in one go, the times a day and the daily dose each have a basis of their own; `worked_out`
    marks a daily dose that is dose × times and stands in no text. `ethanol` is in % v/v, from
    least to most. A `doubted` row is most likely a misreading: it is kept and shown, and no
    amount is compared with it. `purposes` are the actions that the dose is printed for, where
    the text gives other doses for other purposes; empty where it holds for all.
    """

    id: str
    form: Preparation
    route: Route
    made_from: Origin
    dose_from: Origin
    ratio: Ratio | None = None
    ethanol: tuple[Fraction, Fraction] | None = None
    solvent: str = ""
    dose: DoseRange | None = None
    times: tuple[int, int] | None = None
    times_from: Origin | None = None
    daily: DoseRange | None = None
    daily_basis: Basis | None = None
    worked_out: bool = False
    note: str = ""
    doubted: bool = False
    purposes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ChildDose:
    """A published daily dose for ages from one to below another, in completed months."""

    from_months: int
    below_months: int
    row: DoseRow
