"""Boxes drawn point by point: what is asked about where a box may lie elsewhere."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from sennight.reading_sheets.boxes import box_states
from sennight.reading_sheets.flattening import DOTS, FlatPage
from sennight.reading_sheets.grid_file import Box, BoxState, DoseSays, Page

BOXES = tuple(
    Box(10.0 + 10 * n, 10, 6, DoseSays(date(2027, 1, 4), "Sage", 480, n)) for n in range(4)
)
PAGE = Page(1, "", (1, 1, 1), 50, 30, (), BOXES)


@pytest.mark.parametrize("is_adrift", [False, True])
def test_a_line_in_a_box_that_may_lie_elsewhere(is_adrift: bool) -> None:
    """Asked about are a line from side to side and what a neighbour filled; no dot, no nothing."""
    paper = np.full((30 * DOTS, 50 * DOTS), 230, dtype=np.uint8)
    grey = paper.copy()
    grey[13 * DOTS : 13 * DOTS + 3, 9 * DOTS : 17 * DOTS] = 60
    grey[12 * DOTS : 14 * DOTS, 22 * DOTS : 24 * DOTS] = 60
    for stroke in (84, 89, 94):
        grey[stroke : stroke + 4, 320:355] = 60
    corners = np.array([(box.x, box.y) for box in BOXES]) * DOTS
    no, adrift = np.zeros(4, dtype=bool), np.full(4, is_adrift)
    flat = FlatPage(grey, paper, corners, covered=no, unframed=no, hidden=no, adrift=adrift)
    line, dot, nothing, filled = box_states(flat, PAGE)
    assert {line, filled} == {BoxState.UNCLEAR if is_adrift else BoxState.MARKED}
    assert (dot, nothing) == (BoxState.MARKED, BoxState.EMPTY)
