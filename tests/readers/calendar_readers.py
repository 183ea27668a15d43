"""Seven readers of calendar files, none of them ours, each as a function from bytes.

Each gives the occurrences of the timed events as (UID, wall clock), sorted, with doubles kept.
recurring-ical-events walks our UNTIL through dateutil and zoneinfo; vobject has a parser of
its own and zones that dateutil builds from the file's VTIMEZONE; ical.js and libical, which is
written in C, share no line with either or with each other. ical-expander wraps an older ical.js
with zone data of its own; icalevents and ical have their own ways through rules and zones.
"""

from __future__ import annotations

import io
import json
import re
import subprocess
import warnings
from collections.abc import Sequence
from datetime import UTC, date, datetime
from functools import lru_cache

import icalendar
import recurring_ical_events
from dateutil import tz
from ical.calendar_stream import IcsCalendarStream
from ical.event import EventStatus
from icalevents import icalparser

from readers.installed import ical_js_command, libical_command

with warnings.catch_warnings():
    warnings.simplefilter("ignore", DeprecationWarning)
    import vobject


def _use_zoneinfo() -> None:
    """As icalendar does by itself; importing icalevents changes it for the whole process."""
    icalendar.use_zoneinfo()  # type: ignore[no-untyped-call]


_use_zoneinfo()

Occurrence = tuple[str, datetime]
_Row = tuple[str, str, str | None]
"""UID, wall clock, moment in UTC or None."""

_EVER = (date(1990, 1, 1), date(2060, 1, 1))


def with_recurring_ical_events(
    data: bytes, first: date = _EVER[0], end: date = _EVER[1]
) -> list[Occurrence]:
    calendar = icalendar.Calendar.from_ical(data)
    found = [
        (str(event["UID"]), event.start.replace(tzinfo=None))
        for event in recurring_ical_events.of(calendar).between(first, end)
        if isinstance(event.start, datetime) and event.get("STATUS") != "CANCELLED"
    ]
    return sorted(found)


def with_vobject(data: bytes) -> list[Occurrence]:
    _register_own_zones(data)
    found = []
    for event in vobject.readOne(data.decode()).contents.get("vevent", []):
        start = event.dtstart.value
        if isinstance(start, datetime) and event.status.value != "CANCELLED":
            days = event.getrruleset(addRDate=True) if hasattr(event, "rrule") else [start]
            found += [(event.uid.value, day.replace(tzinfo=None)) for day in days]
    return sorted(found)


def _register_own_zones(data: bytes) -> None:
    """Let vobject read times by the file's VTIMEZONE, as dateutil understands it.

    Left alone it takes pytz's zones without fitting them to a date, or an earlier file's.
    """
    vars(vobject.icalendar)["__tzidMap"].clear()
    for text in re.findall(rb"BEGIN:VTIMEZONE.*?END:VTIMEZONE\r\n", data, re.DOTALL):
        zones = tz.tzical(io.StringIO(text.decode()))
        for zone in zones.keys():  # noqa: SIM118 (not a dict)
            vobject.icalendar.registerTzid(zone, zones.get(zone))


def with_ical_js(files: Sequence[bytes]) -> list[list[Occurrence]]:
    """All files in one run of node."""
    return [_timed(rows) for rows in _run(ical_js_command(), files)]


def moments_with_ical_js(files: Sequence[bytes]) -> list[dict[datetime, datetime]]:
    """For each file in a zone: the moment, in UTC, of each wall clock that something is at."""
    return [_moments(rows) for rows in _run(ical_js_command(), files)]


def with_ical_expander(files: Sequence[bytes]) -> list[list[Occurrence]]:
    """All files in one run of node."""
    return [_timed(rows) for rows in _run(ical_js_command("expand_as_web_page.mjs"), files)]


def with_icalevents(data: bytes) -> list[Occurrence]:
    first, end = (datetime.combine(day, datetime.min.time(), UTC) for day in _EVER)
    icalendar.use_pytz()  # type: ignore[no-untyped-call]
    try:
        events = icalparser.parse_events(data.decode(), first, end)
    finally:
        _use_zoneinfo()
    return sorted(
        (str(event.uid), event.start.replace(tzinfo=None))
        for event in events
        if not event.all_day and event.status != "CANCELLED"
    )


def with_ical(data: bytes) -> list[Occurrence]:
    calendar = IcsCalendarStream.calendar_from_ics(data.decode())
    return sorted(
        (str(event.uid), event.start.replace(tzinfo=None))
        for event in calendar.timeline_tz(UTC)
        if isinstance(event.start, datetime) and event.status != EventStatus.CANCELLED
    )


def with_libical(files: Sequence[bytes]) -> list[list[Occurrence]]:
    """All files in one run of the system's Python."""
    return [_timed(rows) for rows in _run(libical_command(), files)]


def moments_with_libical(files: Sequence[bytes]) -> list[dict[datetime, datetime]]:
    """As `moments_with_ical_js`."""
    return [_moments(rows) for rows in _run(libical_command(), files)]


def _timed(rows: list[_Row]) -> list[Occurrence]:
    return sorted((uid, datetime.fromisoformat(local)) for uid, local, _ in rows if "T" in local)


def _moments(rows: list[_Row]) -> dict[datetime, datetime]:
    timed = [(datetime.fromisoformat(local), moment) for _, local, moment in rows if moment]
    assert len({local for local, _ in timed}) == len(timed)
    return {local: datetime.fromisoformat(moment) for local, moment in sorted(timed)}


def _run(command: Sequence[str], files: Sequence[bytes]) -> list[list[_Row]]:
    return _ran(tuple(command), tuple(files))


@lru_cache(maxsize=4)
def _ran(command: tuple[str, ...], files: tuple[bytes, ...]) -> list[list[_Row]]:
    """Starting a reader takes longer than reading a file, and tests ask for the same files."""
    done = subprocess.run(
        command,
        input=json.dumps({"files": [data.decode() for data in files]}).encode(),
        capture_output=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr.decode()
    rows: list[list[_Row]] = json.loads(done.stdout)
    return rows
