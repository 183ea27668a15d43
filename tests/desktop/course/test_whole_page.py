"""The whole course on one page: what is seen at once, and what another course leaves behind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QMenu, QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.course.calendar.calendar_view import CalendarScale
from sennight.desktop.course.decisions.remedies import ChangeDirections
from sennight.desktop.course.decisions.striking import StrikeOut
from sennight.desktop.course.page import CoursePage
from sennight.desktop.course.view import CourseView
from sennight.desktop.kit.theme import Theme, make_theme
from sennight.domain.courses.clients import Client, Fact, Topic
from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import Protocol
from sennight.domain.remedies.forms import Form
from sennight.practice.clients import add_client
from sennight.practice.courses import add_course
from sennight.practice.dispensary import keep_settings, settings_of
from sennight.practice.opening import OpenPractice
from support import samples

NOW = datetime(2027, 1, 27, 9, tzinfo=ZoneInfo("Europe/London"))
WINDOW = (1280 - 80, 735)
"""The smallest window that all must be seen in at once, less the rail."""


def year() -> Course:
    """Twelve weeks of loading with four remedies, keeping with two, and a flare-up plan."""
    line, phase = samples.line, samples.phase
    protocol = Protocol(
        "A year",
        (
            phase(
                "loading",
                "12 w",
                line("t1", "1 cup tds"),
                line("t2", "5 mL tds ac", (8, "7.5 mL bd ac")),
                line("t3", "1 capsule tds with food"),
                line("t4", "1 application bd 3 w on 2 w off"),
            ),
            phase("keeping", None, line("t1", "1 cup bd"), line("t2", "5 mL bd ac")),
            phase("rescue", "2 w", line("t5", "1 cup tds")),
        ),
        ("nutritive",),
    )
    forms = (Form.TEA, Form.TINCTURE, Form.CAPSULE, Form.RUB, Form.TEA)
    remedies = tuple(samples.remedy(f"t{n}", form) for n, form in enumerate(forms, 1))
    course = Course("c", Client("Una Example"), remedies, protocol, date(2027, 1, 4))
    return replace(course, until=date(2028, 1, 2))


@pytest.fixture
def page(qtbot: QtBot, empty_practice: OpenPractice, theme: Theme) -> Iterator[CoursePage]:
    client = add_client(empty_practice, Client("Una Example", zone="Europe/London"))
    course_id = add_course(empty_practice, client, year(), now=NOW)
    made = CoursePage(empty_practice, theme, now=lambda: NOW)
    qtbot.addWidget(made)
    made.resize(*WINDOW)
    made.open(course_id)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.hide()


def view_of(page: CoursePage) -> CourseView:
    assert page.controller is not None
    return page.controller.view


def seen_whole(part: QWidget, page: QWidget) -> bool:
    """Whether a part lies within the page."""
    corner = part.mapTo(page, QPoint(0, 0))
    return page.rect().contains(part.rect().translated(corner)) and part.isVisible()


def test_all_is_seen_at_once_in_the_smallest_window(page: CoursePage, qtbot: QtBot) -> None:
    view = view_of(page)
    qtbot.waitUntil(lambda: not view.consequences.is_waiting)
    page.controller.session.choose_phase("loading")  # type: ignore[union-attr]
    qtbot.wait(20)
    sheet, table, day = view.calendar.sheet, view.lines.table, view.calendar.day_page
    assert page.size().toTuple() == WINDOW, "nothing asks for a larger window"
    foot = sheet.rowViewportPosition(11) + sheet.rowHeight(11)
    assert sheet.rowViewportPosition(0) == 0
    assert foot <= sheet.viewport().height(), "twelve weeks"
    assert table.rowViewportPosition(3) + table.rowHeight(3) <= table.viewport().height()
    assert day.isVisible()
    entries = day.timed.model()
    last = day.timed.visualRect(entries.index(entries.rowCount() - 1, 0))
    assert last.bottom() <= day.timed.viewport().height(), "the whole day"
    assert view.consequences.verticalScrollBar().maximum() == 0, "what follows does not scroll"
    folds = (view.consequences.safety, view.consequences.amounts, view.consequences.borne)
    assert all(fold.is_open and seen_whole(fold, page) for fold in folds)
    for part in (view.head, view.facts, view.timeline, view.calendar, view.lines):
        assert seen_whole(part, page)


def test_with_large_text_weeks_and_verdicts_stay_and_lines_are_a_word_away(
    page: CoursePage, qtbot: QtBot
) -> None:
    view = view_of(page)
    page.apply_theme(make_theme(dark=False, scale=150))
    page.resize(1280 - 118, 735)
    qtbot.wait(20)
    assert page.width() == 1280 - 118
    sheet = view.calendar.sheet
    assert sheet.rowViewportPosition(7) + sheet.rowHeight(7) <= sheet.viewport().height()
    folds = [fold for fold in view.consequences.folds if not fold.isHidden()]
    assert len(folds) == 5
    assert all(seen_whole(fold.head, page) for fold in folds)
    qtbot.keyClick(sheet, Qt.Key.Key_4)
    assert view.lines.isVisible()
    assert not sheet.isVisible()
    assert view.calendar.height() == view.calendar.head_height(), "at once, not after a resize"
    page.resize(1024 - 118, 665)
    view.calendar.show_scale(CalendarScale.DAY)
    qtbot.wait(20)
    day = view.calendar.day_page
    last = day.timed.visualRect(day.timed_model.index(day.timed_model.rowCount() - 1, 0))
    assert sum(1 for entry in day.timed_model.entries if entry.doses) == 6
    assert last.bottom() <= day.timed.viewport().height(), "the whole day, in the smallest window"
    assert view.calendar.title.text() == "Wed 27 Jan", "said once, beside the scales"
    assert not day.title.isVisible()


def test_a_long_name_cuts_no_week(page: CoursePage, qtbot: QtBot) -> None:
    head = view_of(page).head
    long = "A course for joints in the cold months, after the long rains, and for the knees"
    head.show_names("Una Example of Ravenglass", long)
    qtbot.wait(20)
    assert head.when.width() >= head.when.fontMetrics().horizontalAdvance(head.when.text())
    assert head.client.geometry().bottom() < head.course.geometry().top(), "beneath each other"
    head.show_names("Una Example", "A year")
    qtbot.wait(20)
    assert head.client.geometry().right() < head.course.geometry().left(), "beside each other"


def test_a_decision_that_has_more_to_say_takes_more_room(page: CoursePage, qtbot: QtBot) -> None:
    controller = page.controller
    assert controller is not None
    controller.decide("redirect")
    form = controller.deciding.form
    assert isinstance(form, ChangeDirections)
    qtbot.wait(20)
    form.directions.setText("2 cup tds")
    form.check()
    qtbot.waitUntil(lambda: form.doses.isVisible() and seen_whole(form.reason, page))
    area = form._body.verticalScrollBar()
    assert not area.isVisible(), "nothing is scrolled to"
    form.reject()


def test_a_form_in_the_smallest_window_shows_its_fields(page: CoursePage, qtbot: QtBot) -> None:
    """With large text the facts give way to it, and come back."""
    view, controller = view_of(page), page.controller
    assert controller is not None
    page.apply_theme(make_theme(dark=False, scale=150))
    page.resize(1024 - 118, 700)
    controller.decide("strike")
    form = controller.deciding.form
    assert isinstance(form, StrikeOut)
    qtbot.waitUntil(lambda: seen_whole(form.reason, page))
    assert not form._body.verticalScrollBar().isVisible()
    form.reject()
    qtbot.wait(20)
    assert view.facts.isVisible()


def test_another_course_comes_into_the_same_parts_and_takes_nothing_over(
    page: CoursePage, empty_practice: OpenPractice, qtbot: QtBot
) -> None:
    controller, view = page.controller, view_of(page)
    assert controller is not None
    session = controller.session
    controller.view.lines.bar.add()
    session.choose_phase("keeping")
    session.go_to(date(2027, 6, 1))
    view.consequences.supply.head.click()
    second = replace(year(), protocol=replace(year().protocol, name="Another"))
    client = add_client(empty_practice, Client("Noor Example", zone="Europe/London"))
    page.open(add_course(empty_practice, client, second, now=NOW))
    assert page.controller is controller
    assert view_of(page) is view
    assert (view.head.client.text(), view.head.course.text()) == ("Noor Example", "Another")
    assert (session.day, session.phase_id) == (NOW.date(), "loading")
    assert not session.undo_stack.canUndo()
    assert view.consequences.supply.chosen is None
    assert len(session.course.protocol.phases) == 3
    qtbot.waitUntil(lambda: not view.consequences.is_waiting)


def test_a_panel_stands_over_what_follows_and_the_course_goes_back_to_it(page: CoursePage) -> None:
    view = view_of(page)
    panel = QWidget()
    tried = view.session.try_out(replace(view.session.course, until=date(2028, 2, 6)))
    assert not isinstance(tried, str)
    view.put_aside(panel)
    view.timeline.show_ghost(tried)
    assert panel.isVisible()
    assert not view.consequences.isVisible()
    assert view.timeline.shown.scale.days == tried.layout.days.days
    view.take_from_aside(panel)
    assert view.consequences.isVisible()
    assert view.timeline.shown.scale.days == view.session.reading.layout.days.days


def test_facts_say_what_was_not_asked(page: CoursePage) -> None:
    view = view_of(page)
    said = {part.accessibleName(): part.text() for part in view.facts.texts()}
    assert said["Conditions"] == "not asked"
    assert view.facts.topics[Topic.MEDICINES].value.property("role") == "doubt"
    course = view.session.course
    known = replace(course.client, medicines=(Fact("iron"),), asked=(Topic.CONDITIONS,))
    view.facts.refresh(view.session.reading.of(replace(course, client=known)))
    said = {part.accessibleName(): part.text() for part in view.facts.texts()}
    assert said["Conditions"] == "asked: none"
    assert said["Medicines"] == "Iron"
    asked: list[str] = []
    view.decision_wanted.connect(asked.append)
    view.facts.ask_wanted.disconnect()
    view.facts.ask_wanted.connect(lambda: asked.append("flags"))
    view.facts.ask.click()
    assert asked == ["flags"]


def test_facts_that_have_no_room_in_one_line_stand_in_two_and_are_not_cut(
    page: CoursePage,
) -> None:
    facts = view_of(page).facts
    course = view_of(page).session.course
    told = replace(course.client, medicines=(Fact("iron"), Fact("ramipril"), Fact("warfarin")))
    facts.refresh(view_of(page).session.reading.of(replace(course, client=told)))
    facts.resize(1200, 60)
    one = facts.sizeHint().height()
    facts.resize(520, 60)
    layout = facts.layout()
    assert layout is not None
    layout.activate()
    assert facts.sizeHint().height() > one
    medicines = facts.topics[Topic.MEDICINES].value
    assert medicines.width() >= medicines.sizeHint().width()


# The right button


def entries_of(menu: QMenu) -> list[str]:
    return [action.text() for action in menu.actions() if not action.isSeparator()]


def offered(page: CoursePage, widget: QWidget, at: QPoint) -> list[str]:
    """What a widget's menu offers at a point; it is closed again."""
    widget.customContextMenuRequested.emit(at)
    menu = page.controller.menus.menu if page.controller else None
    assert menu is not None
    words = entries_of(menu)
    menu.close()
    return words


def test_the_right_button_offers_and_does_nothing_itself(page: CoursePage, qtbot: QtBot) -> None:
    view = view_of(page)
    session, timeline = view.session, view.timeline
    day, phase = session.day, session.phase_id
    x = round(timeline.shown.scale.x(date(2027, 6, 1)))
    lane = QPoint(x, round(timeline.heights.lanes + timeline.heights.lane * 0.5))
    qtbot.mouseClick(timeline, Qt.MouseButton.RightButton, pos=lane)
    sheet = view.calendar.sheet
    cell = sheet.visualRect(sheet.weeks.index_of(date(2027, 1, 6))).center()
    qtbot.mouseClick(sheet.viewport(), Qt.MouseButton.RightButton, pos=cell)
    assert (session.day, session.phase_id) == (day, phase)
    on_lane = offered(page, timeline, lane)
    assert on_lane[:2] == ["Change directions of Remedy t1…", "Stop Remedy t1…"]
    assert "Lengthen or shorten Keeping…" in on_lane
    assert offered(page, sheet, cell)[0] == "Show Wednesday 6 January 2027"
    row = view.lines.table.visualRect(view.lines.model.index(1, 0)).center()
    assert offered(page, view.lines.table, row)[:2] == ["Where, how, steps…", "Remove line"]
    assert (session.day, session.phase_id) == (day, phase)


def test_an_entry_of_a_menu_does_what_it_says(page: CoursePage) -> None:
    view = view_of(page)
    sheet = view.calendar.sheet
    cell = sheet.visualRect(sheet.weeks.index_of(date(2027, 1, 6))).center()
    sheet.customContextMenuRequested.emit(cell)
    assert page.controller is not None
    menu = page.controller.menus.menu
    assert menu is not None
    menu.actions()[0].trigger()
    assert view.session.day == date(2027, 1, 6)
    menu.close()


def test_other_ways_of_reckoning_supply_hold_once_the_page_comes_back(
    page: CoursePage, empty_practice: OpenPractice
) -> None:
    controller = page.controller
    assert controller is not None
    before = settings_of(empty_practice)
    other = replace(before, supply=replace(before.supply, ml=Fraction(250)))
    page.hide()
    keep_settings(empty_practice, other, now=NOW)
    page.show_course(controller.entry.id)
    assert controller.session.reading.settings == other.supply != before.supply
