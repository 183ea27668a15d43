"""A page of a diary sheet, read from one photo."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sennight.reading_sheets.boxes import box_states
from sennight.reading_sheets.codes import find_code
from sennight.reading_sheets.flattening import DOTS, flatten
from sennight.reading_sheets.geometry import Points
from sennight.reading_sheets.grid_file import Box, BoxState, Grid, Page
from sennight.reading_sheets.light import Grey
from sennight.reading_sheets.photos import grey_photo
from sennight.reading_sheets.troubles import SheetError, Trouble


@dataclass(frozen=True, slots=True)
class PageRead:
    """A page with the state of each of its boxes.

    `picture` is the page laid flat; `corners` are the boxes' upper left ones in it, and it has
    `dots` points a millimetre.
    """

    grid: Grid
    page: Page
    states: tuple[tuple[Box, BoxState], ...]
    picture: Grey
    corners: Points
    dots: int = DOTS


def read_sheet(photo: bytes, grids: Sequence[Grid]) -> PageRead:
    """Read the page in a photo, by the grid that its code names; raises SheetError."""
    return read_grey(grey_photo(photo), grids)


def read_grey(grey: Grey, grids: Sequence[Grid]) -> PageRead:
    """The same from a picture that is open already."""
    code = find_code(grey)
    for grid in grids:
        for page in grid.pages:
            if page.code == code.text:
                flat = flatten(grey, page, code)
                states = tuple(zip(page.boxes, box_states(flat, page), strict=True))
                return PageRead(grid, page, states, flat.grey, flat.corners)
    raise SheetError(Trouble.OTHER_SHEET)
