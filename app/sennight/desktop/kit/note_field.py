"""A field for a note of several lines."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import (
    QPlainTextEdit,
)


class NoteField(QPlainTextEdit):
    """Free text; `left` tells when the keyboard goes elsewhere."""

    left = Signal()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Leave."""
        super().focusOutEvent(event)
        self.left.emit()
