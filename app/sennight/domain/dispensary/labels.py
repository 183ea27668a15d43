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
from sennight.domain.courses.phase_words import trigger_words
from sennight.domain.dates import Length
from sennight.domain.day import ClientDay, Moment
from sennight.domain.directions.directions import Directions, Unit
from sennight.domain.directions.plain_words import (
    USUAL_TIME_WORDS,
    TimeWords,
    plain_amount,
    plain_date,
    plain_length,
    plain_quantity,
    plain_timing,
)
from sennight.domain.dispensary.batches import Batch, keeping_of
from sennight.domain.exposure.ethanol import strength
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.contents import shares
from sennight.domain.remedies.dose_words import dose_words
from sennight.domain.remedies.form_facts import Composition, Keeping, Taking, filling_words
from sennight.domain.remedies.forms import composition_of, is_for_skin
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.domain.supply.quantities import Quantity
from sennight.domain.tag_words import lower_first, upper_first

CHILDREN = "Keep out of the sight and reach of children"
EXTERNAL = "For external use only"
RINSE = "Rinse and spit out: do not swallow"
CALL_FIRST = "call us on the day that your symptoms flare up"
SHAKE = "Shake the bottle before use."
_TIME_WORDS = TimeWords({**USUAL_TIME_WORDS.moments, Moment.SUPPER: "your evening meal"})


@dataclass(frozen=True, slots=True)
class Label:
    """One container's label, line by line, the most needed first.

    `letter` is the remedy's letter in the course, `code` what the practice's own scanner reads;
    `in_flares` are directions of flare-up plans beside the first ones, a paragraph each.
    `warnings` stand in bold; `own` are the practice's own lines.
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
    in_flares: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """How a remedy is taken by a flare-up plan.

    `trigger` says when to begin, empty where the client calls first; `steps` are directions that
    follow the first ones, each with when. `name` is said where a remedy has several plans.
    """

    directions: Directions
    trigger: str
    length: Length | None = None
    steps: tuple[tuple[Length, Directions], ...] = ()
    name: str = "Flare-up plan"


@dataclass(frozen=True, slots=True)
class ForClient:
    """Whom a label is for: the client, the remedy's letter, and its directions of that day.

    `directions` are None for what is kept for flare-ups alone; `plans` are those that ask for it,
    each in place of the directions.
    """

    name: str
    letter: str
    directions: Directions | None
    day: ClientDay
    course: str
    plans: tuple[Plan, ...] = ()


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
    directions, *in_flares = _directions(client, remedy)
    return Label(
        client=client.name,
        remedy=remedy.name,
        letter=client.letter,
        directions=directions,
        in_flares=tuple(in_flares),
        warnings=_warnings(remedy),
        contents=contents(remedy, herb_names),
        strength=_strength(remedy),
        quantity=quantity_words(container.amount),
        batch=batch.number,
        prepared=plain_date(batch.made_on),
        supplied=" ".join(filter(None, (plain_date(container.day), container.by))),
        use_by=plain_date(batch.use_by),
        keeping=keeping_words(keeping_of(remedy)),
        practice=tuple(
            line for line in (card.practitioner, card.name, *card.address, card.phone) if line
        ),
        own=card.on_labels,
        code=f"{batch.number} {client.course} {client.letter}",
    )


def _directions(client: ForClient, remedy: Remedy) -> tuple[str, ...]:
    """How it is taken, the dose said as on the sheet; by a flare-up plan, when to begin first.

    Whichever container of a remedy is at hand, its label says both, so that there is no wrong one.
    """
    usual = client.directions
    plans = tuple(_planned(client, plan, remedy) for plan in client.plans)
    return (upper_first(_taken(client, usual, remedy)), *plans) if usual else plans


def _planned(client: ForClient, plan: Plan, remedy: Remedy) -> str:
    taken = upper_first(_taken(client, plan.directions, remedy))
    begin = trigger_words(plan.trigger, "begin").rstrip(".") if plan.trigger else CALL_FIRST
    length = f", for {plain_length(plan.length)}" if plan.length else ""
    steps = (
        f"After {plain_length(after)}: {_taken(client, directions, remedy)}"
        for after, directions in plan.steps
    )
    instead = f"{plan.name}, instead" if client.directions else f"For the {lower_first(plan.name)}"
    return ". ".join((f"{instead}: {begin}", f"{taken}{length}", *steps))


def _taken(client: ForClient, directions: Directions, remedy: Remedy) -> str:
    timing = plain_timing(directions.timing, client.day, _TIME_WORDS)
    return f"{dose_words(directions, remedy)} {timing}"


def contents(remedy: Remedy, herb_names: Sequence[str]) -> str:
    """The formula in one line: each ingredient with its share or weight."""
    parts = zip(herb_names, remedy.ingredients, shares(remedy), strict=True)
    listed = ", ".join(_content(remedy, name, part, share) for name, part, share in parts)
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


def _warnings(remedy: Remedy) -> tuple[str, ...]:
    rinsed = (RINSE,) if remedy.form.facts.taking is Taking.RINSED else ()
    return (*((EXTERNAL,) if is_for_skin(remedy.form) else rinsed), CHILDREN)


def quantity_words(quantity: Quantity) -> str:
    """What a container holds: 100 mL, 60 capsules."""
    number = plain_quantity(quantity.amount)
    match quantity.unit:
        case Unit.CAPSULE | Unit.TABLET | Unit.PIECE | Unit.SCOOP | Unit.APPLICATION:
            plural = "" if quantity.amount == 1 else "s"
            return f"{number} {quantity.unit}{plural}"
        case _:
            return f"{number} {quantity.unit}"


def keeping_words(keeping: Keeping) -> str:
    """How to keep it, in a sentence or two."""
    match keeping:
        case Keeping.DRY | Keeping.WITHOUT_WATER:
            return "Keep closed, dry, cool and away from light."
        case Keeping.PRESERVED:
            return f"{SHAKE} Keep closed, cool and away from light."
        case Keeping.WATERY | Keeping.WATERY_ON_THE_SKIN | Keeping.SWEET | Keeping.FRESH:
            return f"{SHAKE} Keep closed in the fridge."
        case _:
            assert_never(keeping)
