"""A course is laid out once for an edit or a decision, and not at all for a diary mark."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import timedelta

import pytest
from pytestqt.qtbot import QtBot

from sennight.desktop.course.consequences.aims import AimsDialog
from sennight.desktop.course.consequences.panels import ConsequencesPanel
from sennight.desktop.course.controller import CourseController
from sennight.desktop.course.decisions.timing import EndCourse
from sennight.desktop.course.diary.diary_model import DiaryModel
from sennight.desktop.course.giving.dialog import GiveDialog
from sennight.desktop.course.giving.request import HandoutRequest
from sennight.desktop.course.lines.line_cells import LineEditRequest
from sennight.desktop.course.page import CoursePage
from sennight.desktop.kit.theme import Theme
from sennight.domain.courses import stretches
from sennight.domain.courses.courses import Course
from sennight.domain.courses.editing import with_directions
from sennight.domain.courses.plan import Plan
from sennight.domain.courses.revising import plan_course
from sennight.domain.follow_up.diaries import NOTHING_REPORTED
from sennight.practice.course_reading import read_course
from sennight.practice.opening import OpenPractice
from support import real_year
from support.sample_practice import NOW

TODAY = real_year.TODAY


class Count:
    """How often courses were laid out since it was asked last."""

    def __init__(self) -> None:
        self._calls = 0

    def plan_course(self, course: Course) -> Plan:
        self._calls += 1
        return plan_course(course)

    def since(self) -> int:
        calls, self._calls = self._calls, 0
        return calls


@pytest.fixture
def laid(monkeypatch: pytest.MonkeyPatch) -> Count:
    """Counts what every laying out begins with; what is known is not laid out again."""
    made = Count()
    monkeypatch.setattr(stretches, "plan_course", made.plan_course)
    return made


@pytest.fixture
def controller(
    qtbot: QtBot, empty_practice: OpenPractice, theme: Theme, laid: Count
) -> Iterator[CourseController]:
    course_id = real_year.add_real_year(empty_practice)
    now = NOW.replace(year=TODAY.year, month=TODAY.month, day=TODAY.day)
    page = CoursePage(empty_practice, theme, now=lambda: now)
    qtbot.addWidget(page)
    page.resize(1180, 740)
    laid.since()
    page.open(course_id)
    page.show()
    assert page.controller is not None
    settle(qtbot, page.controller.view.consequences)
    assert laid.since() == 1, "a page that is opened lays its course out"
    yield page.controller
    page.hide()


def settle(qtbot: QtBot, panels: ConsequencesPanel) -> None:
    """Let all be said."""
    qtbot.waitUntil(lambda: not panels.is_waiting)


def test_an_edit_lays_out_once_and_its_way_back_not_at_all(
    qtbot: QtBot, controller: CourseController, laid: Count
) -> None:
    """Through the same door as the lines of the page: past days looked at, saved, shown."""
    course = controller.session.course
    taper = course.protocol.phases[2]
    remedy, directions = taper.lines[0].remedy, taper.lines[1].directions
    edited = replace(
        course, protocol=with_directions(course.protocol, taper.id, remedy, directions)
    )
    controller.edit(LineEditRequest("Change", edited, remedy=remedy))
    settle(qtbot, controller.view.consequences)
    assert controller.session.course == edited
    assert laid.since() == 1
    for step in (controller.session.undo_stack.undo, controller.session.undo_stack.redo):
        step()
        settle(qtbot, controller.view.consequences)
        assert laid.since() == 0
    assert controller.session.course == edited


def test_a_decision_is_laid_out_when_it_is_told_and_not_again_when_it_is_made(
    qtbot: QtBot, controller: CourseController, laid: Count
) -> None:
    dialog = EndCourse(controller.session, controller)
    qtbot.addWidget(dialog)
    dialog.reason.setText("well")
    laid.since()
    dialog.reason.textEdited.emit("well")
    assert laid.since() == 1, "what is typed is tried out once"
    dialog.submit()
    settle(qtbot, controller.view.consequences)
    assert laid.since() == 0
    assert controller.session.course.revisions[-1].reason == "well"


def test_a_diary_mark_lays_nothing_out_and_renews_adherence_alone(
    controller: CourseController, laid: Count, monkeypatch: pytest.MonkeyPatch
) -> None:
    panels = controller.view.consequences
    renewed: list[object] = []

    def noted(panel: object, before: Callable[..., None]) -> Callable[..., None]:
        def refresh(*given: object) -> None:
            renewed.append(panel)
            before(*given)

        return refresh

    for panel in panels.panels:
        monkeypatch.setattr(panel, "refresh", noted(panel, panel.refresh))
    model = DiaryModel(controller.session.reading, NOTHING_REPORTED, {})
    model.set_taken([7], [0], 1)
    controller.records.save_diary(model)
    assert laid.since() == 0
    assert renewed == [panels.adherence]
    assert not panels.adherence.isHidden()


def test_giving_and_choosing_actions_read_what_is_on_the_page(
    qtbot: QtBot, controller: CourseController, laid: Count
) -> None:
    reading = controller.session.reading
    to = HandoutRequest(controller.practice, controller.entry.id, reading, NOW)
    give = GiveDialog(to, controller.theme, controller)
    qtbot.addWidget(give)
    give.fields.by_phase.setChecked(True)
    aims = AimsDialog(reading, controller)
    qtbot.addWidget(aims)
    aims.field.add("bitter")
    assert laid.since() == 0


def test_a_reading_is_worked_out_once_and_shares_its_days(laid: Count) -> None:
    course = real_year.real_year()
    reading = read_course(course, today=TODAY)
    other = replace(reading, today=TODAY + timedelta(days=1))
    for made in (reading, other):
        assert made.course is course
        assert made.exposures is made.exposures
        assert made.safety is made.safety
        assert made.weeks is made.weeks
        assert made.actions is made.actions
        assert made.events is made.events
        assert made.adherence(()) is None
    assert laid.since() == 1
    aims = reading.actions_wanting(("bitter",))
    assert {row.action for row in aims if row.wanted} == {"bitter"}
    assert {row.action for row in reading.actions if row.wanted} == set(course.protocol.aims)
    assert len(reading.spans_of("rescue")) == 2, "two flare-ups"
