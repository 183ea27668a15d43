"""Giving a course to a client: the take-home sheet and the reminders, on record before written.

What can be previewed is made by the same functions that give it. The libraries of papers and
calendars are imported when one is made: a window opens without them.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from secrets import token_hex
from uuid import uuid4

from sennight.domain.courses.courses import Course
from sennight.domain.reminders.published import Published
from sennight.practice.course_reading import CourseReading, read_entry, with_records
from sennight.practice.diary_sheets import has_diary
from sennight.practice.given_papers import (
    GiveChoices,
    Reported,
    calendar_papers,
    email_papers,
    names_of,
    printed_papers,
    printed_parts,
    sheet_said,
)
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
from sennight.practice.returned import told_in
from sennight.practice.standings import keep_given
from sennight.practice.supplying import reorders_of
from sennight.practice.work_folder import work_folder
from sennight.practice.writing import Staging
from sennight.publish.calendar.record import read_record, record_bytes
from sennight.store.entries import Publication
from sennight.store.unit import UnitOfWork

REMINDERS = "reminders"
"""The kind under which it is kept what a phone was told."""
_BESIDE_THE_SHEETS = (PaperKind.REMINDERS, PaperKind.DIARY)


def last_given(practice: OpenPractice, course_id: str) -> Published:
    """The record of the reminders that a client was given last; an empty one at first."""
    return _record(last_publication(practice, course_id, REMINDERS), course_id)


def _record(last: Publication | None, course_id: str) -> Published:
    return read_record(last.content) if last else Published(course_id)


def reading_to_give(
    practice: OpenPractice, course_id: str, reading: CourseReading
) -> CourseReading:
    """A course as it is on screen, with all that its papers tell of what is kept beside it."""
    with practice.file.reading() as unit:
        return with_records(unit, unit.courses.get(course_id), reading)


def for_phone(reading: CourseReading, before: Published, choices: GiveChoices) -> CourseReading:
    """The reading whose sheet names the calendar that the chosen reminders are in."""
    fresh = choices.fresh and PaperKind.REMINDERS in choices.parts
    return reading.for_phone(before.phone_calendar(fresh=fresh))


def give(
    practice: OpenPractice,
    course_id: str,
    folder: Path,
    *,
    now: datetime,
    today: date,
    choices: GiveChoices,
) -> tuple[Path, ...]:
    """Keep the chosen papers and calendar files on record, and write them into a folder.

    `now` is aware; `today` is the client's date. All or nothing: raises UnacceptedError where a
    finding to avoid stands that nobody accepted, FolderError, MissingRecordError,
    MissingGlyphsError, CalendarTooLargeError, UnknownZoneError, and ValueError as `handout_pdf`.
    Where UnwrittenError is raised they are on record and can be written again.
    """
    herbs = known_herbs(practice)
    with Staging(work_folder(practice.path)) as staging:
        with practice.file.writing() as unit:
            entry = unit.courses.get(course_id)
            reading = read_entry(unit, entry, today=today, materia_medica=herbs)
            reading.safety.require_accepted()
            before = _record(unit.publications.last(course_id, REMINDERS), course_id)
            reading = for_phone(reading, before, choices)
            card = unit.card.get()
            reported = _reported(unit, course_id, reading)
            printed = printed_papers(reading, card, reported, choices)
            calendar, subscribed = _reminded(unit, reading, course_id, choices, before, now)
            papers = printed + (calendar_papers(calendar, choices) if calendar else ())
            papers += email_papers(choices, printed, calendar, sheet_said(reading, card, choices))
            about = About(entry.client_id, names_of(entry.course, choices), course_id)
            kept = keep(unit, about, papers, now=now, today=today)
            if kept.files:
                keep_given(unit, reading, kept.number)
            staging.put(free_paths(folder, kept.files) | subscribed)
        return finish(staging, kept.number)


def _reported(unit: UnitOfWork, course_id: str, reading: CourseReading) -> Reported:
    return Reported(
        unit.diaries.taken(course_id),
        unit.diaries.scores(course_id),
        told_in(unit, course_id, reading),
    )


def record_printed(
    practice: OpenPractice,
    course_id: str,
    *,
    now: datetime,
    today: date,
    choices: GiveChoices,
) -> tuple[Paper, ...]:
    """Keep on record the chosen papers that go to a printer, and return them.

    No calendar file is among them. Raises as `give`.
    """
    herbs = known_herbs(practice)
    with practice.file.writing() as unit:
        entry = unit.courses.get(course_id)
        reading = read_entry(unit, entry, today=today, materia_medica=herbs)
        reading.safety.require_accepted()
        before = _record(unit.publications.last(course_id, REMINDERS), course_id)
        reading = for_phone(reading, before, replace(choices, fresh=False))
        reported = _reported(unit, course_id, reading)
        papers = printed_papers(reading, unit.card.get(), reported, choices)
        about = About(entry.client_id, names_of(entry.course, choices), course_id)
        kept = keep(unit, about, papers, now=now, today=today)
        if kept.files:
            keep_given(unit, reading, kept.number)
    return papers


def planned_files(
    practice: OpenPractice, reading: CourseReading, calendar: Reminders, choices: GiveChoices
) -> tuple[str, ...]:
    """The names of the files that `give` would write now."""
    course, number = reading.course, next_number(practice)
    parts = printed_parts(course, choices)
    papers = [Paper(kind, b"") for kind in parts if kind not in _BESIDE_THE_SHEETS]
    if PaperKind.DIARY in parts and has_diary(reading):
        papers += [Paper(PaperKind.DIARY, b""), Paper(PaperKind.DIARY_GRID, b"", suffix=".json")]
    given = calendar if PaperKind.REMINDERS in choices.parts else None
    printed = tuple(papers)
    papers += calendar_papers(given, choices) if given else ()
    papers += email_papers(choices, printed, given)
    names = names_of(course, choices)
    return tuple(paper.name(names, day=reading.today, number=number) for paper in papers)


def _reminded(
    unit: UnitOfWork,
    reading: CourseReading,
    course_id: str,
    choices: GiveChoices,
    before: Published,
    now: datetime,
) -> tuple[Reminders | None, dict[Path, bytes]]:
    """The calendar that is given, kept as what the phone was told, and the file it subscribes to.

    None and no file where reminders are not among what was chosen.
    """
    if PaperKind.REMINDERS not in choices.parts:
        return None, {}
    calendar = reminders(
        reading.layout,
        before,
        now=now,
        today=reading.today,
        choices=replace(choices.reminders, reorders=reorders_of(reading.course, reading.lasts)),
        fresh=choices.fresh,
    )
    published = _keep_published(unit, calendar, choices, course_id, now)
    return calendar, _subscribed(published, choices)


def _keep_published(
    unit: UnitOfWork, calendar: Reminders, choices: GiveChoices, course_id: str, now: datetime
) -> Published:
    """Keep what the phone is told; its calendar gets its secret name where it is subscribed."""
    published = calendar.publication.published
    if choices.subscribed:
        name = published.subscription or token_hex(16)
        folder = str(choices.subscribed)
        published = replace(published, subscription=name, subscribed_in=folder)
    record = record_bytes(published)
    unit.publications.add(Publication(uuid4().hex, course_id, now, REMINDERS, record))
    return published


def _subscribed(published: Published, choices: GiveChoices) -> dict[Path, bytes]:
    """The file that a phone is subscribed to: always under one name that nobody can guess."""
    if choices.subscribed is None:
        return {}
    from sennight.publish.calendar.ics import subscribed_bytes

    return {choices.subscribed / f"{published.subscription}.ics": subscribed_bytes(published)}


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
