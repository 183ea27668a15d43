"""Revisions: rows and values."""

from __future__ import annotations

from typing import TypeVar, assert_never

from sennight.domain.courses.courses import (
    Advance,
    End,
    Extend,
    Flare,
    Join,
    Pause,
    PauseMode,
    Redirect,
    Reformulate,
    Revision,
    Stay,
    Stop,
    kind_of,
)
from sennight.domain.courses.revision_kind import RevisionKind
from sennight.store.decoding import decoding
from sennight.store.errors import UnreadableError
from sennight.store.tables.courses import CourseRevision

Value = TypeVar("Value")


def revision_to_row(revision: Revision, *, place: int, version: int) -> CourseRevision:
    """The row of a revision that a course version brings in."""
    row = CourseRevision(
        place=place,
        version=version,
        change=str(kind_of(revision)),
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
        case Join():
            row.remedy, row.take = revision.remedy, revision.directions
            row.first_day, row.last_day = revision.first, revision.last
        case Reformulate():
            row.remedy, row.formula = revision.remedy, revision.formula
            row.first_day = revision.first
        case Stay():
            pass
        case _:
            assert_never(revision)
    return row


def revision_from_row(row: CourseRevision) -> Revision:
    """The revision that a row holds; raises UnreadableError where a column is empty."""
    if row.change not in tuple(RevisionKind):
        raise UnreadableError("a decision is of a kind that this program does not know")
    with decoding("a decision"):
        return _read(RevisionKind(row.change), row)


def _read(change: RevisionKind, row: CourseRevision) -> Revision:
    on, reason = row.decided, row.reason
    match change:
        case RevisionKind.EXTEND:
            return Extend(
                on=on,
                reason=reason,
                phase=_set(row.phase),
                by=_set(row.amount),
                in_weeks=_set(row.in_weeks),
            )
        case RevisionKind.ADVANCE:
            return Advance(on=on, reason=reason, to=_set(row.phase), first=_set(row.first_day))
        case RevisionKind.PAUSE:
            first, last = _set(row.first_day), _set(row.last_day)
            mode = PauseMode(_set(row.mode))
            return Pause(on=on, reason=reason, first=first, last=last, mode=mode)
        case RevisionKind.FLARE:
            first, rescue = _set(row.first_day), _set(row.phase)
            return Flare(on=on, reason=reason, first=first, rescue=rescue, last=row.last_day)
        case RevisionKind.REDIRECT:
            return Redirect(
                on=on,
                reason=reason,
                remedy=_set(row.remedy),
                first=_set(row.first_day),
                directions=_set(row.take),
                last=row.last_day,
            )
        case RevisionKind.STOP:
            return Stop(on=on, reason=reason, remedy=_set(row.remedy), first=_set(row.first_day))
        case RevisionKind.JOIN:
            return Join(
                on=on,
                reason=reason,
                remedy=_set(row.remedy),
                first=_set(row.first_day),
                directions=_set(row.take),
                last=row.last_day,
            )
        case RevisionKind.REFORMULATE:
            first, formula = _set(row.first_day), _set(row.formula)
            remedy = _set(row.remedy)
            return Reformulate(on=on, reason=reason, remedy=remedy, first=first, formula=formula)
        case RevisionKind.STAY:
            return Stay(on=on, reason=reason)
        case RevisionKind.END:
            return End(on=on, reason=reason, first=_set(row.first_day))
        case _:
            assert_never(change)


def _set(value: Value | None) -> Value:
    if value is None:
        raise UnreadableError("a decision lacks one of its columns")
    return value
