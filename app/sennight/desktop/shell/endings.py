"""Ends that nobody asked in the window for: a signal, or the end of the session.

What is typed is kept as a draft, and no question is asked.
"""

from __future__ import annotations

import os
import signal
from contextlib import suppress

from PySide6.QtCore import QObject, QSocketNotifier
from PySide6.QtWidgets import QApplication

from sennight.desktop.kit.drafts import all_keepers

ENDING = (signal.SIGTERM, signal.SIGINT, signal.SIGHUP) if os.name == "posix" else ()
"""The signals that ask a program to end. Windows ends a session otherwise, of which Qt tells."""


def keep_all_drafts() -> None:
    """Keep what is typed into every form, and mind the forms no more."""
    for keeper in all_keepers():
        keeper.stop()


class Endings(QObject):
    """Ends the program's event loops when a signal says so; `status` is then 128 and its number.

    Python runs a handler between any two of its steps, which may be in the middle of a save. So
    the handlers do nothing, and the number that Python writes into a pipe for each signal is read
    where the window reads all its events.
    """

    def __init__(self, app: QApplication) -> None:
        super().__init__()
        self._app = app
        self.status: int | None = None
        self._before = {number: signal.getsignal(number) for number in ENDING}
        self._reading, self._writing = os.pipe()
        for end in (self._reading, self._writing):
            os.set_blocking(end, False)
        self._notifier = QSocketNotifier(self._reading, QSocketNotifier.Type.Read)
        self._notifier.setEnabled(bool(ENDING))
        self._notifier.activated.connect(self._read)
        if ENDING:
            self._fd = signal.set_wakeup_fd(self._writing, warn_on_full_buffer=False)
        for number, handler in self._before.items():
            if handler is not signal.SIG_IGN:  # as `nohup` wants it
                signal.signal(number, lambda *_: None)
        app.commitDataRequest.connect(keep_all_drafts)

    def _read(self) -> None:
        with suppress(BlockingIOError):
            numbers = os.read(self._reading, 64)
            if any(number in ENDING for number in numbers):
                keep_all_drafts()
                self.status = 128 + numbers[0]
                self._app.exit(self.status)

    def run(self) -> int:
        """Run the program's events until it ends; its exit status.

        A signal may have come before, while something was asked before the window was there.
        """
        return self._app.exec() if self.status is None else self.status

    def close(self) -> None:
        """Leave signals to those that had them before."""
        self._notifier.setEnabled(False)
        self._app.commitDataRequest.disconnect(keep_all_drafts)
        if ENDING:
            signal.set_wakeup_fd(self._fd)
        for number, handler in self._before.items():
            signal.signal(number, handler)
        for end in (self._reading, self._writing):
            os.close(end)
