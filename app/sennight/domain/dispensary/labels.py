"""What a label says, as data: nothing here knows paper.

The contents follow the union of what British, Queensland and Western Australian rules ask of a
dispensed medicine (`tests/references/labels.yaml`). Local law may ask for more: the practice
adds its own lines.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import assert_never

from sennight.domain.amounts import rounded
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import plain_amount, plain_date, plain_quantity
from sennight.domain.dispensary.batches import Batch, keeping_of
from sennight.domain.dispensary.label_directions import ForClient, plan_words, usual_words
from sennight.domain.exposure.ethanol import strength
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.contents import shares
from sennight.domain.remedies.form_facts import Composition, Keeping, Taking, filling_words
from sennight.domain.remedies.forms import composition_of
from sennight.domain.remedies.making_words import making_line
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.domain.supply.quantities import Quantity
from sennight.domain.tag_words import short_name

CHILDREN = "Keep out of the sight and reach of children"
EXTERNAL = "For external use only"
RINSE = "Rinse and spit out: do not swallow"
INHALE = "For steam only: do not drink"
SLEEPY = "May make you sleepy. Do not drive or use machines if it does."
SHAKE = "Shake the bottle before use."


_WHERE = {
    Taking.ON_SKIN: (EXTERNAL,),
    Taking.RINSED: (RINSE,),
    Taking.INHALED: (INHALE,),
}


@dataclass(frozen=True, slots=True)
class Label:
    """One container's label, line by line, the most needed first.

    `letter` is the remedy's letter in the course, `code` what the practice's own scanner reads;
    `later` are directions that follow the first ones while the supply lasts, `in_flares` those of
    flare-up plans beside them, a paragraph each. `making` says how a cup is made, and may be left
    out where there is no room. `warnings` stand in bold; `own` are the practice's own lines.
    """

    client: str
    remedy: str
    letter: str
    directions: str
    warnings: tuple[str, ...]
    contents: str
    strength: str
    quantity: str
    batch: str
    prepared: str
    supplied: str
    use_by: str
    keeping: str
    practice: tuple[str, ...]
    own: tuple[str, ...]
    code: str
    later: tuple[str, ...] = ()
    in_flares: tuple[str, ...] = ()
    making: str = ""


@dataclass(frozen=True, slots=True)
class Supply:
    """A container that is handed over: how much, on which day, and by whom (initials)."""

    amount: Quantity
    day: date
    by: str


def label_of(
    batch: Batch,
    container: Supply,
    client: ForClient,
    card: PracticeCard,
    herb_names: Sequence[str],
) -> Label:
    """The label of one container of a batch; `herb_names` are the ingredients', in order."""
    remedy = batch.remedy
    usual, plans = usual_words(client, remedy, container.day), plan_words(client, remedy)
    directions, *in_flares = (usual[0], *plans) if usual else plans
    return Label(
        client=client.name,
        remedy=remedy.name,
        letter=client.letter,
        directions=directions,
        later=usual[1:],
        in_flares=tuple(in_flares),
        making=making_line(remedy.form, remedy.tea) if remedy.tea else "",
        warnings=_warnings(remedy, makes_sleepy=client.makes_sleepy),
        contents=contents(remedy, herb_names),
        strength=_strength(remedy),
        quantity=quantity_words(container.amount),
        batch=batch.number,
        prepared=plain_date(batch.made_on),
        supplied=" ".join(filter(None, (plain_date(container.day), container.by))),
        use_by=plain_date(batch.use_by),
        keeping=keeping_words(
            keeping_of(remedy), is_liquid=composition_of(remedy.form) is Composition.BY_VOLUME
        ),
        practice=tuple(
            line for line in (card.practitioner, card.name, *card.address, card.phone) if line
        ),
        own=card.on_labels,
        code=f"{batch.number} {client.course} {client.letter}",
    )


def contents(remedy: Remedy, herb_names: Sequence[str]) -> str:
    """The formula in one line: each ingredient with its share or weight."""
    parts = zip(herb_names, remedy.ingredients, shares(remedy), strict=True)
    listed = ", ".join(
        _content(remedy, short_name(name), part, share) for name, part, share in parts
    )
    if remedy.mg_in is None:
        return listed
    return f"In {plain_amount(remedy.mg_in.amount, remedy.mg_in.unit)}: {listed}"


def _content(remedy: Remedy, name: str, part: Ingredient, share: Fraction | None) -> str:
    match composition_of(remedy.form):
        case Composition.BY_PIECE:
            named = f"{name}{filling_words(part.filling)}"
            return f"{named} {plain_quantity(part.mg)} mg" if part.mg else named
        case Composition.IN_BASE:
            return f"{name}{filling_words(part.filling)}{_percent(share)}"
        case Composition.BY_VOLUME:
            ratio = f" 1:{rounded(part.ratio, 2)}" if part.ratio else ""
            return f"{name}{ratio}{_percent(share)}"
        case Composition.BY_WEIGHT:
            return f"{name}{_percent(share)}"
        case _:
            assert_never(remedy.form)


def _percent(share: Fraction | None) -> str:
    return "" if share is None else f" {rounded(share * 100, 1)} %"


def _strength(remedy: Remedy) -> str:
    percent = strength(remedy)
    return "" if not percent else f"Contains alcohol: about {rounded(percent, 0)} % by volume"


def _warnings(remedy: Remedy, *, makes_sleepy: bool) -> tuple[str, ...]:
    where = _WHERE.get(remedy.form.facts.taking, ())
    return (*where, *((SLEEPY,) if makes_sleepy else ()), CHILDREN)


def quantity_words(quantity: Quantity) -> str:
    """What a container holds: 100 mL, 60 capsules."""
    number = plain_quantity(quantity.amount)
    match quantity.unit:
        case Unit.CAPSULE | Unit.TABLET | Unit.PIECE | Unit.SCOOP | Unit.APPLICATION:
            plural = "" if quantity.amount == 1 else "s"
            return f"{number} {quantity.unit}{plural}"
        case _:
            return f"{number} {quantity.unit}"


def keeping_words(keeping: Keeping, *, is_liquid: bool = True) -> str:
    """How to keep it, in a sentence or two; a cream is not shaken."""
    match keeping:
        case Keeping.DRY | Keeping.WITHOUT_WATER:
            return "Keep closed, dry, cool and away from light."
        case Keeping.PRESERVED:
            return f"{SHAKE} Keep closed, cool and away from light."
        case Keeping.WATERY | Keeping.SWEET | Keeping.FRESH:
            return f"{SHAKE} Keep closed in the fridge."
        case Keeping.WATERY_ON_THE_SKIN:
            return (
                f"{SHAKE} Keep closed in the fridge."
                if is_liquid
                else "Keep closed in the fridge."
            )
        case _:
            assert_never(keeping)
