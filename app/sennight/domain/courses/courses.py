"""Courses: a protocol given to one client from one start date, and dated changes to it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum
from typing import assert_never

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Client
from sennight.domain.courses.protocols import Protocol
from sennight.domain.courses.revision_kind import RevisionKind
from sennight.domain.directions.directions import Directions
from sennight.domain.remedies.remedies import Remedy

DEFAULT_DAYS = 364
"""How many days a course with an open phase has where `until` is not given."""


class PauseMode(StrEnum):
    """Whether a pause only leaves doses out, or also moves everything after it later."""

    SKIP = "skip"
    FREEZE = "freeze"


@dataclass(frozen=True, slots=True, kw_only=True)
class Revised:
    """What every revision has: the day of the decision, and why.

    One that was entered in error stays on record with `void`, the reason, and `void_on`, the day
    on which it was struck out; nothing follows from it.
    """

    on: date
    reason: str = ""
    void: str = ""
    void_on: date | None = None

    @property
    def is_void(self) -> bool:
        """Whether it was struck out."""
        return bool(self.void)


@dataclass(frozen=True, slots=True, kw_only=True)
class Extend(Revised):
    """The phase gets longer by so many days or weeks, shorter where `by` is negative."""

    phase: str
    by: int
    in_weeks: bool = False

    @property
    def days(self) -> int:
        """The change in days."""
        return self.by * (7 if self.in_weeks else 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Advance(Revised):
    """The running phase ends the day before `first`; phase `to` starts on it."""

    to: str
    first: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Pause(Revised):
    """No doses from `first` to `last`."""

    first: date
    last: date
    mode: PauseMode


@dataclass(frozen=True, slots=True, kw_only=True)
class Flare(Revised):
    """The rescue phase runs from `first` to `last`, or for its own length."""

    first: date
    rescue: str
    last: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Redirect(Revised):
    """Other directions for a remedy from `first` to the end of that phase, or to `last`."""

    remedy: str
    first: date
    directions: Directions
    last: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop(Revised):
    """None of a remedy from `first` on."""

    remedy: str
    first: date


@dataclass(frozen=True, slots=True, kw_only=True)
class End(Revised):
    """Nothing from `first` on."""

    first: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Join(Revised):
    """A remedy joins the phase that runs on `first`, to that phase's end or to `last`."""

    remedy: str
    first: date
    directions: Directions
    last: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Reformulate(Revised):
    """From `first` on the formula `formula` is taken in a remedy's place, in the same way."""

    remedy: str
    first: date
    formula: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stay(Revised):
    """Nothing changes: it is on record that the course was looked at, and why it stays."""


Revision = Extend | Advance | Pause | Flare | Redirect | Stop | End | Join | Reformulate | Stay


def kind_of(revision: Revision) -> RevisionKind:
    """The kind of a revision."""
    match revision:
        case Extend():
            return RevisionKind.EXTEND
        case Advance():
            return RevisionKind.ADVANCE
        case Pause():
            return RevisionKind.PAUSE
        case Flare():
            return RevisionKind.FLARE
        case Redirect():
            return RevisionKind.REDIRECT
        case Stop():
            return RevisionKind.STOP
        case End():
            return RevisionKind.END
        case Join():
            return RevisionKind.JOIN
        case Reformulate():
            return RevisionKind.REFORMULATE
        case Stay():
            return RevisionKind.STAY
        case _:
            assert_never(revision)


@dataclass(frozen=True, slots=True)
class Course:
    """A whole course, with the remedies in the versions that it was given.

    `id` is stable and says nothing about the client; reminders' UIDs are made from it. `accepts`
    are the findings that were gone ahead with, `discussed` the cautions that were talked over with
    the client. A course that was started in error stays on record with `void`, the reason, and
    `void_on`; nothing is taken in it.
    """

    id: str
    client: Client
    remedies: tuple[Remedy, ...]
    protocol: Protocol
    start: date
    until: date | None = None
    revisions: tuple[Revision, ...] = ()
    accepts: tuple[Accept, ...] = ()
    discussed: tuple[Accept, ...] = ()
    void: str = ""
    void_on: date | None = None

    @property
    def is_void(self) -> bool:
        """Whether it was struck out."""
        return bool(self.void)

    @property
    def open_until(self) -> date:
        """The last day of an open phase."""
        return self.until or self.start + timedelta(days=DEFAULT_DAYS - 1)

    @property
    def lanes(self) -> tuple[Remedy, ...]:
        """The remedies that have a letter and a dye of their own, in the course's order.

        A formula that only takes another's place has those of the remedy that it replaces; it
        stands after all others.
        """
        replacing = {
            revision.formula for revision in self.revisions if isinstance(revision, Reformulate)
        }
        replacing -= {line.remedy for phase in self.protocol.phases for line in phase.lines}
        replacing -= {revision.remedy for revision in self.revisions if isinstance(revision, Join)}
        return tuple(remedy for remedy in self.remedies if remedy.id not in replacing)

    def remedy(self, remedy_id: str) -> Remedy:
        """The remedy of that id; KeyError where the course has none."""
        for remedy in self.remedies:
            if remedy.id == remedy_id:
                return remedy
        raise KeyError(remedy_id)


def as_it_stood(course: Course, day: date) -> Course:
    """The course with the decisions made up to a day, that day's included."""
    decided = (revision for revision in course.revisions if revision.on <= day)
    return replace(course, revisions=tuple(decided))
