"""The patterns that go with the dyes, as brushes; so that colour is never the only sign.

A day on which a remedy is taken is filled with its dye, the pattern drawn into it; a day off
is paper with a thin slant of the dye.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen, QPixmap

from sennight.desktop.kit.theme import Theme, blend
from sennight.dyes import dye_of

Mark = Callable[[QPainter, int], None]


def brush(theme: Theme, index: int) -> QBrush:
    """The dye of the remedy at a place in its course, with its pattern: days taken."""
    dye = theme.dye(index)
    mark = _MARKS.get(dye_of(index).pattern)
    if mark is None:
        return QBrush(dye)
    return _tiled(theme, dye, blend(dye, theme.paper, 0.62), mark)


def off_brush(theme: Theme, index: int) -> QBrush:
    """The same remedy's days off: paper with a thin slant of its dye."""
    return _tiled(theme, theme.paper, blend(theme.paper, theme.dye(index), 0.55), _rising)


def tile_side(theme: Theme) -> int:
    """How wide and high one whole pattern is, in pixels."""
    return max(6, theme.unit * 2)


def _tiled(theme: Theme, ground: QColor, colour: QColor, mark: Mark) -> QBrush:
    side = tile_side(theme)
    tile = QPixmap(side, side)
    tile.fill(ground)
    painter = QPainter(tile)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(colour, max(1.0, side / 7), Qt.PenStyle.SolidLine))
    painter.setBrush(colour)
    mark(painter, side)
    painter.end()
    return QBrush(tile)


def _rising(painter: QPainter, side: int) -> None:
    for shift in (-side, 0, side):
        painter.drawLine(QPointF(shift - 1, side + 1), QPointF(shift + side + 1, -1))


def _falling(painter: QPainter, side: int) -> None:
    for shift in (-side, 0, side):
        painter.drawLine(QPointF(shift - 1, -1), QPointF(shift + side + 1, side + 1))


def _crossed(painter: QPainter, side: int) -> None:
    _rising(painter, side)
    _falling(painter, side)


def _bars(painter: QPainter, side: int) -> None:
    painter.drawLine(QPointF(side / 2, -1), QPointF(side / 2, side + 1))


def _dots(painter: QPainter, side: int) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.drawEllipse(QPointF(side / 2, side / 2), side / 5, side / 5)


_MARKS: dict[str, Mark] = {
    "rising": _rising,
    "falling": _falling,
    "crossed": _crossed,
    "bars": _bars,
    "dots": _dots,
}
