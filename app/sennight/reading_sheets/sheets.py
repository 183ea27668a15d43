"""A page of a diary sheet, read from one photo."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sennight.reading_sheets.boxes import BoxState, box_states
from sennight.reading_sheets.codes import find_code
from sennight.reading_sheets.flattening import flatten
from sennight.reading_sheets.grid_file import Box, Grid, Page
from sennight.reading_sheets.photos import grey_photo
from sennight.reading_sheets.troubles import SheetError, Trouble


@dataclass(frozen=True, slots=True)
class PageRead:
    """A page with the state of each of its boxes."""

    grid: Grid
    page: Page
    states: tuple[tuple[Box, BoxState], ...]


def read_sheet(photo: bytes, grids: Sequence[Grid]) -> PageRead:
    """Read the page in a photo, by the grid that its code names; raises SheetError."""
    grey = grey_photo(photo)
    code = find_code(grey)
    for grid in grids:
        for page in grid.pages:
            if page.code == code.text:
                flat = flatten(grey, page, code)
                states = box_states(flat, page)
                return PageRead(grid, page, tuple(zip(page.boxes, states, strict=True)))
    raise SheetError(Trouble.OTHER_SHEET)
