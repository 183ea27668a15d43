"""Reads what is typed into a field: dates, clock times and numbers, in the usual ways of writing.

Each reader raises ReadingError, whose message says what was expected; the field shows it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, time
from fractions import Fraction
from zoneinfo import available_timezones

from sennight.desktop.kit.translating import translate
from sennight.domain.dates import EARLIEST, LATEST
from sennight.domain.day import Moment
from sennight.domain.directions.typed_dates import (
    NoSuchDayError,
    TypedDateError,
    YearOutOfReachError,
    typed_date,
    typed_last_day,
)

_CLOCK = re.compile(r"(\d{1,2})(?:[:.h ]?(\d{2}))?")
_NUMBER = re.compile(r"\d{1,4}(?:[.,]\d{1,3})?")


class ReadingError(ValueError):
    """What was typed cannot be read; the message says what was expected."""


def read_date(text: str, today: date | None = None, *, past: bool = False) -> date:
    """A day as it is usually typed: `1 May 1970`, `1/5/70` (day first), `next Monday`, `+3 w`.

    Without `today` a whole year is needed; `past` is for days that cannot be to come.
    """
    examples = _date_examples(has_today=today is not None and not past)
    return _day_read(lambda: typed_date(text, today, past=past), examples)


def read_last_day(text: str, today: date) -> date:
    """The day up to which something keeps: a day, or a month as packets have it, `03/27`."""
    examples = translate("Reading", "Enter a date or a month, for example 30 June 2028 or 06/28")
    return _day_read(lambda: typed_last_day(text, today), examples)


def _day_read(read: Callable[[], date], examples: str) -> date:
    try:
        return read()
    except NoSuchDayError as error:
        raise ReadingError(
            translate("Reading", "There is no such day. Enter a date, for example 1 May 1970")
        ) from error
    except YearOutOfReachError as error:
        words = translate("Reading", "Enter a year from {first} to {last}")
        raise ReadingError(words.format(first=EARLIEST.year, last=LATEST.year)) from error
    except TypedDateError as error:
        raise ReadingError(examples) from error


def _date_examples(*, has_today: bool) -> str:
    if has_today:
        return translate("Reading", "Enter a date, for example 1 May 1970, Monday or +3 weeks")
    return translate("Reading", "Enter a date, for example 1 May 1970 or 1970-05-01")


def read_clock(text: str) -> time:
    """A clock time typed as `7:30`, `07.30`, `0730` or `7`."""
    match = _CLOCK.fullmatch(text.strip())
    hour, minute = (int(part or 0) for part in match.groups()) if match else (24, 0)
    if hour > 23 or minute > 59:
        raise ReadingError(translate("Reading", "Enter a time, for example 7:30"))
    return time(hour, minute)


def read_times(text: str) -> tuple[Moment | time, ...]:
    """Times of a day typed as `8:00, bedtime` or `breakfast and supper`, each once."""
    typed = text.strip().lower().replace("evening meal", Moment.SUPPER)
    words = [word for word in re.split(r"[\s,;]+", typed) if word != "and"]
    moments = {str(moment): moment for moment in Moment}
    times = tuple(moments[word] if word in moments else _time_of(word) for word in words if word)
    return tuple(dict.fromkeys(times))


def _time_of(word: str) -> time:
    try:
        return read_clock(word)
    except ReadingError as error:
        names = ", ".join(map(times_text, ((moment,) for moment in Moment)))
        template = translate(
            "Reading", "“{word}” is not a time. Enter times, for example 8:00, or one of {moments}"
        )
        raise ReadingError(template.format(word=word, moments=names)) from error


def times_text(at: tuple[Moment | time, ...]) -> str:
    """Times as they are typed: `08:00, bedtime`."""
    return ", ".join(_moment_text(t) if isinstance(t, Moment) else f"{t:%H:%M}" for t in at)


def _moment_text(moment: Moment) -> str:
    return "evening meal" if moment is Moment.SUPPER else str(moment)


def read_weight(text: str) -> Fraction:
    """A weight in kilograms typed as `70` or `70.5`; more than 0 and at most 500."""
    match = _NUMBER.fullmatch(text.strip())
    value = Fraction(text.strip().replace(",", ".")) if match else Fraction(0)
    if not 0 < value <= 500:
        raise ReadingError(translate("Reading", "Enter a weight in kilograms, for example 70.5"))
    return value


def read_zone(text: str) -> str:
    """The name of a time zone as the IANA database has it, `Europe/London`, in any case."""
    names = {name.casefold(): name for name in available_timezones()}
    zone = names.get(text.strip().replace(" ", "_").casefold())
    if zone is None:
        raise ReadingError(translate("Reading", "Enter a time zone, for example Europe/London"))
    return zone
