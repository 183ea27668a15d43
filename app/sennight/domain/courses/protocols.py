"""Protocols: reusable templates of phases with dosing lines."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from sennight.domain.dates import CalendarUnit, Length, days_or_weeks
from sennight.domain.directions.directions import Directions, Timing

RESCUE = "rescue"
LOADING = "loading"
MAINTENANCE = "maintenance"
WEEKS_OF_LOADING = 12
"""Length of the phase that a protocol made by hand begins with; loading takes 6 to 12 weeks
(common practice)."""


class CountFrom(StrEnum):
    """The day from which a line counts its cycles."""

    ANCHOR = "anchor"
    """The first day of whatever brought the directions in: the phase, a step, a redirect."""
    COURSE = "course"
    """The first day of the course, so that a cycle goes on through a change of phase."""


@dataclass(frozen=True, slots=True)
class Step:
    """A planned change: these directions, whole, from so many days (1 or more) into the phase."""

    after_days: int
    directions: Directions

    @property
    def after(self) -> Length:
        """When it comes, in weeks where they are whole ones."""
        return days_or_weeks(self.after_days)


@dataclass(frozen=True, slots=True)
class Line:
    """One remedy within a phase, and how it is taken; steps in order of their days.

    `site` says where it is used and `note` what else to heed, both in free words on one line.
    """

    remedy: str
    directions: Directions
    steps: tuple[Step, ...] = ()
    count_from: CountFrom = CountFrom.ANCHOR
    site: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class AdviceLine:
    """What a phase holds beside its remedies: movement, food, rest, warmth, in free words.

    `timing` is when, where it has a rhythm; `remind` puts it into the calendar, `diary` gives it
    boxes to tick on the diary sheet.
    """

    text: str
    timing: Timing | None = None
    remind: bool = False
    diary: bool = False


@dataclass(frozen=True, slots=True)
class Ceiling:
    """The most doses a day (1 or more) of several remedies together, whichever of them."""

    remedies: tuple[str, ...]
    most: int


class Threshold(StrEnum):
    """What a gate waits for, by the keys of course files.

    Falls and rises are reckoned from the first rating of the phase, in percent of it or in the
    measure's own points; a level is one that the last rating reaches.
    """

    FALL_PERCENT = "fall_percent"
    FALL_POINTS = "fall_points"
    RISE_PERCENT = "rise_percent"
    RISE_POINTS = "rise_points"
    AT_MOST = "at_most"
    AT_LEAST = "at_least"

    @property
    def wants_less(self) -> bool:
        """Whether a lower rating is nearer to what is waited for."""
        return self in (Threshold.FALL_PERCENT, Threshold.FALL_POINTS, Threshold.AT_MOST)

    @property
    def is_percent(self) -> bool:
        """Whether its amount is a percentage."""
        return self in (Threshold.FALL_PERCENT, Threshold.RISE_PERCENT)

    @property
    def is_level(self) -> bool:
        """Whether its amount is a rating itself and no change."""
        return self in (Threshold.AT_MOST, Threshold.AT_LEAST)


MOST_PERCENT = {Threshold.FALL_PERCENT: 100, Threshold.RISE_PERCENT: 1000}
"""The largest percentages; from 2 to 10 is a rise by 400 %."""


@dataclass(frozen=True, slots=True)
class Gate:
    """The condition for moving on: how far a measure has to fall or rise, or where it has to be.

    `amount` is a whole percentage from 1, points above 0, or for a level a rating; `by_weeks` says
    by the end of which week of the phase (from 1) it is waited for, None for no such week.
    """

    measure: str
    amount: Fraction | int
    wants: Threshold = Threshold.FALL_PERCENT
    by_weeks: int | None = None


@dataclass(frozen=True, slots=True)
class Phase:
    """A stage of a protocol.

    `length` None is an open phase, which only the last of the sequence may be. A rescue phase
    is not in the sequence; `stand_in` says that in a flare it takes the place of all base lines.
    Moving on before `at_least_weeks` is told, never refused. `trigger` says when the client is to
    begin a rescue phase: `the knee is hot and swollen`; empty where they call first.
    """

    id: str
    purpose: str
    length: Length | None
    lines: tuple[Line, ...] = ()
    gate: Gate | None = None
    stand_in: bool = False
    advice: tuple[AdviceLine, ...] = ()
    at_least_weeks: int | None = None
    trigger: str = ""

    @property
    def is_rescue(self) -> bool:
        """Whether it waits for a flare instead of standing in the sequence."""
        return self.purpose == RESCUE


@dataclass(frozen=True, slots=True)
class Protocol:
    """A template: its phases in order, the actions that are wanted of it, and its ceilings."""

    name: str
    phases: tuple[Phase, ...]
    aims: tuple[str, ...] = ()
    ceilings: tuple[Ceiling, ...] = ()

    @property
    def sequence(self) -> tuple[Phase, ...]:
        """The phases that follow each other."""
        return tuple(phase for phase in self.phases if not phase.is_rescue)

    def phase(self, phase_id: str) -> Phase | None:
        """The phase of that id, rescue phases included."""
        return next((phase for phase in self.phases if phase.id == phase_id), None)


def empty_protocol(name: str) -> Protocol:
    """A protocol to be filled by hand: a loading phase without lines."""
    length = Length(WEEKS_OF_LOADING, CalendarUnit.WEEKS)
    return Protocol(name, (Phase(LOADING, LOADING, length),))
