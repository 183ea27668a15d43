"""The scores' grid and its keys."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from PySide6.QtCore import QSize, Qt
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from sennight.desktop.course.diary.scores import ScoresDialog
from sennight.desktop.course.diary.scores_model import WRONG, ScoresModel
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.theme import Theme
from sennight.domain.follow_up.diaries import Score
from sennight.domain.follow_up.measures import ACTIVITY, KNOWN, Better, Measure
from support import course_cases

PAIN, STIFFNESS = 0, 1
SAVED = (Score(course_cases.START, "pain", Fraction(7)),)


@pytest.fixture
def model() -> ScoresModel:
    return ScoresModel(course_cases.session().reading, SAVED)


@pytest.fixture
def dialog(qtbot: QtBot, model: ScoresModel, theme: Theme) -> ScoresDialog:
    dialog = ScoresDialog(model, theme)
    qtbot.addWidget(dialog)
    return dialog


def test_the_model_is_sound(model: ScoresModel, qtmodeltester: ModelTester) -> None:
    qtmodeltester.check(model)


def test_rows_run_up_to_today_and_columns_have_their_scales(model: ScoresModel) -> None:
    assert (model.days[0], model.days[-1]) == (course_cases.START, course_cases.TODAY)
    heads = [model.headerData(n, Qt.Orientation.Horizontal) for n in range(4)]
    assert heads[0] == "Pain\n0 – 10"
    assert heads[1] == "Morning stiffness\nminutes"
    said = model.index(0, PAIN).data(Qt.ItemDataRole.AccessibleTextRole)
    assert said == "Monday 4 January 2027, Pain: 7"


def test_what_is_rated_comes_first_then_what_a_gate_waits_for_then_the_usual() -> None:
    saved = (*SAVED, Score(course_cases.START, "warmth", Fraction(5)))
    model = ScoresModel(course_cases.session().reading, saved)
    rest = [measure.id for measure in KNOWN if measure.id != "pain"]
    assert model.measures == ["pain", "warmth", *rest]


def test_on_a_low_screen_days_have_the_room_and_none_is_cut(
    qtbot: QtBot, model: ScoresModel, theme: Theme, monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = theme.line * 22
    monkeypatch.setattr(FormDialog, "_room", lambda _: QSize(900, lines))
    dialog = ScoresDialog(model, theme)
    qtbot.addWidget(dialog)
    dialog.show()
    grid = dialog.grid
    row = grid.visualRect(grid.currentIndex())
    assert dialog.heading.isHidden()
    assert dialog.height() <= lines
    assert grid.viewport().height() // row.height() >= 5
    assert row.bottom() < grid.viewport().height()
    for part in (dialog.more.add_button, dialog.figure, dialog.main_button):
        place = part.mapTo(dialog, part.rect().bottomRight())
        assert dialog.rect().contains(place)


def test_keys_type_scores_by_day_and_by_week(
    qtbot: QtBot, dialog: ScoresDialog, model: ScoresModel
) -> None:
    grid = dialog.grid
    assert grid.currentIndex().row() == model.row_count() - 1
    grid.go_to(1, PAIN)
    qtbot.keyClicks(grid, "6.5")
    qtbot.keyClick(grid, Qt.Key.Key_Return)
    assert grid.currentIndex().row() == 2
    qtbot.keyClick(grid, Qt.Key.Key_W)
    assert grid.currentIndex().row() == 6
    qtbot.keyClicks(grid, "55")
    qtbot.keyClick(grid, Qt.Key.Key_Backspace)
    qtbot.keyClick(grid, Qt.Key.Key_W)
    assert grid.currentIndex().row() == 13
    grid.go_to(1, STIFFNESS)
    qtbot.keyClicks(grid, "45")
    assert model.entered() == (
        Score(date(2027, 1, 5), "pain", Fraction(13, 2)),
        Score(date(2027, 1, 5), "stiffness in minutes", Fraction(45)),
        Score(date(2027, 1, 10), "pain", Fraction(5)),
    )
    assert dialog.figure.text() == "Not saved yet: 3 scores."


def test_what_is_off_its_scale_is_told_and_not_saved(
    qtbot: QtBot, dialog: ScoresDialog, model: ScoresModel
) -> None:
    dialog.grid.go_to(1, PAIN)
    qtbot.keyClicks(dialog.grid, "12")
    assert dialog.figure.text() == "Pain on 5 January 2027: “12” is not on its scale, 0 – 10."
    assert model.index(1, PAIN).data(WRONG)
    assert model.entered() == ()
    dialog.grid.go_to(9, 2)
    dialog.main_button.click()
    at = dialog.grid.currentIndex()
    assert (at.row(), at.column(), dialog.result()) == (1, PAIN, 0)


def test_a_saved_score_can_be_corrected_or_taken_away(
    qtbot: QtBot, dialog: ScoresDialog, model: ScoresModel
) -> None:
    dialog.grid.go_to(0, PAIN)
    qtbot.keyClick(dialog.grid, Qt.Key.Key_Delete)
    assert model.withdrawn() == ((course_cases.START, "pain"),)
    qtbot.keyClick(dialog.grid, Qt.Key.Key_Delete)
    assert (model.withdrawn(), model.text(0, PAIN)) == ((), "7")
    qtbot.keyClicks(dialog.grid, "8")
    assert model.entered() == (Score(course_cases.START, "pain", Fraction(8)),)
    model.put(0, PAIN, "7")
    assert not model.draft
    assert not dialog.main_button.isEnabled()


def test_up_to_three_activities_and_free_ratings_have_columns(
    qtbot: QtBot, dialog: ScoresDialog, model: ScoresModel
) -> None:
    before = model.column_count()
    dialog.more.add_button.click()
    assert dialog.figure.text() == "Give it a name first."
    for name in ("climbing  stairs", "kneeling", "gardening"):
        dialog.more.called.setFocus()
        dialog.more.called.setText(name)
        qtbot.keyClick(dialog.more.called, Qt.Key.Key_Return)
    assert model.measures[before:] == [
        "activity: climbing stairs",
        "activity: kneeling",
        "activity: gardening",
    ]
    assert model.name(before) == "climbing stairs"
    dialog.more.called.setText("dancing")
    dialog.more.add_button.click()
    assert dialog.figure.text() == "There are 3 activities already."
    dialog.more.kind.setCurrentIndex(1)
    dialog.more.called.setText("Pain")
    dialog.more.add_button.click()
    assert dialog.figure.text() == "“Pain” has a column already."
    dialog.more.called.setText("energy")
    dialog.more.add_button.click()
    assert model.measures[-1] == "energy"
    dialog.more.kind.setCurrentIndex(4)
    for field, typed in zip(dialog.more.fields, ("grip", "kg", "sixty", "", ""), strict=True):
        field.setText(typed)
    dialog.more.add_button.click()
    assert dialog.figure.text().startswith("Enter the highest value")
    dialog.more.high.setText("60")
    dialog.more.matters.setText("much")
    dialog.more.add_button.click()
    assert dialog.figure.text().startswith("The change that matters is a number")
    dialog.more.matters.setText("5")
    dialog.more.source.setText("own  trial")
    qtbot.keyClick(dialog.more.matters, Qt.Key.Key_Return)
    grip = Measure("grip", "grip", Better.MORE, high=Fraction(60), unit="kg", source="own trial")
    grip = replace(grip, matters=Fraction(5))
    assert model.own == {
        "energy": Measure("energy", "energy", Better.LESS),
        "grip": grip,
    }
    assert model.scale(model.column_count() - 1) == "kg"
    model.put(0, model.column_count() - 1, "44,5")
    assert not model.wrong_cells()
    model.put(0, before, "4")
    again = ScoresModel(model.reading, SAVED)
    again.put_draft_value(model.draft_value())
    assert (again.draft, again.measures) == (model.draft, model.measures)
    assert again.own == model.own


def test_the_scale_of_the_column_in_hand_is_told(dialog: ScoresDialog, model: ScoresModel) -> None:
    model.add_activity("kneeling")
    grip = Measure("grip", "grip", Better.MORE, high=Fraction(60), unit="kg")
    model.add_own(replace(grip, matters=Fraction(5)))
    matters = "A change of 2 points and of 30 % matters"
    able = "0 unable to do it, 10 as before the trouble began"
    unknown = "No published figure says how much of a change matters."
    told = []
    for column in range(model.column_count()):
        dialog.grid.go_to(0, column)
        told.append(dialog.scale.text())
    assert told[:4] == [
        f"Pain: 0 none, 10 the worst. {matters} ({KNOWN[0].source}).",
        f"Morning stiffness, in minutes: lower is better. {unknown}",
        f"Sleep: 0 the worst, 10 the best. {unknown}",
        f"Well-being: 0 the worst, 10 the best. {unknown}",
    ]
    assert told[-2:] == [
        f"kneeling: {able}. A change of 3 points matters ({ACTIVITY.source}).",
        "grip, in kg: higher is better. A change of 5 kg matters (set in this practice).",
    ]
