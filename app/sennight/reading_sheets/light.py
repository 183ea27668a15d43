"""Even light: how bright the paper is at every point, and how dark is what stands on it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFilter

Grey = NDArray[np.uint8]
"""Rows of grey, 0 black to 255 white, from above."""
Floats = NDArray[np.float32]


def paper_light(grey: Grey, block: int, share: int = 80) -> Floats:
    """The light on the paper: of each block a bright share, smooth from block to block."""
    height, width = grey.shape
    rows, columns = max(1, height // block), max(1, width // block)
    cut = grey[: rows * block, : columns * block]
    blocks = cut.reshape(rows, block, columns, block).swapaxes(1, 2).reshape(rows, columns, -1)
    bright = np.percentile(blocks[:, :, ::5], share, axis=2).astype(np.float32)
    small = Image.fromarray(bright, mode=None)
    smooth = small.resize((width, height), Image.Resampling.BILINEAR)
    return np.maximum(np.asarray(smooth, dtype=np.float32), 1.0)


def smoothed(grey: Grey, size: int) -> Grey:
    """Means over squares of `size`, centred; the edges repeat."""
    picture = Image.fromarray(grey).filter(ImageFilter.BoxBlur((size - 1) / 2))
    return np.asarray(picture, dtype=np.uint8)


def closed(grey: Grey, size: int) -> Grey:
    """The picture without what is dark and narrower than `size`; edges of shadows stay."""
    brighter = _windows(grey, size, np.maximum)
    return _windows(brighter, size, np.minimum)


def _windows(grey: Grey, size: int, choose: np.ufunc) -> Grey:
    before, after = size // 2, size - 1 - size // 2
    wide = np.pad(grey, [(before, after), (before, after)], mode="edge")
    return _along_rows(_along_rows(wide, size, choose).T, size, choose).T


def _along_rows(wide: Grey, size: int, choose: np.ufunc) -> Grey:
    """The choice over each `size` points of a column, by reaches that double."""
    wide = np.ascontiguousarray(wide)
    reach = 1
    while reach < size:
        step = min(reach, size - reach)
        wide = choose(wide[:-step], wide[step:])
        reach += step
    return wide
