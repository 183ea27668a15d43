"""Outcomes: how a client's ratings changed, and whether the change is one that matters.

Ratings run from 0 to 10. A rating that is better when higher (energy, sleep) changes like any
other, but published thresholds are held for pain alone, where less is better:

- A fall of 2 points, or of 30 %, is clinically important: Farrar et al., Pain 2001;94:149-158.
- A fall of 10 % is minimally, of 30 % moderately, of 50 % substantially important: Dworkin et
  al., J Pain 2008;9:105-121 (IMMPACT).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from fractions import Fraction

from sennight.domain.courses.plan import PhaseRun
from sennight.domain.courses.stretches import Layout
from sennight.domain.follow_up.diaries import Score
from sennight.domain.follow_up.measures import (
    ACTIVITIES,
    NO_OWN,
    PAIN,
    Measure,
    Measures,
    Verdict,
    verdict,
)
from sennight.domain.follow_up.progress import average_scores

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

    `phase` is empty for the whole course; `of` is None where only the measure's name is known.
    """

    measure: str
    phase: str
    ratings: int
    first_day: date
    first: Fraction
    last_day: date
    last: Fraction
    of: Measure | None = None

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
        return self.of is not None and replace(self.of, id=PAIN.id, name=PAIN.name) == PAIN

    @property
    def verdict(self) -> Verdict | None:
        """What the change means by its measure; None where no direction is known."""
        return None if self.of is None else verdict(self.of, self.first, self.last)

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


def outcomes(
    layout: Layout, scores: Sequence[Score], measures: Measures = NO_OWN
) -> tuple[Outcome, ...]:
    """For each measure, each phase with two ratings or more in order, then the whole course.

    A day of a flare belongs to the flare's phase alone. The average of the activities is told
    after them.
    """
    results: list[Outcome] = []
    every = (*scores, *average_scores(scores))
    for name in dict.fromkeys(score.measure for score in every):
        measure = ACTIVITIES if name == ACTIVITIES.id else measures.of(name)
        rated = sorted(score for score in every if score.measure == name)
        for phase in layout.course.protocol.phases:
            runs = ((run_on(layout, score.day), score) for score in rated)
            own = [score for run, score in runs if run and run.phase.id == phase.id]
            results.extend(_outcome(name, measure, phase.id, own))
        results.extend(_outcome(name, measure, "", rated))
    return tuple(results)


def run_on(layout: Layout, day: date) -> PhaseRun | None:
    """The run that a rating of a day belongs to: in a flare the flare's, else the phase's."""
    flare = next((run for run in layout.flares if day in run.span), None)
    return flare or layout.phase_on(day)


def _outcome(
    name: str, measure: Measure | None, phase: str, rated: list[Score]
) -> Iterator[Outcome]:
    if len(rated) > 1:
        first, last = rated[0], rated[-1]
        days = first.day, first.value, last.day, last.value
        yield Outcome(name, phase, len(rated), *days, measure)
