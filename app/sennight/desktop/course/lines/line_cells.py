"""The columns of the table of lines: what each holds, how it is read, and what it says."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import IntEnum
from typing import NamedTuple

from sennight.desktop.course.session import Session
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.typed import Explained, explain_steps, explain_take, short_date
from sennight.domain.courses.courses import Course
from sennight.domain.courses.phase_words import line_remarks
from sennight.domain.courses.protocols import CountFrom, Line
from sennight.domain.courses.typed_lines import parse_steps, parse_take, steps_text
from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import Directions


class Column(IntEnum):
    """The columns of the table."""

    REMEDY = 0
    TAKE = 1
    STEPS = 2
    UNTIL = 3


READERS: dict[int, Callable[[str], object]] = {
    Column.TAKE: parse_take,
    Column.STEPS: parse_steps,
}
"""How what is typed in a column is read."""


class LineCell(NamedTuple):
    """A cell's text, its plain words, and from where to where the text is wrong."""

    text: str
    plain: str
    wrong: tuple[int, int] | None


@dataclass(frozen=True, slots=True)
class LineEditRequest:
    """An edit that is asked for; where it gives a line other directions, or adds one, which."""

    words: str
    course: Course
    remedy: str = ""
    directions: Directions | None = None
    added: Line | None = None


def heading(column: int) -> str:
    """A column's name."""
    return (
        translate("LinesModel", "Remedy"),
        translate("LinesModel", "Directions"),
        translate("LinesModel", "Steps"),
        translate("LinesModel", "Until"),
    )[column]


def explain(text: str, column: int, day: ClientDay) -> Explained:
    """What a text means, or what is wrong with it and from where to where."""
    return (explain_steps if column == Column.STEPS else explain_take)(text, day)


def cell_text(session: Session, line: Line, column: int) -> str:
    """What a cell of a line holds."""
    if column == Column.TAKE:
        return str(line.directions)
    return steps_text(line.steps) if column == Column.STEPS else _until(session, line)


def _until(session: Session, line: Line) -> str:
    if session.phase.is_rescue:
        return translate("LinesModel", "in a flare-up")
    ends = [
        stretch.span.last
        for stretch in session.reading.layout.stretches
        if stretch.remedy == line.remedy and stretch.phase == session.phase_id
    ]
    return short_date(max(ends)) if ends else translate("LinesModel", "not taken")


def remarks(line: Line) -> tuple[str, ...]:
    """What a line says beside its directions, the day that its cycles count from included."""
    from_course = translate("LinesModel", "Weeks on and off count from the course’s first day.")
    counted = (from_course,) if line.count_from is CountFrom.COURSE else ()
    return (*counted, *line_remarks(line))
