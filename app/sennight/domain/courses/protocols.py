"""Protocols: reusable templates of phases with dosing lines."""

from __future__ import annotations

from dataclasses import dataclass

from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.directions.directions import Directions

RESCUE = "rescue"
LOADING = "loading"
MAINTENANCE = "maintenance"
WEEKS_OF_LOADING = 12
"""Length of the phase that a protocol made by hand begins with; loading takes 6 to 12 weeks
(common practice)."""


@dataclass(frozen=True, slots=True)
class Step:
    """A planned change: these directions, whole, from so many weeks (1 or more) into the phase."""

    after_weeks: int
    directions: Directions


@dataclass(frozen=True, slots=True)
class Line:
    """One remedy within a phase, and how it is taken; steps in order of their weeks."""

    remedy: str
    directions: Directions
    steps: tuple[Step, ...] = ()


@dataclass(frozen=True, slots=True)
class Gate:
    """The condition for moving on: a measure that has fallen by so many percent (1 to 100)."""

    measure: str
    fall_percent: int


@dataclass(frozen=True, slots=True)
class Phase:
    """A stage of a protocol.

    `length` None is an open phase, which only the last of the sequence may be. A rescue phase
    is not in the sequence; `stand_in` says that in a flare it takes the place of all base lines.
    """

    id: str
    purpose: str
    length: Length | None
    lines: tuple[Line, ...] = ()
    gate: Gate | None = None
    stand_in: bool = False

    @property
    def is_rescue(self) -> bool:
        """Whether it waits for a flare instead of standing in the sequence."""
        return self.purpose == RESCUE


@dataclass(frozen=True, slots=True)
class Protocol:
    """A template: its phases in order, and the actions that are wanted of it."""

    name: str
    phases: tuple[Phase, ...]
    aims: tuple[str, ...] = ()

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
