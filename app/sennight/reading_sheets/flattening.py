"""A photo of a page laid flat, and where its boxes are once the paper's bend is followed."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from sennight.reading_sheets.bending import DARKEST, Followed, follow_lines
from sennight.reading_sheets.codes import FoundCode
from sennight.reading_sheets.geometry import Plane, Points, moved, perspective
from sennight.reading_sheets.grid_file import Page
from sennight.reading_sheets.light import Grey, closed, smoothed
from sennight.reading_sheets.marks import FoundMarks, find_marks
from sennight.reading_sheets.troubles import SheetError, Trouble

DOTS = 8
"""Points a millimetre of a flat page."""
_NARROW = round(2.5 * DOTS)
_LINES = 0.04
"""How much darker than beside them most boxes' lines must be, as a share of the paper's light."""
_FAINT, _UNFRAMED = 0.3, 0.15
"""Shares of how far most boxes' lines stand out: a box is covered where its clearest line stands
out less; one of which no two lines do is not told to be empty."""
_HIDDEN, _ADRIFT = 0.35, 0.1
"""And a box's lines are hidden where no two stand out more; it may lie beside where it is taken to
be where two that face each other do not."""
_BESIDE_COVERED = 11.0
"""Millimetres from a covered box within which others may be covered in part."""
_MOST_COVERED = 0.1
"""A page of which a greater share of the boxes is covered is not read."""
_GROWN = (0.4, 0.7, 1.0)
"""Shares of the boxes, from those far from a corner without a mark, by which it is found."""


@dataclass(frozen=True, slots=True)
class FlatPage:
    """A page from above: `grey`, the same without narrow dark things, and the boxes' corners.

    `corners` are the upper left ones, in points of the flat page, in the page's order; of boxes
    that are `covered` no line is seen, of those `unframed` no two that face each other, of those
    `hidden` hardly two; of those `adrift` two are seen at most, and not where the others are.
    """

    grey: Grey
    paper: Grey
    corners: Points
    covered: NDArray[np.bool_]
    unframed: NDArray[np.bool_]
    hidden: NDArray[np.bool_]
    adrift: NDArray[np.bool_]


def flatten(photo: Grey, page: Page, code: FoundCode) -> FlatPage:
    """Lay a page flat; raises SheetError where its corners or boxes are not found."""
    marks = find_marks(photo, page, code)
    plane = perspective(marks.paper, marks.photo)
    if marks.missing is not None:
        plane = _grown(photo, page, marks, marks.missing)
    grey, paper = _laid_flat(photo, page, plane)
    followed = follow_lines(_darkness(grey, paper), page, DOTS)
    usual = float(np.median(followed.frames)) if page.boxes else 1.0
    covered = followed.lines < _FAINT * usual
    if usual < _LINES or covered.mean() > _MOST_COVERED:
        raise SheetError(Trouble.NO_BOXES if marks.missing is None else Trouble.CORNER)
    covered = _with_neighbours(page, covered)
    return FlatPage(
        grey,
        paper,
        followed.corners,
        covered,
        unframed=followed.frames < _UNFRAMED * usual,
        hidden=followed.frames < _HIDDEN * usual,
        adrift=followed.least_frames < _ADRIFT * usual,
    )


def _with_neighbours(page: Page, covered: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """What is covered, and what is so near to it that it may be in part."""
    places = np.array([(box.x, box.y) for box in page.boxes]).reshape(-1, 2)
    apart = np.hypot(*(places[:, None] - places[None, covered]).transpose(2, 0, 1))
    return np.asarray((apart < _BESIDE_COVERED).any(axis=1))


def _grown(photo: Grey, page: Page, marks: FoundMarks, missing: Points) -> Plane:
    """Where a page lies that has a mark missing: its boxes are followed towards that corner.

    Three marks and the code leave the fourth corner some millimetres open, which at the boxes
    far from it comes to little.
    """
    plane = perspective(marks.paper, marks.photo)
    places = np.array([(box.x, box.y) for box in page.boxes])
    away = np.hypot(*(places - missing).T)
    for share in _GROWN:
        near = np.flatnonzero(away >= np.quantile(away, 1 - share))
        some = replace(page, boxes=tuple(page.boxes[n] for n in near))
        followed = _followed(photo, some, plane)
        seen = followed.frames > _FAINT * np.median(followed.frames)
        there = moved(plane, followed.corners[seen] / DOTS)
        on_paper = np.concatenate([marks.paper, places[near][seen]])
        plane = perspective(on_paper, np.concatenate([marks.photo, there]))
    return plane


def _followed(photo: Grey, page: Page, plane: Plane) -> Followed:
    return follow_lines(_darkness(*_laid_flat(photo, page, plane)), page, DOTS)


def _laid_flat(photo: Grey, page: Page, plane: Plane) -> tuple[Grey, Grey]:
    """A page from above, and the same without what is dark and narrow."""
    grey = smoothed(_from_above(photo, page, plane), 3)  # noise would lift what is taken for paper
    return grey, closed(grey, _NARROW)


def _darkness(grey: Grey, paper: Grey) -> Grey:
    """How much darker than the paper each point is, as `follow_lines` takes it."""
    darker = np.subtract(paper, grey, dtype=np.float32)  # paper is nowhere the darker
    darker *= 255 / DARKEST
    darker /= np.maximum(paper, 1)
    return np.minimum(darker, 255, out=darker).astype(np.uint8)


def _from_above(photo: Grey, page: Page, plane: Plane) -> Grey:
    size = (round(page.width * DOTS), round(page.height * DOTS))
    scaled = plane @ np.diag([1 / DOTS, 1 / DOTS, 1])
    numbers = (scaled / scaled[2, 2]).ravel()[:8].tolist()
    flat = Image.fromarray(photo).transform(
        size, Image.Transform.PERSPECTIVE, numbers, Image.Resampling.BILINEAR
    )
    return np.asarray(flat, dtype=np.uint8)
