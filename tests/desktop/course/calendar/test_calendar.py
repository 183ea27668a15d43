"""The calendar: its models, its keys, what a screen reader hears, and its three scales."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from sennight.desktop.course.calendar.calendar_model import (
    CELL,
    DayModel,
    WeeksModel,
    month_weeks,
    needed_entries,
    timed_entries,
)
from sennight.desktop.course.calendar.calendar_view import CourseCalendar
from sennight.desktop.course.calendar.month_delegate import change_words
from sennight.desktop.course.session import Session
from sennight.desktop.kit.theme import Theme
from sennight.domain.schedule.day_plan import day_plan
from sennight.practice.day_changes import Change
from support import course_cases


@pytest.fixture
def session() -> Session:
    return course_cases.session()


@pytest.fixture
def calendar(qtbot: QtBot, session: Session, theme: Theme) -> Iterator[CourseCalendar]:
    made = CourseCalendar(session, theme)
    qtbot.addWidget(made)
    made.resize(860, 420)
    made.show()
    made.focus_view()
    yield made
    made.hide()


def test_models_are_sound(session: Session, qtmodeltester: ModelTester) -> None:
    course, month, day = (
        WeeksModel(session.reading),
        WeeksModel(session.reading),
        DayModel(session.reading),
    )
    course.show_course(session.reading)
    month.show_month(session.reading, session.day)
    day.show_entries(
        session.reading,
        timed_entries(session.reading, day_plan(session.reading.layout, session.day)),
    )
    for model in (course, month, day):
        qtmodeltester.check(model)


@given(st.dates(date(2020, 1, 1), date(2030, 12, 31)))
def test_a_month_has_its_weeks_and_no_more(day: date) -> None:
    mondays = month_weeks(day)
    assert all(monday.weekday() == 0 for monday in mondays)
    assert mondays[0] <= day.replace(day=1)
    assert 4 <= len(mondays) <= 6
    assert any(0 <= (day - monday).days < 7 for monday in mondays)
    assert mondays[-1].replace(day=1) == day.replace(day=1)


def test_the_sheet_has_every_day_once(session: Session) -> None:
    model = WeeksModel(session.reading)
    model.show_course(session.reading)
    days = [
        model.index(row, column).data(CELL)
        for row in range(model.rowCount())
        for column in range(7)
    ]
    inside = [cell.day for cell in days if cell.in_course]
    assert inside == list(session.reading.layout.days)
    assert all(model.index_of(day).isValid() for day in inside)


def test_each_cell_is_a_sentence(session: Session) -> None:
    model = WeeksModel(session.reading)
    model.show_course(session.reading)
    said = model.index_of(date(2027, 1, 25)).data(Qt.ItemDataRole.AccessibleTextRole)
    assert said == (
        "Monday 25 January 2027, week 4, loading: Remedy t1 1 cup at 07:00, 12:00 and 18:00; "
        "Remedy t2 5 mL at 08:00, 13:00 and 19:00; Remedy t3 off."
    )


def test_a_screen_reader_gets_the_sentence(calendar: CourseCalendar) -> None:
    table = QAccessible.queryAccessibleInterface(calendar.sheet)
    assert table is not None
    index = calendar.sheet_model.index_of(calendar.session.day)
    texts = [
        table.child(n).text(QAccessible.Text.Name)
        for n in range(table.childCount())
        if table.child(n) is not None
    ]
    assert index.data(Qt.ItemDataRole.AccessibleTextRole) in texts


@pytest.mark.parametrize(
    ("key", "day"),
    [
        (Qt.Key.Key_Left, date(2027, 3, 2)),
        (Qt.Key.Key_Right, date(2027, 3, 4)),
        (Qt.Key.Key_Up, date(2027, 2, 24)),
        (Qt.Key.Key_Down, date(2027, 3, 10)),
        (Qt.Key.Key_PageUp, date(2027, 2, 3)),
        (Qt.Key.Key_PageDown, date(2027, 4, 3)),
        (Qt.Key.Key_Home, date(2027, 1, 4)),
        (Qt.Key.Key_End, date(2027, 8, 8)),
    ],
)
def test_keys_move_the_day(qtbot: QtBot, calendar: CourseCalendar, key: Qt.Key, day: date) -> None:
    qtbot.keyClick(calendar.sheet, key)
    assert calendar.session.day == day
    qtbot.keyClick(calendar.sheet, Qt.Key.Key_T)
    assert calendar.session.day == course_cases.TODAY


def test_left_of_monday_is_sunday(qtbot: QtBot, calendar: CourseCalendar) -> None:
    calendar.session.go_to(date(2027, 3, 1))
    qtbot.keyClick(calendar.sheet, Qt.Key.Key_Left)
    assert calendar.session.day == date(2027, 2, 28)
    assert calendar.sheet.currentIndex().column() == 6


def test_the_day_never_leaves_the_course(qtbot: QtBot, calendar: CourseCalendar) -> None:
    qtbot.keyClick(calendar.sheet, Qt.Key.Key_End)
    qtbot.keyClick(calendar.sheet, Qt.Key.Key_Right)
    qtbot.keyClick(calendar.sheet, Qt.Key.Key_PageDown)
    assert calendar.session.day == calendar.session.reading.layout.days.last


def test_keys_change_the_scale_and_the_keyboard_goes_along(
    qtbot: QtBot, calendar: CourseCalendar
) -> None:
    qtbot.keyClick(calendar.sheet, Qt.Key.Key_2)
    assert calendar.stack.currentWidget() is calendar.month
    assert calendar.title.text() == "March 2027"
    qtbot.keyClick(calendar.month, Qt.Key.Key_PageDown)
    assert calendar.title.text() == "April 2027"
    qtbot.keyClick(calendar.month, Qt.Key.Key_3)
    assert calendar.is_beside
    assert calendar.stack.currentWidget() is calendar.month
    assert calendar.day_page.timed.hasFocus()
    assert calendar.day_page.title.text() == "Saturday 3 April 2027"
    qtbot.keyClick(calendar.day_page.timed, Qt.Key.Key_Right)
    assert calendar.session.day == date(2027, 4, 4)
    qtbot.keyClick(calendar.day_page.timed, Qt.Key.Key_1)
    assert calendar.stack.currentWidget() is calendar.sheet
    with qtbot.waitSignal(calendar.lines_wanted):
        qtbot.keyClick(calendar.sheet, Qt.Key.Key_4)


def test_a_day_runs_from_rising_to_bedtime(session: Session) -> None:
    plan = day_plan(session.reading.layout, date(2027, 3, 16))
    entries = timed_entries(session.reading, plan)
    assert [(e.minute, e.moment, len(e.doses)) for e in entries] == [
        (420, "on getting up", 0),
        (450, "breakfast", 1),
        (1110, "evening meal", 1),
        (1350, "bedtime", 0),
    ]
    needed = needed_entries(plan)
    model = DayModel(session.reading)
    model.show_entries(session.reading, needed)
    assert model.index(0).data() == "Remedy t4, 1 application, at most 4 times a day"


def test_a_month_says_what_changes_in_words_that_shorten(session: Session) -> None:
    changes = session.reading.changes
    first = {c.remedy: c for c in changes[date(2027, 1, 4)] if c.kind is Change.STARTS}
    assert change_words(first[1])[:2] == ("starts 5 mL × 3", "5 mL × 3")
    (phase,) = (c for c in changes[date(2027, 1, 4)] if c.kind is Change.PHASE)
    assert change_words(phase) == ("Loading",)


def test_the_day_folds_where_there_is_no_room_beside_the_weeks(
    qtbot: QtBot, calendar: CourseCalendar
) -> None:
    calendar.resize(500, 420)
    assert not calendar.is_beside
    qtbot.keyClick(calendar.sheet, Qt.Key.Key_3)
    assert calendar.stack.currentWidget() is calendar.day_page
    calendar.resize(900, 420)
    assert calendar.is_beside
    assert calendar.stack.currentWidget() is calendar.sheet


def test_the_weeks_of_the_phase_in_hand_are_seen_whole(calendar: CourseCalendar) -> None:
    calendar.session.choose_phase("loading")
    grid = calendar.sheet
    assert grid.run == range(7)
    assert calendar.title.text() == "Loading"
    assert calendar.quiet.text() == "weeks 1 to 7"
    calendar.session.go_to(date(2027, 1, 6))
    assert grid.rowViewportPosition(0) == 0
    last = grid.rowViewportPosition(6) + grid.rowHeight(6)
    assert last <= grid.viewport().height()


def test_the_day_says_what_is_off_and_how_often_the_phone_rings(calendar: CourseCalendar) -> None:
    calendar.session.go_to(date(2027, 1, 25))
    page = calendar.day_page
    assert page.off.text().startswith("Remedy t3: off to ")
    assert page.alerts.text() == "6 alerts"
    assert page.alerts.toolTip() == "6 alerts on the phone this day"
    shown = page.timed_model.entries
    assert [entry.minute for entry in shown if entry.doses] == [420, 480, 720, 780, 1080, 1140]


def test_marks_have_the_dye_of_their_remedy(calendar: CourseCalendar, theme: Theme) -> None:
    calendar.session.go_to(date(2027, 1, 4))
    grid = calendar.sheet
    rect = grid.visualRect(calendar.sheet_model.index_of(date(2027, 1, 5)))
    image = grid.viewport().grab().toImage()
    colours = {
        image.pixelColor(x, y).name()
        for x in range(rect.left(), rect.right())
        for y in range(rect.top(), rect.bottom())
    }
    assert theme.dye(0).name() in colours
