"""Windows that a test leaves behind."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtWidgets import QApplication


def reap() -> None:
    """Delete every window and page that is left, and what was to be deleted later.

    Qt does so where an event loop goes round, and between tests none does: thousands would be
    left in the end, each of them to be styled anew wherever the look changes, and their timers
    would go off in another test.
    """
    for window in QApplication.topLevelWidgets():
        if window.parent() is None and window.windowType() is not Qt.WindowType.Popup:
            window.hide()
            window.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
