"""What stands in each box: nothing, a mark, or something that a person must look at."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sennight.reading_sheets.flattening import FlatPage
from sennight.reading_sheets.grid_file import BoxState, Page
from sennight.reading_sheets.inks import Inks, Shares, measure_inks
from sennight.reading_sheets.ratings import with_ratings

_CLEAN, _SURE = 0.03, 0.035
"""Shares of dark inside: less is a neighbour's pen at the edge; a mark, for what is usual."""
_MIDDLE_CLEAN, _MIDDLE_SURE = 0.02, 0.1
"""Shares of dark in the middle: less is nothing; more is a mark."""
_LITTLE, _CENTRED = 0.2, 1.8
"""So little dark in a box may be its own line or a neighbour's mark, if the box lies elsewhere;
but not where its middle has so many times as much: that is a dot."""
_FREE, _EVEN = 0.4, 1.3
"""So may more dark, where that much of the box is free and its middle has hardly more dark."""
_MOST_BESIDE = 0.3
"""More ink beside a box than this share says no more."""

# How far a mark is from being taken back: a mark over a mark is heavier than what is usual on the
# sheet, lies in lines from side to side and goes over the box's line. The weights are those of a
# logistic regression on simulated photos, of other seeds than any test has.
_ACROSS, _MOST, _SECOND, _THIRD = 32.3, 12.6, 5.2, 24.8
"""Ink at the left and the right, and beside the side that has the most, the second, the third."""
_HEAVY, _HEAVIER, _LINED, _LINED_OTHERWISE = 10.9, 8.9, 1.8, 13.8
"""Full ink inside, and more than usual; lines, and lines where marks are usually light."""
_TAKEN_BACK, _OVER_LINES = 17.5, 15.5
"""From where on a mark may be taken back; and one that hides its box's lines."""
_MORE, _MOST_MARKS = 1.5, 75
"""And by how much more than so many hundredths of the sheet's marks."""


def box_states(flat: FlatPage, page: Page) -> tuple[BoxState, ...]:
    """What each box of a page holds, in the page's order.

    A mark that may have been taken back, by a scribble, by filling the box or by crossing it
    out, is never told as a mark, nor is a box that is not where it was printed.
    """
    if not page.boxes:
        return ()
    inks = measure_inks(flat, page)
    is_empty = (inks.dark <= _CLEAN) & (inks.middle <= _MIDDLE_CLEAN)
    is_faint = inks.middle < _MIDDLE_SURE
    is_elsewhere = flat.adrift & _may_have_strayed(inks)
    is_asked = ~is_empty & (is_faint | is_elsewhere | _is_taken_back(inks, flat.hidden))
    is_asked |= flat.covered | (is_empty & flat.unframed)
    states = [
        BoxState.UNCLEAR if asked else BoxState.EMPTY if empty else BoxState.MARKED
        for asked, empty in zip(is_asked.tolist(), is_empty.tolist(), strict=True)
    ]
    return with_ratings(states, page.boxes, inks)


def _may_have_strayed(inks: Inks) -> NDArray[np.bool_]:
    """Which ink may be the box's own line or a neighbour's mark, if the box lies elsewhere."""
    is_little = (inks.dark < _LITTLE) & (inks.middle < _CENTRED * inks.dark)
    is_aside = (inks.free > _FREE) & (inks.middle < _EVEN * inks.dark)
    return np.asarray(is_little | is_aside)


def _is_taken_back(inks: Inks, hidden: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Which marks may have been taken back: by what they look like, alone and on their sheet."""
    looks, is_marked = _taken_back(inks), inks.dark >= _SURE
    usual = float(np.percentile(looks[is_marked], _MOST_MARKS)) if is_marked.any() else 0.0
    least = np.where(hidden, _OVER_LINES, _TAKEN_BACK)
    return np.asarray(looks > np.maximum(least, usual + _MORE))


def _taken_back(inks: Inks) -> Shares:
    """How much each mark looks like one that was taken back."""
    is_marked = inks.dark >= _SURE
    dark = float(np.median(inks.dark[is_marked])) if is_marked.any() else 1.0
    heavy = float(np.median(inks.heavy[is_marked])) if is_marked.any() else 1.0
    beside = np.minimum(inks.beside, _MOST_BESIDE)
    across = beside[:, 2:].min(axis=1)
    ordered = np.sort(beside, axis=1)
    spilt = _MOST * ordered[:, 3] + _SECOND * ordered[:, 2] + _THIRD * ordered[:, 1]
    weight = _HEAVY * inks.heavy + _HEAVIER * (inks.heavy - heavy)
    lined = (_LINED + _LINED_OTHERWISE * (1 - dark)) * inks.lined
    return np.asarray(_ACROSS * across + spilt + weight + lined)
