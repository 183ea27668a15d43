"""Safety through the real window, with the keyboard.

Wednesday 27 January: a client on an anticoagulant, willow bark in the tea. Giving is refused and
leads to the finding; it is gone ahead with for a reason; the course is given. Then a reaction:
the tea stops, and the herb is remembered when a further course is started.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QMenu
from pytestqt.qtbot import QtBot

from sennight.desktop.course.decisions.formulas import ChangeFormula
from sennight.desktop.course.giving.dialog import GiveDialog
from sennight.desktop.course.safety.accept_dialog import AcceptDialog
from sennight.desktop.course.safety.reaction_dialog import ReactionDialog
from sennight.desktop.kit.navigation import Route, RouteKind
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Scheme, Settings
from sennight.domain.courses.courses import Stop
from sennight.domain.courses.stretches import lay_out
from sennight.practice.clients import client_entry
from sennight.practice.courses import course_entry, start_course
from sennight.practice.opening import open_practice
from sennight.practice.publications import list_publications
from sennight.practice.safety import check
from support.hands import Hands
from support.next_dialog import in_next_dialog
from support.pages import clients_of, controller_of
from support.sample_practice import NOW, TODAY
from support.willow_practice import MET, Willow, willow_practice

Key = Qt.Key
CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def willow(tmp_path: Path) -> Iterator[Willow]:
    with open_practice(tmp_path / "practice.sennight", clock=lambda: NOW) as practice:
        yield willow_practice(practice)


@pytest.fixture
def frame(willow: Willow, tmp_path: Path, qapp: QApplication) -> Iterator[MainWindow]:
    settings = Settings(tmp_path / "settings.ini")
    settings.scheme = Scheme.LIGHT
    frame = MainWindow(willow.practice, Appearance(qapp, settings), settings, today=lambda: TODAY)
    frame.show()
    frame.activateWindow()
    frame.go(Route(RouteKind.COURSE, willow.course))
    QApplication.processEvents()
    yield frame
    frame.close()
    frame.deleteLater()
    QCoreApplication.sendPostedEvents(frame, QEvent.Type.DeferredDelete)


MOST_FOR_A_CHANGED_REMEDY = 10


def test_an_avoid_is_turned_into_a_changed_remedy_by_keys(
    frame: MainWindow, willow: Willow, qtbot: QtBot
) -> None:
    hands, controller = Hands(), controller_of(frame)
    refused(hands)
    qtbot.waitUntil(controller.view.consequences.safety.view.hasFocus)
    while "Change a remedy" not in getattr(QApplication.focusWidget(), "text", str)():
        hands.press(Key.Key_Tab)
        assert hands.pressed < MOST_FOR_A_CHANGED_REMEDY
    hands.press(Key.Key_Return)
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, QMenu)
    while menu.activeAction() is None or "without" not in menu.activeAction().text():
        QTest.keyClick(menu, Key.Key_Down)
        hands.pressed += 1
        assert hands.pressed < MOST_FOR_A_CHANGED_REMEDY
    QTest.keyClick(menu, Key.Key_Return)
    hands.pressed += 1
    frame.activateWindow()  # as a window system does when a menu closes
    QApplication.processEvents()
    form = controller.deciding.form
    assert isinstance(form, ChangeFormula)
    assert form.instead.hasFocus()
    hands.press(Key.Key_Return)
    assert hands.pressed + hands.typed <= MOST_FOR_A_CHANGED_REMEDY
    stored = course_entry(willow.practice, willow.course).course
    assert [part.herb for part in stored.remedies[-1].ingredients] == ["nettle-leaf"]


def test_refused_then_accepted_with_a_reason_then_given(
    frame: MainWindow, willow: Willow, tmp_path: Path, qtbot: QtBot
) -> None:
    hands = Hands()
    refused(hands)
    assert list_publications(willow.practice, willow.course) == ()
    qtbot.waitUntil(controller_of(frame).view.consequences.safety.view.hasFocus)
    hands.press_for_dialog(go_ahead(hands), Key.Key_Return)
    reason = "INR watched weekly, agreed with the doctor"
    (accept,) = course_entry(willow.practice, willow.course).course.accepts
    assert (accept.finding, accept.reason) == (MET, reason)
    given = tmp_path / "given"
    given.mkdir()
    hands.press_for_dialog(give_into(hands, given), Key.Key_P, CTRL)
    assert {path.suffix for path in given.iterdir()} >= {".pdf", ".ics"}
    assert list_publications(willow.practice, willow.course)
    assert hands.clicked == 0


def refused(hands: Hands) -> None:
    def lead(dialog: QDialog) -> None:
        assert dialog.accessibleName() == "This course has not been given yet"
        assert "Willow bark" in dialog.accessibleDescription()
        hands.press(Key.Key_Return)

    hands.press_for_dialog(lead, Key.Key_P, CTRL)


def go_ahead(hands: Hands) -> Callable[[AcceptDialog], None]:
    def decide(sheet: AcceptDialog) -> None:
        assert "Willow bark" in sheet.row.text
        hands.type("INR watched weekly, agreed with the doctor")
        hands.press(Key.Key_Return)

    return decide


def give_into(hands: Hands, given: Path) -> Callable[[GiveDialog], None]:
    def write(dialog: GiveDialog) -> None:
        dialog.folder.setFocus()
        hands.press(Key.Key_A, CTRL)
        hands.type(str(given))
        hands.press(Key.Key_Return)
        hands.press(Key.Key_Escape)

    return write


def test_a_reaction_is_recorded_and_met_in_the_next_course(
    frame: MainWindow, willow: Willow, qtbot: QtBot
) -> None:
    hands = Hands()

    def fill(sheet: ReactionDialog) -> None:
        hands.press(Key.Key_Tab, times=2)
        assert sheet.herbs.boxes["willow-bark"].hasFocus()
        hands.press(Key.Key_Space)
        hands.press(Key.Key_Tab, times=2)
        hands.type("An itching rash on both arms")
        hands.press(Key.Key_Tab, times=2)
        in_next_dialog(lambda offer: offer.reject())
        hands.press(Key.Key_Space)

    hands.press_for_dialog(fill, Key.Key_N, CTRL | SHIFT)
    qtbot.waitUntil(lambda: bool(course_entry(willow.practice, willow.course).course.revisions))
    (stop,) = course_entry(willow.practice, willow.course).course.revisions
    assert isinstance(stop, Stop)
    assert (stop.remedy, stop.first) == ("willow", TODAY)
    frame.go(Route(RouteKind.FOLDER, willow.client))
    assert clients_of(frame).folder.strip.reactions.text() == "Willow bark, 27 January 2027"
    (reaction,) = client_entry(willow.practice, willow.client).client.reactions
    assert reaction.what == "An itching rash on both arms"
    again = start_course(willow.practice, willow.client, willow.protocol, TODAY, now=NOW)
    course = course_entry(willow.practice, again).course
    assert "willow-bark.reaction" in [one.id for one in check(lay_out(course)).unaccepted]
