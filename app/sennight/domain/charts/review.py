"""A course looked back on: what was rated and taken by a day, as one value for every surface."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sennight.domain.charts.diary import DiaryChart
from sennight.domain.charts.scores import ScoreChart, charts_of
from sennight.domain.charts.time_axis import axis_days
from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.follow_up.adherence import AdherenceReport, adherence
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.follow_up.fullness import (
    Fullness,
    MomentShare,
    fullness_by_day,
    fullness_by_moment,
    fullness_by_week,
)
from sennight.domain.follow_up.gates import GateReading, read_gates
from sennight.domain.follow_up.measures import NO_OWN, Measures
from sennight.domain.follow_up.progress import Progress, progress


@dataclass(frozen=True, slots=True)
class Review:
    """What a course came to by `today`; `report` is None without a diary.

    `axis` are the days that all charts share, `days` the diary's days up to today.
    """

    layout: Layout
    today: date
    measures: Measures
    progress: tuple[Progress, ...]
    gates: tuple[GateReading, ...]
    report: AdherenceReport | None
    days: tuple[tuple[date, Fullness], ...]
    diary: DiaryChart
    moments: tuple[MomentShare, ...]
    axis: Span

    @property
    def charts(self) -> tuple[ScoreChart, ...]:
        """A chart for each measure."""
        return charts_of(self.progress, self.gates, self.layout, self.today, self.measures)

    @property
    def gates_now(self) -> tuple[GateReading, ...]:
        """The gates of the phase that runs, and of a flare that does."""
        return tuple(gate for gate in self.gates if self.today in gate.run.span)


def review(
    layout: Layout,
    taken: Sequence[Taken],
    scores: Sequence[Score],
    today: date,
    measures: Measures = NO_OWN,
) -> Review:
    """Look back on a course from a day."""
    report = adherence(layout, taken, today=today) if taken else None
    entries = report.days if report else ()
    rated = progress(scores, measures)
    first = min((score.day for score in scores), default=None)
    last = max((*(s.day for s in scores), *(e.day for e in entries)), default=today)
    until = max(today, last)
    weeks = fullness_by_week(layout, entries, until) if entries else ()
    return Review(
        layout,
        today,
        measures,
        rated,
        read_gates(layout, scores, measures),
        report,
        fullness_by_day(layout, entries, until),
        DiaryChart(layout, weeks, today),
        fullness_by_moment(layout, entries),
        axis_days(layout, first, last, today),
    )
