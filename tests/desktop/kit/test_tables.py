"""Tables of rows: the place that is kept where all rows are read anew."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QTableView
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.tables import KeptPlace, TextTable


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
