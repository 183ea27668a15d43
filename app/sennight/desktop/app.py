"""Starts the program on the desktop: `main(path)`."""

from __future__ import annotations

import sys
import traceback
from collections.abc import Callable
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QLocale
from PySide6.QtWidgets import QApplication

from sennight.desktop.kit.dialogs import message_dialog
from sennight.desktop.kit.translating import translate
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.card_dialog import ask_for_card
from sennight.desktop.shell.keeping import Keeper
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.opening import Reopening, opened, restored
from sennight.desktop.shell.settings import (
    NAME,
    Settings,
    practice_path,
    settings_path,
)
from sennight.practice.card import practice_card
from sennight.practice.opening import (
    OpenPractice,
)

Hook = Callable[[type[BaseException], BaseException, TracebackType | None], None]


def main(path: Path | None = None, *, kept: bool = True) -> int:
    """Open a practice file, the last or usual one where none is named, until it is closed.

    `kept` is off for a practice that is thrown away: it is not remembered and not backed up.
    Returns the exit status: 0, or 1 where no file could be opened.
    """
    app = application()
    settings = Settings(settings_path())
    appearance = Appearance(app, settings)
    sys.excepthook = failure_hook(sys.excepthook)
    known = settings.practice is not None and path in {None, settings.practice}
    known = settings.practice is not None and path in {None, settings.practice}
    wanted, said = path or practice_path(settings), ""
    while True:
        practice = opened(wanted, known=known, second=settings.second_folder)
        if practice is None:
            return 1
        with practice:
            status, reopening = _run(app, practice, appearance, settings, kept=kept, said=said)
        if reopening is None:
            return status
        wanted, known, said = reopening.path, True, ""
        if reopening.backup is not None:
            said = restored(wanted, reopening.backup)


def _run(
    app: QApplication,
    practice: OpenPractice,
    appearance: Appearance,
    settings: Settings,
    *,
    kept: bool,
    said: str,
) -> tuple[int, Reopening | None]:
    """Show the window until it is closed, and keep the practice backed up."""
    if kept:
        settings.practice = practice.path
    if not practice_card(practice).name:
        ask_for_card(None, practice)
    frame = MainWindow(practice, appearance, settings)
    keeper = Keeper(practice, settings)
    keeper.said.connect(frame.say)
    keeper.standing.connect(frame.status.stand)
    frame.show()
    frame.say(said)
    if not kept:
        return app.exec(), frame.reopening
    keeper.start()
    status = app.exec()
    trouble = keeper.close()
    if trouble:
        print(trouble, file=sys.stderr)
    return status, frame.reopening


def application() -> QApplication:
    """The QApplication, named, so that files have their folders; texts are in English."""
    QLocale.setDefault(QLocale(QLocale.Language.English, QLocale.Country.UnitedKingdom))
    there = QApplication.instance()
    app = there if isinstance(there, QApplication) else QApplication(sys.argv[:1])
    app.setApplicationName(NAME)
    app.setApplicationDisplayName("Sennight")
    return app


def failure_hook(before: Hook) -> Hook:
    """A hook for errors that nothing caught: told without anything about a client.

    The error's own message may hold what was typed, so only its kind and place are shown. Stops
    the program by the former hook where the user breaks it off from the keyboard.
    """

    def hook(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if not issubclass(kind, Exception):
            before(kind, error, trace)
            return
        message_dialog(
            QApplication.activeWindow(),
            translate("Failure", "Something went wrong in the program"),
            translate(
                "Failure",
                "What was saved before is kept. The last step may not have been done; look, and "
                "repeat it if it is missing. For the developers: {place}.",
            ).format(place=failure_place(kind, trace)),
        ).exec()

    return hook


def failure_place(kind: type[BaseException], trace: TracebackType | None) -> str:
    """The kind of an error and where it arose, without its message: `KeyError in plan.py, 42`."""
    steps = traceback.extract_tb(trace)
    if not steps:
        return kind.__name__
    return f"{kind.__name__} in {Path(steps[-1].filename).name}, {steps[-1].lineno}"
