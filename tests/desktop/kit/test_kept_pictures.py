"""What is kept as a picture is drawn once, and anew where it can look otherwise."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter

from sennight.desktop.kit.kept_pictures import KeptPictures

pytestmark = pytest.mark.usefixtures("qapp")
ROOM = QRectF(3, 5, 20, 10)
PAPER, INK = QColor("#fbf8f1"), QColor("#202020")


class Drawn:
    """Draws with kept pictures onto paper, and counts how often something was drawn at all."""

    def __init__(self, most: int = 10) -> None:
        self.kept, self.times = KeptPictures(most), 0

    def on_paper(
        self, seen: str, room: QRectF = ROOM, *, ground: QColor | None = None, ratio: float = 1.0
    ) -> QImage:
        image = QImage(100, 80, QImage.Format.Format_RGB32)
        image.setDevicePixelRatio(ratio)
        image.fill(PAPER)
        painter = QPainter(image)
        self.kept.draw(painter, room, seen, self._draw, ground)
        painter.end()
        return image

    def _draw(self, painter: QPainter, room: QRectF) -> None:
        self.times += 1
        painter.fillRect(room.adjusted(2, 2, -2, -2), INK)


def test_the_same_is_drawn_once_wherever_it_stands() -> None:
    drawn = Drawn()
    first = drawn.on_paper("a")
    assert drawn.on_paper("a") == first
    drawn.on_paper("a", ROOM.translated(7, 9))
    assert drawn.times == 1
    assert first.pixelColor(5, 7) == INK
    assert first.pixelColor(3, 5) == PAPER


def test_what_looks_otherwise_is_drawn_anew() -> None:
    drawn = Drawn()
    drawn.on_paper("a")
    drawn.on_paper("b")
    drawn.on_paper("a", ROOM.adjusted(0, 0, 1, 0))
    drawn.on_paper("a", ground=PAPER)
    drawn.on_paper("a", ratio=2.0)
    assert drawn.times == 5


def test_a_ground_covers_what_lies_beneath() -> None:
    assert Drawn().on_paper("a", ground=QColor("red")).pixelColor(3, 5) == QColor("red")


def test_more_than_so_many_begin_anew() -> None:
    drawn = Drawn(most=2)
    for seen in "abca":
        drawn.on_paper(seen)
    assert drawn.times == 4
    drawn.kept.clear()
    drawn.on_paper("a")
    assert drawn.times == 5
