"""Work off the window's thread; its result comes as a signal."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QRunnable, Signal


class JobSignals(QObject):
    """Tells that a job is done: its number, and its result or its ValueError."""

    done = Signal(int, object)


class Job(QRunnable):
    """Something worked out on another thread; its result, or its ValueError, comes as a signal."""

    def __init__(self, number: int, work: Callable[[], object], signals: JobSignals) -> None:
        super().__init__()
        self.number, self.work, self.signals = number, work, signals

    def run(self) -> None:
        """Work it out."""
        try:
            result = self.work()
        except ValueError as error:
            result = error
        self.signals.done.emit(self.number, result)
