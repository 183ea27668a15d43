"""Places on the paper and in the photo: lines stay lines, whatever the camera looked from."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
"""Points as rows of x and y."""
Plane = NDArray[np.float64]
"""Three by three numbers that take a plane to another (a homography)."""


def affine(before: Points, after: Points) -> Plane:
    """The map without perspective that takes points to points, by least squares."""
    ones = np.column_stack([before, np.ones(len(before))])
    found, *_ = np.linalg.lstsq(ones, after, rcond=None)
    return np.vstack([found.T, [0, 0, 1]])


def perspective(before: Points, after: Points) -> Plane:
    """The map that takes four points to four points, or more by least squares.

    Two linear equations a point in eight numbers (direct linear transformation; Hartley and
    Zisserman, Multiple View Geometry, 2004, chapter 4; from memory).
    """
    rows, values = [], []
    for (x, y), (u, v) in zip(before, after, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        values += [u, v]
    found, *_ = np.linalg.lstsq(np.array(rows), np.array(values), rcond=None)
    return np.append(found, 1.0).reshape(3, 3)


def moved(plane: Plane, points: Points) -> Points:
    """Points taken along with a plane."""
    ones = np.column_stack([points, np.ones(len(points))]) @ plane.T
    return ones[:, :2] / ones[:, 2:]
