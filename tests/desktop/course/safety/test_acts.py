"""Acting from a finding: an hour moved in one press, a herb out of a remedy, a pause, a stop."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from sennight.desktop.clients.rows import course_cells
from sennight.desktop.course.controller import CourseController
from sennight.desktop.course.decisions.formulas import ChangeFormula
from sennight.desktop.course.decisions.remedies import ChangeDirections, StopRemedy
from sennight.desktop.course.decisions.timing import TakePause
from sennight.desktop.course.safety.accept_dialog import DiscussDialog
from sennight.desktop.course.safety.acts import act_words
from sennight.desktop.kit.theme import Theme
from sennight.domain.courses.clients import Fact
from sennight.domain.courses.editing import with_directions
from sennight.domain.day import Moment
from sennight.domain.directions.parser import parse_directions
from sennight.domain.safety.acting import (
    GiveOtherwise,
    LeaveHerbOut,
    MoveHour,
    PauseOver,
    StopFrom,
    SwapHerb,
)
from sennight.practice.courses import course_entry
from support.next_dialog import in_next_dialog
from support.sample_practice import NOW
from support.willow_practice import MET, Willow

HOURS = "hours.iron.nettle-leaf"


@pytest.fixture
def controller(willow: Willow, theme: Theme, qtbot: QtBot) -> CourseController:
    def now() -> datetime:
        return NOW

    entry = course_entry(willow.practice, willow.course)
    stack = QUndoStack()
    made = CourseController(willow.practice, entry, theme, undo_stack=stack, now=now)
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    return made


def button_saying(controller: CourseController, words: str) -> QPushButton:
    panel = controller.view.consequences.safety
    return next(b for b in panel.acts.findChildren(QPushButton) if words in b.text())


def asked_by(controller: CourseController) -> Any:  # noqa: ANN401
    """The form of the decision that is asked for."""
    assert controller.deciding.form is not None
    assert controller.view.timeline.isVisible()
    return controller.deciding.form


def with_iron(controller: CourseController) -> None:
    course = controller.session.course
    client = replace(course.client, medicines=(Fact("iron", at=(time(8),)),))
    controller.session.take_over(replace(course, client=client))
    controller.view.consequences.refresh(controller.session.reading, ())


def test_an_hour_is_moved_in_one_press(controller: CourseController, qtbot: QtBot) -> None:
    with_iron(controller)
    panel = controller.view.consequences.safety
    panel.go_to(HOURS)
    act = next(act for act in panel.acts.acts if isinstance(act, MoveHour))
    assert act.minute == 450
    words = "Willow tea at 10:30 (mid-morning) instead of 07:30"
    controller.act(act)
    qtbot.waitUntil(lambda: controller.deciding.form is not None)
    qtbot.keyClick(controller.deciding.form, Qt.Key.Key_Escape)
    button_saying(controller, words)
    assert act_words(act, controller.session.course) == words


def test_before_a_course_begins_the_hour_is_changed_at_once_and_can_be_taken_back(
    controller: CourseController,
) -> None:
    with_iron(controller)
    course = controller.session.course
    later = replace(course, start=NOW.date().replace(year=NOW.year + 1))
    controller.session.take_over(later)
    controller.view.consequences.refresh(controller.session.reading, ())
    panel = controller.view.consequences.safety
    panel.go_to(HOURS)
    button_saying(controller, "10:30 (mid-morning) instead of 07:30").click()
    lines = {
        line.remedy: str(line.directions)
        for line in controller.session.course.protocol.phases[0].lines
    }
    assert lines["willow"] == "1 cup at mid-morning,lunch,supper"
    assert controller.session.undo_stack.canUndo()
    controller.session.undo_stack.undo()
    assert controller.session.course == later


def test_a_herb_is_left_out_of_a_remedy_and_the_finding_ends(
    controller: CourseController, willow: Willow, qtbot: QtBot
) -> None:
    panel = controller.view.consequences.safety
    panel.go_to(MET)
    act = next(act for act in panel.acts.acts if isinstance(act, LeaveHerbOut))
    assert act == LeaveHerbOut("willow", "willow-bark")
    seen: list[str] = []

    def change(sheet: ChangeFormula) -> None:
        seen.append(sheet.instead.currentText())
        qtbot.keyClicks(sheet.reason, "Apixaban was begun")
        seen.append(sheet.detail.text())
        qtbot.keyClick(sheet.reason, Qt.Key.Key_Return)

    controller.act(act)
    change(asked_by(controller))
    assert seen[0] == "Nothing: it is left out"
    stored = course_entry(willow.practice, willow.course).course
    (revision,) = stored.revisions
    assert revision.reason == "Apixaban was begun"
    assert [part.herb for part in stored.remedies[-1].ingredients] == ["nettle-leaf"]


def test_another_herb_is_tried_before_it_is_chosen(
    controller: CourseController, qtbot: QtBot
) -> None:
    def look(sheet: ChangeFormula) -> None:
        sheet.instead.setCurrentIndex(sheet.instead.findData("meadowsweet"))
        assert "Still to avoid: " in sheet.detail.text()
        assert "eadowsweet with anticoagulants" in sheet.detail.text()
        sheet.instead.setCurrentIndex(sheet.instead.findData("rosehip"))
        assert "Meadowsweet" not in sheet.detail.text()
        qtbot.keyClick(sheet, Qt.Key.Key_Escape)

    controller.act(SwapHerb("willow", "willow-bark"))
    look(asked_by(controller))
    assert controller.session.course.revisions == ()


def test_decisions_come_with_their_fields_filled_in(
    controller: CourseController, qtbot: QtBot
) -> None:
    first, last = controller.session.reading.layout.days.first, controller.session.day
    seen: list[str] = []

    def pause(sheet: TakePause) -> None:
        seen.append(f"{sheet.first.text()} to {sheet.last.text()}")
        qtbot.keyClick(sheet, Qt.Key.Key_Escape)

    def stop(sheet: StopRemedy) -> None:
        seen.append(f"{sheet.remedy.currentText()} {sheet.first.text()}")
        qtbot.keyClick(sheet, Qt.Key.Key_Escape)

    def otherwise(sheet: ChangeDirections) -> None:
        seen.append(sheet.remedy.currentText())
        qtbot.keyClick(sheet, Qt.Key.Key_Escape)

    controller.act(PauseOver(first, last))
    pause(asked_by(controller))
    controller.act(StopFrom("quiet", first))
    stop(asked_by(controller))
    controller.act(GiveOtherwise("quiet"))
    otherwise(asked_by(controller))
    day = f"{first.day} {first:%B} {first.year}"
    assert seen[0].startswith(day)
    assert seen[1:] == [f"Nettle tea {day}", "Nettle tea"]


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (
            MoveHour("quiet", 450, Moment.LUNCH, 750),
            "Nettle tea at 12:30 (lunch) instead of 07:30",
        ),
        (SwapHerb("quiet", "nettle-leaf"), "Another herb for nettle leaf in Nettle tea…"),
        (GiveOtherwise("quiet"), "Change directions of Nettle tea…"),
    ],
)
def test_what_the_buttons_say(
    controller: CourseController, act: MoveHour | SwapHerb | GiveOtherwise, words: str
) -> None:
    assert act_words(act, controller.session.course, "Nettle leaf") == words


def test_a_caution_is_marked_as_discussed_and_comes_back_when_more_is_taken(
    controller: CourseController,
) -> None:
    session, panel = controller.session, controller.view.consequences.safety
    with_iron(controller)
    line = next(one for one in panel.checked.lines if HOURS in one.ids)
    panel.go_to(HOURS)
    assert panel.discuss.isVisible()

    def discuss(sheet: DiscussDialog) -> None:
        sheet.reason.setText("iron moves to bedtime")
        sheet.submit()

    in_next_dialog(discuss)
    panel.discuss.click()
    accept = next(one for one in session.course.discussed if one.finding == HOURS)
    assert (accept.reason, accept.on) == ("iron moves to bedtime", session.reading.today)
    decided = panel.checked.decided
    assert all(decided[name].holds for name in line.ids)
    assert not panel.discuss.isVisible()
    more = with_directions(
        session.course.protocol, "loading", "willow", parse_directions("2 cup tds")
    )
    assert session.edit("more", replace(session.course, protocol=more))
    checked = session.reading.safety
    assert not checked.decided[HOURS].holds
    assert "6 cups a day, was 3 cups" in checked.lapsed[HOURS]


def test_a_course_that_was_struck_out_is_still_to_be_looked_at(
    controller: CourseController, willow: Willow
) -> None:
    """Nothing is taken in it, nothing is found, and the client's list says that it is struck."""
    struck = replace(controller.session.course, void="another client's")
    assert controller.session.keep(struck)
    assert controller.session.reading.safety.unaccepted == ()
    for scale in range(3):
        controller.view.calendar.show_scale(scale)
    entry = course_entry(willow.practice, willow.course)
    assert course_cells(entry, NOW.date())[2] == "struck out: another client's"
