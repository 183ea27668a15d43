"""Days as people type them: `14/3/68`, `3 May`, `next Monday`, `+3 w`, `in 2 weeks`, `today`.

A day up to which something keeps may be a month, as packets have it: `03/27`, `March 2027`.

What is short of a year, or has only two figures of one, is read as the day nearest to today; where
only past days make sense (`past`), such as a birth, as the last one that is not after today. A
weekday is the next one after today, or with `past` the last one before it. Day comes before month.
"""

from __future__ import annotations

import calendar
import re
from collections.abc import Callable, Iterable
from datetime import date, timedelta

from sennight.domain.dates import EARLIEST, LATEST, add_months
from sennight.domain.directions.plain_words import MONTH_NAMES, WEEKDAY_NAMES

_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_FULL = re.compile(
    r"(\d{1,2})(?:st|nd|rd|th)?[ ./-]+(\d{1,2}|[^\W\d]{3,})\.?(?:[ ./,-]+(\d{4}|\d{2}))?"
)
_MONTH_FIRST = re.compile(r"([^\W\d]{3,})\.? (\d{1,2})(?:st|nd|rd|th)?(?:,? (\d{4}))?")
_MONTH = re.compile(r"(\d{1,2}|[^\W\d]{3,})\.?[ ./-]+(\d{4}|\d{2})")
_YEAR_FIRST = re.compile(r"(\d{4})[ ./-]+(\d{1,2})")
_STEP = re.compile(r"(?:in |([+-]) ?)(\d{1,4}) ?(d|days?|w|wks?|weeks?|m|months?|y|yrs?|years?)")
_AGO = re.compile(r"(\d{1,4}) ?(d|days?|w|wks?|weeks?|m|months?|y|yrs?|years?) ago")
_WEEKDAY = re.compile(r"(?:(next|last|on|this) )?([^\W\d]{3,})")
_NAMED = {"today": 0, "now": 0, "tomorrow": 1, "yesterday": -1}


class TypedDateError(ValueError):
    """What was typed is no day."""


class NoSuchDayError(TypedDateError):
    """It is written as a day, but the calendar has none such."""


class YearOutOfReachError(TypedDateError):
    """Its year is one that no client lives in."""


def typed_date(text: str, today: date | None = None, *, past: bool = False) -> date:
    """The day that was typed; raises TypedDateError and its kinds.

    Without `today` only days with a whole year are understood, since the rest depends on it.
    """
    plain = " ".join(text.lower().split())
    day = _written(plain, today, past=past)
    if day is None and today is not None:
        day = _counted_from(plain, today, past=past)
    if day is None:
        raise TypedDateError
    if not EARLIEST <= day <= LATEST:
        raise YearOutOfReachError
    return day


def typed_last_day(text: str, today: date) -> date:
    """The day up to which something keeps; raises TypedDateError and its kinds.

    A month lasts to its last day: two numbers are month and year, and so are a month's name and
    two figures. Of two figures the year nearest to today is meant. Else it is a day as usual.
    """
    plain = " ".join(text.lower().split())
    if match := _YEAR_FIRST.fullmatch(plain):
        year, month = match[1], match[2]
    elif match := _MONTH.fullmatch(plain):
        month, year = match[1], match[2]
    else:
        return typed_date(text, today)
    number = int(month) if month.isdigit() else _place(month, MONTH_NAMES) + 1
    if not 1 <= number <= 12:
        raise NoSuchDayError
    whole = int(year) if len(year) == 4 else _nearest_year(int(year), today)
    if not EARLIEST.year <= whole <= LATEST.year:
        raise YearOutOfReachError
    return date(whole, number, calendar.monthrange(whole, number)[1])


def _nearest_year(two_figures: int, today: date) -> int:
    century = today.year - today.year % 100
    meant = (century + by + two_figures for by in (-100, 0, 100))
    return min(meant, key=lambda year: abs(year - today.year))


def _written(text: str, today: date | None, *, past: bool) -> date | None:
    """A day by its number and month; None where it is not written so."""
    if match := _ISO.fullmatch(text):
        return _day(int(match[1]), int(match[2]), int(match[3]))
    if match := _FULL.fullmatch(text):
        number, month, year = match[1], match[2], match[3]
    elif match := _MONTH_FIRST.fullmatch(text):
        month, number, year = match[1], match[2], match[3]
    else:
        return None
    month_number = int(month) if month.isdigit() else _place(month, MONTH_NAMES) + 1
    if not month_number or (today is None and len(year or "") < 4):
        return None
    if year and len(year) == 4:
        return _day(int(year), month_number, int(number))
    return _nearest(int(number), month_number, year, today or date.min, past=past)


def _nearest(number: int, month: int, year: str | None, today: date, *, past: bool) -> date:
    """The day nearest to today, or the last before it, among the years that can be meant."""
    years = range(today.year - 100, today.year + 101)
    meant = (each for each in years if not year or each % 100 == int(year))
    days = [day for each in meant if (day := _perhaps(each, month, number))]
    possible = [day for day in days if not past or day <= today]
    if not possible:
        raise NoSuchDayError
    return min(possible, key=lambda day: abs(day - today))


def _counted_from(text: str, today: date, *, past: bool) -> date | None:
    """A day told by its distance from today, or as a weekday."""
    if text in _NAMED:
        return today + timedelta(days=_NAMED[text])
    if match := _STEP.fullmatch(text):
        return _moved(today, int(match[2]) * (-1 if match[1] == "-" else 1), match[3])
    if match := _AGO.fullmatch(text):
        return _moved(today, -int(match[1]), match[2])
    match = _WEEKDAY.fullmatch(text)
    weekday = _place(match[2], WEEKDAY_NAMES) if match else -1
    if match is None or weekday < 0:
        return None
    if match[1] == "last" or (past and match[1] is None):
        return today - timedelta(days=(today.weekday() - weekday - 1) % 7 + 1)
    return today + timedelta(days=(weekday - today.weekday() - 1) % 7 + 1)


def _moved(today: date, by: int, unit: str) -> date:
    moves: dict[str, Callable[[], date]] = {
        "d": lambda: today + timedelta(days=by),
        "w": lambda: today + timedelta(weeks=by),
        "m": lambda: add_months(today, by),
        "y": lambda: add_months(today, 12 * by),
    }
    try:
        return moves[unit[0]]()
    except (OverflowError, ValueError) as error:
        raise YearOutOfReachError from error


def _place(word: str, names: Iterable[str]) -> int:
    """The place of the name that a word is, or begins, from 0; -1 where it is none."""
    named = (n for n, name in enumerate(names) if name.lower().startswith(word))
    return next(named, -1)


def _day(year: int, month: int, number: int) -> date:
    day = _perhaps(year, month, number)
    if day is None:
        raise NoSuchDayError
    return day


def _perhaps(year: int, month: int, number: int) -> date | None:
    try:
        return date(year, month, number)
    except ValueError:
        return None
