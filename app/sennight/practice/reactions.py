"""Reactions: what happened to a client after a remedy, remembered for good."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime

from sennight.domain.courses.clients import Fact, Reaction
from sennight.domain.courses.courses import Course, Stop
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.revising import plan_course
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.directions.plain_words import plain_dates, plain_directions
from sennight.domain.papers import initials
from sennight.domain.practices import PracticeCard
from sennight.domain.tag_words import upper_first
from sennight.knowledge.vocabulary import vocabulary
from sennight.practice.clients import require_herbs_and_words
from sennight.practice.course_reading import CourseReading
from sennight.practice.courses import CourseEntry, save_in
from sennight.practice.letters import full_names, herbs_of
from sennight.practice.opening import OpenPractice

__all__ = [
    "Reaction",
    "reaction_report",
    "record_reaction",
    "strike_out_reaction",
]


def record_reaction(
    practice: OpenPractice,
    course_id: str,
    remedy_id: str,
    reaction: Reaction,
    *,
    on: date,
    now: datetime,
) -> CourseEntry:
    """Remember a reaction for good, and stop the remedy from its day on; returns the course.

    `on` is the day of the decision. From then on every course of the client with one of the
    herbs has a finding to avoid. A course that is over by that day has nothing to stop, and
    stays as it is. Raises ValueError for a reaction without herbs or words, KeyError for a
    remedy that the course does not have, MissingRecordError.
    """
    require_herbs_and_words(reaction)
    with practice.file.writing() as unit:
        entry = unit.courses.get(course_id)
        reaction = replace(reaction, remedy=entry.course.remedy(remedy_id).name)
        stop = Stop(
            on=on,
            reason=f"reaction: {reaction.what}",
            remedy=remedy_id,
            first=reaction.day,
        )
        unit.reactions.add(entry.client_id, reaction, course_id=course_id, recorded=now)
        entry = unit.courses.get(course_id)  # with the reaction in its client's record
        changed = replace(entry.course, revisions=(*entry.course.revisions, stop))
        return save_in(unit, entry, changed, now=now) if _is_possible(changed) else entry


def strike_out_reaction(
    practice: OpenPractice, client_id: str, place: int, *, why: str, on: date, now: datetime
) -> None:
    """Keep that a reaction was written down in error, so that nothing follows from it any more.

    `place` counts a client's reactions from 0. Raises ValueError without a reason, and where it
    was struck out before; MissingRecordError.
    """
    if not why.strip():
        raise ValueError("no reason given; expected why the reaction is struck out")
    with practice.file.writing() as unit:
        reaction = unit.clients.get(client_id).client.reactions[place]
        if reaction.is_void:
            raise ValueError("this reaction was struck out before; there is nothing left to do")
        unit.reactions.strike_out(client_id, place, reason=why.strip(), on=on, recorded=now)


def _is_possible(course: Course) -> bool:
    try:
        plan_course(course)
    except LayoutError:
        return False
    return True


def reaction_report(
    reading: CourseReading,
    remedy_id: str,
    reaction: Reaction,
    card: PracticeCard,
    *,
    paper: str = "A4",
) -> bytes:
    """The report of a reaction as a PDF; it has the client's initials, not the name."""
    from sennight.publish.pdf.reaction_report import ReactionReport, reaction_pdf

    course, client = reading.course, reading.course.client
    names = full_names(reading.materia_medica, {*reaction.herbs, *herbs_of(reading)})
    report = ReactionReport(
        client=" ".join(f"{letter}." for letter in initials(client.name)),
        born=client.born,
        day=reaction.day,
        remedy=reaction.remedy,
        herbs=tuple(names.get(herb, herb) for herb in reaction.herbs),
        made_of=_made_of(course, remedy_id, names),
        doses=_doses(course, remedy_id, reaction.day),
        stopped=_stopped(course, remedy_id),
        others=_others(course, remedy_id, names, reaction.day),
        what=reaction.what,
        medicines=_facts(client.medicines),
        conditions=_facts((*client.conditions, *client.allergies)),
    )
    return reaction_pdf(report, card, today=reading.today, paper=paper)


def _made_of(course: Course, remedy_id: str, names: Mapping[str, str]) -> tuple[str, ...]:
    from sennight.publish.pdf.taken import formula_words

    known = [remedy for remedy in course.remedies if remedy.id == remedy_id]
    return tuple(f"{words}." for remedy in known for words in formula_words(remedy, names))


def _others(
    course: Course, remedy_id: str, names: Mapping[str, str], day: date
) -> tuple[str, ...]:
    """The other remedies of the course that were taken on the day, and how."""
    from sennight.publish.pdf.taken import remedy_rows

    rows = remedy_rows(lay_out(course), names, Span(day, day + ONE_DAY), but=remedy_id)
    return tuple(f"{who}. {' '.join(lines)}" for who, lines in rows)


def _stopped(course: Course, remedy_id: str) -> date | None:
    """The first day without the remedy, where it was stopped."""
    stops = [day for stopped, day in plan_course(course).stops if stopped == remedy_id]
    return min(stops, default=None)


def _doses(course: Course, remedy_id: str, day: date) -> tuple[str, ...]:
    """How the remedy was taken up to the day of the reaction."""
    until = Span.of_days(date.min, day)
    return tuple(
        f"{plain_directions(stretch.directions, course.client.day)}: "
        f"{plain_dates(stretch.span.overlap(until))}"
        for stretch in lay_out(course).stretches
        if stretch.remedy == remedy_id and stretch.span.touches(until)
    )


def _facts(facts: tuple[Fact, ...]) -> tuple[str, ...]:
    words = vocabulary().words
    return tuple(upper_first(fact.label(words)) for fact in facts)
