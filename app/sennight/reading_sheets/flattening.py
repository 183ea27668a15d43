"""A photo of a page laid flat, and where its boxes are once the paper's bend is followed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from sennight.reading_sheets.codes import FoundCode
from sennight.reading_sheets.geometry import Points, perspective
from sennight.reading_sheets.grid_file import Page
from sennight.reading_sheets.light import Floats, Grey, box_sums, closed
from sennight.reading_sheets.marks import find_marks, mark_middles
from sennight.reading_sheets.troubles import SheetError, Trouble

DOTS = 8
"""Points a millimetre of a flat page."""
_NARROW = round(2.5 * DOTS)
_PASSES = ((3.0, 18.0), (1.0, 9.0))
"""Millimetres that boxes may be off, and over which neighbours agree, pass by pass."""
_BESIDE = 5
"""Points from a line to what is beside it: a stroke of a pen is as dark there."""
_LINES = 0.02
"""How much darker than beside them the boxes' lines must be, as a share of the paper's light."""


@dataclass(frozen=True, slots=True)
class FlatPage:
    """A page from above: `grey`, the same without narrow dark things, and the boxes' corners.

    `corners` are the upper left ones, in points of the flat page, in the page's order.
    """

    grey: Grey
    paper: Grey
    corners: Points


def flatten(photo: Grey, page: Page, code: FoundCode) -> FlatPage:
    """Lay a page flat; raises SheetError where its corners or boxes are not found."""
    marks = find_marks(photo, page, code)
    middles = mark_middles(page)
    grey = _from_above(photo, page, perspective(middles * DOTS, marks))
    grey = box_sums(grey, 3).astype(np.uint8)  # noise would lift what is taken for paper
    paper = closed(grey, _NARROW)
    shares = 1 - grey / np.maximum(paper, 1).astype(np.float32)
    dark = np.clip(shares, 0, 0.25).astype(np.float32)
    return FlatPage(grey, paper, _follow_frames(dark, page))


def _from_above(photo: Grey, page: Page, plane: NDArray[np.float64]) -> Grey:
    size = (round(page.width * DOTS), round(page.height * DOTS))
    numbers = (plane / plane[2, 2]).ravel()[:8].tolist()
    flat = Image.fromarray(photo).transform(
        size, Image.Transform.PERSPECTIVE, numbers, Image.Resampling.BILINEAR
    )
    return np.asarray(flat, dtype=np.uint8)


def _follow_frames(dark: Floats, page: Page) -> Points:
    """The boxes' corners, moved to where their printed lines are seen; neighbours agree."""
    printed = np.array([(box.x, box.y) for box in page.boxes]) * DOTS
    sizes = np.array([box.size for box in page.boxes]) * DOTS
    apart = ((printed[:, None, :] - printed[None, :, :]) ** 2).sum(axis=2)
    corners = printed.copy()
    for reach, together in _PASSES:
        weights = np.exp(-apart / (2 * (together * DOTS) ** 2))
        weights /= weights.sum(axis=1, keepdims=True)
        steps = np.arange(-round(reach * DOTS), round(reach * DOTS) + 1)
        for axis in (0, 1):
            lines = _line_sums(dark, corners, sizes, steps, axis)
            curves = weights @ lines
            corners[:, axis] += steps[curves.argmax(axis=1)]
    seen = weights @ lines
    if len(seen) and np.median(seen.max(axis=1) - np.median(seen, axis=1)) < _LINES:
        raise SheetError(Trouble.NO_BOXES)
    return corners


def _line_sums(
    dark: Floats, corners: Points, sizes: NDArray[np.float64], steps: NDArray[np.int_], axis: int
) -> NDArray[np.float64]:
    """How much the fainter of two lines of each box stands out, at each step along an axis."""
    values = dark if axis == 1 else dark.T
    rows = np.zeros((len(corners), len(steps)))
    for n, (corner, size) in enumerate(zip(corners, sizes, strict=True)):
        across, along = round(corner[1 - axis]), round(corner[axis])
        low, high = max(0, across + 4), max(1, across + round(size) - 4)
        begin = along + int(steps[0]) - 1 - _BESIDE
        end = begin + len(steps) + round(size) + 2 + 2 * _BESIDE
        if begin < 0 or end > values.shape[0] or high > values.shape[1] or low >= high:
            continue
        profile = np.percentile(values[begin:end, low:high], 35, axis=1)
        smooth = (profile[:-2] + profile[1:-1] + profile[2:]) / 3
        beside = (smooth[: -2 * _BESIDE] + smooth[2 * _BESIDE :]) / 2
        lines = np.maximum(smooth[_BESIDE:-_BESIDE] - beside, 0)
        far = lines[round(size) : round(size) + len(steps)]
        rows[n] = np.minimum(lines[: len(steps)], far)
    return rows
