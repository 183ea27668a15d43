"""What one edit costs, from the course to the picture, for a year's course of five remedies.

The processor's time is measured, the least of several runs. The bound is a ratio to
python-dateutil listing the same course's doses one by one in the same run, so that it holds on
any machine.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from time import process_time

import pytest
from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sennight.desktop.course.calendar.calendar_view import CourseCalendar
from sennight.desktop.course.session import Session
from sennight.desktop.course.view import CourseView
from sennight.desktop.kit.theme import Theme, install_theme, make_theme
from sennight.domain.courses.stretches import lay_out
from sennight.domain.schedule.doses import doses
from sennight.practice.course_reading import CourseReading
from sennight.practice.materia_medica import supplied_materia_medica
from support import course_cases
from support.speed import listed_by_dateutil, quickest

WORKED_OUT, DRAWN, WHOLE = 5, 14, 20
"""So many times what listing the doses costs may it cost to work out all consequences, to draw
all weeks or the edited page, and to do both and say everything. Measured: 2.3, 4 to 8 and 8."""


pytestmark = pytest.mark.no_cover  # counting lines takes time of its own


@pytest.fixture
def theme(qapp: QApplication) -> Theme:
    made = make_theme(dark=False)
    install_theme(qapp, made)
    return made


@pytest.fixture
def session() -> Session:
    return course_cases.session(course_cases.full_course(weeks=52))


def settle() -> None:
    """Let all be drawn and said that an edit asked for."""
    for _ in range(3):
        QCoreApplication.processEvents()


Part = Callable[[CourseReading], object]
"""Works one thing out that follows from a course."""


def say(parts: dict[str, float], plain: float) -> None:
    told = ", ".join(f"{name} {seconds * 1000:.2f}" for name, seconds in parts.items())
    print(f"\n{told} ms; dateutil listing the doses: {plain * 1000:.2f} ms")


def spent_on(parts: Mapping[str, Part], before: CourseReading) -> dict[str, float]:
    """Seconds that each part of what follows takes after an edit, one after the other.

    No edit is like one before, so that no part finds its own work done; the least of several.
    """
    least = dict.fromkeys(parts, float("inf"))
    for n in range(1, 9):
        until = before.course.open_until - timedelta(days=n)
        reading = before.of(replace(before.course, until=until))
        for name, part in parts.items():
            begin = process_time()
            part(reading)
            least[name] = min(least[name], process_time() - begin)
    return least


def test_what_follows_is_worked_out_within_some_lists_of_the_doses(session: Session) -> None:
    layout = session.reading.layout
    assert listed_by_dateutil(layout.stretches) == [
        datetime.combine(dose.date, dose.time) for dose in doses(layout)
    ]
    plain = quickest(lambda: listed_by_dateutil(layout.stretches))
    reading = CourseReading(layout, course_cases.TODAY, supplied_materia_medica())
    parts: dict[str, Part] = {
        "layout": lambda now: lay_out(replace(now.course)),
        "sheet": lambda now: tuple(now.weeks),
        "exposure": lambda now: now.exposures,
        "safety": lambda now: now.safety,
        "actions": lambda now: now.actions,
        "reminders": lambda now: now.events,
    }
    spent = spent_on(parts, reading)
    say(spent, plain)
    assert sum(spent.values()) < WORKED_OUT * plain


def test_an_edit_is_drawn_and_its_consequences_are_said(
    qtbot: QtBot, session: Session, theme: Theme
) -> None:
    body = CourseView(session, theme)
    qtbot.addWidget(body)
    session.changed.connect(lambda: body.consequences.refresh_after_edit(session.reading))
    body.resize(1180, 700)
    body.consequences.refresh(session.reading, ())
    body.show()
    settle()
    plain = quickest(lambda: listed_by_dateutil(session.reading.layout.stretches))
    course = session.course
    versions = [replace(course, until=course.open_until - timedelta(days=n)) for n in (0, 1)]
    frame, whole = [], []
    for n in range(12):
        begin = process_time()
        session.apply(versions[n % 2])
        QCoreApplication.sendPostedEvents()
        frame.append(process_time() - begin)
        settle()
        whole.append(process_time() - begin)
    say({"edit and its frame": min(frame), "with all that follows": min(whole)}, plain)
    assert min(frame) < DRAWN * plain
    assert min(whole) < WHOLE * plain
    body.hide()


def test_all_weeks_of_a_year_are_drawn_in_a_tall_window(
    qtbot: QtBot, session: Session, theme: Theme
) -> None:
    calendar = CourseCalendar(session, theme)
    qtbot.addWidget(calendar)
    calendar.resize(860, 1700)
    calendar.show()
    settle()
    page = QPixmap(860, 1700)
    foot = calendar.sheet.rowViewportPosition(51) + calendar.sheet.rowHeight(51)
    assert 0 < foot <= calendar.sheet.viewport().height()
    plain = quickest(lambda: listed_by_dateutil(session.reading.layout.stretches))

    def anew() -> None:
        calendar.sheet_delegate.set_brushes(calendar.brushes)
        calendar.sheet.render(page)

    def after_an_edit() -> None:
        session.changed.emit()
        calendar.sheet.render(page)

    parts = {"nothing kept": quickest(anew, runs=5), "after an edit": quickest(after_an_edit)}
    say(parts, plain)
    assert parts["after an edit"] < DRAWN * plain
    assert parts["nothing kept"] < WHOLE * plain
    calendar.hide()
