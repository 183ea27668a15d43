"""Reads the entries of a calendar file as text, whatever program wrote it.

An entry that is damaged, or a rule that would repeat every second, is another program's matter:
here each entry is taken by itself, and nothing is repeated before it is known whose it is.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import timedelta

MOST_BYTES = 10_000_000
"""A calendar file larger than this is not looked into; a year's course has about 30,000."""

_DURATION = re.compile(
    r"([+-]?)P(?:(\d{1,6})W)?(?:(\d{1,6})D)?T?(?:(\d{1,6})H)?(?:(\d{1,6})M)?(?:(\d{1,6})S)?"
)
"""RFC 5545 section 3.3.6, and without its T as well, since some programs leave that out."""
_RULE = re.compile(r"(?:^|;)FREQ=(DAILY|WEEKLY|MONTHLY|YEARLY)(?:;|$)")
_INTERVAL = re.compile(r"(?:^|;)INTERVAL=(?![1-9]\d{0,3}(?:;|$))")
_NOT_NEEDED = ("DTEND", "DURATION")

Tell = Callable[[int, int], None]
"""Told how much of how much is done; what it raises ends the work."""
OFTEN = 200
"""After so many entries is told how far it got."""


def tell_nobody(_done: int, _of: int) -> None:
    """Nobody waits to be told."""


Line = tuple[str, str, str]
"""A property's name in capitals, its parameters and its value."""


class CalendarReadError(ValueError):
    """A file that is no calendar; the message says why."""

    def __init__(self, why: object) -> None:
        super().__init__(
            f"this calendar file cannot be read ({why}); expected iCalendar text "
            "(RFC 5545), as a phone or calendar program exports it"
        )


@dataclass(frozen=True, slots=True)
class Entry:
    """One event of a file: its own lines, and how long before its start each alarm comes.

    A lead is None where the alarm is at a fixed moment or cannot be read.
    """

    lines: tuple[Line, ...]
    leads: tuple[timedelta | None, ...]

    def value(self, name: str) -> str:
        """The value of a property, empty where it has none."""
        return next((value for key, _, value in self.lines if key == name), "")

    @property
    def uid(self) -> str:
        """Its UID."""
        return self.value("UID")

    @property
    def title(self) -> str:
        """Its title as it was meant."""
        return _unescaped(self.value("SUMMARY"))

    @property
    def words(self) -> str:
        """Its title and text."""
        return f"{self.title} {_unescaped(self.value('DESCRIPTION'))}"

    @property
    def categories(self) -> frozenset[str]:
        """The words that it is filed under."""
        values = (value for key, _, value in self.lines if key == "CATEGORIES")
        return frozenset(word.strip() for value in values for word in value.split(","))

    @property
    def is_cancelled(self) -> bool:
        """Whether it says that it does not hold."""
        return self.value("STATUS").upper() == "CANCELLED"

    @property
    def has_time(self) -> bool:
        """Whether it begins at a time, and not with a day."""
        return "T" in self.value("DTSTART")

    @property
    def can_be_repeated(self) -> bool:
        """Whether its rule, if any, is one that a calendar of days has."""
        rule = self.value("RRULE").upper()
        if not self.value("DTSTART"):
            return False
        return not rule or (bool(_RULE.search(rule)) and not _INTERVAL.search(rule))

    def text(self, number: int) -> str:
        """Its lines as a component of a file, without what its start does not need."""
        own = (f"{n}{p}:{v}" for n, p, v in self.lines if n not in _NOT_NEEDED)
        return "\r\n".join(("BEGIN:VEVENT", *own, f"X-ENTRY:{number}", "END:VEVENT", ""))


@dataclass(frozen=True, slots=True)
class CalendarEntries:
    """What one or more files hold: their entries, each once, and their time zones as text."""

    entries: tuple[Entry, ...]
    zones: tuple[str, ...]


def read_entries(*files: bytes, tell: Tell = tell_nobody) -> CalendarEntries:
    """The entries of calendar files; raises CalendarReadError. `tell` is told of lines."""
    entries: dict[Entry, None] = {}
    zones: dict[str, None] = {}
    of_files = [_lines(data) for data in files]
    done, every = 0, sum(map(len, of_files))
    for lines in of_files:
        for number, (entry, at) in enumerate(_entries(lines)):
            entries[entry] = None
            if number % OFTEN == 0:
                tell(done + at, every)
        done += len(lines)
        zones |= dict.fromkeys(_zones(lines))
    return CalendarEntries(tuple(entries), tuple(zones))


def _lines(data: bytes) -> list[str]:
    if len(data) > MOST_BYTES:
        raise CalendarReadError(f"it has more than {MOST_BYTES:,} bytes")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise CalendarReadError("it is not UTF-8 text") from error
    lines = re.sub(r"\r?\n[ \t]", "", text).splitlines()
    if "BEGIN:VCALENDAR" not in lines or "END:VCALENDAR" not in lines:
        raise CalendarReadError("it contains no complete VCALENDAR")
    return lines


def _entries(lines: list[str]) -> Iterator[tuple[Entry, int]]:
    """The entries, each with the number of its last line."""
    own: list[Line] = []
    alarms: list[list[Line]] = []
    inside: list[str] = []
    for number, text in enumerate(lines):
        name, parameters, value = _parts(text)
        if name == "BEGIN":
            inside.append(value.upper())
            if inside[-1] == "VEVENT":
                own, alarms = [], []
            elif inside[-1] == "VALARM":
                alarms.append([])
        elif name == "END":
            if inside and inside.pop() == "VEVENT":
                yield Entry(tuple(own), tuple(_leads(alarms))), number
        elif inside and inside[-1] == "VEVENT":
            own.append((name, parameters, value))
        elif inside and inside[-1] == "VALARM" and alarms:
            alarms[-1].append((name, parameters, value))


def _parts(text: str) -> Line:
    """A line's name, its parameters with their semicolons, and its value."""
    head = re.match(r'([A-Za-z0-9-]+)((?:;[^":;]*(?:"[^"]*"[^":;]*)*)*):', text)
    if head is None:
        return "", "", text
    return head[1].upper(), head[2], text[head.end() :]


def _leads(alarms: list[list[Line]]) -> Iterator[timedelta | None]:
    """How long before the start each alarm comes that does anything."""
    for alarm in alarms:
        values = {name: value for name, _, value in alarm}
        if values.get("ACTION", "").upper() != "NONE":
            yield _lead(values.get("TRIGGER", ""))


def _lead(trigger: str) -> timedelta | None:
    match = _DURATION.fullmatch(trigger.strip().upper())
    if match is None:
        return None
    weeks, days, hours, minutes, seconds = (int(figure or 0) for figure in match.groups()[1:])
    length = timedelta(weeks=weeks, days=days, hours=hours, minutes=minutes, seconds=seconds)
    return length if match[1] == "-" else -length


def _zones(lines: list[str]) -> Iterator[str]:
    zone: list[str] | None = None
    for text in lines:
        if text.upper() == "BEGIN:VTIMEZONE":
            zone = []
        if zone is not None:
            zone.append(text)
        if text.upper() == "END:VTIMEZONE" and zone:
            yield "\r\n".join((*zone, ""))
            zone = None


def _unescaped(value: str) -> str:
    """RFC 5545 section 3.3.11."""
    return re.sub(r"\\(.)", lambda found: "\n" if found[1] in "nN" else found[1], value)
