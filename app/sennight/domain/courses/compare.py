"""What differs between two layouts of a course: in days, in how remedies are taken, in doses.

`compare` works on runs of days, never day by day. `sentences` says the result as a person
would, so that a decision can tell what it will do before it is made.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from itertools import pairwise

from sennight.domain.courses.plan import PhaseRun
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span, without
from sennight.domain.directions.directions import Directions, Unit

_EPOCH = date(2000, 1, 1)


@dataclass(frozen=True, slots=True)
class PhaseMove:
    """A phase (or a flare) whose days differ; None where it is not there."""

    phase: str
    before: Span | None
    after: Span | None
    is_flare: bool = False


@dataclass(frozen=True, slots=True)
class LineChange:
    """A run of days on which a remedy is taken in another way; empty where it is not taken."""

    remedy: str
    span: Span
    before: tuple[Directions, ...]
    after: tuple[Directions, ...]
    formula: str | None = None
    """The formula that takes the remedy's place, where nothing else differs."""


@dataclass(frozen=True, slots=True)
class DoseChange:
    """Timed doses of a remedy in all, and their amount in one unit."""

    remedy: str
    unit: Unit
    doses_before: int
    doses_after: int
    amount_before: Fraction
    amount_after: Fraction


@dataclass(frozen=True, slots=True)
class Comparison:
    """All that differs; empty where the two layouts come to the same."""

    days_before: Span
    days_after: Span
    phases: tuple[PhaseMove, ...]
    pauses_gone: tuple[Span, ...]
    pauses_new: tuple[Span, ...]
    lines: tuple[LineChange, ...]
    doses: tuple[DoseChange, ...]

    def __bool__(self) -> bool:
        return bool(
            self.phases
            or self.pauses_gone
            or self.pauses_new
            or self.lines
            or self.doses
            or self.days_before != self.days_after
        )

    @property
    def first_day(self) -> date | None:
        """The first day on which anything is taken in another way."""
        return min((change.span.first for change in self.lines), default=None)


def compare(before: Layout, after: Layout) -> Comparison:
    """What differs between two layouts, of one course or of two."""
    remedies = dict.fromkeys(r.id for r in (*before.course.remedies, *after.course.remedies))
    return Comparison(
        before.days,
        after.days,
        (*_phase_moves(before.phases, after.phases), *_flare_moves(before, after)),
        _outside(before.pauses, after.pauses),
        _outside(after.pauses, before.pauses),
        tuple(change for remedy in remedies for change in _line_changes(remedy, before, after)),
        tuple(change for remedy in remedies for change in _dose_changes(remedy, before, after)),
    )


def _outside(spans: tuple[Span, ...], others: tuple[Span, ...]) -> tuple[Span, ...]:
    return tuple(left for span in spans for left in without(span, others))


def _phase_moves(
    before: tuple[PhaseRun, ...], after: tuple[PhaseRun, ...]
) -> tuple[PhaseMove, ...]:
    old = {run.phase.id: run.span for run in before}
    new = {run.phase.id: run.span for run in after}
    return tuple(
        PhaseMove(phase, old.get(phase), new.get(phase))
        for phase in dict.fromkeys((*old, *new))
        if old.get(phase) != new.get(phase)
    )


def _flare_moves(before: Layout, after: Layout) -> tuple[PhaseMove, ...]:
    old = {(run.phase.id, run.span) for run in before.flares}
    new = {(run.phase.id, run.span) for run in after.flares}
    gone = [PhaseMove(phase, span, None, is_flare=True) for phase, span in sorted(old - new)]
    come = [PhaseMove(phase, None, span, is_flare=True) for phase, span in sorted(new - old)]
    return (*gone, *come)


# How remedies are taken


def _line_changes(remedy: str, before: Layout, after: Layout) -> tuple[LineChange, ...]:
    old = [s for s in before.stretches if s.remedy == remedy]
    new = [s for s in after.stretches if s.remedy == remedy]
    edges = sorted({day for s in (*old, *new) for day in (s.span.first, s.span.end)})
    changes: list[LineChange] = []
    for first, end in pairwise(edges):
        was, now = _at(old, first), _at(new, first)
        formula = _formula_alone(was, now)
        if _ways(was) == _ways(now) and formula is None:
            continue
        change = LineChange(remedy, Span(first, end), _directions(was), _directions(now), formula)
        last = changes[-1] if changes else None
        if last and last.span.end == first and _same(last, change):
            changes[-1] = replace(last, span=Span(last.span.first, end))
        else:
            changes.append(change)
    return tuple(changes)


def _formula_alone(was: list[Stretch], now: list[Stretch]) -> str | None:
    """The formula that is taken now, where it is taken as the other was."""
    if not was or not now or _ways(was) != _ways(now) or was[0].formula == now[0].formula:
        return None
    return now[0].formula


def _at(stretches: list[Stretch], day: date) -> list[Stretch]:
    return [s for s in stretches if day in s.span]


def _directions(stretches: list[Stretch]) -> tuple[Directions, ...]:
    return tuple(s.directions for s in stretches)


def _ways(stretches: list[Stretch]) -> list[tuple[object, ...]]:
    """What tells one way of taking from another; days counted from an anchor keep their beat."""
    return sorted(
        (
            *(s.amount, s.directions.largest, s.unit, s.times, s.days.weekdays, s.days.every),
            *(_beat(s), s.as_needed_max or 0),
        )
        for s in stretches
    )


def _beat(stretch: Stretch) -> int:
    return (stretch.span.first - _EPOCH).days % stretch.days.every


def _same(change: LineChange, other: LineChange) -> bool:
    mine, others = (
        (change.before, change.after, change.formula),
        (other.before, other.after, other.formula),
    )
    return mine == others


# Doses


def days_taken(stretch: Stretch) -> int:
    """On how many days a stretch is taken, without going through them."""
    days = stretch.span.days
    if stretch.days.weekdays:
        weeks, rest = divmod(days, 7)
        tail = ((stretch.span.first.weekday() + n) % 7 for n in range(rest))
        return weeks * len(stretch.days.weekdays) + sum(
            day in stretch.days.weekdays for day in tail
        )
    return -(-days // stretch.days.every)


def _totals(remedy: str, layout: Layout) -> dict[Unit, tuple[int, Fraction]]:
    totals: dict[Unit, tuple[int, Fraction]] = {}
    for stretch in layout.stretches:
        if stretch.remedy == remedy and stretch.times:
            count, amount = totals.get(stretch.unit, (0, Fraction(0)))
            more = days_taken(stretch) * len(stretch.times)
            totals[stretch.unit] = (count + more, amount + more * stretch.amount)
    return totals


def _dose_changes(remedy: str, before: Layout, after: Layout) -> tuple[DoseChange, ...]:
    old, new = _totals(remedy, before), _totals(remedy, after)
    none = (0, Fraction(0))
    return tuple(
        DoseChange(
            remedy,
            unit,
            old.get(unit, none)[0],
            new.get(unit, none)[0],
            old.get(unit, none)[1],
            new.get(unit, none)[1],
        )
        for unit in dict.fromkeys((*old, *new))
        if old.get(unit, none) != new.get(unit, none)
    )
