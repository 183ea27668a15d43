"""Runs a course file: everything that `sennight course` writes, without a screen."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from functools import cached_property
from pathlib import Path

from sennight.domain.adherence import adherence
from sennight.domain.problems import place_name, unit_warnings
from sennight.domain.reminders import reminder_events
from sennight.domain.reminders_events import ReminderChoices
from sennight.domain.stretches import Layout, lay_out
from sennight.practice.materia_medica import herb_names
from sennight.practice.writing import FolderError, write_files
from sennight.practice.zones import machine_zone
from sennight.publish.calendar_file import CalendarTooLargeError, calendar_bytes
from sennight.publish.course_file import CourseFile, CourseFileError, read_course_file
from sennight.publish.tables import adherence_csv, doses_csv, stretches_csv


@dataclass(frozen=True)
class Job:
    """One run: the file's content and the choices made for it."""

    file: CourseFile
    today: date
    paper: str = "A4"

    @cached_property
    def layout(self) -> Layout:
        """The course laid out."""
        return lay_out(self.file.course)

    @property
    def stamp(self) -> datetime:
        """The moment that is written as the time of publishing: the midnight of `today`, UTC."""
        return datetime.combine(self.today, time(), UTC)

    @property
    def choices(self) -> ReminderChoices:
        """How to remind: in the client's zone, else this machine's."""
        return ReminderChoices(zone=self.file.course.client.zone or machine_zone())


@dataclass(frozen=True, slots=True)
class Output:
    """One file that a run writes: its name, its content, and whether there is any."""

    name: str
    make: Callable[[Job], bytes]
    applies: Callable[[Job], bool] = lambda _: True


@dataclass(frozen=True, slots=True)
class CourseRun:
    """What a run wrote, and what its reader should know."""

    written: tuple[Path, ...]
    notices: tuple[str, ...]


def _reminders(job: Job) -> bytes:
    events = reminder_events(job.layout, job.choices)
    return calendar_bytes(events, job.file.course, stamp=job.stamp)


OUTPUTS: tuple[Output, ...] = (
    Output("stretches.csv", lambda job: stretches_csv(job.layout)),
    Output("doses.csv", lambda job: doses_csv(job.layout)),
    Output("reminders.ics", _reminders),
    Output(
        "adherence.csv",
        lambda job: adherence_csv(adherence(job.layout, job.file.diary)),
        lambda job: bool(job.file.diary),
    ),
)
"""Everything that is written, in the order in which it is told."""


class RunError(Exception):
    """A run that wrote nothing; the message says what is wrong with the file or the folder."""


def write_course(path: Path, folder: Path, *, today: date, paper: str = "A4") -> CourseRun:
    """Run a course file and write all its outputs into a folder; raises RunError."""
    try:
        job = Job(read_course_file(path, herb_names()), today, paper)
        files = {output.name: output.make(job) for output in OUTPUTS if output.applies(job)}
        written = write_files(folder, files)
    except (CourseFileError, CalendarTooLargeError, FolderError) as error:
        raise RunError(str(error)) from error
    return CourseRun(written, tuple(_notices(job, folder)))


def _notices(job: Job, folder: Path) -> Iterator[str]:
    course = job.file.course
    for warning in unit_warnings(course):
        yield str(warning)
    for n, entry in enumerate(job.file.diary):
        if entry.day not in job.layout.days:
            place = place_name(("diary", n, "date"))
            days = job.layout.days
            yield f"{place}: {entry.day} lies outside the course, {days.first} to {days.last}"
    client = course.client
    if client.conditions or client.medicines or client.allergies or course.accepts:
        yield (
            "conditions, medicines, allergies and accepted findings are kept but not checked: "
            "this version looks for no findings"
        )
    for output in OUTPUTS:
        if not output.applies(job) and (folder / output.name).exists():
            yield f"{output.name} in the folder is of an earlier run; this one has none"
