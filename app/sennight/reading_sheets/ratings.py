"""Rows of ratings from 0 to 10: one box of a row is marked, or has a ring round it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date

import numpy as np

from sennight.reading_sheets.grid_file import Box, BoxState, ScoreSays
from sennight.reading_sheets.inks import Inks, Shares

_MOST = 0.4
"""More ink beside a box than this share says no more."""
_RING, _CLEARLY = 0.4, 0.25
"""How much of a ring is round a box at least, and how much more than round any other."""
_MAYBE, _RATHER = 0.2, 0.08
"""The same for what a person must look at."""


def with_ratings(
    states: Sequence[BoxState], boxes: Sequence[Box], inks: Inks
) -> tuple[BoxState, ...]:
    """The states with rings as marks; where several boxes of a row are marked, all are asked."""
    found, rings = list(states), _rings(inks)
    for row in _rows(boxes):
        marked = [n for n in row if found[n] is BoxState.MARKED]
        if len(marked) > 1:
            for n in marked:
                found[n] = BoxState.UNCLEAR
        elif len(row) > 1 and all(found[n] is BoxState.EMPTY for n in row):
            best, second = sorted(row, key=lambda n: -float(rings[n]))[:2]
            found[best] = _ring(float(rings[best]), float(rings[best] - rings[second]))
    return tuple(found)


def _rows(boxes: Sequence[Box]) -> Iterator[list[int]]:
    rows: dict[tuple[date, str], list[int]] = defaultdict(list)
    for number, box in enumerate(boxes):
        if isinstance(box.says, ScoreSays):
            rows[box.says.day, box.says.measure].append(number)
    yield from rows.values()


def _ring(ring: float, more: float) -> BoxState:
    if ring >= _RING and more >= _CLEARLY:
        return BoxState.MARKED
    return BoxState.UNCLEAR if ring >= _MAYBE and more >= _RATHER else BoxState.EMPTY


def _rings(inks: Inks) -> Shares:
    """How much of a ring is round each box: ink on three sides, above and below, on all four."""
    near = np.sort(np.minimum(inks.beside, _MOST), axis=1)
    around = np.minimum(inks.around, _MOST)
    above_and_below = around[:, :2].min(axis=1)
    ordered = np.sort(around, axis=1)
    return np.asarray(near[:, 1] + ordered[:, 1] + (above_and_below + ordered[:, 0]) / 2)
