"""The bar on top of the window: back, the find field, undo and redo."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QHBoxLayout, QToolButton, QWidget

from sennight.desktop.kit.icons import icon
from sennight.desktop.kit.theme import Theme
from sennight.desktop.shell.find_field import FindField

_ICONS = ("back", "undo", "redo")


class TopBar(QWidget):
    """Back on the left, then the find field; undo and redo on the right."""

    def __init__(self, actions: Mapping[str, QAction], find: FindField) -> None:
        super().__init__()
        self._find = find
        self._actions = {name: actions[name] for name in _ICONS}
        self.buttons = {name: self._button(action) for name, action in self._actions.items()}
        self._layout = QHBoxLayout(self)
        self._layout.addWidget(self.buttons["back"])
        self._layout.addWidget(find)
        self._layout.addStretch(1)
        self._layout.addWidget(self.buttons["undo"])
        self._layout.addWidget(self.buttons["redo"])

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
        self._layout.setContentsMargins(theme.unit * 6, theme.unit * 3, theme.unit * 8, theme.unit)
        self._layout.setSpacing(theme.unit * 2)
        self._find.apply_theme(theme)
        side = theme.unit * 5
        for name, action in self._actions.items():
            action.setIcon(icon(name, theme, side=side))
            self.buttons[name].setIconSize(QSize(side, side))
