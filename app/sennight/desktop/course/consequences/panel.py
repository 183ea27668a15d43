"""A panel of what follows that says it in one line, and more beneath where it is opened."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtGui import QColor

from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.parts.fold import Fold
from sennight.practice.course_reading import CourseReading


class Panel(Fold):
    """A heading that says what matters, and a few quiet lines."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(self.title(), theme)
        self.lines_label = text_label("", Role.QUIET, wrap=True)
        self.room.addWidget(self.lines_label)

    def title(self) -> str:
        """The panel's heading."""
        raise NotImplementedError

    def refresh(self, reading: CourseReading) -> None:
        """Say what follows now."""
        raise NotImplementedError

    def say(
        self, verdict: str, *lines: str, tone: Callable[[Theme], QColor] | None = None
    ) -> None:
        """Show what it comes to, and what belongs to it."""
        self.head.say(verdict, tone)
        self.lines_label.setText("\n".join(lines))
        self.lines_label.setVisible(bool(lines))
