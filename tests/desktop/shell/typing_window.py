"""The program as a process of its own, in which words are typed that are not saved.

    python typing_window.py FILE

It writes a consultation, goes on at once and types into the note of a formula, then into the
dialog for a new client, then into the one for a past reaction that this opens; says so, and
waits to be ended.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from sennight.desktop import app as desktop
from sennight.desktop.clients.client_dialog import ClientDialog
from sennight.desktop.clients.past_reaction_dialog import PastReactionDialog
from sennight.desktop.kit.navigation import Route, RouteKind
from sennight.desktop.remedies.section import RemediesSection
from sennight.desktop.shell.clients_section import ClientsSection
from sennight.desktop.shell.main_window import MainWindow
from sennight.practice.clients import list_client_titles

NOTE, NAME, WHAT = "dry the ginger well", "Una Example", "a rash at the wrist"
SAID = "down the stairs without the rail"


def later(act: Callable[[], object]) -> None:
    """Do something once what comes up now is there."""
    QTimer.singleShot(100, act)


def in_window() -> None:
    windows = QApplication.topLevelWidgets()
    frame = next(window for window in windows if isinstance(window, MainWindow))
    section = frame.section(ClientsSection)
    client = list_client_titles(section.around.practice)[0]
    frame.go(Route(RouteKind.FOLDER, client.id))
    folder = section.folder
    folder.write()
    QTest.keyClicks(folder.story.writer.fields.free, SAID)
    frame.go(Route(RouteKind.REMEDY, "tea"))
    QTest.keyClicks(frame.section(RemediesSection).remedy.note, NOTE)
    later(in_client)
    section.new()


def in_client() -> None:
    dialog = QApplication.activeModalWidget()
    assert isinstance(dialog, ClientDialog)
    QTest.keyClicks(dialog.name, NAME)
    later(in_reaction)
    dialog.reactions.ask()


def in_reaction() -> None:
    dialog = QApplication.activeModalWidget()
    assert isinstance(dialog, PastReactionDialog)
    QTest.keyClicks(dialog.what, WHAT)
    print("typed", flush=True)


if __name__ == "__main__":
    desktop.application()
    later(in_window)
    sys.exit(desktop.main(Path(sys.argv[1]), kept=False))
