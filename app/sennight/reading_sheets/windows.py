"""Pieces of a page, all as large, as one block of numbers."""

from __future__ import annotations

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import NDArray

from sennight.reading_sheets.light import Grey


class Windows:
    """A picture with room around it, from which pieces are cut; the room is of one grey."""

    def __init__(self, picture: Grey, room: int, grey: int) -> None:
        self.room = room
        self.picture = np.pad(picture, room, constant_values=grey)

    def cut(self, corners: NDArray[np.int_], width: int, height: int) -> Grey:
        """Pieces by their upper left corners, rows of x and y: piece by row by column.

        What would lie further off than there is room is moved back into it.
        """
        views = sliding_window_view(self.picture, (height, width))
        down, across = views.shape[:2]
        columns = np.clip(corners[:, 0] + self.room, 0, across - 1)
        rows = np.clip(corners[:, 1] + self.room, 0, down - 1)
        return views[rows, columns]
