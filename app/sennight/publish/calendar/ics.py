"""Calendar files that phones read: RFC 5545, and no more of it than importers understand.

What an event may say is in `event_lines`. No METHOD: the file is a plain snapshot without
scheduling.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta

import icalendar

from sennight.domain.courses.courses import Course
from sennight.domain.reminders.events import Event
from sennight.domain.reminders.published import Issued, Published, first_issue, plan_name
from sennight.publish.calendar.event_lines import event_bytes
from sennight.publish.calendar.zones import vtimezone

EVERY_DAY = timedelta(days=1)
"""RFC 7986 holds about once a day to be enough for most calendars."""
PRODUCT = "-//Sennight//Reminders//EN"
COLOUR = "darkolivegreen"
"""What phones that know RFC 7986 section 5.9 show the calendar in: a name of CSS Color 3."""
LARGEST = 1_000_000
"""Bytes; a large web calendar refuses files above about 1 MB (from memory)."""
_END = b"END:VCALENDAR\r\n"


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
    calendar.add("COLOR", COLOUR)
    if refresh:
        calendar.add("REFRESH-INTERVAL", refresh, parameters={"VALUE": "DURATION"})
    for zone, (first, last) in _zones(items).items():
        calendar.add_component(vtimezone(zone, first, last))
    head: bytes = calendar.to_ical().removesuffix(_END)
    data = b"".join((head, *(event_bytes(item, name) for item in items), _END))
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
