"""Handing over what was prepared, with its labels; it counts as giving, and findings stop it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from sennight.domain.dispensary.batches import Batch, HandedOver
from sennight.domain.dispensary.labels import ForClient, Label, Supply, label_of, quantity_words
from sennight.domain.remedies.letters import letter_of
from sennight.domain.supply.quantities import Quantity
from sennight.practice.course_reading import CourseReading, read_course
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs

__all__ = ["HandOverError", "Handing", "hand_over", "handed_to", "label_for", "left_of"]


class HandOverError(ValueError):
    """What cannot be handed over; the message says why and what was expected."""


@dataclass(frozen=True, slots=True)
class Handing:
    """So many containers of a batch, each of so much, for a remedy of a course, and by whom."""

    batch: str
    course: str
    remedy: str
    containers: int
    each: Quantity
    by: str

    @property
    def amount(self) -> Quantity:
        """All of it."""
        return Quantity(self.each.amount * self.containers, self.each.unit)


def hand_over(
    practice: OpenPractice, handing: Handing, *, today: date, now: datetime
) -> HandedOver:
    """Keep on record that a client got it.

    Raises UnacceptedError where a finding to avoid stands that nobody accepted, HandOverError
    for a batch that is out of date or has not so much left, and MissingRecordError.
    """
    herbs = known_herbs(practice)
    with practice.file.writing() as unit:
        entry = unit.courses.get(handing.course)
        checks = unit.red_flags.of_client(entry.client_id)
        reading = read_course(
            entry.course,
            today=today,
            materia_medica=herbs,
            standing=checks[-1] if checks else None,
        )
        reading.safety.require_accepted()
        batch = unit.dispensary.batch(handing.batch)
        _require_fit(
            batch, handing, left_of(batch, unit.dispensary.handed_from((batch.id,))), today
        )
        handed = HandedOver(
            batch.id,
            entry.client_id,
            handing.course,
            handing.remedy,
            today,
            handing.amount,
            handing.containers,
            handing.by,
        )
        unit.dispensary.hand_over(handed, recorded=now)
    return handed


def _require_fit(batch: Batch, handing: Handing, left: Fraction, today: date) -> None:
    if batch.use_by < today:
        raise HandOverError(
            f"batch {batch.number} was to be used by {batch.use_by}; expected one in date"
        )
    if handing.containers < 1 or handing.each.amount <= 0:
        raise HandOverError("nothing would be handed over; expected 1 container or more")
    if handing.each.unit is not batch.amount.unit or handing.amount.amount > left:
        raise HandOverError(
            f"{quantity_words(Quantity(left, batch.amount.unit))} are left of batch "
            f"{batch.number}; expected no more"
        )


def left_of(batch: Batch, handed: tuple[HandedOver, ...]) -> Fraction:
    """How much of a batch was not handed over yet, in the batch's unit."""
    gone = (one.amount.amount for one in handed if one.batch == batch.id)
    return batch.amount.amount - sum(gone, Fraction(0))


def handed_to(practice: OpenPractice, client_id: str) -> tuple[tuple[HandedOver, Batch], ...]:
    """What a client got, each with its batch, in the order in which it was handed over."""
    with practice.file.reading() as unit:
        handed = unit.dispensary.handed_to(client_id)
        made = {batch: unit.dispensary.batch(batch) for batch in {one.batch for one in handed}}
    return tuple((one, made[one.batch]) for one in handed)


def label_for(
    practice: OpenPractice,
    reading: CourseReading,
    batch: Batch,
    handing: Handing,
    own: tuple[str, ...] = (),
) -> Label:
    """The label of one container, with the directions that hold on the reading's day or next.

    Raises HandOverError where the course has the remedy no more.
    """
    day = reading.today
    coming = [
        stretch
        for stretch in reading.layout.stretches
        if stretch.remedy == handing.remedy and stretch.span.end > day
    ]
    if not coming:
        raise HandOverError(
            "the course has no day left for this remedy; expected one that goes on"
        )
    stretch = min(coming, key=lambda stretch: stretch.span.first)
    with practice.file.reading() as unit:
        card = unit.card.get()
    course = reading.course
    client = ForClient(
        course.client.name,
        letter_of(reading.places[handing.remedy]),
        stretch.directions,
        course.client.day,
        course.id,
    )
    supply = Supply(handing.each, day, handing.by)
    names = reading.materia_medica.names
    herbs = [names.get(part.herb, part.herb) for part in batch.remedy.ingredients]
    return label_of(batch, supply, client, card, herbs, own)
