"""A field for free text that is as high as what is written in it."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QResizeEvent
from PySide6.QtWidgets import QPlainTextEdit, QSizePolicy, QWidget

from sennight.desktop.kit.prose import MOST_IN_A_CONSULTATION, limit_prose

MOST_LINES = 9
"""From so many lines on it scrolls."""


class GrowingField(QPlainTextEdit):
    """`least` lines at first, more as they are written; Tab goes on, Enter begins a line."""

    entered = Signal()

    def __init__(self, parent: QWidget | None = None, *, least: int = 1) -> None:
        super().__init__(parent)
        self._least = least
        self.setTabChangesFocus(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.document().setDocumentMargin(0)
        self._lines = 0
        self.textChanged.connect(self._fit)
        limit_prose(self, MOST_IN_A_CONSULTATION)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Tell that the keyboard came here."""
        super().focusInEvent(event)
        self.entered.emit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """A narrower field has more lines."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        wanted = max(1, int(self.document().size().height()))
        ways = Qt.ScrollBarPolicy
        is_full = wanted > MOST_LINES
        self.setVerticalScrollBarPolicy(
            ways.ScrollBarAsNeeded if is_full else ways.ScrollBarAlwaysOff
        )
        lines = max(self._least, min(MOST_LINES, wanted))
        if lines != self._lines:
            self._lines = lines
            self.updateGeometry()

    def sizeHint(self) -> QSize:
        """As high as its lines, with what is around them."""
        margins = self.contentsMargins()
        around = margins.top() + margins.bottom()  # the frame among them
        height = self.fontMetrics().lineSpacing() * max(1, self._lines) + around + 2
        return QSize(super().sizeHint().width(), height)

    def minimumSizeHint(self) -> QSize:
        """Never lower than that."""
        few = self.fontMetrics().horizontalAdvance("n") * 12
        return QSize(few, self.sizeHint().height())
