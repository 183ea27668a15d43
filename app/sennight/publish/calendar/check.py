"""Compares a calendar, from whatever phone or program, with the doses of a course."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import icalendar
import recurring_ical_events

from sennight.domain.courses.stretches import Layout
from sennight.domain.day import as_minutes
from sennight.domain.reminders.clock_changes import as_utc, zone_info
from sennight.domain.reminders.events import Event, ReminderChoices
from sennight.domain.reminders.published import (
    event_uid,
    is_another_plan,
    is_calendar_of,
)
from sennight.domain.reminders.reminders import reminder_events
from sennight.publish.calendar.entries import (
    OFTEN,
    CalendarEntries,
    Entry,
    Tell,
    read_entries,
    tell_nobody,
)

MARGIN = timedelta(days=31)
"""So long before and after a course reminders without a dose are looked for."""
FRESH_SETS = 4
"""So many sets of a course are known by their UIDs; later ones by their category or title."""

_UNREADABLE = (ValueError, KeyError, TypeError, AttributeError, IndexError, OverflowError)
"""What the libraries raise over text that only looks like a calendar."""


@dataclass(frozen=True, slots=True, order=True)
class Due:
    """A moment, on the client's wall clock, and what is due or shown then."""

    at: datetime
    what: str


@dataclass(frozen=True, slots=True)
class AlarmFault:
    """A reminder whose alarm is not the one that was given.

    It comes `times` times, first at `at`; `lead` is how long before its start the alarm nearest
    to it comes, None where there is none.
    """

    at: datetime
    what: str
    times: int
    lead: timedelta | None


@dataclass(frozen=True, slots=True)
class CalendarCheck:
    """What differs between a calendar and a course.

    `missing` are doses without a reminder, `extra` reminders without a dose, `doubled`
    reminders that come more than once; `unreadable` are titles of reminders of this course that
    are damaged, `ignored` those of events that are not its reminders.
    """

    missing: tuple[Due, ...]
    extra: tuple[Due, ...]
    doubled: tuple[Due, ...]
    alarms: tuple[AlarmFault, ...]
    unreadable: tuple[str, ...]
    ignored: tuple[str, ...]

    @property
    def agrees(self) -> bool:
        """Whether each dose has one reminder, with its alarm, and each reminder a dose."""
        wrong = (self.missing, self.extra, self.doubled, self.alarms, self.unreadable)
        return not any(wrong)


@dataclass(frozen=True, slots=True)
class _Shown:
    """What a calendar shows at a moment, and the entry that it comes from."""

    due: Due
    entry: Entry


def compare_calendar(
    files: Sequence[bytes],
    layout: Layout,
    zone: str,
    choices: ReminderChoices,
    tell: Tell = tell_nobody,
) -> CalendarCheck:
    """What a calendar lacks, and has too much of, for the timed doses of a course.

    It may be in several files. Moments are compared, so it does not matter whether times are
    given in UTC or in a zone; floating ones are read in `zone`, the client's. Of the choices that
    the reminders were given with, joining and the alarm count. An event is one of this course's
    reminders if its UID or category says so, or if its title or words do and its category is not
    another course's. `tell` is told how many of the lines were read, then of the reminders laid
    out. Raises CalendarReadError, UnknownZoneError.
    """
    calendar = read_entries(*files, tell=tell)
    events = reminder_events(layout, _asked(choices, zone))
    due = _due((event for event in events if event.minute is not None), zone)
    ours, ignored = _ours(calendar, layout, events, zone)
    shown, unreadable = _by_moment(ours, calendar.zones, layout, zone, tell)
    missing: list[Due] = []
    extra: list[Due] = []
    doubled: list[Due] = []
    for moment in sorted({*due, *shown}):
        wanted, appearing = due.get(moment, []), [item.due for item in shown.get(moment, ())]
        missing += wanted[len(appearing) :]
        (doubled if wanted else extra).extend(appearing[len(wanted) :])
    doses = [item for moment in sorted(shown) if moment in due for item in shown[moment]]
    alarms = _alarm_faults(doses, choices.alarm)
    return CalendarCheck(tuple(missing), tuple(extra), tuple(doubled), alarms, unreadable, ignored)


def _asked(choices: ReminderChoices, zone: str, *, discreet: bool = False) -> ReminderChoices:
    return ReminderChoices(zone=zone, join_within=choices.join_within, discreet=discreet)


def _due(events: Iterable[Event], zone: str) -> dict[datetime, list[Due]]:
    """What is due at each moment of UTC."""
    due: dict[datetime, list[Due]] = defaultdict(list)
    for event in events:
        minute = event.minute or 0
        for day in event.run:
            local = datetime.combine(day, datetime.min.time()) + timedelta(minutes=minute)
            due[as_utc(zone, day, minute)].append(Due(local, event.title))
    return due


# Whose an entry is


def _ours(
    calendar: CalendarEntries, layout: Layout, events: tuple[Event, ...], zone: str
) -> tuple[list[Entry], tuple[str, ...]]:
    """The timed entries of this course that hold, and the titles of other events."""
    course = layout.course
    uids = {event_uid(course.id, n, event) for n in range(FRESH_SETS) for event in events}
    names = {remedy.name for remedy in course.remedies}
    discreet = reminder_events(layout, ReminderChoices(zone=zone, discreet=True))
    titles = {event.title for event in (*events, *discreet)}

    def is_ours(entry: Entry) -> bool:
        if entry.uid in uids or any(is_calendar_of(c, course.id) for c in entry.categories):
            return True
        if any(is_another_plan(category, course.id) for category in entry.categories):
            return False
        return entry.title in titles or (entry.has_time and any(n in entry.words for n in names))

    ours: list[Entry] = []
    others: set[str] = set()
    for entry in calendar.entries:
        if is_ours(entry):
            if entry.has_time and not entry.is_cancelled:
                ours.append(entry)
        elif not entry.is_cancelled:
            others.add(entry.title)
    return ours, tuple(sorted(others))


# When entries come


def _by_moment(
    entries: list[Entry], zones: tuple[str, ...], layout: Layout, zone: str, tell: Tell
) -> tuple[dict[datetime, list[_Shown]], tuple[str, ...]]:
    """What comes at each moment of UTC, and the titles of entries that cannot be read."""
    by_moment: dict[datetime, list[_Shown]] = defaultdict(list)
    good = [entry for entry in entries if entry.can_be_repeated]
    unreadable = [entry.title for entry in entries if not entry.can_be_repeated]
    done = 0
    for some in _some_at_a_time(good):
        occurrences, damaged = _each_that_can_be_read(some, zones, layout)
        unreadable += damaged
        for entry, start in occurrences:
            due = Due(_local(start, zone), entry.title)
            by_moment[_moment(start, zone)].append(_Shown(due, entry))
        done += len(some)
        tell(done, len(good))
    return by_moment, tuple(unreadable)


def _each_that_can_be_read(
    entries: list[Entry], zones: tuple[str, ...], layout: Layout
) -> tuple[list[tuple[Entry, datetime]], list[str]]:
    """When entries come, and the titles of those that no library can tell of."""
    occurrences = _occurrences(entries, zones, layout)
    if occurrences is not None:
        return occurrences, []
    found: list[tuple[Entry, datetime]] = []
    unreadable: list[str] = []
    for group in _by_uid(entries):
        some = _occurrences(group, zones, layout)
        unreadable += [] if some is not None else [entry.title for entry in group]
        found += some or []
    return found, unreadable


def _by_uid(entries: list[Entry]) -> Iterable[list[Entry]]:
    """The entries of one UID together, since one may change a day of another."""
    groups: dict[str, list[Entry]] = defaultdict(list)
    for entry in entries:
        groups[entry.uid].append(entry)
    return groups.values()


def _some_at_a_time(entries: list[Entry]) -> Iterator[list[Entry]]:
    """The entries some hundred at a time, those of one UID never apart."""
    some: list[Entry] = []
    for group in _by_uid(entries):
        some += group
        if len(some) >= OFTEN:
            yield some
            some = []
    if some:
        yield some


def _occurrences(
    entries: list[Entry], zones: tuple[str, ...], layout: Layout
) -> list[tuple[Entry, datetime]] | None:
    """When entries come, around the course's days; None where a library cannot tell."""
    parts = (entry.text(number) for number, entry in enumerate(entries))
    text = "".join(("BEGIN:VCALENDAR\r\n", *zones, *parts, "END:VCALENDAR\r\n"))
    first, end = layout.days.first - MARGIN, layout.days.end + MARGIN
    try:
        calendar = icalendar.Calendar.from_ical(text)
        events = recurring_ical_events.of(calendar).between(first, end)
        return [(entries[int(event["X-ENTRY"])], _start(event)) for event in events]
    except _UNREADABLE:
        return None


def _start(event: icalendar.Event) -> datetime:
    start = event.start
    if not isinstance(start, datetime):
        raise TypeError("a day, not a time")
    return start


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


# Alarms


def _alarm_faults(doses: list[_Shown], alarm: int | None) -> tuple[AlarmFault, ...]:
    """The reminders of doses without the alarm that was given; none where none was given."""
    if alarm is None:
        return ()
    wanted = timedelta(minutes=alarm)
    by_entry: dict[Entry, list[Due]] = defaultdict(list)
    for item in doses:
        if wanted not in item.entry.leads:
            by_entry[item.entry].append(item.due)
    return tuple(
        AlarmFault(min(dues).at, entry.title, len(dues), _nearest(entry.leads, wanted))
        for entry, dues in by_entry.items()
    )


def _nearest(leads: tuple[timedelta | None, ...], wanted: timedelta) -> timedelta | None:
    known = [lead for lead in leads if lead is not None]
    return min(known, key=lambda lead: abs(lead - wanted), default=None)
