"""A phone that follows the standard, in little: it imports calendar files one after another.

UID tells which event is meant; a higher SEQUENCE, or on a tie a later DTSTAMP, replaces it
(RFC 5546 section 2.1.5); STATUS:CANCELLED takes it away. It reads the text itself and repeats
by dateutil, so it shares nothing with what wrote the file.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from dateutil.rrule import rrulestr

Shown = tuple[date | datetime, str, str]
"""When (a date for a whole day, else the wall clock), the title, the description."""


class Phone:
    """What is in one calendar of a phone.

    One that draws cancelled entries goes by UID and SEQUENCE but ignores STATUS, as several do.
    """

    def __init__(self, *, draws_cancelled: bool = False) -> None:
        self.draws_cancelled = draws_cancelled
        self.events: dict[str, dict[str, str]] = {}

    def read(self, data: bytes) -> None:
        """Import a file."""
        for properties in _events(data):
            uid = properties["UID"]
            known = self.events.get(uid)
            if known is None or _rank(properties) > _rank(known):
                self.events[uid] = properties
            elif _rank(properties) == _rank(known):
                assert properties == known, "an event differs under the same SEQUENCE and DTSTAMP"

    def shown(self) -> list[Shown]:
        """All that it shows, in order, doubles kept."""
        found = []
        for properties in self.events.values():
            if self.draws_cancelled or properties["STATUS"] != "CANCELLED":
                title, text = properties["SUMMARY"], properties.get("DESCRIPTION", "")
                found += [(when, title, text) for when in _days(properties)]
        return sorted(found, key=lambda one: (str(one[0]), *one[1:]))


def _rank(properties: dict[str, str]) -> tuple[int, str]:
    return int(properties["SEQUENCE"]), properties["DTSTAMP"]


def _events(data: bytes) -> list[dict[str, str]]:
    """The properties of each event, by their names with parameters cut off."""
    text = data.decode().replace("\r\n ", "")
    found = []
    for body in re.findall(r"BEGIN:VEVENT\r\n(.*?)END:VEVENT", text, re.DOTALL):
        properties = {}
        for row in body.split("BEGIN:VALARM")[0].splitlines():
            name, value = row.split(":", 1)
            name, *parameters = name.split(";")
            properties[name] = _unescaped(value)
            properties |= {f"{name};{p.split('=')[0]}": p.split("=")[1] for p in parameters}
        properties["ALARM"] = body.partition("TRIGGER:")[2].partition("\r\n")[0]
        found.append(properties)
    return found


def _unescaped(value: str) -> str:
    """RFC 5545 section 3.3.11."""
    return re.sub(r"\\(.)", lambda found: "\n" if found[1] in "nN" else found[1], value)


def _days(properties: dict[str, str]) -> list[date | datetime]:
    start = properties["DTSTART"]
    if "DTSTART;VALUE" in properties:
        return [date.fromisoformat(start)]
    first = datetime.fromisoformat(start)
    rule = properties.get("RRULE")
    if rule is None:
        return [first]
    until = re.search(r"UNTIL=(\w+)", rule)
    assert until is not None
    local = datetime.fromisoformat(until[1])
    if local.tzinfo:
        zone = ZoneInfo(properties["DTSTART;TZID"])
        local = local.astimezone(UTC).astimezone(zone).replace(tzinfo=None)
    naive = rule.replace(until[0], f"UNTIL={local:%Y%m%dT%H%M%S}")
    return list(rrulestr(naive, dtstart=first))
