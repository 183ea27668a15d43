"""A first course, through the real window, with the keyboard and three clicks.

Wednesday 27 January: a new client, a course from a protocol, a line changed, undone and done
again, the take-home sheet and the reminders written. Wednesday 10 February: the diary keyed in.
A day later: everything is still there.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sennight.desktop.clients.client_dialog import ClientDialog
from sennight.desktop.clients.start_dialog import StartDialog
from sennight.desktop.course.diary.diary import DiaryDialog
from sennight.desktop.course.giving.dialog import GiveDialog
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.opening import opened
from sennight.desktop.shell.settings import Scheme, Settings
from sennight.domain.courses.clients import Fact
from sennight.practice.clients import list_clients
from sennight.practice.courses import list_courses
from sennight.practice.diaries import diary
from sennight.practice.opening import OpenPractice, open_practice
from sennight.practice.protocols import add_protocol
from support.hands import Hands
from support.pages import clients_of, controller_of
from support.sample_practice import DROPS, EVENINGS, JOINTS, TEA

Key = Qt.Key
CTRL, ALT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier
FIRST_VISIT, SECOND_VISIT = date(2027, 1, 27), date(2027, 2, 10)
MOST_ACTS = 36
"""Keys beside those of the content itself, and clicks, over both visits."""


class Practice:
    """Opens the program's window on one file, again and again, as a practitioner does."""

    def __init__(self, path: Path, settings: Settings, appearance: Appearance) -> None:
        self.path, self.settings, self.appearance = path, settings, appearance

    def visit(self, today: date, do: Callable[[MainWindow], object]) -> None:
        """Open the window on a day, do something, and close it."""
        practice = opened(self.path)
        assert practice is not None
        with practice:
            frame = MainWindow(practice, self.appearance, self.settings, today=lambda: today)
            frame.show()
            frame.activateWindow()
            QApplication.processEvents()
            do(frame)
            frame.close()
            frame.deleteLater()
            QCoreApplication.sendPostedEvents(frame, QEvent.Type.DeferredDelete)


@pytest.fixture
def practice(tmp_path: Path, qapp: QApplication) -> Practice:
    path = tmp_path / "practice.sennight"
    with open_practice(path) as file:
        add_protocol(file, EVENINGS, remedies=(DROPS,))
        add_protocol(file, JOINTS, remedies=(TEA, DROPS))
    settings = Settings(tmp_path / "settings.ini")
    settings.scheme = Scheme.LIGHT
    return Practice(path, settings, Appearance(qapp, settings))


def test_first_course(practice: Practice, tmp_path: Path, qtbot: QtBot) -> None:
    hands = Hands()
    given = tmp_path / "given"
    given.mkdir()
    practice.visit(FIRST_VISIT, lambda frame: first_visit(frame, hands, given, qtbot))
    practice.visit(SECOND_VISIT, lambda frame: second_visit(frame, hands))
    practice.visit(date(2027, 2, 11), everything_is_there)
    assert hands.clicked == 3
    assert hands.pressed + hands.clicked <= MOST_ACTS, hands.pressed


def first_visit(frame: MainWindow, hands: Hands, given: Path, qtbot: QtBot) -> None:
    make_client(frame, hands)
    start_course(frame, hands, qtbot)
    change_line_undo_and_redo(frame, hands)
    give_to_client(hands, given)


def make_client(frame: MainWindow, hands: Hands) -> None:
    def fill(dialog: ClientDialog) -> None:
        hands.type("Ishbel Marr")
        hands.press(Key.Key_Tab)
        hands.type("1.5.1970")
        hands.click(dialog.conditions.entry)
        hands.type("peptic ulcer")
        hands.press(Key.Key_Return)
        hands.press(Key.Key_Return, CTRL)

    hands.press_for_dialog(fill, Key.Key_N, CTRL)
    assert clients_of(frame).folder.title.text() == "Ishbel Marr"
    assert clients_of(frame).folder.strip.conditions.text() == "Peptic ulcer"
    assert clients_of(frame).folder.strip.allergies.text() == "not asked"


def start_course(frame: MainWindow, hands: Hands, qtbot: QtBot) -> None:
    def choose(dialog: StartDialog) -> None:
        hands.press(Key.Key_Down)
        assert dialog.sentence.text() == (
            "“Winter joints” starts on Monday 1 February 2027 and runs to Sunday 30 January 2028."
        )
        hands.press(Key.Key_Return)

    qtbot.waitUntil(clients_of(frame).folder.start.hasFocus)
    hands.press_for_dialog(choose, Key.Key_Space)
    assert frame.stack.currentWidget() is clients_of(frame).course
    assert controller_of(frame).title.startswith("Ishbel Marr")


def change_line_undo_and_redo(frame: MainWindow, hands: Hands) -> None:
    def take() -> str:
        frame.save_now()  # it is drawn first
        (entry,) = list_courses(frame._practice)
        return str(entry.course.protocol.phases[0].lines[1].directions)

    hands.press(Key.Key_4)
    hands.press(Key.Key_Down)
    hands.press(Key.Key_F2)
    hands.type("3 mL tds pc")
    hands.press(Key.Key_Return)
    assert take() == "3 mL tds pc"
    hands.press(Key.Key_Z, CTRL)
    assert take() == "2 mL bd pc"
    hands.press(Key.Key_Y, CTRL)
    assert take() == "3 mL tds pc"


def give_to_client(hands: Hands, given: Path) -> None:
    def write(dialog: GiveDialog) -> None:
        hands.click(dialog.folder)
        hands.press(Key.Key_A, CTRL)
        hands.type(str(given))
        hands.press(Key.Key_Return)
        assert {path.suffix for path in dialog.paths} == {".pdf", ".json", ".ics"}
        hands.press(Key.Key_Escape)

    hands.press_for_dialog(write, Key.Key_P, CTRL)
    (sheet,) = given.glob("*handout*.pdf")
    (reminders,) = given.glob("*.ics")
    assert sheet.read_bytes().startswith(b"%PDF-")
    assert reminders.read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")
    assert "Ishbel" not in sheet.name + reminders.name


def second_visit(frame: MainWindow, hands: Hands) -> None:
    hands.press(Key.Key_F, CTRL)
    hands.type("ishbel")
    hands.press(Key.Key_Down)
    hands.press(Key.Key_Return)
    assert frame.stack.currentWidget() is clients_of(frame).course

    def key_in(dialog: DiaryDialog) -> None:
        assert dialog.grid.hasFocus()
        hands.press(Key.Key_W)
        hands.press(Key.Key_D)
        hands.press(Key.Key_Space, times=3)
        assert "of due doses taken" in dialog.figure.text()
        hands.click(dialog.main_button)

    hands.press_for_dialog(key_in, Key.Key_E, CTRL)
    (course,) = list_courses(frame._practice)
    saved = diary(frame._practice, course.id)
    assert {(one.day, one.remedy, one.doses) for one in saved} >= {
        (date(2027, 2, 1), "tea", 3),
        (date(2027, 2, 7), "drops", 3),
        (date(2027, 2, 8), "tea", 3),
        (date(2027, 2, 9), "tea", 0),
    }
    # Taken, by hand: tea 8 days × 3 and a ninth missed, drops 8 days × 3 = 48 of the 51 due
    # on the days with an entry for that remedy.
    assert adherence_shown(frame) == "94 %"


def adherence_shown(frame: MainWindow) -> str:
    """The figure in the adherence panel."""
    return controller_of(frame).view.consequences.adherence.head.verdict


def everything_is_there(frame: MainWindow) -> None:
    practice: OpenPractice = frame._practice
    (client,) = list_clients(practice)
    assert client.client.name == "Ishbel Marr"
    assert client.client.born == date(1970, 5, 1)
    assert client.client.conditions == (Fact("peptic-ulcer"),)
    (course,) = list_courses(practice, client.id)
    assert str(course.course.protocol.phases[0].lines[1].directions) == "3 mL tds pc"
    hands = Hands()
    hands.press(Key.Key_2, CTRL)
    hands.press(Key.Key_Return)
    assert clients_of(frame).folder.title.text() == "Ishbel Marr"
    hands.press(Key.Key_Return)
    assert frame.stack.currentWidget() is clients_of(frame).course
    assert adherence_shown(frame) == "94 %"
