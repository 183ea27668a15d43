"""What directions say, read word by word with patterns; part of the second reading.

Nothing of the program is imported. Minutes count from the course day's midnight, on past 1440.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from functools import lru_cache

from dateutil.relativedelta import relativedelta

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
USUAL_DAY = {
    "rising": "07:00",
    "breakfast": "07:30",
    "mid-morning": "10:30",
    "lunch": "12:30",
    "mid-afternoon": "15:30",
    "supper": "18:30",
    "bedtime": "22:30",
}
RHYTHMS = {
    "od": ("breakfast",),
    "bd": ("breakfast", "supper"),
    "tds": ("breakfast", "lunch", "supper"),
    "qds": ("breakfast", "lunch", "supper", "bedtime"),
    "mane": ("rising",),
    "nocte": ("bedtime",),
}
MEALS = ("breakfast", "lunch", "supper")
UNITS = (
    "mL",
    "cup",
    "tsp",
    "tbsp",
    "drop",
    "dropperful",
    "g",
    "mg",
    "capsule",
    "tablet",
    "piece",
    "scoop",
    "application",
)

Length = tuple[int, str]


@dataclass(frozen=True)
class Taken:
    """Directions as the words mean them on one client's day."""

    amount: Fraction
    most: Fraction
    unit: str
    times: tuple[int, ...]
    ceiling: int | None
    weekdays: frozenset[int] | None
    every: int
    cycle: tuple[Length, Length] | None


def minutes_of(clock: str) -> int:
    hours, minutes = clock.split(":")
    return int(hours) * 60 + int(minutes)


def clock_of(minute: int) -> str:
    return f"{minute // 60 % 24:02}:{minute % 60:02}"


def moments(client_day: dict[str, str]) -> dict[str, int]:
    """Minutes of the seven moments; a bedtime earlier than rising lies past midnight."""
    found = {name: minutes_of(client_day.get(name, at)) for name, at in USUAL_DAY.items()}
    if found["bedtime"] < found["rising"]:
        found["bedtime"] += 24 * 60
    return found


def directions(text: str, day: dict[str, int]) -> Taken:
    """What directions say; `day` has the minutes of the seven moments."""
    return _directions(text, tuple(day.items()))


@lru_cache(maxsize=4096)
def _directions(text: str, moments: tuple[tuple[str, int], ...]) -> Taken:
    day = dict(moments)
    words = " ".join(text.lower().split())
    amount, most, unit, rest = _amount(words)
    times = _times(rest, day)
    as_needed = re.search(r"\bprn\b", rest) is not None
    weekdays = re.search(rf"\bon ((?:{'|'.join(WEEKDAYS)})(?: (?:{'|'.join(WEEKDAYS)}))*)", rest)
    every = re.search(r"every (\d+) days", rest)
    cycle = re.search(r"(\d+) ?(d|w|mo) on (\d+) ?(d|w|mo) off", rest)
    return Taken(
        amount,
        most,
        unit,
        times,
        _ceiling(rest, day) if as_needed else None,
        frozenset(map(WEEKDAYS.index, weekdays[1].split())) if weekdays else None,
        2 if "alternate days" in rest else int(every[1]) if every else 1,
        ((int(cycle[1]), cycle[2]), (int(cycle[3]), cycle[4])) if cycle else None,
    )


def _amount(words: str) -> tuple[Fraction, Fraction, str, str]:
    """The amount and the most of it, which is the same where it is no range; unit and rest."""
    number = r"½|\d+ ?/ ?\d+|\d+(?:\.\d+)?"
    told = re.match(rf"({number})(?: ?[-–] ?({number}))?", words)
    assert told, words
    rest = words[told.end() :].strip()
    for unit in sorted(UNITS, key=len, reverse=True):
        if rest.startswith(unit.lower()):
            least, most = _number(told[1]), _number(told[2] or told[1])
            return least, most, unit, re.sub(r"^s\b", "", rest[len(unit) :]).strip()
    raise AssertionError(words)


def _number(told: str) -> Fraction:
    return Fraction(told.replace(" ", "").replace("½", "1/2"))


def _times(rest: str, day: dict[str, int]) -> tuple[int, ...]:
    move = -30 if re.search(r"\bac\b", rest) else 30 if re.search(r"\bpc\b", rest) else 0
    if hourly := re.match(r"every (\d+) ?h(?!\w)", rest):
        return tuple(range(day["rising"], day["bedtime"] + 1, int(hourly[1]) * 60))
    if listed := re.match(r"at ((?:[a-z0-9:-]+ ?, ?)*[a-z0-9:-]+)", rest):
        named = tuple(word.strip() for word in listed[1].split(","))
    else:
        named = RHYTHMS.get(rest.split(maxsplit=1)[0], ())
    return tuple(sorted(_time(name, day) + (move if name in MEALS else 0) for name in named))


def _time(name: str, day: dict[str, int]) -> int:
    return minutes_of(name) if ":" in name else day[name]


def _ceiling(rest: str, day: dict[str, int]) -> int:
    if most := re.search(r"max (\d+) ?/ ?day", rest):
        return int(most[1])
    gap = re.search(r"gap (\d+) ?h", rest) or re.search(r"every (\d+) ?- ?\d+ ?h", rest)
    assert gap, rest
    return (day["bedtime"] - day["rising"]) // (int(gap[1]) * 60) + 1


def later(first: date, length: Length) -> date:
    """The day after a run of days of this length."""
    number, unit = length
    if unit == "mo":
        return first + relativedelta(months=number)
    return first + timedelta(days=number * (7 if unit == "w" else 1))


def taken_on(told: Taken, *, anchor: date, counted: date, real: date, begun: date) -> bool:
    """Whether directions are taken on a day: `counted` is it without freezes, `real` with them.

    Cycles are counted from `begun`.
    """
    if told.weekdays is not None and real.weekday() not in told.weekdays:
        return False
    if (counted - anchor).days % told.every:
        return False
    if told.cycle is None:
        return True
    begin = begun
    while True:
        off = later(begin, told.cycle[0])
        if counted < off:
            return True
        begin = later(off, told.cycle[1])
        if counted < begin:
            return False
