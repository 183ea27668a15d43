"""The review page: what it tells, how the keyboard goes through it, and what it leads to."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from sennight.desktop.course.controller import CourseController
from sennight.desktop.course.decisions.timing import ChangeLength
from sennight.desktop.course.diary.diary import DiaryDialog
from sennight.desktop.course.lines.gate_dialog import GateDialog
from sennight.desktop.course.page import CoursePage
from sennight.desktop.course.review.fullness import FullnessModel
from sennight.desktop.course.review.view import ReviewView
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.theme import Theme, make_theme
from sennight.domain.courses.protocols import Gate
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.practice.diaries import enter_diary, enter_scores
from sennight.practice.reviewing import review_of
from support import course_cases
from support.next_dialog import in_next_dialog
from support.sample_practice import NOW, Sample

START = date(2027, 1, 4)
Key = Qt.Key


@pytest.fixture
def controller(qtbot: QtBot, sample: Sample, theme: Theme) -> Iterator[CourseController]:
    """Three weeks in: a diary of the first week, and pain that got worse."""
    taken = [Taken(START + timedelta(n), "tea", 3 if n < 5 else 1) for n in range(7)]
    enter_diary(sample.practice, sample.course, taken)
    rated = [Score(START + timedelta(7 * n), "pain", Fraction(5 + n)) for n in range(4)]
    enter_scores(sample.practice, sample.course, rated)
    page = CoursePage(sample.practice, theme, now=lambda: NOW)
    qtbot.addWidget(page)
    page.resize(1180, 660)
    page.open(sample.course)
    page.show()
    assert page.controller is not None
    page.controller.decide("review")
    yield page.controller
    page.hide()


def view_of(controller: CourseController) -> ReviewView:
    view = controller.review.view
    assert view is not None
    return view


def texts(view: ReviewView) -> str:
    labels = view.findChildren(QLabel)
    return "\n".join(label.text() for label in labels if label.isVisibleTo(view))


def test_it_says_plainly_that_it_got_worse(controller: CourseController) -> None:
    view = view_of(controller)
    assert controller.view.isHidden()
    assert view.goes.text() == "Worse: pain (5 to 8)."
    assert "better" not in texts(view).lower()
    assert "No gate waits in the phase that runs now." in texts(view)
    assert "17 of 21 doses with an entry were taken" in texts(view)
    assert "Nothing was given for this course yet." in texts(view)
    assert "3 cautions, 2 notes" in texts(view)
    lanes = view.charts.lanes.accessibleDescription()
    assert lanes.startswith("Joint tea: week 1 17 of 21, week 2 no entry for 21")
    assert view.charts.measures[0].accessibleDescription().startswith("5 on 4 January 2027; 6 on")


def test_the_keyboard_goes_through_the_diary_and_opens_a_day(
    qtbot: QtBot, controller: CourseController
) -> None:
    calendar = view_of(controller).calendar
    assert view_of(controller).day.text() == "27 January 2027: 5 doses due, no entry"
    for _ in range(3):
        qtbot.keyClick(calendar, Key.Key_Up)
    qtbot.keyClick(calendar, Key.Key_Right)
    assert view_of(controller).day.text() == (
        "7 January 2027: 3 of 3 doses taken, 2 without an entry"
    )
    opened: list[date] = []

    def look(dialog: DiaryDialog) -> None:
        opened.append(dialog.model.days[dialog.grid.currentIndex().row()])
        dialog.model.set_taken([3], [1], 2)
        dialog.submit()

    in_next_dialog(look)
    qtbot.keyClick(calendar, Key.Key_Return)
    assert opened == [date(2027, 1, 7)]
    assert view_of(controller).day.text() == "7 January 2027: 5 of 5 doses taken"
    shares = view_of(controller).shares.texts
    rows = [
        tuple(str(shares.index(row, column).data()) for column in range(3))
        for row in range(shares.rowCount())
    ]
    assert rows[0][:2] == ("All remedies", "19 of 23, 6 days without an entry")
    assert ("By weekday", "", "") in rows


def test_a_decision_is_made_on_the_spot_and_shown(controller: CourseController) -> None:
    def longer(dialog: ChangeLength) -> None:
        dialog.by.setText("2 w")
        dialog.by.textEdited.emit("2 w")
        dialog.submit()

    in_next_dialog(longer)
    view_of(controller).buttons["extend"].click()
    assert "loading gets 2 weeks longer" in texts(view_of(controller))
    asked: list[type[FormDialog]] = []

    def leave(dialog: FormDialog) -> None:
        asked.append(type(dialog))
        dialog.reject()

    kinds = ("advance", "redirect", "formula", "flare", "pause", "stop", "end", "scores", "diary")
    for kind in kinds:
        in_next_dialog(leave)
        view_of(controller).buttons[kind].click()
    assert len(set(asked)) == len(kinds)


def test_a_gate_is_set_and_the_way_back_takes_it_away(controller: CourseController) -> None:
    def fill(dialog: GateDialog) -> None:
        dialog.gate.measure.setText("pain")
        dialog.submit()
        assert dialog.isVisible()  # how much is not said yet
        dialog.gate.amount.setText("30")
        assert dialog.is_changed()
        dialog.submit()

    in_next_dialog(fill)
    view_of(controller).buttons["gate"].click()
    view = view_of(controller)
    assert controller.session.course.protocol.phases[0].gate == Gate("pain", 30)
    assert "Not met: it rose by 60 %" in view.gates.text()
    controller.session.undo_stack.undo()
    assert view.gates.text() == "No gate waits in the phase that runs now."


def test_escape_and_a_finding_to_avoid_lead_back_to_the_course(
    qtbot: QtBot, controller: CourseController
) -> None:
    view = view_of(controller)
    view.refuse("Something went wrong")
    assert view.status.isVisibleTo(view)
    qtbot.keyClick(view, Key.Key_Escape)
    assert (view.isHidden(), controller.view.isHidden()) == (True, False)
    controller.decide("review")
    assert not view.status.isVisibleTo(view)
    controller.apply_theme(make_theme(dark=True, scale=150))
    assert view.minimumSizeHint().width() <= 1180
    in_next_dialog(lambda dialog: dialog.reject())
    view.buttons["give"].click()
    assert not view.isHidden()
    controller.safety.findings_wanted.emit()
    assert view.isHidden()


def test_the_calendar_of_the_diary_is_a_sound_model(qtmodeltester: ModelTester) -> None:
    model = FullnessModel()
    qtmodeltester.check(model)
    assert not model.index_of(START).isValid()
    reading = course_cases.session().reading
    model.show_review(review_of(reading, (), ()))
    qtmodeltester.check(model)
    assert model.headerData(2, Qt.Orientation.Horizontal) == "W"
    spoken = Qt.ItemDataRole.AccessibleTextRole
    assert model.headerData(1, Qt.Orientation.Vertical, spoken) == "Week 2, 11 January 2027"
