"""Local civil dates.

A `Span` is half-open: `first` is in it, `end` is not. What a practitioner reads and
writes ("from", "to", "last day") includes both ends; `Span.of_days` and `Span.last` convert.
"""

from __future__ import annotations

import calendar
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from operator import attrgetter

ONE_DAY = timedelta(days=1)
EARLIEST, LATEST = date(1850, 1, 1), date(2200, 12, 31)
"""No birth lies before, and no plan reaches behind; a day outside is a slip of the keyboard."""
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


class CalendarUnit(StrEnum):
    """What a length is counted in; months are calendar months."""

    DAYS = "d"
    WEEKS = "w"
    MONTHS = "mo"


def add_months(day: date, months: int) -> date:
    """The same day of the month so many months on, or that month's last day if it has none.

    31 January + 1 month = 28 February (29 in a leap year).
    """
    index = day.year * 12 + day.month - 1 + months
    year, month = divmod(index, 12)
    last = calendar.monthrange(year, month + 1)[1]
    return date(year, month + 1, min(day.day, last))


def course_week(start: date, day: date) -> int:
    """The course week (1, 2 …) that a day lies in; week n is days 7n-6 to 7n from `start`."""
    return (day - start).days // 7 + 1


@dataclass(frozen=True, slots=True)
class Length:
    """A number of days, weeks or calendar months, 1 or more."""

    count: int
    unit: CalendarUnit

    def after(self, first: date) -> date:
        """The first day that a run of this length, begun on `first`, no longer holds."""
        if self.unit is CalendarUnit.MONTHS:
            return add_months(first, self.count)
        days = self.count * (7 if self.unit is CalendarUnit.WEEKS else 1)
        return first + timedelta(days=days)

    def __str__(self) -> str:
        return f"{self.count} {self.unit}"


def days_or_weeks(days: int) -> Length:
    """So many days as a length, in weeks where they are whole ones."""
    whole, rest = divmod(days, 7)
    return Length(days, CalendarUnit.DAYS) if rest else Length(whole, CalendarUnit.WEEKS)


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """The days from `first` up to, not including, `end`."""

    first: date
    end: date

    @classmethod
    def of_days(cls, first: date, last: date) -> Span:
        """A span given as people give it, the last day included."""
        return cls(first, last + ONE_DAY)

    @property
    def last(self) -> date:
        """The last day in the span (meaningless for an empty one)."""
        return self.end - ONE_DAY

    @property
    def days(self) -> int:
        """How many days it holds; 0 or less for an empty one."""
        return (self.end - self.first).days

    def __bool__(self) -> bool:
        return self.first < self.end

    def __contains__(self, day: date) -> bool:
        return self.first <= day < self.end

    def __iter__(self) -> Iterator[date]:
        return (self.first + timedelta(days=n) for n in range(self.days))

    def overlap(self, other: Span) -> Span:
        """The days in both; an empty span where there are none."""
        return Span(max(self.first, other.first), min(self.end, other.end))

    def touches(self, other: Span) -> bool:
        """Whether the two have a day in common."""
        return self.first < other.end and other.first < self.end and bool(self) and bool(other)


def without(span: Span, holes: tuple[Span, ...]) -> tuple[Span, ...]:
    """What is left of a span, in order, once the days of the holes are taken out."""
    left: tuple[Span, ...] = (span,) if span else ()
    for hole in holes:
        if hole.first >= span.end or hole.end <= span.first:
            continue
        pieces = (
            piece
            for part in left
            for piece in (
                Span(part.first, min(part.end, hole.first)),
                Span(max(part.first, hole.end), part.end),
            )
        )
        left = tuple(piece for piece in pieces if piece) if hole else left
    return left


_first = attrgetter("first")


def joined(spans: tuple[Span, ...]) -> tuple[Span, ...]:
    """The same days as fewest spans, in order: overlapping and adjacent ones become one."""
    runs: list[Span] = []
    for span in sorted(filter(None, spans), key=_first):
        if runs and span.first <= runs[-1].end:
            runs[-1] = Span(runs[-1].first, max(runs[-1].end, span.end))
        else:
            runs.append(span)
    return tuple(runs)


def whole_years(born: date, today: date) -> int:
    """Age in whole years; those born on 29 February turn on 1 March in other years."""
    return today.year - born.year - ((today.month, today.day) < (born.month, born.day))


def whole_months(born: date, today: date) -> int:
    """Age in whole months; those born on the 31st turn on the 1st after a shorter month."""
    months = (today.year - born.year) * 12 + today.month - born.month
    return months - (today.day < born.day)
