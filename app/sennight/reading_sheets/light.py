"""Even light: how bright the paper is at every point, and how dark is what stands on it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PIL import Image

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


def closed(grey: Grey, size: int) -> Grey:
    """The picture without what is dark and narrower than `size`; edges of shadows stay."""
    brighter = _windows(grey, size, np.maximum)
    return _windows(brighter, size, np.minimum)


def _windows(grey: Grey, size: int, choose: np.ufunc) -> Grey:
    for axis in (0, 1):
        before, after = size // 2, size - 1 - size // 2
        widths = [(0, 0), (0, 0)]
        widths[axis] = (before, after)
        padded = np.pad(grey, widths, mode="edge")
        grey = _along(padded, size, axis, choose)
    return grey


def _along(padded: Grey, size: int, axis: int, choose: np.ufunc) -> Grey:
    """The choice over each window of `size`, by windows that double."""
    reach = 1
    while reach < size:
        step = min(reach, size - reach)
        length = padded.shape[axis]
        first = np.take(padded, range(length - step), axis)
        second = np.take(padded, range(step, length), axis)
        padded = choose(first, second)
        reach += step
    return padded


def box_sums(values: NDArray[np.generic], size: int) -> Floats:
    """Means over squares of `size`, centred; the edges repeat."""
    half = size // 2
    padded = np.pad(values.astype(np.float32), (half + 1, size - 1 - half), mode="edge")
    total = padded.cumsum(0, dtype=np.float64).cumsum(1, dtype=np.float64)
    sums = total[size:, size:] - total[:-size, size:] - total[size:, :-size]
    means = (sums + total[:-size, :-size]) / size**2
    return np.asarray(means, dtype=np.float32)
