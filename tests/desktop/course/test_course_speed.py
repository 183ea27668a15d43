"""A year's course of five remedies: an edit and a redraw each fit into one frame of 16 ms.

The least of several runs is taken, and a slow or busy machine gets room: the figures are
measured against plain work done in the same run, as well as against the frame.
"""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter

from PySide6.QtGui import QPixmap
from pytestqt.qtbot import QtBot

import course_cases
from sennight.desktop.course.calendar_view import Calendar
from sennight.desktop.course.session import Shown
from sennight.desktop.course.timeline_view import Timeline
from sennight.desktop.theme import Look
from sennight.domain.courses import Course
from sennight.domain.doses import doses
from sennight.domain.stretches import lay_out

FRAME = 0.016
BUSY = 3
"""How many times slower than a machine that does nothing else this one may be."""


def best(work: Callable[[], object], runs: int = 7) -> float:
    times = []
    for _ in range(runs):
        begin = perf_counter()
        work()
        times.append(perf_counter() - begin)
    return min(times)


def year() -> Course:
    return course_cases.full_course(weeks=52)


def test_an_edit_and_its_pictures_are_worked_out_in_a_frame() -> None:
    course = year()

    def edited() -> None:
        shown = Shown(lay_out(course), course_cases.TODAY)
        assert len(shown.cells) > 360

    found, every_dose = best(edited), best(lambda: doses(lay_out(course)))
    assert found < FRAME * BUSY
    assert found < every_dose * BUSY


def test_sheet_month_and_timeline_are_drawn_in_a_frame(qtbot: QtBot, look: Look) -> None:
    session = course_cases.session(year())
    calendar, timeline = Calendar(session, look), Timeline(session, look)
    for widget, height in ((calendar, 420), (timeline, 240)):
        qtbot.addWidget(widget)
        widget.resize(860, height)
        widget.show()
    page = QPixmap(860, 420)
    for scale in (0, 1):
        calendar.show_scale(scale)
        assert best(lambda: calendar.stack.currentWidget().render(page)) < FRAME * BUSY
    assert best(lambda: timeline.render(page)) < FRAME * BUSY
    for widget in (calendar, timeline):
        widget.hide()
