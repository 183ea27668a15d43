"""A panel of what follows: a heading, a figure, and quiet lines."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import text_label
from sennight.practice.course_reading import CourseReading


class Panel(QWidget):
    """A heading, a figure that matters, and a few quiet lines."""

    def __init__(self) -> None:
        super().__init__()
        self._figure = text_label("", Role.TITLE)
        self._unit = text_label("", wrap=True)
        self._lines = text_label("", Role.QUIET, wrap=True)
        self.room = QVBoxLayout(self)
        self.room.setContentsMargins(0, 0, 0, 0)
        self.room.setSpacing(2)
        self.room.addWidget(text_label(self.title(), Role.HEADING))
        for part in (self._figure, self._unit, self._lines):
            self.room.addWidget(part)

    def title(self) -> str:
        """The panel's heading."""
        raise NotImplementedError

    def refresh(self, reading: CourseReading) -> None:
        """Say what follows now."""
        raise NotImplementedError

    def say(self, figure: str, unit: str, *lines: str) -> None:
        """Show a figure with what it counts, and what belongs to it."""
        self._figure.setText(figure)
        self._unit.setText(unit)
        self._lines.setText("\n".join(lines))
        self._figure.setVisible(bool(figure))
        self._unit.setVisible(bool(unit))
        self._lines.setVisible(bool(lines))
