"""The client's day: seven named moments, each with a wall-clock time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import time
from enum import StrEnum
from itertools import pairwise

DAY_MINUTES = 24 * 60


class Moment(StrEnum):
    """The moments of a day, in the order in which they come."""

    RISING = "rising"
    BREAKFAST = "breakfast"
    MID_MORNING = "mid-morning"
    LUNCH = "lunch"
    MID_AFTERNOON = "mid-afternoon"
    SUPPER = "supper"
    BEDTIME = "bedtime"


_PLACES = {moment: place for place, moment in enumerate(Moment)}
MEALS = (Moment.BREAKFAST, Moment.LUNCH, Moment.SUPPER)

DEFAULT_TIMES: Mapping[Moment, time] = {
    Moment.RISING: time(7, 0),
    Moment.BREAKFAST: time(7, 30),
    Moment.MID_MORNING: time(10, 30),
    Moment.LUNCH: time(12, 30),
    Moment.MID_AFTERNOON: time(15, 30),
    Moment.SUPPER: time(18, 30),
    Moment.BEDTIME: time(22, 30),
}


class DayOrderError(ValueError):
    """Two moments of a client's day do not come in their order."""

    def __init__(self, earlier: Moment, later: Moment, day: ClientDay) -> None:
        self.earlier, self.moment = earlier, later
        super().__init__(
            f"{later} at {clock(day.minute(later))} does not come after {earlier} at "
            f"{clock(day.minute(earlier))}; expected the moments of the day in the order "
            f"{', '.join(Moment)} (only bedtime may lie past midnight)"
        )


@dataclass(frozen=True, slots=True)
class ClientDay:
    """When each moment falls, in minutes after the midnight that begins the day.

    Bedtime is 1440 or more where it lies past midnight, that is, where the clock then shows
    an earlier time than at rising.
    """

    minutes: tuple[int, int, int, int, int, int, int]

    @classmethod
    def at(cls, times: Mapping[Moment, time] | None = None) -> ClientDay:
        """A day with these clock times, the defaults for the rest; raises DayOrderError."""
        merged = {**DEFAULT_TIMES, **(times or {})}
        rising, *middle, bedtime = (as_minutes(merged[moment]) for moment in Moment)
        if bedtime < rising:
            bedtime += DAY_MINUTES
        a, b, c, d, e = middle
        day = cls((rising, a, b, c, d, e, bedtime))
        day.check()
        return day

    def check(self) -> None:
        """Raise DayOrderError unless every moment comes after the one before it."""
        moments = tuple(Moment)
        for earlier, later in pairwise(moments):
            if self.minute(later) <= self.minute(earlier):
                raise DayOrderError(earlier, later, self)

    def minute(self, moment: Moment) -> int:
        """Minutes from midnight to this moment."""
        return self.minutes[_PLACES[moment]]

    @property
    def times(self) -> dict[Moment, time]:
        """The clock time of each moment."""
        return {moment: as_time(self.minute(moment)) for moment in Moment}

    @property
    def waking(self) -> int:
        """Minutes from rising to bedtime."""
        return self.minute(Moment.BEDTIME) - self.minute(Moment.RISING)


def as_minutes(clock_time: time) -> int:
    """Minutes after midnight."""
    return clock_time.hour * 60 + clock_time.minute


def as_time(minute: int) -> time:
    """The clock time at so many minutes from midnight, whatever the day that it falls on."""
    return time(*divmod(minute % DAY_MINUTES, 60))


def clock(minute: int) -> str:
    """`HH:MM` for so many minutes from midnight."""
    return as_time(minute).strftime("%H:%M")
