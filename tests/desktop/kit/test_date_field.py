"""A day, typed or picked."""

from __future__ import annotations

from datetime import date

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.date_field import DateField
from sennight.desktop.kit.forms import FieldForm, explained
from sennight.desktop.kit.month_popup import MonthPopup
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.theme import Theme
from sennight.domain.directions.plain_words import plain_day

TODAY = date(2026, 11, 28)
Key = Qt.Key


@pytest.fixture
def field(qtbot: QtBot, theme: Theme) -> DateField:
    assert theme
    made = DateField(TODAY)
    qtbot.addWidget(made)
    made.show()
    return made


def opened(field: DateField) -> MonthPopup:
    assert field.popup is not None
    return field.popup


def test_short_forms_are_understood_and_told_in_full(qtbot: QtBot, theme: Theme) -> None:
    assert theme
    form, field = FieldForm(), DateField(TODAY)
    qtbot.addWidget(form)
    row = form.row("From", field)
    explained(row, field, plain_day)
    qtbot.keyClicks(field, "next Monday")
    assert field.value() == date(2026, 11, 30)
    assert row.beneath.text() == "Monday 30 November 2026"
    field.setText("soon")
    with pytest.raises(ReadingError, match="Monday or \\+3 weeks"):
        field.value()


def test_a_birthday_is_past(qtbot: QtBot, theme: Theme) -> None:
    assert theme
    field = DateField(TODAY, past=True)
    qtbot.addWidget(field)
    field.setText("14/3/68")
    assert field.value() == date(1968, 3, 14)
    field.open_calendar()
    grid = opened(field).grid
    grid.go_to(date(2027, 1, 1))
    assert grid.day == TODAY


def test_a_day_is_picked_with_the_keys(qtbot: QtBot, field: DateField) -> None:
    said: list[str] = []
    field.textEdited.connect(said.append)
    qtbot.keyClick(field, Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    popup = opened(field)
    assert popup.name.text() == "November 2026"
    for key in (Key.Key_PageDown, Key.Key_Up, Key.Key_Left, Key.Key_Right, Key.Key_Right):
        qtbot.keyClick(popup.grid, key)
    assert popup.grid.accessibleName() == "Tuesday 22 December 2026"
    assert popup.name.text() == "December 2026"
    qtbot.keyClick(popup.grid, Key.Key_Return)
    assert (field.text(), said) == ("22 December 2026", ["22 December 2026"])
    qtbot.keyClick(field, Key.Key_F4)
    qtbot.keyClick(opened(field).grid, Key.Key_Home)
    qtbot.keyClick(opened(field).grid, Key.Key_Space)
    assert field.value() == TODAY
    qtbot.keyClick(field, Key.Key_F4)
    qtbot.keyClick(opened(field).grid, Key.Key_Escape)
    assert field.value() == TODAY


def test_a_day_is_picked_with_the_mouse(qtbot: QtBot, field: DateField) -> None:
    field.setText("no day")
    field.pick.trigger()
    grid = opened(field).grid
    assert grid.day == TODAY
    assert len(grid.days()) == 42
    assert grid.days()[0] == date(2026, 10, 26)
    grid.grab()
    cell = grid._cell(grid.days().index(date(2026, 11, 5))).center()
    qtbot.mouseClick(grid, Qt.MouseButton.LeftButton, pos=QPoint(int(cell.x()), int(cell.y())))
    assert field.value() == date(2026, 11, 5)
