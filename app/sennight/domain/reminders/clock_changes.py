"""Where a zone's clocks change: the local times that a day does not have, or has twice.

The rules come from the IANA data that `zoneinfo` reads; nothing is known of them here.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from math import ceil
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sennight.domain.dates import Span
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


def zone_info(zone: str) -> ZoneInfo:
    """The zone of that IANA name; raises UnknownZoneError."""
    try:
        return ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise UnknownZoneError(zone) from error


@lru_cache(maxsize=256)
def changes(zone: str, year: int) -> tuple[Change, ...]:
    """The changes of a zone in a year of UTC, in order.

    Offsets are compared from midnight to midnight, so two changes within one day that cancel
    out would be missed; the IANA data has had none such since 1970.
    """
    info = zone_info(zone)
    start = datetime(year, 1, 1, tzinfo=UTC)
    days = (datetime(year + 1, 1, 1, tzinfo=UTC) - start).days
    found = []
    before = info.utcoffset(start.astimezone(info))
    for n in range(days):
        end = start + timedelta(days=n + 1)
        after = info.utcoffset(end.astimezone(info))
        if before != after:
            found.append(_change(info, start + timedelta(days=n), end))
        before = after
    return tuple(found)


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
    found = []
    for change in (c for near in (year - 1, year, year + 1) for c in changes(zone, near)):
        if change.resumes > change.local:
            for day in Span.of_days(change.local.date(), change.resumes.date()):
                midnight = datetime.combine(day, datetime.min.time())
                first, end = ((at - midnight) / _MINUTE for at in (change.local, change.resumes))
                if day.year == year:
                    found.append((day, ceil(first), ceil(end)))
    return tuple(found)


def as_utc(zone: str, day: date, minute: int) -> datetime:
    """The moment of a wall-clock time, as RFC 5545 section 3.3.5 reads it.

    Of a time that comes twice it is the first; a time that clocks skip is read by the offset
    before the change.
    """
    return _read(zone, day, minute, fold=0)


def latest_utc(zone: str, day: date, minute: int) -> datetime:
    """The last moment that any reader may take a wall-clock time for: the second of two."""
    return max(_read(zone, day, minute, fold=fold) for fold in (0, 1))


def _read(zone: str, day: date, minute: int, fold: int) -> datetime:
    clock_time = as_time(minute).replace(tzinfo=zone_info(zone), fold=fold)
    return datetime.combine(day, clock_time).astimezone(UTC)
