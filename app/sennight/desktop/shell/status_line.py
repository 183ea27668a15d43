"""The line at the foot of the window that says what happened."""

from __future__ import annotations

from PySide6.QtCore import QElapsedTimer, QTimer
from PySide6.QtWidgets import QHBoxLayout, QWidget

from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import Shortened, text_label

STAYS = 12_000
"""Milliseconds that a message stays."""
READ = 1_500
"""For so many it also stays where another page comes up, which may be what it tells of."""


class StatusLine(QWidget):
    """The last message, for a while, and on the right what stands for as long as it is so.

    The line keeps its height, so that nothing jumps.
    """

    def __init__(self) -> None:
        super().__init__()
        self.text = Shortened("", Role.QUIET)
        self.text.setAccessibleName(self.tr("What happened"))
        self._theme: Theme | None = None
        self._room: QHBoxLayout | None = None
        self._is_seated = False
        self._layout = QHBoxLayout(self)
        self._layout.addWidget(self.text, 1)
        self.standing = text_label("", Role.QUIET)
        self.standing.setAccessibleName(self.tr("Please note"))
        self.standing.hide()
        self._layout.addWidget(self.standing)
        self._clear = QTimer(self)
        self._clear.setSingleShot(True)
        self._clear.timeout.connect(self.text.clear)
        self._said = QElapsedTimer()

    def say(self, text: str) -> None:
        """Show a message, in place of the one before."""
        self.text.setText(text)
        self._clear.start(STAYS)
        self._said.start()

    def turn(self) -> None:
        """Another page comes up: what was said of the one before is taken away."""
        if self._said.isValid() and self._said.hasExpired(READ):
            self.text.clear()

    def stand(self, text: str) -> None:
        """Show what stands until it is replaced; nothing takes it away."""
        self.standing.setText(text)
        self.standing.setVisible(bool(text))

    def apply_theme(self, theme: Theme) -> None:
        """Sizes for the text."""
        self._theme = theme
        above, beneath = (0, 0) if self._is_seated else (1, 2)
        unit, side = theme.unit, 0 if self._is_seated else theme.edge
        self._layout.setContentsMargins(side, unit * above, side, unit * beneath)
        self.setFixedHeight(theme.line + unit * (above + beneath))

    def serve(self, room: QHBoxLayout, *, is_seated: bool) -> None:
        """Stand in another place: a page's own foot, or beneath the pages."""
        if room is not self._room:
            self._room, self._is_seated = room, is_seated
            room.addWidget(self)
            if self._theme is not None:
                self.apply_theme(self._theme)
