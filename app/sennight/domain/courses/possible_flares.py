"""Flare-up plans that no flare has called yet, as if they could begin on any day.

The client has the remedies and the directions from the first day on, so whatever looks at what
is given has to look at these days too.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from sennight.domain.courses.ceilings import within_ceilings
from sennight.domain.courses.protocols import Line, Phase
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import DayRule, Directions
from sennight.domain.kept import kept


@dataclass(frozen=True, slots=True)
class PossibleFlare:
    """A rescue phase that may begin on any day.

    `any_day` is the course with its lines taken on all days: on top of the others, in place of
    the same remedies', in place of all where it stands in. `once` has them from the first day
    for the phase's own length, for what counts days of use.
    """

    phase: Phase
    any_day: Layout
    once: Layout

    @property
    def remedies(self) -> frozenset[str]:
        """The ids of its remedies that may still be taken."""
        return frozenset(s.remedy for s in self.any_day.stretches if s.phase == self.phase.id)


@kept(4)
def possible_flares(layout: Layout) -> tuple[PossibleFlare, ...]:
    """The rescue phases of a course that no flare has called; none where all is over."""
    called = {run.phase.id for run in layout.flares}
    return tuple(
        flare
        for phase in layout.course.protocol.phases
        if phase.is_rescue and phase.id not in called
        if (flare := _possible(layout, phase)).remedies
    )


@kept(4)
def repeated_flares(layout: Layout) -> tuple[tuple[PossibleFlare, date], ...]:
    """The rescue phases that flares have called and another may call again before the course ends.

    Each as it could begin from the day after the last flare on, with that flare's last day.
    """
    ends = {run.phase.id: run.span.last for run in layout.flares}
    return tuple(
        (flare, ends[phase.id])
        for phase in layout.course.protocol.phases
        if phase.is_rescue
        and phase.id in ends
        and ends[phase.id] < layout.days.last
        and (flare := _possible(layout, phase, ends[phase.id] + ONE_DAY)).remedies
    )


def _possible(layout: Layout, phase: Phase, first: date | None = None) -> PossibleFlare:
    whole = layout.days if first is None else Span(first, layout.days.end)
    end = phase.length.after(whole.first) if phase.length else whole.end
    short = Span(whole.first, min(end, whole.end))
    return PossibleFlare(phase, _with(layout, phase, whole), _with(layout, phase, short))


def _with(layout: Layout, phase: Phase, days: Span) -> Layout:
    """The layout with the phase's lines on these days; other flares do not overlap it."""
    flares = {run.phase.id for run in layout.flares}
    own = {line.remedy for line in phase.lines}
    stays = (
        stretch
        for stretch in layout.stretches
        if stretch.phase not in flares and not phase.stand_in and stretch.remedy not in own
    )
    taken = (
        _stretch(layout, phase, line, formula, span)
        for line in phase.lines
        for formula, span in _formulas(layout, line, days)
    )
    return replace(layout, stretches=(*stays, *(stretch for stretch in taken if stretch.span)))


def _formulas(layout: Layout, line: Line, days: Span) -> tuple[tuple[str, Span], ...]:
    """The formulas taken as a line's remedy and when, up to the day from which it is stopped."""
    stops = [stop for remedy, stop in layout.plan.stops if remedy == line.remedy]
    span = Span(days.first, max(days.first, min((days.end, *stops))))
    return layout.plan.formulas(line.remedy, span)


def _stretch(layout: Layout, phase: Phase, line: Line, formula: str, span: Span) -> Stretch:
    """A line by its fullest directions, on days on which one formula is taken."""
    day = layout.course.client.day
    fullest = max(_directions(line), key=lambda choice: _fullness(choice, day))
    directions = within_ceilings(layout.course.protocol, line.remedy, fullest, day)
    return Stretch(
        span=span,
        phase=phase.id,
        remedy=line.remedy,
        amount=directions.amount,
        unit=directions.unit,
        times=directions.minutes(day),
        days=DayRule(),
        as_needed_max=directions.as_needed.ceiling(day) if directions.as_needed else None,
        directions=directions,
        formula=formula,
    )


def _directions(line: Line) -> Iterator[Directions]:
    yield line.directions
    yield from (step.directions for step in line.steps)


def _fullness(directions: Directions, day: ClientDay) -> Fraction:
    """How much a day may hold, in the directions' own unit; steps seldom change the unit."""
    as_needed = directions.as_needed.ceiling(day) if directions.as_needed else 0
    return directions.largest * (len(directions.minutes(day)) + as_needed)
