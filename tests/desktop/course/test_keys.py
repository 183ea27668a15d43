"""The course page from the keyboard alone: every part is reached, Enter and Escape are right."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.course.calendar.calendar_view import CourseCalendar
from sennight.desktop.course.decisions.remedies import StopRemedy
from sennight.desktop.course.decisions.timing import TakePause
from sennight.desktop.course.session import Session
from sennight.desktop.course.view import CourseView
from sennight.desktop.kit import dialogs
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.widgets import pressed_by_enter
from sennight.domain.courses.editing import with_directions
from support import course_cases
from support.samples import take


@pytest.fixture
def session() -> Session:
    return course_cases.session()


@pytest.fixture
def body(qtbot: QtBot, session: Session, theme: Theme) -> Iterator[CourseView]:
    made = CourseView(session, theme)
    qtbot.addWidget(made)
    made.resize(1180, 700)
    made.show()
    made.activateWindow()
    yield made
    made.hide()


def stops(start: QWidget) -> list[QWidget]:
    """What Tab comes to, once round."""
    start.setFocus()
    found: list[QWidget] = []
    while True:
        at = QApplication.focusWidget()
        if at is None or at in found:
            return found
        found.append(at)
        QTest.keyClick(at, Qt.Key.Key_Tab)


def test_tab_goes_from_the_head_down_and_misses_nothing(body: CourseView) -> None:
    found = stops(body.head.decide_button)
    names = [getattr(one, "text", str)() or one.accessibleName() for one in found]
    assert names[:4] == ["Change", "Diary", "Review", "Handout and reminders…"]
    bar = body.lines.bar
    parts = [body.timeline, body.calendar.scales, body.calendar.sheet, bar.choices, bar.length]
    parts += [bar.menu_button, bar.add_line, body.lines.table, body.consequences]
    assert [one for one in found if one in parts] == parts


def test_back_tab_leads_the_same_way_back(body: CourseView) -> None:
    found = stops(body.head.decide_button)
    QTest.keyClick(body.head.decide_button, Qt.Key.Key_Backtab)
    back: list[QWidget] = [body.head.decide_button]
    while QApplication.focusWidget() is not body.head.decide_button:
        at = QApplication.focusWidget()
        assert at is not None
        back.append(at)
        QTest.keyClick(at, Qt.Key.Key_Backtab)
    assert back == [found[0], *reversed(found[1:])]


def enter() -> QKeyEvent:
    return QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Return, Qt.KeyboardModifier.NoModifier)


def test_enter_on_a_menu_button_opens_its_menu(body: CourseView) -> None:
    menu = body.head.decide_button.menu()
    assert menu is not None
    shown: list[bool] = []
    menu.aboutToShow.connect(lambda: shown.append(True))
    QTimer.singleShot(50, menu.hide)
    assert pressed_by_enter(enter(), body.head.decide_button)
    assert shown
    menu.hide()


def test_enter_on_cancel_cancels(qtbot: QtBot, session: Session) -> None:
    dialog = TakePause(session)
    qtbot.addWidget(dialog)
    dialog.show()
    assert dialog.main_button.isEnabled()
    dialog.leave_button.setFocus()
    QTest.keyClick(dialog.leave_button, Qt.Key.Key_Return)
    assert dialog.result() == QDialog.DialogCode.Rejected
    assert len(session.course.revisions) == len(course_cases.DECIDED)


def test_enter_in_a_field_decides(qtbot: QtBot, session: Session) -> None:
    dialog = TakePause(session)
    qtbot.addWidget(dialog)
    dialog.show()
    assert dialog.focusWidget() is dialog.first
    QTest.keyClick(dialog.first, Qt.Key.Key_Return)
    assert dialog.result() == QDialog.DialogCode.Accepted
    assert len(session.course.revisions) == len(course_cases.DECIDED) + 1


def test_escape_asks_before_a_reason_is_lost(
    qtbot: QtBot, session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []
    monkeypatch.setattr(dialogs, "confirm", lambda *_a, **_k: asked.append("asked"))
    dialog = StopRemedy(session)
    qtbot.addWidget(dialog)
    dialog.show()
    dialog.reason.setText("rash on the arms")
    QTest.keyClick(dialog.reason, Qt.Key.Key_Escape)
    assert asked == ["asked"]
    assert dialog.isVisible()
    dialog.hide()


def test_a_sheet_drawn_after_an_edit_is_the_sheet_drawn_anew(
    qtbot: QtBot, session: Session, theme: Theme
) -> None:
    """What is kept of the sheet never outlives what it shows."""
    kept, anew = CourseCalendar(session, theme), CourseCalendar(session, theme)
    for calendar in (kept, anew):
        qtbot.addWidget(calendar)
        calendar.resize(860, 600)
        calendar.show()
    before = kept.sheet.grab().toImage()
    protocol = with_directions(session.course.protocol, "maintenance", "t2", take("5 mL bd"))
    assert session.edit("", replace(session.course, protocol=protocol))
    after = kept.sheet.grab().toImage()
    anew.sheet_delegate.set_brushes(anew.brushes)
    assert after != before
    assert after == anew.sheet.grab().toImage()
    assert session.edit("", course_cases.full_course())
    assert kept.sheet.grab().toImage() == before
    for calendar in (kept, anew):
        calendar.hide()


def test_the_sheet_shows_whole_weeks_only(qtbot: QtBot, session: Session, theme: Theme) -> None:
    calendar = CourseCalendar(session, theme)
    qtbot.addWidget(calendar)
    calendar.show()
    for height in (240, 333, 421):
        calendar.resize(860, height)
        QCoreApplication.processEvents()
        sheet = calendar.sheet
        assert sheet.viewport().height() % sheet.rowHeight(0) == 0
        assert sheet.rowViewportPosition(sheet.rowAt(0)) == 0
    calendar.hide()
