"""What happens to an error that nothing caught: traced, told, and the window goes on."""

from __future__ import annotations

import sys
import threading
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from types import TracebackType

from PySide6.QtWidgets import QApplication

from sennight.desktop.kit.short_dialogs import message_dialog
from sennight.desktop.kit.translating import translate
from sennight.practice.faults import fault_trace, keep_fault

Hook = Callable[[type[BaseException], BaseException, TracebackType | None], None]


class Faults:
    """Traces errors to a file in `folder` and to the terminal, and tells of them with *Copy*.

    A trace holds no message and no value, so nothing about a client; with `debug` the error is
    printed to the terminal as Python does, with its message. What breaks the program off from
    the keyboard is left to the hook that was there.
    """

    def __init__(self, folder: Path, *, debug: bool = False) -> None:
        self._folder, self._debug = folder, debug
        self._before: Hook = sys.excepthook
        self._telling = False

    def watch(self) -> None:
        """Be told from now on, of errors in other threads too."""
        sys.excepthook = self.hook
        threading.excepthook = self._in_thread

    def hook(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        """Trace an error and tell of it."""
        if not issubclass(kind, Exception):
            self._before(kind, error, trace)
            return
        text, path = self._traced(kind, error, trace)
        if threading.current_thread() is not threading.main_thread():
            return  # a dialog belongs to the window's own thread
        if not self._telling:  # one dialog at a time: a picture that fails does so at each frame
            self._telling = True
            try:
                self._tell(text, path)
            finally:
                self._telling = False

    def _in_thread(self, given: threading.ExceptHookArgs) -> None:
        """Trace an error of another thread; a dialog belongs to the window's own."""
        if given.exc_value is not None and issubclass(given.exc_type, Exception):
            self._traced(given.exc_type, given.exc_value, given.exc_traceback)

    def _traced(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> tuple[str, Path | None]:
        text = fault_trace(error.with_traceback(trace), now=datetime.now().astimezone())
        if self._debug:
            self._before(kind, error, trace)
        elif sys.stderr is not None:  # a windowed program on Windows has none
            print(text, file=sys.stderr, end="")
        return text, keep_fault(self._folder, text)

    def _tell(self, text: str, path: Path | None) -> None:
        message = translate(
            "Failure",
            "What was saved before is kept. The last step may not have been done: check, and "
            "repeat it if it is missing. The details below can be copied for support; they "
            "contain nothing that was typed.",
        )
        if path is not None:
            kept = translate("Failure", "They are also saved in {file}.")
            message = f"{message} {kept.format(file=path)}"
        message_dialog(
            QApplication.activeWindow(),
            translate("Failure", "Something went wrong in the program"),
            message,
            to_copy=text,
        ).exec()
