"""How each remedy is taken over some days: ways, each with its own first and last day.

A way ends on its own last day, whatever comes next: where the next directions have no dose on
their first days, nothing is taken in between. Days inside a way on which the remedy is left out
are its days off; breaks of the whole course and flare-up plans are told by themselves.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import groupby

from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span, joined, without
from sennight.domain.directions.directions import Directions


@dataclass(frozen=True, slots=True)
class Way:
    """One way of taking a remedy, from its first day to its last; `index` is its place.

    `days_off` lie inside, breaks and flare-up plans aside. `first_days` are those from which
    every so many days are counted, again after each gap; empty where days are not counted.
    """

    index: int
    remedy: str
    span: Span
    stretch: Stretch
    days_off: tuple[Span, ...] = ()
    first_days: tuple[date, ...] = ()

    @property
    def directions(self) -> Directions:
        """How it is taken."""
        return self.stretch.directions


def ways_of(layout: Layout, window: Span) -> tuple[Way, ...]:
    """The ways in which remedies are taken, flare-up plans aside, in the course's order.

    Each is cut to the window; those of one remedy follow each other.
    """
    rescues = {run.phase.id for run in layout.flares}
    base = tuple(s for s in within(layout, window) if s.phase not in rescues)
    return tuple(
        way
        for index, remedy in enumerate(layout.course.remedies)
        for way in _ways(layout, index, [s for s in base if s.remedy == remedy.id], window)
    )


def _ways(layout: Layout, index: int, stretches: list[Stretch], window: Span) -> Iterator[Way]:
    """Stretches in order, those that follow each other with the same directions as one."""
    for _, group in groupby(stretches, key=lambda s: s.directions):
        same = list(group)
        span = Span(same[0].span.first, same[-1].span.end)
        elsewhere = (*layout.pauses, *_flares_instead(layout, same[0].remedy))
        meant = (Span(counted_from(layout, s, window), s.span.end) for s in same)
        off = without(span, (*meant, *elsewhere))
        yield Way(index, same[0].remedy, span, same[0], off, first_days(same))


def _flares_instead(layout: Layout, remedy: str) -> Iterator[Span]:
    """The days on which a flare-up plan takes the place of a remedy's usual directions."""
    for run in layout.flares:
        if run.phase.stand_in or remedy in {line.remedy for line in run.phase.lines}:
            yield run.span


def within(layout: Layout, window: Span) -> tuple[Stretch, ...]:
    """The stretches inside the window, in order; where days are counted, from a day taken on."""
    cut = (_cut(stretch, window) for stretch in layout.stretches)
    return tuple(sorted((s for s in cut if s.span), key=lambda s: s.span))


def _cut(stretch: Stretch, window: Span) -> Stretch:
    span = stretch.span.overlap(window)
    wait = -(span.first - stretch.span.first).days % stretch.days.every
    return replace(stretch, span=Span(span.first + timedelta(days=wait), span.end))


def first_days(stretches: list[Stretch]) -> tuple[date, ...]:
    """The first day of each run of counted days; none where days are not counted."""
    counted = sorted(s.span.first for s in stretches if s.days.every > 1)
    return tuple(dict.fromkeys(counted))


def breaks_of(layout: Layout, window: Span) -> tuple[Span, ...]:
    """The breaks of the whole course that have days in the window."""
    spans = (pause.overlap(window).overlap(layout.days) for pause in layout.pauses)
    return joined(tuple(spans))


def counted_from(layout: Layout, stretch: Stretch, window: Span) -> date:
    """The first day after which every so many days are counted to the first day taken.

    On the days before a counted dose nothing changes for the client, so they belong to it; but
    not past whatever was before.
    """
    first = stretch.span.first
    others = (s.span.end for s in layout.stretches if s.remedy == stretch.remedy)
    rests = (rest.span.end for rest in layout.rests if rest.remedy == stretch.remedy)
    runs = (run.span for run in (*layout.phases, *layout.flares))
    edges = (edge for span in runs for edge in (span.first, span.end))
    pauses = (pause.end for pause in layout.pauses)
    before = (day for day in (*others, *rests, *edges, *pauses) if day <= first)
    earliest = first - timedelta(days=stretch.days.every - 1)
    return max(earliest, window.first, *before)
