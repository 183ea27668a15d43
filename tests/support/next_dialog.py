"""Acts in the dialog that a test is about to bring up."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

EVERY, TRIES = 10, 500
"""Looks for the dialog every so many milliseconds, and so many times at most."""


def in_next_dialog(act: Callable[[Any], object]) -> None:
    """Call `act` with the modal dialog that comes up next; it has to close that dialog."""
    now = QApplication.activeModalWidget()

    def theme(tries_left: int) -> None:
        dialog = QApplication.activeModalWidget()
        if dialog is not None and dialog is not now:
            act(dialog)
            return
        assert tries_left, "no dialog came up"
        QTimer.singleShot(EVERY, lambda: theme(tries_left - 1))

    QTimer.singleShot(0, lambda: theme(TRIES))
