"""Giving a course to a client: the take-home sheet and the reminders, on record before written.

What can be previewed is made by the same functions that give it. The libraries of papers and
calendars are imported when one is made: a window opens without them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from secrets import token_hex
from uuid import uuid4

from sennight.domain.courses.courses import Course
from sennight.domain.follow_up.diaries import Score
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.practices import PracticeCard
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.phone_steps import phone_steps
from sennight.domain.reminders.published import Published
from sennight.domain.take_home.choices import (
    USUAL,
    ClockHours,
    Print,
    Reach,
    SheetChoices,
)
from sennight.practice.course_reading import CourseReading, read_course
from sennight.practice.diary_sheets import diary_of, diary_papers
from sennight.practice.letters import practitioner_copy, start_letter
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
from sennight.practice.supplying import lasting_in, reorders_of
from sennight.practice.take_home import take_home_document
from sennight.practice.work_folder import work_folder
from sennight.practice.writing import Staging
from sennight.publish.calendar.email_file import email_bytes
from sennight.publish.calendar.record import read_record, record_bytes
from sennight.store.entries import CourseEntry, Publication
from sennight.store.unit import UnitOfWork

REMINDERS = "reminders"
"""The kind under which it is kept what a phone was told."""


USUAL_PARTS = frozenset({PaperKind.HANDOUT, PaperKind.REMINDERS})
PARTS = (
    PaperKind.HANDOUT,
    PaperKind.DIARY,
    PaperKind.REMINDERS,
    PaperKind.START_LETTER,
    PaperKind.PRACTITIONER,
)
"""What can be given, in the order in which it is asked about and written."""


@dataclass(frozen=True, slots=True)
class GiveChoices:
    """How a course is given.

    `paper` is A4, Letter or A5; `fresh` gives a set of reminders of its own, for a phone that
    doubles them; `named` puts the client's name into the files' names; `replace_missing`
    prints a sign for letters that the typefaces lack. `email` adds a message with the calendar
    files attached; `subscribed` is a folder that another program keeps in step with the phone;
    `parts` are the papers that are given: handout, diary, reminders, the letter at the start,
    the practitioner's copy.
    `letters`, `hours` and `reach` are the sheet's.
    """

    reminders: ReminderChoices
    paper: str = "A4"
    fresh: bool = False
    named: bool = False
    replace_missing: bool = False
    email: bool = False
    subscribed: Path | None = None
    parts: frozenset[PaperKind] = USUAL_PARTS
    letters: Print = Print.STANDARD
    hours: ClockHours = ClockHours.TWENTY_FOUR
    reach: Reach = Reach.REVIEW

    @property
    def sheet(self) -> SheetChoices:
        """How the sheet is made."""
        return SheetChoices(self.paper, self.letters, self.hours, self.reach)


def handout_pdf(
    reading: CourseReading,
    card: PracticeCard,
    choices: SheetChoices = USUAL,
    *,
    replace_missing: bool = False,
) -> bytes:
    """The card and sheet of a course; raises MissingGlyphsError unless they are replaced.

    Raises ValueError for a course without a day, CannotBeSetError where a page is too small.
    """
    from sennight.publish.handout import document as handout

    document = take_home_document(reading, card, choices)
    return handout.handout_pdf(document, choices, replace_missing=replace_missing)


def handout_text(
    reading: CourseReading,
    card: PracticeCard,
    choices: SheetChoices = USUAL,
    *,
    named: bool = True,
) -> str:
    """The same as plain text, for an e-mail or a reader that speaks; `named` says whose it is."""
    from sennight.publish.handout.plain_text import plain_text

    return plain_text(take_home_document(reading, card, choices), named=named)


def last_given(practice: OpenPractice, course_id: str) -> Published:
    """The record of the reminders that a client was given last; an empty one at first."""
    return _record(last_publication(practice, course_id, REMINDERS), course_id)


def _record(last: Publication | None, course_id: str) -> Published:
    return read_record(last.content) if last else Published(course_id)


def printed_papers(
    reading: CourseReading,
    card: PracticeCard,
    scores: Sequence[Score],
    choices: GiveChoices,
) -> tuple[Paper, ...]:
    """The papers that are printed, as chosen; MissingGlyphsError unless letters are replaced.

    `scores` are those that the client gave so far. Of a course that was struck out nothing is
    printed, only its reminders are taken back.
    """
    papers: list[Paper] = []
    for kind in _printed_parts(reading.course, choices):
        papers += _printed(kind, reading, card, scores, choices)
    return tuple(papers)


def _printed_parts(course: Course, choices: GiveChoices) -> tuple[PaperKind, ...]:
    return tuple(kind for kind in PARTS if kind in choices.parts and not course.is_void)


def _printed(
    kind: PaperKind,
    reading: CourseReading,
    card: PracticeCard,
    scores: Sequence[Score],
    choices: GiveChoices,
) -> tuple[Paper, ...]:
    match kind:
        case PaperKind.HANDOUT:
            sheet = handout_pdf(
                reading, card, choices.sheet, replace_missing=choices.replace_missing
            )
            return (Paper(kind, sheet),)
        case PaperKind.DIARY:
            large = choices.letters is Print.LARGE
            paper = choices.sheet.full_size
            return diary_papers(diary_of(reading, card, scores, paper=paper, large=large))
        case PaperKind.START_LETTER:
            return (Paper(kind, start_letter(reading, card, paper=choices.sheet.full_size)),)
        case PaperKind.PRACTITIONER:
            return (Paper(kind, practitioner_copy(reading, card, paper=choices.sheet.full_size)),)
        case _:
            return ()


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
            reading = _reading(unit, entry, herbs, today)
            reading.safety.require_accepted()
            scores = unit.diaries.scores(course_id)
            papers = printed_papers(reading, unit.card.get(), scores, choices)
            subscribed: dict[Path, bytes] = {}
            calendar = None
            printed = papers
            if PaperKind.REMINDERS in choices.parts:
                before = _record(unit.publications.last(course_id, REMINDERS), course_id)
                calendar = reminders(
                    reading.layout,
                    before,
                    now=now,
                    today=today,
                    choices=replace(
                        choices.reminders,
                        reorders=reorders_of(reading.course, reading.lasts),
                    ),
                    fresh=choices.fresh,
                )
                papers += calendar_papers(calendar, choices)
                published = _keep_published(unit, calendar, choices, course_id, now)
                subscribed = _subscribed(published, choices)
            said = _said(reading, unit.card.get(), choices)
            papers += _email(choices, printed, calendar, said)
            about = About(entry.client_id, names_of(entry.course, choices), course_id)
            kept = keep(unit, about, papers, now=now, today=today)
            staging.put(free_paths(folder, kept.files) | subscribed)
        return finish(staging, kept.number)


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
        reading = _reading(unit, entry, herbs, today)
        reading.safety.require_accepted()
        papers = printed_papers(reading, unit.card.get(), unit.diaries.scores(course_id), choices)
        about = About(entry.client_id, names_of(entry.course, choices), course_id)
        keep(unit, about, papers, now=now, today=today)
    return papers


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
) -> tuple[str, ...]:
    """The names of the files that `give` would write now."""
    names, number = names_of(course, choices), next_number(practice)
    printed = [Paper(kind, b"") for kind in PARTS if kind in choices.parts - {PaperKind.REMINDERS}]
    if PaperKind.DIARY in choices.parts:
        printed.append(Paper(PaperKind.DIARY_GRID, b"", suffix=".json"))
    given = calendar if PaperKind.REMINDERS in choices.parts else None
    files = calendar_papers(given, choices) if given else ()
    papers = (*printed, *files, *_email(choices, printed, given))
    return tuple(paper.name(names, day=today, number=number) for paper in papers)


def _reading(
    unit: UnitOfWork, entry: CourseEntry, herbs: MateriaMedica, today: date
) -> CourseReading:
    checks = unit.red_flags.of_client(entry.client_id)
    standing = checks[-1] if checks else None
    reading = read_course(entry.course, today=today, materia_medica=herbs, standing=standing)
    return replace(reading, lasts=lasting_in(unit, reading.layout))


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
    return tuple(
        Paper(PaperKind.REMINDERS, data, name.removesuffix(".ics"), ".ics", _is_anonymous(choices))
        for name, data in calendar.files.items()
    )


def _is_anonymous(choices: GiveChoices) -> bool:
    return choices.reminders.discreet and not choices.named


_FOR_THE_CLIENT = (PaperKind.HANDOUT, PaperKind.DIARY)


def _said(reading: CourseReading, card: PracticeCard, choices: GiveChoices) -> str:
    """The sheet as text for a message; nothing where no remedy is to be named in the open."""
    is_given = PaperKind.HANDOUT in _printed_parts(reading.course, choices)
    if not choices.email or not is_given or choices.reminders.discreet:
        return ""
    return handout_text(reading, card, choices.sheet, named=choices.named)


def _email(
    choices: GiveChoices, printed: Sequence[Paper], calendar: Reminders | None, said: str = ""
) -> tuple[Paper, ...]:
    """A message with the client's files, where it is wanted and there are any.

    It says what the sheet says (`said`); with a calendar it has the note to the client and the
    steps for each phone.
    """
    files = {
        f"{paper.kind}.pdf": paper.content for paper in printed if paper.kind in _FOR_THE_CLIENT
    }
    subject, parts = "Your papers", [said or "Your papers are attached."]
    if calendar is not None:
        files |= calendar.files
        subject = calendar.publication.published.calendar_name
        parts = [*([said] if said else []), calendar.note]
        for phone in phone_steps(subject):
            parts.append("\n".join((f"{phone.phone}:", *(f"- {step}" for step in phone.steps))))
    if not choices.email or not files:
        return ()
    message = email_bytes(files, subject=subject, text="\n\n".join(parts) + "\n")
    return (Paper(PaperKind.EMAIL, message, "reminders", ".eml", _is_anonymous(choices)),)


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
