"""A line that is added to a phase under way: from today on, or in the record of it all."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QWidget

from sennight.desktop.course.lines.line_cells import LineEditRequest
from sennight.desktop.course.session import Session
from sennight.desktop.kit.short_dialogs import confirm, pick_option
from sennight.desktop.kit.translating import translate
from sennight.domain.courses.compare import Comparison
from sennight.domain.courses.compare_words import sentence, sentences
from sennight.domain.courses.courses import Course
from sennight.domain.courses.joining import joined_from
from sennight.domain.directions.plain_words import plain_date


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
    course, is_decision = picked
    if is_decision:
        session.keep(course)
    else:
        session.edit(asked.words, course)


def _picked(
    session: Session, asked: LineEditRequest, record: str, parent: QWidget | None
) -> tuple[Course, bool] | None:
    """The course that is wanted, and whether it has one more decision; None for leaving it."""
    heading = translate("RunningLine", "This phase is under way")
    change = translate("RunningLine", "Change the record")
    stay = translate("RunningLine", "Cancel")
    record_text = translate("RunningLine", "“{do}” counts it as taken all along: {what}").format(
        do=change, what=record
    )
    whole = (asked.course, False)
    later = _later(session, asked)
    if later is None:
        return whole if confirm(parent, heading, record_text, do=change, stay=stay) else None
    today = session.reading.today
    way = translate("RunningLine", "From {day} on").format(day=plain_date(today))
    differs = session.reading.of(later).changed_from(session.reading)
    text = translate("RunningLine", "“{way}” is a decision, and is kept. {what}")
    join_text = text.format(way=way, what=" ".join(sentences(differs, later)))
    chosen = pick_option(
        parent, (heading, f"{join_text}\n\n{record_text}"), (way, change), stay=stay
    )
    return None if chosen is None else ((later, True), whole)[chosen]


def _later(session: Session, asked: LineEditRequest) -> Course | None:
    """The course in which the remedy joins the phase today; None where that cannot be."""
    if asked.added is None:
        return None
    course = replace(asked.course, protocol=session.course.protocol)
    joined = joined_from(course, asked.added, session.reading.today)
    is_possible = joined is not None and not isinstance(session.try_out(joined), str)
    return joined if is_possible else None
