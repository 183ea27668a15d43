"""The small table of a decision's doses: what was, and what is to be."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import text_label
from sennight.domain.courses.compare_words import DoseRow

MOST_ROWS = 8
"""So many rows are shown; the rest is counted."""


class DosesTable(QWidget):
    """A row for each change: the remedy and its days, the doses before and after.

    Hidden while nothing changes in doses.
    """

    def __init__(self) -> None:
        super().__init__()
        self.rows: tuple[DoseRow, ...] = ()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(self.fontMetrics().height())
        self._grid.setVerticalSpacing(2)
        for column, stretch in enumerate((4, 3, 3)):
            self._grid.setColumnStretch(column, stretch)
        self.setAccessibleName(self.tr("Doses before and after"))
        self.hide()

    def show_rows(self, rows: tuple[DoseRow, ...]) -> None:
        """Show these changes in place of those before."""
        if rows == self.rows:
            return
        self.rows = rows
        while (item := self._grid.takeAt(0)) is not None:
            label = item.widget()
            if label is not None:
                label.hide()
                label.deleteLater()
        if rows:
            self._fill(rows)
        self.setAccessibleDescription(
            "; ".join(f"{row.remedy}, {row.days}: {row.before} → {row.after}" for row in rows)
        )
        self.setVisible(bool(rows))

    def _fill(self, rows: tuple[DoseRow, ...]) -> None:
        headings = (self.tr("Doses"), self.tr("Before"), self.tr("After"))
        for column, heading in enumerate(headings):
            self._put(0, column, heading, Role.QUIET)
        for place, row in enumerate(rows[:MOST_ROWS]):
            line = 1 + 2 * place
            self._put(line, 0, row.remedy, Role.STRONG)
            self._put(line + 1, 0, row.days, Role.QUIET)
            self._grid.setRowStretch(line + 1, 1)  # the days stay close to the remedy
            self._put(line, 1, row.before, Role.TEXT, lines=2)
            self._put(line, 2, row.after, Role.STRONG, lines=2)
        if len(rows) > MOST_ROWS:
            more = self.tr("and {n} more").format(n=len(rows) - MOST_ROWS)
            self._put(1 + 2 * MOST_ROWS, 0, more, Role.QUIET)

    def _put(self, row: int, column: int, text: str, role: Role, *, lines: int = 1) -> None:
        label = text_label(text, role, wrap=True)
        self._grid.addWidget(label, row, column, lines, 1, Qt.AlignmentFlag.AlignTop)
