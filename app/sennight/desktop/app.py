"""Starts the program on the desktop: `main(path)`."""

from __future__ import annotations

import sys
import traceback
from collections.abc import Callable
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QLocale, QStandardPaths
from PySide6.QtWidgets import QApplication, QFileDialog

from sennight.desktop.kit.dialogs import choose, message_dialog
from sennight.desktop.kit.translating import translate
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.card_dialog import ask_for_card
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Settings, settings_path
from sennight.practice.card import practice_card
from sennight.practice.opening import OpenPractice, PracticeFileError, open_practice

Hook = Callable[[type[BaseException], BaseException, TracebackType | None], None]


def main(path: Path | None = None) -> int:
    """Open a practice file, the usual one where none is named, and run until it is closed.

    Returns the exit status: 0, or 1 where no file could be opened.
    """
    app = application()
    settings = Settings(settings_path())
    appearance = Appearance(app, settings)
    sys.excepthook = failure_hook(sys.excepthook)
    practice = opened(path or usual_path())
    if practice is None:
        return 1
    with practice:
        if not practice_card(practice).name:
            ask_for_card(None, practice)
        frame = MainWindow(practice, appearance, settings)
        frame.show()
        return app.exec()


def application() -> QApplication:
    """The QApplication, named, so that files have their folders; texts are in English."""
    QLocale.setDefault(QLocale(QLocale.Language.English, QLocale.Country.UnitedKingdom))
    there = QApplication.instance()
    app = there if isinstance(there, QApplication) else QApplication(sys.argv[:1])
    app.setApplicationName("sennight")
    app.setApplicationDisplayName("Sennight")
    return app


def usual_path() -> Path:
    """The practice file in the user's data folder, which is made where it is missing."""
    kind = QStandardPaths.StandardLocation.AppDataLocation
    folder = Path(QStandardPaths.writableLocation(kind))
    folder.mkdir(parents=True, exist_ok=True)
    return folder / "practice.sennight"


def opened(path: Path) -> OpenPractice | None:
    """The practice file, or another one that the user chooses where it cannot be opened."""
    while True:
        try:
            return open_practice(path)
        except PracticeFileError as error:
            another = _another_file(str(error), path)
        if another is None:
            return None
        path = another


def _another_file(message: str, path: Path) -> Path | None:
    """Tell why a file cannot be opened; the one to try instead, or None to leave."""
    wanted = choose(
        None,
        translate("Opening", "The practice cannot be opened"),
        message,
        do=translate("Opening", "Open another file"),
        stay=translate("Opening", "Leave"),
    )
    if not wanted:
        return None
    name, _ = QFileDialog.getOpenFileName(
        None, translate("Opening", "Open a practice"), str(path.parent)
    )
    return Path(name) if name else None


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
