"""A row of widgets that goes on in a further row where there is no room."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class WrappedRow(QLayout):
    """Lays its widgets out from left to right, each as wide as it wants to be."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        """Add what is laid out last."""
        self._items.append(item)

    def count(self) -> int:
        """How many there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """The one at a place."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Take one out."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """It takes no more room than it wants."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """The narrower, the higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """The height of the rows that a width asks for."""
        return self._place(QRect(0, 0, width, 0), is_moved=False)

    def sizeHint(self) -> QSize:
        """All in one row."""
        sizes = [item.sizeHint() for item in self._items]
        gaps = self.spacing() * max(0, len(sizes) - 1)
        wide = sum(size.width() for size in sizes) + gaps
        return QSize(wide, max((size.height() for size in sizes), default=0))

    def minimumSize(self) -> QSize:
        """As wide as the widest of them."""
        size = QSize()
        for item in self._items:
            size = size.expandedTo(item.minimumSize())
        return size

    def setGeometry(self, rect: QRect) -> None:
        """Place all."""
        super().setGeometry(rect)
        self._place(rect, is_moved=True)

    def _place(self, room: QRect, *, is_moved: bool) -> int:
        """Place them in rows, or only look how high these are; returns the height."""
        x, y, high = room.left(), room.top(), 0
        for item in self._items:
            size = item.sizeHint()
            if x > room.left() and x + size.width() > room.left() + room.width():
                x, y, high = room.left(), y + high + self.spacing(), 0
            if is_moved:
                down = max(0, (self._items[-1].sizeHint().height() - size.height()) // 2)
                item.setGeometry(QRect(QPoint(x, y + down), size))
            x, high = x + size.width() + self.spacing(), max(high, size.height())
        return y + high - room.top()
