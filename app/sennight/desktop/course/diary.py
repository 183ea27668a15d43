"""Enter diary: what was taken, keyed in fast.

Arrows move; Space goes from all to part to missed; digits set a count; D takes the whole day as
taken, W the whole week; Delete takes a draft back. A draft is kept until it is saved or the
program is closed.
"""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.course.brushes import Brushes
from sennight.desktop.course.calendar_model import Index
from sennight.desktop.course.diary_model import COUNT, DUE, DiaryModel
from sennight.desktop.dialogs import Sheet
from sennight.desktop.theme import Look, Role
from sennight.desktop.translating import translate
from sennight.desktop.widgets import words
from sennight.domain.adherence import adherence
from sennight.dyes import DYES


class DiaryDelegate(QStyledItemDelegate):
    """A cell as a measure of fullness: taken of due in the remedy's dye, and the figures."""

    def __init__(self, brushes: Brushes, parent: QWidget) -> None:
        super().__init__(parent)
        self.brushes = brushes

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one cell."""
        b, unit, rect = self.brushes, self.brushes.unit, QRectF(option.rect)
        n = index.column() % len(DYES)
        painter.setPen(b.hairline)
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        due, count = index.data(DUE), index.data(COUNT)
        if due is not None or count is not None:
            bar = rect.adjusted(unit * 1.5, unit * 1.2, -unit * 1.5, -unit * 1.2)
            bar.setWidth(min(bar.width() * 0.5, unit * 16))
            painter.fillRect(bar, b.look.hover)
            if count is not None:
                full = QRectF(bar)
                full.setWidth(bar.width() * min(1.0, count / max(1, due or 1)))
                painter.fillRect(full, b.taken[n])
            painter.setPen(b.ink if count is not None else b.quiet)
            painter.setFont(b.font(Role.TEXT))
            room = QRectF(bar.right() + unit * 2, rect.top(), rect.width(), rect.height())
            left = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
            painter.drawText(room, left, index.data())
        if option.state & QStyle.StateFlag.State_Selected:
            painter.setPen(b.focus)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(rect.adjusted(1, 1, -2, -2))


class DiaryGrid(QTableView):
    """The grid and its keys."""

    def __init__(self, model: DiaryModel, look: Look) -> None:
        super().__init__()
        self.diary = model
        self.setModel(model)
        self.setItemDelegate(DiaryDelegate(Brushes(look), self))
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setAccessibleName(self.tr("Diary"))
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.horizontalHeader().setHighlightSections(False)
        self.verticalHeader().setDefaultSectionSize(look.line + look.unit * 2)
        self.verticalHeader().setHighlightSections(False)
        if model.rowCount():
            self.setCurrentIndex(model.index(model.first_without_entry(), 0))

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Key in what was taken; the rest moves about."""
        at, text = self.currentIndex(), event.text()
        if not at.isValid():
            super().keyPressEvent(event)
            return
        row, column, key = at.row(), at.column(), event.key()
        if key == Qt.Key.Key_Space:
            self.diary.cycle(row, column)
        elif text.isdecimal():
            self.diary.put([row], [column], int(text))
            self._move(row + 1, column)
        elif key == Qt.Key.Key_D:
            self.diary.put_all_taken([row])
            self._move(row + 1, column)
        elif key == Qt.Key.Key_W:
            week = self.diary.week_of(row)
            self.diary.put_all_taken(week)
            self._move(week.stop, column)
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.diary.forget(row, column)
        else:
            super().keyPressEvent(event)

    def _move(self, row: int, column: int) -> None:
        self.setCurrentIndex(self.diary.index(min(row, self.diary.rowCount() - 1), column))


class DiaryDialog(Sheet):
    """The grid, what the draft would come to, and saving it."""

    def __init__(self, model: DiaryModel, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(
            parent,
            translate("DiaryDialog", "Enter diary"),
            do=translate("DiaryDialog", "Save the diary"),
        )
        self.model = model
        self.leave_button.setText(self.tr("Later, keep the draft"))
        self.main_button.setAutoDefault(False)
        self.main_button.setDefault(False)
        self.grid = DiaryGrid(model, look)
        self.figure = words("", Role.STRONG, wrap=True)
        keys = self.tr(
            "Arrows move. Space: all, part, missed. Digits: a count. D: the whole day taken. "
            "W: the whole week taken. Delete: take the draft back."
        )
        body = QWidget()
        room = QVBoxLayout(body)
        room.setContentsMargins(0, 0, 0, 0)
        room.addWidget(words(keys, Role.QUIET, wrap=True))
        room.addWidget(words(self._letters(), Role.QUIET, wrap=True))
        room.addWidget(self.grid, 1)
        room.addWidget(self.figure)
        self.set_body(body, columns=96, lines=34)
        model.dataChanged.connect(self._say)
        self._say()
        self.grid.setFocus()

    def _letters(self) -> str:
        return "   ".join(
            f"{self.model.headerData(n, Qt.Orientation.Horizontal)} {remedy.name}"
            for n, remedy in enumerate(self.model.remedies)
        )

    def _say(self) -> None:
        entries = self.model.with_draft()
        found = adherence(self.model.shown.layout, entries).overall if entries else None
        if found is None or found.proportion is None:
            self.figure.setText(self.tr("No entry yet."))
        else:
            percent = f"{round(found.proportion * 100)} %"
            keyed = str(len(self.model.taken()))
            said = self.tr("%1 of due doses taken (%2 of %3). Entries not saved yet: %4.")
            said = said.replace("%1", percent).replace("%2", str(found.taken))
            self.figure.setText(said.replace("%3", str(found.due)).replace("%4", keyed))
        self.main_button.setEnabled(bool(self.model.taken()))
