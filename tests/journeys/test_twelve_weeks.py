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
from sennight.desktop.course.lines.line_dialog import LineDialog
from sennight.desktop.course.lines.phase_dialog import PhaseDialog
from sennight.desktop.course.lines.remedy_field import RemedyField
from sennight.desktop.parts.directions_edit import DirectionsEdit
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Scheme, Settings
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import AdviceLine, Ceiling
from sennight.domain.courses.stretches import lay_out
from sennight.domain.courses.typed_lines import steps_text
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.directions.parser import parse_timing
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
MOST_FROM_A_PROTOCOL = 12
"""Keys, letters and clicks from opening the client to the files written."""
MOST_FROM_NOTHING = 40
"""The same from nothing, beyond the content that is typed."""


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
    hands.type("tam")
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
    assert (hands.pressed, hands.clicked, hands.typed) == (9, 0, len("tam"))
    assert hands.pressed + hands.clicked + hands.typed <= MOST_FROM_A_PROTOCOL


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
    assert hands.pressed <= MOST_FROM_NOTHING


def test_a_whole_joint_practice(practice: OpenPractice, frame: MainWindow, qtbot: QtBot) -> None:
    """Ranges, what follows, weeks off counted from the course, advice, limits, a flare-up plan."""
    hands = Hands()
    open_client(hands, frame, qtbot)

    def name(dialog: StartDialog) -> None:
        hands.press(Key.Key_End)
        hands.press(Key.Key_Tab, times=tabs_to(dialog, dialog.name))
        hands.type("Joints")
        hands.press(Key.Key_Return)

    hands.press_for_dialog(name, Key.Key_Space)
    add_line = line_adder(hands, frame, qtbot)
    add_line("hedge", "1-2 cups tds 9 weeks on, 3 weeks off")
    count_from_the_course(hands, note="with a little honey")
    add_line("warming t", "2.5 mL bd pc for 10 days, then 5 mL bd pc")
    add_line("resin", "1 capsule bd or tds")
    add_line("warming r", "1 application every 1 to 3 hours as needed for 3 days, then bd or tds")
    hands.press_for_dialog(lambda dialog: advise(hands, dialog), Key.Key_T, MATERIA_MEDICA)
    hands.press(Key.Key_A, MATERIA_MEDICA)
    add_line("hedge", "1 cup bd 9 weeks on, 3 weeks off")
    count_from_the_course(hands)
    hands.press(Key.Key_U, MATERIA_MEDICA)
    add_line("warming t", "5 mL as needed, max 4/day, at least 4 hours apart")
    made = course(practice)
    loading, later, flare = made.protocol.phases
    assert [(one.remedy, str(one.directions), steps_text(one.steps)) for one in loading.lines] == [
        ("hedgerow-tea", "1-2 cup tds 9 w on 3 w off", ""),
        ("warming-tincture", "2.5 mL bd pc", "10 d: 5 mL bd pc"),
        ("resin-capsules", "1 capsule bd and prn max 1/day", ""),
        (
            "warming-rub",
            "1 application every 1-3 h prn",
            "3 d: 1 application bd and prn max 1/day",
        ),
    ]
    assert loading.lines[0].note == "with a little honey"
    assert [line.count_from for line in (loading.lines[0], later.lines[0])] == ["course"] * 2
    assert loading.advice == (AdviceLine("walk for 20 minutes", parse_timing("at 15:00")),)
    assert loading.at_least_weeks == 6
    assert made.protocol.ceilings == (Ceiling(("warming-rub",), 4),)
    assert flare.is_rescue
    rests = [rest.span for rest in lay_out(made).rests]
    assert [(rest.first, rest.last) for rest in rests] == [(date(2027, 5, 10), date(2027, 5, 30))]
    assert (hands.pressed, hands.clicked) == (57, 0)


def count_from_the_course(hands: Hands, note: str = "") -> None:
    """The line in hand counts its weeks off from the course's first day."""

    def fill(dialog: LineDialog) -> None:
        hands.press(Key.Key_Tab)
        if note:
            hands.type(note)
        hands.press(Key.Key_Tab)
        hands.press(Key.Key_Down)
        hands.press(Key.Key_Return)
        assert not dialog.isVisible()

    hands.press_for_dialog(fill, Key.Key_J, MATERIA_MEDICA)


def advise(hands: Hands, dialog: PhaseDialog) -> None:
    """Advice at a time, a least time, and no more than four rubs a day."""
    hands.type("walk for 20 minutes")
    hands.press(Key.Key_Tab)
    hands.type("3pm")
    hands.press(Key.Key_Tab, times=7)
    hands.type("6")
    hands.press(Key.Key_Tab, times=5)
    hands.type("4")
    hands.press(Key.Key_Tab, times=4)
    hands.press(Key.Key_Space)
    hands.press(Key.Key_Return)
    assert not dialog.isVisible()


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
