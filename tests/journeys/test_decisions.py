"""Decisions by keys alone, counted; by mouse; and what Escape and the right button leave alone."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from sennight.desktop.course.controller import CourseController
from sennight.desktop.course.decisions.striking import StrikeOut
from sennight.desktop.course.decisions.timing import ChangeLength, RecordFlare
from sennight.desktop.kit.navigation import Route, RouteKind
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Settings
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Flare
from sennight.practice.clients import add_client
from sennight.practice.courses import add_course
from sennight.practice.drafts import list_drafts
from sennight.practice.opening import OpenPractice, open_practice
from support import course_cases
from support.hands import Hands
from support.pages import clients_of

NOW = datetime(2027, 3, 3, 9, tzinfo=ZoneInfo("Europe/London"))
Key = Qt.Key
CTRL_SHIFT = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
MOST_FOR_A_FLARE = 6


@pytest.fixture
def practice(tmp_path: Path) -> Iterator[OpenPractice]:
    with open_practice(tmp_path / "practice.sennight", clock=lambda: NOW) as opened:
        yield opened


@pytest.fixture
def frame(practice: OpenPractice, tmp_path: Path, qapp: QApplication) -> Iterator[MainWindow]:
    client = add_client(practice, Client("Una Example", zone="Europe/London"))
    course = add_course(practice, client, course_cases.full_course(), now=NOW)
    settings = Settings(tmp_path / "settings.ini")
    made = MainWindow(practice, Appearance(qapp, settings), settings, today=NOW.date)
    clients_of(made).course.now = lambda: NOW
    made.resize(1280, 735)
    made.show()
    made.activateWindow()
    made.go(Route(RouteKind.COURSE, course))
    QApplication.processEvents()
    yield made
    made.close()
    made.deleteLater()
    QCoreApplication.sendPostedEvents(made, QEvent.Type.DeferredDelete)


def controller_of(frame: MainWindow) -> CourseController:
    controller = clients_of(frame).course.controller
    assert controller is not None
    return controller


def test_decisions_at_the_side(frame: MainWindow, practice: OpenPractice) -> None:
    """In one window, since that takes longer to come up than all that is done in it."""
    controller = controller_of(frame)
    a_flare_by_keys(controller)
    escape_leaves_the_panel_alone(controller)
    an_edit_meanwhile_is_not_written_over(controller)
    an_edge_is_dragged(controller)
    the_right_button_only_offers(controller)
    a_flag_offers_to_strike_out(controller)
    another_course_keeps_what_was_typed(frame, practice)


def a_flare_by_keys(controller: CourseController) -> None:
    hands, before = Hands(), QApplication.focusWidget()
    hands.press(Key.Key_F, CTRL_SHIFT)
    form = controller.deciding.form
    assert isinstance(form, RecordFlare)
    assert form.rescue.hasFocus()
    assert controller.view.timeline.isVisible()
    assert controller.view.timeline.ghost.reading is not None, (
        "the new course is drawn over the old"
    )
    assert "flare-up plan runs from 3 to 9 March 2027" in form.changes_label.text()
    assert ("not taken", "20 drops qds") in [(row.before, row.after) for row in form.doses.rows]
    hands.press(Key.Key_Return)
    assert hands.pressed + hands.typed <= MOST_FOR_A_FLARE
    assert isinstance(controller.session.course.revisions[-1], Flare)
    assert controller.deciding.form is None
    assert controller.view.timeline.ghost.reading is None
    assert QApplication.focusWidget() is before


def escape_leaves_the_panel_alone(controller: CourseController) -> None:
    hands, before = Hands(), QApplication.focusWidget()
    course, sizes = controller.session.course, controller.view.across.sizes()
    hands.press(Key.Key_P, CTRL_SHIFT)
    hands.press(Key.Key_Escape)
    assert controller.deciding.form is None
    assert controller.isVisible()
    assert controller.session.course is course
    assert QApplication.focusWidget() is before
    assert controller.view.aside.currentWidget() is controller.view.consequences
    assert controller.view.across.sizes() == sizes


def an_edit_meanwhile_is_not_written_over(controller: CourseController) -> None:
    """The page is not locked: the form is about the course as it is, with what was typed."""
    hands = Hands()
    hands.press(Key.Key_P, CTRL_SHIFT)
    first = controller.deciding.form
    assert first is not None
    hands.press(Key.Key_Tab, times=3)
    hands.type("away")
    controller.view.lines.bar.add()
    assert len(controller.session.course.protocol.phases) == 5
    QTest.qWait(50)
    form = controller.deciding.form
    assert form is not None
    assert form is not first
    assert form.is_changed()
    form.submit()
    assert controller.session.course.revisions[-1].reason == "away"
    assert len(controller.session.course.protocol.phases) == 5


def an_edge_is_dragged(controller: CourseController) -> None:
    timeline = controller.view.timeline
    band = next(band for band in timeline.shown.phases if band.name == "maintenance")
    scale, y = timeline.shown.scale, round(timeline.heights.band) + 4
    left = Qt.MouseButton.LeftButton
    at, to = (
        QPoint(round(scale.x(day)), y) for day in (band.span.end, band.span.end + timedelta(9))
    )
    QTest.mousePress(timeline, left, pos=at)
    QTest.mouseMove(timeline, to)
    QTest.mouseRelease(timeline, left, pos=to)
    form = controller.deciding.form
    assert isinstance(form, ChangeLength)
    assert form.phase.currentData() == "maintenance"
    assert form.by.text() in {"+8 d", "+9 d", "+10 d"}
    form.reject()
    assert controller.deciding.form is None


def the_right_button_only_offers(controller: CourseController) -> None:
    timeline, session = controller.view.timeline, controller.session
    band = next(band for band in timeline.shown.phases if band.name == "taper")
    at = QPoint(
        round(timeline.shown.scale.x(band.span.first)) + 9, round(timeline.heights.band) + 4
    )
    before = (session.day, session.phase_id, session.course)
    QTest.mouseClick(timeline, Qt.MouseButton.RightButton, pos=at)
    timeline.customContextMenuRequested.emit(at)
    menu = controller.menus.menu
    assert menu is not None
    assert (session.day, session.phase_id, session.course) == before
    offered = {action.text(): action for action in menu.actions()}
    assert {"Start a later phase from this day…", "End the course on this day…"} <= offered.keys()
    offered["Lengthen or shorten Taper…"].trigger()
    menu.close()
    controller.window().activateWindow()  # as a window system does when a menu closes
    form = controller.deciding.form
    assert isinstance(form, ChangeLength)
    assert form.phase.currentData() == "taper"
    form.reject()


def a_flag_offers_to_strike_out(controller: CourseController) -> None:
    timeline = controller.view.timeline
    at = QPoint(round(timeline.shown.flags[0].x) + 1, round(timeline.heights.band) - 4)
    timeline.customContextMenuRequested.emit(at)
    menu = controller.menus.menu
    assert menu is not None
    menu.actions()[0].trigger()
    menu.close()
    controller.window().activateWindow()
    assert isinstance(controller.deciding.form, StrikeOut)
    controller.deciding.form.reject()


def another_course_keeps_what_was_typed(frame: MainWindow, practice: OpenPractice) -> None:
    controller, hands = controller_of(frame), Hands()
    hands.press(Key.Key_P, CTRL_SHIFT)
    hands.press(Key.Key_Tab, times=3)
    hands.type("travels")
    clients_of(frame).course.open(controller.entry.id)
    assert controller.deciding.form is None
    assert [draft.kind for draft in list_drafts(practice)] == ["pause"]
