"""Papers for practitioners: the copy that stays, letters to doctor and pharmacist.

What they are made from is put together here; the libraries of papers come when one is made.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING

from sennight.domain.charts.review import Review
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.herbs.herbs import Herb, MateriaMedica
from sennight.domain.practices import PracticeCard
from sennight.knowledge.vocabulary import vocabulary
from sennight.practice.course_reading import CourseReading
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.practice.safety import safety_record

if TYPE_CHECKING:
    from sennight.publish.pdf.plain_sheet import Row


def full_names(materia_medica: MateriaMedica, herbs: set[str]) -> Mapping[str, str]:
    """Each herb's name with its Latin name and part, as far as these are recorded; by its id."""
    known = {herb: materia_medica.herb(herb) for herb in herbs}
    return {name: _full_name(herb) for name, herb in known.items() if herb}


def _full_name(herb: Herb) -> str:
    more = ", ".join(part for part in (herb.latin, herb.part) if part)
    if not more or herb.is_substance:
        return herb.name
    if herb.name.endswith(")"):
        return f"{herb.name[:-1]}; {more})"
    return f"{herb.name} ({more})"


def herbs_of(reading: CourseReading) -> set[str]:
    """The ids of all herbs in a course's remedies."""
    return {
        ingredient.herb for remedy in reading.course.remedies for ingredient in remedy.ingredients
    }


def practitioner_copy(reading: CourseReading, card: PracticeCard, *, paper: str = "A4") -> bytes:
    """The sheet that stays with the practice: the whole course and all that follows from it."""
    from sennight.publish.pdf.practitioner_copy import WholeCourse, practitioner_pdf

    whole = WholeCourse(
        reading.layout,
        full_names(reading.materia_medica, herbs_of(reading)),
        reading.materia_medica.names,
        vocabulary().words,
        safety_record(reading.safety, reading.course, reading.materia_medica),
        reading.all_exposures,
        reading.all_ethanol,
    )
    return practitioner_pdf(whole, card, today=reading.today, paper=paper)


def review_summary(
    review: Review, card: PracticeCard, *, paper: str = "A4", left: Sequence[str] = ()
) -> bytes:
    """What was given, taken, changed and decided, on two pages; raises CannotBeSetError.

    `left` is what the containers say of what was taken, a sentence for each count.
    """
    from sennight.publish.pdf.review_summary import review_pdf

    return review_pdf(review, card, paper=paper, left=left)


def start_letter(reading: CourseReading, card: PracticeCard, *, paper: str = "A4") -> bytes:
    """The letter to a client's doctor and pharmacist at the start of a course."""
    from sennight.publish.pdf.start_letter import StartLetter, start_letter_pdf

    letter = StartLetter(
        reading.layout,
        full_names(reading.materia_medica, herbs_of(reading)),
        vocabulary().words,
        safety_record(reading.safety, reading.course, reading.materia_medica),
    )
    return start_letter_pdf(letter, card, today=reading.today, paper=paper)


def taken_now(practice: OpenPractice, client_id: str, today: date) -> tuple[Row, ...]:
    """The herbal remedies that a client takes on a day, from all courses; a row each."""
    from sennight.publish.pdf.taken import remedy_rows

    herbs = known_herbs(practice)
    with practice.file.reading() as unit:
        entries, _ = unit.courses.with_damaged(client_id)
        courses = [entry.course for entry in entries]
    found: list[Row] = []
    for course in courses:
        try:
            layout = lay_out(course)
        except LayoutError:
            continue
        names = full_names(herbs, {i.herb for r in course.remedies for i in r.ingredients})
        found += remedy_rows(layout, names, Span(today, today + ONE_DAY))
    return tuple(found)
