"""Stretches written out, to be compared: as rows of course days, or as single days."""

from __future__ import annotations

from datetime import date

from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.directions.directions import Directions
from support.samples import START


def rows(plan: Course, remedy: str = "t1") -> list[tuple[int, int, str, str]]:
    """A remedy's stretches as (first course day, last course day, phase, directions)."""
    return [
        (
            (s.span.first - START).days + 1,
            (s.span.last - START).days + 1,
            s.phase,
            str(s.directions),
        )
        for s in lay_out(plan).stretches
        if s.remedy == remedy
    ]


def days_of(layout: Layout) -> dict[tuple[date, str], tuple[str, Directions]]:
    """The stretches as single days, checked to be disjoint."""
    found: dict[tuple[date, str], tuple[str, Directions]] = {}
    for stretch in layout.stretches:
        for when in stretch.days_taken():
            assert (when, stretch.remedy) not in found
            found[when, stretch.remedy] = (stretch.phase, stretch.directions)
    return found
