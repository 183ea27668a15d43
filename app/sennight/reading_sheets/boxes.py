"""What stands in each box: nothing, a mark, or something that a person must look at."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sennight.reading_sheets.flattening import DOTS, FlatPage
from sennight.reading_sheets.grid_file import BoxState, Page

_MARGIN = 0.8
"""Millimetres inside the printed line that are not looked at."""
_DARK, _DARKEST = 0.13, 0.24
"""What is darker than the paper by this share of its light is a mark's; by more amid noise."""
_FILLED = 0.86
"""A box whose paper is darker than this share of that around it is filled."""
_CLEAN, _SURE, _MIDDLE = 0.012, 0.035, 0.02
"""Shares of dark inside: at most so much is nothing; so much is a mark, so much in the middle."""
_LEAST_HEAVY, _HEAVY, _MUCH = 0.28, 1.1, 0.03
_LEAST_FULL, _FULL = 0.35, 1.25
"""A mark over a mark: so many times the usual mark of the sheet, and so much more."""
_FILLS, _FULLER, _MORE = 0.55, 1.35, 0.08
"""Where the usual mark is a filling, which vary: from which share on, and the same for those."""
_BESIDE, _OFF, _SPILT, _SPILT_DARK = 1.0, 0.4, 0.025, 0.18
"""Ink beside a box: looked for so far off its line, from which share on, and how dark."""
_FAINT = 0.08
"""Less than this share of the usual mark may be what a neighbour's pen left."""


@dataclass(frozen=True, slots=True)
class _Ink:
    """Shares of a box: of dark points, of dark points in the middle, and of its full ink.

    `beside` is the share of dark points just outside its line, on the side that has the most but
    one: a printed line or a neighbour's tick is on one side alone.
    """

    dark: float
    middle: float
    heavy: float
    beside: float = 0.0


def box_states(flat: FlatPage, page: Page) -> tuple[BoxState, ...]:
    """What each box of a page holds, in the page's order.

    What is filled more than most marks of the sheet, and over the box's line, may be a mark that
    was crossed out. A filling that stays inside its box is a mark.
    """
    least = _least_dark(flat)
    inks = [
        _ink(flat, corner, box.size, least)
        for corner, box in zip(flat.corners, page.boxes, strict=True)
    ]
    usual = _usual(inks)
    return tuple(_state(ink, usual) for ink in inks)


def _usual(inks: Sequence[_Ink]) -> _Ink:
    """The usual mark of a sheet; a full box where it has none."""
    marked = [ink for ink in inks if ink.dark >= _SURE]
    if not marked:
        return _Ink(1.0, 1.0, 1.0)
    dark = float(np.median([ink.dark for ink in marked]))
    middle = float(np.median([ink.middle for ink in marked]))
    return _Ink(dark, middle, float(np.median([ink.heavy for ink in marked])))


def _least_dark(flat: FlatPage) -> float:
    """From where on a point is darker than the noise of the photo."""
    some = slice(None, None, 5), slice(None, None, 5)
    shares = 1 - flat.grey[some] / np.maximum(flat.paper[some], 1).astype(np.float32)
    middle = np.median(shares)
    spread = 1.4826 * np.median(np.abs(shares - middle))
    return float(np.clip(middle + 5 * spread, _DARK, _DARKEST))


def _state(ink: _Ink, usual: _Ink) -> BoxState:
    if ink.dark <= _CLEAN:
        return BoxState.EMPTY
    times, more = (_FULLER, _MORE) if usual.dark > _FILLS else (_HEAVY, _MUCH)
    is_heavy = ink.heavy > max(_LEAST_HEAVY, times * usual.heavy + more)
    is_full = ink.dark > max(_LEAST_FULL, _FULL * usual.dark)
    is_spilt = ink.beside > _SPILT
    is_faint = ink.dark < max(_SURE, _FAINT * usual.dark) or ink.middle < _MIDDLE
    return (
        BoxState.UNCLEAR if is_faint or (is_spilt and (is_heavy or is_full)) else BoxState.MARKED
    )


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
    beside = _ink_beside(flat, corner, size, least)
    return _Ink(float(dark.mean()), float(middle.mean()), float(full.mean()), beside)


def _ink_beside(flat: FlatPage, corner: NDArray[np.float64], size: float, least: float) -> float:
    """The share of dark points beside a box, off its line, on the darkest side but one."""
    reach, gap = round(_BESIDE * DOTS), round(_OFF * DOTS)
    left, top = (round(float(place)) - reach for place in corner)
    side = round(size * DOTS) + 2 * reach
    room = slice(max(0, top), top + side), slice(max(0, left), left + side)
    grey, paper = flat.grey[room].astype(np.float32), flat.paper[room]
    dark = 1 - grey / max(1.0, float(np.percentile(paper, 90))) > max(least, _SPILT_DARK)
    wide = reach - gap
    sides = dark[:wide], dark[-wide:], dark[:, :wide], dark[:, -wide:]
    return sorted(float(side.mean()) for side in sides)[-2]


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
