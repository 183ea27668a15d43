"""Reads values out of the tables of a parsed TOML file, noting everything that does not fit.

Nothing is raised: each reading gives a value, a stand-in where the file's does not fit, and the
`Report` knows whether all is well. So one pass finds every mistake.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import Any, Generic, TypeVar

from sennight.domain.amounts import plain_number
from sennight.domain.courses.problems import Place, Problem, nearest
from sennight.domain.courses.typed_lines import Take, parse_take
from sennight.domain.dates import EARLIEST, LATEST
from sennight.domain.directions.directions import AtTimes, Directions, Timing, Unit
from sennight.domain.directions.parser import DirectionsError
from sennight.domain.directions.understanding import read_usual_directions, read_usual_timing

T = TypeVar("T")
E = TypeVar("E", bound=StrEnum)

MOST_PROBLEMS = 100
"""So many problems are told; more of them help nobody."""
_DIGITS = 30
"""Numbers with more places than this, before or after the point, are no amounts."""

_CONTROLS = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]")

STAND_IN_DIRECTIONS = Directions(Fraction(1), Unit.ML, AtTimes(()))


@dataclass(frozen=True, slots=True)
class ValueKind(Generic[T]):
    """What a value must be: in words, as a reading that gives None, and a stand-in.

    `most` is how many letters a text may have, where that is limited.
    """

    expected: str
    read: Callable[[object], T | None]
    blank: T
    known: tuple[str, ...] = ()
    most: int | None = None


@dataclass
class Report:
    """The problems found so far; of `untold` more nothing is known but how many they are."""

    problems: list[Problem] = field(default_factory=list)
    untold: int = 0

    def add(self, place: Place, message: str) -> None:
        """Note a problem."""
        self.problems.append(Problem(place, message))

    def has(self, *start: str | int) -> bool:
        """Whether a problem lies at a place or under it."""
        return any(problem.place[: len(start)] == start for problem in self.problems)


@dataclass(frozen=True, slots=True)
class Table:
    """One table of the file, its place, and where its problems go."""

    data: Mapping[str, Any]
    place: Place
    report: Report

    def only(self, *keys: str, of: str = "") -> None:
        """Note every key that is not one of these; `of` says what the table describes."""
        belongs = f" of {of}" if of else ""
        unknown = [key for key in self.data if key not in keys]
        for key in unknown[:MOST_PROBLEMS]:
            near = nearest(key, keys) if len(self.report.problems) < MOST_PROBLEMS else ""
            message = f"unknown key{belongs}; expected {', '.join(keys)}{near}"
            self.report.add((*self.place, key), message)
        self.report.untold += len(unknown[MOST_PROBLEMS:])

    def need(self, key: str, kind: ValueKind[T]) -> T:
        """The value of a key that must be there."""
        if key not in self.data:
            self.report.add((*self.place, key), f"missing; expected {kind.expected}")
            return kind.blank
        return self._value(key, kind, kind.blank)

    def may(self, key: str, kind: ValueKind[T], default: T) -> T:
        """The value of a key that may be left out."""
        return self._value(key, kind, default) if key in self.data else default

    def perhaps(self, key: str, kind: ValueKind[T]) -> T | None:
        """The value of a key that may be left out, None where it is."""
        return self._value(key, kind, kind.blank) if key in self.data else None

    def _value(self, key: str, kind: ValueKind[T], blank: T) -> T:
        value = read_value(self.data[key], kind, (*self.place, key), self.report)
        return blank if value is None else value

    def directions(self, key: str = "take") -> Directions:
        """The directions of a key that must be there, in any usual spelling."""
        text = self.need(key, TEXT)
        if not text:
            return STAND_IN_DIRECTIONS
        try:
            return read_usual_directions(text)
        except DirectionsError as error:
            self.report.add((*self.place, key), f"{error}\n{pointer(error)}")
            return STAND_IN_DIRECTIONS

    def take(self, key: str = "take") -> Take:
        """The same with what follows, `1 cup tds for 3 days, then bd`, as steps."""
        text = self.need(key, TEXT)
        if not text:
            return STAND_IN_DIRECTIONS, ()
        try:
            return parse_take(text)
        except DirectionsError as error:
            self.report.add((*self.place, key), f"{error}\n{pointer(error)}")
            return STAND_IN_DIRECTIONS, ()

    def timing(self, key: str = "take") -> Timing | None:
        """A rhythm of a key that must be there, in any usual spelling, without an amount."""
        text = self.need(key, TEXT)
        try:
            return read_usual_timing(text) if text else None
        except DirectionsError as error:
            self.report.add((*self.place, key), f"{error}\n{pointer(error)}")
            return None

    def table(self, key: str, *, needed: bool = False) -> Table:
        """The table under a key, an empty one whose problems are not noted where there is none."""
        value = self.data.get(key)
        if isinstance(value, dict):
            return Table(value, (*self.place, key), self.report)
        if value is not None or needed:
            message = f"found {described(value)}" if value is not None else "missing"
            self.report.add(
                (*self.place, key), f"expected a table, [{self._header(key)}]; {message}"
            )
        return Table({}, (*self.place, key), Report())

    def tables(self, key: str, *, needed: bool = False) -> Iterator[Table]:
        """The tables of a list; where an entry is none, an empty one stands in for it."""
        place = (*self.place, key)
        value = self.data.get(key, [])
        if not isinstance(value, list) or (needed and not value):
            instead = described(value) if value else "none"
            self.report.add(place, f"expected tables, [[{self._header(key)}]]; found {instead}")
            return
        for n, entry in enumerate(value):
            if isinstance(entry, dict):
                yield Table(entry, (*place, n), self.report)
            else:
                self.report.add((*place, n), f"expected a table; found {described(entry)}")
                yield Table({}, (*place, n), Report())

    def _header(self, key: str) -> str:
        return ".".join([*(step for step in self.place if isinstance(step, str)), key])

    def entries(self, key: str) -> Iterator[tuple[Place, object]]:
        """The entries of a list of values, each with its place."""
        value = self.data.get(key, [])
        if not isinstance(value, list):
            self.report.add((*self.place, key), f"expected a list; found {described(value)}")
            return
        for n, entry in enumerate(value):
            yield (*self.place, key, n), entry


def read_value(value: object, kind: ValueKind[T], place: Place, report: Report) -> T | None:
    """A value as its kind, or None with the problem noted."""
    if kind.most and isinstance(value, str) and len(value) > kind.most:
        limit = f"{kind.expected}, of at most {kind.most:,} letters"
        report.add(place, f"expected {limit}; found {len(value):,} letters")
        return None
    result = kind.read(value)
    if result is None:
        near = nearest(value, kind.known) if isinstance(value, str) else ""
        report.add(place, f"expected {kind.expected}; found {described(value)}{near}")
    return result


def described(value: object) -> str:
    """What kind of thing stands in the file, in words."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        short = value if len(value) <= 40 else value[:39] + "…"
        return f"the text “{_CONTROLS.sub(lambda match: ascii(match[0])[1:-1], short)}”"
    if isinstance(value, int):
        return f"the number {value}" if abs(value) < 10**_DIGITS else "a huge number"
    if isinstance(value, Fraction):
        return f"the number {plain_number(value)}"
    words: tuple[tuple[type, str], ...] = (
        (datetime, "a date with a time"),
        (date, f"the date {value}"),
        (time, "a time without quotes"),
        (list, "a list" if value else "an empty list"),
        (dict, "a table"),
    )
    return next((noun for kind, noun in words if isinstance(value, kind)), f"{value}")


def pointer(error: DirectionsError) -> str:
    """The directions with carets under the word at fault, as two lines."""
    carets = "^" * max(1, error.end - error.start)
    return f"    {error.text}\n    {' ' * error.start}{carets}"


def exact(text: str) -> Fraction | float:
    """A TOML float as the very number written; what is no amount stays a float, to be refused."""
    number = Decimal(text.replace("_", ""))
    if number.is_zero():
        return Fraction(0)
    if not number.is_finite() or not -_DIGITS <= number.adjusted() <= _DIGITS:
        return float(number)
    if len(number.as_tuple().digits) > 2 * _DIGITS:
        return float(number)
    return Fraction(number)


# Kinds of values


def _text(value: object) -> str | None:
    text = _prose(value)
    return None if text is None or _CONTROLS.search(text) else text


def _prose(value: object) -> str | None:
    return value if isinstance(value, str) and value.strip() else None


def _day(value: object) -> date | None:
    return value if type(value) is date and EARLIEST <= value <= LATEST else None


def _clock(value: object) -> time | None:
    if isinstance(value, str) and re.fullmatch(r"([01][0-9]|2[0-3]):[0-5][0-9]", value):
        return time.fromisoformat(value)
    return None


def _ratio(value: object) -> Fraction | None:
    number = r"([0-9]{1,30}(?:\.[0-9]{1,30})?)"
    match = re.fullmatch(f"{number}:{number}", value) if isinstance(value, str) else None
    if match is None or not all(Fraction(part) for part in match.groups()):
        return None
    return Fraction(match[2]) / Fraction(match[1])


def _fraction(value: object) -> Fraction | None:
    """A number, or a fraction with no decimal form as text: "1/3"."""
    if isinstance(value, (int, Fraction)) and not isinstance(value, bool):
        return Fraction(value) if abs(value) < 10**_DIGITS else None
    match = re.fullmatch(r"([0-9]{1,30})/([0-9]{1,30})", value) if isinstance(value, str) else None
    return Fraction(int(match[1]), int(match[2])) if match and int(match[2]) else None


TEXT: ValueKind[str] = ValueKind("text in quotes, on one line", _text, "")
NAME: ValueKind[str] = ValueKind("text in quotes, on one line", _text, "", most=200)
"""A text that people write: it has to fit onto a paper."""
LINE: ValueKind[str] = ValueKind("text in quotes, on one line", _text, "", most=1_000)
PROSE: ValueKind[str] = ValueKind("text in quotes", _prose, "", most=5_000)
DAY: ValueKind[date] = ValueKind(
    f"a date such as 2027-01-31, from {EARLIEST} to {LATEST}", _day, EARLIEST
)
CLOCK: ValueKind[time] = ValueKind('a clock time in quotes, "HH:MM"', _clock, time())
RATIO: ValueKind[Fraction] = ValueKind('a ratio in quotes such as "1:5"', _ratio, Fraction(1))


def flag() -> ValueKind[bool]:
    """True alone, for keys that are left out where they do not hold."""
    return ValueKind("true (or leave it out)", lambda value: value is True or None, blank=False)


def either() -> ValueKind[bool]:
    """True or false."""
    return ValueKind("true or false", lambda v: v if isinstance(v, bool) else None, blank=False)


def whole(least: int, most: int) -> ValueKind[int]:
    """A whole number within bounds, both included."""

    def read(value: object) -> int | None:
        fits = type(value) is int and least <= value <= most
        return value if fits and isinstance(value, int) else None

    words = f"a whole number from {least} to {most}" if least < most else f"the number {least}"
    return ValueKind(words, read, least)


def number(above: int, most: int, *, from_there: bool = False) -> ValueKind[Fraction]:
    """A number above (or from) one bound, up to and including the other."""

    def read(value: object) -> Fraction | None:
        result = _fraction(value)
        if (
            result is None
            or result > most
            or result < above
            or (result == above and not from_there)
        ):
            return None
        return result

    words = f"from {above} to {most}" if from_there else f"above {above}, at most {most}"
    return ValueKind(f"a number {words}", read, Fraction(most))


def one_of(choices: type[E], blank: E) -> ValueKind[E]:
    """One of an enumeration's words."""
    words = tuple(str(choice) for choice in choices)

    def read(value: object) -> E | None:
        return choices(value) if isinstance(value, str) and value in words else None

    return ValueKind(f"one of {', '.join(words)}", read, blank, words)


def known_word(what: str, words: Mapping[str, object], *, see: str = "") -> ValueKind[str]:
    """One of the vocabulary's words; `see` says where they are listed."""

    def read(value: object) -> str | None:
        return value if isinstance(value, str) and value in words else None

    return ValueKind(f"{what}{see}", read, "", tuple(words))
