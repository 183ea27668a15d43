"""Two careless ways to repeat an event, re-told from calendars that are widely used.

A free calendar for Android adds n times 86,400 seconds for every n days (its importer's and its
events' source, read, not run). A reader in Perl drops the Z of UNTIL and so takes it for local
time.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

from dateutil.rrule import rrulestr

from readers.calendar_lines import Lines, components, rule, starts, unfolded, values
from readers.calendar_readers import Occurrence
from sennight.domain.reminders.clock_changes import zone_info


def in_steps_of_seconds(data: bytes) -> list[Occurrence]:
    """Every n days as so many seconds; by weekdays as everyone does."""
    return sorted(found for event in _timed(data) for found in _stepped(event))


def with_until_as_local_time(data: bytes) -> list[Occurrence]:
    """The digits of UNTIL as a wall clock."""
    return sorted(
        (values(event, "UID")[0], at)
        for event in _timed(data)
        for at in _repeated(event, _digits(rule(event)["UNTIL"]) if rule(event) else None)
    )


def _timed(data: bytes) -> list[Lines]:
    events = components(unfolded(data), "VEVENT")
    return [event for event in events if "T" in values(event, "DTSTART")[0]]


def _stepped(event: Lines) -> Iterator[Occurrence]:
    uid, rules = values(event, "UID")[0], rule(event)
    zone = re.search("TZID=([^:;]+)", starts(event))
    start = _digits(values(event, "DTSTART")[0])
    if not rules or zone is None:
        yield uid, start
        return
    clock = zone_info(zone[1])
    until = _digits(rules["UNTIL"]).replace(tzinfo=UTC)
    if "INTERVAL" not in rules:
        local = until.astimezone(clock).replace(tzinfo=None)
        yield from ((uid, at) for at in _repeated(event, local))
        return
    moment = start.replace(tzinfo=clock).astimezone(UTC)
    while moment <= until:
        yield uid, moment.astimezone(clock).replace(tzinfo=None)
        moment += timedelta(seconds=int(rules["INTERVAL"]) * 86_400)


def _repeated(event: Lines, until: datetime | None) -> list[datetime]:
    start, rules = _digits(values(event, "DTSTART")[0]), rule(event)
    if until is None:
        return [start]
    naive = ";".join(f"{key}={value}" for key, value in rules.items() if key != "UNTIL")
    return list(rrulestr(f"{naive};UNTIL={until:%Y%m%dT%H%M%S}", dtstart=start))


def _digits(text: str) -> datetime:
    return datetime.strptime(text[:15], "%Y%m%dT%H%M%S")  # noqa: DTZ007 - a wall clock
