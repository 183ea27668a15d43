"""Rows of ratings: what a ring is, and when it is asked about."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from sennight.reading_sheets.grid_file import Box, BoxState, ScoreSays
from sennight.reading_sheets.inks import Inks
from sennight.reading_sheets.ratings import with_ratings

ROW = tuple(
    Box(10.0 + 16 * n, 50, 6, ScoreSays(date(2027, 1, 10), "overall", n)) for n in range(4)
)
RING = (0.5, 0.5, 0.0, 0.5)
"""Ink above, below, at the left and at the right of a ring that goes round the number too."""
NEIGHBOURS = (0.5, 0.3, 0.3, 0.0)
"""Marks in the rows above and below that go over their boxes."""
EMPTY, MARKED, UNCLEAR = BoxState.EMPTY, BoxState.MARKED, BoxState.UNCLEAR


@pytest.mark.parametrize(
    ("first", "beside", "told"),
    [
        (EMPTY, RING, (EMPTY, EMPTY, MARKED, EMPTY)),
        (EMPTY, NEIGHBOURS, (EMPTY, EMPTY, UNCLEAR, EMPTY)),
        (UNCLEAR, RING, (UNCLEAR, EMPTY, UNCLEAR, EMPTY)),
        (MARKED, NEIGHBOURS, (MARKED, EMPTY, EMPTY, EMPTY)),
    ],
)
def test_a_ring(first: BoxState, beside: tuple[float, ...], told: tuple[BoxState, ...]) -> None:
    """Ink beside the third box: a ring is closed, and asked about where the row is not sure."""
    around = np.zeros((4, 4))
    around[2] = beside
    none = np.zeros(4)
    inks = Inks(none, none, none, none, none, around, around, around)
    assert with_ratings((first, EMPTY, EMPTY, EMPTY), ROW, inks) == told
