"""Windows that a test leaves behind."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QEvent


def reap() -> None:
    """Delete the windows that were to be deleted later.

    Qt does so where an event loop goes round, and between tests none does: thousands would be
    left in the end, each of them to be styled anew wherever the look changes.
    """
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
