"""The line at the foot of the window that says what happened."""

from __future__ import annotations

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QHBoxLayout, QWidget

from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import Shortened, text_label

STAYS = 12_000
"""Milliseconds that a message stays."""


class StatusLine(QWidget):
    """The last message, for a while, and on the right what stands for as long as it is so.

    The line keeps its height, so that nothing jumps.
    """

    def __init__(self) -> None:
        super().__init__()
        self.text = Shortened("", Role.QUIET)
        self.text.setAccessibleName(self.tr("What happened"))
        self._layout = QHBoxLayout(self)
        self._layout.addWidget(self.text, 1)
        self.standing = text_label("", Role.QUIET)
        self.standing.setAccessibleName(self.tr("Please note"))
        self.standing.hide()
        self._layout.addWidget(self.standing)
        self._clear = QTimer(self)
        self._clear.setSingleShot(True)
        self._clear.timeout.connect(self.text.clear)

    def say(self, text: str) -> None:
        """Show a message, in place of the one before."""
        self.text.setText(text)
        self._clear.start(STAYS)

    def stand(self, text: str) -> None:
        """Show what stands until it is replaced; nothing takes it away."""
        self.standing.setText(text)
        self.standing.setVisible(bool(text))

    def apply_theme(self, theme: Theme) -> None:
        """Sizes for the text."""
        self._layout.setContentsMargins(theme.unit * 8, theme.unit, theme.unit * 8, theme.unit * 2)
        self.setFixedHeight(theme.line + theme.unit * 3)
