"""Acts in the dialog that a test is about to bring up."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication


def in_next_dialog(act: Callable[[Any], object]) -> None:
    """Call `act` with the modal dialog that comes up next; it has to close that dialog."""

    def start() -> None:
        dialog = QApplication.activeModalWidget()
        assert dialog is not None
        act(dialog)

    QTimer.singleShot(0, start)
