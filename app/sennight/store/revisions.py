"""Revisions: rows and values."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from sennight.domain.courses.courses import (
    Advance,
    End,
    Extend,
    Flare,
    Pause,
    PauseMode,
    Redirect,
    Revision,
    Stop,
)
from sennight.store.decoding import decoding
from sennight.store.errors import UnreadableError
from sennight.store.tables.courses import CourseRevision

Value = TypeVar("Value")


def revision_to_row(revision: Revision, *, place: int, version: int) -> CourseRevision:
    """The row of a revision that a course version brings in."""
    row = CourseRevision(
        place=place,
        version=version,
        change=type(revision).__name__.lower(),
        decided=revision.on,
        reason=revision.reason,
    )
    match revision:
        case Extend():
            row.phase, row.amount, row.in_weeks = revision.phase, revision.by, revision.in_weeks
        case Advance():
            row.phase, row.first_day = revision.to, revision.first
        case Pause():
            row.first_day, row.last_day = revision.first, revision.last
            row.mode = str(revision.mode)
        case Flare():
            row.phase, row.first_day, row.last_day = revision.rescue, revision.first, revision.last
        case Redirect():
            row.remedy, row.take = revision.remedy, revision.directions
            row.first_day, row.last_day = revision.first, revision.last
        case Stop():
            row.remedy, row.first_day = revision.remedy, revision.first
        case End():
            row.first_day = revision.first
    return row


def revision_from_row(row: CourseRevision) -> Revision:
    """The revision that a row holds; raises UnreadableError where a column is empty."""
    if row.change not in _READ:
        raise UnreadableError("a decision is of a kind that this program does not know")
    with decoding("a decision"):
        return _READ[row.change](row)


_READ: dict[str, Callable[[CourseRevision], Revision]] = {
    "extend": lambda row: Extend(
        on=row.decided,
        reason=row.reason,
        phase=_set(row.phase),
        by=_set(row.amount),
        in_weeks=_set(row.in_weeks),
    ),
    "advance": lambda row: Advance(
        on=row.decided, reason=row.reason, to=_set(row.phase), first=_set(row.first_day)
    ),
    "pause": lambda row: Pause(
        on=row.decided,
        reason=row.reason,
        first=_set(row.first_day),
        last=_set(row.last_day),
        mode=PauseMode(_set(row.mode)),
    ),
    "flare": lambda row: Flare(
        on=row.decided,
        reason=row.reason,
        first=_set(row.first_day),
        rescue=_set(row.phase),
        last=row.last_day,
    ),
    "redirect": lambda row: Redirect(
        on=row.decided,
        reason=row.reason,
        remedy=_set(row.remedy),
        first=_set(row.first_day),
        directions=_set(row.take),
        last=row.last_day,
    ),
    "stop": lambda row: Stop(
        on=row.decided, reason=row.reason, remedy=_set(row.remedy), first=_set(row.first_day)
    ),
    "end": lambda row: End(on=row.decided, reason=row.reason, first=_set(row.first_day)),
}


def _set(value: Value | None) -> Value:
    if value is None:
        raise UnreadableError("a decision lacks one of its columns")
    return value
