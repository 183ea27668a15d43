"""A formula is a version once it is saved or given; closing asks where words would be lost."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from PySide6.QtWidgets import QApplication, QDialog, QLabel, QPushButton
from pytestqt.qtbot import QtBot

from sennight.desktop.clients.start_dialog import StartDialog
from sennight.desktop.course.controller import CourseController
from sennight.desktop.course.drafted_formula import remedies_to_give
from sennight.desktop.course.lines.line_cells import LineEditRequest
from sennight.desktop.kit import drafts as drafts_module
from sennight.desktop.kit.navigation import REMEDIES, Route, RouteKind
from sennight.desktop.remedies.page import RemedyPage
from sennight.desktop.remedies.section import RemediesSection
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Settings
from sennight.desktop.shell.unfinished_dialog import UnfinishedDialog
from sennight.domain.courses.courses import Course
from sennight.domain.courses.editing import add_line, with_remedy
from sennight.domain.courses.protocols import Line
from sennight.domain.directions.parser import parse_directions
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Remedy
from sennight.practice.clients import client_entry
from sennight.practice.drafts import list_drafts
from sennight.practice.formula_drafts import formula_drafts
from sennight.practice.formulating import new_remedy
from sennight.practice.opening import OpenPractice, PracticeFileError
from sennight.practice.remedies import list_remedies, save_remedy, shelf_remedy
from support.next_dialog import in_next_dialog
from support.pages import clients_of
from support.sample_practice import TEA, TODAY, Sample

NewFrame = Callable[[], MainWindow]


@pytest.fixture
def new_frame(
    qtbot: QtBot, sample: Sample, appearance: Appearance, settings: Settings
) -> Iterator[NewFrame]:
    frames: list[MainWindow] = []

    def made() -> MainWindow:
        frame = MainWindow(sample.practice, appearance, settings, today=lambda: TODAY)
        qtbot.addWidget(frame)
        frame.show()
        frames.append(frame)
        return frame

    yield made
    for frame in frames:
        frame.hide()


def formula_page(frame: MainWindow, remedy: str) -> RemedyPage:
    frame.go(Route(RouteKind.REMEDY, remedy))
    return frame.section(RemediesSection).remedy


def test_leaving_a_formula_leaves_a_draft_and_no_version(
    new_frame: NewFrame, sample: Sample
) -> None:
    frame = new_frame()
    page = formula_page(frame, "tea")
    page.name.setText("Stronger tea")
    frame.go(REMEDIES)
    assert (shelf_remedy(sample.practice, "tea").version, len(list_drafts(sample.practice))) == (
        1,
        1,
    )
    shelf = frame.section(RemediesSection).shelf
    assert "1, changed since" in [row[3] for row in map(shelf._cells, range(2))]
    frame.close()
    again = formula_page(new_frame(), "tea")
    assert again.name.text() == "Stronger tea"
    assert again.is_changed
    assert again.keep()
    assert shelf_remedy(sample.practice, "tea").remedy.name == "Stronger tea"
    assert list_drafts(sample.practice) == ()


def test_a_formula_that_was_never_saved_is_on_the_shelf_after_a_new_start(
    new_frame: NewFrame,
) -> None:
    frame = new_frame()
    begun = new_remedy("Evening tea", Form.TEA)
    frame.section(RemediesSection).remedy.begin(begun)
    formula_page(frame, begun.id)
    frame.go(REMEDIES)
    frame.close()
    later = new_frame()
    later.go(REMEDIES)
    shelf = later.section(RemediesSection).shelf
    cells = [shelf._cells(row) for row in range(3)]
    assert ("Evening tea", "not saved yet") in [(row[0], row[3]) for row in cells]
    assert formula_page(later, begun.id).name.text() == "Evening tea"


def press(name: str) -> Callable[[QDialog], None]:
    def pressed(dialog: QDialog) -> None:
        buttons = dialog.findChildren(QPushButton)
        next(button for button in buttons if button.text() == name).click()

    return pressed


def with_tea(controller: CourseController, practice: OpenPractice) -> Course:
    """The course with another tea in its phase, as the table of lines asks for it."""
    course = controller.session.course
    other = next(one for one in remedies_to_give(practice) if one.id == "other")
    phase = controller.session.phase_id
    line = Line(other.id, parse_directions("1 cup od"))
    return with_remedy(replace(course, protocol=add_line(course.protocol, phase, line)), other)


@pytest.mark.parametrize(
    ("pressed", "given", "versions"),
    [
        ("Save version 2 and give it", "Other tea, stronger", 2),
        ("Give version 1", "Other tea", 1),
        ("Cancel", None, 1),
    ],
)
def test_giving_a_formula_with_changes_asks_which_version_is_given(
    new_frame: NewFrame,
    sample: Sample,
    monkeypatch: pytest.MonkeyPatch,
    pressed: str,
    given: str | None,
    versions: int,
) -> None:
    frame = new_frame()
    save_remedy(sample.practice, _other("Other tea"))
    formula_page(frame, "other").name.setText("Other tea, stronger")
    frame.go(Route(RouteKind.COURSE, sample.course))
    controller = clients_of(frame).course.controller
    assert controller is not None
    course = with_tea(controller, sample.practice)
    in_next_dialog(press(pressed))
    edited: list[LineEditRequest] = []
    monkeypatch.setattr(controller, "edit_past", lambda asked, _: edited.append(asked))
    controller.edit(LineEditRequest("Add a line", course))
    QApplication.processEvents()  # days that are past are asked about a moment later
    names = [one.name for asked in edited for one in asked.course.remedies if one.id == "other"]
    assert names == ([] if given is None else [given])
    saved = {entry.id: entry.version for entry in list_remedies(sample.practice)}
    assert saved["other"] == versions
    assert len(formula_drafts(sample.practice)) == (0 if versions == 2 else 1)


def _other(name: str) -> Remedy:
    return replace(TEA, id="other", name=name)


def test_starting_a_course_says_which_changes_are_left_out(
    new_frame: NewFrame, sample: Sample
) -> None:
    frame, told = new_frame(), list[str]()
    formula_page(frame, "tea").name.setText("Stronger tea")
    frame.go(Route(RouteKind.FOLDER, sample.clients["efua"]))

    def look(dialog: StartDialog) -> None:
        for row in range(2):
            dialog.protocols.select_row(row)
            told.append(dialog.unsaved.text())
        dialog.reject()

    in_next_dialog(look)
    clients_of(frame).folder.start_course()
    assert sorted(told) == ["", "Changes that are not saved are left out: Joint tea."]


@pytest.mark.parametrize("kind", ["join", "formula"])
def test_a_decision_says_which_changes_it_leaves_out(
    new_frame: NewFrame, sample: Sample, kind: str
) -> None:
    frame, told = new_frame(), list[list[str]]()
    page = formula_page(frame, "drops")
    for name in ("Warming drops", "Hotter drops"):
        page.name.setText(name)
        frame.go(Route(RouteKind.COURSE, sample.course))
        controller = clients_of(frame).course.controller
        assert controller is not None

        def look(dialog: QDialog) -> None:
            told.append([label.text() for label in dialog.findChildren(QLabel)])
            dialog.reject()

        controller.decide(kind)
        assert controller.deciding.form is not None
        look(controller.deciding.form)
        formula_page(frame, "drops")
    left_out = "Changes that are not saved are left out: Hotter drops."
    assert [left_out in labels for labels in told] == [False, True]


def test_closing_with_a_note_that_is_saved_or_kept_asks_nothing(
    new_frame: NewFrame, sample: Sample
) -> None:
    frame, client = new_frame(), sample.clients["efua"]
    frame.go(Route(RouteKind.FOLDER, client))
    clients_of(frame).folder.note.setPlainText("prefers mornings")
    assert frame.close()
    assert client_entry(sample.practice, client).note == "prefers mornings"
    assert list_drafts(sample.practice) == ()


def _full(*_: object, **__: object) -> None:
    raise PracticeFileError("the disk is full")


def test_closing_asks_where_a_note_can_neither_be_saved_nor_kept(
    new_frame: NewFrame, sample: Sample, monkeypatch: pytest.MonkeyPatch
) -> None:
    frame, client = new_frame(), sample.clients["efua"]
    frame.go(Route(RouteKind.FOLDER, client))
    folder = clients_of(frame).folder
    folder.note.setPlainText("prefers mornings")
    monkeypatch.setattr("sennight.desktop.clients.folder_page.change_client", _full)
    assert frame.close()  # it cannot be saved, but is kept on disk
    frame.show()
    monkeypatch.setattr(drafts_module, "keep_draft", _full)
    folder.note.setPlainText("prefers late mornings")
    in_next_dialog(press("Keep editing"))
    assert not frame.close()
    assert folder.note.toPlainText() == "prefers late mornings"
    in_next_dialog(press("Close"))
    assert frame.close()
    monkeypatch.undo()
    assert client_entry(sample.practice, client).note == ""
    reopened = new_frame()
    reopened.go(Route(RouteKind.FOLDER, client))
    assert clients_of(reopened).folder.note.toPlainText() == "prefers mornings"


def test_unfinished_work_is_listed_and_can_be_discarded(
    new_frame: NewFrame, sample: Sample
) -> None:
    frame = new_frame()
    formula_page(frame, "tea").name.setText("Stronger tea")
    frame.go(REMEDIES)

    def discard(dialog: UnfinishedDialog) -> None:
        assert dialog.main_button.isEnabled()
        in_next_dialog(press("Discard"))
        dialog.discard.click()
        assert not dialog.main_button.isEnabled()
        assert dialog.rows.isHidden(), "nothing is left to list"
        dialog.reject()

    in_next_dialog(discard)
    frame.actions_by_id["unfinished"].trigger()
    assert list_drafts(sample.practice) == ()
