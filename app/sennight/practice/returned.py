"""What was left of a remedy when the client came, and what that says of what was used."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.dispensary.returned import BY_EYE, Returned, Usage, by_the_diary, usages
from sennight.domain.dispensary.returned_words import NOT_TAKEN, usage_words
from sennight.domain.follow_up.adherence import adherence
from sennight.domain.remedies.letters import letter_of
from sennight.domain.supply.quantities import Quantity
from sennight.practice.course_reading import CourseReading
from sennight.practice.opening import OpenPractice
from sennight.store.unit import UnitOfWork

__all__ = [
    "NOT_TAKEN",
    "HadAtHome",
    "Returned",
    "ReturnedError",
    "Usage",
    "enter_returned",
    "had_at_home",
    "keep_in",
    "returned_of",
    "told_by_what_is_left",
    "told_in",
    "used",
    "usually_within",
]


class ReturnedError(ValueError):
    """What cannot have been left; the message says why and what was expected."""


@dataclass(frozen=True, slots=True)
class HadAtHome:
    """A remedy of a course that was handed over: its letter, and all of it in one unit."""

    remedy: str
    name: str
    letter: str
    handed: Quantity


def had_at_home(practice: OpenPractice, course_id: str) -> tuple[HadAtHome, ...]:
    """What was handed over for a course, remedy by remedy; raises MissingRecordError."""
    with practice.file.reading() as unit:
        course = unit.courses.get(course_id).course
        parts = unit.dispensary.handed_for(course_id)
    found: dict[tuple[str, Unit], Fraction] = {}
    for part in parts:
        key = part.remedy, part.amount.unit
        found[key] = found.get(key, Fraction(0)) + part.amount.amount
    return tuple(
        HadAtHome(remedy.id, remedy.name, letter_of(place), Quantity(amount, unit))
        for place, remedy in enumerate(course.remedies)
        for (name, unit), amount in found.items()
        if name == remedy.id
    )


def usually_within(unit: Unit) -> Fraction:
    """By how much a count may be off: a level is read by eye, capsules are counted."""
    return BY_EYE if unit in (Unit.ML, Unit.G) else Fraction(0)


def returned_of(practice: OpenPractice, course_id: str) -> tuple[Returned, ...]:
    """What was left of a course's remedies, by day; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.courses.require(course_id)
        return unit.dispensary.returned_of(course_id)


def used(practice: OpenPractice, course_id: str, reading: CourseReading) -> tuple[Usage, ...]:
    """What each count says of what left the containers; raises MissingRecordError."""
    with practice.file.reading() as unit:
        return _used(unit, course_id, reading)


def _used(unit: UnitOfWork, course_id: str, reading: CourseReading) -> tuple[Usage, ...]:
    unit.courses.require(course_id)
    return usages(
        reading.layout,
        unit.dispensary.handed_for(course_id),
        unit.dispensary.returned_of(course_id),
        reading.settings.allowance,
    )


def told_by_what_is_left(
    practice: OpenPractice, course_id: str, reading: CourseReading
) -> tuple[str, ...]:
    """A sentence for each count: what left the container of what was due, beside the diary."""
    with practice.file.reading() as unit:
        return told_in(unit, course_id, reading)


def told_in(unit: UnitOfWork, course_id: str, reading: CourseReading) -> tuple[str, ...]:
    """The same as a part of what is read or written."""
    names = {remedy.id: remedy.name for remedy in reading.course.remedies}
    found = _used(unit, course_id, reading)
    taken = unit.diaries.taken(course_id) if found else ()
    days = adherence(reading.layout, taken, today=reading.today).days if taken else ()
    return tuple(
        usage_words(usage, names[usage.returned.remedy], by_the_diary(usage, days))
        for usage in found
    )


def enter_returned(
    practice: OpenPractice,
    counted: Iterable[Returned],
    withdrawn: Iterable[Returned] = (),
    *,
    today: date,
    now: datetime,
) -> None:
    """Keep what was left, each in place of what was said of that day and remedy before.

    What is `withdrawn` was entered in error; the record of it stays. All or nothing: raises
    ReturnedError for a day to come, an amount below 0, a remedy that the course does not have,
    and for more than was ever handed over of it; MissingRecordError.
    """
    with practice.file.writing() as unit:
        for returned in counted:
            keep_in(unit, returned, today=today, now=now)
        for returned in withdrawn:
            unit.courses.require(returned.course)
            unit.dispensary.withdraw_returned(returned, recorded=now)


def keep_in(unit: UnitOfWork, returned: Returned, *, today: date, now: datetime) -> None:
    """Keep one of them as a part of what is written; raises as `enter_returned`."""
    course = unit.courses.get(returned.course).course
    names = {remedy.id: remedy.name for remedy in course.remedies}
    if returned.remedy not in names:
        raise ReturnedError("the course has no such remedy; expected one of its own")
    handed = unit.dispensary.handed_for(returned.course)
    why_not = _why_not(returned, handed, today)
    if why_not:
        raise ReturnedError(f"{names[returned.remedy]}: {why_not}")
    unit.dispensary.put_returned(returned, recorded=now)


def _why_not(returned: Returned, handed: Iterable[HandedOver], today: date) -> str:
    """Why so much cannot have been left; empty where it can."""
    if returned.day > today:
        return "that day is in the future; expected today or an earlier day"
    if min(returned.left.amount, returned.within, returned.lost) < 0:
        return "what is left cannot be below 0; expected 0 or more"
    unit = returned.left.unit
    whole = sum(
        part.amount.amount
        for part in handed
        if (part.remedy, part.amount.unit) == (returned.remedy, unit) and part.day <= returned.day
    )
    if whole and returned.left.amount + returned.lost > whole:
        words = quantity_words(Quantity(Fraction(whole), unit))
        return f"{words} were handed over by {plain_date(returned.day)}; expected no more"
    return ""
