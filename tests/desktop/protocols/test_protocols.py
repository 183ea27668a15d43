"""The place of the protocols: the shelf, the editor, files, comparing."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from sennight.desktop.intake import import_file
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.navigation import PROTOCOLS, Route, RouteKind
from sennight.desktop.parts.protocol_words import PhaseWords
from sennight.desktop.protocols import work as protocols_work
from sennight.desktop.protocols.comparing import CompareDialog, only_in
from sennight.desktop.protocols.editor import ProtocolEditor
from sennight.desktop.protocols.phase_amounts import amounts_of
from sennight.desktop.protocols.section import ProtocolsSection
from sennight.desktop.protocols.shelf_page import NameDialog
from sennight.desktop.protocols.work import ProtocolsWork
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Settings
from sennight.domain.papers import protocol_file_name
from sennight.practice.courses import course_entry
from sennight.practice.protocols import list_protocols, shelf_protocol
from sennight.practice.supplied_protocols import supplied_protocols
from sennight.practice.writing import FolderError
from support.next_dialog import in_next_dialog
from support.pages import clients_of
from support.sample_practice import TODAY, Sample

JOINTS = "supplied:joints"


@pytest.fixture
def frame(
    qtbot: QtBot, sample: Sample, appearance: Appearance, settings: Settings
) -> Iterator[MainWindow]:
    made = MainWindow(sample.practice, appearance, settings, today=lambda: TODAY)
    qtbot.addWidget(made)
    made.show()
    yield made
    made.hide()


@pytest.fixture
def place(frame: MainWindow) -> ProtocolsWork:
    frame.go(PROTOCOLS)
    return frame.section(ProtocolsSection).work


def opened(frame: MainWindow, protocol_id: str) -> ProtocolEditor:
    frame.go(Route(RouteKind.PROTOCOL, protocol_id))
    editor = frame.section(ProtocolsSection).work.protocol.editor
    assert editor is not None
    return editor


def named(name: str) -> None:
    def give(dialog: FormDialog) -> None:
        assert isinstance(dialog, NameDialog)
        dialog.shelf.name.setText(name)
        dialog.submit()

    in_next_dialog(give)


def test_the_shelf_has_own_and_supplied_protocols_and_is_narrowed_by_what_is_in_them(
    place: ProtocolsWork, sample: Sample
) -> None:
    shelf = place.shelf
    own = [entry.protocol.name for entry in list_protocols(sample.practice)]
    supplied = [entry.protocol.name for entry in supplied_protocols()]
    assert [entry.protocol.name for entry in shelf._shown] == [*own, *supplied]
    shelf.list.narrow.setText("gum capsules")
    assert [entry.protocol.name for entry in shelf._shown] == ["Joints"]
    shelf.list.narrow.setText("sedative")
    assert [entry.protocol.name for entry in shelf._shown] == ["Sleep"]


def test_a_supplied_protocol_is_looked_at_copied_and_the_copy_changed(
    qtbot: QtBot, frame: MainWindow, sample: Sample
) -> None:
    editor = opened(frame, JOINTS)
    assert editor.is_supplied
    before = list_protocols(sample.practice)
    editor.rename("Mine")
    qtbot.waitUntil(lambda: "Copy it" in editor.lines.message_label.text())
    assert list_protocols(sample.practice) == before
    assert editor.session.course.protocol.name == "Joints"
    named("Knees in winter")
    frame.section(ProtocolsSection).work.copy()
    copied = frame.section(ProtocolsSection).work.protocol.editor
    assert copied is not None
    assert (copied.is_supplied, copied.shelf.protocol.name) == (False, "Knees in winter")
    named("Knees")
    frame.section(ProtocolsSection).work.rename()
    assert copied.session.save_now()
    assert shelf_protocol(sample.practice, copied.shelf.id).protocol.name == "Knees"
    assert copied.title.text() == "Knees"
    frame.section(ProtocolsSection).work.protocol.undo_stack.undo()
    copied.session.save_now()
    assert shelf_protocol(sample.practice, copied.shelf.id).protocol.name == "Knees in winter"


def test_a_name_that_is_taken_is_refused(
    frame: MainWindow, place: ProtocolsWork, sample: Sample
) -> None:
    taken = list_protocols(sample.practice)[0].protocol.name
    said: list[str] = []

    def give(dialog: FormDialog) -> None:
        assert isinstance(dialog, NameDialog)
        dialog.shelf.name.setText(taken)
        dialog.submit()
        said.append(dialog.shelf.name_row.beneath.text())
        dialog.shelf.name.setText("A new one")
        dialog.submit()

    in_next_dialog(give)
    place.new()
    assert "already" in said[0]
    editor = place.protocol.editor
    assert editor is not None
    assert editor.shelf.protocol.name == "A new one"
    assert frame.windowTitle().startswith("Protocol –")


def test_amounts_are_those_of_the_phase_in_hand_and_of_a_flare_up_plan(frame: MainWindow) -> None:
    editor = opened(frame, JOINTS)
    reading = editor.session.reading
    assert "nettle-leaf" in {row.herb for row in amounts_of(reading, "loading")}
    plan = {row.herb for row in amounts_of(reading, "flare-up")}
    assert "willow-bark" in plan
    editor.session.choose_phase("flare-up")
    assert "Flare-up" in editor.amounts.when.text()
    assert editor.amounts.bars.model().rowCount() == len(plan)


def test_what_a_phase_holds_is_said_once_from_the_first_frame(frame: MainWindow) -> None:
    editor = opened(frame, JOINTS)
    held = [
        label
        for label in editor.lines.findChildren(QLabel)
        if label.text().startswith("At least 6 weeks.") and label.isVisible()
    ]
    assert held == [editor.lines.holds_label]


def test_a_protocol_goes_out_as_a_file_and_comes_in_again(
    frame: MainWindow,
    place: ProtocolsWork,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    told: list[str] = []

    class Told:
        def __init__(self, _parent: object, heading: str, _text: str) -> None:
            told.append(heading)

        def exec(self) -> None: ...

    monkeypatch.setattr(protocols_work, "message_dialog", Told)
    path = tmp_path / "joints.toml"
    names: list[str] = []

    def asked(_parent: object, _title: str, name: str, _kinds: str) -> Path:
        names.append(name)
        return path

    monkeypatch.setattr(protocols_work, "ask_where", asked)
    shelf = opened(frame, JOINTS).shelf
    place.save_file()
    assert names == [protocol_file_name(shelf.protocol.name)]
    monkeypatch.setattr(import_file, "ask_for_file", lambda *_, **__: path)

    def take(dialog: FormDialog) -> None:
        assert isinstance(dialog, import_file.ImportDialog)
        assert dialog.whole.isHidden()
        dialog.shelf.name.setText("Brought in")
        dialog.submit()

    in_next_dialog(take)
    place.take_in_file()
    editor = place.protocol.editor
    assert editor is not None
    assert editor.shelf.protocol.name == "Brought in"

    def full(*_: object) -> Path:
        raise FolderError("the disk is full")

    monkeypatch.setattr(protocols_work, "write_protocol_file", full)
    place.save_file()
    assert told == ["Saved", "Could not be saved"]
    monkeypatch.setattr(protocols_work, "ask_where", lambda *_: None)
    monkeypatch.setattr(import_file, "ask_for_file", lambda *_, **__: None)
    place.save_file()
    place.take_in_file()
    assert len(told) == 2


@pytest.mark.usefixtures("frame")
def test_two_protocols_are_compared_phase_by_phase(qtbot: QtBot) -> None:
    joints, sleep = supplied_protocols()[1:3]
    dialog = CompareDialog(joints, [joints, sleep], None)
    qtbot.addWidget(dialog)
    assert "Lane tea" in dialog.left.toPlainText()
    assert dialog.left.toPlainText() == dialog.right.toPlainText()
    dialog.choice.setCurrentIndex(1)
    assert "Dusk tea" in dialog.right.toPlainText()
    assert not only_in((), ())


def test_a_phase_with_nothing_in_common_is_marked_by_its_heading_alone() -> None:
    mine = PhaseWords("Loading", ("tea twice", "rub once")), PhaseWords("Step-down", ("tea once",))
    theirs = PhaseWords("Loading", ("drops",)), PhaseWords("Step-down", ("tea once", "rub once"))
    assert only_in(mine, theirs) == {"Loading"}
    assert only_in(theirs, mine) == {"Loading", "rub once"}


def test_who_takes_it_is_told_and_is_a_way_to_the_course(
    frame: MainWindow, sample: Sample
) -> None:
    name = course_entry(sample.practice, sample.course).course.protocol.name
    shelf = next(e for e in list_protocols(sample.practice) if e.protocol.name == name)
    editor = opened(frame, shelf.id)
    assert sample.course in editor.runs.text()
    editor.runs.linkActivated.emit(sample.course)
    assert frame.stack.currentWidget() is clients_of(frame).course


def test_keys_go_to_the_protocols(frame: MainWindow, qtbot: QtBot) -> None:
    qtbot.keyClick(frame, Qt.Key.Key_3, Qt.KeyboardModifier.ControlModifier)
    assert frame.stack.currentWidget() is frame.section(ProtocolsSection).work.shelf
