"""Calendar files that phones read: RFC 5545, and no more of it than importers understand.

Each event has one rule (DAILY or WEEKLY, upper case) with an UNTIL some hours after its last
occurrence, no RDATE, EXDATE or COUNT, and its alarm last, since importers are known to drop or
misread the rest. No METHOD: the file is a plain snapshot without scheduling.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, timedelta

import icalendar

from sennight.domain.courses.courses import Course
from sennight.domain.dates import ONE_DAY, WEEKDAYS
from sennight.domain.day import as_time
from sennight.domain.reminders.clock_changes import as_utc, zone_info
from sennight.domain.reminders.events import Event
from sennight.domain.reminders.published import Issued, Published, first_issue, plan_name
from sennight.domain.reminders.runs import WEEK, Run
from sennight.publish.calendar.zones import vtimezone

HALF_A_DAY = timedelta(hours=12)
EVERY_DAY = timedelta(days=1)
"""RFC 7986 holds about once a day to be enough for most calendars."""
PRODUCT = "-//Sennight//Reminders//EN"
LARGEST = 1_000_000
"""Bytes; a large web calendar refuses files above about 1 MB (from memory)."""
LENGTH = timedelta(minutes=10)
"""How long a timed event lasts: long enough to be seen and touched on a day view, short enough
not to hide what follows. It is given as DURATION, which no change of clocks can make negative."""


class CalendarTooLargeError(ValueError):
    """A calendar file that importers would refuse for its size."""

    def __init__(self, size: int) -> None:
        super().__init__(
            f"one entry of the calendar file would have {size:,} bytes; calendars refuse more "
            f"than {LARGEST:,}; shorten the remedies’ names"
        )


def calendar_bytes(events: Iterable[Event], course: Course, *, stamp: datetime) -> bytes:
    """A course's events as the first calendar file that a phone gets.

    `stamp` (aware) is the moment of publishing; the same input gives the same bytes. Raises
    CalendarTooLargeError.
    """
    return issued_bytes(first_issue(course.id, events, stamp), name=plan_name(course.id))


def subscribed_bytes(published: Published) -> bytes:
    """What stands, for a phone that is subscribed to the file and takes it whole each time.

    Raises CalendarTooLargeError.
    """
    return issued_bytes(published.issued, name=published.calendar_name, refresh=EVERY_DAY)


def issued_bytes(
    issued: Iterable[Issued], *, name: str, refresh: timedelta | None = None
) -> bytes:
    """Events as issued, in a calendar of that name; raises CalendarTooLargeError.

    Those with a time come first: some calendars take the first event of a file and no other.
    The name is each event's category as well, since some make calendars of categories. `refresh`
    is how often a phone that is subscribed should look again.
    """
    items = sorted(issued, key=lambda item: item.event.minute is None)
    calendar = icalendar.Calendar()
    calendar.add("VERSION", "2.0")
    calendar.add("PRODID", PRODUCT)
    calendar.add("CALSCALE", "GREGORIAN")
    calendar.add("NAME", name)
    calendar.add("X-WR-CALNAME", name)
    if refresh:
        calendar.add("REFRESH-INTERVAL", refresh, parameters={"VALUE": "DURATION"})
    for zone, (first, last) in _zones(items).items():
        calendar.add_component(vtimezone(zone, first, last))
    for item in items:
        calendar.add_component(_vevent(item, name))
    data: bytes = calendar.to_ical()
    if len(data) > LARGEST:
        raise CalendarTooLargeError(len(data))
    return data


def split_bytes(issued: Iterable[Issued], *, name: str) -> tuple[bytes, ...]:
    """Events as issued, in as many files as it takes for each to be small enough.

    Raises CalendarTooLargeError where one event alone is too large.
    """
    items = tuple(issued)
    try:
        return (issued_bytes(items, name=name),)
    except CalendarTooLargeError:
        if len(items) == 1:
            raise
        half = len(items) // 2
        return split_bytes(items[:half], name=name) + split_bytes(items[half:], name=name)


def phase_files(
    issued: Iterable[Issued], phases: Sequence[str], *, name: str
) -> dict[str, tuple[bytes, ...]]:
    """Events that were cut by phase, as a file or more for each of the phases that has some.

    Keys are of `phases` and in their order. What belongs to none of them, as when the calendar
    was one file before, goes into the first. Raises CalendarTooLargeError.
    """
    parts: dict[str, list[Issued]] = {phase: [] for phase in phases}
    others: list[Issued] = []
    for item in issued:
        parts.get(item.event.part, others).append(item)
    first = next((phase for phase in phases if parts[phase]), phases[0])
    parts[first] += others
    return {part: split_bytes(items, name=name) for part, items in parts.items() if items}


def _zones(items: Iterable[Issued]) -> dict[str, tuple[date, date]]:
    """The zones used, in order of their names, each with its events' first and last date."""
    days: dict[str, list[date]] = defaultdict(list)
    for event in (item.event for item in items):
        if event.zone and event.minute is not None:
            days[event.zone] += [event.run.first, event.run.last]
    return {zone: (min(days[zone]), max(days[zone])) for zone in sorted(days)}


def _vevent(item: Issued, category: str) -> icalendar.Event:
    event = item.event
    component = icalendar.Event()
    component.add("UID", item.uid)
    component.add("DTSTAMP", item.stamp.astimezone(UTC))
    component.add("LAST-MODIFIED", item.stamp.astimezone(UTC))
    component.add("SEQUENCE", item.sequence)
    component.add("STATUS", "CANCELLED" if item.is_cancelled else "CONFIRMED")
    component.add("SUMMARY", event.title)
    if event.text:
        component.add("DESCRIPTION", event.text)
    component.add("CATEGORIES", [category])
    component.add("CLASS", "PRIVATE")
    component.add("TRANSP", "TRANSPARENT")
    _add_times(component, event)
    if event.alarm is not None and not item.is_cancelled:
        component.add_component(_alarm(event.title, event.alarm))
    return component


def _add_times(component: icalendar.Event, event: Event) -> None:
    first = event.run.first
    if event.minute is None:
        component.add("DTSTART", first)
        component.add("DTEND", first + ONE_DAY)
        return
    local = datetime.combine(first, as_time(event.minute))
    component.add("DTSTART", local, parameters={"TZID": event.zone} if event.zone else {})
    component.add("DURATION", LENGTH)
    if not event.run.is_single:
        until = _until(event.run.last, event.minute, event.zone)
        component.add("RRULE", icalendar.vRecur(_rule(event.run) | {"UNTIL": until}))


def _rule(run: Run) -> dict[str, object]:
    weekdays = run.weekdays or ((run.first.weekday(),) if run.every == WEEK else ())
    if weekdays:
        return {"FREQ": "WEEKLY", "BYDAY": [WEEKDAYS[day][:2].upper() for day in weekdays]}
    if run.every > 1:
        return {"FREQ": "DAILY", "INTERVAL": run.every}
    return {"FREQ": "DAILY"}


def _until(last: date, minute: int, zone: str | None) -> datetime:
    """A moment safely between the last occurrence and the next that the rule would give.

    In UTC where there is a zone (RFC 5545 section 3.3.10). Readers whose zone data differ, or
    that take UTC for the local time, are off by an hour or by the whole offset; halfway between
    the two readings of the day after the last occurrence no offset (UTC-12 to UTC+14) reaches
    either of them.
    """
    if zone is None:
        return datetime.combine(last, as_time(minute)) + HALF_A_DAY
    moment = as_utc(zone, last, minute)
    offset = moment.astimezone(zone_info(zone)).utcoffset() or timedelta()
    return moment + HALF_A_DAY + offset / 2


def _alarm(title: str, minutes: int) -> icalendar.Alarm:
    alarm = icalendar.Alarm()
    alarm.add("ACTION", "DISPLAY")
    alarm.add("DESCRIPTION", title)
    trigger = f"{'-' if minutes > 0 else ''}PT{abs(minutes)}M" if minutes else "PT0S"
    alarm["TRIGGER"] = icalendar.vText(trigger)  # the library's own zero, P0D, is a rare sight
    return alarm
