"""What there is to know of a form of remedy: the fields that each form fills in as data."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.directions.directions import Unit
from sennight.domain.herbs.doses import Preparation, TakenAs


class Composition(StrEnum):
    """How a formula of a form is written, and so what its sums are of."""

    BY_WEIGHT = "by weight"
    """Parts by weight of dried herbs."""

    BY_VOLUME = "by volume"
    """Parts by volume of liquids, with what they are thinned with."""

    BY_PIECE = "by piece"
    """Milligrams in one piece."""

    IN_BASE = "in a base"
    """Percent by weight of the whole; the base is the rest."""


class Taking(StrEnum):
    """Where a form goes, which decides what counts as taken."""

    SWALLOWED = "swallowed"
    RINSED = "rinsed"
    """In the mouth and spat out: on the lining of the mouth, not swallowed."""

    ON_SKIN = "on the skin"
    INHALED = "inhaled"
    """Breathed in as steam; what is in the bowl is thrown away."""


class Filling(StrEnum):
    """As what a herb is in a piece or a base."""

    POWDER = "powder"
    EXTRACT = "extract"
    SUBSTANCE = "substance"
    """A substance by itself, as in bought-in products: glucosamine, fish oil, zinc."""

    INFUSED_OIL = "infused-oil"
    TINCTURE = "tincture"
    ESSENTIAL_OIL = "essential-oil"


def filling_name(filling: Filling) -> str:
    """What it is called in a list: infused oil."""
    return str(filling).replace("-", " ")


def filling_words(filling: Filling | None) -> str:
    """As what a herb is said to be, behind its name; a powder and a substance are so as named."""
    named = filling not in (None, Filling.POWDER, Filling.SUBSTANCE)
    return f" {filling_name(filling)}" if filling and named else ""


class Keeping(StrEnum):
    """How long a kind of preparation keeps, and why; never longer than any of its ingredients."""

    DRY = "dry"
    """A mix of dried herbs: a year for leaf, more for root and bark (common practice)."""
    PRESERVED = "preserved"
    """A liquid with enough ethanol or glycerol: 6 to 12 months (common practice)."""
    SWEET = "sweet"
    """A syrup, kept by its sugar: 35 days (preserved, USP <795>, as told in exam notes)."""
    FRESH = "fresh"
    """Juice of the fresh plant, nothing added: a day in the cold (common practice)."""
    WATERY = "watery"
    """A watery liquid to be taken: 14 days in the cold (Alberta College of Pharmacy)."""
    WATERY_ON_THE_SKIN = "watery on the skin"
    """A watery preparation for the skin: 30 days (Alberta College of Pharmacy)."""
    WITHOUT_WATER = "without water"
    """Powders, capsules, ointments, oils: 6 months (Alberta College of Pharmacy)."""


KEEPS: dict[Keeping, Length] = {
    Keeping.DRY: Length(12, CalendarUnit.MONTHS),
    Keeping.PRESERVED: Length(6, CalendarUnit.MONTHS),
    Keeping.SWEET: Length(35, CalendarUnit.DAYS),
    Keeping.FRESH: Length(1, CalendarUnit.DAYS),
    Keeping.WATERY: Length(14, CalendarUnit.DAYS),
    Keeping.WATERY_ON_THE_SKIN: Length(30, CalendarUnit.DAYS),
    Keeping.WITHOUT_WATER: Length(6, CalendarUnit.MONTHS),
}


@dataclass(frozen=True, slots=True)
class FormFacts:
    """One form as data.

    `noun` and `article` make *a tea*, `verb` is what the client does with it. `units` it can be
    measured in, the usual one first. `usual_dose` is what a new formula is tried with, `step` what
    the usual unit is rounded to when a dose is proposed.
    """

    noun: str
    verb: str
    composition: Composition
    taking: Taking
    units: tuple[Unit, ...]
    usual_dose: str
    step: str
    keeping: Keeping
    use: tuple[str, ...] = ()
    """How it is used, for the client's sheet; how it is made in water is said apart."""

    in_short: str = ""
    """The same in a sentence, for a reminder; empty where its making says it."""

    article: str = "a"
    counted_as: TakenAs | None = None
    """What its herbs are compared as; None where each says so itself, or none is swallowed."""

    fillings: tuple[Filling, ...] = ()
    """As what a herb can be in it, the usual one first; empty where that is always the same."""

    making: str = ""
    """What is made of it at one time with water, *cup* or *bath*; empty for what needs none."""

    water_ml: int = 250
    """mL of water to one making where nothing else is said: common practice."""

    is_steeped: bool = True
    """False for what is used while it steams, and is not strained."""

    published: tuple[Preparation, ...] = ()
    """Which published forms for the skin or the mouth its use is compared with."""

    has_ratio: bool = False
    has_ethanol: bool = False
    has_sugar: bool = False
    has_spoon: bool = False
    """Whether it is measured with a spoon whose weight has to be said."""

    patch_test: bool = False
    own_formula: bool = True
    """False for what is bought ready-made."""
