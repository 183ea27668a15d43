"""Where a page's boxes are on paper that bends: their printed lines are followed.

A sheet of paper bends as a whole: how far its boxes are off is a smooth surface, so that no box
follows the strokes of a pen to where its neighbours are not.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sennight.reading_sheets.geometry import Points
from sennight.reading_sheets.grid_file import Page
from sennight.reading_sheets.light import Grey
from sennight.reading_sheets.windows import Windows

_PASSES = ((3.5, 18.0), (1.5, 9.0), (0.6, 9.0))
"""Millimetres that boxes may be off, and over which neighbours are looked at together."""
_BESIDE = 5
"""Points from a line to what is beside it: a stroke of a pen is as dark there."""
_CLOSE = 10
"""Points between boxes where the next line may be what is beside a line; it is left out there."""
_FROM_END = 4
"""Points of a line that are left out at its ends."""
_LONGEST = 0.35
"""A line is as dark as this share of it at least."""
_DEGREE = 4
_STIFF, _STIFFER = 0.0002, (0.0, 0.0, 0.01, 0.03, 0.05)
"""How little a surface may curve, and by powers how little along the way that boxes are off.

Paper that arches moves rows up or down, and hardly nearer together.
"""
_AGREE = 0.4
"""Millimetres off the surface at which what is seen counts half."""
_ROUNDS = 6
DARKEST = 0.6
"""Whatever is darker than this share of the paper's light counts as dark as that."""
_PEN = 0.42
"""Lines are no darker than this share of the paper's light; what is more is a pen's."""
_NEAR, _SETTLING = 1.6, (0.8, 0.5, 0.3, 0.2)
"""Millimetres from the surface at which lines count still, and count half, round by round."""
_OWN = 0.5
"""Millimetres from where a box is found to where its own lines may be."""


@dataclass(frozen=True, slots=True)
class Followed:
    """The boxes' upper left corners in points, and how much of their lines is seen there.

    `lines` is how much the clearest of a box's four lines stands out, `frames` how much the
    fainter of two that face each other, `least_frames` the same of the other two where they stand
    out less, all as shares of the paper's light.
    """

    corners: Points
    lines: NDArray[np.float64]
    frames: NDArray[np.float64]
    least_frames: NDArray[np.float64]


def follow_lines(dark: Grey, page: Page, dots: int) -> Followed:
    """The boxes' corners where their printed lines are seen.

    `dark` is how much darker than the paper a point is, 255 for DARKEST and more.
    """
    printed = np.array([(box.x, box.y) for box in page.boxes]) * dots
    sizes = np.array([round(box.size * dots) for box in page.boxes])
    lines = _Lines(dark, printed, sizes)
    basis = _basis(printed, np.array((page.width, page.height)) * dots)
    apart = ((printed[:, None, :] - printed[None, :, :]) ** 2).sum(axis=2) / dots**2
    corners = printed.copy()
    for reach, together in _PASSES:
        weights = np.exp(-apart / (2 * together**2))
        weights /= weights.sum(axis=1, keepdims=True)
        steps = np.arange(-round(reach * dots), round(reach * dots) + 1)
        moved = corners.copy()
        for axis in (0, 1):
            curves = weights @ np.minimum(*lines.pairs(corners, steps, axis))
            seen = curves.max(axis=1) - np.median(curves, axis=1)
            moved[:, axis] += steps[curves.argmax(axis=1)]
            away = moved[:, axis] - printed[:, axis]
            surface = _surface(basis, away, seen, _AGREE * dots, axis)
            corners[:, axis] = printed[:, axis] + surface
    for axis in (0, 1):
        _settle(lines, basis, printed, corners, axis, dots)
    steps = np.arange(-round(_OWN * dots), round(_OWN * dots) + 1)
    clearest, frames = np.zeros((2, 2, len(printed)))
    for axis in (0, 1):
        first, second = lines.pairs(corners, steps, axis)
        clearest[axis] = np.maximum(first, second).max(axis=1, initial=0) * DARKEST / 255
        frames[axis] = np.minimum(first, second).max(axis=1, initial=0) * DARKEST / 255
    return Followed(corners, clearest.max(axis=0), frames.max(axis=0), frames.min(axis=0))


def _settle(
    lines: _Lines,
    basis: NDArray[np.float64],
    printed: Points,
    corners: Points,
    axis: int,
    dots: int,
) -> None:
    """Move corners along an axis to where all lines near the surface say, ever nearer to it.

    A box that is filled in hides its lines and says little; the surface holds it in its place.
    """
    steps = np.arange(-round(_NEAR * dots), round(_NEAR * dots) + 1)
    stand_out = np.minimum(*lines.pairs(corners, steps, axis))
    begin = np.rint(corners[:, axis])
    for spread in _SETTLING:
        off = begin[:, None] + steps - corners[:, axis, None]
        sure = stand_out * np.exp(-(off**2) / (2 * (spread * dots) ** 2))
        total = sure.sum(axis=1) + 1e-6
        seen = corners[:, axis] + (sure * off).sum(axis=1) / total
        corners[:, axis] = printed[:, axis] + _surface(
            basis, seen - printed[:, axis], total, spread * dots, axis
        )
    own = np.clip(seen - corners[:, axis], -_AGREE * dots, _AGREE * dots)
    corners[:, axis] += own * total / (total + np.median(total))


_POWERS = [(i, n - i) for n in range(_DEGREE + 1) for i in range(n + 1)]


def _basis(printed: Points, size: Points) -> NDArray[np.float64]:
    """Products of powers of x and y, up to a degree in all."""
    x, y = (printed / size * 2 - 1).T
    return np.stack([x**i * y**j for i, j in _POWERS], axis=1)


def _surface(
    basis: NDArray[np.float64],
    off: NDArray[np.float64],
    seen: NDArray[np.float64],
    agree: float,
    axis: int,
) -> NDArray[np.float64]:
    """The smooth surface through what is seen; what is far off it counts ever less.

    Least squares, weighted anew each round by Cauchy's weights (Holland and Welsch, 1977; from
    memory).
    """
    stiff = np.diag([_STIFF + _STIFFER[powers[axis]] for powers in _POWERS])
    stiff[0, 0] = 1e-8
    sure = seen / max(float(seen.max(initial=0.0)), 1e-6) + 1e-3
    weights, surface = sure, off
    for _ in range(_ROUNDS):
        share = weights / weights.sum()
        weighted = basis * share[:, None]
        found = np.linalg.solve(basis.T @ weighted + stiff, weighted.T @ off)
        surface = basis @ found
        weights = sure / (1 + ((off - surface) / agree) ** 2)
    return surface


class _Lines:
    """How much boxes' lines stand out from what is beside them."""

    def __init__(self, dark: Grey, printed: Points, sizes: NDArray[np.int_]) -> None:
        self.sizes = sizes
        self.outer = tuple(_outer(printed[:, axis], sizes) for axis in (0, 1))
        room = int(sizes.max(initial=0)) + 4 * (_BESIDE + _CLOSE)
        self.ways = Windows(dark.T, room, 0), Windows(dark, room, 0)

    def pairs(
        self, corners: Points, steps: NDArray[np.int_], axis: int
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """How much each of two lines of each box stands out, at each step along an axis."""
        first, second = np.zeros((2, len(corners), len(steps)))
        outer = self.outer[axis]
        for size in np.unique(self.sizes).tolist():
            chosen = self.sizes == size
            along = np.rint(corners[chosen, axis]).astype(int) + int(steps[0]) - 1 - outer
            across = np.rint(corners[chosen, 1 - axis]).astype(int) + _FROM_END
            length = len(steps) + size + 2 + 2 * outer
            width = max(1, size - 2 * _FROM_END)
            pieces = self.ways[axis].cut(np.stack([across, along], axis=1), width, length)
            profiles, count = _profiles(pieces), len(steps)
            first[chosen] = _stand_out(profiles[:, : count + outer + _BESIDE], outer, _BESIDE)
            second[chosen] = _stand_out(profiles[:, outer + size - _BESIDE :], _BESIDE, outer)
        return first, second


def _outer(places: NDArray[np.float64], sizes: NDArray[np.int_]) -> int:
    """Points from a line to what is beside it outside the box: past the next box's line."""
    steps = np.diff(np.unique(places)) - sizes.max(initial=0)
    gaps = steps[(steps > 0) & (steps < _CLOSE)]
    return _BESIDE + (round(float(gaps.min())) if len(gaps) else 0)


def _profiles(pieces: Grey) -> NDArray[np.float64]:
    """How dark the rows of pieces are along most of their length."""
    some = pieces[:, :, ::2]  # every other point says as much
    profiles = _at_rank(some, round(some.shape[2] * _LONGEST)).astype(np.float64)
    return np.asarray((profiles[:, :-2] + profiles[:, 1:-1] + profiles[:, 2:]) / 3)


def _at_rank(pieces: Grey, rank: int) -> Grey:
    """Of each row the value with so many others that are no larger.

    All rows are put in order together, as far as is needed: `partition` takes one after the
    other, which for thousands of rows of a dozen points takes ten times as long.
    """
    places: list[Grey] = list(np.array(pieces.transpose(2, 0, 1), order="C"))
    for least in range(rank + 1):
        for place in range(len(places) - 1, least, -1):
            first, second = places[place - 1 : place + 1]
            places[place - 1] = np.minimum(first, second)
            places[place] = np.maximum(first, second, out=second)
    return places[rank]


def _stand_out(profiles: NDArray[np.float64], before: int, after: int) -> NDArray[np.float64]:
    """How much each row stands out from those so far before and after it."""
    middle = profiles[:, before : profiles.shape[1] - after]
    beside = (profiles[:, : middle.shape[1]] + profiles[:, before + after :]) / 2
    return np.where(middle < _PEN / DARKEST * 255, np.maximum(middle - beside, 0), 0)
