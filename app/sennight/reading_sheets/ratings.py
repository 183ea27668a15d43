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
_RING, _CLEARLY = 0.3, 0.15
"""How much of a ring is round a box at least, and how much more than round any other."""
_MAYBE = 0.15
"""So much of a ring is asked about, with what is more than half as much in its row."""


def with_ratings(
    states: Sequence[BoxState], boxes: Sequence[Box], inks: Inks
) -> tuple[BoxState, ...]:
    """The states with rings as marks; where several boxes of a row are marked, all are asked."""
    found = list(states)
    for row in _rows(boxes):
        marked = [n for n in row if found[n] is BoxState.MARKED]
        if len(marked) > 1:
            for n in marked:
                found[n] = BoxState.UNCLEAR
        elif len(row) > 1 and all(found[n] is BoxState.EMPTY for n in row):
            for n, state in zip(row, _ring_states(_rings(inks, row)), strict=True):
                found[n] = state
    return tuple(found)


def _rows(boxes: Sequence[Box]) -> Iterator[list[int]]:
    rows: dict[tuple[date, str], list[int]] = defaultdict(list)
    for number, box in enumerate(boxes):
        if isinstance(box.says, ScoreSays):
            rows[box.says.day, box.says.measure].append(number)
    yield from rows.values()


def _ring_states(rings: Shares) -> list[BoxState]:
    """The states of a row that has no mark inside its boxes."""
    second, best = np.sort(rings)[-2:]
    if best >= _RING and best - second >= _CLEARLY:
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
