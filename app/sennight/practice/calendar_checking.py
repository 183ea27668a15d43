"""Compares a calendar, as a phone exports it, with the doses of a course file."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.plain_words import counted
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.published import plan_name
from sennight.practice.course_run import RunError
from sennight.practice.materia_medica import herb_finder
from sennight.practice.zones import machine_zone
from sennight.publish.calendar.check import AlarmFault, CalendarCheck, Due, compare_calendar
from sennight.publish.calendar.entries import MOST_BYTES, CalendarReadError, Tell, tell_nobody
from sennight.publish.course_file.reader import CourseFileError, read_course_file

MOST_NAMED = 5
"""So many entries of other things are named; a phone's calendar has hundreds."""
_MINUTE = timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class CalendarReport:
    """Whether a calendar agrees with a course, every difference, and what to tell the client."""

    agrees: bool
    lines: tuple[str, ...]
    advice: tuple[str, ...] = ()


def check_calendar(
    calendars: Sequence[Path],
    course: Path,
    choices: ReminderChoices,
    tell: Tell = tell_nobody,
) -> CalendarReport:
    """What a calendar lacks of a course's reminders, or has too much; raises RunError.

    The calendar may be in several files. `choices` are those that the reminders were given with.
    `tell` is told how far it got; what it raises ends the check.
    """
    try:
        layout = lay_out(read_course_file(course, herb_finder()).course)
        zone = layout.course.client.zone or machine_zone() or "UTC"
        files = [_read(path) for path in calendars]
        check = compare_calendar(files, layout, zone, choices, tell)
    except CourseFileError as error:
        raise RunError(str(error)) from error
    except CalendarReadError as error:
        names = ", ".join(str(path) for path in calendars)
        raise RunError(f"{names}: {error}") from error
    advice = tuple(_advice(check, plan_name(layout.course.id)))
    return CalendarReport(check.agrees, tuple(_lines(check)), advice)


def _read(path: Path) -> bytes:
    """The file's bytes, and no more of them than tell that it is too large."""
    try:
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise RunError(f"{path}: the file cannot be read ({why})") from error


def _lines(check: CalendarCheck) -> Iterator[str]:
    yield from (_line("no reminder for", due) for due in check.missing)
    yield from (_line("a reminder without a dose", due) for due in check.extra)
    yield from (_line("reminded more than once", due) for due in check.doubled)
    yield from (_alarm_line(fault) for fault in check.alarms)
    yield from (f"a reminder of this course that is damaged: {t}" for t in check.unreadable)
    yield from (f"not of this course, left out: {title}" for title in check.ignored[:MOST_NAMED])
    if len(check.ignored) > MOST_NAMED:
        yield f"not of this course, left out: {len(check.ignored) - MOST_NAMED} more"


def _line(what: str, due: Due) -> str:
    return f"{due.at:%Y-%m-%d %H:%M}: {what}: {' / '.join(due.what.splitlines())}"


def _alarm_line(fault: AlarmFault) -> str:
    how_often = f"{counted(fault.times, 'time')} from {fault.at:%Y-%m-%d %H:%M}"
    return f"{how_often}: {_alarm(fault.lead)}: {fault.what}"


def _alarm(lead: timedelta | None) -> str:
    if lead is None:
        return "no alarm"
    minutes = round(lead / _MINUTE)
    if minutes == 0:
        return "an alarm at the time itself"
    return f"an alarm {counted(abs(minutes), 'minute')} {'before' if minutes > 0 else 'after'}"


def _advice(check: CalendarCheck, name: str) -> Iterator[str]:
    """What to tell the client of each kind of fault."""
    if check.missing or check.unreadable:
        yield (
            "Tell the client: open the newest calendar file again. If reminders are still "
            "missing, give a fresh set."
        )
    if check.extra or check.doubled:
        yield (
            f"Tell the client: remove the calendar “{name}” with all its events. Then give a "
            "fresh set."
        )
    if any(fault.lead is None for fault in check.alarms):
        yield (
            "Tell the client: the calendar app left the alarms out. In its settings, switch on "
            f"alerts for the calendar “{name}”, at the time of the event."
        )
    if any(fault.lead is not None for fault in check.alarms):
        yield (
            "Tell the client: the calendar app uses its own alert time. In its settings, "
            "set the default alert to the time of the event."
        )
