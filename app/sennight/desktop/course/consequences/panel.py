"""A panel of what follows that says it in one line, and more beneath where it is opened."""

from __future__ import annotations

from collections.abc import Callable, Sequence

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

    _later: Callable[[], Sequence[str]] | None = None

    def say_later(self, verdict: str, lines: Callable[[], Sequence[str]]) -> None:
        """Show what it comes to; the lines are worked out once they are to be seen."""
        self.head.say(verdict)
        self._later = lines
        if self.is_open:
            self.fill()

    def fill(self) -> None:
        """Work out the lines that are still to be said."""
        lines, self._later = self._later, None
        if lines is not None:
            self._show_lines(lines())

    def set_open(self, *, is_open: bool) -> None:
        """Show the body, with its lines as they are now, or the heading alone."""
        if is_open:
            self.fill()
        super().set_open(is_open=is_open)

    def say(
        self,
        verdict: str,
        *lines: str,
        tone: Callable[[Theme], QColor] | None = None,
        shorter: tuple[str, ...] = (),
    ) -> None:
        """Show what it comes to, where room is short in fewer words, and what belongs to it."""
        self.head.say(verdict, tone, shorter=shorter)
        self._later = None
        self._show_lines(lines)

    def _show_lines(self, lines: Sequence[str]) -> None:
        self.lines_label.setText("\n".join(lines))
        self.lines_label.setVisible(bool(lines))
