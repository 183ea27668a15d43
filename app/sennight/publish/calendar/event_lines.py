"""One event as the lines of a calendar file (RFC 5545).

They are written here and not by the library, which takes ten times as long over them; a test
compares the two. Each event has one rule (DAILY or WEEKLY, upper case) with an UNTIL some hours
after its last occurrence, no RDATE, EXDATE or COUNT, and its alarm last, since importers are known
to drop or misread the rest.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta

from sennight.domain.dates import ONE_DAY, WEEKDAYS
from sennight.domain.day import as_time
from sennight.domain.reminders.clock_changes import as_utc, zone_info
from sennight.domain.reminders.events import Event
from sennight.domain.reminders.published import Issued
from sennight.domain.reminders.runs import WEEK, Run

HALF_A_DAY = timedelta(hours=12)
LENGTH = "PT10M"
"""How long a timed event lasts: long enough to be seen and touched on a day view, short enough
not to hide what follows. As a duration no change of clocks can make it negative."""
LONGEST_LINE = 75
"""Octets of UTF-8, the line break not counted (RFC 5545 section 3.1)."""

_CLOCK = "%Y%m%dT%H%M%S"


def event_bytes(item: Issued, category: str) -> bytes:
    """A VEVENT with its lines folded, each ending in CRLF."""
    return "".join(f"{_folded(line)}\r\n" for line in _lines(item, category)).encode()


def _lines(item: Issued, category: str) -> Iterator[str]:
    event = item.event
    stamp = item.stamp.astimezone(UTC).strftime(f"{_CLOCK}Z")
    yield "BEGIN:VEVENT"
    yield f"SUMMARY:{_escaped(event.title)}"
    yield from _times(event)
    yield f"DTSTAMP:{stamp}"
    yield f"UID:{item.uid}"
    yield f"SEQUENCE:{item.sequence}"
    if event.minute is not None and not event.run.is_single:
        yield f"RRULE:{_rule(event.run, _until(event.run.last, event.minute, event.zone))}"
    yield f"CATEGORIES:{_escaped(category)}"
    yield "CLASS:PRIVATE"
    if event.text:
        yield f"DESCRIPTION:{_escaped(event.text)}"
    yield f"LAST-MODIFIED:{stamp}"
    yield f"STATUS:{'CANCELLED' if item.is_cancelled else 'CONFIRMED'}"
    yield "TRANSP:TRANSPARENT"
    if event.alarm is not None and not item.is_cancelled:
        yield from _alarm(event.title, event.alarm)
    yield "END:VEVENT"


def _times(event: Event) -> Iterator[str]:
    first = event.run.first
    if event.minute is None:
        yield f"DTSTART;VALUE=DATE:{first:%Y%m%d}"
        yield f"DTEND;VALUE=DATE:{first + ONE_DAY:%Y%m%d}"
        return
    zone = f";TZID={event.zone}" if event.zone else ""
    yield f"DTSTART{zone}:{datetime.combine(first, as_time(event.minute)):{_CLOCK}}"
    yield f"DURATION:{LENGTH}"


def _rule(run: Run, until: str) -> str:
    weekdays = run.weekdays or ((run.first.weekday(),) if run.every == WEEK else ())
    if weekdays:
        days = ",".join(WEEKDAYS[day][:2].upper() for day in weekdays)
        return f"FREQ=WEEKLY;UNTIL={until};BYDAY={days}"
    interval = f";INTERVAL={run.every}" if run.every > 1 else ""
    return f"FREQ=DAILY;UNTIL={until}{interval}"


def _until(last: date, minute: int, zone: str | None) -> str:
    """A moment safely between the last occurrence and the next that the rule would give.

    In UTC where there is a zone (RFC 5545 section 3.3.10). Readers whose zone data differ, or
    that take UTC for the local time, are off by an hour or by the whole offset; halfway between
    the two readings of the day after the last occurrence no offset (UTC-12 to UTC+14) reaches
    either of them.
    """
    if zone is None:
        return f"{datetime.combine(last, as_time(minute)) + HALF_A_DAY:{_CLOCK}}"
    moment = as_utc(zone, last, minute)
    offset = moment.astimezone(zone_info(zone)).utcoffset() or timedelta()
    return f"{moment + HALF_A_DAY + offset / 2:{_CLOCK}}Z"


def _alarm(title: str, minutes: int) -> Iterator[str]:
    yield "BEGIN:VALARM"
    yield "ACTION:DISPLAY"
    yield f"DESCRIPTION:{_escaped(title)}"
    before = "-" if minutes > 0 else ""
    yield f"TRIGGER:{before}PT{abs(minutes)}M" if minutes else "TRIGGER:PT0S"
    yield "END:VALARM"


def _escaped(text: str) -> str:
    """RFC 5545 section 3.3.11."""
    return re.sub(r"\r\n|\r|\n", r"\\n", re.sub(r"([\\;,])", r"\\\1", text))


def _folded(line: str) -> str:
    """RFC 5545 section 3.1: pieces of so many octets, none within a character or an escape.

    An escape may be cut (section 3.1), but some readers do not put it together again.
    """
    if len(line) < LONGEST_LINE and line.isascii():
        return line
    pieces, start, size = [], 0, 0
    for place, character in enumerate(line):
        octets = len(character.encode())
        if size + octets >= LONGEST_LINE:
            end = place - 1 if place - start > 1 and line[place - 1] in r"\^" else place
            pieces.append(line[start:end])
            start, size = end, place - end
        size += octets
    return "\r\n ".join((*pieces, line[start:]))
