"""The review page: what it tells, how the keyboard goes through it, and what it leads to."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from sennight.desktop.course.consequences.supply_dialog import SupplyDialog
from sennight.desktop.course.controller import CourseController
from sennight.desktop.course.decisions.timing import ChangeLength, StayAsItIs
from sennight.desktop.course.diary.diary import DiaryDialog
from sennight.desktop.course.diary.left import LeftDialog
from sennight.desktop.course.lines.gate_dialog import GateDialog
from sennight.desktop.course.page import CoursePage
from sennight.desktop.course.review.aside import ReviewAside
from sennight.desktop.course.review.fullness import FullnessModel
from sennight.desktop.course.review.main import ReviewMain
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.theme import Theme, make_theme
from sennight.domain.courses.courses import Stay
from sennight.domain.courses.protocols import Gate
from sennight.domain.directions.directions import Unit
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.supply.quantities import Quantity
from sennight.practice.courses import course_entry, start_course
from sennight.practice.diaries import enter_diary, enter_scores
from sennight.practice.dispensary import Made, make_batch
from sennight.practice.dispensing import Handing, hand_over
from sennight.practice.returned import returned_of
from sennight.practice.reviewing import review_of
from support import course_cases
from support.next_dialog import in_next_dialog
from support.sample_practice import NOW, TEA, Sample

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


def parts_of(controller: CourseController) -> tuple[ReviewMain, ReviewAside]:
    assert controller.review.parts is not None
    return controller.review.parts


def main_of(controller: CourseController) -> ReviewMain:
    return parts_of(controller)[0]


def aside_of(controller: CourseController) -> ReviewAside:
    return parts_of(controller)[1]


def texts(controller: CourseController) -> str:
    shown = [
        label.text()
        for part in parts_of(controller)
        for label in part.findChildren(QLabel)
        if label.isVisibleTo(part)
    ]
    return "\n".join(shown)


def test_it_says_plainly_that_it_got_worse(controller: CourseController) -> None:
    view = main_of(controller)
    assert controller.view.timeline.isHidden()
    assert view.goes.text() == "Worse: pain (5 to 8)."
    assert "better" not in texts(controller).lower()
    assert "The current phase has no gate." in texts(controller)
    assert "17 of 21 doses with an entry were taken" in texts(controller)
    assert "Nothing was given for this course yet." in texts(controller)
    assert "3 cautions, 3 notes" in texts(controller)
    lanes = view.charts.lanes.accessibleDescription()
    assert lanes.startswith("Joint tea: week 1 17 of 21, week 2 no entry for 21")
    assert view.charts.measures[0].accessibleDescription().startswith("5 on 4 January 2027; 6 on")


def test_the_keyboard_goes_through_the_diary_and_opens_a_day(
    qtbot: QtBot, controller: CourseController
) -> None:
    calendar = aside_of(controller).calendar
    assert aside_of(controller).day.text() == "27 January 2027: 5 doses due, no entry"
    for _ in range(3):
        qtbot.keyClick(calendar, Key.Key_Up)
    qtbot.keyClick(calendar, Key.Key_Right)
    assert aside_of(controller).day.text() == (
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
    assert aside_of(controller).day.text() == "7 January 2027: 5 of 5 doses taken"
    shares = aside_of(controller).shares.texts
    rows = [
        tuple(str(shares.index(row, column).data()) for column in range(2))
        for row in range(shares.rowCount())
    ]
    assert rows[0] == ("All remedies", "83 % (19 of 23), 6 days without an entry")
    assert ("By weekday", "") in rows


def asked_by(controller: CourseController) -> Any:  # noqa: ANN401
    """The form of the decision that is asked for, which stands at the side."""
    assert controller.view.aside.currentWidget() is controller.deciding.form
    return controller.deciding.form


def test_a_decision_is_made_on_the_spot_and_shown(controller: CourseController) -> None:
    charts = main_of(controller).charts

    def longer(dialog: ChangeLength) -> None:
        dialog.by.setText("2 w")
        dialog.by.textEdited.emit("2 w")
        assert charts.ghost.isVisibleTo(charts)
        told = charts.ghost.accessibleDescription()
        assert "Now: Loading until 14 February 2027" in told
        assert "Then: Loading until 28 February 2027" in told
        dialog.submit()

    main_of(controller).buttons["extend"].click()
    longer(asked_by(controller))
    assert "Loading is 2 weeks longer" in texts(controller)
    assert not charts.ghost.isVisibleTo(charts)

    def stay(dialog: StayAsItIs) -> None:
        assert dialog.changes_label.text() == "Nothing changes."
        dialog.reason.setText("wait for the spring")
        dialog.reason.textEdited.emit("wait for the spring")
        dialog.submit()

    main_of(controller).buttons["stay"].click()
    stay(asked_by(controller))
    assert "the course stays as it is (wait for the spring)" in texts(controller)
    assert controller.session.course.revisions[-1] == Stay(
        on=NOW.date(), reason="wait for the spring"
    )
    asked: list[type[FormDialog]] = []
    kinds = ("advance", "redirect", "formula", "flare", "pause", "stop", "end")
    for kind in kinds:
        main_of(controller).buttons[kind].click()
        form = asked_by(controller)
        asked.append(type(form))
        form.reject()
        assert controller.view.aside.currentWidget() is parts_of(controller)[1]
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
    main_of(controller).buttons["gate"].click()
    view = main_of(controller)
    assert controller.session.course.protocol.phases[0].gate == Gate("pain", 30)
    assert "Not met: it rose by 60 %" in view.gates.text()
    controller.session.undo_stack.undo()
    assert view.gates.text() == "The current phase has no gate."


def test_escape_and_a_finding_to_avoid_lead_back_to_the_course(
    qtbot: QtBot, controller: CourseController
) -> None:
    view = main_of(controller)
    view.refuse("Something went wrong")
    assert view.status.isVisibleTo(view)
    qtbot.keyClick(view, Key.Key_Escape)
    assert not controller.review.is_open
    assert not controller.view.timeline.isHidden()
    controller.decide("review")
    assert not view.status.isVisibleTo(view)
    controller.apply_theme(make_theme(dark=True, scale=150))
    assert controller.view.minimumSizeHint().width() <= 1180
    in_next_dialog(lambda dialog: dialog.reject())
    controller.decide("give")
    assert controller.review.is_open
    controller.safety.findings_wanted.emit()
    assert not controller.review.is_open


def test_the_review_gives_way_to_another_course(
    qtbot: QtBot, controller: CourseController, sample: Sample
) -> None:
    client = sample.clients["noor"]
    other = start_course(sample.practice, client, sample.protocols["joints"], START, now=NOW)
    controller.open(course_entry(sample.practice, other))
    assert not controller.review.is_open
    controller.decide("review")
    assert main_of(controller).goes.text() == "Nothing was rated twice yet."
    qtbot.keyClick(aside_of(controller).calendar, Key.Key_Escape)
    assert not controller.review.is_open


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


def test_what_is_left_is_entered_from_the_review_and_told_there(
    controller: CourseController, sample: Sample
) -> None:
    told: list[str] = []
    controller.session.refused.connect(told.append)
    panel = aside_of(controller).left
    panel.enter.click()
    assert told == ["Nothing was handed over for this course yet, so nothing can be left."]
    amount, made = Quantity(Fraction(300), Unit.G), Made("MR")
    batch = make_batch(sample.practice, TEA, amount, made, today=START, now=NOW)
    handing = Handing(batch.id, sample.course, TEA.id, 1, amount, "MR")
    hand_over(sample.practice, handing, today=START, now=NOW)

    def count(dialog: LeftDialog) -> None:
        (fields,) = dialog.fields
        assert not dialog.is_changed()
        assert fields.within.text() == "5"
        for text, is_wrong in (("many", True), ("301", True), ("90", False)):
            fields.left.setText(text)
            assert dialog.is_changed()
            dialog.submit()
            assert fields.rows[0].is_wrong is is_wrong

    in_next_dialog(count)
    panel.enter.click()
    days = "4 to 27 January 2027"
    said = (
        f"Joint tea, {days}: 210 g gone, 207 g due: 101 %, between 95 and 109 % allowing for "
        "error."
    )
    assert panel.told.text() == f"{said} The diary says 81 %, which does not agree."
    supply = controller.view.consequences.supply
    supply.set_open(is_open=True)
    assert "Joint tea lasts until" in supply.lines_label.text()

    def take_back(dialog: LeftDialog) -> None:
        (fields,) = dialog.fields
        assert fields.left.text() == "90"
        dialog.day.setText("20 January 2027")
        dialog.day.editingFinished.emit()
        assert fields.left.text() == ""
        dialog.day.setText("tomorrow")
        dialog.submit()
        assert dialog._day_row.is_wrong
        dialog.day.setText("27 January 2027")
        dialog.day.editingFinished.emit()
        fields.left.clear()
        dialog.submit()

    in_next_dialog(take_back)
    controller.decide("left")
    assert returned_of(sample.practice, sample.course) == ()
    assert panel.told.isHidden()


def test_how_much_is_taken_begins_with_the_next_review(controller: CourseController) -> None:
    seen: list[str] = []

    def look(dialog: SupplyDialog) -> None:
        seen.extend((dialog.days.currentText(), *dialog.lines()[0]))
        dialog.submit()

    in_next_dialog(look)
    controller.view.consequences.supply.more.click()
    assert seen == [
        "To the next review, 14 February 2027",
        "Joint tea: 129 g, 2 containers",
        "86 g Nettle leaf, dried herb; 43 g Ginger, dried herb",
    ]


def test_charts_take_the_height_that_there_is(controller: CourseController, qtbot: QtBot) -> None:
    parts = controller.review.parts
    assert parts is not None
    charts, page = parts[0].charts, controller.window()
    low = charts.measures[0].height()
    page.resize(1800, 1000)
    qtbot.waitUntil(lambda: charts.measures[0].height() > low * 1.5)
    page.resize(1180, 500)
    qtbot.waitUntil(lambda: charts.measures[0].height() <= low)


def test_where_nothing_was_entered_it_says_what_will_be_drawn(
    qtbot: QtBot, sample: Sample, theme: Theme
) -> None:
    page = CoursePage(sample.practice, theme, now=lambda: NOW)
    qtbot.addWidget(page)
    page.open(sample.course)
    page.show()
    assert page.controller is not None
    page.controller.decide("review")
    assert page.controller.review.parts is not None
    charts = page.controller.review.parts[0].charts
    assert charts.nothing.isVisible()
    assert not charts.legend.isVisible()
    page.hide()
