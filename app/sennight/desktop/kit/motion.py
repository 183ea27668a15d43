"""Motion: what takes another place glides there, briefly, so that the eye can follow.

What is shown is there at once and can be used at once; only where it is drawn comes a moment
later. Nothing moves until `allow_motion` said that it may, which is after the first window is
drawn, and where the system does not ask for less.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import (
    QAbstractAnimation,
    QCoreApplication,
    QEasingCurve,
    QPoint,
    QPropertyAnimation,
    QVariantAnimation,
)
from PySide6.QtWidgets import QWidget

MOTION_MS = 150
"""So long a movement takes."""

SLIDE_LINES = 3
"""From so many lines of text aside a panel slides into its place."""

_ALLOWED = "may_move"


def allow_motion(*, is_allowed: bool) -> None:
    """Let things move in this program from now on, or not."""
    app = QCoreApplication.instance()
    if app is not None:
        app.setProperty(_ALLOWED, is_allowed)


def may_move() -> bool:
    """Whether things may move; not before it was said."""
    app = QCoreApplication.instance()
    return app is not None and bool(app.property(_ALLOWED))


class Glide(QVariantAnimation):
    """How far a movement is, from 0 to 1, which is while nothing moves too.

    `step` is called as it goes on.
    """

    def __init__(self, part: QWidget, step: Callable[[], object]) -> None:
        super().__init__(part)
        self._part = part
        self.setStartValue(0.0)
        self.setEndValue(1.0)
        self.setDuration(MOTION_MS)
        self.setEasingCurve(QEasingCurve.Type.OutCubic)
        self.valueChanged.connect(lambda _value: step())

    def begin(self) -> None:
        """Move from the beginning, if anything may and it is seen."""
        self.stop()
        if may_move() and self._part.isVisible():
            self.start()

    @property
    def part(self) -> float:
        """How much of the way lies behind."""
        moves = self.state() is QAbstractAnimation.State.Running
        return float(self.currentValue()) if moves else 1.0


def between(before: float, now: float, part: float) -> float:
    """The place between two, `part` of the way on."""
    return before + (now - before) * part


def slide_in(panel: QWidget) -> None:
    """Let a panel that was just put in its place come into it from the right."""
    if not may_move() or not panel.isVisible():
        return
    place = panel.pos()
    slide = QPropertyAnimation(panel, b"pos", panel)
    slide.setStartValue(place + QPoint(panel.fontMetrics().height() * SLIDE_LINES, 0))
    slide.setEndValue(place)
    slide.setDuration(MOTION_MS)
    slide.setEasingCurve(QEasingCurve.Type.OutCubic)
    slide.start(QAbstractAnimation.DeletionPolicy.DeleteWhenStopped)
