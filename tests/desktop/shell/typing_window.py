"""The program as a process of its own, in which words are typed that are not saved.

    python typing_window.py FILE

It writes a consultation, goes on at once and types into the note and a cell of a formula, then
into a cell of a course's lines, whose field stays open; then into the dialog for a new client,
and into the one for a past reaction that this opens; says so, and waits to be ended.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QTableView

from sennight.desktop import app as desktop
from sennight.desktop.clients.client_dialog import ClientDialog
from sennight.desktop.clients.past_reaction_dialog import PastReactionDialog
from sennight.desktop.course.lines.line_cells import Column
from sennight.desktop.kit.navigation import Route, RouteKind
from sennight.desktop.remedies.section import RemediesSection
from sennight.desktop.shell.clients_section import ClientsSection
from sennight.desktop.shell.main_window import MainWindow
from sennight.practice.clients import list_client_titles
from sennight.practice.courses import list_course_titles

NOTE, NAME, WHAT = "dry the ginger well", "Una Example", "a rash at the wrist"
SAID = "down the stairs without the rail"
PARTS, TAKE = "about 3", "2 cups b"


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
    remedy = frame.section(RemediesSection).remedy
    QTest.keyClicks(remedy.note, NOTE)
    type_into(remedy.table, 0, 1, PARTS)
    frame.go(Route(RouteKind.COURSE, list_course_titles(section.around.practice)[0].id))
    assert section.course.controller is not None
    type_into(section.course.controller.view.lines.table, 0, int(Column.TAKE), TAKE)
    later(in_client)
    section.new()


def type_into(table: QTableView, row: int, column: int, text: str) -> None:
    """Type a text over what a cell holds; its field stays open."""
    index = table.model().index(row, column)
    table.setFocus()
    table.setCurrentIndex(index)
    table.edit(index)
    field = table.indexWidget(index)
    assert isinstance(field, QLineEdit)
    field.selectAll()
    QTest.keyClicks(field, text)


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
