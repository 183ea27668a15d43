"""Photos of filled-in diary sheets, simulated from the papers as they are really printed.

A sheet is rendered, marked by hand as clients do, bent, seen from aside by a camera, in uneven
light, blurred, with noise, and saved as JPEG. What was meant in each box comes with the photo.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from io import BytesIO

import numpy as np
import pypdfium2  # type: ignore[import-untyped]
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from sennight.reading_sheets.geometry import Points, moved, perspective
from sennight.reading_sheets.grid_file import Box, Page, ScoreSays

DOTS = 10
"""Points a millimetre of the paper as it is drawn on."""
Picture = NDArray[np.float32]


class Meant(StrEnum):
    EMPTY = "empty"
    MARKED = "marked"
    CORRECTED = "corrected"


class Hand(StrEnum):
    TICK = "tick"
    CROSS = "cross"
    STROKE = "stroke"
    DOT = "dot"
    FILLING = "filling"


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


@dataclass(frozen=True, slots=True)
class SheetPhoto:
    jpeg: bytes
    meant: tuple[Meant, ...]
    hands: tuple[Hand | None, ...]


def any_conditions(draw: random.Random) -> Conditions:
    """A photo as people take them."""
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
        long_side=draw.choice((2600, 3200, 4000)),
        upside_down=draw.random() < 0.2,
    )


def sheet_photo(
    pdf: bytes, page: Page, draw: random.Random, seen: Conditions, *, corrections: float = 0.01
) -> SheetPhoto:
    """A photo of a page filled in at random."""
    paper = _printed(pdf, page.number)
    meant, hands = fill_in(paper, page.boxes, draw, corrections)
    return SheetPhoto(photographed(paper, draw, seen), meant, hands)


def _printed(pdf: bytes, number: int) -> Image.Image:
    with pypdfium2.PdfDocument(pdf) as document:
        bitmap = document[number - 1].render(scale=DOTS * 25.4 / 72, grayscale=True)
        picture: Image.Image = bitmap.to_pil().convert("L")
        return picture


def fill_in(
    paper: Image.Image, boxes: Sequence[Box], draw: random.Random, corrections: float = 0.01
) -> tuple[tuple[Meant, ...], tuple[Hand | None, ...]]:
    """Mark boxes with one pen and mostly one kind of mark; of a score's row one at most."""
    usual, pen = draw.choice(list(Hand)), _Pen(draw)
    kept = draw.uniform(0.5, 0.95)
    values: dict[tuple[object, str], int] = {}
    meant, hands = [], []
    for box in boxes:
        if isinstance(box.says, ScoreSays):
            row = (box.says.day, box.says.measure)
            is_marked = values.setdefault(row, draw.randint(0, 11)) == box.says.value
        else:
            is_marked = draw.random() < kept
        hand = usual if draw.random() < 0.85 else draw.choice(list(Hand))
        is_wrong = is_marked and usual is not Hand.FILLING and draw.random() < corrections
        if is_marked:
            pen.mark(paper, box, Hand.TICK if is_wrong else hand)
        if is_wrong:
            pen.cross_out(paper, box)
        meant.append(Meant.CORRECTED if is_wrong else Meant.MARKED if is_marked else Meant.EMPTY)
        hands.append(hand if is_marked else None)
    return tuple(meant), tuple(hands)


class _Pen:
    """A pen or a pencil in one person's hand."""

    def __init__(self, draw: random.Random) -> None:
        self.draw = draw
        is_pencil = draw.random() < 0.35
        self.ink = draw.randint(95, 140) if is_pencil else draw.randint(15, 90)
        self.width = draw.uniform(0.4, 0.7) if is_pencil else draw.uniform(0.35, 0.9)

    def mark(self, paper: Image.Image, box: Box, hand: Hand) -> None:
        match hand:
            case Hand.TICK:
                tall = self._near(1.05, 0.12)
                self._line(paper, box, [(0.15, 0.5), (0.42, 0.85), (0.85, 0.95 - tall)])
            case Hand.CROSS:
                self._line(paper, box, [(0.15, 0.15), (0.85, 0.85)])
                self._line(paper, box, [(0.85, 0.15), (0.15, 0.85)])
            case Hand.STROKE:
                self._line(paper, box, [(0.12, 0.85), (0.88, 0.15)])
            case Hand.DOT:
                self._dot(paper, box)
            case Hand.FILLING:
                self._fill(paper, box, 0.14, 0.86)

    def cross_out(self, paper: Image.Image, box: Box) -> None:
        self._fill(paper, box, -0.02, 1.02)

    def _near(self, value: float, spread: float) -> float:
        return value + self.draw.uniform(-spread, spread)

    def _line(self, paper: Image.Image, box: Box, corners: list[tuple[float, float]]) -> None:
        off = self.draw.uniform(-0.1, 0.1), self.draw.uniform(-0.1, 0.1)
        points = [
            (
                (box.x + box.size * self._near(x + off[0], 0.05)) * DOTS,
                (box.y + box.size * self._near(y + off[1], 0.05)) * DOTS,
            )
            for x, y in corners
        ]
        width = max(2, round(self.width * DOTS))
        ImageDraw.Draw(paper).line(points, fill=self.ink, width=width, joint="curve")

    def _dot(self, paper: Image.Image, box: Box) -> None:
        radius = self.draw.uniform(0.6, 1.1) * DOTS
        x = (box.x + box.size * self._near(0.5, 0.14)) * DOTS
        y = (box.y + box.size * self._near(0.5, 0.14)) * DOTS
        area = (x - radius, y - radius, x + radius, y + radius)
        ImageDraw.Draw(paper).ellipse(area, fill=self.ink)

    def _fill(self, paper: Image.Image, box: Box, low: float, high: float) -> None:
        """To and fro, close together."""
        lines = 11
        for n in range(lines):
            at = low + (high - low) * n / (lines - 1)
            self._line(paper, box, [(low, at), (high, at)])


def photographed(paper: Image.Image, draw: random.Random, seen: Conditions) -> bytes:
    """The paper on a table, in a photo."""
    sheet = np.asarray(paper, dtype=np.float32)
    if seen.bend:
        sheet = _bent(sheet, seen.bend, draw)
    picture = _from_aside(sheet, draw, seen)
    picture = _lit(picture, draw, seen)
    if seen.blur:
        picture = _blurred(picture, seen.blur)
    noise = np.random.default_rng(draw.randrange(2**32)).normal(0, seen.noise, picture.shape)
    grey = np.clip(picture + noise, 0, 255).astype(np.uint8)
    if seen.upside_down:
        grey = grey[::-1, ::-1]
    target = BytesIO()
    Image.fromarray(grey).save(target, "JPEG", quality=seen.quality)
    return target.getvalue()


def _bent(sheet: Picture, most: float, draw: random.Random) -> Picture:
    """Rows and columns moved by up to so many millimetres in the middle: paper that arches."""
    height, width = sheet.shape
    down = most * DOTS * np.sin(np.linspace(0, math.pi, width))
    across = draw.uniform(-0.6, 0.6) * most * DOTS * np.sin(np.linspace(0, math.pi, height))
    columns = np.arange(width)
    rows = np.arange(height)
    x = np.clip(np.rint(columns[None, :] + across[:, None]), 0, width - 1).astype(np.int32)
    y = np.clip(np.rint(rows[:, None] + down[None, :]), 0, height - 1).astype(np.int32)
    return sheet[y, x]


def _from_aside(sheet: Picture, draw: random.Random, seen: Conditions) -> Picture:
    height, width = sheet.shape
    long, short = seen.long_side, seen.long_side * 3 // 4
    scale = 0.8 * long / height
    corners = np.array([(0, 0), (width, 0), (0, height), (width, height)], dtype=np.float64)
    middle = corners.mean(axis=0)
    turn = math.radians(seen.turn)
    turned = np.array([(math.cos(turn), -math.sin(turn)), (math.sin(turn), math.cos(turn))])
    placed = (corners - middle) @ turned.T * min(scale, 0.8 * short / width)
    lean = [(draw.uniform(-1, 1)) * seen.tilt for _ in range(2)]
    depth = 1 + placed[:, 0] / short * lean[0] * 2 + placed[:, 1] / long * lean[1] * 2
    placed = _within(placed / depth[:, None], np.array((short, long)))
    back = perspective(placed, corners)
    numbers = (back / back[2, 2]).ravel()[:8].tolist()
    table = draw.choice((60.0, 110.0, 150.0, 205.0))
    image = Image.fromarray(sheet + 1).transform(
        (short, long), Image.Transform.PERSPECTIVE, numbers, Image.Resampling.BICUBIC
    )
    flat = np.asarray(image, dtype=np.float32)
    grid = np.array([(x, y) for y in range(0, long, 8) for x in range(0, short, 8)], dtype=float)
    there = moved(back, grid)
    inside = (there > 0).all(axis=1) & (there < (width, height)).all(axis=1)
    mask = Image.fromarray(
        (inside.reshape(len(range(0, long, 8)), -1) * 255).astype(np.uint8)
    ).resize((short, long))
    share = np.where(flat < 0.5, 0.0, 1.0) * (np.asarray(mask, dtype=np.float32) > 0)
    return np.where(share > 0, flat - 1, table).astype(np.float32)


def _within(placed: Points, size: NDArray[np.int_]) -> Points:
    """Corners in the middle of a picture of this size, made smaller where they would not fit."""
    low, high = placed.min(axis=0), placed.max(axis=0)
    scale = min(1.0, float((0.94 * size / (high - low)).min()))
    return np.asarray((placed - (low + high) / 2) * scale + size / 2)


def _lit(picture: Picture, draw: random.Random, seen: Conditions) -> Picture:
    height, width = picture.shape
    angle = draw.uniform(0, 2 * math.pi)
    x = np.linspace(-0.5, 0.5, width)[None, :] * math.cos(angle)
    y = np.linspace(-0.5, 0.5, height)[:, None] * math.sin(angle)
    way = (x + y).astype(np.float32)
    light = seen.light * (1 - seen.shade * (way + 0.5))
    if seen.edge:
        sharp = 1 / (1 + np.exp(np.clip((draw.uniform(-0.2, 0.2) - way) * 250, -60, 60)))
        light = light * (1 - seen.edge * sharp)
    return (picture * light).astype(np.float32)


def _blurred(picture: Picture, spread: float) -> Picture:
    """A Gaussian blur, along each axis."""
    reach = max(1, math.ceil(3 * spread))
    at = np.arange(-reach, reach + 1)
    kernel = np.exp(-(at**2) / (2 * spread**2)).astype(np.float32)
    kernel /= kernel.sum()
    for axis in (0, 1):
        widths = [(reach, reach) if n == axis else (0, 0) for n in (0, 1)]
        padded = np.pad(picture, widths, mode="edge")
        length = picture.shape[axis]
        picture = sum(
            (
                weight * np.take(padded, range(n, n + length), axis)
                for n, weight in enumerate(kernel)
            ),
            start=np.zeros_like(picture),
        )
    return picture
