"""Gates: whether a phase's condition for moving on is met, by the ratings of that phase.

How a gate is read is this project's own decision:

- A fall or a rise is reckoned from the first rating of the phase to its last one, in points or in
  percent of the first. One rating alone is no trend, and of a first rating of 0 there is no
  percentage: then it is not to be said yet.
- A level is read from the last rating of the phase alone, one rating being enough.
- The days of a flare-up belong to the flare-up alone, and not to the phase that it interrupts.
- The day by which it is waited for changes nothing in whether it is met; it is told beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from fractions import Fraction

from sennight.domain.courses.plan import PhaseRun
from sennight.domain.courses.protocols import Gate
from sennight.domain.courses.stretches import Layout
from sennight.domain.follow_up.diaries import Score
from sennight.domain.follow_up.measures import NO_OWN, Better, Measure, Measures
from sennight.domain.follow_up.outcomes import run_on


class GateState(StrEnum):
    """What the ratings say about a gate."""

    MET = "met"
    NOT_MET = "not met"
    NOT_SAID_YET = "not known yet"


@dataclass(frozen=True, slots=True)
class GateReading:
    """The gate of one run of a phase, beside the ratings of its measure in that run, by day.

    `measure` is what is rated; None where nothing is known of it but its name.
    """

    run: PhaseRun
    gate: Gate
    ratings: tuple[Score, ...]
    measure: Measure | None = None

    @property
    def change(self) -> Fraction | None:
        """From the first rating to the last, in points or percent as the gate has it.

        Above 0 the way that is waited for. None where there are not two ratings, where a
        percentage would be of 0, and of a level, which is no change.
        """
        wants = self.gate.wants
        if wants.is_level or len(self.ratings) < 2:
            return None
        first, last = self.ratings[0].value, self.ratings[-1].value
        points = first - last if wants.wants_less else last - first
        if not wants.is_percent:
            return points
        return points / first * 100 if first else None

    @property
    def level(self) -> Fraction | None:
        """The rating at which it is met; None where that cannot be said yet."""
        wants, amount = self.gate.wants, Fraction(self.gate.amount)
        if wants.is_level:
            return amount
        if not self.ratings or (wants.is_percent and not self.ratings[0].value):
            return None
        first = self.ratings[0].value
        change = first * amount / 100 if wants.is_percent else amount
        return first - change if wants.wants_less else first + change

    @property
    def state(self) -> GateState:
        """Whether it is met."""
        level = self.level
        enough = 1 if self.gate.wants.is_level else 2
        if level is None or len(self.ratings) < enough:
            return GateState.NOT_SAID_YET
        last = self.ratings[-1].value
        is_met = last <= level if self.gate.wants.wants_less else last >= level
        return GateState.MET if is_met else GateState.NOT_MET

    @property
    def by(self) -> date | None:
        """The last day by which it is waited for; None where no week is named."""
        weeks = self.gate.by_weeks
        return None if weeks is None else self.run.span.first + timedelta(days=7 * weeks - 1)


def is_against(gate: Gate, measure: Measure | None) -> bool:
    """Whether a gate waits for what makes its measure worse, where that is known of it."""
    return measure is not None and gate.wants.wants_less != (measure.better is Better.LESS)


def read_gates(
    layout: Layout, scores: Sequence[Score], measures: Measures = NO_OWN
) -> tuple[GateReading, ...]:
    """The gates of the phases in their order, then those of flare-ups."""
    rated = [(run_on(layout, score.day), score) for score in sorted(scores)]
    return tuple(
        GateReading(
            run,
            run.phase.gate,
            tuple(s for at, s in rated if at == run and s.measure == run.phase.gate.measure),
            measures.of(run.phase.gate.measure),
        )
        for run in (*layout.phases, *layout.flares)
        if run.phase.gate is not None
    )
