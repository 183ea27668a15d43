"""A part that is as high as what is in it, and scrolls where there is less room."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QWidget

LEAST_LINES = 5
"""Lines of text that are always in view."""


class FittingArea(QScrollArea):
    """Holds one widget, whose height may depend on its width."""

    def __init__(self, content: QWidget) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        self.setWidget(content)
        for part in (content, self.viewport()):
            part.setAutoFillBackground(False)  # it lies on what it stands in
        self.content = content

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Another content asks for another height."""
        if event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
        return super().eventFilter(watched, event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width asks for another height."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.updateGeometry()

    def _wanted(self) -> int:
        layout, width = self.content.layout(), self.viewport().width()
        if layout is not None and layout.hasHeightForWidth() and width > 0:
            return layout.totalHeightForWidth(width)
        return self.content.sizeHint().height()

    def sizeHint(self) -> QSize:
        """As high as the content."""
        return QSize(self.content.sizeHint().width(), self._wanted())

    def minimumSizeHint(self) -> QSize:
        """A few lines, or the content if it is lower."""
        few = self.fontMetrics().lineSpacing() * LEAST_LINES
        bar = self.verticalScrollBar().sizeHint().width()
        wide = self.content.minimumSizeHint().width() + bar
        return QSize(wide, min(few, self._wanted()))
