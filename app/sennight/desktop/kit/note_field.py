"""A field for a note of several lines."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QPlainTextEdit, QWidget

from sennight.desktop.kit.prose import limit_prose


class NoteField(QPlainTextEdit):
    """Free text; `left` tells when the keyboard goes elsewhere."""

    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        limit_prose(self)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Leave."""
        super().focusOutEvent(event)
        self.left.emit()
