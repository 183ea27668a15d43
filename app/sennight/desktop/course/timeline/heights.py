"""Where the rows of the timeline stand: the ruler, the phases, the lanes, and the foot."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF

from sennight.desktop.kit.theme import Theme

INSET = 0.17
"""How much of a lane is left free above its bar, and beneath it."""


@dataclass(frozen=True, slots=True)
class Rows:
    """What there is to make room for: the lanes, decisions, and a foot of scores and plans."""

    lanes: int
    has_flags: bool = False
    has_foot: bool = False


@dataclass(frozen=True, slots=True)
class Heights:
    """The rows of the timeline, in pixels from its top."""

    months: float
    flags: float
    band: float
    lanes: float
    lane: float
    foot: float
    bottom: float

    @classmethod
    def of(cls, theme: Theme, rows: Rows, room: float) -> Heights:
        """The rows; the lanes get lower where `room` is short for all of them.

        A lane stays as high as a line of text at 100 %, whatever the size chosen.
        """
        text, unit = float(theme.line), float(theme.unit)
        months = 0.0
        flags = months + text
        band = flags + (unit * 2.6 if rows.has_flags else unit * 0.4)
        first = band + text + unit * 1.2
        least = text * 100 / theme.scale * 0.9
        lane = min(text + unit * 0.2, max(least, room / max(1, rows.lanes)))
        foot = first + lane * rows.lanes
        bottom = foot + (text + unit * 0.6 if rows.has_foot else 0) + unit * 0.6
        return cls(months, flags, band, first, lane, foot, bottom)

    def lane_rect(self, row: int, left: float, right: float) -> QRectF:
        """The bar of a lane."""
        inset = self.lane * INSET
        top = self.lanes + self.lane * row + inset
        first, last = round(left), round(right)
        return QRectF(first, round(top), last - first, round(self.lane - 2 * inset))
