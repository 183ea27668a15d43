"""Work off the window's thread; its result comes as a signal."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QRunnable, Signal

from sennight.desktop.kit.translating import translate


class BrokenOffError(ValueError):
    """What comes in place of a result where the program itself failed; that is told by itself."""

    def __init__(self) -> None:
        super().__init__(translate("Background", "Something went wrong in the program."))


class JobSignals(QObject):
    """Tells that a job is done: its number, and its result or its ValueError."""

    done = Signal(int, object)
    failed = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.failed.connect(self._raise)

    def _raise(self, error: BaseException) -> None:
        """Raise a job's error in this object's thread, as if it had happened there."""
        raise error


class Job(QRunnable):
    """Something worked out on another thread; its result, or its ValueError, comes as a signal.

    Any other error is a fault of the program. It is raised in the window's thread, where it is
    traced and told, since a dialog cannot be shown from here.
    """

    def __init__(self, number: int, work: Callable[[], object], signals: JobSignals) -> None:
        super().__init__()
        self.number, self.work, self.signals = number, work, signals

    def run(self) -> None:
        """Work it out."""
        try:
            result = self.work()
        except ValueError as error:
            result = error
        except Exception as error:  # noqa: BLE001 - handed on, else whoever waits would wait for ever
            self.signals.failed.emit(error)
            result = BrokenOffError()
        self.signals.done.emit(self.number, result)
