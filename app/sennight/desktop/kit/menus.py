"""A button that opens a menu of actions."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QMenu, QPushButton, QWidget

from sennight.desktop.kit.action_spec import ActionSpec


def menu_button(
    text: str,
    specs: Sequence[ActionSpec],
    doing: Mapping[str, Callable[[], object]],
    owner: QWidget,
    *,
    kind: str = "",
) -> QPushButton:
    """A button with a menu; the keys work wherever `owner` is in view."""
    button = QPushButton(text)
    button.setAutoDefault(False)
    if kind:
        button.setProperty("kind", kind)
    menu = QMenu(button)
    for spec in specs:
        action = menu.addAction(spec.text)
        action.setObjectName(spec.id)
        action.setShortcuts([QKeySequence(key) for key in spec.keys])
        action.triggered.connect(lambda _on=False, name=spec.id: doing[name]())
        owner.addAction(action)
    button.setMenu(menu)
    return button
