"""What a client's phone has been given: events as issued, and the course's record of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID, uuid5

from sennight.domain.reminders.events import Event

_OURS = UUID("6f0a4e0d-3c0b-5b53-9a55-7d1f3b0c2e91")
"""The name space of all our UIDs: one random value, never to change."""


DEFAULT_NAME = "My remedies"


@dataclass(frozen=True, slots=True)
class Issued:
    """An event as it is given to a phone.

    `sequence` counts its revisions from 0; `stamp` is the moment (UTC) of the last. A
    cancelled one tells the phone to take it away.
    """

    uid: str
    event: Event
    sequence: int
    stamp: datetime
    is_cancelled: bool = False


@dataclass(frozen=True, slots=True)
class Published:
    """The record of a course's reminders as last given out.

    `issued` are the events that stand; `gone` are the UIDs that were cancelled, with the
    sequence they went with. `on` is the day of the last publication, None before the first.
    `generation` counts the fresh sets given; `name` is what the first set's calendar was called.
    """

    course: str
    name: str = DEFAULT_NAME
    on: date | None = None
    generation: int = 0
    issued: tuple[Issued, ...] = ()
    gone: tuple[tuple[str, int], ...] = ()

    @property
    def calendar_name(self) -> str:
        """What the calendar is called; each fresh set has a name of its own."""
        return f"{self.name}, set {self.generation + 1}" if self.generation else self.name


@dataclass(frozen=True, slots=True)
class CalendarUpdate:
    """What to write into a calendar file, and the record to keep of it."""

    issued: tuple[Issued, ...]
    published: Published


def event_uid(course: str, generation: int, event: Event) -> str:
    """An event's UID: a name-based UUID of the course's id and of what the event is.

    It says nothing about the client, the machine or the day of publishing (RFC 7986 section
    5.3), and so is the same whenever the course is published.
    """
    key = f"{generation}, {event.key}" if generation else event.key
    return str(uuid5(uuid5(_OURS, course), key))


def first_issue(course: str, events: Iterable[Event], stamp: datetime) -> tuple[Issued, ...]:
    """Events of a course as a phone that has none of them gets them."""
    return tuple(Issued(event_uid(course, 0, event), event, 0, stamp) for event in events)
