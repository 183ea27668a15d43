"""What is kept of courses for Bench and the lists: brought up to date a little at a time.

Each save brings it up to date for its own course. What is left is a file of an earlier version,
whose courses were never read for it, and findings, which take too long for a save.
"""

from __future__ import annotations

from datetime import date

from sennight import __version__
from sennight.domain.safety.findings import Severity
from sennight.practice.course_reading import CourseReading, read_entry
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.store.matters import Found
from sennight.store.unit import UnitOfWork

__all__ = ["catch_up", "check_some", "is_behind", "keep_given"]

_TOLD = (Severity.AVOID, Severity.CAUTION)


def is_behind(practice: OpenPractice) -> bool:
    """Whether some courses have no coming days yet."""
    with practice.file.reading() as unit:
        return unit.matters.is_behind()


def catch_up(practice: OpenPractice, *, most: int = 8) -> bool:
    """Work out the coming days of up to so many courses that have none yet; False where all do."""
    with practice.file.reading() as unit:
        behind = unit.standings.behind(most)
    if behind:
        with practice.file.noting() as unit:
            for course_id in behind:
                unit.standings.renew(course_id)
    return len(behind) == most


def check_some(practice: OpenPractice, today: date, *, most: int = 1) -> bool:
    """Check up to so many running courses whose findings may have changed; False where none is.

    Only courses that were given are checked, since what is asked is whether something is new.
    """
    with practice.file.reading() as unit:
        unchecked = unit.matters.unchecked(__version__, today, most)
    if unchecked:
        herbs = known_herbs(practice)
        with practice.file.noting() as unit:
            for course_id in unchecked:
                reading = read_entry(
                    unit, unit.courses.get(course_id), today=today, materia_medica=herbs
                )
                unit.matters.put_found(course_id, _found(reading), __version__)
    return bool(unchecked)


def keep_given(unit: UnitOfWork, reading: CourseReading, number: int) -> None:
    """Keep what was found of a course as it is given; `number` is that of the giving."""
    unit.matters.given(number, reading.course.id, _found(reading))


def _found(reading: CourseReading) -> Found:
    return {
        finding.id: finding.heading
        for finding in reading.safety.findings
        if finding.severity in _TOLD
    }
