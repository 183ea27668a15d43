"""Drawings kept as pictures: what looks as it did before is not drawn again.

To lay a text out costs many times what it costs to put a picture of it on the screen, and after
an edit most of what has to be painted looks as it did.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPixmap


class KeptPictures:
    """The pictures of up to `most` drawings; where there are more, all are drawn anew."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._pictures: dict[Hashable, QPixmap] = {}

    def clear(self) -> None:
        """Forget all: things look otherwise now."""
        self._pictures.clear()

    def draw(
        self,
        painter: QPainter,
        room: QRectF,
        seen: Hashable,
        draw: Callable[[QPainter, QRectF], None],
        ground: QColor | None = None,
    ) -> None:
        """Put into a room what `draw` draws, which is given a room of that size at 0, 0.

        `seen` is all that can be seen of it. Without a ground what lies beneath shines through;
        something large is better given one, since it is then copied and not blended.
        """
        ratio, size = painter.device().devicePixelRatioF(), room.size().toSize()
        key = (seen, size.width(), size.height(), ratio, ground and ground.rgb())
        picture = self._pictures.get(key)
        if picture is None:
            if len(self._pictures) >= self._most:
                self._pictures.clear()
            picture = self._pictures[key] = QPixmap(size * ratio)
            picture.setDevicePixelRatio(ratio)
            picture.fill(ground or Qt.GlobalColor.transparent)
            inner = QPainter(picture)
            draw(inner, QRectF(QPointF(), size))
            inner.end()
        painter.drawPixmap(room.topLeft(), picture)
