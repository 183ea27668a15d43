"""What stands in each box: nothing, a mark, or something that a person must look at."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from sennight.reading_sheets.flattening import DOTS, FlatPage
from sennight.reading_sheets.grid_file import Page


class BoxState(StrEnum):
    """What a box holds."""

    EMPTY = "empty"
    MARKED = "marked"
    UNCLEAR = "unclear"


_MARGIN = 0.8
"""Millimetres inside the printed line that are not looked at."""
_DARK, _DARKEST = 0.13, 0.24
"""What is darker than the paper by this share of its light is a mark's; by more amid noise."""
_FILLED = 0.86
"""A box whose paper is darker than this share of that around it is filled."""
_CLEAN, _SURE, _MIDDLE = 0.012, 0.035, 0.02
"""Shares of dark inside: at most so much is nothing; so much is a mark, so much in the middle."""
_LEAST_HEAVY, _HEAVY, _MUCH = 0.45, 1.35, 0.08
"""A mark over a mark: so many times the usual mark of the sheet, and so much more."""


@dataclass(frozen=True, slots=True)
class _Ink:
    """Shares of a box: of dark points, of dark points in the middle, and of its full ink."""

    dark: float
    middle: float
    heavy: float


def box_states(flat: FlatPage, page: Page) -> tuple[BoxState, ...]:
    """What each box of a page holds, in the page's order.

    What is filled far more than most marks of the sheet may be a mark that was crossed out.
    """
    least = _least_dark(flat)
    inks = [
        _ink(flat, corner, box.size, least)
        for corner, box in zip(flat.corners, page.boxes, strict=True)
    ]
    marked = [ink.heavy for ink in inks if ink.dark >= _SURE]
    usual = float(np.median(marked)) if marked else 1.0
    most = max(_LEAST_HEAVY, _HEAVY * usual + _MUCH)
    return tuple(_state(ink, most) for ink in inks)


def _least_dark(flat: FlatPage) -> float:
    """From where on a point is darker than the noise of the photo."""
    some = slice(None, None, 5), slice(None, None, 5)
    shares = 1 - flat.grey[some] / np.maximum(flat.paper[some], 1).astype(np.float32)
    middle = np.median(shares)
    spread = 1.4826 * np.median(np.abs(shares - middle))
    return float(np.clip(middle + 5 * spread, _DARK, _DARKEST))


def _state(ink: _Ink, most: float) -> BoxState:
    if ink.dark <= _CLEAN:
        return BoxState.EMPTY
    if ink.dark >= _SURE and ink.middle >= _MIDDLE and ink.heavy <= most:
        return BoxState.MARKED
    return BoxState.UNCLEAR


def _ink(flat: FlatPage, corner: NDArray[np.float64], size: float, least: float) -> _Ink:
    left, top = (round(float(place) + _MARGIN * DOTS) for place in corner)
    side = round((size - 2 * _MARGIN) * DOTS)
    inside = slice(max(0, top), top + side), slice(max(0, left), left + side)
    grey, paper = flat.grey[inside].astype(np.float32), flat.paper[inside].astype(np.float32)
    around = _light_around(flat, corner, size)
    if np.median(paper) < _FILLED * around:
        paper = np.full_like(paper, around)
    shares = 1 - grey / np.maximum(paper, 1)
    dark, fifth = shares > least, side // 5
    full = shares > max(least, float(np.percentile(shares, 97)) / 2)
    middle = dark[fifth:-fifth, fifth:-fifth]
    return _Ink(float(dark.mean()), float(middle.mean()), float(full.mean()))


def _light_around(flat: FlatPage, corner: NDArray[np.float64], size: float) -> float:
    """The least light on the paper beside the four corners of a box."""
    reach = round(1.5 * DOTS)
    lights = []
    for across in (0.0, size):
        for down in (0.0, size):
            x, y = round(float(corner[0]) + across * DOTS), round(float(corner[1]) + down * DOTS)
            piece = flat.grey[max(0, y - reach) : y + reach, max(0, x - reach) : x + reach]
            lights.append(float(np.percentile(piece, 80)) if piece.size else 255.0)
    return min(lights)
