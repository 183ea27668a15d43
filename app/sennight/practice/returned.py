"""What was left of a remedy when the client came, and what that says of what was used."""

from __future__ import annotations

from datetime import date, datetime

from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.dispensary.returned import Returned, Usage, usages
from sennight.domain.supply.quantities import Quantity
from sennight.practice.course_reading import CourseReading
from sennight.practice.opening import OpenPractice

__all__ = [
    "Returned",
    "ReturnedError",
    "Usage",
    "handed_for",
    "keep_returned",
    "returned_of",
    "used",
    "withdraw_returned",
]


class ReturnedError(ValueError):
    """What cannot have been left; the message says why and what was expected."""


def handed_for(practice: OpenPractice, course_id: str) -> tuple[HandedOver, ...]:
    """What was handed over for a course; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.courses.require(course_id)
        return unit.dispensary.handed_for(course_id)


def returned_of(practice: OpenPractice, course_id: str) -> tuple[Returned, ...]:
    """What was left of a course's remedies, by day; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.courses.require(course_id)
        return unit.dispensary.returned_of(course_id)


def used(practice: OpenPractice, course_id: str, reading: CourseReading) -> tuple[Usage, ...]:
    """What each count says of what left the containers; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.courses.require(course_id)
        return usages(
            reading.layout,
            unit.dispensary.handed_for(course_id),
            unit.dispensary.returned_of(course_id),
            reading.settings.allowance,
        )


def keep_returned(
    practice: OpenPractice, returned: Returned, *, today: date, now: datetime
) -> None:
    """Keep what was left on a day, in place of what was said of that day and remedy before.

    Raises ReturnedError for a day to come, an amount below 0, a remedy that the course does not
    have, and for more than was ever handed over of it; MissingRecordError.
    """
    with practice.file.writing() as unit:
        course = unit.courses.get(returned.course).course
        if returned.remedy not in {remedy.id for remedy in course.remedies}:
            raise ReturnedError("the course has no such remedy; expected one of its own")
        _require_possible(returned, unit.dispensary.handed_for(returned.course), today)
        unit.dispensary.put_returned(returned, recorded=now)


def withdraw_returned(practice: OpenPractice, returned: Returned, *, now: datetime) -> None:
    """Take back what was entered in error; the record of it stays."""
    with practice.file.writing() as unit:
        unit.courses.require(returned.course)
        unit.dispensary.withdraw_returned(returned, recorded=now)


def _require_possible(returned: Returned, handed: tuple[HandedOver, ...], today: date) -> None:
    if returned.day > today:
        raise ReturnedError("that day is to come; expected today or an earlier day")
    if min(returned.left.amount, returned.within, returned.lost) < 0:
        raise ReturnedError("less than nothing cannot be left; expected 0 or more")
    unit = returned.left.unit
    whole = sum(
        part.amount.amount
        for part in handed
        if (part.remedy, part.amount.unit) == (returned.remedy, unit) and part.day <= returned.day
    )
    if whole and returned.left.amount + returned.lost > whole:
        words = quantity_words(Quantity(whole, unit))
        raise ReturnedError(f"{words} were handed over by then; expected no more")
