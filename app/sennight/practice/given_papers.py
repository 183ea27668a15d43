"""What a course gives as papers: how it is chosen, and the papers that come of it.

What can be previewed is made by the same functions that give it. The libraries of papers and
calendars are imported when one is made: a window opens without them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from sennight.domain.courses.courses import Course
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.practices import PracticeCard
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.phone_steps import phone_steps
from sennight.domain.take_home.choices import (
    USUAL,
    ClockHours,
    Print,
    Reach,
    SheetChoices,
)
from sennight.domain.take_home.document import TakeHome
from sennight.practice.course_reading import CourseReading
from sennight.practice.diary_sheets import diary_of, diary_papers
from sennight.practice.letters import practitioner_copy, review_summary, start_letter
from sennight.practice.papers import NameParts, Paper, PaperKind
from sennight.practice.reminding import Reminders
from sennight.practice.reviewing import review_of
from sennight.practice.take_home import take_home_document
from sennight.publish.calendar.email_file import email_bytes

USUAL_PARTS = frozenset({PaperKind.HANDOUT, PaperKind.REMINDERS})
PARTS = (
    PaperKind.HANDOUT,
    PaperKind.DIARY,
    PaperKind.REMINDERS,
    PaperKind.START_LETTER,
    PaperKind.PRACTITIONER,
    PaperKind.REVIEW,
)
"""What can be given, in the order in which it is asked about and written."""


@dataclass(frozen=True, slots=True)
class Reported:
    """What the client reported of the course so far: doses taken, and scores.

    `left` is what the containers say of what was taken, a sentence for each count.
    """

    taken: Sequence[Taken] = ()
    scores: Sequence[Score] = ()
    left: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class GiveChoices:
    """How a course is given.

    `paper` is A4, Letter, A5 or booklet; `fresh` gives a set of reminders of its own, for a phone
    that doubles them; `named` puts the client's name into the files' names; `replace_missing`
    prints a sign for letters that the typefaces lack. `email` adds a message with the calendar
    files attached; `subscribed` is a folder that another program keeps in step with the phone;
    `parts` are the papers that are given: handout, diary, reminders, the letter at the start,
    the practitioner's copy, the review summary.
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


def printed_papers(
    reading: CourseReading,
    card: PracticeCard,
    reported: Reported,
    choices: GiveChoices,
) -> tuple[Paper, ...]:
    """The papers that are printed, as chosen; MissingGlyphsError unless letters are replaced.

    Of a course that was struck out nothing is printed, only its reminders are taken back.
    """
    papers: list[Paper] = []
    parts = printed_parts(reading.course, choices)
    is_printed = reading.layout.days and set(parts) - {PaperKind.REMINDERS}
    if is_printed and not choices.replace_missing:
        _require_letters(take_home_document(reading, card, choices.sheet))
    for kind in parts:
        papers += _printed(kind, reading, card, reported, choices)
    return tuple(papers)


def _require_letters(document: TakeHome) -> None:
    """Raises MissingGlyphsError where a name has letters that no paper could print."""
    from sennight.publish.handout.document import unprintable
    from sennight.publish.pdf.typeface import MissingGlyphsError

    if missing := unprintable(document):
        raise MissingGlyphsError(missing)


def printed_parts(course: Course, choices: GiveChoices) -> tuple[PaperKind, ...]:
    """The chosen papers and calendars; of a course that was struck out nothing is printed."""
    return tuple(kind for kind in PARTS if kind in choices.parts and not course.is_void)


def _printed(
    kind: PaperKind,
    reading: CourseReading,
    card: PracticeCard,
    reported: Reported,
    choices: GiveChoices,
) -> tuple[Paper, ...]:
    match kind:
        case PaperKind.HANDOUT:
            sheet = handout_pdf(
                reading, card, choices.sheet, replace_missing=choices.replace_missing
            )
            return (Paper(kind, sheet),)
        case PaperKind.DIARY:
            return diary_papers(diary_of(reading, card, reported.scores, choices.sheet))
        case PaperKind.START_LETTER:
            return (Paper(kind, start_letter(reading, card, paper=choices.sheet.full_size)),)
        case PaperKind.PRACTITIONER:
            return (Paper(kind, practitioner_copy(reading, card, paper=choices.sheet.full_size)),)
        case PaperKind.REVIEW:
            found = review_of(reading, reported.taken, reported.scores)
            paper = choices.sheet.full_size
            return (Paper(kind, review_summary(found, card, paper=paper, left=reported.left)),)
        case _:
            return ()


def names_of(course: Course, choices: GiveChoices) -> NameParts:
    """What the names of a course's papers begin with: initials, unless the name is asked for."""
    return NameParts(course.client.name, course.protocol.name or "course", choices.named)


def calendar_papers(calendar: Reminders, choices: GiveChoices) -> tuple[Paper, ...]:
    """The calendar files; where they are discreet their names say nothing either."""
    return tuple(
        Paper(PaperKind.REMINDERS, data, name.removesuffix(".ics"), ".ics", _is_anonymous(choices))
        for name, data in calendar.files.items()
    )


def _is_anonymous(choices: GiveChoices) -> bool:
    return choices.reminders.discreet and not choices.named


_FOR_THE_CLIENT = (PaperKind.HANDOUT, PaperKind.DIARY)


def sheet_said(reading: CourseReading, card: PracticeCard, choices: GiveChoices) -> str:
    """The sheet as text for a message; nothing where no remedy is to be named in the open."""
    is_given = PaperKind.HANDOUT in printed_parts(reading.course, choices)
    if not choices.email or not is_given or choices.reminders.discreet:
        return ""
    return handout_text(reading, card, choices.sheet, named=choices.named)


def email_papers(
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
