"""Reactions: what happened to a client after a remedy, remembered for good."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime

from sennight.domain.courses.clients import Fact, Reaction
from sennight.domain.courses.courses import Course, Stop
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.revising import plan_course
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import plain_dates, plain_directions
from sennight.domain.papers import initials
from sennight.domain.practices import PracticeCard
from sennight.domain.tag_words import upper_first
from sennight.knowledge.vocabulary import vocabulary
from sennight.practice.courses import CourseEntry, save_in
from sennight.practice.materia_medica import supplied_materia_medica
from sennight.practice.opening import OpenPractice

__all__ = ["Reaction", "reaction_report", "record_past_reactions", "record_reaction"]


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
    _require_herbs_and_words(reaction)
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
        entry = unit.courses.get(course_id)
        changed = replace(entry.course, revisions=(*entry.course.revisions, stop))
        return save_in(unit, entry, changed, now=now) if _is_possible(changed) else entry


def record_past_reactions(
    practice: OpenPractice, client_id: str, reactions: Iterable[Reaction], *, now: datetime
) -> None:
    """Remember for good what a client tells of: reactions to things of no course here.

    Raises ValueError for a reaction without herbs or words, MissingRecordError; then none of
    them is kept.
    """
    with practice.file.writing() as unit:
        unit.clients.get(client_id)
        for reaction in reactions:
            _require_herbs_and_words(reaction)
            unit.reactions.add(client_id, reaction, course_id=None, recorded=now)


def _require_herbs_and_words(reaction: Reaction) -> None:
    if not reaction.herbs or not reaction.what.strip():
        raise ValueError("a reaction needs the herbs that are suspected and what happened")


def _is_possible(course: Course) -> bool:
    try:
        plan_course(course)
    except LayoutError:
        return False
    return True


def reaction_report(
    course: Course,
    remedy_id: str,
    reaction: Reaction,
    card: PracticeCard,
    *,
    today: date,
    named: bool = False,
) -> bytes:
    """The report of a reaction as a PDF; the client by initials unless `named`."""
    from sennight.publish.pdf.reaction_report import ReactionReport, reaction_pdf

    client = course.client
    materia_medica = supplied_materia_medica()
    names = (
        f"{herb.name} ({herb.latin}, {herb.part})"
        if (herb := materia_medica.herb(herb_id))
        else herb_id
        for herb_id in reaction.herbs
    )
    report = ReactionReport(
        client=client.name
        if named
        else " ".join(f"{letter}." for letter in initials(client.name)),
        born=client.born,
        day=reaction.day,
        remedy=reaction.remedy,
        herbs=tuple(names),
        doses=_doses(course, remedy_id, reaction.day),
        what=reaction.what,
        medicines=_facts(client.medicines),
        conditions=_facts((*client.conditions, *client.allergies)),
    )
    return reaction_pdf(report, card, today=today)


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
