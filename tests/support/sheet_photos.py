"""Photos of filled-in diary sheets, simulated from the papers as they are really printed.

A sheet is rendered, marked by hand as clients do, bent, seen from aside by a camera, in uneven
light, blurred, with noise, and saved as JPEG. What was meant in each box comes with the photo.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO

import numpy as np
import pypdfium2  # type: ignore[import-untyped]
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFilter

from sennight.reading_sheets.geometry import Points, perspective
from sennight.reading_sheets.grid_file import Page
from support.sheet_hands import DOTS, How, Meant, fill_in

Grey = NDArray[np.uint8]
_THUMB = 7.0
"""Half of how wide a thumb is, in millimetres: a little more than covers a corner mark."""
_COARSE = 8
"""The light changes slowly: it is worked out at every so many points."""
_SCREEN = np.array(
    [[8, 136, 40, 168], [200, 72, 232, 104], [56, 184, 24, 152], [248, 120, 216, 88]], np.uint8
)
"""The greys above which dots of a printer's screen stay white (Bayer's matrix; from memory)."""


@dataclass(frozen=True, slots=True)
class Conditions:
    """How a photo is taken: degrees, shares of the light, points of blur and noise."""

    turn: float = 0.0
    tilt: float = 0.0
    bend: float = 0.0
    shade: float = 0.0
    edge: float = 0.0
    light: float = 0.9
    blur: float = 0.6
    noise: float = 3.0
    quality: int = 85
    long_side: int = 3200
    upside_down: bool = False
    screened: bool = False
    """Printed in black alone: greys are dots."""


@dataclass(frozen=True, slots=True)
class SheetPhoto:
    jpeg: bytes
    meant: tuple[Meant, ...]
    how: tuple[How | None, ...]


def any_conditions(draw: random.Random, *sides: int) -> Conditions:
    """A photo as people take them; `sides` are lengths of the longer side to choose from."""
    return Conditions(
        turn=draw.uniform(-12, 12),
        tilt=draw.uniform(0, 0.16),
        bend=draw.uniform(-3, 3),
        shade=draw.uniform(0, 0.45),
        edge=draw.choice((0, 0, draw.uniform(0.1, 0.35))),
        light=draw.uniform(0.5, 1.0),
        blur=draw.uniform(0.4, 1.9),
        noise=draw.uniform(1, 8),
        quality=draw.randint(60, 92),
        long_side=draw.choice(sides or (2600, 3200, 4000)),
        upside_down=draw.random() < 0.2,
        screened=draw.random() < 0.5,
    )


def hard_conditions(draw: random.Random) -> Conditions:
    """A photo worse than people take them when they look at it: much may be refused."""
    return Conditions(
        turn=draw.uniform(-25, 25),
        tilt=draw.uniform(0.1, 0.24),
        bend=draw.uniform(-5, 5),
        shade=draw.uniform(0.3, 0.7),
        edge=draw.uniform(0, 0.5),
        light=draw.uniform(0.25, 0.8),
        blur=draw.uniform(1, 3.5),
        noise=draw.uniform(4, 14),
        quality=draw.randint(35, 80),
        long_side=draw.choice((2000, 2600, 4000)),
        upside_down=draw.random() < 0.2,
        screened=draw.random() < 0.5,
    )


def sheet_photo(
    pdf: bytes,
    page: Page,
    draw: random.Random,
    seen: Conditions,
    *,
    corrections: float = 0.01,
    thumbs: Sequence[tuple[float, float]] = (),
) -> SheetPhoto:
    """A photo of a page filled in at random; thumbs, in millimetres, cover what is under them."""
    paper = _printed(pdf, page.number, screened=seen.screened).copy()
    filled = fill_in(paper, page.boxes, draw, corrections)
    for x, y in thumbs:
        area = [(at + off) * DOTS for off in (-_THUMB, _THUMB) for at in (x, y)]
        ImageDraw.Draw(paper).ellipse(area, fill=150)
    return SheetPhoto(photographed(paper, draw, seen), filled.meant, filled.how)


def over_mark(page: Page, number: int) -> tuple[float, float]:
    """Where a thumb is that covers one of the four corner marks."""
    x, y, size = page.marks[number]
    return x + size / 2, y + size / 2


@lru_cache(maxsize=24)
def _printed(pdf: bytes, number: int, *, screened: bool) -> Image.Image:
    with pypdfium2.PdfDocument(pdf) as document:
        bitmap = document[number - 1].render(scale=DOTS * 25.4 / 72, grayscale=True)
        picture: Image.Image = bitmap.to_pil().convert("L")
    return _as_dots(picture) if screened else picture


def _as_dots(picture: Image.Image) -> Image.Image:
    """The picture in black and white dots of 0.1 mm, as a printer without greys prints it."""
    grey = np.asarray(picture, dtype=np.uint8)
    down, across = grey.shape[0] // 4 * 4, grey.shape[1] // 4 * 4
    blocks = grey[:down, :across].reshape(down // 4, 4, across // 4, 4)
    dots = (blocks > _SCREEN[None, :, None, :]).reshape(down, across) * np.uint8(255)
    return Image.fromarray(np.pad(dots, [(0, grey.shape[0] - down), (0, grey.shape[1] - across)]))


def photographed(paper: Image.Image, draw: random.Random, seen: Conditions) -> bytes:
    """The paper on a table, in a photo."""
    sheet = np.asarray(paper, dtype=np.uint8)
    if seen.bend:
        sheet = _bent(sheet, seen.bend, draw)
    picture = _from_aside(sheet, draw, seen)
    if seen.blur:
        picture = picture.filter(ImageFilter.GaussianBlur(seen.blur))
    grey = _noisy(_lit(picture, draw, seen), draw, seen.noise)
    if seen.upside_down:
        grey = grey[::-1, ::-1]
    target = BytesIO()
    Image.fromarray(grey).save(target, "JPEG", quality=seen.quality)
    return target.getvalue()


def _bent(sheet: Grey, most: float, draw: random.Random) -> Grey:
    """Rows and columns moved by up to so many millimetres in the middle: paper that arches."""
    height, width = sheet.shape
    down = most * DOTS * np.sin(np.linspace(0, math.pi, width))
    across = draw.uniform(-0.6, 0.6) * most * DOTS * np.sin(np.linspace(0, math.pi, height))
    bent = _rows_moved(sheet, np.rint(across).astype(int))
    return np.ascontiguousarray(_rows_moved(bent.T, np.rint(down).astype(int)).T)


def _rows_moved(sheet: Grey, by: NDArray[np.int_]) -> Grey:
    """Each row moved by so many points along itself; what comes in is as its end was."""
    reach = int(np.abs(by).max())
    wide = np.pad(sheet, [(0, 0), (reach, reach)], mode="edge")
    moved = np.empty(sheet.shape, dtype=np.uint8)
    for row, (points, step) in enumerate(zip(wide, by.tolist(), strict=True)):
        moved[row] = points[reach + step : reach + step + sheet.shape[1]]
    return moved


def _from_aside(sheet: Grey, draw: random.Random, seen: Conditions) -> Image.Image:
    """The paper on a table, seen by a camera."""
    height, width = sheet.shape
    long, short = seen.long_side, seen.long_side * 3 // 4
    corners = np.array([(0, 0), (width, 0), (0, height), (width, height)], dtype=np.float64)
    back = perspective(_corners_seen(corners, draw, seen), corners)
    numbers = (back / back[2, 2]).ravel()[:8].tolist()
    table = draw.choice((60, 110, 150, 205))
    image = Image.fromarray(np.maximum(sheet, 1)).transform(
        (short, long), Image.Transform.PERSPECTIVE, numbers, Image.Resampling.BILINEAR
    )
    return image.point([table, *range(1, 256)])  # 0 is what lies beside the paper


def _corners_seen(corners: Points, draw: random.Random, seen: Conditions) -> Points:
    """Where the paper's corners are in the photo."""
    width, height = corners[3]
    long, short = seen.long_side, seen.long_side * 3 // 4
    turn = math.radians(seen.turn)
    turned = np.array([(math.cos(turn), -math.sin(turn)), (math.sin(turn), math.cos(turn))])
    scale = min(0.8 * long / height, 0.8 * short / width)
    placed = (corners - corners.mean(axis=0)) @ turned.T * scale
    lean = [(draw.uniform(-1, 1)) * seen.tilt for _ in range(2)]
    depth = 1 + placed[:, 0] / short * lean[0] * 2 + placed[:, 1] / long * lean[1] * 2
    return _within(placed / depth[:, None], np.array((short, long)))


def _within(placed: Points, size: NDArray[np.int_]) -> Points:
    """Corners in the middle of a picture of this size, made smaller where they would not fit."""
    low, high = placed.min(axis=0), placed.max(axis=0)
    scale = min(1.0, float((0.94 * size / (high - low)).min()))
    return np.asarray((placed - (low + high) / 2) * scale + size / 2)


def _lit(picture: Image.Image, draw: random.Random, seen: Conditions) -> NDArray[np.int16]:
    """The picture in light that falls off to one side, and with the edge of a shadow."""
    width, height = picture.size
    angle = draw.uniform(0, 2 * math.pi)
    x = np.linspace(-0.5, 0.5, width // _COARSE)[None, :] * math.cos(angle)
    y = np.linspace(-0.5, 0.5, height // _COARSE)[:, None] * math.sin(angle)
    way = (x + y).astype(np.float32)
    light = seen.light * (1 - seen.shade * (way + 0.5))
    if seen.edge:
        sharp = 1 / (1 + np.exp(np.clip((draw.uniform(-0.2, 0.2) - way) * 250, -60, 60)))
        light = light * (1 - seen.edge * sharp)
    small = Image.fromarray(np.rint(light * 128).astype(np.uint8))
    lights = np.asarray(small.resize(picture.size, Image.Resampling.BILINEAR), dtype=np.uint16)
    lights *= np.asarray(picture, dtype=np.uint8)
    lights >>= 7
    return lights.view(np.int16)


def _noisy(picture: NDArray[np.int16], draw: random.Random, spread: float) -> Grey:
    """The same patch of noise again and again: no mark is as large as the patch."""
    side = 512
    patch = np.random.default_rng(draw.randrange(2**32)).normal(0, spread, (side, side))
    noise = np.rint(patch).astype(np.int16)
    height, width = picture.shape
    for top in range(0, height, side):
        for left in range(0, width, side):
            piece = picture[top : top + side, left : left + side]
            piece += noise[: piece.shape[0], : piece.shape[1]]
    return np.clip(picture, 0, 255, out=picture).astype(np.uint8)
