"""The story of a client: all that was said, decided, given and told, day by day.

Each thing is an item of its own that knows where it is looked at. What is read from a course is
worked out here; what lies elsewhere is put to it by the practice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import IntEnum
from itertools import groupby
from typing import assert_never

from sennight.domain.amounts import plain_number
from sennight.domain.courses.clients import Reaction
from sennight.domain.courses.revision_words import decided_words
from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import counted, listed, plain_date, plain_dates
from sennight.domain.follow_up.consultations import (
    Appointment,
    Consultation,
    ConsultationKind,
    Part,
)
from sennight.domain.follow_up.diaries import DayNote, Score
from sennight.domain.follow_up.measures import Measures
from sennight.domain.tag_words import upper_first


class StoryKind(IntEnum):
    """What an item of the story is, in the order in which those of one day stand."""

    CONSULTATION = 0
    FILE = 1
    REACTION = 2
    DECISION = 3
    WEEKS_OFF = 4
    GIVEN = 5
    DISPENSED = 6
    DIARY = 7
    DAY_NOTE = 8
    SCORES = 9


@dataclass(frozen=True, slots=True)
class StoryItem:
    """One thing that happened on a day.

    `title` says what, `about` more of it in a few words, `parts` all that was written. `course`
    is the course that it belongs to, `record` its number among the records of its kind,
    `about_day` the day that it tells of where that is another. `void` says why it was struck out,
    nothing where it stands.
    """

    day: date
    kind: StoryKind
    title: str
    about: str = ""
    parts: tuple[Part, ...] = ()
    course: str = ""
    record: int = 0
    void: str = ""
    about_day: date | None = None

    @property
    def words(self) -> str:
        """All of it in a sentence or two, for those who hear."""
        told = [f"{plain_date(self.day)}: {self.title}"]
        told += [self.about] if self.about else []
        told += [
            f"{part.heading}: {part.text}" if part.heading else part.text for part in self.parts
        ]
        told += [f"struck out: {self.void}"] if self.void else []
        return ". ".join(told)


def in_order(items: Iterable[StoryItem]) -> tuple[StoryItem, ...]:
    """Items with the newest day first; those of one day by their kind, the newest first."""
    listed_items = list(items)
    by_kind = sorted(listed_items, key=lambda item: (item.kind, -item.record))
    return tuple(sorted(by_kind, key=lambda item: item.day, reverse=True))


# Consultations


def kind_title(kind: ConsultationKind) -> str:
    """A consultation's kind as its heading."""
    match kind:
        case ConsultationKind.FIRST:
            return "First consultation"
        case ConsultationKind.FOLLOW_UP:
            return "Follow-up"
        case ConsultationKind.TELEPHONE:
            return "By telephone"
        case _:
            assert_never(kind)


def consultation_item(consultation: Consultation, number: int, *, void: str = "") -> StoryItem:
    """A consultation as an item, with its length and the next appointment."""
    after, minutes = consultation.next, consultation.minutes
    about = [counted(minutes, "minute")] if minutes else []
    about += [f"next {appointment_words(after)}"] if after else []
    return StoryItem(
        consultation.day,
        StoryKind.CONSULTATION,
        kind_title(consultation.kind),
        ", ".join(about),
        consultation.parts,
        record=number,
        void=void,
    )


def appointment_words(appointment: Appointment) -> str:
    """`22 March 2027 at 09:30`."""
    day = plain_date(appointment.day)
    return f"{day} at {appointment.at:%H:%M}" if appointment.at else day


# What a course tells


def course_items(course_id: str, layout: Layout, today: date) -> Iterator[StoryItem]:
    """When a course began, what was decided since, the weeks off that began, and when it ended.

    Nothing that lies after `today`, apart from decisions, which have the day they were made.
    """
    course, days = layout.course, layout.days
    name = course.protocol.name
    if days.first <= today:
        yield _decision(course_id, days.first, f"Course began: {name}", void=course.void)
    for revision in course.revisions:
        words = upper_first(decided_words(revision, course))
        yield _decision(course_id, revision.on, words, void=revision.void)
    if course.is_void:
        return
    yield from _weeks_off(course_id, layout, today)
    if days.first < days.end <= today:
        yield _decision(course_id, days.last, f"Course ended: {name}")


def _decision(course_id: str, day: date, title: str, *, void: str = "") -> StoryItem:
    return StoryItem(day, StoryKind.DECISION, title, course=course_id, void=void)


def _weeks_off(course_id: str, layout: Layout, today: date) -> Iterator[StoryItem]:
    """One item for remedies that begin the same days off together."""
    rests = [rest for rest in layout.rests if rest.span.first <= today]
    for span, together in groupby(rests, key=lambda rest: rest.span):
        names = dict.fromkeys(layout.course.remedy(rest.remedy).name for rest in together)
        about = f"{listed(tuple(names))}, until {plain_date(span.last)}"
        yield StoryItem(span.first, StoryKind.WEEKS_OFF, "Days off", about, course=course_id)


def score_items(
    course_id: str, scores: Sequence[Score], measures: Measures
) -> Iterator[StoryItem]:
    """The ratings of each day, side by side."""
    for day, rated in groupby(sorted(scores), key=lambda score: score.day):
        about = ", ".join(_rated(score, measures) for score in rated)
        yield StoryItem(day, StoryKind.SCORES, "Scores", about, course=course_id)


def _rated(score: Score, measures: Measures) -> str:
    measure = measures.of(score.measure)
    name = measure.name if measure else score.measure
    unit = f" {measure.unit}" if measure and measure.unit else ""
    return f"{name} {plain_number(score.value)}{unit}"


def diary_item(course_id: str, entered: date, span: Span) -> StoryItem:
    """That the diary of some days was entered."""
    return StoryItem(
        entered,
        StoryKind.DIARY,
        "Diary entered",
        plain_dates(span),
        course=course_id,
        about_day=span.first,
    )


def note_items(course_id: str, notes: Iterable[DayNote]) -> Iterator[StoryItem]:
    """What the client said of single days."""
    for note in notes:
        yield StoryItem(
            note.day,
            StoryKind.DAY_NOTE,
            "From the diary",
            parts=(Part("", note.words),),
            course=course_id,
        )


def reaction_items(reactions: Iterable[Reaction], names: Mapping[str, str]) -> Iterator[StoryItem]:
    """What happened after a remedy, with the herbs that are suspected."""
    for reaction in reactions:
        herbs = listed([names.get(herb, herb) for herb in reaction.herbs])
        yield StoryItem(
            reaction.day,
            StoryKind.REACTION,
            f"Reaction: {herbs}",
            f"{reaction.what} ({reaction.remedy})",
            void=reaction.void,
        )
