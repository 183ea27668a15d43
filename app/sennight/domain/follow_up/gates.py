"""Gates: whether a phase's condition for moving on is met, by the ratings of that phase.

How a gate is read is this project's own decision:

- The fall is reckoned from the first rating of the phase to its last one, in percent of the first.
- One rating alone is no trend, and of a first rating of 0 there is no percentage: then it is not
  to be said yet.
- The days of a flare-up belong to the flare-up alone, and not to the phase that it interrupts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from sennight.domain.courses.plan import PhaseRun
from sennight.domain.courses.protocols import Gate
from sennight.domain.courses.stretches import Layout
from sennight.domain.follow_up.diaries import Score
from sennight.domain.follow_up.outcomes import run_on


class GateState(StrEnum):
    """What the ratings say about a gate."""

    MET = "met"
    NOT_MET = "not met"
    NOT_SAID_YET = "not to be said yet"


@dataclass(frozen=True, slots=True)
class GateReading:
    """The gate of one run of a phase, beside the ratings of its measure in that run, by day."""

    run: PhaseRun
    gate: Gate
    ratings: tuple[Score, ...]

    @property
    def fall(self) -> Fraction | None:
        """From the first rating to the last, in percent of the first; below 0 where it rose.

        None where there are not two ratings yet, or the first is 0.
        """
        if len(self.ratings) < 2 or not self.ratings[0].value:
            return None
        first, last = self.ratings[0].value, self.ratings[-1].value
        return (first - last) / first * 100

    @property
    def state(self) -> GateState:
        """Whether it is met."""
        if self.fall is None:
            return GateState.NOT_SAID_YET
        return GateState.MET if self.fall >= self.gate.fall_percent else GateState.NOT_MET


def read_gates(layout: Layout, scores: Sequence[Score]) -> tuple[GateReading, ...]:
    """The gates of the phases in their order, then those of flare-ups."""
    rated = [(run_on(layout, score.day), score) for score in sorted(scores)]
    return tuple(
        GateReading(
            run,
            run.phase.gate,
            tuple(s for at, s in rated if at == run and s.measure == run.phase.gate.measure),
        )
        for run in (*layout.phases, *layout.flares)
        if run.phase.gate is not None
    )
