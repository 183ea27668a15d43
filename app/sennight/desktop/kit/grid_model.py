"""What all tables share towards Qt: how they are counted and headed."""

from __future__ import annotations

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()


class GridModel(QAbstractTableModel):
    """A table; a subclass says how many rows and columns it has, what heads them, and its data."""

    def row_count(self) -> int:
        """How many rows."""
        raise NotImplementedError

    def column_count(self) -> int:
        """How many columns."""
        raise NotImplementedError

    def column_heading(self, column: int, role: int) -> object:
        """What stands above a column; nothing, where a table says nothing else."""

    def row_heading(self, row: int, role: int) -> object:
        """What stands at the left of a row: its number, where a table says nothing else."""
        return row + 1 if role == Qt.ItemDataRole.DisplayRole else None

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """The rows; a cell has none beneath it."""
        return 0 if parent.isValid() else self.row_count()

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """The columns; a cell has none beneath it."""
        return 0 if parent.isValid() else self.column_count()

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """The heading of a column or a row."""
        if orientation == Qt.Orientation.Horizontal:
            return self.column_heading(section, role)
        return self.row_heading(section, role)
