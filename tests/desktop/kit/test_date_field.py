"""A field for a day: typed as people type, or picked."""

from __future__ import annotations

from datetime import date

import pytest
from PySide6.QtCore import QDate, Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.date_field import DateField
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.theme import Theme

TODAY = date(2027, 3, 3)


@pytest.fixture
def field(qtbot: QtBot, theme: Theme) -> DateField:
    assert theme
    made = DateField(TODAY, placeholder="+3 w")
    qtbot.addWidget(made, before_close_func=QWidget.hide)
    made.show()
    return made


@pytest.mark.parametrize(
    ("typed", "day"), [("+3 w", date(2027, 3, 24)), ("22 March", date(2027, 3, 22)), ("", None)]
)
def test_a_day_is_typed_in_any_usual_way(field: DateField, typed: str, day: date | None) -> None:
    field.setText(typed)
    assert field.value() == day


def test_a_day_is_picked_from_the_month_that_is_typed(field: DateField, qtbot: QtBot) -> None:
    said: list[str] = []
    field.textEdited.connect(said.append)
    field.setText("1 April 2027")
    qtbot.keyClick(field, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert field.calendar is not None
    assert field.calendar.month.monthShown() == 4
    field.calendar.month.activated.emit(QDate(2027, 4, 12))
    assert field.value() == date(2027, 4, 12)
    assert said == ["12 April 2027"], "as if it were typed"
    assert not field.calendar.isVisible()


def test_what_cannot_be_read_begins_at_today(field: DateField) -> None:
    field.setText("soon")
    with pytest.raises(ReadingError):
        field.value()
    field.show_calendar()
    assert field.calendar is not None
    shown = field.calendar.month.selectedDate()
    assert (shown.year(), shown.month(), shown.day()) == (2027, 3, 3)
    field.calendar.close()
