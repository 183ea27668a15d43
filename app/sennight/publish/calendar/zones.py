"""Time zones for calendar files: each change of the clocks that an event can meet, by itself.

icalendar's own generator (7.3) puts the spring change of a zone an hour late, since it gives
it by the offset after the change where RFC 5545 section 3.6.5 has the offset before; and it
lists changes as RDATEs, which some readers skip. So observances are written out one by one.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

from icalendar import Timezone, TimezoneDaylight, TimezoneStandard

from sennight.domain.reminders.clock_changes import Change, changes, zone_info


def vtimezone(zone: str, first: date, last: date) -> Timezone:
    """A VTIMEZONE that holds for local times from the year before `first` to that after `last`."""
    component = Timezone()
    component.add("TZID", zone)
    component.add_component(_observance(_opening(zone, first.year - 1)))
    for year in range(first.year - 1, last.year + 2):
        for change in changes(zone, year):
            component.add_component(_observance(change))
    return component


def _opening(zone: str, year: int) -> Change:
    """How the zone's clocks stand at the start of a year, as a change from the same offset."""
    start = datetime(year, 1, 1, tzinfo=zone_info(zone))
    offset = start.utcoffset() or timedelta()
    at = start.astimezone(UTC)
    return Change(at, offset, offset, start.tzname() or "", bool(start.dst()))


def _observance(change: Change) -> TimezoneStandard | TimezoneDaylight:
    observance = TimezoneDaylight() if change.is_summer else TimezoneStandard()
    observance.add("DTSTART", change.local)
    observance.add("TZOFFSETFROM", change.before)
    observance.add("TZOFFSETTO", change.after)
    observance.add("TZNAME", change.name)
    return observance
