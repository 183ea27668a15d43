"""A twelve-week joint course in a consultation: from opening the client to the files written.

On the demo practice, by the keyboard alone, every act counted: once from a protocol of the
shelf, once from nothing, with its remedies, a second phase and the actions wanted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtWidgets import QApplication, QListView
from pytestqt.qtbot import QtBot

from sennight.desktop.clients.start_dialog import StartDialog
from sennight.desktop.course.consequences.aims import AimsDialog
from sennight.desktop.course.giving import dialog as give_dialog
from sennight.desktop.course.giving.dialog import GiveDialog
from sennight.desktop.course.lines.remedy_field import RemedyField
from sennight.desktop.parts.directions_edit import DirectionsEdit
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Scheme, Settings
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course
from sennight.domain.dates import CalendarUnit, Length
from sennight.practice.clients import add_client
from sennight.practice.courses import list_courses
from sennight.practice.demo import build_demo
from sennight.practice.opening import OpenPractice, open_practice
from support.hands import Hands
from support.pages import clients_of, controller_of

Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier
MATERIA_MEDICA = CTRL | Qt.KeyboardModifier.ShiftModifier
TODAY = date(2027, 3, 3)
NAME = "Tamsin Orrell"


@pytest.fixture
def practice(tmp_path: Path) -> Iterator[OpenPractice]:
    """The demo, and a new client in it who has no course."""
    path = tmp_path / "demo.sennight"
    build_demo(path, TODAY)
    with open_practice(path) as opened:
        add_client(opened, Client(NAME, date(1966, 2, 9)))
        yield opened


@pytest.fixture
def frame(
    practice: OpenPractice, tmp_path: Path, qapp: QApplication, qtbot: QtBot
) -> Iterator[MainWindow]:
    settings = Settings(tmp_path / "settings.ini")
    settings.scheme = Scheme.LIGHT
    made = MainWindow(practice, Appearance(qapp, settings), settings, today=lambda: TODAY)
    made.resize(1280, 800)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield made
    made.close()
    made.deleteLater()
    QCoreApplication.sendPostedEvents(made, QEvent.Type.DeferredDelete)


@pytest.fixture
def given(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder that the dialog offers, in place of the one for documents."""
    offered = tmp_path / "given"
    monkeypatch.setattr(give_dialog, "documents_folder", lambda: offered)
    return offered


def open_client(hands: Hands, frame: MainWindow, qtbot: QtBot) -> None:
    hands.press(Key.Key_F, CTRL)
    hands.type("tamsin")
    hands.press(Key.Key_Return)
    assert clients_of(frame).folder.title.text() == NAME
    qtbot.waitUntil(clients_of(frame).folder.start.hasFocus)


def give(hands: Hands, given: Path) -> None:
    def write(dialog: GiveDialog) -> None:
        hands.press(Key.Key_Return)
        assert {path.suffix for path in dialog.paths} == {".pdf", ".json", ".ics"}
        dialog.reject()

    hands.press_for_dialog(write, Key.Key_P, CTRL)
    assert {path.suffix for path in given.iterdir()} == {".pdf", ".json", ".ics"}


def course(practice: OpenPractice) -> Course:
    (found,) = (one.course for one in list_courses(practice) if one.course.client.name == NAME)
    return found


def test_from_a_protocol_of_the_shelf(
    practice: OpenPractice, frame: MainWindow, given: Path, qtbot: QtBot
) -> None:
    hands = Hands()
    open_client(hands, frame, qtbot)

    def choose(dialog: StartDialog) -> None:
        hands.press(Key.Key_Down, times=3)
        assert dialog.sentence.text().startswith("“Worn joints, a year” starts on Monday 8 March")
        hands.press(Key.Key_Return)

    hands.press_for_dialog(choose, Key.Key_Space)
    give(hands, given)
    loading = course(practice).protocol.phases[0]
    assert (loading.purpose, loading.length) == ("loading", Length(12, CalendarUnit.WEEKS))
    assert (hands.pressed, hands.clicked, hands.typed) == (9, 0, len("tamsin"))


def test_from_nothing(
    practice: OpenPractice, frame: MainWindow, given: Path, qtbot: QtBot
) -> None:
    hands = Hands()
    open_client(hands, frame, qtbot)

    def name(dialog: StartDialog) -> None:
        hands.press(Key.Key_End)
        hands.press(Key.Key_Tab, times=tabs_to(dialog, dialog.name))
        hands.type("Knees")
        hands.press(Key.Key_Return)

    hands.press_for_dialog(name, Key.Key_Space)
    add_line = line_adder(hands, frame, qtbot)
    add_line("hedge", "1 cup tds")
    add_line("warming t", "5 mL tds ac")
    add_line("warming r", "1 application bd 3 w on 2 w off")
    hands.press(Key.Key_A, MATERIA_MEDICA)
    add_line("hedge", "1 cup od")
    want(hands, "anti-inflammatory", "analgesic")
    give(hands, given)
    made = course(practice)
    assert [
        (phase.id, str(phase.length), one.remedy, str(one.directions))
        for phase in made.protocol.phases
        for one in phase.lines
    ] == [
        ("loading", "12 w", "hedgerow-tea", "1 cup tds"),
        ("loading", "12 w", "warming-tincture", "5 mL tds ac"),
        ("loading", "12 w", "warming-rub", "1 application bd 3 w on 2 w off"),
        ("maintenance", "4 w", "hedgerow-tea", "1 cup od"),
    ]
    assert made.protocol.aims == ("anti-inflammatory", "analgesic")
    assert (hands.pressed, hands.clicked) == (26, 0)


def tabs_to(dialog: StartDialog, field: object) -> int:
    """How often Tab is pressed from where the keyboard is to a field."""
    at, count = QApplication.focusWidget(), 0
    while at is not field:
        at = at.nextInFocusChain() if at else None
        assert at is not None
        if at.focusPolicy() & Qt.FocusPolicy.TabFocus and at.isVisibleTo(dialog):
            count += 1
    return count


def line_adder(hands: Hands, frame: MainWindow, qtbot: QtBot) -> Callable[[str, str], None]:
    """Adds a line by typing its remedy and its directions."""
    table = controller_of(frame).view.lines.table

    def add(remedy: str, take: str) -> None:
        rows = table.lines.rowCount()
        hands.press(Key.Key_Return)
        typed_into(RemedyField, remedy)
        typed_into(DirectionsEdit, take)
        qtbot.waitUntil(lambda: len(table.lines.lines) == rows + 1)

    def typed_into(kind: type[RemedyField] | type[DirectionsEdit], text: str) -> None:
        qtbot.waitUntil(lambda: any(one.hasFocus() for one in table.findChildren(kind)))
        hands.type(text)
        give_back(frame, qtbot)
        hands.press(Key.Key_Return)

    return add


def give_back(frame: MainWindow, qtbot: QtBot) -> None:
    """Close a list of words, and make the window active, as other platforms leave it."""
    lists = (one for one in QApplication.topLevelWidgets() if isinstance(one, QListView))
    for one in lists:
        one.hide()
    QApplication.processEvents()
    frame.activateWindow()
    qtbot.waitUntil(frame.isActiveWindow)


def want(hands: Hands, *actions: str) -> None:
    def choose(dialog: AimsDialog) -> None:
        for action in actions:
            hands.type(action)
            hands.press(Key.Key_Return)
        hands.press(Key.Key_Return)
        assert not dialog.isVisible()

    hands.press_for_dialog(choose, Key.Key_I, MATERIA_MEDICA)
