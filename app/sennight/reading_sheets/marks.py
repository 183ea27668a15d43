"""The four corner marks: black squares, found from where the code says that they must be."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from sennight.reading_sheets.codes import FoundCode
from sennight.reading_sheets.geometry import Plane, Points, affine, moved, perspective
from sennight.reading_sheets.grid_file import Page
from sennight.reading_sheets.light import Grey, paper_light, smoothed
from sennight.reading_sheets.troubles import SheetError, Trouble

_DOTS = 3.0
"""Points a millimetre at which marks are looked for."""
_LEAST_DOTS = 3.5
"""Points a millimetre of the photo below which boxes cannot be told."""
_DARK = 0.35
_REACH = 0.4
"""How far a mark may be from where the code alone says, as a share of the way to it."""
_NEAR = 9.0
_MOST = 5
"""So many candidates for a corner are tried."""
_ROUND_SEED = (6.0, 20.0, 16.0)
"""Millimetres above, below and aside of a mark's upper edge; near the camera it is larger."""
_SOLID = 4.4
"""Millimetres of a square that is dark all over in a mark, however far from the camera."""
_ROOM = 12.0, 17.0
_MOST_ROUND = 0.5
"""Sides of the squares round a mark between which is paper, but for this share at most."""
_CODE_OFF = 3.0
"""Millimetres that the code may lie off from where the marks say."""
_LEAST_SIZE = 0.7
"""A mark's area is at least this share of what is printed; a filled box has less than half."""


@dataclass(frozen=True, slots=True)
class _Blob:
    """Something dark and solid: its middle in the photo, and its area in points of the photo."""

    middle: NDArray[np.float64]
    dots: float


@dataclass(frozen=True, slots=True)
class _Fit:
    """How badly marks fit, in millimetres and three for each size that is off by e."""

    off: float
    blobs: tuple[_Blob, ...]


@dataclass(frozen=True, slots=True)
class FoundMarks:
    """Points of the paper in millimetres, the same in the photo, and the mark that is missing."""

    paper: Points
    photo: Points
    missing: Points | None = None


def find_marks(grey: Grey, page: Page, code: FoundCode) -> FoundMarks:
    """The marks of a page in the photo, or three of them and the code; raises SheetError."""
    dots = code.side / page.code_place[2]
    if dots < _LEAST_DOTS:
        raise SheetError(Trouble.TOO_SMALL)
    sheet = _Sheet(page, code)
    near = sheet.candidates(_blobs(grey, dots), dots)
    if best := sheet.best(near, [0, 1, 2, 3]):
        return FoundMarks(sheet.middles, _middles(best.blobs))
    threes = [[n for n in range(4) if n != missing] for missing in range(4)]
    fits = [(fit, three) for three in threes if (fit := sheet.best(near, three))]
    if not fits:
        raise SheetError(Trouble.CORNER)
    fit, three = min(fits, key=lambda found: found[0].off)
    (missing,) = set(range(4)) - set(three)
    on_paper = np.concatenate([sheet.middles[three], sheet.code_on_paper])
    in_photo = np.concatenate([_middles(fit.blobs), code.corners])
    return FoundMarks(on_paper, in_photo, sheet.middles[missing])


class _Sheet:
    """Where marks must be by the code, and how well some fit."""

    def __init__(self, page: Page, code: FoundCode) -> None:
        x, y, side = page.code_place
        self.code, self.middles = code, mark_middles(page)
        self.sizes = np.array([size for _, _, size in page.marks])
        self.code_on_paper = np.array([(x, y), (x + side, y), (x, y + side), (x + side, y + side)])

    def candidates(self, blobs: list[_Blob], dots: float) -> list[list[_Blob]]:
        """The largest of what is near to each place where a mark must be."""
        expected = moved(affine(self.code_on_paper, self.code.corners), self.middles)
        centre = self.code.corners.mean(axis=0)
        near = []
        for place in expected:
            reach = _NEAR * dots + _REACH * float(np.hypot(*(place - centre)))
            there = [blob for blob in blobs if np.hypot(*(blob.middle - place)) < reach]
            near.append(sorted(there, key=lambda blob: -blob.dots)[:_MOST])
        return near

    def best(self, near: list[list[_Blob]], corners: list[int]) -> _Fit | None:
        """The candidates for these corners that fit best, None where none do."""
        chosen = product(*(near[corner] for corner in corners))
        fits = [fit for blobs in chosen if (fit := self._fit(blobs, corners))]
        return min(fits, key=lambda fit: fit.off, default=None)

    def _fit(self, blobs: tuple[_Blob, ...], corners: list[int]) -> _Fit | None:
        if len({id(blob) for blob in blobs}) < len(blobs):
            return None
        points, middles = _middles(blobs), self.middles[corners]
        if len(blobs) == 4:
            back = perspective(points, middles)
        else:
            on_paper = np.concatenate([middles, self.code_on_paper])
            back = perspective(np.concatenate([points, self.code.corners]), on_paper)
        off = float(np.abs(moved(back, self.code.corners) - self.code_on_paper).max())
        off += float(np.abs(moved(back, points) - middles).max())
        printed = np.square(self.sizes[corners])
        ratios = np.asarray(self._areas(back, points, blobs) / printed, dtype=np.float64)
        if off > _CODE_OFF or ratios.min() < _LEAST_SIZE or ratios.max() > 1 / _LEAST_SIZE:
            return None
        return _Fit(off + 3 * float(np.abs(np.log(ratios)).max()), blobs)

    def _areas(self, back: Plane, points: Points, blobs: tuple[_Blob, ...]) -> NDArray[np.float64]:
        """The areas of dark places on the paper, in square millimetres."""
        step = np.sqrt([blob.dots for blob in blobs])[:, None] / 4
        across = moved(back, points + step * [1, 0]) - moved(back, points - step * [1, 0])
        down = moved(back, points + step * [0, 1]) - moved(back, points - step * [0, 1])
        crossed = across[:, 0] * down[:, 1] - across[:, 1] * down[:, 0]
        return np.asarray(np.abs(crossed) * 4)


def _middles(blobs: tuple[_Blob, ...]) -> Points:
    return np.array([blob.middle for blob in blobs])


def mark_middles(page: Page) -> Points:
    """The middles of the marks on the paper, in millimetres."""
    return np.array([(x + size / 2, y + size / 2) for x, y, size in page.marks])


def _blobs(grey: Grey, dots: float) -> list[_Blob]:
    """What is dark, solid and about as large as a mark, in a smaller picture."""
    scale = min(1.0, _DOTS / dots)
    size = (round(grey.shape[1] * scale), round(grey.shape[0] * scale))
    image = Image.fromarray(grey).resize(size, Image.Resampling.BOX)
    small = np.asarray(image, dtype=np.uint8)
    step = dots * scale
    light = paper_light(small, max(8, round(24 * step)), 88)
    dark = small < light * (1 - _DARK)
    seeds = _seeds(dark, step)
    blobs = []
    above, below, aside = (round(length * step) for length in _ROUND_SEED)
    while seeds.any():
        row, column = np.unravel_index(int(seeds.argmax()), seeds.shape)
        top, left = max(0, int(row) - above), max(0, int(column) - aside)
        rows, columns = slice(top, int(row) + below), slice(left, int(column) + aside)
        piece = _joined(dark[rows, columns], int(row) - top, int(column) - left)
        seeds[rows, columns] &= ~piece
        seeds[row, column] = False
        if (blob := _square_blob(piece, step)) is not None:
            middle = (blob.middle + (left, top) + 0.5) / scale
            blobs.append(_Blob(middle, blob.dots / scale**2))
    return blobs


def _seeds(dark: NDArray[np.bool_], step: float) -> NDArray[np.bool_]:
    """What may be the middle of a mark: dark all over, with paper round it."""
    solid = dark * np.uint8(255)
    inner, outer = (smoothed(solid, round(side * step)).astype(np.int32) for side in _ROOM)
    small, large = (round(side * step) ** 2 for side in _ROOM)
    is_free = outer * large - inner * small < 255 * _MOST_ROUND * (large - small)
    return (smoothed(solid, max(3, round(_SOLID * step))) > round(0.97 * 255)) & is_free


def _joined(dark: NDArray[np.bool_], row: int, column: int) -> NDArray[np.bool_]:
    """The part of what is dark that hangs together with a point of it."""
    piece = np.zeros_like(dark)
    piece[row, column] = True
    along_rows, along_columns = _runs(dark), _runs(dark.T).T
    count = 0
    while count != (count := int(np.count_nonzero(piece))):
        for runs in (along_rows, along_columns):
            is_reached = np.zeros(dark.size + 1, dtype=np.bool_)
            is_reached[runs[piece]] = True
            piece = is_reached[runs] & dark
    return piece


def _runs(dark: NDArray[np.bool_]) -> NDArray[np.int_]:
    """A number for each run of dark points in a row, at each of its points."""
    begins = dark.copy()
    begins[:, 1:] &= ~dark[:, :-1]
    return begins.cumsum().reshape(dark.shape)


def _square_blob(piece: NDArray[np.bool_], step: float) -> _Blob | None:
    """The piece as a blob where it is whole and about square."""
    rows, columns = np.nonzero(piece)
    edge = piece[0].any() or piece[-1].any() or piece[:, 0].any() or piece[:, -1].any()
    if edge or len(rows) < 9:
        return None
    small, large = np.linalg.eigvalsh(np.cov(columns, rows))
    filled = len(rows) / (12 * np.sqrt(max(small, 1e-6) * large))
    area = len(rows) / step**2
    if not (0.85 < filled < 1.15 and large < 4 * small and 25 < area < 260):
        return None
    return _Blob(np.array([columns.mean(), rows.mean()]), len(rows))
