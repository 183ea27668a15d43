"""Own herbs that a course file brings along, beside those that the practice knows.

A herb of the same id, or of the same name, may be held here already. Where it says the same,
nothing is to do; where it does not, somebody has to say which holds.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum

from sennight.domain.courses.courses import Course
from sennight.domain.herbs.naming import name_key
from sennight.domain.herbs.own_herbs import CarriedHerb, OwnHerb, OwnRange
from sennight.domain.remedies.remedies import Remedy
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.publish.course_file.reader import CourseFile
from sennight.store.unit import UnitOfWork


class HerbChoice(StrEnum):
    """Which of two records of a herb holds from now on."""

    OURS = "ours"
    THEIRS = "theirs"


@dataclass(frozen=True, slots=True)
class HerbMeeting:
    """A herb of a file and the one that the practice has in its place, by id or by name.

    `ours` is the id of the latter; `differences` what the two say differently, in words: empty
    for a herb of the same name that is not of the same id, which may still be another plant.
    """

    theirs: CarriedHerb
    ours: str
    ours_name: str
    differences: tuple[str, ...]

    @property
    def is_same_id(self) -> bool:
        """Whether both are the same record, at two times."""
        return self.ours == self.theirs.herb.id


class HerbsDifferError(ValueError):
    """Herbs of a file that are known otherwise here, and nobody said which holds."""

    def __init__(self, meetings: tuple[HerbMeeting, ...]) -> None:
        self.meetings = meetings
        names = ", ".join(f"“{meeting.theirs.herb.name}”" for meeting in meetings)
        super().__init__(
            f"{names}: recorded differently here; expected a choice of which record to use"
        )


_FIELDS = {
    "name": "name",
    "latin": "Latin name",
    "family": "family",
    "part": "part",
    "other_names": "other names",
    "actions": "actions",
    "constituents": "constituents",
    "cautions": "cautions",
    "pregnancy": "pregnancy",
    "lactation": "breastfeeding",
    "min_age": "least age",
    "min_ethanol": "least strength",
    "remark": "remark",
    "reference": "source",
}


def herbs_of(practice: OpenPractice, course: Course) -> tuple[CarriedHerb, ...]:
    """The practice's own herbs that a course's remedies hold, in order, with their ranges."""
    held = {part.herb: None for remedy in course.remedies for part in remedy.ingredients}
    with practice.file.reading() as unit:
        own = {herb.id: herb for herb in unit.own_herbs.all()}
        ranges = unit.own_herbs.ranges()
    return tuple(_carried(own[herb], ranges) for herb in held if herb in own)


def _carried(herb: OwnHerb, ranges: Iterable[OwnRange]) -> CarriedHerb:
    return CarriedHerb(
        replace(herb, retired=False),
        tuple(own_range for own_range in ranges if own_range.herb == herb.id),
    )


def to_be_asked(practice: OpenPractice, file: CourseFile) -> tuple[HerbMeeting, ...]:
    """The herbs of a file of which somebody has to say which record holds."""
    if not file.herbs:
        return ()
    with practice.file.reading() as unit:
        own = {herb.id: herb for herb in unit.own_herbs.all()}
        ranges = unit.own_herbs.ranges()
    names = known_herbs(practice).names
    by_name = {name_key(name): herb for herb, name in names.items()}
    meetings = []
    for theirs in file.herbs:
        known = own.get(theirs.herb.id)
        namesake = by_name.get(name_key(theirs.herb.name), "")
        if known:
            differences = _differences(_carried(known, ranges), theirs)
            if differences:
                meetings.append(HerbMeeting(theirs, known.id, known.name, differences))
        elif namesake:
            meetings.append(HerbMeeting(theirs, namesake, names[namesake], ()))
    return tuple(meetings)


def _differences(ours: CarriedHerb, theirs: CarriedHerb) -> tuple[str, ...]:
    told = [
        words
        for field, words in _FIELDS.items()
        if getattr(ours.herb, field) != getattr(theirs.herb, field)
    ]
    ranges = set(ours.ranges) != set(theirs.ranges)
    return (*told, "daily ranges") if ranges else tuple(told)


def settled(
    practice: OpenPractice, file: CourseFile, choices: Mapping[str, HerbChoice]
) -> tuple[CourseFile, tuple[CarriedHerb, ...]]:
    """The file as it is brought in, and the herbs that are kept with it.

    Where ours is taken for another of the same name, the file's remedies hold ours. `choices`
    go by the ids of the file's herbs; raises HerbsDifferError where one is missing.
    """
    meetings = {meeting.theirs.herb.id: meeting for meeting in to_be_asked(practice, file)}
    open_ones = tuple(meeting for herb, meeting in meetings.items() if herb not in choices)
    if open_ones:
        raise HerbsDifferError(open_ones)
    ours = {
        herb: meeting.ours
        for herb, meeting in meetings.items()
        if choices[herb] is HerbChoice.OURS
    }
    with practice.file.reading() as unit:
        known = {herb.id for herb in unit.own_herbs.all()}
    kept = tuple(
        carried
        for carried in file.herbs
        if carried.herb.id not in ours
        and (carried.herb.id in meetings or carried.herb.id not in known)
    )
    remedies = tuple(_with_ours(remedy, ours) for remedy in file.course.remedies)
    return replace(file, course=replace(file.course, remedies=remedies)), kept


def _with_ours(remedy: Remedy, ours: Mapping[str, str]) -> Remedy:
    parts = (replace(part, herb=ours.get(part.herb, part.herb)) for part in remedy.ingredients)
    return replace(remedy, ingredients=tuple(parts))


def keep_herbs(unit: UnitOfWork, herbs: Iterable[CarriedHerb], saved: datetime) -> None:
    """Keep the herbs of a file, with their ranges, in a transaction that is under way."""
    for carried in herbs:
        unit.own_herbs.save(carried.herb, saved=saved)
        for own_range in carried.ranges:
            unit.own_herbs.save_range(own_range, saved=saved)
