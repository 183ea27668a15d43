"""Giving a course to a client: the take-home sheet and the reminders, on record before written.

What can be previewed is made by the same functions that give it. The libraries of papers and
calendars are imported when one is made: a window opens without them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from secrets import token_hex
from uuid import uuid4

from sennight.domain.courses.courses import Course
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.practices import PracticeCard
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.phone_steps import phone_steps
from sennight.domain.reminders.published import Published
from sennight.practice.course_reading import CourseReading, read_course
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.practice.papers import (
    About,
    NameParts,
    Paper,
    PaperKind,
    finish,
    free_paths,
    keep,
    next_number,
)
from sennight.practice.publications import last_publication
from sennight.practice.reminding import Reminders, reminders
from sennight.practice.safety import handout_notes, safety_record
from sennight.practice.work_folder import work_folder
from sennight.practice.writing import Staging
from sennight.publish.calendar.email_file import email_bytes
from sennight.publish.calendar.record import read_record, record_bytes
from sennight.store.entries import CourseEntry, Publication
from sennight.store.unit import UnitOfWork

REMINDERS = "reminders"
"""The kind under which it is kept what a phone was told."""


@dataclass(frozen=True, slots=True)
class GiveChoices:
    """How a course is given.

    `paper` is A4 or Letter; `fresh` gives a set of reminders of its own, for a phone that
    doubles them; `named` puts the client's name into the files' names; `replace_missing`
    prints a sign for letters that the typefaces lack. `email` adds a message with the calendar
    files attached; `subscribed` is a folder that another program keeps in step with the phone.
    """

    reminders: ReminderChoices
    paper: str = "A4"
    fresh: bool = False
    named: bool = False
    replace_missing: bool = False
    email: bool = False
    subscribed: Path | None = None


def handout_pdf(
    reading: CourseReading,
    card: PracticeCard,
    *,
    paper: str = "A4",
    replace_missing: bool = False,
) -> bytes:
    """The take-home sheet of a course; raises MissingGlyphsError unless they are replaced."""
    from sennight.publish.handout import document as handout
    from sennight.publish.handout.input import HerbWords

    notes = handout_notes(reading.layout, reading.materia_medica, reading.safety)
    return handout.handout_pdf(
        reading.layout,
        card,
        today=reading.today,
        herbs=HerbWords(reading.materia_medica.names, notes),
        paper=paper,
        replace_missing=replace_missing,
    )


def practitioner_copy(reading: CourseReading, card: PracticeCard, *, paper: str = "A4") -> bytes:
    """The sheet that stays with the practice: findings, sources, reasons, what was checked."""
    from sennight.publish.pdf.practitioner_copy import practitioner_pdf

    course = reading.course
    record = safety_record(reading.safety, course, reading.materia_medica)
    return practitioner_pdf(course, card, record, today=reading.today, paper=paper)


def last_given(practice: OpenPractice, course_id: str) -> Published:
    """The record of the reminders that a client was given last; an empty one at first."""
    return _record(last_publication(practice, course_id, REMINDERS), course_id)


def _record(last: Publication | None, course_id: str) -> Published:
    return read_record(last.content) if last else Published(course_id)


def give(
    practice: OpenPractice,
    course_id: str,
    folder: Path,
    *,
    now: datetime,
    today: date,
    choices: GiveChoices,
) -> tuple[Path, ...]:
    """Keep the sheet and the calendar files on record, and write them into a folder.

    `now` is aware; `today` is the client's date. All or nothing: raises UnacceptedError where a
    finding to avoid stands that nobody accepted, FolderError, MissingRecordError,
    MissingGlyphsError, CalendarTooLargeError, UnknownZoneError, and ValueError as `handout_pdf`.
    Where UnwrittenError is raised they are on record and can be written again.
    """
    herbs = known_herbs(practice)
    with Staging(work_folder(practice.path)) as staging:
        with practice.file.writing() as unit:
            entry = unit.courses.get(course_id)
            reading = _reading(unit, entry, herbs, today)
            reading.safety.require_accepted()
            before = _record(unit.publications.last(course_id, REMINDERS), course_id)
            sheet = handout_pdf(
                reading,
                unit.card.get(),
                paper=choices.paper,
                replace_missing=choices.replace_missing,
            )
            calendar = reminders(
                reading.layout,
                before,
                now=now,
                today=today,
                choices=choices.reminders,
                fresh=choices.fresh,
            )
            papers = (Paper(PaperKind.HANDOUT, sheet), *calendar_papers(calendar, choices))
            about = About(entry.client_id, names_of(entry.course, choices), course_id)
            kept = keep(unit, about, papers, now=now, today=today)
            published = _keep_published(unit, calendar, choices, course_id, now)
            staging.put(free_paths(folder, kept.files) | _subscribed(published, choices))
        return finish(staging, kept.number)


def names_of(course: Course, choices: GiveChoices) -> NameParts:
    """What the names of a course's papers begin with: initials, unless the name is asked for."""
    return NameParts(course.client.name, course.protocol.name or "course", choices.named)


def planned_files(
    practice: OpenPractice,
    course: Course,
    calendar: Reminders,
    choices: GiveChoices,
    *,
    today: date,
) -> dict[str, int | None]:
    """The files that `give` would write now, with their sizes in bytes; None for the sheet."""
    names, number = names_of(course, choices), next_number(practice)
    sheet = Paper(PaperKind.HANDOUT, b"").name(names, day=today, number=number)
    papers = calendar_papers(calendar, choices)
    sizes = {paper.name(names, day=today, number=number): len(paper.content) for paper in papers}
    return {sheet: None} | sizes


def _reading(
    unit: UnitOfWork, entry: CourseEntry, herbs: MateriaMedica, today: date
) -> CourseReading:
    checks = unit.red_flags.of_client(entry.client_id)
    standing = checks[-1] if checks else None
    return read_course(entry.course, today=today, materia_medica=herbs, standing=standing)


def _keep_published(
    unit: UnitOfWork, calendar: Reminders, choices: GiveChoices, course_id: str, now: datetime
) -> Published:
    """Keep what the phone is told; its calendar gets its secret name where it is subscribed."""
    published = calendar.publication.published
    if choices.subscribed and not published.subscription:
        published = replace(published, subscription=token_hex(16))
    record = record_bytes(published)
    unit.publications.add(Publication(uuid4().hex, course_id, now, REMINDERS, record))
    return published


def _subscribed(published: Published, choices: GiveChoices) -> dict[Path, bytes]:
    """The file that a phone is subscribed to: always under one name that nobody can guess."""
    if choices.subscribed is None:
        return {}
    from sennight.publish.calendar.ics import subscribed_bytes

    return {choices.subscribed / f"{published.subscription}.ics": subscribed_bytes(published)}


def calendar_papers(calendar: Reminders, choices: GiveChoices) -> tuple[Paper, ...]:
    """The calendar files; where they are discreet their names say nothing either."""
    anonymous = choices.reminders.discreet and not choices.named
    files = [
        Paper(PaperKind.REMINDERS, data, name.removesuffix(".ics"), ".ics", anonymous)
        for name, data in calendar.files.items()
    ]
    if choices.email:
        message = Paper(PaperKind.EMAIL, _email(calendar), "reminders", ".eml", anonymous)
        return (*files, message)
    return tuple(files)


def _email(calendar: Reminders) -> bytes:
    """A message with the calendar files, the note to the client and the steps for each phone."""
    name = calendar.publication.published.calendar_name
    steps = (
        "\n".join((f"{phone.phone}:", *(f"- {step}" for step in phone.steps)))
        for phone in phone_steps(name)
    )
    text = "\n\n".join((calendar.note, *steps)) + "\n"
    return email_bytes(calendar.files, subject=name, text=text)


def left_over(practice: OpenPractice, course_id: str, paths: tuple[Path, ...]) -> tuple[str, ...]:
    """The names of the course's calendar files of earlier givings that are still in the folder.

    A client who opens one of them beside the new ones is reminded twice. `paths` are those that
    `give` wrote.
    """
    written, folder = {path.name for path in paths}, paths[0].parent
    with practice.file.reading() as unit:
        given = unit.papers.of_course(course_id)
    names = (paper.name for paper in given if paper.kind == PaperKind.REMINDERS)
    return tuple(
        name for name in names if name not in written and (folder / Path(name).name).is_file()
    )


def file_stem(course: Course) -> str:
    """How a course's own file is called: the client's initials, the protocol and the start."""
    names = NameParts(course.client.name, course.protocol.name or "course")
    return f"{names.stem}-{course.start.isoformat()}".removeprefix("-")
