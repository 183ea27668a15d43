"""A chart of one measure's ratings over time, as plain data that any surface can draw.

Places are parts of the chart's width and height, from 0 at the left and at the bottom to 1.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.follow_up.measures import NO_OWN, Measures
from sennight.domain.follow_up.progress import Progress

RATED = 10
"""A scale up to here is drawn whole; of a longer one, what was rated and a tenth more."""


@dataclass(frozen=True, slots=True)
class Ground:
    """A phase, or a flare, from left to right."""

    name: str
    left: float
    right: float
    is_flare: bool


@dataclass(frozen=True, slots=True)
class ScoreChart:
    """The grounds, the ratings as points by day, and the scale's ends.

    `matters` is the band about the first rating in which a change is not yet one that matters,
    from its bottom to its top, cut to the scale; None where no threshold is held.
    """

    grounds: tuple[Ground, ...]
    points: tuple[tuple[float, float], ...]
    low: int
    high: int
    matters: tuple[float, float] | None


def score_chart(
    progress: Progress, layout: Layout, today: date, measures: Measures = NO_OWN
) -> ScoreChart:
    """The chart of a measure, from the course's first day, or rating, to the last up to today."""
    days = _days(progress, layout, today)
    low, high = measures.scale(progress.id)
    if high > RATED:
        high = max(low + 1, -(-max(score.value for score in progress.ratings) * 11 // 10))
    wide = max(1, (days.last - days.first).days)

    def across(day: date) -> float:
        return (min(max(day, days.first), days.last) - days.first).days / wide

    def up(value: float) -> float:
        return min(1.0, max(0.0, (value - low) / (high - low)))

    change = progress.matters
    band = None
    if change is not None:
        band = up(float(progress.first - change)), up(float(progress.first + change))
    return ScoreChart(
        grounds=tuple(
            Ground(name, across(span.first), across(span.end), is_flare)
            for name, span, is_flare in _spans(layout)
            if span.touches(days)
        ),
        points=tuple((across(score.day), up(float(score.value))) for score in progress.ratings),
        low=low,
        high=high,
        matters=band,
    )


def _days(progress: Progress, layout: Layout, today: date) -> Span:
    first, last = progress.ratings[0].day, progress.ratings[-1].day
    return Span.of_days(min(first, layout.course.start), max(last, min(today, layout.days.last)))


def _spans(layout: Layout) -> Iterator[tuple[str, Span, bool]]:
    for runs, is_flare in ((layout.phases, False), (layout.flares, True)):
        for run in runs:
            yield run.phase.id, run.span, is_flare
