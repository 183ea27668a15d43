"""The list that fills a page: what it counts, keeps, opens, and where the keyboard goes."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.narrowed_list import Columns, ListWords, NarrowedList
from sennight.desktop.kit.theme import Theme

Key = Qt.Key
SAID = ListWords(title="Jars", rows="Jars", field="Narrow the jars", hint="Name")


@pytest.fixture
def jars(qtbot: QtBot, theme: Theme) -> Iterator[NarrowedList]:
    first = QPushButton("New jar")
    made = NarrowedList(SAID, Columns(("Jar", "Grams"), (3, 1)), first_steps=(first,))
    qtbot.addWidget(made)
    made.apply_theme(theme)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield made
    made.hide()


def fill(jars: NarrowedList, ids: tuple[str, ...], of: int = 3) -> None:
    jars.fill(ids, lambda row: (f"Jar {ids[row]}", "40"), of=of, whole="3 jars")


@pytest.mark.parametrize(
    ("ids", "of", "says", "rows", "field"),
    [
        (("a", "b", "c"), 3, "3 jars", True, True),
        (("b",), 3, "1 of 3", True, True),
        ((), 3, "0 of 3", False, True),
        ((), 0, "", False, False),
    ],
)
def test_it_counts_what_it_shows(
    jars: NarrowedList, *, ids: tuple[str, ...], of: int, says: str, rows: bool, field: bool
) -> None:
    fill(jars, ids, of)
    assert jars.count.text() == says
    assert jars.rows.isVisible() is rows
    assert jars.empty.isVisible() is not rows
    assert jars.narrow.isVisible() is field
    assert jars.model.rowCount() == len(ids)


def test_a_row_is_known_by_its_id_wherever_it_stands(qtbot: QtBot, jars: NarrowedList) -> None:
    assert jars.current() == ""
    fill(jars, ("a", "b", "c"))
    assert jars.current() == "a"
    jars.select("c")
    assert jars.current() == "c"
    fill(jars, ("c", "a"))
    jars.select("a")
    jars.select("gone")
    assert jars.current() == "a"
    with qtbot.waitSignal(jars.opened) as opened:
        qtbot.keyClick(jars.rows, Key.Key_Return)
    assert opened.args == ["a"]


def test_the_keyboard_goes_into_the_list_only_where_there_is_a_row(
    qtbot: QtBot, jars: NarrowedList
) -> None:
    other = jars.findChild(QPushButton)
    assert isinstance(other, QPushButton)
    fill(jars, ("a",))
    jars.narrow.setFocus()
    with qtbot.waitSignal(jars.narrowed):
        qtbot.keyClicks(jars.narrow, "j")
    qtbot.keyClick(jars.narrow, Key.Key_Down)
    assert jars.rows.hasFocus()
    fill(jars, ())
    jars.narrow.setFocus()
    jars.take_focus(otherwise=other)
    assert other.hasFocus()
    jars.narrow.setFocus()
    qtbot.keyClick(jars.narrow, Key.Key_Return)
    assert jars.narrow.hasFocus()
    qtbot.keyClick(jars.narrow, Key.Key_Escape)
    assert jars.narrow.text() == ""
    fill(jars, ("a",))
    assert jars.narrow.hasFocus(), "rows that come back do not take the keyboard"
    jars.take_focus(otherwise=other)
    assert jars.rows.hasFocus()
