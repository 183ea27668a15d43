"""Directions: how a remedy is taken, as a value and in the trade's own short form.

    2 mL tds ac          1 cup at rising,mid-afternoon          1 capsule bd 12 w on 3 w off

`directions_parser` reads the short form; `str()` of a value writes it back in one fixed
order; `plain_words` says it to a client.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import time
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise

from sennight.domain.amounts import plain_number
from sennight.domain.dates import WEEKDAYS, Length
from sennight.domain.day import MEALS, ClientDay, Moment, as_minutes, clock

FOOD_SHIFT = 30
"""Minutes by which `ac` and `pc` move the doses at meals: common practice."""


class Unit(StrEnum):
    """What an amount is counted in. tsp = 5 mL, tbsp = 15 mL (metric).

    How much a dropperful or a scoop is, each remedy says for its own dropper and packet.
    """

    ML = "mL"
    CUP = "cup"
    TSP = "tsp"
    TBSP = "tbsp"
    DROP = "drop"
    DROPPERFUL = "dropperful"
    G = "g"
    MG = "mg"
    CAPSULE = "capsule"
    TABLET = "tablet"
    PIECE = "piece"
    SCOOP = "scoop"
    APPLICATION = "application"


class Food(StrEnum):
    """Where a dose stands to food."""

    BEFORE = "ac"
    AFTER = "pc"
    WITH = "with food"


NAMED_RHYTHMS: dict[str, tuple[Moment, ...]] = {
    "od": (Moment.BREAKFAST,),
    "bd": (Moment.BREAKFAST, Moment.SUPPER),
    "tds": (Moment.BREAKFAST, Moment.LUNCH, Moment.SUPPER),
    "qds": (Moment.BREAKFAST, Moment.LUNCH, Moment.SUPPER, Moment.BEDTIME),
    "mane": (Moment.RISING,),
    "nocte": (Moment.BEDTIME,),
}


@dataclass(frozen=True, slots=True)
class AtTimes:
    """Doses at moments of the client's day and at fixed clock times."""

    times: tuple[Moment | time, ...]

    def __str__(self) -> str:
        for code, moments in NAMED_RHYTHMS.items():
            if self.times == moments:
                return code
        spelt = (t if isinstance(t, Moment) else t.strftime("%H:%M") for t in self.times)
        return "at " + ",".join(spelt)


@dataclass(frozen=True, slots=True)
class EveryHours:
    """Doses from rising, every so many hours, up to and including bedtime."""

    hours: int

    def __str__(self) -> str:
        return f"every {self.hours} h"


@dataclass(frozen=True, slots=True)
class AsNeeded:
    """A ceiling for doses taken as needed.

    Of `most` (doses a day), `gap` (hours between doses) and `spaced` (every N to M hours) at
    least one is given; `most` goes before `gap`, and `gap` before the N of `spaced`.
    """

    most: int | None = None
    gap: int | None = None
    spaced: tuple[int, int] | None = None

    def ceiling(self, day: ClientDay) -> int:
        """The most doses in one of the client's days: waking hours ÷ gap, rounded down, + 1."""
        if self.most is not None:
            return self.most
        hours = self.gap if self.gap is not None else (self.spaced or (0, 0))[0]
        return day.waking // (hours * 60) + 1


@dataclass(frozen=True, slots=True)
class DayRule:
    """On which days of a run doses fall: all, some weekdays, or every so many days.

    Weekdays are 0 (Monday) to 6 and belong to the real calendar; `every` counts from the
    line's anchor, the anchor day itself taken. At most one of the two is set.
    """

    weekdays: tuple[int, ...] = ()
    every: int = 1

    def __str__(self) -> str:
        if self.weekdays:
            return " ".join(WEEKDAYS[n] for n in self.weekdays)
        return "daily" if self.every == 1 else f"every {self.every} days"


DAILY = DayRule()


@dataclass(frozen=True, slots=True)
class Cycle:
    """A repeating run of days on and days off, on first, from the line's anchor."""

    on: Length
    off: Length

    def __str__(self) -> str:
        return f"{self.on} on {self.off} off"


@dataclass(frozen=True, slots=True)
class Timing:
    """A rhythm and its qualifiers, without an amount; `rhythm` is None where all is as needed."""

    rhythm: AtTimes | EveryHours | None
    as_needed: AsNeeded | None = None
    food: Food | None = None
    days: DayRule = DAILY
    cycle: Cycle | None = None

    def __str__(self) -> str:
        parts = [self._rhythm_words()]
        if self.food:
            parts.append(str(self.food))
        if self.as_needed and self.as_needed.most is not None:
            parts.append(f"max {self.as_needed.most}/day")
        if self.as_needed and self.as_needed.gap is not None:
            parts.append(f"gap {self.as_needed.gap} h")
        if self.days.weekdays:
            parts.append(f"on {self.days}")
        elif self.days.every == 2:
            parts.append("alternate days")
        elif self.days.every > 2:
            parts.append(str(self.days))
        if self.cycle:
            parts.append(str(self.cycle))
        return " ".join(parts)

    def _rhythm_words(self) -> str:
        if self.rhythm and self.as_needed:
            return f"{self.rhythm} and prn"
        if self.rhythm:
            return str(self.rhythm)
        if self.as_needed and self.as_needed.spaced:
            least, most = self.as_needed.spaced
            return f"every {least}-{most} h prn"
        return "prn"

    def minutes(self, day: ClientDay) -> tuple[int, ...]:
        """When the timed doses fall, in minutes from the midnight that begins the client's day.

        In order; 1440 and more carry the next date. Raises SameTimeError where two of them
        fall together.
        """
        if isinstance(self.rhythm, EveryHours):
            step = self.rhythm.hours * 60
            first, last = day.minute(Moment.RISING), day.minute(Moment.BEDTIME)
            return tuple(range(first, last + 1, step))
        times = self.rhythm.times if self.rhythm else ()
        minutes = sorted(self._minute(when, day) for when in times)
        for earlier, later in pairwise(minutes):
            if earlier == later:
                raise SameTimeError(str(self), earlier)
        return tuple(minutes)

    def _minute(self, when: Moment | time, day: ClientDay) -> int:
        if not isinstance(when, Moment):
            return as_minutes(when)
        shift = {Food.BEFORE: -FOOD_SHIFT, Food.AFTER: FOOD_SHIFT}
        moved = shift.get(self.food, 0) if self.food and when in MEALS else 0
        return day.minute(when) + moved


@dataclass(frozen=True, slots=True)
class Directions:
    """An amount and when it is taken; `rhythm` is None where all is as needed.

    With `most` the amount is a range: from `amount` up to `most`, as the client needs.
    """

    amount: Fraction
    unit: Unit
    rhythm: AtTimes | EveryHours | None
    as_needed: AsNeeded | None = None
    food: Food | None = None
    days: DayRule = DAILY
    cycle: Cycle | None = None
    most: Fraction | None = None

    def __str__(self) -> str:
        upper = "" if self.most is None else f"-{plain_number(self.most)}"
        return f"{plain_number(self.amount)}{upper} {self.unit} {self.timing}"

    @property
    def timing(self) -> Timing:
        """When it is taken, without the amount."""
        return Timing(self.rhythm, self.as_needed, self.food, self.days, self.cycle)

    def timed(self, timing: Timing) -> Directions:
        """The same amount at other times."""
        amount, unit, most = self.amount, self.unit, self.most
        at = (timing.rhythm, timing.as_needed, timing.food, timing.days, timing.cycle)
        return Directions(amount, unit, *at, most)

    @property
    def largest(self) -> Fraction:
        """The most of one dose: the upper end of a range, or the amount."""
        return self.amount if self.most is None else self.most

    def minutes(self, day: ClientDay) -> tuple[int, ...]:
        """When the timed doses fall, as `Timing.minutes` says; raises SameTimeError."""
        try:
            return self.timing.minutes(day)
        except SameTimeError as error:
            raise SameTimeError(str(self), error.minute) from None


class SameTimeError(ValueError):
    """Two doses of one line fall at the same time in this client's day."""

    def __init__(self, directions: str, minute: int) -> None:
        self.minute = minute
        super().__init__(
            f"two doses of “{directions}” fall at {clock(minute)} in this client's day; "
            "expected times that differ"
        )
