"""Course files in and out on the screen, and the archive of clients."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.clients.folder_page import FolderPage
from sennight.desktop.clients.list_page import ClientsPage
from sennight.desktop.course.save_as import save_to_shelf, write_as_file, write_as_table
from sennight.desktop.intake.import_file import import_file
from sennight.desktop.kit.theme import Theme
from sennight.domain.follow_up.diaries import DayNote, Reported
from sennight.domain.herbs.own_herbs import OwnHerb
from sennight.practice.clients import client_entry, list_clients
from sennight.practice.courses import course_entry, list_courses
from sennight.practice.diaries import enter_whole_diary, whole_diary
from sennight.practice.diary_tables import read_diary_file
from sennight.practice.importing import read_for_import
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import list_own_herbs, save_own_herb
from sennight.practice.protocols import list_protocols
from support.files import COURSES
from support.next_dialog import in_next_dialog
from support.sample_practice import NOW, Sample

KNEES = COURSES / "knees.toml"
Key = Qt.Key


@pytest.fixture
def window(qtbot: QtBot, theme: Theme) -> QWidget:
    assert theme
    made = QWidget()
    qtbot.addWidget(made)
    return made


def choose(monkeypatch: pytest.MonkeyPatch, path: Path) -> None:
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(path), ""))
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))


def test_a_new_practice_brings_its_first_protocol_in(
    empty_practice: OpenPractice, window: QWidget, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose(monkeypatch, KNEES)
    told: list[str] = []

    def take(sheet: QWidget) -> None:
        told.append(sheet.message.text())  # type: ignore[attr-defined]
        qtbot.keyClick(sheet.focusWidget(), Key.Key_Return)

    in_next_dialog(take)
    brought = import_file(window, empty_practice, NOW)
    assert told == ["A protocol of 3 phases with 4 remedies is saved to Protocols."]
    assert brought is not None
    assert [one.protocol.name for one in list_protocols(empty_practice)] == ["Stiff knees"]
    assert list_clients(empty_practice) == ()


def test_all_of_a_file_comes_in_where_that_is_wanted(
    empty_practice: OpenPractice, window: QWidget, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose(monkeypatch, KNEES)

    def take(sheet: QWidget) -> None:
        sheet.whole.click()  # type: ignore[attr-defined]
        sheet.submit()  # type: ignore[attr-defined]

    in_next_dialog(take)
    brought = import_file(window, empty_practice, NOW)
    assert brought is not None
    (course,) = list_courses(empty_practice, brought.client_id)
    assert course.id == brought.course_id
    assert course.client_name == "Una Fennimore-Example"


def test_a_name_that_the_shelf_has_is_told_at_its_field(
    empty_practice: OpenPractice, window: QWidget, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose(monkeypatch, KNEES)
    in_next_dialog(lambda sheet: sheet.submit())
    import_file(window, empty_practice, NOW)
    seen: list[str] = []

    def again(sheet: QWidget) -> None:
        sheet.submit()  # type: ignore[attr-defined]
        seen.append(sheet.shelf.name_row.beneath.text())  # type: ignore[attr-defined]
        sheet.shelf.name.setText("Stiff knees, winter")  # type: ignore[attr-defined]
        sheet.submit()  # type: ignore[attr-defined]

    in_next_dialog(again)
    assert import_file(window, empty_practice, NOW) is not None
    (said,) = seen
    assert said.startswith("there is already a protocol “Stiff knees” on the shelf")
    assert said.endswith("choose another name")
    assert len(list_protocols(empty_practice)) == 2


def test_a_wrong_file_is_told_with_every_place(
    empty_practice: OpenPractice,
    window: QWidget,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    path = tmp_path / "wrong.toml"
    text = KNEES.read_text("utf-8").replace('method = "decoction"', 'method = "boiling"')
    path.write_text(text, "utf-8")
    choose(monkeypatch, path)
    seen: list[str] = []

    def read(sheet: QWidget) -> None:
        seen.append(sheet.accessibleName())
        sheet.close()

    in_next_dialog(read)
    assert import_file(window, empty_practice, NOW) is None
    assert seen == ["wrong.toml cannot be imported"]
    assert list_protocols(empty_practice) == ()


def test_a_course_is_kept_as_a_protocol_under_a_new_name(
    sample: Sample, window: QWidget, qtbot: QtBot
) -> None:
    course = course_entry(sample.practice, sample.course).course

    def name(sheet: QWidget) -> None:
        qtbot.keyClick(sheet.focusWidget(), Key.Key_Return)
        assert sheet.shelf.name_row.is_wrong  # type: ignore[attr-defined]
        sheet.shelf.name.setText("")  # type: ignore[attr-defined]
        qtbot.keyClicks(sheet.focusWidget(), "Winter joints, milder")
        qtbot.keyClick(sheet.focusWidget(), Key.Key_Return)

    in_next_dialog(name)
    save_to_shelf(sample.practice, course, window)
    names = [one.protocol.name for one in list_protocols(sample.practice)]
    assert names == ["Quiet evenings", "Winter joints", "Winter joints, milder"]


def test_a_course_is_written_as_a_file_after_telling_what_is_in_it(
    sample: Sample, window: QWidget, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, qtbot: QtBot
) -> None:
    path = tmp_path / "winter.toml"
    choose(monkeypatch, path)
    course = course_entry(sample.practice, sample.course).course
    seen: list[str] = []

    def agree(dialog: QWidget) -> None:
        seen.append(dialog.accessibleDescription())
        in_next_dialog(lambda told: told.accept())
        qtbot.keyClick(dialog, Key.Key_Return)

    in_next_dialog(agree)
    write_as_file(sample.practice, sample.course, course, window)
    assert "the client's name" in seen[0]
    assert read_for_import(sample.practice, path).course.protocol == course.protocol
    said = Reported(notes=(DayNote(course.start, "Slept well"),))
    enter_whole_diary(sample.practice, sample.course, said)
    in_next_dialog(agree)
    write_as_table(sample.practice, sample.course, course, window)
    assert "said day by day" in seen[1]
    assert read_diary_file(path, course) == whole_diary(sample.practice, sample.course)


def test_a_folder_goes_into_the_archive_and_comes_back(
    sample: Sample, theme: Theme, qtbot: QtBot
) -> None:
    folder = FolderPage(sample.practice, theme, lambda: NOW)
    clients = ClientsPage(sample.practice, theme, NOW.date)
    for page in (folder, clients):
        qtbot.addWidget(page)
    folder.open(sample.clients["noor"])
    folder.turn_archive()
    assert client_entry(sample.practice, sample.clients["noor"]).archived
    clients.load()
    assert clients.list.count.text() == "2 clients"
    clients.turn_over()
    assert clients.list.title.text() == "Clients in the archive"
    assert clients.list.count.text() == "1 client"
    assert clients.list.current() == sample.clients["noor"]
    folder.turn_archive()
    clients.load()
    assert clients.list.count.text() == ""
    clients.turn_over()
    assert clients.list.count.text() == "3 clients"
    assert folder.undo_stack is not None
    folder.undo_stack.undo()
    assert client_entry(sample.practice, sample.clients["noor"]).archived


def test_a_herb_that_is_known_otherwise_is_asked_about(
    empty_practice: OpenPractice, window: QWidget, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose(monkeypatch, COURSES / "own-herb.toml")
    save_own_herb(empty_practice, OwnHerb("own-moonwort", "Moonwort"))
    seen: list[bool] = []

    def take(sheet: QWidget) -> None:
        sheet.submit()  # type: ignore[attr-defined]
        seen.append(sheet.isVisible())
        (box,) = sheet._choices.values()  # type: ignore[attr-defined]
        assert "Latin name" in box.accessibleName()
        box.setCurrentIndex(2)
        sheet.submit()  # type: ignore[attr-defined]

    in_next_dialog(take)
    assert import_file(window, empty_practice, NOW)
    assert seen == [True], "nothing is taken before it was chosen"
    (own,) = list_own_herbs(empty_practice)
    assert own.part == "frond"
