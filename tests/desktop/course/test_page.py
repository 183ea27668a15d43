"""The page on a real practice file: opening, editing, saving, undoing, deciding, the diary."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta
from email import message_from_bytes
from pathlib import Path
from types import ModuleType
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.course import controller as desk_module
from sennight.desktop.course import records as records_module
from sennight.desktop.course.consequences.aims import AimsDialog
from sennight.desktop.course.controller import CourseController
from sennight.desktop.course.decisions.remedies import ChangeDirections
from sennight.desktop.course.decisions.timing import ChangeLength
from sennight.desktop.course.diary.diary import DiaryDialog
from sennight.desktop.course.diary.diary_model import DiaryModel
from sennight.desktop.course.diary.diary_values import Draft
from sennight.desktop.course.diary.scores_model import ScoresModel
from sennight.desktop.course.giving import dialog as giving_module
from sennight.desktop.course.giving.dialog import GiveDialog
from sennight.desktop.course.giving.request import HandoutRequest
from sennight.desktop.course.handing_over import HandOverDialog
from sennight.desktop.course.history.looking_back import LookBack
from sennight.desktop.course.history.versions import VersionsDialog
from sennight.desktop.course.lines.line_cells import Column, LineEditRequest
from sennight.desktop.course.page import CoursePage
from sennight.desktop.kit.theme import Theme, make_theme
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, Extend, Join, Redirect, as_it_stood
from sennight.domain.courses.editing import with_directions, with_length
from sennight.domain.courses.protocols import empty_protocol
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.directions.parser import parse_directions
from sennight.domain.follow_up.diaries import NOTHING_REPORTED
from sennight.domain.papers import PaperKind
from sennight.domain.remedies.forms import Form
from sennight.practice.clients import add_client
from sennight.practice.courses import add_course, course_entry, course_history, version_on
from sennight.practice.diaries import diary, scores
from sennight.practice.drafts import list_drafts
from sennight.practice.opening import OpenPractice, PracticeFileError
from sennight.practice.papers import list_given, paper_content
from sennight.practice.publications import list_publications
from sennight.practice.writing import FolderError, Staging
from support import course_cases, samples
from support.next_dialog import in_next_dialog
from support.practice_files import new_filled
from support.sample_practice import NOW

BEFORE = datetime(2027, 1, 2, 9, tzinfo=ZoneInfo("Europe/London"))
RUNNING = datetime(2027, 3, 3, 9, tzinfo=ZoneInfo("Europe/London"))


def fill(practice: OpenPractice, course: Course, now: datetime) -> str:
    client = add_client(practice, Client("Una Example", zone="Europe/London"))
    return add_course(practice, client, course, now=now)


def fill_ahead(practice: OpenPractice) -> str:
    return fill(practice, course_cases.full_course(decided=False), BEFORE)


def fill_running(practice: OpenPractice) -> str:
    return fill(practice, course_cases.full_course(), RUNNING)


def opened(
    qtbot: QtBot, practice: OpenPractice, theme: Theme, course_id: str, now: datetime
) -> tuple[CoursePage, CourseController]:
    page = CoursePage(practice, theme, now=lambda: now)
    qtbot.addWidget(page)
    page.resize(1180, 740)
    page.open(course_id)
    page.show()
    assert page.controller is not None
    return page, page.controller


@pytest.fixture
def ahead(
    qtbot: QtBot, tmp_path: Path, theme: Theme
) -> Iterator[tuple[CoursePage, CourseController]]:
    """A course that begins in two days."""
    practice, course_id = new_filled(tmp_path / "practice.sennight", fill_ahead, clock=lambda: NOW)
    with practice:
        page, controller = opened(qtbot, practice, theme, course_id, BEFORE)
        yield page, controller
        page.hide()


@pytest.fixture
def running(
    qtbot: QtBot, tmp_path: Path, theme: Theme
) -> Iterator[tuple[CoursePage, CourseController]]:
    """A course in its ninth week, with decisions."""
    practice, course_id = new_filled(
        tmp_path / "practice.sennight", fill_running, clock=lambda: NOW
    )
    with practice:
        page, controller = opened(qtbot, practice, theme, course_id, RUNNING)
        yield page, controller
        page.hide()


def stored(controller: CourseController) -> Course:
    return course_entry(controller.practice, controller.entry.id).course


def test_a_course_opens_with_its_title(running: tuple[CoursePage, CourseController]) -> None:
    _page, controller = running
    assert controller.title == "Una Example · Joint ease"
    assert controller.view.head.when.text() == "week 9 of 31"
    assert controller.view.head.when.toolTip() == "4 January to 8 August 2027"
    assert controller.session.phase_id == "maintenance"
    assert controller.view.head.client.text() == "Una Example"
    assert controller.view.head.course.text() == "Joint ease"


def test_an_edit_is_saved_at_once_and_undone(ahead: tuple[CoursePage, CourseController]) -> None:
    page, controller = ahead
    table = controller.view.lines
    controller.session.choose_phase("loading")
    table.model.setData(table.model.index(1, 1), "2.5 mL bd")
    assert str(stored(controller).protocol.phases[0].lines[1].directions) == "2.5 mL bd"
    page.undo_stack.undo()
    assert str(stored(controller).protocol.phases[0].lines[1].directions) == "5 mL tds pc"
    assert page.undo_stack.canRedo()
    assert len(course_history(controller.practice, controller.entry.id)) == 3


def test_before_it_begins_an_end_moves_by_an_edit(
    ahead: tuple[CoursePage, CourseController],
) -> None:
    page, controller = ahead
    end = controller.session.reading.layout.phases[0].span.end
    controller.move_end("loading", end + timedelta(days=7))
    assert stored(controller).protocol.phases[0].length == Length(7, CalendarUnit.WEEKS)
    assert stored(controller).revisions == ()
    page.undo_stack.undo()
    assert stored(controller).protocol.phases[0].length == Length(6, CalendarUnit.WEEKS)


def test_while_it_runs_an_end_moves_by_a_decision(
    running: tuple[CoursePage, CourseController],
) -> None:
    _page, controller = running
    end = controller.session.reading.layout.phases[1].span.end
    controller.move_end("maintenance", end - timedelta(days=3))
    form = controller.deciding.form
    assert isinstance(form, ChangeLength)
    assert (form.phase.currentData(), form.by.text()) == ("maintenance", "-3 d")
    form.reject()
    assert stored(controller).revisions == course_cases.DECIDED


def test_an_edit_of_past_days_is_asked_about(
    qtbot: QtBot, running: tuple[CoursePage, CourseController], monkeypatch: pytest.MonkeyPatch
) -> None:
    _page, controller = running
    told: list[str] = []

    def answer(_parent: object, _heading: str, text: str, **_buttons: str) -> bool:
        told.append(text)
        return len(told) == 2

    monkeypatch.setattr(desk_module, "confirm", answer)
    course = controller.session.course
    protocol = with_length(course.protocol, "loading", Length(38, CalendarUnit.DAYS))
    asked = LineEditRequest("Change a length", replace(course, protocol=protocol))
    controller.edit(asked)
    qtbot.waitUntil(lambda: len(told) == 1)
    assert stored(controller) == course
    assert "Loading ends" in told[0]
    controller.edit(asked)
    qtbot.waitUntil(lambda: stored(controller).protocol == protocol)


def test_other_directions_in_a_running_phase_are_a_decision(
    qtbot: QtBot, running: tuple[CoursePage, CourseController]
) -> None:
    _page, controller = running
    model = controller.view.lines.model
    model.setData(model.index(0, 1), "2 cups od")
    qtbot.waitUntil(lambda: isinstance(controller.deciding.form, ChangeDirections))
    form = controller.deciding.form
    assert form is not None
    form.submit()
    made = stored(controller).revisions[-1]
    assert isinstance(made, Redirect)
    assert (made.remedy, str(made.directions), made.first) == ("t1", "2 cup od", controller.today)
    assert stored(controller).protocol == course_cases.full_course().protocol


def test_an_edit_of_days_ahead_is_not(running: tuple[CoursePage, CourseController]) -> None:
    _page, controller = running
    course = controller.session.course
    protocol = with_directions(course.protocol, "taper", "t1", samples.take("1 cup bd"))
    controller.edit(LineEditRequest("Change directions", replace(course, protocol=protocol), "t1"))
    assert stored(controller).protocol == protocol


def test_a_course_saved_elsewhere_is_not_written_over(
    qtbot: QtBot, ahead: tuple[CoursePage, CourseController], theme: Theme
) -> None:
    page, controller = ahead
    other = CoursePage(page.practice, theme, now=lambda: BEFORE)
    qtbot.addWidget(other)
    other.open(controller.entry.id)
    assert other.controller is not None
    controller.view.lines.bar.add()
    assert page.save_now()
    other.controller.view.lines.bar.copy()
    assert not other.save_now()
    assert "saved elsewhere" in other.controller.view.lines.message_label.text()
    assert len(stored(controller).protocol.phases) == 5
    assert len(other.controller.session.course.protocol.phases) == 4


def test_the_diary_is_keyed_in_and_the_figure_shown(
    running: tuple[CoursePage, CourseController],
) -> None:
    _page, controller = running
    figure = controller.view.consequences.adherence
    assert figure.isHidden()
    model = DiaryModel(controller.session.reading, NOTHING_REPORTED, {})
    model.put_all_taken(model.week_of(0))
    model.set_taken([7], [0], 1)
    assert controller.records.save_diary(model)
    assert len(diary(controller.practice, controller.entry.id)) == 22
    assert not figure.isHidden()
    assert figure.head.verdict == "97 %"


def test_scores_are_saved_and_how_it_goes_is_told(
    running: tuple[CoursePage, CourseController],
) -> None:
    _page, controller = running
    panel = controller.view.consequences.goes
    model = ScoresModel(controller.session.reading, ())
    model.put(0, 0, "7")
    model.put(7, 0, "5")
    assert controller.records.save_scores(model)
    assert [score.value for score in scores(controller.practice, controller.entry.id)] == [7, 5]
    assert not panel.isHidden()
    assert "on the borderline" in panel.rows[0].sentence.text()
    again = ScoresModel(controller.session.reading, panel.scores)
    again.clear(7, 0)
    assert controller.records.save_scores(again)
    assert "is not a trend" in panel.rows[0].sentence.text()


def test_a_diary_not_saved_yet_outlives_a_look_elsewhere(
    running: tuple[CoursePage, CourseController],
) -> None:
    page, controller = running

    def key_in(dialog: DiaryDialog) -> None:
        dialog.model.set_taken([0], [0], 2)
        dialog.leave_button.click()

    def look(dialog: DiaryDialog) -> None:
        seen.append(dict(dialog.model.draft))
        dialog.main_button.click()

    seen: list[Draft] = []
    in_next_dialog(key_in)
    controller.records.enter_diary()
    page.open(controller.entry.id)
    assert page.controller is not None
    in_next_dialog(look)
    page.controller.records.enter_diary()
    assert seen == [{(course_cases.START, "t1"): 2}]
    assert list_drafts(controller.practice) == ()


def test_the_files_are_written_and_the_client_told(
    qtbot: QtBot, running: tuple[CoursePage, CourseController], tmp_path: Path
) -> None:
    _page, controller = running
    to = HandoutRequest(
        controller.practice, controller.entry.id, controller.session.reading, RUNNING
    )
    dialog = GiveDialog(to, controller.theme, controller)
    qtbot.addWidget(dialog)
    fields = dialog.fields
    fields.parts[PaperKind.DIARY].setChecked(False)
    assert "ue-joint-ease-handout-2027-03-03-no1.pdf" in dialog.summary_label.text()
    fields.by_phase.setChecked(True)
    assert dialog.summary_label.text().startswith(
        "4 files will be saved:\nue-joint-ease-handout-2027-03-03-no1.pdf"
    )
    assert "ue-joint-ease-reminders-phase-3-2027-03-03-no1.ics" in dialog.summary_label.text()
    assert "Open each of these 3 files on your phone" in dialog.phone_label.text()
    fields.by_phase.setChecked(False)
    fields.alarm.pick(10)
    dialog.folder.setText("")
    assert not dialog.main_button.isEnabled()
    dialog.folder.setText(str(tmp_path / "given"))
    dialog.submit()
    assert [path.suffix for path in dialog.paths] == [".pdf", ".ics"]
    assert all(path.stat().st_size > 1000 for path in dialog.paths)
    assert "TRIGGER:-PT10M" in dialog.paths[1].read_text("utf-8")
    assert dialog.saved.note.text().startswith("Tell the client: Open this file on your phone")
    kept = list_given(controller.practice, controller.entry.client_id)
    assert [one.name for one in kept] == [path.name for path in dialog.paths]
    assert not dialog.saved.phone.isHidden()
    again = GiveDialog(to, controller.theme, controller)
    qtbot.addWidget(again)
    again.fields.parts[PaperKind.DIARY].setChecked(False)
    again.fields.by_phase.setChecked(True)
    again.folder.setText(str(tmp_path / "given"))
    again.submit()
    assert again.saved.phone.isHidden()  # one link serves one file
    old = dialog.paths[1].name
    assert f"calendar files are in this folder: {old}." in again.saved.note.text()


def test_papers_on_record_that_got_no_name_are_written_as_they_were_kept(
    qtbot: QtBot,
    running: tuple[CoursePage, CourseController],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The disk goes after they were kept: a second press writes the same, and nothing twice."""
    _page, controller = running
    to = HandoutRequest(
        controller.practice, controller.entry.id, controller.session.reading, RUNNING
    )
    dialog = GiveDialog(to, controller.theme, controller)
    qtbot.addWidget(dialog)
    dialog.folder.setText(str(tmp_path / "given"))

    def fail(_: Staging) -> tuple[Path, ...]:
        raise FolderError("the disk is gone")

    with monkeypatch.context() as patched:
        patched.setattr(Staging, "finish", fail)
        dialog.submit()
    assert "on record under Given" in dialog.folder_row.beneath.text()
    dialog.submit()
    kept = list_given(controller.practice, controller.entry.client_id)
    assert [one.name for one in kept] == [path.name for path in dialog.paths]
    assert [path.read_bytes() for path in dialog.paths] == [
        paper_content(controller.practice, one.id) for one in kept
    ]


def test_what_was_written_goes_to_the_phone_by_mail_by_folder_or_by_link(
    qtbot: QtBot, running: tuple[CoursePage, CourseController], tmp_path: Path
) -> None:
    _page, controller = running
    to = HandoutRequest(
        controller.practice, controller.entry.id, controller.session.reading, RUNNING
    )
    dialog = GiveDialog(to, controller.theme, controller)
    qtbot.addWidget(dialog)
    dialog.fields.email.setChecked(True)
    assert "ue-joint-ease-reminders-2027-03-03-no1.eml" in dialog.summary_label.text()
    dialog.folder.setText(str(tmp_path / "given"))
    dialog.fields.subscribed.setText(str(tmp_path / "in step"))
    dialog.submit()
    assert [path.suffix for path in dialog.paths] == [
        *(".pdf", ".pdf", ".json"),
        *(".ics", ".eml", ".ics"),
    ]
    assert dialog.paths[5].parent == tmp_path / "in step"
    message = message_from_bytes(dialog.paths[4].read_bytes())
    assert [part.get_content_type() for part in message.walk()][2:] == [
        *("application/pdf", "application/pdf"),
        "text/calendar",
    ]

    def see(shown: HandOverDialog) -> None:
        assert shown.calendar == dialog.paths[3]
        shown.reject()

    in_next_dialog(see)
    dialog.saved.phone.click()
    again = GiveDialog(to, controller.theme, controller)
    qtbot.addWidget(again)
    assert again.fields.subscribed.text() == str(tmp_path / "in step")


def test_versions_are_compared_and_looked_back_on(
    qtbot: QtBot, running: tuple[CoursePage, CourseController]
) -> None:
    _page, controller = running
    extend = Extend(on=RUNNING.date(), phase="maintenance", by=1, in_weeks=True)
    assert controller.session.decide(extend)
    history = course_history(controller.practice, controller.entry.id)
    dialog = VersionsDialog(controller.session.reading, history, controller)
    qtbot.addWidget(dialog)
    assert dialog.changes_label.text().startswith(
        "Maintenance ends 30 May 2027 instead of 23 May 2027."
    )
    _box, day = dialog.after
    day.setText("2 March 2027")
    day.editingFinished.emit()
    assert dialog.changes_label.text() == "Nothing differs in what is taken."
    assert (
        as_it_stood(controller.session.course, date(2027, 2, 8)).revisions
        == course_cases.DECIDED[:1]
    )


def test_the_course_is_seen_as_it_stood_on_a_day_and_stays_as_it_is(
    qtbot: QtBot, running: tuple[CoursePage, CourseController]
) -> None:
    _page, controller = running
    extend = Extend(on=RUNNING.date(), phase="maintenance", by=1, in_weeks=True)
    assert controller.session.decide(extend)
    history = course_history(controller.practice, controller.entry.id)
    dialog = LookBack(controller.session.reading, history, controller.theme, controller)
    qtbot.addWidget(dialog)
    assert dialog.session.course.revisions == controller.session.course.revisions
    dialog.day.setText("8 February 2027")
    dialog.day.editingFinished.emit()
    assert dialog.session.course.revisions == course_cases.DECIDED[:1]
    assert dialog.session.reading.today == date(2027, 2, 8)
    assert version_on(history, date(2026, 1, 1)) == history[0]
    assert version_on(history, RUNNING.date())[2].revisions == controller.session.course.revisions
    assert not dialog.session.decide(extend)
    assert len(course_history(controller.practice, controller.entry.id)) == len(history)
    dialog.day.setText("soon")
    dialog.day.editingFinished.emit()
    assert dialog.session.course.revisions == course_cases.DECIDED[:1]


def test_in_a_low_window_calendar_and_lines_take_turns(
    qtbot: QtBot, running: tuple[CoursePage, CourseController]
) -> None:
    page, controller = running
    page.apply_theme(make_theme(dark=True, scale=150))
    page.resize(1180, 680)
    assert controller.view.is_low
    assert controller.view.lines.isHidden()
    qtbot.keyClick(controller.view.calendar.sheet, Qt.Key.Key_4)
    assert not controller.view.lines.isHidden()
    assert controller.view.calendar.stack.isHidden()
    controller.view.calendar.show_scale(0)
    assert controller.view.lines.isHidden()


def test_a_running_course_wants_what_was_chosen_and_it_can_be_undone(
    running: tuple[CoursePage, CourseController], qtbot: QtBot
) -> None:
    controller = running[1]
    before = stored(controller).protocol.aims
    wanted = (*before, "sedative")
    assert before != wanted

    def choose(dialog: AimsDialog) -> None:
        dialog.field.add("sedative")
        dialog.submit()

    in_next_dialog(choose)
    controller.view.consequences.borne.choose.click()
    assert stored(controller).protocol.aims == wanted
    qtbot.waitUntil(lambda: "sedative" in controller.view.consequences.borne.model.actions)
    controller.session.undo_stack.undo()
    assert stored(controller).protocol.aims == before


def add_line(controller: CourseController, qtbot: QtBot, press: str) -> list[str]:
    """Type a line for t3 into the phase under way, and press a button of what is asked then."""
    table = controller.view.lines.model
    texts: list[str] = []
    mains: list[str] = []

    def answer(dialog: QWidget) -> None:
        texts.extend(label.text() for label in dialog.findChildren(QLabel))
        (wanted,) = (b for b in dialog.findChildren(QPushButton) if b.text() == press)
        mains.extend(b.text() for b in dialog.findChildren(QPushButton) if b.isDefault())
        wanted.click()

    table.begin_line()
    row = table.rowCount() - 1
    table.setData(table.index(row, Column.REMEDY), samples.remedy("t3", Form.CAPSULE))
    in_next_dialog(answer)
    table.setData(table.index(row, Column.TAKE), "1 capsule od")
    qtbot.waitUntil(lambda: bool(texts))
    return [*texts, *mains]


def test_a_line_joins_a_phase_under_way_from_today_on(
    qtbot: QtBot, running: tuple[CoursePage, CourseController]
) -> None:
    """As a decision: the phase is not split, and no cycle begins anew."""
    controller = running[1]
    texts = add_line(controller, qtbot, "From 3 March 2027 on")
    assert texts[0] == "This phase is under way"
    assert "“From 3 March 2027 on” is a decision, and is kept." in texts[1]
    assert "Remedy t3: 1 capsule od from 3 March to" in texts[1]
    assert texts[-1] == "From 3 March 2027 on"
    assert "“Change the record” counts it as taken all along" in texts[1]
    course = stored(controller)
    assert course.protocol == course_cases.full_course().protocol
    today = course_cases.TODAY
    assert course.revisions[-1] == Join(
        on=today, remedy="t3", first=today, directions=parse_directions("1 capsule od")
    )
    assert not controller.session.undo_stack.canUndo()


def test_a_line_may_change_the_record_or_be_left(
    qtbot: QtBot, running: tuple[CoursePage, CourseController]
) -> None:
    controller = running[1]
    add_line(controller, qtbot, "Cancel")
    assert stored(controller).protocol == course_cases.full_course().protocol
    controller.view.lines.model.remove(3)
    add_line(controller, qtbot, "Change the record")
    lines = stored(controller).protocol.phases[1].lines
    assert [line.remedy for line in lines] == ["t1", "t2", "t4", "t3"]


def test_a_course_without_lines_is_not_given(
    qtbot: QtBot, empty_practice: OpenPractice, theme: Theme
) -> None:
    empty = replace(
        course_cases.full_course(decided=False), remedies=(), protocol=empty_protocol("Knees")
    )
    page, controller = opened(
        qtbot, empty_practice, theme, fill(empty_practice, empty, BEFORE), BEFORE
    )
    controller.give()
    assert (
        controller.view.lines.message_label.text()
        == "Nothing is taken in this course; add a line first."
    )
    assert list_publications(controller.practice, controller.entry.id) == ()
    page.hide()


FULL = "the disk is full; free some space and try again. Nothing was saved."


class FullDisk:
    """Saving that fails for want of room, until there is some."""

    def __init__(
        self, monkeypatch: pytest.MonkeyPatch, name: str, where: ModuleType = desk_module
    ) -> None:
        self.is_full, self._save = True, getattr(where, name)
        monkeypatch.setattr(where, name, self)

    def __call__(self, *values: object, **named: object) -> object:
        if self.is_full:
            raise PracticeFileError(FULL)
        return self._save(*values, **named)


def test_an_edit_is_drawn_first_saved_when_that_is_done_and_before_anything_else(
    qtbot: QtBot, ahead: tuple[CoursePage, CourseController]
) -> None:
    page, controller = ahead
    practice, course_id = controller.practice, controller.entry.id

    def saved() -> int:
        return course_entry(practice, course_id).version

    before = saved()
    controller.view.lines.bar.add()
    assert len(controller.session.course.protocol.phases) == 5
    assert saved() == before
    qtbot.waitUntil(lambda: saved() == before + 1)
    controller.view.lines.bar.copy()
    page.undo_stack.undo()
    assert len(controller.session.course.protocol.phases) == 5
    controller.view.lines.bar.copy()
    page.open(course_id)
    assert saved() == before + 2
    assert page.controller is not None
    assert len(page.controller.session.course.protocol.phases) == 6


def test_an_edit_on_a_full_disk_is_told_kept_and_tried_again(
    ahead: tuple[CoursePage, CourseController], monkeypatch: pytest.MonkeyPatch
) -> None:
    page, controller = ahead
    disk = FullDisk(monkeypatch, "save_course")
    before, lines = controller.session.course, controller.view.lines
    protocol = with_length(before.protocol, "loading", Length(7, CalendarUnit.WEEKS))
    edited = replace(before, protocol=protocol)
    controller.edit(LineEditRequest("Change the length", edited))
    assert controller.session.course is edited, "it is drawn before it is saved"
    assert not page.save_now()
    assert lines.message_label.text() == f"T{FULL[1:]}"
    assert lines.again.isVisibleTo(lines)
    assert not controller.session.undo_stack.canUndo(), "what was not done cannot be taken back"
    assert controller.session.course == stored(controller) == before
    lines.again.click()
    assert not page.save_now()
    assert lines.message_label.text() == f"T{FULL[1:]}", "still full"
    disk.is_full = False
    lines.again.click()
    assert controller.session.course == stored(controller) == edited
    assert controller.session.undo_stack.canUndo()
    assert not lines.again.isVisibleTo(lines)
    assert not lines.message_label.text()


def test_a_diary_on_a_full_disk_is_told_and_stays_keyed_in(
    running: tuple[CoursePage, CourseController], monkeypatch: pytest.MonkeyPatch
) -> None:
    _page, controller = running
    FullDisk(monkeypatch, "enter_whole_diary", records_module)
    model = DiaryModel(controller.session.reading, NOTHING_REPORTED, {})
    model.set_taken([0], [0], 2)
    assert not controller.records.save_diary(model)
    assert controller.view.lines.message_label.text() == f"T{FULL[1:]}"
    assert diary(controller.practice, controller.entry.id) == ()


def test_giving_on_a_full_disk_is_told_where_it_was_asked_for(
    qtbot: QtBot,
    running: tuple[CoursePage, CourseController],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    _page, controller = running

    def full(*_values: object, **_named: object) -> None:
        raise PracticeFileError(FULL)

    monkeypatch.setattr(giving_module, "give", full)
    to = HandoutRequest(
        controller.practice, controller.entry.id, controller.session.reading, RUNNING
    )
    dialog = GiveDialog(to, controller.theme, controller)
    qtbot.addWidget(dialog)
    dialog.folder.setText(str(tmp_path))
    dialog.submit()
    assert dialog.status.text() == FULL
    assert not dialog.is_done
