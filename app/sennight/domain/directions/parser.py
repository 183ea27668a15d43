"""Reads the trade's short form of directions.

    directions = amount [- amount] unit rhythm {qualifier}

Case and spacing do not matter, plurals are accepted, qualifiers come in any order. What does
not fit is a DirectionsError that says which word, what was expected, and what to write.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import time
from fractions import Fraction

from sennight.domain.amounts import plain_number
from sennight.domain.dates import WEEKDAYS, CalendarUnit, Length
from sennight.domain.day import Moment
from sennight.domain.directions.directions import (
    DAILY,
    NAMED_RHYTHMS,
    AsNeeded,
    AtTimes,
    Cycle,
    DayRule,
    Directions,
    EveryHours,
    Food,
    Timing,
    Unit,
)
from sennight.domain.directions.scanner import LARGEST, DirectionsError, Scanner

__all__ = ["LARGEST", "DirectionsError", "parse_amount", "parse_directions", "parse_timing"]

_UNITS = {unit.lower(): unit for unit in Unit} | {f"{unit.lower()}s": unit for unit in Unit}
_SPANS = {form: unit for unit in CalendarUnit for form in (str(unit), f"{unit}s")}
_DAY_WORDS = ("day", "days")
_RHYTHMS = (*NAMED_RHYTHMS, "at", "every", "prn")
_HOW_OFTEN = f"how often: {', '.join(NAMED_RHYTHMS)}, at …, every N h, prn"
_LENGTH = "days, weeks or months (d, w, mo), as in “3 w on 1 w off”"
_QUALIFIERS = (
    "ac, pc, with food, and prn, max N/day, gap N h, on mon wed fri, alternate days, "
    "every N days, N w on N w off"
)


def parse_directions(text: str) -> Directions:
    """Directions from their short form; raises DirectionsError, which says where and why."""
    return _Reader(text).directions()


def parse_amount(text: str) -> tuple[Fraction, Unit]:
    """An amount by itself, such as `5 mL`; raises DirectionsError."""
    return _Reader(text).amount_alone()


def parse_timing(text: str) -> Timing:
    """A rhythm and its qualifiers without an amount, such as `bd pc`; raises DirectionsError."""
    return _Reader(text).timing()


@dataclass
class _Qualifiers:
    """What has been read behind the rhythm; each kind may come once."""

    food: Food | None = None
    as_needed: bool = False
    most: int | None = None
    gap: int | None = None
    days: DayRule | None = None
    cycle: Cycle | None = None
    where: dict[str, tuple[int, int]] = field(default_factory=dict)


class _Reader(Scanner):
    """One pass from left to right over the words of one text."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.qualifiers = _Qualifiers()
        self.spaced: tuple[int, int] | None = None

    def directions(self) -> Directions:
        amount = self.amount()
        most = self.upper_end(amount)
        unit = self.unit()
        told = self.timing()
        return Directions(
            amount, unit, told.rhythm, told.as_needed, told.food, told.days, told.cycle, most
        )

    def amount_alone(self) -> tuple[Fraction, Unit]:
        amount, unit = self.amount(), self.unit()
        if self.at < len(self.tokens):
            raise self.fail("an amount and its unit, and no more")
        return amount, unit

    def upper_end(self, amount: Fraction) -> Fraction | None:
        """The most of a range of amounts, as in `1-2 cup`; None where it is one amount."""
        if self.peek() not in ("-", "–"):
            return None
        self.at += 1
        start = self.at
        most = self.amount()
        if most <= amount:
            self.at = start
            raise self.fail(f"more than {plain_number(amount)}", "a range goes from less to more")
        return most

    def timing(self) -> Timing:
        rhythm = self.rhythm()
        while self.at < len(self.tokens):
            self.qualifier()
        as_needed = self.as_needed(rhythm)
        q = self.qualifiers
        return Timing(rhythm, as_needed, q.food, q.days or DAILY, q.cycle)

    # Unit and rhythm

    def is_unit(self) -> bool:
        return self.peek() in _UNITS

    def unit(self) -> Unit:
        word = self.peek()
        if not self.is_unit():
            raise self.fail(f"a unit: {', '.join(Unit)}", self.hint())
        self.at += 1
        return _UNITS[word]

    def rhythm(self) -> AtTimes | EveryHours | None:
        word = self.expect(_RHYTHMS, _HOW_OFTEN)
        if word in NAMED_RHYTHMS:
            return AtTimes(NAMED_RHYTHMS[word])
        if word == "at":
            return self.times()
        if word == "prn":
            self.mark("prn", self.at - 1)
            return None
        return self.hours()

    def times(self) -> AtTimes:
        times = [self.time()]
        while self.peek() == ",":
            self.at += 1
            start = self.at
            when = self.time()
            if when in times:
                self.at = start
                raise self.fail("another time", "this time is given twice")
            times.append(when)
        return AtTimes(tuple(times))

    def time(self) -> Moment | time:
        expected = f"a time such as 08:30, or a moment: {', '.join(Moment)}"
        if self.kind() == "clock":
            hour, minute = self.peek().split(":")
            if len(hour) != 2 or len(minute) != 2:
                raise self.fail(expected, "hours and minutes have two figures each")
            if int(hour) > 23 or int(minute) > 59:
                raise self.fail(expected, "a time runs from 00:00 to 23:59")
            self.at += 1
            return time(int(hour), int(minute))
        joined = "-".join((self.peek(), self.peek(2))) if self.peek(1) == "-" else self.peek()
        if joined not in tuple(Moment):
            raise self.fail(expected)
        self.at += 3 if "-" in joined else 1
        return Moment(joined)

    def hours(self) -> EveryHours | None:
        start = self.at
        least = self.whole(1, 24, "hours")
        if self.peek() in ("-", "–"):
            self.at += 1
            most = self.whole(least, 24, "hours")
            self.expect("h", "hours, as in “4 h”")
            self.mark("prn", self.at)
            self.expect("prn", "prn, since a span of hours is for doses taken as needed")
            self.spaced = (least, most)
            return None
        if self.peek() in (*_DAY_WORDS, *_SPANS) and self.peek() != "h":
            self.at = start - 1
            raise self.fail("how often in a day before it, such as od", "this says on which days")
        self.expect("h", "hours, as in “4 h”")
        if self.peek() == "prn":
            raise self.fail(f"and prn, or every {least}-{least + 2} h prn", "a word is missing")
        return EveryHours(least)

    # Qualifiers

    def qualifier(self) -> None:
        readers: dict[str, Callable[[], None]] = {
            "ac": self.food,
            "pc": self.food,
            "with": self.food,
            "and": self.and_prn,
            "max": self.most,
            "gap": self.gap,
            "on": self.weekdays,
            "alternate": self.alternate,
            "every": self.every_days,
        }
        if self.kind() == "number":
            self.cycle()
        elif self.peek() in readers:
            readers[self.peek()]()
        else:
            raise self.fail(f"nothing more, or one of: {_QUALIFIERS}")

    def once(self, kind: str, words: str) -> None:
        """Refuse a second qualifier of a kind, and remember where the first stands."""
        if kind in self.qualifiers.where:
            raise self.fail(f"one {words} only", "this is the second")
        self.mark(kind, self.at)

    def mark(self, kind: str, index: int) -> None:
        if index < len(self.tokens):
            token = self.tokens[index]
            self.qualifiers.where[kind] = (token.start, token.end)

    def food(self) -> None:
        self.once("food", "of ac, pc and with food")
        word = self.expect(("ac", "pc", "with"), "ac, pc or with food")
        if word == "with":
            self.expect("food", "food, as in “with food”")
            self.qualifiers.food = Food.WITH
        else:
            self.qualifiers.food = Food(word)

    def and_prn(self) -> None:
        if "prn" in self.qualifiers.where:
            raise self.fail("prn once only", "this is the second")
        self.at += 1
        self.mark("prn", self.at)
        self.expect("prn", "prn, as in “and prn”")
        self.qualifiers.as_needed = True

    def most(self) -> None:
        self.once("max", "max")
        self.at += 1
        self.qualifiers.most = self.whole(1, 99, "doses")
        self.expect("/", "/day, as in “max 4/day”")
        self.expect("day", "day, as in “max 4/day”")

    def gap(self) -> None:
        self.once("gap", "gap")
        self.at += 1
        self.qualifiers.gap = self.whole(1, 24, "hours")
        self.expect("h", "hours, as in “4 h”")

    def weekdays(self) -> None:
        self.once("days", "rule for the days")
        self.at += 1
        days: list[int] = []
        while self.peek() in WEEKDAYS:
            number = WEEKDAYS.index(self.peek())
            if number in days:
                raise self.fail("another weekday", "this day is given twice")
            days.append(number)
            self.at += 1
        if not days:
            raise self.fail(f"a weekday: {', '.join(WEEKDAYS)}")
        self.qualifiers.days = DAILY if len(days) == 7 else DayRule(weekdays=tuple(sorted(days)))

    def alternate(self) -> None:
        self.once("days", "rule for the days")
        self.at += 1
        self.expect("days", "days, as in “alternate days”")
        self.qualifiers.days = DayRule(every=2)

    def every_days(self) -> None:
        self.once("days", "rule for the days")
        self.at += 1
        self.qualifiers.days = DayRule(every=self.whole(1, 366, "days"))
        self.expect(_DAY_WORDS, "days, as in “every 3 days”")

    def cycle(self) -> None:
        self.once("cycle", "cycle of time on and time off")
        on = self.length()
        self.expect("on", "on, as in “3 w on 1 w off”")
        off = self.length()
        self.expect("off", "off, as in “3 w on 1 w off”")
        self.qualifiers.cycle = Cycle(on, off)

    def length(self) -> Length:
        count = self.whole(1, 366, "a length")
        if self.peek() not in _SPANS:
            second = "directions have one amount, the same at each time" if self.is_unit() else ""
            raise self.fail(_LENGTH, second or self.hint())
        self.at += 1
        return Length(count, _SPANS[self.tokens[self.at - 1].text.lower()])

    # As needed

    def as_needed(self, rhythm: AtTimes | EveryHours | None) -> AsNeeded | None:
        q = self.qualifiers
        if rhythm is not None and not q.as_needed:
            for kind in ("max", "gap"):
                if kind in q.where:
                    start, end = q.where[kind]
                    why = f"{kind} bounds doses taken as needed"
                    raise DirectionsError(self.text, start, end, "“and prn” before it", why)
            return None
        if q.most is None and q.gap is None and self.spaced is None:
            start, end = q.where["prn"]
            why = "the most in a day is missing"
            expected = "max N/day or gap N h with it"
            raise DirectionsError(self.text, start, end, expected, why)
        return AsNeeded(q.most, q.gap, self.spaced)
