"""What a client's phone has been given: events as issued, and the course's record of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from uuid import UUID, uuid5

from sennight.domain.dates import ONE_DAY
from sennight.domain.reminders.events import Event
from sennight.domain.reminders.runs import Run

_OURS = UUID("6f0a4e0d-3c0b-5b53-9a55-7d1f3b0c2e91")
"""The name space of all our UIDs: one random value, never to change."""

_PLAN = "My plan "
WITHDRAWN_TITLE = "No longer: {}"
"""What a cancelled entry is called, by phones that show it all the same."""
HIDDEN_TITLE = "Reminder"
"""What past entries are called from when on no remedy's name may be on the phone."""


@dataclass(frozen=True, slots=True)
class Issued:
    """An event as it is given to a phone.

    `sequence` counts its revisions from 0; `stamp` is the moment (UTC) of the last. `latest` is
    the last day that any file ever gave it: until then a phone that missed files may still show
    it. A cancelled one tells the phone to take it away.
    """

    uid: str
    event: Event
    sequence: int
    stamp: datetime
    latest: date
    is_cancelled: bool = False

    @classmethod
    def new(cls, uid: str, event: Event, stamp: datetime) -> Issued:
        """An event that no phone has yet."""
        return cls(uid, event, 0, stamp, event.run.last)

    def revised(self, event: Event, stamp: datetime, *, is_cancelled: bool = False) -> Issued:
        """The same entry of the phone's, saying something else from now on."""
        latest = max(self.latest, event.run.last)
        return Issued(self.uid, event, self.sequence + 1, stamp, latest, is_cancelled)

    def hidden(self, stamp: datetime) -> Issued:
        """The same entry without any remedy's name."""
        title = WITHDRAWN_TITLE.format(HIDDEN_TITLE) if self.is_cancelled else HIDDEN_TITLE
        event = replace(self.event, title=title, text="")
        return self.revised(event, stamp, is_cancelled=self.is_cancelled)

    def cancelled(self, today: date, stamp: datetime) -> Issued:
        """Taken away: for phones that show cancelled entries, one silent day that is past."""
        day = today - ONE_DAY
        title = WITHDRAWN_TITLE.format(self.event.title)
        silent = Event(self.event.kind, Run(day, day), None, title, "", part=self.event.part)
        return self.revised(silent, stamp, is_cancelled=True)


@dataclass(frozen=True, slots=True)
class PhoneCalendar:
    """What a calendar on the client's phone is called.

    `old` is the one that has to be removed first; empty where there is none.
    """

    name: str
    old: str = ""


@dataclass(frozen=True, slots=True)
class Published:
    """The record of a course's reminders as last given out.

    `issued` are the events that stand; `cancelled` are those taken away, each of which is told
    again in every file until its latest day is past. `on` is the day of the last publication,
    None before the first. `generation` counts the fresh sets given; `name` is what the first
    set's calendar was called, empty where it is called as `plan_name` says. `given` is the day
    of the first publication. `is_discreet` says whether no entry names a remedy. `parts` stand
    for what a course file's course is known by: its client, its protocol and its first day.
    `subscription` is the secret name of the file that a phone is subscribed to, and
    `subscribed_in` the folder that it was last written into; empty without.
    """

    course: str
    name: str = ""
    on: date | None = None
    generation: int = 0
    issued: tuple[Issued, ...] = ()
    cancelled: tuple[Issued, ...] = ()
    given: date | None = None
    is_discreet: bool = False
    parts: tuple[str, ...] = ()
    subscription: str = ""
    subscribed_in: str = ""

    @property
    def calendar_name(self) -> str:
        """What the calendar is called; each fresh set has a name of its own."""
        name = self.name or plan_name(self.course)
        return f"{name} set {self.generation + 1}" if self.generation else name

    def phone_calendar(self, *, fresh: bool) -> PhoneCalendar:
        """The calendar that the next file is for; a fresh set has one of its own."""
        after = replace(self, generation=self.generation + 1) if fresh else self
        return PhoneCalendar(after.calendar_name, self.calendar_name if fresh and self.on else "")

    def next_stamp(self, now: datetime) -> datetime:
        """The moment to give a publication: now, and later than every one before.

        Some phones take an entry only where it was modified later than theirs.
        """
        stamps = (entry.stamp for entry in (*self.issued, *self.cancelled))
        last = max(stamps, default=None)
        return max(now, last + timedelta(seconds=1)) if last else now


@dataclass(frozen=True, slots=True)
class CalendarUpdate:
    """What to write into a calendar file, and the record to keep of it."""

    issued: tuple[Issued, ...]
    published: Published


def plan_name(course: str) -> str:
    """What a course's calendar is called: by a number, which tells nothing to who reads it.

    Two courses on one phone have calendars of their own, each of which can be removed alone.
    """
    return f"{_PLAN}{uuid5(uuid5(_OURS, course), 'name').int % 900 + 100}"


def is_calendar_of(name: str, course: str) -> bool:
    """Whether a calendar of that name is this course's, of whichever set."""
    return name.startswith(plan_name(course))


def is_another_plan(name: str, course: str) -> bool:
    """Whether a calendar of that name is another course's."""
    return name.startswith(_PLAN) and not is_calendar_of(name, course)


def event_uid(course: str, generation: int, event: Event) -> str:
    """An event's UID: a name-based UUID of the course's id and of what the event is.

    It says nothing about the client, the machine or the day of publishing (RFC 7986 section
    5.3), and so is the same whenever the course is published.
    """
    key = f"{generation}, {event.key}" if generation else event.key
    return str(uuid5(uuid5(_OURS, course), key))


def first_issue(course: str, events: Iterable[Event], stamp: datetime) -> tuple[Issued, ...]:
    """Events of a course as a phone that has none of them gets them."""
    return tuple(Issued.new(event_uid(course, 0, event), event, stamp) for event in events)
