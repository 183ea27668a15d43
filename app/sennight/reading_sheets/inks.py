"""How much ink is in each box of a page, how it lies there, and how much is beside the box."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sennight.reading_sheets.flattening import DOTS, FlatPage
from sennight.reading_sheets.grid_file import Page
from sennight.reading_sheets.light import Floats, Grey
from sennight.reading_sheets.windows import Windows

_MARGIN = 0.8
"""Millimetres inside the printed line that are not looked at."""
_REACH = 2.0
"""Millimetres beside a box that are looked at."""
_OFF, _BESIDE = 0.4, 1.0
"""Ink beside a box is looked for so far off its line at least and at most, and up to the reach."""
_AROUND = 1.5
"""Millimetres round a box's corners where the light on its paper is taken."""
_DARK, _DARKEST, _BESIDE_DARK = 0.13, 0.24, 0.18
"""What is darker than the paper by this share of its light is a mark's; by more amid noise."""
_FILLED = 0.86
"""A box whose paper is darker than this share of that around it is filled."""
_FULL = 97
"""The share of a box, in hundredths, that is lighter than its darkest ink."""
_FREE = 0.75
"""The side of a square without ink that is counted as free, in millimetres."""
_INKED_LINES = 85
"""The share of a box's rows and columns, in hundredths, that have less ink than is told."""
_RULE, _UPRIGHT = 0.7, 0.5
"""What is dark along so much of all that is looked at beside a box is printed there."""
_FEW = 5
"""Fewer boxes of a row or a column do not say what is printed there."""
_LINE = 0.3
"""Millimetres to each side of a box's printed line that are not looked at from other boxes."""

Shares = NDArray[np.float64]
Dark = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Inks:
    """Shares by box, from 0 to 1.

    `dark` points, those in the `middle`, those of the `heavy` full ink; `free` squares without
    any ink; `lined` is how dark the darkest rows or columns are. Of what is outside the box's
    line, above, below, at the left and at the right, `beside` has the dark points of pens near
    the line that are no rule, `near` all of pens there, `around` the same up to where a ring is.
    """

    dark: Shares
    middle: Shares
    heavy: Shares
    free: Shares
    lined: Shares
    beside: Shares
    near: Shares
    around: Shares


def measure_inks(flat: FlatPage, page: Page) -> Inks:
    """The ink of all boxes, in the page's order."""
    least, count = _least_dark(flat), len(page.boxes)
    inks = Inks(*(np.zeros(count) for _ in range(5)), *(np.zeros((count, 4)) for _ in range(3)))
    sizes = np.array([round(box.size * DOTS) for box in page.boxes], dtype=int)
    frames = _frames(flat, sizes)
    for size in np.unique(sizes).tolist():
        chosen = np.flatnonzero(sizes == size)
        cut = _Cut(flat, frames, flat.corners[chosen], size)
        cut.measure_inside(inks, chosen, least)
        dark = cut.dark_by_side(max(least, _BESIDE_DARK))
        places = np.array([(page.boxes[n].x, page.boxes[n].y) for n in chosen])
        for side, pen in enumerate(dark):
            _leave_out_printed(pen, places[:, 0 if side > 1 else 1])
        inks.beside[chosen] = cut.shares(dark, _BESIDE, (_RULE, _RULE, _UPRIGHT, _UPRIGHT))
        inks.near[chosen] = cut.shares(dark, _BESIDE)
        inks.around[chosen] = cut.shares(dark, _REACH)
    return inks


def _frames(flat: FlatPage, sizes: NDArray[np.int_]) -> Grey:
    """Where boxes' lines are printed: 255, and elsewhere 0."""
    frames, off = np.zeros_like(flat.grey), round(_LINE * DOTS)
    for (left, top), size in zip(np.rint(flat.corners).astype(int), sizes, strict=True):
        end = size + off + 1
        area = frames[
            max(0, top - off) : max(0, top + end), max(0, left - off) : max(0, left + end)
        ]
        area[: 2 * off + 1] = area[-2 * off - 1 :] = 255
        area[:, : 2 * off + 1] = area[:, -2 * off - 1 :] = 255
    return frames


def _least_dark(flat: FlatPage) -> float:
    """From where on a point is darker than the noise of the photo."""
    some = slice(None, None, 5), slice(None, None, 5)
    shares = 1 - flat.grey[some] / np.maximum(flat.paper[some], 1).astype(np.float32)
    middle = np.median(shares)
    spread = 1.4826 * np.median(np.abs(shares - middle))
    return float(np.clip(middle + 5 * spread, _DARK, _DARKEST))


def _leave_out_printed(dark: Dark, places: NDArray[np.float64]) -> None:
    """What is beside most boxes of a row, or of a column, is printed there."""
    for place in np.unique(places):
        group = np.flatnonzero(places == place)
        if len(group) >= _FEW:
            dark[group] &= dark[group].mean(axis=0) <= 0.5


class _Cut:
    """Boxes of one size, cut from a page with what is beside them."""

    def __init__(
        self, flat: FlatPage, frames: Grey, corners: NDArray[np.float64], size: int
    ) -> None:
        self.reach, self.size = round(_REACH * DOTS), size
        wide = size + 2 * self.reach
        places = np.rint(corners).astype(int) - self.reach
        self.grey = Windows(flat.grey, wide, 255).cut(places, wide, wide)
        self.paper = Windows(flat.paper, wide, 255).cut(places, wide, wide)
        self.frames = Windows(frames, wide, 0).cut(places, wide, wide)
        self.lights = self._light_at_corners()

    def measure_inside(self, inks: Inks, chosen: NDArray[np.int_], least: float) -> None:
        """Put down the ink inside the boxes."""
        margin = self.reach + round(_MARGIN * DOTS)
        inner = slice(margin, 2 * self.reach + self.size - margin)
        paper, light = self.paper[:, inner, inner].copy(), self.lights.min(axis=(0, 1))
        is_filled = np.median(paper.reshape(len(paper), -1), axis=1) < _FILLED * light
        paper[is_filled] = light[is_filled, None, None]
        shares = _shares(self.grey[:, inner, inner], paper)
        dark, fifth = shares > least, shares.shape[1] // 5
        darkest = np.percentile(shares.reshape(len(shares), -1), _FULL, axis=1)
        full = shares > np.maximum(least, darkest / 2)[:, None, None]
        inks.dark[chosen] = dark.mean(axis=(1, 2))
        inks.middle[chosen] = dark[:, fifth:-fifth, fifth:-fifth].mean(axis=(1, 2))
        inks.heavy[chosen] = full.mean(axis=(1, 2))
        inks.free[chosen] = _free(dark)
        lines = [np.percentile(dark.mean(axis=axis), _INKED_LINES, axis=1) for axis in (1, 2)]
        inks.lined[chosen] = np.maximum(*lines)

    def dark_by_side(self, least: float) -> list[Dark]:
        """Which points are darker than paper: above, below, and, turned, at the left and right.

        Each begins beside the box. The paper is as light as at the two corners of that side, or
        lighter; boxes' printed lines are left out.
        """
        above, below = self.lights[0].min(axis=0), self.lights[1].min(axis=0)
        left, right = self.lights[:, 0].min(axis=0), self.lights[:, 1].min(axis=0)
        as_it_is = self.grey, self.paper, self.frames
        turned = [piece.swapaxes(1, 2) for piece in as_it_is]
        sides = (as_it_is, above), (as_it_is, below), (turned, left), (turned, right)
        before, after = slice(self.reach - 1, None, -1), slice(self.reach + self.size, None)
        parts = []
        for number, ((grey, paper, frames), light) in enumerate(sides):
            rows = after if number % 2 else before
            floor = light[:, None, None].astype(np.uint8)
            dark = _shares(grey[:, rows], np.maximum(paper[:, rows], floor)) > least
            parts.append(dark & (frames[:, rows] == 0))
        return parts

    def shares(
        self, dark: Sequence[Dark], most: float, printed: Sequence[float] = (2.0, 2.0, 2.0, 2.0)
    ) -> Shares:
        """The shares of dark points of each side, up to so many millimetres off the box.

        `printed` says from which share of a side's whole length on a row is printed.
        """
        near, far = round(_OFF * DOTS), round(most * DOTS)
        along = slice(self.reach, self.reach + self.size)
        shares = []
        for rows, share in zip(dark, printed, strict=True):
            drawn = rows[:, near:far].mean(axis=2) < share
            shares.append((rows[:, near:far, along] & drawn[:, :, None]).mean(axis=(1, 2)))
        return np.stack(shares, axis=1)

    def _light_at_corners(self) -> Floats:
        """The light on the paper beside the four corners of each box: by row, column and box."""
        near, reach = self.reach, round(_AROUND * DOTS)
        places = [slice(at - reach, at + reach) for at in (near, near + self.size)]
        lights = [
            [
                np.percentile(self.grey[:, down, across].reshape(len(self.grey), -1), 80, axis=1)
                for across in places
            ]
            for down in places
        ]
        return np.array(lights, dtype=np.float32)


def _shares(grey: Grey, paper: Grey) -> Floats:
    """How much darker than the paper points are, as shares of its light."""
    return np.asarray(1 - grey / np.maximum(paper, 1).astype(np.float32))


def _free(dark: Dark) -> Shares:
    """The share of squares in which nothing is dark."""
    side = round(_FREE * DOTS)
    wide = np.pad(dark, [(0, 0), (1, 0), (1, 0)])
    sums = wide.cumsum(axis=1, dtype=np.int32).cumsum(axis=2, dtype=np.int32)
    found = sums[:, side:, side:] - sums[:, :-side, side:]
    found -= sums[:, side:, :-side]
    found += sums[:, :-side, :-side]
    return np.asarray((found == 0).mean(axis=(1, 2)))
