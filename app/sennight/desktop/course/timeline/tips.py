"""What the timeline says of a point under the pointer: a decision, a day, a remedy on that day."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from sennight.desktop.course.timeline.layout import Flag
from sennight.desktop.course.timeline.overlays import FindingDays
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.severity_marks import severity_words
from sennight.domain.courses.courses import Course
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.courses.revision_words import revision_sentence
from sennight.domain.directions.plain_words import plain_day, plain_directions
from sennight.domain.schedule.weeks import DayCell
from sennight.practice.course_reading import CourseReading


def flag_words(flag: Flag, course: Course) -> str:
    """The decisions of a flag, a sentence each."""
    return "\n".join(revision_sentence(course.revisions[n], course) for n in flag.revisions)


def day_words(
    reading: CourseReading, day: date, place: int | None, findings: Iterable[FindingDays]
) -> str:
    """A day with its phase and week; in a lane also what its remedy does, and the cautions.

    `place` is the remedy's in the course. Empty for a day outside it.
    """
    cell = reading.weeks.cell(day)
    if cell is None:
        return ""
    phase = reading.layout.phase_on(day)
    week = translate("Timeline", "week {week}").format(week=cell.week)
    told = [phase_title(phase.phase.id)] if phase else []
    told.append(f"{plain_day(day)} · {week}")
    if place is not None:
        told.append(_taken_words(reading.course, place, cell))
        told += _found_on(reading.course.remedies[place].id, day, findings)
    return "\n".join(part for part in told if part)


def _taken_words(course: Course, place: int, cell: DayCell) -> str:
    """What a remedy does on a day; nothing where it is not due."""
    name = course.remedies[place].name
    mark = next((mark for mark in cell.marks if mark.index == place), None)
    if mark is None:
        return ""
    if mark.stretch is None:
        return f"{name}: {mark.state.value}"
    return f"{name}: {plain_directions(mark.stretch.directions, course.client.day)}"


def _found_on(remedy: str, day: date, findings: Iterable[FindingDays]) -> list[str]:
    """The cautions about a remedy that hold on a day."""
    found = (f for f in findings if f.remedy == remedy and day in f.span)
    return list(dict.fromkeys(f"{severity_words(f.severity)}: {f.heading}" for f in found))
