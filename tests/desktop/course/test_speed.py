"""A year's course of five remedies: an edit and a redraw each fit into one frame of 16 ms.

The processor's time is measured, not the clock's, so that other work on the machine does not
count; the least of several runs is taken, and a slow machine gets some room.
"""

from __future__ import annotations

import pytest
from PySide6.QtGui import QPixmap
from pytestqt.qtbot import QtBot

from sennight.desktop.course.calendar.calendar_view import CourseCalendar
from sennight.desktop.course.timeline.view import Timeline
from sennight.desktop.kit.theme import Theme
from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import lay_out
from sennight.domain.schedule.doses import doses
from sennight.practice.course_reading import read_course
from support import course_cases
from support.speed import quickest

pytestmark = pytest.mark.no_cover  # counting lines takes time of its own
FRAME = 0.016
SLOW = 2
"""How many times slower than an ordinary machine this one may be."""


def year() -> Course:
    return course_cases.full_course(weeks=52)


def test_an_edit_and_its_pictures_are_worked_out_in_a_frame() -> None:
    course = year()

    def edited() -> None:
        reading = read_course(course, today=course_cases.TODAY)
        assert len(tuple(reading.weeks)) > 51

    found, every_dose = quickest(edited), quickest(lambda: doses(lay_out(course)))
    assert found < FRAME * SLOW
    assert found < every_dose * SLOW


def test_sheet_month_and_timeline_are_drawn_in_a_frame(qtbot: QtBot, theme: Theme) -> None:
    session = course_cases.session(year())
    calendar, timeline = CourseCalendar(session, theme), Timeline(session, theme)
    for widget, height in ((calendar, 420), (timeline, 240)):
        qtbot.addWidget(widget)
        widget.resize(860, height)
        widget.show()
    page = QPixmap(860, 420)
    for scale, grid in enumerate((calendar.sheet, calendar.month)):
        calendar.show_scale(scale)
        assert quickest(lambda grid=grid: grid.render(page)) < FRAME * SLOW  # type: ignore[misc]
    assert quickest(lambda: timeline.render(page)) < FRAME * SLOW
    for widget in (calendar, timeline):
        widget.hide()
