"""Compares a calendar file, as a phone exports it, with the doses of a course file."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from sennight.domain.courses.stretches import lay_out
from sennight.practice.course_run import RunError
from sennight.practice.materia_medica import herb_finder
from sennight.practice.zones import machine_zone
from sennight.publish.calendar.check import CalendarReadError, Due, compare_calendar
from sennight.publish.course_file.reader import CourseFileError, read_course_file


@dataclass(frozen=True, slots=True)
class CalendarReport:
    """Whether a calendar agrees with a course, and every difference on a line of its own."""

    agrees: bool
    lines: tuple[str, ...]


def check_calendar(calendar: Path, course: Path, *, join_within: int = 0) -> CalendarReport:
    """What a calendar file lacks of a course's reminders, or has too much; raises RunError.

    `join_within` is what the reminders were given with, in minutes.
    """
    try:
        layout = lay_out(read_course_file(course, herb_finder()).course)
        zone = layout.course.client.zone or machine_zone() or "UTC"
        found = compare_calendar(calendar.read_bytes(), layout, zone, join_within=join_within)
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise RunError(f"{calendar}: the file cannot be read ({why})") from error
    except CourseFileError as error:
        raise RunError(str(error)) from error
    except CalendarReadError as error:
        raise RunError(f"{calendar}: {error}") from error
    lines = (
        *(_line("no reminder for", due) for due in found.missing),
        *(_line("a reminder without a dose", due) for due in found.extra),
        *(_line("reminded more than once", due) for due in found.doubled),
        *(f"not of this course, left out: {title}" for title in found.ignored),
    )
    return CalendarReport(found.agrees, lines)


def _line(what: str, due: Due) -> str:
    return f"{due.at:%Y-%m-%d %H:%M}: {what}: {' / '.join(due.what.splitlines())}"
