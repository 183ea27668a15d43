"""Enter scores: how the client rated what is followed, by day and measure, keyed in fast.

Digits type a score; Enter goes a day on, W to the last day of the next week, where the diary sheet
asks for ratings. Delete takes back what was typed, or takes a saved score away.
"""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.course.diary.new_measure import NewMeasure
from sennight.desktop.course.diary.scores_model import IS_DRAFT, WRONG, ScoresModel
from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.drafts import Fields
from sennight.desktop.kit.grid_model import Index
from sennight.desktop.kit.room import fill_room, room_of_few, whole_rows
from sennight.desktop.kit.tables import HEAD_EDGE
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.directions.plain_words import counted, plain_date

LETTERS = 20
"""Of a name that a column is made wide enough for."""


class ScoreDelegate(QStyledItemDelegate):
    """A score; strong where it is not saved yet, in alarm where it is off its scale."""

    def __init__(self, brushes: Brushes, parent: QWidget) -> None:
        super().__init__(parent)
        self.brushes = brushes

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one cell."""
        b, rect = self.brushes, option.rect
        painter.setPen(b.hairline)
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        painter.setFont(b.font(Role.STRONG if index.data(IS_DRAFT) else Role.TEXT))
        painter.setPen(b.theme.alarm if index.data(WRONG) else b.ink.color())
        inner = rect.adjusted(b.unit * 2 + HEAD_EDGE, 0, -b.unit, 0)
        painter.drawText(inner, Qt.AlignmentFlag.AlignVCenter, index.data())
        if option.state & QStyle.StateFlag.State_Selected:
            is_here = option.state & QStyle.StateFlag.State_HasFocus
            painter.setPen(b.focus if is_here else b.theme.outline)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(rect.adjusted(1, 1, -2, -2))


_ENTERS = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class ScoresGrid(QTableView):
    """The grid and its keys."""

    def __init__(self, model: ScoresModel, theme: Theme) -> None:
        super().__init__()
        self.scores = model
        self._typing: tuple[int, int] | None = None
        self.setModel(model)
        self.brushes = Brushes(theme)
        self.setItemDelegate(ScoreDelegate(self.brushes, self))
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setShowGrid(False)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerItem)
        self.setTabKeyNavigation(False)
        self.setCornerButtonEnabled(False)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        left = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        self.horizontalHeader().setDefaultAlignment(left)
        self._fit_heads()
        model.modelReset.connect(self._fit_heads)
        self._least_row = theme.line + theme.unit * 3
        self.verticalHeader().setDefaultSectionSize(self._least_row)
        self.setAccessibleName(self.tr("Scores"))
        fill_room(self)
        self.go_to(model.row_count() - 1, 0)
        model.modelReset.connect(lambda: self.go_to(model.row_count() - 1, 0))

    def sizeHint(self) -> QSize:
        """A list of many rows asks for a few, and takes what more room there is."""
        return room_of_few(self, super().sizeHint())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """No row is cut; the day in hand is in view."""
        super().resizeEvent(event)
        room, rows = self.viewport().height(), self.scores.row_count()
        row, _ = whole_rows(room, self._least_row, rows)
        self.verticalHeader().setDefaultSectionSize(row)
        if self.currentIndex().isValid():
            self.scrollTo(self.currentIndex())

    def _fit_heads(self) -> None:
        """Columns in which the longest of the usual names fits; longer ones are in the tip."""
        measure = self.brushes.metrics(Role.STRONG).horizontalAdvance
        names = [measure(self.scores.name(n)[:LETTERS]) for n in range(self.scores.column_count())]
        least = max(names) + self.brushes.unit * 5
        self.horizontalHeader().setMinimumSectionSize(round(least))

    def go_to(self, row: int, column: int) -> None:
        """Take a cell in hand."""
        self.setCurrentIndex(self.scores.index(min(row, self.scores.row_count() - 1), column))

    def go_to_day(self, day: date) -> None:
        """Take the first score of a day in hand, where the day is among them."""
        if day in self.scores.days:
            row = self.scores.days.index(day)
            columns = range(self.scores.column_count())
            self.go_to(row, next((n for n in columns if self.scores.text(row, n)), 0))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Key scores in; the rest moves about."""
        row, column = self.currentIndex().row(), self.currentIndex().column()
        text, key = event.text(), event.key()
        if text.isdecimal() or text in {".", ","}:
            is_going_on = self._typing == (row, column)
            before = self.scores.text(row, column) if is_going_on else ""
            self._typing = row, column
            self.scores.put(row, column, before + text)
            return
        if key == Qt.Key.Key_Backspace and self._typing == (row, column):
            self.scores.put(row, column, self.scores.text(row, column)[:-1])
            return
        self._typing = None
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier and key in _ENTERS:
            event.ignore()  # the dialog is done
        elif key in _ENTERS:
            self.go_to(row + 1, column)
        elif key == Qt.Key.Key_W:
            self.go_to(self.scores.week_end_after(row), column)
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.scores.clear(row, column)
        else:
            super().keyPressEvent(event)


class ScoresDialog(FormDialog):
    """The grid, a column more, and saving."""

    def __init__(self, model: ScoresModel, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(
            parent,
            translate("ScoresDialog", "Enter scores"),
            do=translate("ScoresDialog", "Save the scores"),
        )
        self.model = model
        self.leave_button.setText(self.tr("Finish later"))
        self.main_button.setAutoDefault(False)
        self.main_button.setDefault(False)
        self.grid = ScoresGrid(model, theme)
        self.more = NewMeasure(model)
        self.more.added.connect(self._go_to_new)
        self.scale = text_label("", wrap=True)
        self.grid.selectionModel().currentChanged.connect(self._tell_scale)
        self.figure = text_label("", Role.STRONG, wrap=True)
        self.foot.addWidget(self.figure)
        self.more.refused.connect(self.figure.setText)
        self.save_height()
        self.set_body(self._body_of_all(), columns=112, lines=40)
        model.dataChanged.connect(self._update_text)
        model.modelReset.connect(self._update_text)
        self._tell_scale()
        self._update_text()
        self.grid.setFocus()

    def _body_of_all(self) -> QWidget:
        keys = self.tr(
            "Digits type a score. Enter: the next day. W: the week’s last day. Delete: clear."
        )
        body = QWidget()
        room = QVBoxLayout(body)
        room.setContentsMargins(0, 0, 0, 0)
        room.addWidget(text_label(keys, Role.QUIET, wrap=True))
        room.addWidget(self.scale)
        room.addWidget(self.grid, 1)
        room.addWidget(self.more)
        return body

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter in the fields of a new column add the column, instead of saving all."""
        if event.key() in _ENTERS and self.focusWidget() in self.more.fields:
            self.more.add()
        else:
            super().keyPressEvent(event)

    def draft_fields(self) -> Fields:
        """What was keyed in and not saved."""
        return {"scores": self.model, **self.more.draft_fields()}

    def is_changed(self) -> bool:
        """Whether anything was keyed in that is not saved."""
        return bool(self.model.draft)

    def reject(self) -> None:
        """Leave, to finish later; asks only where the draft cannot be kept."""
        if self.draft is not None and self.draft.keep():
            QDialog.reject(self)
        else:
            super().reject()

    def submit(self) -> None:
        """Save what was keyed in; goes to what is off its scale first."""
        wrong = self.model.wrong_cells()
        if wrong:
            self.grid.go_to(*wrong[0])
            self.grid.setFocus()
        else:
            super().submit()

    def _go_to_new(self) -> None:
        self.grid.go_to(self.model.row_count() - 1, self.model.column_count() - 1)
        self.grid.setFocus()

    def _tell_scale(self) -> None:
        column = self.grid.currentIndex().column()
        self.scale.setText(self.model.meaning(column) if column >= 0 else "")

    def _update_text(self) -> None:
        wrong = self.model.wrong_cells()
        changes = len(self.model.entered()) + len(self.model.withdrawn())
        self.main_button.setEnabled(bool(changes or wrong))
        if wrong:
            row, column = wrong[0]
            text = self.tr("{name} on {day}: “{text}” is not on its scale, {scale}.").format(
                name=self.model.name(column),
                day=plain_date(self.model.days[row]),
                text=self.model.text(row, column),
                scale=self.model.scale(column),
            )
        elif changes:
            text = self.tr("Not saved yet: {scores}.").format(scores=counted(changes, "score"))
        else:
            text = self.tr("Nothing is entered yet.")
        self.figure.setText(text)
