"""Starts the program on the desktop: `main(path)`."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QLocale, QTimer
from PySide6.QtWidgets import QApplication, QFileDialog

from sennight.collecting import collecting_later, keep_what_is_there
from sennight.desktop.kit.dialogs import choose
from sennight.desktop.kit.translating import translate
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.card_dialog import ask_for_card
from sennight.desktop.shell.faults import Faults
from sennight.desktop.shell.keeping import Keeper
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import (
    NAME,
    Settings,
    practice_path,
    settings_path,
    usual_path,
)
from sennight.practice.card import practice_card
from sennight.practice.opening import (
    Beginning,
    OpenPractice,
    PracticeFileError,
    open_practice,
    private_folder,
)


def main(path: Path | None = None, *, kept: bool = True, debug: bool = False) -> int:
    """Open a practice file, the last or usual one where none is named, until it is closed.

    `kept` is off for a practice that is thrown away: it is not remembered and not backed up.
    With `debug`, an error that nothing caught is printed whole, with what it says.
    Returns the exit status: 0, or 1 where no file could be opened.
    """
    with collecting_later():
        return _main(path, kept=kept, debug=debug)


def _main(path: Path | None, *, kept: bool, debug: bool) -> int:
    """The same; the collector is on again when the window is drawn."""
    app = application()
    settings = Settings(settings_path())
    appearance = Appearance(app, settings)
    Faults(usual_path().parent, debug=debug).watch()
    known = settings.practice is not None and path in {None, settings.practice}
    practice = opened(path or practice_path(settings), known=known)
    if practice is None:
        return 1
    with practice:
        if kept:
            settings.practice = practice.path
        if not practice_card(practice).name:
            ask_for_card(None, practice)
        return _run(app, practice, MainWindow(practice, appearance, settings), settings, kept=kept)


def _run(
    app: QApplication, practice: OpenPractice, frame: MainWindow, settings: Settings, *, kept: bool
) -> int:
    """Show the window until it is closed, and keep the practice backed up."""
    keeper = Keeper(practice, settings)
    keeper.said.connect(frame.say)
    keeper.standing.connect(frame.status.stand)
    frame.show()
    QTimer.singleShot(0, frame, keep_what_is_there)
    if not kept:
        return app.exec()
    keeper.start()
    status = app.exec()
    trouble = keeper.close()
    if trouble:
        print(trouble, file=sys.stderr)
    return status


def application() -> QApplication:
    """The QApplication, named, so that files have their folders; texts are in English."""
    QLocale.setDefault(QLocale(QLocale.Language.English, QLocale.Country.UnitedKingdom))
    there = QApplication.instance()
    app = there if isinstance(there, QApplication) else QApplication(sys.argv[:1])
    app.setApplicationName(NAME)
    app.setApplicationDisplayName("Sennight")
    return app


def opened(path: Path, *, known: bool = False) -> OpenPractice | None:
    """The practice file, or another one that the user chooses where it cannot be opened.

    Where it is `known`, it was opened before, so that none is begun in its place.
    """
    beginning = Beginning.NEVER if known else Beginning.WHERE_NOTHING_WAS
    while True:
        try:
            if path == usual_path():
                private_folder(path.parent)
            return open_practice(path, beginning=beginning)
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
