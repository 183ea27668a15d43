"""The diary grid and its keys."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from sennight.desktop.course.diary import diary
from sennight.desktop.course.diary.diary import DiaryDialog
from sennight.desktop.course.diary.diary_model import DiaryModel
from sennight.desktop.course.diary.diary_values import Draft
from sennight.desktop.kit.theme import Theme
from sennight.domain.courses.protocols import AdviceLine
from sennight.domain.directions.parser import parse_timing
from sennight.domain.follow_up.diaries import (
    NOTHING_REPORTED,
    DayNote,
    Followed,
    Reported,
    Score,
    Taken,
)
from sennight.domain.schedule.doses import expected
from support import course_cases

SPOKEN = Qt.ItemDataRole.AccessibleTextRole


@pytest.fixture
def draft() -> Draft:
    return {}


@pytest.fixture
def model(draft: Draft) -> DiaryModel:
    saved = Reported((Taken(date(2027, 1, 4), "t1", 2),))
    return DiaryModel(course_cases.session().reading, saved, draft)


def test_the_model_is_sound(model: DiaryModel, qtmodeltester: ModelTester) -> None:
    qtmodeltester.check(model)


def test_a_cell_has_no_rows_or_columns_of_its_own(model: DiaryModel) -> None:
    cell = model.index(0, 0)
    assert model.rowCount() == len(model.days) > 1
    assert model.columnCount() == len(model.names) > 1
    assert (model.rowCount(cell), model.columnCount(cell)) == (0, 0)


def test_rows_run_up_to_today_and_know_what_was_due(model: DiaryModel) -> None:
    assert model.days[0] == course_cases.START
    assert model.days[-1] == course_cases.TODAY
    stretches = model.reading.layout.stretches
    for row in range(0, model.rowCount(), 5):
        for column, remedy in enumerate(model.reading.course.remedies):
            due = expected(stretches, remedy.id, model.days[row])
            assert (model.due(row, column) or 0) == due


def test_keys_fill_the_grid(qtbot: QtBot, model: DiaryModel, draft: Draft, theme: Theme) -> None:
    dialog = DiaryDialog(model, theme)
    qtbot.addWidget(dialog)
    grid = dialog.grid
    assert grid.currentIndex().row() == 1
    counts = []
    for _ in range(4):
        qtbot.keyClick(grid, Qt.Key.Key_Space)
        counts.append(model.count(1, 0))
    assert counts == [3, 1, 0, None]
    qtbot.keyClick(grid, Qt.Key.Key_2)
    assert model.count(1, 0) == 2
    assert grid.currentIndex().row() == 2
    qtbot.keyClick(grid, Qt.Key.Key_D)
    assert [model.count(2, column) for column in range(3)] == [3, 3, 2]
    qtbot.keyClick(grid, Qt.Key.Key_W)
    assert model.count(6, 2) == 2
    assert grid.currentIndex().row() == 7
    qtbot.keyClick(grid, Qt.Key.Key_Up)
    qtbot.keyClick(grid, Qt.Key.Key_Delete)
    assert model.count(6, 0) is None
    assert (date(2027, 1, 10), "t1") not in draft


def test_a_saved_entry_is_corrected_not_wiped(model: DiaryModel) -> None:
    model.cycle(0, 0)
    assert model.count(0, 0) == 3
    for _ in range(4):
        model.cycle(0, 0)
        assert model.count(0, 0) is not None


def test_the_figure_follows_the_draft(qtbot: QtBot, model: DiaryModel, theme: Theme) -> None:
    dialog = DiaryDialog(model, theme)
    qtbot.addWidget(dialog)
    few = "2 of 3 due doses taken; too few days have an entry yet."
    assert dialog.figure.text() == few
    assert not dialog.main_button.isEnabled()
    model.put_all_taken([0])
    assert dialog.figure.text().startswith("100 %")
    assert dialog.figure.text().endswith(" Entries not saved yet: 3.")
    assert dialog.main_button.isEnabled()


def test_cells_are_said_in_full(model: DiaryModel) -> None:
    said = model.index(0, 0).data(Qt.ItemDataRole.AccessibleTextRole)
    assert said == "Monday 4 January 2027, Remedy t1: 2 taken of 3 due"


def test_advice_that_is_ticked_off_has_a_column_of_its_own(qtbot: QtBot, theme: Theme) -> None:
    walk = AdviceLine("Walk for 20 minutes", parse_timing("at 08:00 on mon wed"), diary=True)
    course = course_cases.full_course(decided=False)
    loading = replace(course.protocol.phases[0], advice=(walk, AdviceLine("Leave out coffee")))
    phases = (loading, *course.protocol.phases[1:])
    advised = replace(course, protocol=replace(course.protocol, phases=phases))
    monday = course_cases.START
    draft: Draft = {}
    saved = Followed(monday, "Walk for 20 minutes", 1)
    model = DiaryModel(course_cases.session(advised).reading, Reported(followed=(saved,)), draft)
    column = len(course.remedies)
    assert model.names[column:] == ("Walk for 20 minutes",)
    assert [model.due(row, column) for row in range(4)] == [1, None, 1, None]
    assert model.index(0, column).data() == "1 / 1"
    dialog = DiaryDialog(model, theme)
    qtbot.addWidget(dialog)
    assert "Walk for 20 minutes" in dialog.letters.text().replace("\u00a0", " ")
    dialog.grid.setCurrentIndex(model.index(2, column))
    qtbot.keyClick(dialog.grid, Qt.Key.Key_1)
    assert dialog.main_button.isEnabled()
    assert model.reported().followed == (
        Followed(monday + timedelta(days=2), "Walk for 20 minutes", 1),
    )
    assert (model.reported().taken, model.keyed_in) == ((), 1)
    qtbot.keyClick(dialog.grid, Qt.Key.Key_W)
    assert model.keyed_in > 2


def test_a_table_is_keyed_in_to_be_looked_at_and_nothing_saved_is_overwritten_unasked(
    qtbot: QtBot, model: DiaryModel, theme: Theme, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    dialog = DiaryDialog(model, theme)
    qtbot.addWidget(dialog)
    table = tmp_path / "kept by her.csv"
    monkeypatch.setattr(diary, "ask_for_file", lambda *_, **__: table)
    table.write_text("date,t1,Pain\n2027-01-04,3,6.5\n2027-01-05,0,\n2031-01-01,1,\n")
    asked: list[str] = []

    def stay(_parent: QWidget, heading: str, *_: str, **__: str) -> bool:
        asked.append(heading)
        return False

    monkeypatch.setattr(diary, "confirm", stay)
    dialog.from_file.click()
    assert asked == ["Entries that differ from the diary: 1"]
    assert model.reported().taken == (Taken(date(2027, 1, 5), "t1", 0),)
    assert model.scores == (Score(date(2027, 1, 4), "pain", Fraction(13, 2)),)
    assert dialog.figure.text().endswith("Entries left out, outside the days up to today: 1.")
    again = DiaryModel(model.reading, NOTHING_REPORTED, {})
    again.put_draft_value(model.draft_value())
    assert (again.draft, again.scores) == (model.draft, model.scores)
    monkeypatch.setattr(diary, "confirm", lambda *_, **__: True)
    dialog.from_file.click()
    assert model.reported().taken[0] == Taken(date(2027, 1, 4), "t1", 3)


def test_a_table_that_is_wrong_leaves_the_draft_as_it_was(
    qtbot: QtBot, model: DiaryModel, theme: Theme, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    dialog = DiaryDialog(model, theme)
    qtbot.addWidget(dialog)
    said: list[str] = []

    class Told:
        def __init__(self, _parent: QWidget, heading: str, text: str) -> None:
            said.extend((heading, text))

        def exec(self) -> None: ...

    monkeypatch.setattr(diary, "message_dialog", Told)
    for content in (b"date,t1\n2027-01-05,1\n2027-01-06,x\n", b"\xff\xfe\x00", None):
        table = tmp_path / "table.csv"
        monkeypatch.setattr(diary, "ask_for_file", lambda *_, at=table, **__: at)
        table.unlink(missing_ok=True)
        if content is not None:
            table.write_bytes(content)
        dialog.from_file.click()
        assert not dialog.is_changed()
    assert said[:2] == [
        "table.csv cannot be read",
        "row 3, “t1”: expected a whole number from 0 to 99; found “x”",
    ]
    assert "UTF-8" in said[3]
    assert "no such file" in said[5]
    monkeypatch.setattr(diary, "ask_for_file", lambda *_, **__: None)
    dialog.from_file.click()
    assert len(said) == 6


def test_a_note_of_a_day_is_typed_beneath_the_grid_kept_as_a_draft_and_taken_back(
    qtbot: QtBot, theme: Theme, monkeypatch: pytest.MonkeyPatch
) -> None:
    first, second = course_cases.START, course_cases.START + timedelta(days=1)
    saved = Reported((Taken(first, "t1", 2),), notes=(DayNote(first, "Slept badly"),))
    model = DiaryModel(course_cases.session().reading, saved, {})
    dialog = DiaryDialog(model, theme)
    monkeypatch.setattr(dialog, "is_changed", lambda: False)  # closing asks nothing here
    qtbot.addWidget(dialog)
    dialog.show()
    grid, note = dialog.grid, dialog.note
    assert (dialog.note_day.text(), note.text()) == ("Note for Tue 5 Jan", "")
    qtbot.keyClick(grid, Qt.Key.Key_N)
    assert dialog.focusWidget() is note
    qtbot.keyClicks(note, "Slept  well")
    qtbot.keyClick(note, Qt.Key.Key_Return)
    assert dialog.isVisible(), "Enter leaves the field, and not the dialog"
    assert dialog.focusWidget() is grid
    assert model.reported().notes == (DayNote(second, "Slept well"),)
    assert dialog.main_button.isEnabled()
    again = DiaryModel(model.reading, saved, {})
    again.put_draft_value(model.draft_value())
    assert again.reported() == model.reported()
    qtbot.keyClick(grid, Qt.Key.Key_Up)
    assert note.text() == "Slept badly"
    assert str(model.data(grid.currentIndex(), SPOKEN)).endswith("Note: Slept badly")
    note.clear()
    note.textEdited.emit("")
    assert model.reported().notes == (DayNote(second, "Slept well"), DayNote(first, ""))
    qtbot.keyClick(grid, Qt.Key.Key_Delete)
    assert model.withdrawn() == ((first, "t1"),)
    assert not model.with_draft()
    for _ in range(2):
        qtbot.keyClick(grid, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert (note.text(), model.withdrawn()) == ("Slept badly", ())
    assert model.reported().notes == (DayNote(second, "Slept well"),)
    qtbot.keyClick(grid, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert model.keyed_in == 0
    qtbot.keyClick(grid, Qt.Key.Key_Y, Qt.KeyboardModifier.ControlModifier)
    assert model.reported().notes == (DayNote(second, "Slept well"),)


def test_a_long_diary_scrolls_in_its_dialog_with_heads_and_day_in_view(
    qtbot: QtBot, model: DiaryModel, theme: Theme
) -> None:
    dialog = DiaryDialog(model, theme)
    qtbot.addWidget(dialog)
    dialog.show()
    dialog.grid.go_to(model.days[-1])
    seen = dialog.grid.viewport().rect()
    assert seen.contains(dialog.grid.visualRect(dialog.grid.currentIndex()).center())
    for part in (dialog.grid.heads, dialog.note):
        place = part.mapTo(dialog, part.rect().bottomLeft())
        assert 0 < place.y() < dialog.height()
        assert not part.visibleRegion().isEmpty(), "nothing of it lies out of view"
