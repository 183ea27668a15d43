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
    joined: Span | None = None
    """The days for which the remedy joined the phase; None where the phase has a line for it."""


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
    # By what is taken, not by the phase's lines: a remedy may have joined the phase.
    taken = sorted({stretch.remedy for stretch in inside}, key=order.__getitem__)
    return TakingStage(run, tuple(_taking(layout, run, remedy, inside) for remedy in taken))


def _taking(layout: Layout, run: PhaseRun, remedy: str, inside: Iterable[Stretch]) -> Taking:
    place = next(n for n, other in enumerate(layout.course.remedies) if other.id == remedy)
    return Taking(
        place,
        remedy,
        tuple(_ways(stretch for stretch in inside if stretch.remedy == remedy)),
        _days_off(layout, run, remedy),
        _stopped(layout, run, remedy),
        _joined(layout, run, remedy),
    )


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


def _joined(layout: Layout, run: PhaseRun, remedy: str) -> Span | None:
    if remedy in {line.remedy for line in run.phase.lines}:
        return None
    spans = [
        days.overlap(run.span)
        for name, days in layout.plan.joined_on()
        if name == remedy and days.touches(run.span)
    ]
    return Span(spans[0].first, spans[-1].end) if spans else None


def kinds_of_day(layout: Layout) -> tuple[DayKind, ...]:
    """The client's days, phase by phase, one for each change of directions.

    A day shows all remedies of its time, whatever their weekdays; days off are told beside it.
    """
    return tuple(kind for stage in stages(layout) for kind in _kinds(layout, stage))


def _kinds(layout: Layout, stage: TakingStage) -> Iterator[DayKind]:
    changes = {way.span.first for taking in stage.takings for way in taking.ways[1:]}
    changes |= {taking.stopped for taking in stage.takings if taking.stopped}
    for taking in stage.takings:
        if taking.joined:
            changes |= {taking.joined.first, taking.joined.end}
    run = stage.run
    inner = changes - {run.span.first, run.span.end}
    edges = (run.span.first, *sorted(inner), run.span.end)
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
    if taking.joined is not None and day not in taking.joined:
        return None
    return next((way for way in taking.ways if way.span.end > day), None)
