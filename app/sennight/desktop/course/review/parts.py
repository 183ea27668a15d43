"""What the two sides of the review share: they scroll, and Escape leaves them."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from sennight.desktop.kit.widgets import pressed_by_enter


class ReviewPart(QWidget):
    """A side of the review."""

    closed = Signal()

    def begin(self) -> None:
        """Show what stands first, whatever was scrolled to before."""
        for area in self.findChildren(QScrollArea):
            area.verticalScrollBar().setValue(0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape goes back to the course; Enter presses a button."""
        if pressed_by_enter(event, self.focusWidget()):
            return
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)


def scrolled(*parts: QWidget) -> QScrollArea:
    """Parts beneath each other that scroll where they are too high."""
    area, inner = QScrollArea(), QWidget()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    column = QVBoxLayout(inner)
    column.setContentsMargins(0, 0, inner.fontMetrics().height() // 2, 0)
    for part in parts:
        column.addWidget(part)
    column.addStretch(1)
    area.setWidget(inner)
    return area
