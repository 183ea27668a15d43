"""A remedy that joins a phase which is under way, as a decision."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from sennight.domain.courses.courses import Course, Join
from sennight.domain.courses.protocols import Line
from sennight.domain.remedies.fingerprints import formula_mark
from sennight.domain.remedies.remedies import Remedy


def joined_from(course: Course, line: Line, first: date) -> Course | None:
    """The course with a line's remedy in it from a day on, to the end of the phase of that day.

    `course` has the remedy among its own already. None for a line with steps, which a decision
    has not: its doses would change otherwise than was asked for.
    """
    if line.steps:
        return None
    join = Join(on=first, remedy=line.remedy, first=first, directions=line.directions)
    return replace(course, revisions=(*course.revisions, join))


def free_id(remedy_id: str, remedies: Iterable[Remedy]) -> str:
    """An id for another formula of a remedy that none of these remedies has."""
    known = {remedy.id for remedy in remedies}
    number = next(n for n in range(2, len(known) + 3) if f"{remedy_id}-{n}" not in known)
    return f"{remedy_id}-{number}"


def same_formula(one: Remedy, two: Remedy) -> bool:
    """Whether two remedies are one formula under one name."""
    return one.name == two.name and formula_mark(one) == formula_mark(two)
