"""The bar on top of the window: back, the find field, undo and redo."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QHBoxLayout, QToolButton, QWidget

from sennight.desktop.kit.icons import icon
from sennight.desktop.kit.section import Seats
from sennight.desktop.kit.theme import Theme
from sennight.desktop.shell.find_field import FindField

_ICONS = ("back", "undo", "redo")


class TopBar(QWidget):
    """Back on the left, then the find field; undo and redo on the right.

    A page with a head line of its own has them there, and the bar is put away.
    """

    def __init__(self, actions: Mapping[str, QAction], find: FindField) -> None:
        super().__init__()
        self._find = find
        self._actions = {name: actions[name] for name in _ICONS}
        self.buttons = {name: self._button(action) for name, action in self._actions.items()}
        self._seats: Seats | None = None
        self._layout = QHBoxLayout(self)
        self._take_back()

    def _take_back(self) -> None:
        self._layout.addWidget(self.buttons["back"])
        self._layout.addWidget(self._find)
        self._layout.addStretch(1)
        self._layout.addWidget(self.buttons["undo"])
        self._layout.addWidget(self.buttons["redo"])
        self._find.be_narrow(is_narrow=False)

    def serve(self, seats: Seats | None) -> None:
        """Have the tools in a page's own head line, or here where it has none."""
        if seats is self._seats:
            return
        self._seats = seats
        while self._layout.count():
            self._layout.takeAt(0)
        if seats is None:
            self._take_back()
            self.show()
            return
        seats.back.addWidget(self.buttons["back"])
        for tool in (self.buttons["undo"], self.buttons["redo"], self._find):
            seats.tools.addWidget(tool)
        self._find.be_narrow(is_narrow=True)
        self.hide()

    def _button(self, action: QAction) -> QToolButton:
        button = QToolButton()
        button.setDefaultAction(action)
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonIconOnly)
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        button.setAccessibleName(action.text())
        button.setProperty("kind", "bar")
        return button

    def apply_theme(self, theme: Theme) -> None:
        """Icons and distances for the look."""
        side = theme.edge * 3 // 4
        self._layout.setContentsMargins(side, theme.unit * 3, theme.edge, theme.unit)
        self._layout.setSpacing(theme.unit * 2)
        self._find.apply_theme(theme)
        side = theme.unit * (4 if theme.is_large else 5)
        for name, action in self._actions.items():
            action.setIcon(icon(name, theme, side=side))
            self.buttons[name].setIconSize(QSize(side, side))
