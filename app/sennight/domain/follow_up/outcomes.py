"""Outcomes: how a client's ratings changed, and whether the change is one that matters.

Ratings run from 0 to 10. A rating that is better when higher (energy, sleep) changes like any
other, but published thresholds are held for pain alone, where less is better:

- A fall of 2 points, or of 30 %, is clinically important: Farrar et al., Pain 2001;94:149-158.
- A fall of 10 % is minimally, of 30 % moderately, of 50 % substantially important: Dworkin et
  al., J Pain 2008;9:105-121 (IMMPACT).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from fractions import Fraction

from sennight.domain.courses.plan import PhaseRun
from sennight.domain.courses.stretches import Layout
from sennight.domain.follow_up.diaries import Score
from sennight.domain.follow_up.measures import measure_of

IMPORTANT_POINTS = 2
IMPORTANT_PERCENT = 30


class ChangeBand(StrEnum):
    """How much a change of pain matters; below 10 % it is none."""

    WORSE = "worse"
    NONE = "none"
    MINIMAL = "minimal"
    MODERATE = "moderate"
    SUBSTANTIAL = "substantial"


_BANDS = ((50, ChangeBand.SUBSTANTIAL), (30, ChangeBand.MODERATE), (10, ChangeBand.MINIMAL))


@dataclass(frozen=True, slots=True)
class Outcome:
    """The first and the last of a measure's ratings in a phase, or in the whole course.

    `phase` is empty for the whole course.
    """

    measure: str
    phase: str
    ratings: int
    first_day: date
    first: Fraction
    last_day: date
    last: Fraction

    @property
    def change(self) -> Fraction:
        """In points; below 0 where the rating fell."""
        return self.last - self.first

    @property
    def percent(self) -> Fraction | None:
        """The change in percent of the first rating; None where that is 0."""
        return self.change / self.first * 100 if self.first else None

    @property
    def is_pain(self) -> bool:
        """Whether the thresholds hold for this measure: pain, here or there."""
        measure = measure_of(self.measure)
        return measure is not None and measure.matters_percent == IMPORTANT_PERCENT

    @property
    def fell_by_points(self) -> bool | None:
        """Whether it fell by the points that matter; None where no threshold is held."""
        return -self.change >= IMPORTANT_POINTS if self.is_pain else None

    @property
    def fell_by_percent(self) -> bool | None:
        """Whether it fell by the percentage that matters; None where that cannot be said."""
        if not self.is_pain or self.percent is None:
            return None
        return -self.percent >= IMPORTANT_PERCENT

    @property
    def band(self) -> ChangeBand | None:
        """How much the change matters, by its percentage; None where that cannot be said."""
        if not self.is_pain or self.percent is None:
            return None
        if self.percent > 0:
            return ChangeBand.WORSE
        fall = -self.percent
        return next((band for least, band in _BANDS if fall >= least), ChangeBand.NONE)


def outcomes(layout: Layout, scores: Sequence[Score]) -> tuple[Outcome, ...]:
    """For each measure, each phase with two ratings or more in order, then the whole course.

    A day of a flare belongs to the flare's phase alone.
    """
    results: list[Outcome] = []
    for measure in dict.fromkeys(score.measure for score in scores):
        rated = sorted(score for score in scores if score.measure == measure)
        for phase in layout.course.protocol.phases:
            runs = ((run_on(layout, score.day), score) for score in rated)
            own = [score for run, score in runs if run and run.phase.id == phase.id]
            results.extend(_outcome(measure, phase.id, own))
        results.extend(_outcome(measure, "", rated))
    return tuple(results)


def run_on(layout: Layout, day: date) -> PhaseRun | None:
    """The run that a rating of a day belongs to: in a flare the flare's, else the phase's."""
    flare = next((run for run in layout.flares if day in run.span), None)
    return flare or layout.phase_on(day)


def _outcome(measure: str, phase: str, rated: list[Score]) -> Iterator[Outcome]:
    if len(rated) > 1:
        first, last = rated[0], rated[-1]
        yield Outcome(measure, phase, len(rated), first.day, first.value, last.day, last.value)
