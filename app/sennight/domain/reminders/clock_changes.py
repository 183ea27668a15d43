"""Where a zone's clocks change: the local times that a day does not have, or has twice.

The rules are the IANA data that is installed with the program, before the operating system's,
which may be years old: so the same course gives the same files on every machine.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from importlib.resources import files
from math import ceil
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.day import as_time

_MINUTE = timedelta(minutes=1)


class UnknownZoneError(ValueError):
    """A time zone that the IANA data does not have."""

    def __init__(self, zone: str) -> None:
        super().__init__(
            f"time zone “{zone}” is not known; expected an IANA name such as Europe/London"
        )


@dataclass(frozen=True, slots=True)
class Change:
    """A change of a zone's offset from UTC, at a moment of UTC.

    `before` and `after` are the offsets, `name` what the zone calls itself afterwards.
    """

    at: datetime
    before: timedelta
    after: timedelta
    name: str
    is_summer: bool

    @property
    def local(self) -> datetime:
        """The wall clock when it comes, by the offset before it."""
        return (self.at + self.before).replace(tzinfo=None)

    @property
    def resumes(self) -> datetime:
        """The wall clock just after it; later than `local` where clocks go forward."""
        return (self.at + self.after).replace(tzinfo=None)


@lru_cache(maxsize=64)
def zone_info(zone: str) -> ZoneInfo:
    """The zone of that IANA name; raises UnknownZoneError."""
    try:
        return _shipped(zone) or ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise UnknownZoneError(zone) from error


def _shipped(zone: str) -> ZoneInfo | None:
    """The zone out of the tzdata package; None where that does not hold it."""
    parts = zone.split("/")
    if not all(part and part.strip(".") for part in parts):
        return None
    file = files("tzdata").joinpath("zoneinfo", *parts)
    if not file.is_file():
        return None
    with file.open("rb") as zone_file:
        return ZoneInfo.from_file(zone_file, key=zone)


@lru_cache(maxsize=256)
def changes(zone: str, year: int) -> tuple[Change, ...]:
    """The changes of a zone in a year of UTC, in order.

    Offsets are compared from midnight to midnight, so two changes within one day that cancel
    out would be missed; the IANA data has had none such since 1970.
    """
    info = zone_info(zone)
    start = datetime(year, 1, 1, tzinfo=UTC)
    days = (datetime(year + 1, 1, 1, tzinfo=UTC) - start).days
    in_order = []
    before = info.utcoffset(start.astimezone(info))
    for day in range(days):
        end = start + timedelta(days=day + 1)
        after = info.utcoffset(end.astimezone(info))
        if before != after:
            in_order.append(_change(info, start + timedelta(days=day), end))
        before = after
    return tuple(in_order)


def _change(info: ZoneInfo, early: datetime, late: datetime) -> Change:
    """The change that lies in (early, late], to the second, by halving."""
    before = early.astimezone(info).utcoffset() or timedelta()
    while late - early > timedelta(seconds=1):
        middle = early + timedelta(seconds=(late - early) // timedelta(seconds=2))
        if middle.astimezone(info).utcoffset() == before:
            early = middle
        else:
            late = middle
    local = late.astimezone(info)
    after = local.utcoffset() or timedelta()
    return Change(late, before, after, local.tzname() or "", bool(local.dst()))


def skipped_days(zone: str, minute: int, span: Span) -> tuple[date, ...]:
    """The days of a span on which the zone's clock does not show this minute of the day."""
    return tuple(
        day
        for year in range(span.first.year, span.last.year + 1)
        for day, first, end in _skipped(zone, year)
        if first <= minute < end and day in span
    )


@lru_cache(maxsize=256)
def _skipped(zone: str, year: int) -> tuple[tuple[date, int, int], ...]:
    """The dates of a year with minutes, from one up to another, that the clock skips."""
    gaps = []
    for change in (
        change for near_year in (year - 1, year, year + 1) for change in changes(zone, near_year)
    ):
        if change.resumes > change.local:
            for day in Span.of_days(change.local.date(), change.resumes.date()):
                midnight = datetime.combine(day, datetime.min.time())
                first, end = ((at - midnight) / _MINUTE for at in (change.local, change.resumes))
                if day.year == year:
                    gaps.append((day, ceil(first), ceil(end)))
    return tuple(gaps)


def as_utc(zone: str, day: date, minute: int) -> datetime:
    """The moment of a wall-clock time, as RFC 5545 section 3.3.5 reads it.

    Of a time that comes twice it is the first; a time that clocks skip is read by the offset
    before the change.
    """
    clock_time = as_time(minute).replace(tzinfo=zone_info(zone))
    return datetime.combine(day, clock_time).astimezone(UTC)


def shown_at(zone: str, day: date, minute: int) -> datetime:
    """What the zone's clocks show at a time of a day, without its zone.

    The time itself, but for one that they skip: an hour later, where they go forward by one.
    """
    return as_utc(zone, day, minute).astimezone(zone_info(zone)).replace(tzinfo=None)


def days_of_changes(zone: str, minute: int, span: Span) -> tuple[date, ...]:
    """The days of a span whose time is the first after a change of the clocks."""
    days = []
    for year in range(span.first.year, span.last.year + 1):
        for change in changes(zone, year):
            on_time = datetime.combine(change.local.date(), as_time(minute))
            day = on_time.date() + (ONE_DAY if on_time < change.local else timedelta())
            if day in span:
                days.append(day)
    return tuple(days)
