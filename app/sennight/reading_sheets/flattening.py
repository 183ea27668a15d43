"""A photo of a page laid flat, and where its boxes are once the paper's bend is followed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from sennight.reading_sheets.bending import follow_lines
from sennight.reading_sheets.codes import FoundCode
from sennight.reading_sheets.geometry import Points, perspective
from sennight.reading_sheets.grid_file import Page
from sennight.reading_sheets.light import Grey, closed, smoothed
from sennight.reading_sheets.marks import find_marks, mark_middles
from sennight.reading_sheets.troubles import SheetError, Trouble

DOTS = 8
"""Points a millimetre of a flat page."""
_NARROW = round(2.5 * DOTS)
_DARKEST = 0.25
"""Lines are no darker than this share of the paper's light; what is more is a pen's."""
_LINES = 0.02
"""How much darker than beside them the boxes' lines must be, as a share of the paper's light."""


@dataclass(frozen=True, slots=True)
class FlatPage:
    """A page from above: `grey`, the same without narrow dark things, and the boxes' corners.

    `corners` are the upper left ones, in points of the flat page, in the page's order; `astray`
    says of which boxes it is not sure that they are there.
    """

    grey: Grey
    paper: Grey
    corners: Points
    astray: NDArray[np.bool_]


def flatten(photo: Grey, page: Page, code: FoundCode) -> FlatPage:
    """Lay a page flat; raises SheetError where its corners or boxes are not found."""
    marks = find_marks(photo, page, code)
    middles = mark_middles(page)
    grey = _from_above(photo, page, perspective(middles * DOTS, marks))
    grey = smoothed(grey, 3)  # noise would lift what is taken for paper
    paper = closed(grey, _NARROW)
    followed = follow_lines(_darkness(grey, paper), page, DOTS)
    if len(followed.seen) and np.median(followed.seen) < _LINES:
        raise SheetError(Trouble.NO_BOXES)
    return FlatPage(grey, paper, followed.corners, followed.astray)


def _darkness(grey: Grey, paper: Grey) -> Grey:
    """How much darker than the paper each point is, as `follow_lines` takes it."""
    light = np.maximum(paper, 1).astype(np.float32)
    shares = (light - grey) * (255 / _DARKEST) / light
    return np.minimum(shares, 255).astype(np.uint8)


def _from_above(photo: Grey, page: Page, plane: NDArray[np.float64]) -> Grey:
    size = (round(page.width * DOTS), round(page.height * DOTS))
    numbers = (plane / plane[2, 2]).ravel()[:8].tolist()
    flat = Image.fromarray(photo).transform(
        size, Image.Transform.PERSPECTIVE, numbers, Image.Resampling.BILINEAR
    )
    return np.asarray(flat, dtype=np.uint8)
