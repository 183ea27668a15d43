"""Expands calendar files with libical; run by the system's own Python, which has its binding.

Reads {"files": ["BEGIN:VCALENDAR…", …]} on standard input; writes, for each file, its timed
occurrences as [uid, wall clock, moment in UTC or null]. Each time is read by the VTIMEZONE in
its file. A zone that the file does not hold, and what libical cannot parse, is an error.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator

import gi

gi.require_version("ICalGLib", "3.0")
from gi.repository import ICalGLib  # noqa: E402 - not before its version is said

Row = tuple[str, str, str | None]

MOST = 100_000
"""Occurrences of one event; more means a rule without an end."""


def expand(text: str) -> list[Row]:
    """The occurrences of the timed events of a calendar that are not cancelled."""
    calendar = ICalGLib.Component.new_from_string(text)
    if calendar.count_errors():
        raise ValueError(f"libical cannot parse the file: {calendar.as_ical_string()}")
    found: list[Row] = []
    for event in _events(calendar):
        if event.get_status() != ICalGLib.PropertyStatus.CANCELLED:
            found += _occurrences(calendar, event)
    return found


def _events(calendar: ICalGLib.Component) -> Iterator[ICalGLib.Component]:
    kind = ICalGLib.ComponentKind.VEVENT_COMPONENT
    event = calendar.get_first_component(kind)
    while event is not None:
        yield event
        event = calendar.get_next_component(kind)


def _occurrences(calendar: ICalGLib.Component, event: ICalGLib.Component) -> Iterator[Row]:
    at = event.get_first_property(ICalGLib.PropertyKind.DTSTART_PROPERTY)
    start, zone = at.get_dtstart(), _zone(calendar, at)
    if start.is_date():
        return
    if zone:
        start.set_timezone(zone)
    rule = event.get_first_property(ICalGLib.PropertyKind.RRULE_PROPERTY)
    for time in _repeated(rule.get_rrule(), start) if rule else [start]:
        yield event.get_uid(), _clock(time), _moment(time, zone) if zone else None


def _zone(calendar: ICalGLib.Component, at: ICalGLib.Property) -> ICalGLib.Timezone | None:
    """The zone of a time as the file tells it, None where it floats."""
    named = at.get_first_parameter(ICalGLib.ParameterKind.TZID_PARAMETER)
    if named is None:
        return None
    zone = calendar.get_timezone(named.get_tzid())
    if zone is None or zone.get_component() is None:
        raise ValueError(f"the file has no VTIMEZONE for {named.get_tzid()}")
    return zone


def _repeated(rule: ICalGLib.Recurrence, start: ICalGLib.Time) -> Iterator[ICalGLib.Time]:
    iterator = ICalGLib.RecurIterator.new(rule, start)
    for _ in range(MOST):
        time = iterator.next()
        if time is None or time.is_null_time():
            return
        yield time
    raise ValueError("a rule has no end")


def _clock(time: ICalGLib.Time) -> str:
    day = f"{time.get_year():04}-{time.get_month():02}-{time.get_day():02}"
    return f"{day}T{time.get_hour():02}:{time.get_minute():02}:{time.get_second():02}"


def _moment(time: ICalGLib.Time, zone: ICalGLib.Timezone) -> str:
    time.set_timezone(zone)
    return _clock(time.convert_to_zone(ICalGLib.Timezone.get_utc_timezone())) + "+00:00"


if __name__ == "__main__":
    json.dump([expand(text) for text in json.load(sys.stdin)["files"]], sys.stdout)
