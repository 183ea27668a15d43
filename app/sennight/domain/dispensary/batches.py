"""Batches: what was prepared, from what, by whom, and by when to use it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from sennight.domain.exposure.ethanol import strength
from sennight.domain.remedies.form_facts import KEEPS, Keeping
from sennight.domain.remedies.forms import is_taken_by_mouth
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.supply.quantities import Quantity

PRESERVING = Fraction(20)
"""From about this strength (% v/v) on ethanol keeps a watery liquid (common practice)."""


@dataclass(frozen=True, slots=True)
class UsedPart:
    """What went into a batch: so much of a delivery, or of a herb whose delivery is not known."""

    herb: str
    amount: Quantity
    delivery: str | None = None


@dataclass(frozen=True, slots=True)
class Batch:
    """A remedy as it was prepared: `remedy` is the formula of that day, kept with the batch."""

    id: str
    number: str
    remedy: Remedy
    amount: Quantity
    made_on: date
    maker: str
    use_by: date
    parts: tuple[UsedPart, ...] = ()
    note: str = ""


def has_same_contents(made: Remedy, wanted: Remedy) -> bool:
    """Whether what was made is what is wanted: form, herbs, amounts and base.

    A name may differ, and how a client makes a tea or measures a dose.
    """
    return (made.form, made.ingredients, made.base) == (
        wanted.form,
        wanted.ingredients,
        wanted.base,
    )


@dataclass(frozen=True, slots=True)
class HandedOver:
    """So much of a batch that went to a client; `remedy` is the one of the client's course."""

    batch: str
    client: str
    course: str
    remedy: str
    day: date
    amount: Quantity
    containers: int
    by: str


def left_of(
    batch: Batch, handed: Iterable[HandedOver], shelved: Mapping[str, Fraction]
) -> Fraction:
    """How much of a batch was neither handed over nor put on the shelf, in the batch's unit.

    `shelved` is how much of each batch went on the shelf, by its id.
    """
    gone = sum((part.amount.amount for part in handed if part.batch == batch.id), Fraction(0))
    return batch.amount.amount - gone - shelved.get(batch.id, Fraction(0))


def keeping_of(remedy: Remedy) -> Keeping:
    """How a remedy keeps, from its form and the strength of its liquid.

    A liquid whose strength is not known counts as watery: the shorter time is the careful one.
    """
    facts = remedy.form.facts
    if facts.keeping is Keeping.FRESH:
        return Keeping.PRESERVED if _is_preserved(remedy) else Keeping.FRESH
    if facts.keeping is Keeping.PRESERVED and facts.has_ethanol and not _is_preserved(remedy):
        by_mouth = is_taken_by_mouth(remedy.form)
        return Keeping.WATERY if by_mouth else Keeping.WATERY_ON_THE_SKIN
    return facts.keeping


def _is_preserved(remedy: Remedy) -> bool:
    """Whether it holds enough ethanol to keep."""
    percent = strength(remedy)
    return percent is not None and percent >= PRESERVING


def usual_use_by(remedy: Remedy, made_on: date, best_before: Iterable[date | None]) -> date:
    """The last day to use it: by how it keeps, and no later than its first part expires.

    The rule of the earliest ingredient is of the Alberta College of Pharmacy's compounding page.
    """
    last = KEEPS[keeping_of(remedy)].after(made_on) - timedelta(days=1)
    return min((last, *(day for day in best_before if day is not None)))


def batch_number(day: date, earlier: int) -> str:
    """The number of a day's next batch after `earlier` others: 261128-1, 261128-2 …

    Year, month, day and a count, so that it can be read out and written on a bottle.
    """
    return f"{day:%y%m%d}-{earlier + 1}"
