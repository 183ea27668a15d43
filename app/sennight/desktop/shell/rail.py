"""The narrow rail on the left: the places, each an icon and a word, and the menu."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction, QActionGroup
from PySide6.QtWidgets import QFrame, QMenu, QToolButton, QVBoxLayout

from sennight.desktop.kit.icons import icon
from sennight.desktop.kit.section import Section
from sennight.desktop.kit.theme import Theme
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.settings import Scheme


class Rail(QFrame):
    """The places and the menu."""

    def __init__(
        self,
        actions: Mapping[str, QAction],
        sections: Sequence[type[Section]],
        appearance: Appearance,
        *,
        is_demo: bool = False,
    ) -> None:
        super().__init__()
        self.setObjectName("rail")
        self._icons = {section.spec().id: section.icon for section in sections}
        self.places = {name: self._place(actions[name]) for name in self._icons}
        self.menu_button = self._menu_button(actions, appearance)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        for button in self.places.values():
            layout.addWidget(button)
        layout.addStretch(1)
        self.demo = self._demo_button()
        layout.addWidget(self.demo)
        self.demo.setVisible(is_demo)
        layout.addWidget(self.menu_button)
        for button in self._buttons():
            button.setProperty("kind", "place")
            button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)

    def _place(self, action: QAction) -> QToolButton:
        button = QToolButton()
        button.setText(action.text().replace(" ", "\n"))
        button.setToolTip(action.toolTip())
        button.setAccessibleName(action.text())
        button.setCheckable(True)
        button.clicked.connect(action.trigger)
        return button

    def _demo_button(self) -> QToolButton:
        """The tag that marks the demo on every page; it leads to one's own practice."""
        button = QToolButton()
        button.setText(self.tr("Demo"))
        button.setAccessibleName(self.tr("Demo: everything is invented. Open my own practice…"))
        button.setToolTip(button.accessibleName())
        button.setProperty("kind", "demo")
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        return button

    def _menu_button(self, actions: Mapping[str, QAction], appearance: Appearance) -> QToolButton:
        button = QToolButton()
        button.setText(self.tr("More"))
        button.setAccessibleName(self.tr("More: practice card, this practice, text size, colours"))
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(button)
        menu.addActions(
            [actions["unfinished"], actions["over-clients"], actions["card"], actions["practice"]]
        )
        menu.addSeparator()
        menu.addActions([actions["larger-text"], actions["smaller-text"]])
        menu.addMenu(self._schemes(menu, appearance))
        menu.addSeparator()
        menu.addActions([actions["keys"], actions["changes"], actions["quit"]])
        button.setMenu(menu)
        return button

    def _schemes(self, menu: QMenu, appearance: Appearance) -> QMenu:
        schemes, group = QMenu(self.tr("Light or dark"), menu), QActionGroup(menu)
        for scheme, text in (
            (Scheme.SYSTEM, self.tr("Follow system")),
            (Scheme.LIGHT, self.tr("Light")),
            (Scheme.DARK, self.tr("Dark")),
        ):
            action = schemes.addAction(text)
            action.setCheckable(True)
            action.setChecked(appearance.scheme is scheme)
            action.triggered.connect(lambda _=False, s=scheme: appearance.choose_scheme(s))
            group.addAction(action)
        return schemes

    def mark(self, place: str) -> None:
        """Mark the place that the window shows."""
        for name, button in self.places.items():
            button.setChecked(name == place)

    def apply_theme(self, theme: Theme) -> None:
        """Icons and widths for the look."""
        side = theme.unit * 6
        for name, drawn in self._icons.items():
            self.places[name].setIcon(icon(drawn, theme, side=side))
        self.menu_button.setIcon(icon("more", theme, side=side))
        lines = (line for button in self._buttons() for line in button.text().splitlines())
        widest = max(self.fontMetrics().horizontalAdvance(line) for line in lines)
        for button in self._buttons():
            button.setIconSize(QSize(side, side))
            button.setFixedWidth(max(theme.unit * 15, widest + theme.unit * 3))
        self.demo.setFixedWidth(self.menu_button.maximumWidth())

    def _buttons(self) -> tuple[QToolButton, ...]:
        return (*self.places.values(), self.menu_button)
