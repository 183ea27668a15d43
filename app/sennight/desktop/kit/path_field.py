"""A field for the path of a file or folder, which can be typed or looked for."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from sennight.desktop.kit.forms import MOST_IN_A_PATH
from sennight.desktop.kit.widgets import button
from sennight.practice.drafts import Json


class PathField(QWidget):
    """The path and, beside it, a button that looks for another with `look`."""

    def __init__(self, path: Path | None, look: Callable[[], Path | None], words: str) -> None:
        super().__init__()
        self._look = look
        self.text = QLineEdit("" if path is None else str(path))
        self.text.setMaxLength(MOST_IN_A_PATH)
        self.text.setCursorPosition(0)
        self.change = button(self.tr("Change…") if path else self.tr("Choose…"))
        self.change.setAccessibleName(words)
        self.change.clicked.connect(self._ask)
        self.setFocusProxy(self.text)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.text, 1)
        row.addWidget(self.change)

    def path(self) -> Path | None:
        """The path as typed; None where there is none."""
        typed = self.text.text().strip()
        return Path(typed).expanduser() if typed else None

    def draft_value(self) -> str:
        """The path as a draft keeps it."""
        return self.text.text()

    def put_draft_value(self, value: Json) -> None:
        """Show a path that a draft kept."""
        if isinstance(value, str):
            self.text.setText(value)

    def _ask(self) -> None:
        found = self._look()
        if found is not None:
            self.text.setText(str(found))
