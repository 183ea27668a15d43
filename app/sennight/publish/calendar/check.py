"""Compares a calendar file, from whatever phone or program, with the doses of a course."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import icalendar
import recurring_ical_events

from sennight.domain.courses.stretches import Layout
from sennight.domain.day import as_minutes
from sennight.domain.reminders.clock_changes import as_utc, zone_info
from sennight.domain.reminders.events import Event, ReminderChoices
from sennight.domain.reminders.published import event_uid
from sennight.domain.reminders.reminders import reminder_events

MARGIN = timedelta(days=31)
"""So long before and after a course reminders without a dose are looked for."""

_UNREADABLE = (ValueError, KeyError, TypeError, AttributeError, IndexError, OverflowError)
"""What the libraries raise over text that only looks like a calendar."""


class CalendarReadError(ValueError):
    """A file that is no calendar; the message says why."""

    def __init__(self, why: object) -> None:
        super().__init__(
            f"this is not a calendar file that can be read ({why}); expected iCalendar text "
            "(RFC 5545), as a phone or calendar program exports it"
        )


@dataclass(frozen=True, slots=True, order=True)
class Due:
    """A moment, on the client's wall clock, and what is due or shown then."""

    at: datetime
    what: str


@dataclass(frozen=True, slots=True)
class CalendarCheck:
    """What differs between a calendar and a course.

    `missing` are doses without a reminder, `extra` reminders without a dose, `doubled`
    reminders that come more than once; `ignored` are the titles of events that are not
    reminders of this course.
    """

    missing: tuple[Due, ...]
    extra: tuple[Due, ...]
    doubled: tuple[Due, ...]
    ignored: tuple[str, ...]

    @property
    def agrees(self) -> bool:
        """Whether each dose has one reminder and each reminder a dose."""
        return not (self.missing or self.extra or self.doubled)


def compare_calendar(
    data: bytes, layout: Layout, zone: str, *, join_within: int = 0
) -> CalendarCheck:
    """What a calendar lacks, and has too much of, for the timed doses of a course.

    Moments are compared, so it does not matter whether times are given in UTC or in a zone;
    floating ones are read in `zone`, the client's. An event is one of this course's reminders
    if its UID or category says so, or if its words name a remedy of the course. Raises
    CalendarReadError, UnknownZoneError.
    """
    choices = ReminderChoices(zone=zone, join_within=join_within, markers=False)
    events = reminder_events(layout, choices)
    due = _due(events, zone)
    ours, ignored = _shown(data, layout, events, zone)
    missing: list[Due] = []
    extra: list[Due] = []
    doubled: list[Due] = []
    for moment in sorted({*due, *ours}):
        wanted, shown = due.get(moment, []), ours.get(moment, [])
        missing += wanted[len(shown) :]
        (doubled if wanted else extra).extend(shown[len(wanted) :])
    return CalendarCheck(tuple(missing), tuple(extra), tuple(doubled), ignored)


def _due(events: tuple[Event, ...], zone: str) -> dict[datetime, list[Due]]:
    """What is due at each moment of UTC; two in one list where clocks skip an hour."""
    found: dict[datetime, list[Due]] = defaultdict(list)
    for event in events:
        minute = event.minute or 0
        for day in event.run:
            local = datetime.combine(day, datetime.min.time()) + timedelta(minutes=minute)
            found[as_utc(zone, day, minute)].append(Due(local, event.title))
    return found


def _shown(
    data: bytes, layout: Layout, events: tuple[Event, ...], zone: str
) -> tuple[dict[datetime, list[Due]], tuple[str, ...]]:
    """The calendar's reminders of this course by moment of UTC, and the other events' titles."""
    uids = {event_uid(layout.course.id, 0, event) for event in events}
    names = {remedy.name for remedy in layout.course.remedies}
    discreet = reminder_events(layout, ReminderChoices(zone=zone, discreet=True, markers=False))
    discreet_titles = {event.title for event in discreet}
    found: dict[datetime, list[Due]] = defaultdict(list)
    others: Counter[str] = Counter()
    for one in _occurrences(data, layout):
        title, start = str(one.get("SUMMARY", "")), one.start
        words = f"{title} {one.get('DESCRIPTION', '')}"
        is_ours = (
            str(one.get("UID")) in uids
            or "DOSE" in _categories(one)
            or title in discreet_titles
            or any(name in words for name in names)
        )
        if not isinstance(start, datetime):
            if "MARKER" not in _categories(one):
                others[title] += 1
        elif is_ours:
            found[_moment(start, zone)].append(Due(_local(start, zone), title))
        else:
            others[title] += 1
    return found, tuple(sorted(others))


def _occurrences(data: bytes, layout: Layout) -> list[icalendar.Event]:
    first, end = layout.days.first - MARGIN, layout.days.end + MARGIN
    try:
        calendars = icalendar.Calendar.from_ical(data, multiple=True)
        found = [
            event
            for calendar in calendars
            for event in recurring_ical_events.of(calendar).between(first, end)
            if event.get("STATUS") != "CANCELLED"
        ]
    except _UNREADABLE as error:
        raise CalendarReadError(error) from error
    if not calendars:
        raise CalendarReadError("it holds no whole VCALENDAR")
    return found


def _categories(event: icalendar.Event) -> set[str]:
    found = event.get("CATEGORIES", [])
    lists = found if isinstance(found, list) else [found]
    return {str(name).upper() for one in lists for name in getattr(one, "cats", [one])}


def _moment(start: datetime, zone: str) -> datetime:
    """The moment in UTC; a floating time, and one in a gap, is read as RFC 5545 3.3.5 has it."""
    if start.tzinfo is None or _is_in(start, zone):
        return as_utc(zone, start.date(), as_minutes(start.time()))
    return start.astimezone(UTC)


def _local(start: datetime, zone: str) -> datetime:
    if start.tzinfo is None or _is_in(start, zone):
        return start.replace(tzinfo=None)
    return start.astimezone(zone_info(zone)).replace(tzinfo=None)


def _is_in(start: datetime, zone: str) -> bool:
    """Whether a time is given in the client's zone, whose rules are then ours, not a library's."""
    return getattr(start.tzinfo, "key", None) == zone
