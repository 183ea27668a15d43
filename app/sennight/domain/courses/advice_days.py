"""On which days, and when, the advice of a course's phases is for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from sennight.domain.courses.protocols import AdviceLine
from sennight.domain.courses.stretches import Layout, cycle_runs
from sennight.domain.dates import Span
from sennight.domain.directions.directions import Cycle, DayRule


@dataclass(frozen=True, slots=True)
class AdviceRun:
    """A run of real days of a phase, or a flare, with one line of its advice.

    `times` are minutes from the midnight that begins the client's day; none where it has no
    rhythm, or one as needed alone. Days that are counted begin with the first of the span.
    """

    span: Span
    phase: str
    advice: AdviceLine
    times: tuple[int, ...]
    days: DayRule

    def holds_on(self, day: date) -> bool:
        """Whether it is for a day."""
        if day not in self.span:
            return False
        if self.days.weekdays:
            return day.weekday() in self.days.weekdays
        return (day - self.span.first).days % self.days.every == 0


def advice_runs(layout: Layout) -> Iterator[AdviceRun]:
    """All runs of a course; advice holds in pauses too, and is counted from its phase's day 1."""
    for run in (*layout.phases, *layout.flares):
        for advice in run.phase.advice:
            timing = advice.timing
            if timing is None:
                yield AdviceRun(run.span, run.phase.id, advice, (), DayRule())
                continue
            times = timing.minutes(layout.course.client.day)
            for span in _on(timing.cycle, run.span):
                yield AdviceRun(span, run.phase.id, advice, times, timing.days)


def _on(cycle: Cycle | None, phase: Span) -> tuple[Span, ...]:
    """The days on of a cycle in a phase; all its days without one."""
    if cycle is None:
        return (phase,)
    return tuple(span for span, is_on in cycle_runs(cycle, phase.first, phase) if is_on)
