"""The code of a sheet: which page it is, and where and which way up it is in the photo."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import zxingcpp
from numpy.typing import NDArray
from PIL import Image

from sennight.reading_sheets.light import Grey, paper_light
from sennight.reading_sheets.troubles import SheetError, Trouble

_CODE = re.compile(r"D[0-9A-F]{13}\d{2}")
_DARK = 45
_SHARP = 0.14
_SMALL = 900


@dataclass(frozen=True, slots=True)
class FoundCode:
    """What a code says, and its corners in the photo: upper left, right, lower left, right."""

    text: str
    corners: NDArray[np.float64]

    @property
    def side(self) -> float:
        """How long a side is, in points of the photo."""
        upper_left, upper_right, lower_left, lower_right = self.corners
        diagonals = np.hypot(*(lower_right - upper_left)), np.hypot(*(lower_left - upper_right))
        return float(sum(diagonals) / 2 / 2**0.5)


def find_code(grey: Grey) -> FoundCode:
    """The code of the sheet in a photo; raises SheetError that says why there is none."""
    kinds = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
    if float(np.percentile(grey[::4, ::4], 95)) < _DARK:
        raise SheetError(Trouble.TOO_DARK)
    for picture, scale in _ways_to_look(grey):
        codes = zxingcpp.read_barcodes(picture, kinds)
        for code in codes:
            if _CODE.fullmatch(code.text):
                place = code.position
                corners = (
                    place.top_left,
                    place.top_right,
                    place.bottom_left,
                    place.bottom_right,
                )
                points = [(corner.x / scale, corner.y / scale) for corner in corners]
                return FoundCode(code.text, np.array(points, dtype=np.float64))
    raise SheetError(why_unreadable(grey))


def _ways_to_look(grey: Grey) -> Iterator[tuple[Grey, float]]:
    """The picture as it is, in even light, larger, and smaller."""
    yield grey, 1.0
    block = max(16, max(grey.shape) // 40)
    even = np.clip(grey / paper_light(grey, block, 90) * 235, 0, 255).astype(np.uint8)
    yield even, 1.0
    for scale in (1.6, 0.6):
        size = (round(grey.shape[1] * scale), round(grey.shape[0] * scale))
        image = Image.fromarray(even).resize(size, Image.Resampling.BICUBIC)
        yield np.asarray(image, dtype=np.uint8), scale


def why_unreadable(grey: Grey) -> Trouble:
    """Why no code is found: too few points, no sharp edge, or no code there."""
    if max(grey.shape) < _SMALL:
        return Trouble.TOO_SMALL
    low, high = np.percentile(grey[::4, ::4], (2, 95))
    small = Image.fromarray(grey)
    small.thumbnail((2000, 2000))
    values = np.asarray(small, dtype=np.float32)
    steepest = np.percentile(np.abs(np.diff(values, axis=1)), 99.7)
    return Trouble.BLURRED if steepest < _SHARP * max(high - low, 1) else Trouble.NO_CODE
