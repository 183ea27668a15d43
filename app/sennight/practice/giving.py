"""Giving a course to a client: the take-home sheet and the reminders, and a record of both.

What can be previewed is made by the same functions that give it. The libraries of papers and
calendars are imported when one is made: a window opens without them.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from secrets import token_hex
from uuid import uuid4

from sennight.domain.courses.courses import Course
from sennight.domain.practices import PracticeCard
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.phone_steps import phone_steps
from sennight.domain.reminders.published import Published
from sennight.practice.course_reading import CourseReading, read_course
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.practice.publications import last_publication
from sennight.practice.reminding import Reminders, reminders
from sennight.practice.safety import handout_notes, safety_record
from sennight.practice.writing import write_paths
from sennight.publish.calendar.email_file import email_bytes
from sennight.publish.calendar.record import read_record, record_bytes
from sennight.store.entries import Publication

REMINDERS, HANDOUT = "reminders", "handout"
"""The kinds under which publications are kept."""
_CALENDAR_END = re.compile(r"-reminders(-phase-\d+)?(-part-\d+)?$")


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
    """Write the sheet and the calendar files into a folder, and keep both on record.

    `now` is aware; `today` is the client's date. All or nothing: raises UnacceptedError where a
    finding to avoid stands that nobody accepted, FolderError, MissingRecordError,
    MissingGlyphsError, CalendarTooLargeError, UnknownZoneError, and ValueError as `handout_pdf`.
    """
    materia_medica = known_herbs(practice)
    with practice.file.writing() as unit:
        entry = unit.courses.get(course_id)
        course, checks = entry.course, unit.red_flags.of_client(entry.client_id)
        standing = checks[-1] if checks else None
        reading = read_course(
            course, today=today, materia_medica=materia_medica, standing=standing
        )
        reading.safety.require_accepted()
        before = _record(unit.publications.last(course_id, REMINDERS), course_id)
        papers: dict[str, bytes] = {}
        if not course.is_void:  # of a course that was struck out only the reminders are taken back
            papers[HANDOUT] = handout_pdf(
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
        published = calendar.publication.published
        if choices.subscribed and not published.subscription:
            published = replace(published, subscription=token_hex(16))
        record = record_bytes(published)
        for kind, content in (*papers.items(), (REMINDERS, record)):
            unit.publications.add(Publication(uuid4().hex, course_id, now, kind, content))
        stem = file_stem(course, named=choices.named)
        files = {f"{stem}-{kind}.pdf": paper for kind, paper in papers.items()}
        files |= calendar_files(course, calendar, choices)
        paths = {folder / name: data for name, data in files.items()}
        return write_paths(paths | _subscribed(published, choices))


def _subscribed(published: Published, choices: GiveChoices) -> dict[Path, bytes]:
    """The file that a phone is subscribed to: always under one name that nobody can guess."""
    if choices.subscribed is None:
        return {}
    from sennight.publish.calendar.ics import subscribed_bytes

    return {choices.subscribed / f"{published.subscription}.ics": subscribed_bytes(published)}


def calendar_files(course: Course, calendar: Reminders, choices: GiveChoices) -> dict[str, bytes]:
    """The calendar files by the names that they are given under.

    Where reminders are discreet the protocol is not named either, but the course's number tells
    them from other clients' files.
    """
    stem = file_stem(course, named=choices.named)
    if choices.reminders.discreet and not choices.named:
        stem = f"course-{course.id[:8]}-{course.start.isoformat()}"
    files = {f"{stem}-{name}": data for name, data in calendar.files.items()}
    if choices.email:
        files[f"{stem}-reminders.eml"] = _email(calendar)
    return files


def _email(calendar: Reminders) -> bytes:
    """A message with the calendar files, the note to the client and the steps for each phone."""
    name = calendar.publication.published.calendar_name
    steps = (
        "\n".join((f"{phone.phone}:", *(f"- {step}" for step in phone.steps)))
        for phone in phone_steps(name)
    )
    text = "\n\n".join((calendar.note, *steps)) + "\n"
    return email_bytes(calendar.files, subject=name, text=text)


def left_over(paths: tuple[Path, ...]) -> tuple[str, ...]:
    """The names of calendar files in the folder that were given before under the same stem.

    A client who opens one of them beside the new ones is reminded twice. `paths` are those that
    `give` wrote.
    """
    calendars = [path for path in paths if path.suffix == ".ics"]
    stems = {_CALENDAR_END.sub("", path.stem) for path in calendars}
    return tuple(
        path.name
        for path in sorted(paths[0].parent.glob("*.ics"))
        if path not in calendars
        and _CALENDAR_END.search(path.stem)
        and _CALENDAR_END.sub("", path.stem) in stems
    )


def file_stem(course: Course, *, named: bool = False) -> str:
    """How a course's files are called: its protocol and start, the client's name if asked."""
    words = [course.client.name] if named else []
    parts = [_plain(word) for word in (*words, course.protocol.name or "course")]
    return "-".join([*(part for part in parts if part), course.start.isoformat()])


def _plain(text: str) -> str:
    """Letters and figures of any script, the rest as hyphens: fit for every file system."""
    letters = unicodedata.normalize("NFC", text).lower()
    return re.sub(r"[\W_]+", "-", letters).strip("-")[:60]
