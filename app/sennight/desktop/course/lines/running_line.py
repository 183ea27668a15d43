"""A line that is added to a phase under way: from the next week on, or in the record of it all."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QWidget

from sennight.desktop.course.lines.line_cells import LineEditRequest
from sennight.desktop.course.session import Session
from sennight.desktop.kit.dialogs import confirm, pick_option
from sennight.desktop.kit.translating import translate
from sennight.domain.courses.compare import Comparison
from sennight.domain.courses.compare_words import sentence, sentences
from sennight.domain.courses.courses import Course
from sennight.domain.courses.editing import EditError
from sennight.domain.courses.joining import Joined, join_later
from sennight.domain.directions.plain_words import listed, plain_date


def add_to_running(
    session: Session, asked: LineEditRequest, past: Comparison, parent: QWidget | None
) -> None:
    """Ask from when a line is to hold, and make that edit.

    `asked` adds it from the phase's first day, which changes the days in `past`.
    """
    picked = _picked(session, asked, sentence(past, asked.course), parent)
    if picked is None:
        session.changed.emit()
        return
    course, phase = picked
    session.edit(asked.words, course)
    session.choose_phase(phase)


def _picked(
    session: Session, asked: LineEditRequest, record: str, parent: QWidget | None
) -> tuple[Course, str] | None:
    """The course that is wanted, and the phase that has the line; None for leaving it."""
    heading = translate("RunningLine", "This phase is under way")
    change = translate("RunningLine", "Change the record")
    stay = translate("RunningLine", "Cancel")
    record_text = translate("RunningLine", "“{do}” counts it as taken all along: {what}").format(
        do=change, what=record
    )
    whole = (asked.course, session.phase_id)
    later = _later(session, asked)
    if later is None:
        return whole if confirm(parent, heading, record_text, do=change, stay=stay) else None
    way = translate("RunningLine", "From {day} on").format(day=plain_date(later.first))
    differs = session.reading.of(later.course).changed_from(session.reading)
    others = {change.remedy for change in differs.lines} - {asked.remedy}
    names = [remedy.name for remedy in later.course.remedies if remedy.id in others]
    split_text = _split_words(way, " ".join(sentences(differs, later.course)), names)
    chosen = pick_option(
        parent,
        (heading, f"{split_text}\n\n{record_text}"),
        (way, change),
        stay=stay,
        careful=bool(others),
    )
    return None if chosen is None else ((later.course, later.phase), whole)[chosen]


def _later(session: Session, asked: LineEditRequest) -> Joined | None:
    """The course with the line from a later week on; None where that cannot be."""
    course = replace(asked.course, protocol=session.course.protocol)
    if asked.added is None:
        return None
    reading = session.reading
    try:
        return join_later(reading.layout, course, session.phase_id, asked.added, reading.today)
    except EditError:
        return None


def _split_words(way: str, what: str, others: list[str]) -> str:
    """What splitting does; `others` are the remedies that are taken otherwise because of it."""
    split = translate("RunningLine", "“{way}” splits the phase there. {what}")
    text = split.format(way=way, what=what)
    if not others:
        return text
    care = translate(
        "RunningLine",
        "Take care: the days of {remedies} change too, since cycles and counted days begin "
        "again there.",
    )
    return f"{text}\n\n{care.format(remedies=listed(others))}"
