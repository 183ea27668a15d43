"""The metadata with its naming convention, and columns for the domain's small values.

Every constraint has a name, since SQLite can only drop by name later.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from fractions import Fraction
from functools import lru_cache
from typing import Any, ClassVar, TypeVar

from sqlalchemy import Dialect, Integer, MetaData, Text
from sqlalchemy.dialects.sqlite import DATE
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column
from sqlalchemy.types import TypeDecorator

from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.directions.directions import Directions, Timing
from sennight.domain.directions.parser import parse_directions, parse_timing
from sennight.store.errors import UnreadableError

Value = TypeVar("Value")

NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}


class TextColumn(TypeDecorator[Value]):
    """A domain value kept as text: `write` says how, `read` takes it back."""

    impl = Text
    cache_ok = True
    what = "a text"

    def write(self, value: Value) -> str:
        """The text of a value."""
        return str(value)

    def read(self, text: str) -> Value:
        """The value of a text."""
        raise NotImplementedError

    def process_bind_param(self, value: Value | None, dialect: Dialect) -> str | None:  # noqa: ARG002
        """To the column."""
        return None if value is None else self.write(value)

    def process_result_value(self, value: str | None, dialect: Dialect) -> Value | None:  # noqa: ARG002
        """From the column."""
        if value is None:
            return None
        try:
            return self.read(value)
        except (ValueError, ArithmeticError, TypeError, AttributeError) as error:
            raise _unreadable(self.what, error) from None


@lru_cache(maxsize=4096)
def _fraction(text: str) -> Fraction:
    """The number of a text; the same few stand in thousands of rows."""
    return Fraction(text)


class FractionText(TextColumn[Fraction]):
    """An exact number: `5/2`."""

    cache_ok = True
    what = "a number"

    def read(self, text: str) -> Fraction:
        """The number of a text."""
        return _fraction(text)


class LengthText(TextColumn[Length]):
    """A length: `6 w`."""

    cache_ok = True
    what = "the length of a phase"

    def read(self, text: str) -> Length:
        """The length of a text."""
        return read_length(text)


class DirectionsText(TextColumn[Directions]):
    """Directions in their short form: `2 mL tds ac`."""

    cache_ok = True
    what = "the directions of a remedy"

    def read(self, text: str) -> Directions:
        """The directions of a text."""
        return read_directions(text)


class TimingText(TextColumn[Timing]):
    """A rhythm in the short form, without an amount: `bd pc`."""

    cache_ok = True
    what = "the rhythm of advice"

    def read(self, text: str) -> Timing:
        """The rhythm of a text."""
        return parse_timing(text)


class Instant(TextColumn[datetime]):
    """A moment in time as ISO 8601 in UTC; a time without a zone is refused."""

    cache_ok = True
    what = "a time"

    def write(self, value: datetime) -> str:
        """The text of a time; raises ValueError for one without a zone."""
        if value.tzinfo is None:
            raise ValueError("a time without a zone; expected one with a zone, such as UTC")
        return value.astimezone(UTC).isoformat(timespec="microseconds")

    def read(self, text: str) -> datetime:
        """The time of a text, in UTC."""
        return datetime.fromisoformat(text)


class Day(DATE):
    """A date as ISO 8601."""

    def result_processor(
        self, dialect: Dialect, coltype: object
    ) -> Callable[[Any], date | None] | None:
        """From the column."""
        read = super().result_processor(dialect, coltype)

        def process(value: str | None) -> date | None:
            try:
                day: date | None = read(value) if read else None
            except (ValueError, TypeError) as error:
                raise _unreadable("a date", error) from None
            return day

        return process


class DayNumber(TypeDecorator[date]):
    """A date as the count of days from 1 January of year 1, which is 1.

    In SQLite's own terms the date is `date(day + 1721424.5)`.
    """

    impl = Integer
    cache_ok = True

    def process_bind_param(self, value: date | None, dialect: Dialect) -> int | None:  # noqa: ARG002
        """To the column."""
        return None if value is None else value.toordinal()

    def process_result_value(self, value: int | None, dialect: Dialect) -> date | None:  # noqa: ARG002
        """From the column."""
        if value is None:
            return None
        try:
            return date.fromordinal(value)
        except (ValueError, OverflowError, TypeError) as error:
            raise _unreadable("a date", error) from None


def _unreadable(what: str, error: Exception) -> UnreadableError:
    return UnreadableError(f"{what} cannot be read ({type(error).__name__})")


def read_length(text: str) -> Length:
    """A length from its text."""
    count, unit = text.split()
    return Length(int(count), CalendarUnit(unit))


@lru_cache(maxsize=4096)
def read_directions(text: str) -> Directions:
    """Directions from their short form; the same few texts recur in every course."""
    return parse_directions(text)


class Base(DeclarativeBase):
    """The base of all rows."""

    metadata = MetaData(naming_convention=NAMES)
    type_annotation_map: ClassVar[dict[Any, Any]] = {
        str: Text,
        Fraction: FractionText,
        Length: LengthText,
        Directions: DirectionsText,
        Timing: TimingText,
        datetime: Instant,
        date: Day,
    }


class KeyedRow:
    """A row that is known by a number of the database's own."""

    id: Mapped[int] = mapped_column(primary_key=True)


class ListRow(KeyedRow):
    """A row of a list: its place in it, from 0."""

    place: Mapped[int]


class Version(KeyedRow):
    """One saved version of a record, from 1, and when it was saved."""

    version: Mapped[int]
    saved: Mapped[datetime]
