"""Rows of ratings: one box of a row is marked, or has a ring round it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date

import numpy as np

from sennight.reading_sheets.grid_file import Box, BoxState, ScoreSays
from sennight.reading_sheets.inks import Inks, Shares

_MOST = 0.4
"""More ink beside a box than this share says no more."""
_RING, _CLEARLY = 0.3, 0.15
"""How much of a ring is round a box at least, and how much more than round any other."""
_MAYBE = 0.15
"""So much of a ring is asked about, with what is more than half as much in its row."""
_CLOSED, _OPEN = [0, 1, 3], 0.05
"""A ring is closed above, below and at the right: less ink there than this is of no ring.

At the left it may go round the box's number, further off than is looked.
"""


def with_ratings(
    states: Sequence[BoxState], boxes: Sequence[Box], inks: Inks
) -> tuple[BoxState, ...]:
    """The states with rings as marks; where several boxes of a row are marked, all are asked.

    A ring in a row of which something is asked already is asked about too.
    """
    found = list(states)
    for row in _rows(boxes):
        marked = [n for n in row if found[n] is BoxState.MARKED]
        if len(marked) > 1:
            for n in marked:
                found[n] = BoxState.UNCLEAR
        elif len(row) > 1 and not marked:
            empty = [n for n in row if found[n] is BoxState.EMPTY]
            rings = _ring_states(inks, empty, is_sure=len(empty) == len(row))
            for n, state in zip(empty, rings, strict=True):
                found[n] = state
    return tuple(found)


def _rows(boxes: Sequence[Box]) -> Iterator[list[int]]:
    rows: dict[tuple[date, str], list[int]] = defaultdict(list)
    for number, box in enumerate(boxes):
        if isinstance(box.says, ScoreSays):
            rows[box.says.day, box.says.measure].append(number)
    yield from rows.values()


def _ring_states(inks: Inks, empty: list[int], *, is_sure: bool) -> list[BoxState]:
    """The states of a row's boxes that have no mark inside; `is_sure` if that is the whole row."""
    if not empty:
        return []
    rings = _rings(inks, empty)
    second, best = np.sort([0.0, *rings])[-2:]
    is_closed = inks.around[empty][rings.argmax()][_CLOSED].min() >= _OPEN
    if best >= _RING and best - second >= _CLEARLY and is_closed and is_sure:
        return [BoxState.MARKED if ring == best else BoxState.EMPTY for ring in rings]
    asked = (best >= _MAYBE) & (rings > best / 2)
    return [BoxState.UNCLEAR if is_asked else BoxState.EMPTY for is_asked in asked.tolist()]


def _rings(inks: Inks, row: list[int]) -> Shares:
    """How much of a ring is round each box: ink on three sides, above and below, on all four."""
    near = np.sort(np.minimum(inks.near[row], _MOST), axis=1)
    around = np.minimum(inks.around[row], _MOST)
    above_and_below = around[:, :2].min(axis=1)
    ordered = np.sort(around, axis=1)
    return np.asarray(near[:, 1] + ordered[:, 1] + (above_and_below + ordered[:, 0]) / 2)
