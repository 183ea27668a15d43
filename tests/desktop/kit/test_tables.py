"""Tables of rows: the place that is kept where all rows are read anew."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QTableView
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.column_widths import shared_out
from sennight.desktop.kit.tables import KeptPlace, RowsView, TextTable


def at(view: QTableView) -> tuple[int, int]:
    return view.currentIndex().row(), view.currentIndex().column()


@pytest.mark.parametrize(("rows", "place"), [(4, (2, 1)), (2, (1, 1)), (1, (0, 1)), (0, (-1, -1))])
def test_a_table_goes_back_to_its_cell_or_to_the_last_row(
    qtbot: QtBot, rows: int, place: tuple[int, int]
) -> None:
    model = TextTable(("Herb", "Parts"))
    view = QTableView()
    qtbot.addWidget(view)
    view.setModel(model)
    kept = KeptPlace(view, (0, 1))
    model.show_rows(3, lambda row: (f"herb {row}", "1"))
    kept.go_back()
    assert at(view) == (0, 1), "where it begins"
    view.setCurrentIndex(model.index(2, 1))
    model.show_rows(rows, lambda row: (f"herb {row}", "1"))
    assert at(view) == (-1, -1), "a reset loses the place"
    kept.go_back()
    assert at(view) == place


@pytest.mark.parametrize(
    ("wanted", "widths"),
    [
        ((), [40, 40, 20]),
        ((30, 30, 10), [40, 40, 20]),
        ((30, 30, 25), [37, 38, 25]),
        ((20, 55, 30), [20, 50, 30]),
        ((60, 90, 22), [60, 18, 22]),
        ((44, 90, 22), [44, 34, 22]),
    ],
    ids=[
        "unknown",
        "all fit",
        "one short",
        "two short",
        "the name is whole",
        "the longest gives way",
    ],
)
def test_room_that_a_column_does_not_need_goes_to_one_that_is_cut(
    wanted: tuple[int, ...], widths: list[int]
) -> None:
    assert shared_out(100, (2, 2, 1), wanted) == widths


def test_a_list_shows_its_texts_whole_where_it_can(qtbot: QtBot) -> None:
    model = TextTable(("Name", "Form", "Nothing"))
    view = RowsView(model, shares=(1, 1, 1))
    qtbot.addWidget(view)
    view.resize(600, 200)
    view.show()
    model.show_rows(2, lambda row: ("A", "bought-in product from the supplier" * row, ""))
    text = view.fontMetrics().horizontalAdvance(model.text(1, 1))
    assert view.columnWidth(1) > text > view.viewport().width() // 3
    assert sum(view.columnWidth(column) for column in range(3)) <= view.viewport().width()
