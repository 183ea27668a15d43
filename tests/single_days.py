"""Stretches as single days."""

from __future__ import annotations

from datetime import date

from sennight.domain.directions import Directions
from sennight.domain.stretches import Layout


def days_of(layout: Layout) -> dict[tuple[date, str], tuple[str, Directions]]:
    """The stretches as single days, checked to be disjoint."""
    found: dict[tuple[date, str], tuple[str, Directions]] = {}
    for stretch in layout.stretches:
        for when in stretch.days_taken():
            assert (when, stretch.remedy) not in found
            found[when, stretch.remedy] = (stretch.phase, stretch.directions)
    return found
