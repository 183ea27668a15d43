"""Diary sheets filled in by hand, simulated: one pen, corrections, ratings with a ring."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from PIL import Image, ImageDraw

from sennight.reading_sheets.grid_file import Box, ScoreSays

DOTS = 10
"""Points a millimetre of the paper as it is drawn on."""
_CORRECTED = 0.01
"""The share of marks that are taken back."""
_OTHERWISE = 0.15
"""The share of marks made otherwise than the client usually does."""


class Meant(StrEnum):
    """What a client meant with a box; of what is corrected only the client can say."""

    EMPTY = "empty"
    MARKED = "marked"
    CORRECTED = "corrected"


class Hand(StrEnum):
    """How a box is marked; a ring goes round a rating alone."""

    TICK = "tick"
    CROSS = "cross"
    STROKE = "stroke"
    DOT = "dot"
    FILLING = "filling"
    RING = "ring"


class Undoing(StrEnum):
    """How a mark is taken back."""

    SCRIBBLE = "scribble"
    FILLED_OVER = "filled over"
    CROSSED_OUT = "crossed out"


USUAL = (Hand.TICK, Hand.CROSS, Hand.STROKE, Hand.DOT, Hand.FILLING)
"""What a client may do usually."""
How = Hand | Undoing


@dataclass(frozen=True, slots=True)
class FilledIn:
    """A page as it was filled in: what was meant in each box, and how it was said."""

    meant: tuple[Meant, ...]
    how: tuple[How | None, ...]


def fill_in(
    paper: Image.Image, boxes: Sequence[Box], draw: random.Random, corrections: float = _CORRECTED
) -> FilledIn:
    """Mark boxes with one pen and mostly one kind of mark; of a score's row one at most.

    A box that is filled on a sheet of ticks may hide a tick, so that filling is not drawn there
    as a mark, but for a correction.
    """
    client = _Client(draw, _Pen(paper, draw), corrections)
    values: dict[tuple[object, str], int] = {}
    meant: list[Meant] = []
    how: list[How | None] = []
    for box in boxes:
        if isinstance(box.says, ScoreSays):
            row = (box.says.day, box.says.measure)
            is_marked = values.setdefault(row, draw.randint(0, 11)) == box.says.value
        else:
            is_marked = draw.random() < client.kept
        said = client.fill_in(box) if is_marked else None
        how.append(said)
        is_undone = isinstance(said, Undoing)
        meant.append(Meant.CORRECTED if is_undone else Meant.MARKED if said else Meant.EMPTY)
    return FilledIn(tuple(meant), tuple(how))


class _Client:
    """Somebody's habits."""

    def __init__(self, draw: random.Random, pen: _Pen, corrections: float) -> None:
        self.draw, self.pen, self.corrections = draw, pen, corrections
        self.usual = draw.choice(USUAL)
        self.kept = draw.uniform(0.5, 0.95)
        self.is_ringing = draw.random() < 0.3

    def fill_in(self, box: Box) -> How:
        """Mark a box, and sometimes take it back."""
        hand = self._hand(box)
        self.pen.mark(box, hand)
        if hand is Hand.RING or self.draw.random() >= self.corrections:
            return hand
        undoing = self.draw.choice(list(Undoing))
        if self.usual is Hand.FILLING and undoing is Undoing.FILLED_OVER:
            undoing = Undoing.SCRIBBLE  # what is filled already can only be scribbled over
        self.pen.undo(box, undoing)
        return undoing

    def _hand(self, box: Box) -> Hand:
        if self.is_ringing and isinstance(box.says, ScoreSays):
            return Hand.RING
        if self.draw.random() < 1 - _OTHERWISE:
            return self.usual
        is_filling = self.usual is Hand.FILLING
        return self.draw.choice(USUAL if is_filling else USUAL[:-1])


class _Pen:
    """A pen or a pencil in one person's hand."""

    def __init__(self, paper: Image.Image, draw: random.Random) -> None:
        self.draw, self.surface = draw, ImageDraw.Draw(paper)
        is_pencil = draw.random() < 0.35
        self.ink = draw.randint(95, 140) if is_pencil else draw.randint(15, 90)
        self.width = draw.uniform(0.4, 0.7) if is_pencil else draw.uniform(0.35, 0.9)

    def mark(self, box: Box, hand: Hand) -> None:
        match hand:
            case Hand.TICK:
                tall = self._near(1.05, 0.12)
                self._line(box, [(0.15, 0.5), (0.42, 0.85), (0.85, 0.95 - tall)])
            case Hand.CROSS:
                self._line(box, [(0.15, 0.15), (0.85, 0.85)])
                self._line(box, [(0.85, 0.15), (0.15, 0.85)])
            case Hand.STROKE:
                self._line(box, [(0.12, 0.85), (0.88, 0.15)])
            case Hand.DOT:
                self._dot(box)
            case Hand.FILLING:
                self._fill(box, 0.14, 0.86)
            case Hand.RING:
                self._ring(box)

    def undo(self, box: Box, undoing: Undoing) -> None:
        match undoing:
            case Undoing.SCRIBBLE:
                self._scribble(box)
            case Undoing.FILLED_OVER:
                self._fill(box, -0.02, 1.02)
            case Undoing.CROSSED_OUT:
                for begin, end in ((0.2, 0.35), (0.5, 0.5), (0.8, 0.65)):
                    self._line(box, [(-0.25, begin), (1.25, end)])

    def _near(self, value: float, spread: float) -> float:
        return value + self.draw.uniform(-spread, spread)

    def _line(self, box: Box, corners: list[tuple[float, float]]) -> None:
        off = self.draw.uniform(-0.1, 0.1), self.draw.uniform(-0.1, 0.1)
        points = [
            (
                (box.x + box.size * self._near(x + off[0], 0.05)) * DOTS,
                (box.y + box.size * self._near(y + off[1], 0.05)) * DOTS,
            )
            for x, y in corners
        ]
        width = max(2, round(self.width * DOTS))
        self.surface.line(points, fill=self.ink, width=width, joint="curve")

    def _dot(self, box: Box) -> None:
        radius = self.draw.uniform(0.6, 1.1) * DOTS
        x = (box.x + box.size * self._near(0.5, 0.14)) * DOTS
        y = (box.y + box.size * self._near(0.5, 0.14)) * DOTS
        area = (x - radius, y - radius, x + radius, y + radius)
        self.surface.ellipse(area, fill=self.ink)

    def _fill(self, box: Box, low: float, high: float) -> None:
        """To and fro, close together."""
        lines = 11
        for n in range(lines):
            at = low + (high - low) * n / (lines - 1)
            self._line(box, [(low, at), (high, at)])

    def _scribble(self, box: Box) -> None:
        """To and fro across the box and over its line, aslant, without lifting the pen."""
        turns, slant = self.draw.randint(7, 10), self.draw.uniform(-0.7, 0.7)
        corners = []
        for n in range(turns):
            along, across = n / (turns - 1) - 0.5, 0.62 * (-1) ** n
            x = 0.5 + along * math.cos(slant) - across * math.sin(slant)
            y = 0.5 + along * math.sin(slant) + across * math.cos(slant)
            corners.append((x, y))
        self._line(box, corners)

    def _ring(self, box: Box) -> None:
        """Round the box, and mostly round the number at its left too."""
        left = self.draw.choice((0.25, 0.9, 1.0)) * box.size
        reach = self.draw.uniform(0.2, 0.35) * box.size
        x, y = box.x * DOTS, box.y * DOTS
        side, out = box.size * DOTS, reach * DOTS
        area = (x - left * DOTS, y - out, x + side + out, y + side + out)
        width = max(2, round(self.width * DOTS))
        self.surface.ellipse(area, outline=self.ink, width=width)
