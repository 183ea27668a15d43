"""Starts the program on the desktop: `main(path)`."""

from __future__ import annotations

import sys
from contextlib import AbstractContextManager, ExitStack
from datetime import datetime
from itertools import chain
from pathlib import Path
from typing import assert_never

from PySide6.QtCore import QLocale, QTimer
from PySide6.QtWidgets import QApplication

from sennight.collecting import collecting_later, keep_what_is_there
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.endings import Endings
from sennight.desktop.shell.faults import Faults
from sennight.desktop.shell.first_start import (
    FirstAnswer,
    GoOn,
    LookAtDemo,
    OpenThis,
    ask_at_first_start,
)
from sennight.desktop.shell.keeping import Keeper
from sennight.desktop.shell.later import Later, module_steps
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.motion_wish import MotionWish
from sennight.desktop.shell.opening import Reopening, opened, restored
from sennight.desktop.shell.settings import (
    NAME,
    Settings,
    practice_path,
    settings_path,
    usual_path,
)
from sennight.practice.card import is_untouched
from sennight.practice.opening import OpenPractice


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
    endings = Endings(app)
    try:
        return _until_closed(endings, path, settings, appearance, kept=kept)
    finally:
        endings.close()


def _until_closed(
    endings: Endings,
    path: Path | None,
    settings: Settings,
    appearance: Appearance,
    *,
    kept: bool,
) -> int:
    """Show one practice after the other, until the window is closed for good."""
    known = settings.practice is not None and path in {None, settings.practice}
    wanted, message = path or practice_path(settings), ""
    with ExitStack() as demos:
        while True:
            practice = opened(wanted, known=known, second=settings.second_folder)
            if practice is None:
                return 1
            with practice:
                way = _first_way(practice, settings, kept=kept)
                if isinstance(way, GoOn):
                    status, reopening = _run(
                        endings, practice, appearance, settings, kept=kept, message=message
                    )
            match way:
                case OpenThis():
                    wanted, known, message = way.path, False, ""
                case LookAtDemo():
                    wanted, known, kept, message = demos.enter_context(_demo()), True, False, ""
                case GoOn() if reopening is None:
                    return status
                case GoOn():
                    kept = kept or reopening.path != wanted
                    known = not reopening.is_own or reopening.path == settings.practice
                    wanted, message = reopening.path, ""
                    if reopening.backup is not None:
                        message = restored(wanted, reopening.backup)
                case _:
                    assert_never(way)


def _demo() -> AbstractContextManager[Path]:
    """A demo practice that is thrown away when the program ends."""
    from sennight.practice.demo import throw_away_demo  # noqa: PLC0415 - few ever look at it

    return throw_away_demo(datetime.now().astimezone().date())


def _first_way(practice: OpenPractice, settings: Settings, *, kept: bool) -> FirstAnswer:
    """What a practice in which nothing is yet is to be; any other, and the demo, just goes on."""
    if kept and is_untouched(practice):
        return ask_at_first_start(practice, settings)
    return GoOn()


def _run(
    endings: Endings,
    practice: OpenPractice,
    appearance: Appearance,
    settings: Settings,
    *,
    kept: bool,
    message: str,
) -> tuple[int, Reopening | None]:
    """Show the window until it is closed, and keep the practice backed up."""
    if kept:
        settings.practice = practice.path
    frame = MainWindow(practice, appearance, settings)
    keeper = Keeper(practice, settings)
    keeper.status_message.connect(frame.say)
    keeper.standing.connect(frame.status.stand)
    frame.show()
    later = Later(
        frame,
        chain(
            module_steps(), (MotionWish(frame).read, frame.find_field.learn, keep_what_is_there)
        ),
    )
    later.start()
    QTimer.singleShot(0, frame, frame.offer_unfinished)
    frame.say(message)
    if not kept:
        status = endings.run()
        frame.save_now()
        return status, frame.reopening
    keeper.start()
    status = endings.run()
    frame.save_now()
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
