"""The forms of a remedy. Each is one entry of data: all that differs between forms is in it.

A family shares its entry; a form of the family says what is its own.
"""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum

from sennight.domain.directions.directions import Unit
from sennight.domain.herbs.doses import Preparation, TakenAs
from sennight.domain.remedies import use_words as words
from sennight.domain.remedies.form_facts import (
    Composition,
    Filling,
    FormFacts,
    Keeping,
    Taking,
)

# Units that can be turned into one another

PIECES = (Unit.PIECE, Unit.CAPSULE, Unit.TABLET)
VOLUMES = (Unit.ML, Unit.TSP, Unit.TBSP, Unit.DROP, Unit.DROPPERFUL)
WEIGHTS = (Unit.G, Unit.MG)

# Families

_RUBS = (Preparation.OINTMENT, Preparation.CREAM, Preparation.GEL, Preparation.OIL)

_IN_WATER = FormFacts(
    noun="tea",
    verb="Drink",
    composition=Composition.BY_WEIGHT,
    taking=Taking.SWALLOWED,
    units=(Unit.CUP, Unit.ML, Unit.TSP, Unit.TBSP, Unit.G),
    usual_dose="1 cup tds",
    step="0.25",
    keeping=Keeping.DRY,
    making="cup",
)
_LIQUID = FormFacts(
    noun="tincture",
    verb="Take",
    composition=Composition.BY_VOLUME,
    taking=Taking.SWALLOWED,
    units=VOLUMES,
    usual_dose="5 mL tds",
    step="0.5",
    keeping=Keeping.PRESERVED,
    use=words.TINCTURE,
    in_short=words.IN_WATER,
    counted_as=TakenAs.LIQUID,
    has_ratio=True,
)
_PIECES = FormFacts(
    noun="capsule",
    verb="Take",
    composition=Composition.BY_PIECE,
    taking=Taking.SWALLOWED,
    units=(Unit.CAPSULE, Unit.G, Unit.MG),
    usual_dose="1 capsule bd",
    step="1",
    keeping=Keeping.WITHOUT_WATER,
    use=words.CAPSULE,
    in_short=words.WITH_WATER,
    fillings=(Filling.POWDER, Filling.EXTRACT),
)
_LAID_ON = FormFacts(
    noun="ointment",
    article="an",
    verb="Use",
    composition=Composition.IN_BASE,
    taking=Taking.ON_SKIN,
    units=(Unit.APPLICATION, Unit.G, Unit.ML, Unit.TSP),
    usual_dose="1 application bd",
    step="1",
    keeping=Keeping.WITHOUT_WATER,
    use=words.SPREAD,
    in_short=words.RUB_IN,
    fillings=(
        Filling.INFUSED_OIL,
        Filling.TINCTURE,
        Filling.EXTRACT,
        Filling.POWDER,
        Filling.ESSENTIAL_OIL,
    ),
    published=_RUBS,
    patch_test=True,
)
_LAID_ON_WATERY = replace(_LAID_ON, article="a", keeping=Keeping.WATERY_ON_THE_SKIN)


class Form(StrEnum):
    """The forms of a remedy; `facts` holds what follows from each."""

    facts: FormFacts

    def __new__(cls, value: str, facts: FormFacts) -> Form:
        """A form under the name that files and the store know it by."""
        form = str.__new__(cls, value)
        form._value_ = value
        form.facts = facts
        return form

    @classmethod
    def named(cls, name: str) -> Form:
        """The form of a name, as files and the store write it; raises ValueError."""
        for form in cls:
            if form == name:
                return form
        raise ValueError(f"“{name}” is no form")

    TEA = "tea", replace(_IN_WATER, counted_as=TakenAs.TEA)
    TINCTURE = "tincture", replace(_LIQUID, has_ethanol=True)
    GLYCERITE = "glycerite", replace(_LIQUID, noun="glycerite", use=words.GLYCERITE)
    SYRUP = (
        "syrup",
        replace(
            _LIQUID,
            noun="syrup",
            use=words.SYRUP,
            in_short="",
            keeping=Keeping.SWEET,
            has_ethanol=True,
            has_sugar=True,
        ),
    )
    JUICE = (
        "juice",
        replace(
            _LIQUID,
            noun="pressed juice",
            use=words.JUICE,
            keeping=Keeping.FRESH,
            counted_as=TakenAs.JUICE,
            has_ratio=False,
            has_ethanol=True,  # some is kept with a little: echinacea with about 20 %
        ),
    )
    CAPSULE = "capsule", _PIECES
    TABLET = (
        "tablet",
        replace(
            _PIECES,
            noun="tablet",
            units=(Unit.TABLET, Unit.G, Unit.MG),
            usual_dose="1 tablet bd",
            use=words.TABLET,
        ),
    )
    POWDER = (
        "powder",
        FormFacts(
            noun="powder",
            verb="Take",
            composition=Composition.BY_WEIGHT,
            taking=Taking.SWALLOWED,
            units=(Unit.G, Unit.TSP, Unit.TBSP, Unit.MG),
            usual_dose="1 g tds",
            step="0.5",
            keeping=Keeping.WITHOUT_WATER,
            use=words.POWDER,
            in_short=words.NEVER_DRY,
            counted_as=TakenAs.POWDER,
            has_spoon=True,
        ),
    )
    PRODUCT = (
        "product",
        replace(
            _PIECES,
            noun="bought-in product",
            units=(*PIECES, *VOLUMES, *WEIGHTS, Unit.SCOOP),
            usual_dose="1 piece od",
            use=words.PRODUCT,
            in_short="",
            fillings=(Filling.SUBSTANCE, Filling.EXTRACT, Filling.POWDER, Filling.ESSENTIAL_OIL),
            own_formula=False,
        ),
    )
    RUB = (
        "rub",
        replace(
            _LIQUID,
            noun="rub",
            verb="Use",
            taking=Taking.ON_SKIN,
            units=(Unit.APPLICATION, *VOLUMES, Unit.G),
            usual_dose="1 application bd",
            step="1",
            use=words.ON_SKIN,
            in_short=words.RUB_IN,
            counted_as=None,
            has_ethanol=True,
            published=(*_RUBS, Preparation.PAINT),
            patch_test=True,
        ),
    )
    CREAM = "cream", replace(_LAID_ON_WATERY, noun="cream")
    OINTMENT = "ointment", _LAID_ON
    GEL = "gel", replace(_LAID_ON_WATERY, noun="gel")
    OIL = (
        "infused-oil",
        replace(
            _LAID_ON,
            noun="infused oil",
            units=(Unit.APPLICATION, Unit.ML, Unit.G, Unit.TSP),
            use=words.ON_SKIN,
            fillings=(Filling.POWDER, Filling.ESSENTIAL_OIL),
        ),
    )
    COMPRESS = (
        "compress",
        replace(
            _IN_WATER,
            noun="compress",
            verb="Lay on",
            taking=Taking.ON_SKIN,
            units=(Unit.APPLICATION, Unit.G),
            usual_dose="1 application bd",
            step="1",
            use=words.COMPRESS,
            making="compress",
            published=(Preparation.COMPRESS,),
            patch_test=True,
        ),
    )
    BATH = (
        "bath",
        replace(
            _IN_WATER,
            noun="bath",
            verb="Have",
            taking=Taking.ON_SKIN,
            units=(Unit.APPLICATION, Unit.G),
            usual_dose="1 application od",
            step="1",
            use=words.BATH,
            making="bath",
            water_ml=1000,
            published=(Preparation.BATH,),
        ),
    )
    STEAM = (
        "steam",
        replace(
            _IN_WATER,
            noun="steam inhalation",
            verb="Breathe in the steam of",
            taking=Taking.INHALED,
            units=(Unit.APPLICATION, Unit.G),
            usual_dose="1 application bd",
            step="1",
            use=words.STEAM,
            in_short=words.NOT_TO_DRINK,
            making="bowl",
            water_ml=500,
            is_steeped=False,
            published=(Preparation.INHALATION,),
        ),
    )
    GARGLE = (
        "gargle",
        replace(
            _IN_WATER,
            noun="gargle",
            verb="Gargle with",
            taking=Taking.RINSED,
            units=(Unit.CUP, Unit.ML, Unit.TBSP, Unit.G),
            usual_dose="1/2 cup tds",
            use=words.GARGLE,
            in_short=words.SPIT_OUT,
            published=(Preparation.MOUTHWASH,),
        ),
    )
    MOUTHWASH = (
        "mouthwash",
        replace(
            _LIQUID,
            noun="mouthwash",
            verb="Rinse your mouth with",
            taking=Taking.RINSED,
            usual_dose="5 mL tds",
            use=words.MOUTHWASH,
            in_short=words.SPIT_OUT,
            counted_as=None,
            has_ethanol=True,
            published=(Preparation.MOUTHWASH, Preparation.PAINT),
        ),
    )


def composition_of(form: Form) -> Composition:
    """How a formula of the form is written."""
    return form.facts.composition


def is_taken_by_mouth(form: Form) -> bool:
    """Whether what is in it counts as taken: not what is for the skin, inhaled or spat out."""
    return form.facts.taking is Taking.SWALLOWED


def is_for_skin(form: Form) -> bool:
    """Whether it goes on the skin."""
    return form.facts.taking is Taking.ON_SKIN


def is_made_in_water(form: Form) -> bool:
    """Whether the client makes it with water: a tea, a compress."""
    return bool(form.facts.making)


def units_of(form: Form) -> tuple[Unit, ...]:
    """The units that a form can be measured out in, the usual one first."""
    return form.facts.units


def called(form: Form) -> str:
    """A form in a sentence: `a tea`, `an ointment`."""
    return f"{form.facts.article} {form.facts.noun}"
