"""A line's directions one after the other: what is taken from which day of a phase to which."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from itertools import zip_longest

from sennight.domain.courses.plan import Plan
from sennight.domain.courses.protocols import Line, Phase
from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.directions.directions import Directions


@dataclass(frozen=True, slots=True)
class Stage:
    """One way of taking a line, from a day of its phase (counted from 1) to another.

    `last` is None where the phase has no end that is known, `span` the real days, None where the
    phase has none yet, as a flare-up plan, or ends before the stage begins.
    """

    first: int
    last: int | None
    span: Span | None
    directions: Directions


def titration(plan: Plan, phase: Phase, line: Line) -> tuple[Stage, ...]:
    """The stages of a line in order; pauses that freeze count in the real days alone."""
    return tuple(_stages(plan, phase, line))


def _stages(plan: Plan, phase: Phase, line: Line) -> Iterator[Stage]:
    run = next((run.span for run in plan.runs() if run.phase.id == phase.id), None)
    days = run.days if run else _own_days(plan, phase)
    taken = {0: line.directions} | {step.after_days: step.directions for step in line.steps}
    starts = tuple(taken)
    for start, end in zip_longest(starts, starts[1:]):
        last = min((day for day in (end, days) if day is not None), default=None)
        span = None
        if run and last is not None and start < last:
            first = run.first + timedelta(days=start)
            real = plan.freezes.real
            span = Span.of_days(real(first), real(run.first + timedelta(days=last) - ONE_DAY))
        is_reached = last is None or start < last
        yield Stage(start + 1, last if is_reached else end, span, taken[start])


def _own_days(plan: Plan, phase: Phase) -> int | None:
    """How long a phase is that does not run yet, by its own length."""
    start = plan.course.start
    return (phase.length.after(start) - start).days if phase.length else None
