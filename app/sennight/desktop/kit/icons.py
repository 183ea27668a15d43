"""The drawn marks: SVG files whose strokes take the colour of the text around them."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QByteArray, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from sennight.desktop.kit.theme import Theme
from sennight.places import own_folder

_INK = "currentColor"


def icon_file(name: str) -> Path:
    """The file of a mark."""
    return own_folder("resources") / "icons" / f"{name}.svg"


def mark(name: str, colour: QColor, side: int) -> QPixmap:
    """A mark in one colour, so many pixels wide and high; drawn double for sharp screens."""
    drawing = icon_file(name).read_text("utf-8").replace(_INK, colour.name())
    renderer = QSvgRenderer(QByteArray(drawing.encode()))
    pixmap = QPixmap(QSize(side, side) * 2)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    renderer.render(painter, QRectF(pixmap.rect()))
    painter.end()
    pixmap.setDevicePixelRatio(2)
    return pixmap


def icon(name: str, theme: Theme, *, side: int | None = None) -> QIcon:
    """An icon: slate, ink where it is switched on, faint where it cannot be used."""
    side = side or theme.line
    picture = QIcon()
    modes, states = QIcon.Mode, QIcon.State
    picture.addPixmap(mark(name, theme.slate, side), modes.Normal, states.Off)
    picture.addPixmap(mark(name, theme.ink, side), modes.Normal, states.On)
    picture.addPixmap(mark(name, theme.ink, side), modes.Active, states.Off)
    picture.addPixmap(mark(name, theme.hairline, side), modes.Disabled, states.Off)
    return picture
