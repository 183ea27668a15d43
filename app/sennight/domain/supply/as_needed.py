"""How many doses as needed are reckoned with, where remedies share a ceiling.

Two rubs of which four a day may be used, all rubs together, are not eight a day. Which of them the
client will reach for nobody knows, so what the ceiling leaves beside the timed doses is divided in
proportion to what each allows by itself. One dose in all is reckoned with even where the timed
doses fill the ceiling: what may be taken must be on the shelf.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from fractions import Fraction
from itertools import pairwise

from sennight.domain.courses.sharing import shared_ceilings
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span
from sennight.domain.directions.directions import DAILY


@dataclass(frozen=True, slots=True)
class NeededDoses:
    """A stretch, or a part of one, and the most doses as needed that are reckoned with a day."""

    stretch: Stretch
    most: Fraction


def needed_doses(layout: Layout) -> Iterator[NeededDoses]:
    """Every stretch in the layout's order, cut where the others under its ceilings change."""
    for stretch in layout.stretches:
        most = Fraction(stretch.as_needed_max or 0)
        mates = _mates(layout, stretch) if most else ()
        if not mates:
            yield NeededDoses(stretch, most)
            continue
        for part in _parts(stretch, [mate for group in mates for mate in group.others]):
            shares = (_share(part, group) for group in mates)
            yield NeededDoses(part, min(shares))


@dataclass(frozen=True, slots=True)
class _Group:
    """The most doses a day of a stretch and others."""

    most: int
    others: tuple[Stretch, ...]


def _mates(layout: Layout, stretch: Stretch) -> tuple[_Group, ...]:
    """For each ceiling that a stretch shares, the other stretches that meet it there.

    Those count that are taken on all of its days; on the days of one that comes less often a
    little too much is reckoned, never too little.
    """
    ceilings = shared_ceilings(layout.course.protocol.ceilings, stretch.remedy)
    groups = (
        _Group(
            ceiling.most,
            tuple(
                other
                for other in layout.stretches
                if other.remedy in ceiling.remedies
                and other is not stretch
                and other.span.touches(stretch.span)
                and _is_on_its_days(other, stretch)
            ),
        )
        for ceiling in ceilings
    )
    return tuple(group for group in groups if group.others)


def _is_on_its_days(other: Stretch, stretch: Stretch) -> bool:
    if other.days == DAILY:
        return True
    apart = (other.span.first - stretch.span.first).days
    return other.days == stretch.days and apart % stretch.days.every == 0


def _parts(stretch: Stretch, others: Sequence[Stretch]) -> Iterator[Stretch]:
    """A stretch cut where another begins or ends, each part from its first day taken."""
    inside = {edge for other in others for edge in (other.span.first, other.span.end)}
    edges = {stretch.span.first, stretch.span.end}
    edges |= {edge for edge in inside if stretch.span.first < edge < stretch.span.end}
    for first, end in pairwise(sorted(edges)):
        wait = -(first - stretch.span.first).days % stretch.days.every
        span = Span(first + timedelta(days=wait), end)
        if span:
            yield replace(stretch, span=span)


def _share(part: Stretch, group: _Group) -> Fraction:
    """What a ceiling leaves for a part of a stretch, in proportion to what it allows itself."""
    there = [other for other in group.others if part.span.first in other.span]
    own = part.as_needed_max or 0
    timed = len(part.times) + sum(len(other.times) for other in there)
    asked = own + sum(other.as_needed_max or 0 for other in there)
    return Fraction(own * min(asked, max(1, group.most - timed)), asked)
