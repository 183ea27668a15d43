"""What a client takes, phase by phase: stretches put together as a person would say them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from itertools import groupby, pairwise

from sennight.domain.courses.plan import PhaseRun
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span, joined
from sennight.domain.directions.directions import Directions
from sennight.domain.schedule.day_plan import DayPlan, plan_of


@dataclass(frozen=True, slots=True)
class TakingPeriod:
    """One way of taking a remedy, from its first day to its last; days off lie in between."""

    span: Span
    stretch: Stretch

    @property
    def directions(self) -> Directions:
        """How it is taken."""
        return self.stretch.directions


@dataclass(frozen=True, slots=True)
class Taking:
    """A remedy within one phase; `index` is its place in the course, from 0.

    `stopped` is the first day on which it is no longer taken, where it was stopped within
    the phase.
    """

    index: int
    remedy: str
    ways: tuple[TakingPeriod, ...]
    days_off: tuple[Span, ...] = ()
    stopped: date | None = None


@dataclass(frozen=True, slots=True)
class TakingStage:
    """A phase, or a flare, as it runs, and what is taken in it."""

    run: PhaseRun
    takings: tuple[Taking, ...]


@dataclass(frozen=True, slots=True)
class DayKind:
    """The client's day as it is on these days, until a step or another phase changes it.

    `days_off` has the spells on which a remedy is left out, with its place in the course.
    """

    run: PhaseRun
    span: Span
    plan: DayPlan
    days_off: tuple[tuple[int, tuple[Span, ...]], ...] = ()


def stages(layout: Layout) -> tuple[TakingStage, ...]:
    """The phases in order with what is taken in each."""
    return tuple(_stage(layout, run) for run in layout.phases)


def flare_stages(layout: Layout) -> tuple[TakingStage, ...]:
    """The flares that the course has had or has planned, in order."""
    return tuple(_stage(layout, run) for run in sorted(layout.flares, key=lambda run: run.span))


def _stage(layout: Layout, run: PhaseRun) -> TakingStage:
    order = {remedy.id: n for n, remedy in enumerate(layout.course.remedies)}
    inside = [s for s in layout.stretches if s.phase == run.phase.id and s.span.touches(run.span)]
    takings = []
    for line in sorted(run.phase.lines, key=lambda line: order[line.remedy]):
        ways = tuple(_ways(s for s in inside if s.remedy == line.remedy))
        if ways:
            takings.append(
                Taking(
                    order[line.remedy],
                    line.remedy,
                    ways,
                    _days_off(layout, run, line.remedy),
                    _stopped(layout, run, line.remedy),
                )
            )
    return TakingStage(run, tuple(takings))


def _ways(stretches: Iterable[Stretch]) -> Iterator[TakingPeriod]:
    """Stretches in order, those that follow each other with the same directions as one."""
    for _, group in groupby(sorted(stretches, key=lambda s: s.span), key=lambda s: s.directions):
        same = list(group)
        yield TakingPeriod(Span(same[0].span.first, same[-1].span.end), same[0])


def _days_off(layout: Layout, run: PhaseRun, remedy: str) -> tuple[Span, ...]:
    rests = (
        rest.span.overlap(run.span)
        for rest in layout.rests
        if rest.remedy == remedy and rest.phase == run.phase.id
    )
    return joined(tuple(rests))


def _stopped(layout: Layout, run: PhaseRun, remedy: str) -> date | None:
    days = [day for stopped, day in layout.plan.stops if stopped == remedy and day in run.span]
    return min(days, default=None)


def kinds_of_day(layout: Layout) -> tuple[DayKind, ...]:
    """The client's days, phase by phase, one for each change of directions.

    A day shows all remedies of its time, whatever their weekdays; days off are told beside it.
    """
    return tuple(kind for stage in stages(layout) for kind in _kinds(layout, stage))


def _kinds(layout: Layout, stage: TakingStage) -> Iterator[DayKind]:
    changes = {way.span.first for taking in stage.takings for way in taking.ways[1:]}
    changes |= {taking.stopped for taking in stage.takings if taking.stopped}
    run = stage.run
    edges = (run.span.first, *sorted(changes - {run.span.first}), run.span.end)
    for first, end in pairwise(edges):
        span = Span(first, end)
        ways = [(t, way) for t in stage.takings if (way := _way_from(t, first))]
        off = tuple((t.index, _within(t.days_off, span)) for t, _ in ways)
        if ways:
            plan = plan_of(layout, first, [way.stretch for _, way in ways])
            yield DayKind(run, span, plan, tuple(days_off for days_off in off if days_off[1]))


def _within(spans: Iterable[Span], days: Span) -> tuple[Span, ...]:
    return tuple(span.overlap(days) for span in spans if span.touches(days))


def _way_from(taking: Taking, day: date) -> TakingPeriod | None:
    """The way that a remedy is taken from a day on."""
    if taking.stopped is not None and day >= taking.stopped:
        return None
    return next((way for way in taking.ways if way.span.end > day), None)
