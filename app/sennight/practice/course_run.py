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
from sennight.domain.reminders_events import Event, ReminderChoices
from sennight.domain.reminders_published import Publication, Published
from sennight.domain.reminders_revising import FileKind, client_note, fresh_set, revise
from sennight.domain.stretches import Layout, lay_out
from sennight.practice.materia_medica import herb_names
from sennight.practice.writing import FolderError, write_paths
from sennight.practice.zones import machine_zone
from sennight.publish.calendar_file import CalendarTooLargeError, issued_bytes
from sennight.publish.calendar_record import RecordError, read_record, record_bytes
from sennight.publish.course_file import CourseFile, CourseFileError, read_course_file
from sennight.publish.tables import adherence_csv, doses_csv, stretches_csv


class RunError(Exception):
    """A run that wrote nothing; the message says what is wrong with the file or the folder."""


@dataclass(frozen=True, slots=True)
class RunChoices:
    """How to run a course file; what each means is said at `write_course`."""

    today: date
    paper: str
    published: Path | None
    fresh: bool


@dataclass(frozen=True)
class Job:
    """One run: the file's content, the choices, and what was published before."""

    file: CourseFile
    choices: RunChoices
    before: Published

    @cached_property
    def layout(self) -> Layout:
        """The course laid out."""
        return lay_out(self.file.course)

    @cached_property
    def events(self) -> tuple[Event, ...]:
        """The reminders, in the client's zone, else in this machine's."""
        zone = self.file.course.client.zone or machine_zone()
        return reminder_events(self.layout, ReminderChoices(zone=zone))

    @cached_property
    def publication(self) -> Publication:
        """What to tell the phone; its time of publishing is the day's first moment in UTC."""
        make = fresh_set if self.choices.fresh else revise
        stamp = datetime.combine(self.choices.today, time(), UTC)
        return make(self.before, self.events, today=self.choices.today, stamp=stamp)


@dataclass(frozen=True, slots=True)
class Output:
    """One file that a run writes: its name, its content, and whether there is any."""

    name: str
    make: Callable[[Job], bytes]
    applies: Callable[[Job], bool] = lambda _: True


def _reminders(job: Job) -> bytes:
    publication = job.publication
    return issued_bytes(publication.issued, name=publication.published.calendar_name)


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


@dataclass(frozen=True, slots=True)
class CourseRun:
    """What a run wrote, what its reader should know, and what to tell the client."""

    written: tuple[Path, ...]
    notices: tuple[str, ...]
    told: tuple[str, ...] = ()


def write_course(
    path: Path,
    folder: Path,
    *,
    today: date,
    paper: str = "A4",
    published: Path | None = None,
    fresh: bool = False,
) -> CourseRun:
    """Run a course file and write all its outputs into a folder; raises RunError.

    `today` counts as the day of the run, `paper` is A4 or Letter. `published` is the file that
    keeps what was given to the phone last; with `fresh` it gets a set of reminders of its own.
    """
    choices = RunChoices(today, paper, published, fresh)
    try:
        job = _job(path, choices)
        files = {folder / out.name: out.make(job) for out in OUTPUTS if out.applies(job)}
        if choices.published:
            files[choices.published] = record_bytes(job.publication.published)
        written = write_paths(files)
    except (CourseFileError, RecordError, CalendarTooLargeError, FolderError) as error:
        raise RunError(str(error)) from error
    return CourseRun(written, tuple(_notices(job, folder)), tuple(_told(job)))


def _job(path: Path, choices: RunChoices) -> Job:
    file = read_course_file(path, herb_names())
    before = Published(file.course.id)
    if choices.published and choices.published.exists():
        before = _record(choices.published)
        if before.course != file.course.id:
            raise RunError(
                f"{choices.published} keeps what was published of another course (client, "
                "protocol and start make a course); expected the file that belongs to this one"
            )
    return Job(file, choices, before)


def _record(path: Path) -> Published:
    try:
        return read_record(path.read_bytes())
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise RunError(f"{path} cannot be read ({why})") from error


def _notices(job: Job, folder: Path) -> Iterator[str]:
    """What is right in form but perhaps not meant, and what was not done."""
    course = job.file.course
    for warning in unit_warnings(course):
        yield str(warning)
    days = job.layout.days
    for n, entry in enumerate(job.file.diary):
        if entry.day not in days:
            place = place_name(("diary", n, "date"))
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


def _told(job: Job) -> Iterator[str]:
    """What changed since the last publication, and what to tell the client with the file."""
    if not job.choices.published:
        return
    kind = FileKind.FRESH if job.choices.fresh else FileKind.UPDATE
    if not job.before.issued and not job.before.gone:
        kind = FileKind.FIRST
    if kind is FileKind.UPDATE:
        yield _changes(job)
    yield client_note(kind, job.publication.published)


def _changes(job: Job) -> str:
    before = {one.uid: one for one in job.before.issued}
    now = job.publication.issued
    gone = sum(1 for one in now if one.is_cancelled)
    new = sum(1 for one in now if one.uid not in before)
    same = sum(1 for one in now if one == before.get(one.uid))
    changed = len(now) - gone - new - same
    return (
        f"since the last publication: {new} reminders new, {changed} changed, {gone} cancelled, "
        f"{same} as they were"
    )
