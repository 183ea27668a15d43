"""A drawing as plain data: boxes, lines, dots and words, in inks that each ground has its own.

Places are in the units that the size was given in (points on paper, pixels on a screen), from the
upper left corner. Nothing here knows what paints it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Ink(StrEnum):
    """What a shape is drawn with, by what it says; a palette gives the colour."""

    PAPER = "paper"
    GROUND = "ground"
    """Behind a phase."""
    GROUND_TOO = "ground too"
    """Behind the next phase."""
    FLARE = "flare"
    FLARE_GROUND = "flare ground"
    BAND = "band"
    """Where a change does not matter yet."""
    HAIRLINE = "hairline"
    QUIET = "quiet"
    INK = "ink"
    GATE = "gate"
    TODAY = "today"
    TAKEN = "taken"


class Stroke(StrEnum):
    """How a line goes, so that lines are told apart without colour."""

    SOLID = "solid"
    DASHED = "dashed"
    DOTTED = "dotted"


class Align(StrEnum):
    """Which part of its words a place is."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle, filled and edged where an ink is given."""

    x: float
    y: float
    width: float
    height: float
    fill: Ink | None = None
    edge: Ink | None = None
    stroke: Stroke = Stroke.SOLID


@dataclass(frozen=True, slots=True)
class DyedBox:
    """A rectangle in the dye and the pattern of the remedy at a place in its course, from 0."""

    x: float
    y: float
    width: float
    height: float
    index: int


@dataclass(frozen=True, slots=True)
class Lines:
    """A line through points; closed and filled where `fill` is given."""

    points: tuple[Point, ...]
    ink: Ink
    weight: float = 1.0
    stroke: Stroke = Stroke.SOLID
    fill: Ink | None = None


@dataclass(frozen=True, slots=True)
class Dot:
    """A round mark; hollow where it has no fill."""

    x: float
    y: float
    radius: float
    ink: Ink
    is_hollow: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """Words on one line whose middle is at `y`; what does not fit into `room` ends in …."""

    x: float
    y: float
    text: str
    size: float
    ink: Ink = Ink.INK
    align: Align = Align.START
    room: float | None = None
    is_strong: bool = False
    dye: int | None = None
    """The place of a remedy whose dye they are in, in place of the ink."""


Shape = Box | DyedBox | Lines | Dot | Words


@dataclass(frozen=True, slots=True)
class Drawing:
    """Shapes, the first beneath the others; `words` say what it shows to those who hear it."""

    width: float
    height: float
    shapes: tuple[Shape, ...]
    words: str = ""
