"""The table of a phase's lines: typed in place, explained in plain words beneath."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QAbstractItemView, QApplication, QTableView

from sennight.desktop.course.lines.line_cells import Column
from sennight.desktop.course.lines.lines_delegate import WRAP, LineDelegate
from sennight.desktop.course.lines.lines_model import LinesModel
from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.icons import drawing
from sennight.desktop.kit.tables import KeptPlace, arrange_rows
from sennight.desktop.kit.theme import Role, Theme

SHARES, WITHOUT_STEPS = (26, 46, 28), (32, 54, 14)
"""How the first three columns share what the last day leaves them."""


class LinesView(QTableView):
    """The lines; Enter begins one, Delete removes one, typing changes the cell in hand."""

    def __init__(self, model: LinesModel, theme: Theme) -> None:
        super().__init__()
        self.lines = model
        self.setModel(model)
        self.delegate = LineDelegate(Brushes(theme), model, self)
        self.setItemDelegate(self.delegate)
        self.delegate.named.connect(self._on_named, Qt.ConnectionType.QueuedConnection)
        self._arrange()
        self.setAccessibleName(self.tr("Lines of the phase"))
        model.modelAboutToBeReset.connect(self._keep)
        model.modelReset.connect(self._kept)
        model.rowsInserted.connect(self.fit)
        model.rowsRemoved.connect(self.fit)
        model.dataChanged.connect(self.fit)
        self._place = KeptPlace(self, (0, int(Column.TAKE)))
        self._had_keyboard = self.is_as_high_as_rows = False

    def _arrange(self) -> None:
        arrange_rows(self)
        self.setWordWrap(True)
        self.horizontalHeader().setProperty("kind", "flush")
        triggers = QAbstractItemView.EditTrigger
        self.setEditTriggers(
            triggers.AnyKeyPressed | triggers.DoubleClicked | triggers.EditKeyPressed
        )

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.delegate.set_brushes(Brushes(theme))
        self.fit()

    def fit(self) -> None:
        """Columns by their shares, rows as high as their words."""
        brushes = self.delegate.brushes
        until = 0  # a protocol has no dates
        if not self.isColumnHidden(Column.UNTIL):
            widest = brushes.metrics(Role.TEXT).horizontalAdvance("30 Sep 2027")
            until = round(widest + brushes.unit * 4)
        width = max(0, self.viewport().width() - until)
        has_steps = any(line.steps for line in self.lines.lines)
        shares = SHARES if has_steps else WITHOUT_STEPS
        widths = [*(width * share // sum(shares) for share in shares), until]
        wanted = min(self.delegate.word_width(), width // 2) - widths[Column.REMEDY]
        if wanted > 0:
            widths[Column.REMEDY] += wanted
            widths[Column.TAKE] -= wanted
        for column, wide in enumerate(widths):
            self.setColumnWidth(column, wide)
        self.delegate.is_tight = self.heights_of(widths, is_tight=False) > self.viewport().height()
        for row in range(self.lines.rowCount()):
            self.setRowHeight(row, self.delegate.height(row, widths))
        if self.is_as_high_as_rows:
            rows = self.heights_of(widths, is_tight=False)
            head = self.horizontalHeader().sizeHint().height()
            self.setMaximumHeight(head + rows + 2 if rows else self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit columns and rows; what is being typed into stays in view."""
        super().resizeEvent(event)
        self.fit()
        if self.state() is QAbstractItemView.State.EditingState:
            self.scrollTo(self.currentIndex())

    def rows_height(self, *, is_tight: bool) -> int:
        """All rows beneath each other; of an empty table, the words that stand for them.

        `is_tight` cuts the plain words to one line each.
        """
        widths = [self.columnWidth(column) for column in Column]
        high = self.heights_of(widths, is_tight=is_tight)
        return high or self.delegate.brushes.theme.line * 2

    def heights_of(self, widths: list[int], *, is_tight: bool) -> int:
        """The same with columns of these widths."""
        was, self.delegate.is_tight = self.delegate.is_tight, is_tight
        rows = range(self.lines.rowCount())
        high = sum(self.delegate.height(row, widths) for row in rows)
        self.delegate.is_tight = was
        return high

    def sizeHint(self) -> QSize:
        """Some three lines."""
        return QSize(600, self.delegate.brushes.theme.line * 9)

    def minimumSizeHint(self) -> QSize:
        """A line with its words, at least."""
        return QSize(200, self.delegate.brushes.theme.line * 3)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Where there is no line, say how one is added."""
        super().paintEvent(event)
        if self.lines.rowCount():
            return
        brushes = self.delegate.brushes
        painter = QPainter(self.viewport())
        painter.setFont(brushes.font(Role.QUIET))
        painter.setPen(brushes.quiet)
        size = QSize(brushes.unit * 24, brushes.unit * 16)
        room = self.viewport().rect().adjusted(0, brushes.unit * 2, 0, 0)
        if room.height() >= size.height() + brushes.theme.line * 2:
            painter.drawPixmap(room.topLeft(), drawing("course", brushes.theme.slate, size))
            room.adjust(0, size.height() + brushes.unit * 2, 0, 0)
        text = self.tr("Nothing is taken in this phase yet. Press Enter to add a line.")
        painter.drawText(room, WRAP, text)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """The row under the pointer stands out, whole."""
        super().mouseMoveEvent(event)
        self._hover(self.rowAt(event.position().toPoint().y()))

    def leaveEvent(self, event: QEvent) -> None:
        """The pointer is over no row any more."""
        super().leaveEvent(event)
        self._hover(-1)

    def _hover(self, row: int) -> None:
        if row != self.delegate.hovered:
            self.delegate.hovered = row
            self.viewport().update()

    def _keep(self) -> None:
        """See whether the keyboard is here, perhaps in a field that the reset takes away."""
        at = QApplication.focusWidget()
        self._had_keyboard = at is not None and (at is self or self.isAncestorOf(at))

    def _kept(self) -> None:
        """After an edit, the keyboard stays where it was."""
        if self._had_keyboard:
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        self.fit()
        self._place.go_back()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """The keyboard comes to the directions first, since these are changed most."""
        if not self.currentIndex().isValid():
            self.setCurrentIndex(self.lines.index(*self._place.cell))
        super().focusInEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter and Delete act on lines; digits and letters edit the cell."""
        key = event.key()
        if self.state() is QAbstractItemView.State.EditingState:
            return  # the Enter that ends an edit comes through here as well
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.begin_line()
        elif key == Qt.Key.Key_Delete or (key == Qt.Key.Key_Escape and self._on_new_line()):
            self.remove_line()
        else:
            super().keyPressEvent(event)

    @property
    def is_typing(self) -> bool:
        """Whether a cell is being typed into."""
        return self.state() is QAbstractItemView.State.EditingState

    def _on_new_line(self) -> bool:
        return self.currentIndex().row() >= len(self.lines.lines)

    def begin_line(self) -> None:
        """Begin a line and type its remedy; where it has one, its directions."""
        if self.lines.begin_line():
            row = self.lines.rowCount() - 1
            named = self.lines.remedy_at(row) is not None
            self._type_into(row, Column.TAKE if named else Column.REMEDY)

    def _on_named(self, row: int) -> None:
        """From the remedy of a new line on to its directions."""
        if row >= len(self.lines.lines):
            self._type_into(row, Column.TAKE)

    def _type_into(self, row: int, column: Column) -> None:
        index = self.lines.index(row, column)
        self.setCurrentIndex(index)
        self.scrollTo(index)
        self.edit(index)

    def remove_line(self) -> None:
        """Remove the line in hand."""
        if self.currentIndex().isValid():
            self.lines.remove(self.currentIndex().row())
