"""What stands beside the demo's courses: consultations, and what was handed over."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from typing import Any

from sennight.domain.courses.courses import Course
from sennight.domain.directions.directions import Unit
from sennight.domain.follow_up.consultations import (
    HEADINGS,
    Appointment,
    Consultation,
    ConsultationKind,
    Part,
)
from sennight.domain.supply.quantities import Quantity
from sennight.practice.consultations import add_consultation
from sennight.practice.dispensary import Made, make_batch
from sennight.practice.dispensing import Handing, hand_over
from sennight.practice.opening import OpenPractice

MORNING = time(9)
"""When everything in the demo was recorded."""


@dataclass(frozen=True, slots=True)
class DemoHandOver:
    """So many mL of a remedy that were made and handed over on a day."""

    day: date
    remedy: str
    ml: int


@dataclass(frozen=True, slots=True)
class DemoRecords:
    """A client's consultations, and what was handed over for the course."""

    seen: tuple[Consultation, ...] = ()
    handed: tuple[DemoHandOver, ...] = ()


def read_records(entry: dict[str, Any], by: timedelta) -> DemoRecords:
    """The records of a client of `practice.toml`, so much later."""
    return DemoRecords(
        tuple(_consultation(its, by) for its in entry.get("seen", ())),
        tuple(
            DemoHandOver(its["day"] + by, its["remedy"], its["ml"])
            for its in entry.get("handed", ())
        ),
    )


def _consultation(its: dict[str, Any], by: timedelta) -> Consultation:
    at: datetime | None = its.get("next")
    after = Appointment(at.date() + by, at.time()) if at else None
    parts = tuple(Part(head, its[head.lower()]) for head in HEADINGS if head.lower() in its)
    kind = ConsultationKind(its["kind"])
    return Consultation(its["day"] + by, kind, parts, its["minutes"], after)


def add_records(
    practice: OpenPractice, client_id: str, course: Course, records: DemoRecords, maker: str
) -> None:
    """Put them into the practice, each on its day; `course` is as it was saved."""
    for consultation in records.seen:
        add_consultation(practice, client_id, consultation)
    for part in records.handed:
        now = datetime.combine(part.day, MORNING, UTC)
        amount = Quantity(Fraction(part.ml), Unit.ML)
        remedy = course.remedy(part.remedy)
        batch = make_batch(practice, remedy, amount, Made(maker), today=part.day, now=now)
        handing = Handing(batch.id, course.id, part.remedy, 1, amount, maker)
        hand_over(practice, handing, today=part.day, now=now)
