"""Lists: rows of text on paper with hairlines between them; Enter or a click opens one."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import (
    QEvent,
    QItemSelectionModel,
    QObject,
    Qt,
    Signal,
)
from PySide6.QtGui import (
    QFocusEvent,
    QFont,
    QFontMetrics,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QAbstractScrollArea,
    QHeaderView,
    QLineEdit,
    QTableView,
)

from sennight.desktop.kit.column_widths import shared_out
from sennight.desktop.kit.grid_model import GridModel, Index
from sennight.desktop.kit.plain_text import plain_tip

Cells = Callable[[int], tuple[str, ...]]
NARROW = 48
"""Below so many lines' height of width a list is narrow."""
LOOKED_AT = 40
"""So many rows at the top tell how wide the texts of a column are."""
HEAD_EDGE = 3
"""Pixels that Qt leaves beside the text of a head, and of a cell that it draws itself."""
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class TextTable(GridModel):
    """A table of texts that are asked for row by row, as they come into view, and kept."""

    def __init__(self, headings: tuple[str, ...], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._headings = headings
        self._count = 0
        self._cells: Cells = lambda _row: ()
        self._known: dict[int, tuple[str, ...]] = {}

    def show_rows(self, count: int, cells: Cells) -> None:
        """Show so many rows; `cells` gives the texts of one."""
        self.beginResetModel()
        self._count, self._cells, self._known = count, cells, {}
        self.endResetModel()

    def row_count(self) -> int:
        """How many rows."""
        return self._count

    def column_count(self) -> int:
        """How many columns."""
        return len(self._headings)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The text of a cell; the first column stands out, and a tip has the whole row."""
        if not index.isValid():
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self._row(index.row())[index.column()]
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip("\n".join(cell for cell in self._row(index.row()) if cell))
        if role == Qt.ItemDataRole.FontRole:
            return self.font_of(index.column())
        return None

    @staticmethod
    def font_of(column: int) -> QFont | None:
        """The font of a column; the usual one where there is none."""
        if column:
            return None
        font = QFont()
        font.setWeight(QFont.Weight.DemiBold)
        return font

    def text(self, row: int, column: int) -> str:
        """The text of a cell."""
        return self._row(row)[column]

    def _row(self, row: int) -> tuple[str, ...]:
        if row not in self._known:
            self._known[row] = self._cells(row)
        return self._known[row]

    def column_heading(self, column: int, role: int) -> object:
        """A column's heading."""
        return self._headings[column] if role == Qt.ItemDataRole.DisplayRole else None


def arrange_rows(view: QTableView) -> None:
    """Make a table one of rows: chosen whole, with the columns' names above, no lines between.

    The columns are as wide as they are set, so that nothing scrolls sideways.
    """
    view.setShowGrid(False)
    view.setTabKeyNavigation(False)
    view.setMouseTracking(True)
    view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    view.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    view.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
    view.verticalHeader().hide()
    header = view.horizontalHeader()
    header.setDefaultAlignment(LEFT)
    header.setHighlightSections(False)
    header.setSectionsClickable(False)
    header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)


def text_being_typed(view: QTableView) -> tuple[tuple[int, int], str] | None:
    """Row and column of the cell whose field is open, and what it holds; None where none is."""
    at = view.currentIndex()
    field = view.indexWidget(at)
    return ((at.row(), at.column()), field.text()) if isinstance(field, QLineEdit) else None


class KeptPlace(QObject):
    """The cell that a table is on, also once an edit has read all its rows anew.

    A table that is reset is on no cell, so the keyboard would lose its place. Made after the
    view has its model; `cell` is where it begins.
    """

    def __init__(self, view: QTableView, cell: tuple[int, int] = (0, 0)) -> None:
        super().__init__(view)
        self._view, self.cell = view, cell
        view.selectionModel().currentChanged.connect(self._remember)

    def _remember(self, now: Index) -> None:
        if now.isValid():
            self.cell = (now.row(), now.column())

    def go_back(self) -> None:
        """Put the table on the cell again, or on the last one where it has grown smaller."""
        model = self._view.model()
        row = min(self.cell[0], model.rowCount() - 1)
        column = min(self.cell[1], model.columnCount() - 1)
        if row >= 0:
            self._view.setCurrentIndex(model.index(row, column))


class RowTable(QTableView):
    """A table whose rows are marked whole beneath the pointer.

    The ground is painted before the cells, so that what is selected stands over it.
    """

    def __init__(self) -> None:
        super().__init__()
        self._beneath = -1

    def may_point_at(self, row: int) -> bool:
        """Whether a row does something where it is clicked."""
        return row >= 0

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Mark the row beneath the pointer."""
        super().mouseMoveEvent(event)
        row = self.rowAt(event.position().toPoint().y())
        self._point_at(row if self.may_point_at(row) else -1)

    def leaveEvent(self, event: QEvent) -> None:
        """Mark none."""
        super().leaveEvent(event)
        self._point_at(-1)

    def _point_at(self, row: int) -> None:
        if row != self._beneath:
            self._beneath = row
            self.viewport().update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The ground of the row beneath the pointer, then all cells."""
        if self._beneath >= 0:
            top, high = self.rowViewportPosition(self._beneath), self.rowHeight(self._beneath)
            painter = QPainter(self.viewport())
            wide = self.viewport().width()
            painter.fillRect(0, top, wide, high, self.palette().midlight())
            painter.end()
        super().paintEvent(event)


class RowsView(RowTable):
    """Shows a TextTable; `chosen` tells the row that Enter was pressed on or that was clicked.

    The columns share its width by `shares`, where there is little by `narrow`; one whose share is
    0 is left out then, and is in the tip. What the texts of a column leave empty goes to columns
    whose texts would be cut.

    `entered_row` tells of Enter alone, for lists in which a click only selects. A list that
    `is_calm` is one of several on a page: it marks its row only while it has the keyboard.
    """

    chosen = Signal(int)
    entered_row = Signal(int)

    def __init__(
        self, model: TextTable, *, shares: tuple[int, ...], narrow: tuple[int, ...] = ()
    ) -> None:
        super().__init__()
        self.is_calm = False
        self._shares, self._narrow = shares, narrow or shares
        self._wanted: tuple[int, ...] = ()
        self.setModel(model)
        arrange_rows(self)
        self.setWordWrap(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.fit_rows()
        self.clicked.connect(lambda index: self.chosen.emit(index.row()))
        model.modelReset.connect(self._select_first)
        model.modelReset.connect(self._measure)
        model.modelReset.connect(self.updateGeometry)

    def fit_rows(self) -> None:
        """Rows as high as the text wants."""
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() * 9 // 4)

    def fit_height(self, least: int, most: int) -> None:
        """Be as high as the rows want, within bounds in pixels; beyond that they scroll."""
        self.setSizeAdjustPolicy(QAbstractScrollArea.SizeAdjustPolicy.AdjustToContents)
        self.setMinimumHeight(least)
        self.setMaximumHeight(most)

    def show_whole(self, most: int) -> None:
        """Be as high as the rows are, of so many at most; no heads are above them."""
        count = min(self.model().rowCount(), most)
        self.setFixedHeight(self.verticalHeader().defaultSectionSize() * count + 2)

    def changeEvent(self, event: QEvent) -> None:
        """Follow the size of text."""
        super().changeEvent(event)
        if event.type() in {QEvent.Type.FontChange, QEvent.Type.StyleChange}:
            self.fit_rows()
            self._measure()

    def resizeEvent(self, event: object) -> None:
        """Share the width out among the columns."""
        super().resizeEvent(event)  # type: ignore[arg-type]
        self._share_out()

    def _measure(self) -> None:
        """See how wide the texts of each column are, for a table of texts alone."""
        model = self.model()
        if type(model) is TextTable:  # others draw more than their texts
            self._wanted = tuple(
                self._text_width(model, column) for column in range(model.columnCount())
            )
            self._share_out()

    def _text_width(self, model: TextTable, column: int) -> int:
        """How wide a column has to be for its heading and its texts, with what is around them."""
        texts = (model.text(row, column) for row in range(min(model.rowCount(), LOOKED_AT)))
        font = model.font_of(column)
        metrics = QFontMetrics(font) if font else self.fontMetrics()
        heading = str(model.column_heading(column, Qt.ItemDataRole.DisplayRole) or "")
        widest = max(
            self.horizontalHeader().fontMetrics().horizontalAdvance(heading),
            *(metrics.horizontalAdvance(text) for text in texts),
            0,
        )
        return widest + self.fontMetrics().height() + 3 * HEAD_EDGE  # one for what is rounded

    def _share_out(self) -> None:
        width = self.viewport().width()
        is_narrow = width < NARROW * self.fontMetrics().height()
        shares = self._narrow if is_narrow else self._shares
        for column, wide in enumerate(shared_out(width, shares, self._wanted)):
            self.setColumnHidden(column, shares[column] == 0)
            self.setColumnWidth(column, wide)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens the row that the keyboard is on; Home and End go to the first and last."""
        ends = {Qt.Key.Key_Home: 0, Qt.Key.Key_End: self.model().rowCount() - 1}
        is_enter = event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}
        if is_enter and self.currentIndex().isValid():
            self.entered_row.emit(self.currentIndex().row())
            self.chosen.emit(self.currentIndex().row())
        elif event.key() in ends:
            self.select_row(ends[Qt.Key(event.key())])
        else:
            super().keyPressEvent(event)

    def select_row(self, row: int) -> None:
        """Put the keyboard's place on a row, if there is one."""
        index = self.model().index(row, 0)
        if index.isValid():
            flag = QItemSelectionModel.SelectionFlag
            shown = self.hasFocus() or not self.is_calm
            self.selectionModel().setCurrentIndex(
                index, flag.ClearAndSelect | flag.Rows if shown else flag.Clear
            )
            self.scrollTo(index)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """A calm list marks the row that it is on."""
        super().focusInEvent(event)
        if self.is_calm and self.currentIndex().isValid():
            self.selectRow(self.currentIndex().row())

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """A calm list marks none."""
        super().focusOutEvent(event)
        if self.is_calm:
            self.clearSelection()

    def _select_first(self) -> None:
        self.select_row(0)
