"""What came in, was made and was handed over for the demo's courses."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from typing import Any

from sennight.domain.courses.courses import Course
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.stock import material_of
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.supply.quantities import Quantity
from sennight.practice.dispensary import Made, Received, make_batch, receive
from sennight.practice.dispensing import Handing, hand_over
from sennight.practice.opening import OpenPractice

MORNING = time(9)
"""When everything in the demo was recorded."""


@dataclass(frozen=True, slots=True)
class DemoDelivery:
    """So much (above 0, in the material's unit) that came in on a day, of what a remedy needs."""

    day: date
    remedy: str
    herb: str
    amount: int
    supplier: str
    batch: str
    best_before: date


@dataclass(frozen=True, slots=True)
class DemoHandOver:
    """So many mL of a remedy that were made and handed over on a day."""

    day: date
    remedy: str
    ml: int


def read_deliveries(
    entries: Iterable[Mapping[str, Any]], by: timedelta
) -> tuple[DemoDelivery, ...]:
    """What came in by `practice.toml`, so much later."""
    dates = ("day", "best_before")
    return tuple(
        DemoDelivery(**{key: told + by if key in dates else told for key, told in its.items()})
        for its in entries
    )


def add_deliveries(
    practice: OpenPractice, deliveries: Iterable[DemoDelivery], remedies: Mapping[str, Remedy]
) -> None:
    """Receive each on its day, as what its remedy needs it."""
    for its in deliveries:
        remedy = remedies[its.remedy]
        ingredient = next(part for part in remedy.ingredients if part.herb == its.herb)
        came = Received(
            material_of(remedy, ingredient),
            Fraction(its.amount),
            its.supplier,
            its.batch,
            its.best_before,
        )
        receive(practice, came, day=its.day, now=datetime.combine(its.day, MORNING, UTC))


def read_handed(entries: Iterable[Mapping[str, Any]], by: timedelta) -> tuple[DemoHandOver, ...]:
    """What a client of `practice.toml` was handed, so much later."""
    return tuple(DemoHandOver(its["day"] + by, its["remedy"], its["ml"]) for its in entries)


def add_handed(
    practice: OpenPractice, course: Course, handed: Iterable[DemoHandOver], maker: str
) -> None:
    """Make and hand over each on its day; `course` is as it was saved."""
    for part in handed:
        now = datetime.combine(part.day, MORNING, UTC)
        amount = Quantity(Fraction(part.ml), Unit.ML)
        remedy = course.remedy(part.remedy)
        batch = make_batch(practice, remedy, amount, Made(maker), today=part.day, now=now)
        handing = Handing(batch.id, course.id, part.remedy, 1, amount, maker)
        hand_over(practice, handing, today=part.day, now=now)
