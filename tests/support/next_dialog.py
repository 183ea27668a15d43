"""Acts in the dialog that a test is about to bring up."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QWidget

from sennight.desktop.kit.dialogs import FormDialog

EVERY, TRIES = 10, 500
"""Looks for the dialog every so many milliseconds, and so many times at most."""


def in_next_dialog(act: Callable[[Any], object]) -> list[bool]:
    """Call `act` with the dialog that comes up next; it has to close that dialog.

    That is a modal one, or one that is part of a page, which holds nothing up: what is returned
    has a value once it was acted in.
    """
    now, done = _in_front(), list[bool]()

    def theme(tries_left: int) -> None:
        dialog = _in_front()
        if dialog is not None and dialog is not now:
            act(dialog)
            done.append(True)
            return
        assert tries_left, "no dialog came up"
        QTimer.singleShot(EVERY, lambda: theme(tries_left - 1))

    QTimer.singleShot(0, lambda: theme(TRIES))
    return done


def _in_front() -> QWidget | None:
    """The modal dialog, else the one that is part of a page in view."""
    parts = (
        dialog
        for window in QApplication.topLevelWidgets()
        for dialog in window.findChildren(FormDialog)
        if dialog.is_part and dialog.isVisible()
    )
    return QApplication.activeModalWidget() or next(parts, None)
