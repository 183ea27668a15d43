"""The drawn marks: SVG files whose strokes take the colour of the text around them."""

from __future__ import annotations

from functools import lru_cache
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


_PRINTED_INK = "#26302B"
"""The colour that the marks of the forms are drawn in, on paper."""


@lru_cache(maxsize=200)
def form_mark(form: str, colour: str, side: int) -> QPixmap:
    """The drawing of a form of remedy, as it stands on paper, in one colour."""
    file = own_folder("resources") / "marks" / f"{form}.svg"
    return _drawn(file.read_text("utf-8").replace(_PRINTED_INK, colour), QSize(side, side))


def drawing(name: str, colour: QColor, size: QSize) -> QPixmap:
    """The drawing of a place where nothing is yet, in one colour."""
    file = own_folder("resources") / "drawings" / f"{name}.svg"
    return _drawn(file.read_text("utf-8").replace(_PRINTED_INK, colour.name()), size)


def mark(name: str, colour: QColor, side: int) -> QPixmap:
    """A mark in one colour, so many pixels wide and high; drawn double for sharp screens."""
    return _drawn(
        icon_file(name).read_text("utf-8").replace(_INK, colour.name()), QSize(side, side)
    )


def _drawn(svg: str, size: QSize) -> QPixmap:
    renderer = QSvgRenderer(QByteArray(svg.encode()))
    pixmap = QPixmap(size * 2)
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
