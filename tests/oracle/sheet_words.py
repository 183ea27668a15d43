"""Dates, times and doses as the client's papers say them, read back with patterns.

Part of the second reading: nothing of the program is imported. A date that does not fall on the
weekday beside it is a mistake of the paper, and fails here.
"""

from __future__ import annotations

import re
from collections.abc import Set
from datetime import date, timedelta
from fractions import Fraction
from functools import lru_cache

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_WEEKDAY = f"(?:{'|'.join(WEEKDAYS)})"
DAY = rf"{_WEEKDAY} \d{{1,2}} (?:{'|'.join(MONTHS)})(?: \d{{4}})?"
SPAN = rf"(?:{_WEEKDAY} \d{{1,2}} to {DAY}|{DAY} to {DAY}|{DAY})"
DOSE = r"(?:a thin layer|[\d½⅓⅔¼¾][\d.½⅓⅔¼¾/]*(?: to [\d.½⅓⅔¼¾/]+)? [A-Za-z]+(?: \([^)]*\))?)"
_FRACTIONS = {"½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4"}
_UNITS = {"teaspoon": "tsp", "tablespoon": "tbsp"}
TIMES_A_DAY = {"once": 1, "twice": 2, "three times": 3, "four times": 4, "five times": 5}

Days = tuple[date, date]
"""First and last day."""


def day_of(words: str, year: int) -> date:
    """A date in words; `year` is the one that is not said."""
    told = words.split()
    day = date(int(told[3]) if len(told) > 3 else year, MONTHS.index(told[2]) + 1, int(told[1]))
    assert WEEKDAYS[day.weekday()] == told[0], words
    return day


def days_of(words: str, year: int) -> Days:
    """A run of days in words, both ends included."""
    if " to " not in words:
        return day_of(words, year), day_of(words, year)
    first, last = words.split(" to ")
    end = day_of(last, year)
    if len(first.split()) == 2:
        weekday, number = first.split()
        begin = end.replace(day=int(number))
        assert WEEKDAYS[begin.weekday()] == weekday, words
        return begin, end
    return day_of(first, year), end


@lru_cache(maxsize=4096)
def spans_of(words: str, year: int) -> tuple[Days, ...]:
    """Several runs of days."""
    return tuple(days_of(told, year) for told in re.findall(SPAN, words))


@lru_cache(maxsize=4096)
def each_day(spans: tuple[Days, ...]) -> frozenset[date]:
    """All days of some runs."""
    return frozenset(
        first + timedelta(n) for first, last in spans for n in range((last - first).days + 1)
    )


@lru_cache(maxsize=4096)
def amount_of(words: str) -> tuple[Fraction, Fraction, str]:
    """Least, most and unit of a dose in words."""
    if words in ("a thin layer", "1 bath", "1 bowl"):
        return Fraction(1), Fraction(1), "application"
    told = re.match(r"(\S+)(?: to (\S+))? ([A-Za-z]+)", words)
    assert told, words
    noun = told[3] if told[3] in ("mL", "g", "mg") else told[3].removesuffix("s")
    least = number_of(told[1])
    return least, number_of(told[2]) if told[2] else least, _UNITS.get(noun, noun)


def number_of(words: str) -> Fraction:
    """A number as it is said: `1½`."""
    whole, last = (words[:-1], words[-1]) if words[-1] in _FRACTIONS else (words, "")
    return Fraction(whole or 0) + (Fraction(_FRACTIONS[last]) if last else 0)


def minute_of(clock: str, moment: str) -> int:
    """Minutes from the midnight that begins the client's day."""
    hours, minutes = clock.split(":")
    late = 24 * 60 if moment.endswith("after midnight") else 0
    return int(hours) * 60 + int(minutes) + late


@lru_cache(maxsize=4096)
def weekdays_of(words: str) -> frozenset[int]:
    """The weekdays that are named with an s: `on Mondays and Fridays`."""
    return frozenset(n for n, name in enumerate(WEEKDAYS) if f"{name}s" in words)


@lru_cache(maxsize=4096)
def ceiling_of(words: str) -> int | None:
    """The most doses as needed beyond the timed ones."""
    extra = re.search(r"up to (\d+) extra (?:dose|time)s? a day", words)
    alone = re.search(r"No more than (\d+) (?:dose|time)s? a day\.", words)
    return int(extra[1]) if extra else int(alone[1]) if alone else None


@lru_cache(maxsize=4096)
def counted_of(words: str, year: int) -> tuple[int, list[date]] | None:
    """Every how many days, and from which days on they are counted."""
    told = re.search(r"Every (other day|\d+ days): first on ([^.]*)\.", words)
    if not told:
        return None
    every = 2 if told[1] == "other day" else int(told[1].split()[0])
    return every, [day_of(day, year) for day in re.findall(DAY, told[2])]


def is_counted(day: date, counted: tuple[int, list[date]], taken: Set[date]) -> bool:
    """Whether a counted dose falls on a day.

    `taken` are the days of the directions, gaps left out. After a gap counting begins again on
    the day that is named for it, and nothing is due before.
    """
    every, starts = counted
    run = day
    while run - timedelta(1) in taken:
        run -= timedelta(1)
    begun = [start for start in starts if start <= day]
    resumed = [start for start in starts if start >= run and _is_run(run, start, taken)]
    if not begun or (resumed and day < min(resumed)):
        return False
    return (day - max(begun)).days % every == 0


def _is_run(first: date, last: date, taken: Set[date]) -> bool:
    return all(first + timedelta(n) in taken for n in range((last - first).days + 1))
