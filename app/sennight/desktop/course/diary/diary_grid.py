"""The grid of the diary: a day a row, a remedy a column, each cell as full as it was taken."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QPainter, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from sennight.desktop.course.diary.diary_model import COUNT, DUE, DiaryModel
from sennight.desktop.course.diary.diary_values import short_day
from sennight.desktop.kit.brushes import Brushes, draw_letter
from sennight.desktop.kit.grid_model import Index
from sennight.desktop.kit.room import fill_room, room_of_few, whole_rows
from sennight.desktop.kit.theme import Role, Theme
from sennight.domain.dates import course_week
from sennight.dyes import DYES

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter

LEAST_BAR = 3
"""In units: a bar of fullness narrower than this stands beneath its figures."""


class DiaryDelegate(QStyledItemDelegate):
    """A cell as a measure of fullness: taken of due in the remedy's dye, and the figures."""

    def __init__(self, brushes: Brushes, parent: QWidget) -> None:
        super().__init__(parent)
        self.brushes = brushes

    @property
    def figures_width(self) -> float:
        """The room for the figures of a cell."""
        return self.brushes.metrics(Role.TEXT).horizontalAdvance("88 / 88")

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one cell."""
        b, unit, rect = self.brushes, self.brushes.unit, QRectF(option.rect)
        painter.setPen(b.hairline)
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        due, count = index.data(DUE), index.data(COUNT)
        if due is not None or count is not None:
            inner = rect.adjusted(unit, unit, -unit, -unit)
            wide = inner.width() - self.figures_width - unit * 2
            if wide < unit * LEAST_BAR:
                bar = QRectF(inner.left(), inner.bottom() - unit * 0.8, inner.width(), unit * 0.8)
                text = inner.adjusted(0, -unit, 0, -unit * 0.8)
            else:
                bar = QRectF(inner.left(), inner.top(), min(wide, unit * 16), inner.height())
                text = inner.adjusted(bar.width() + unit * 2, 0, 0, 0)
            self._fullness(painter, bar, index)
            painter.setPen(b.ink if count is not None else b.quiet)
            painter.setFont(b.font(Role.TEXT))
            painter.drawText(text, LEFT, index.data())
        if option.state & QStyle.StateFlag.State_Selected:
            is_here = option.state & QStyle.StateFlag.State_HasFocus
            painter.setPen(b.focus if is_here else b.theme.outline)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(rect.adjusted(1, 1, -2, -2))

    def _fullness(self, painter: QPainter, bar: QRectF, index: Index) -> None:
        due, count = index.data(DUE), index.data(COUNT)
        painter.fillRect(bar, self.brushes.theme.hover)
        if count is not None:
            full = QRectF(bar)
            full.setWidth(bar.width() * min(1.0, count / max(1, due or 1)))
            painter.fillRect(full, self.brushes.taken[index.column() % len(DYES)])


class RemedyHeads(QHeaderView):
    """The remedies by letter and dye, with their names where all of them fit."""

    def __init__(self, diary: DiaryModel, brushes: Brushes, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.diary, self.brushes, self.says_names = diary, brushes, False
        self.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.setMinimumSectionSize(
            round(brushes.metrics(Role.TEXT).horizontalAdvance("8 / 8") + brushes.unit * 3)
        )

    def need(self) -> float:
        """The width of a column in which every name fits."""
        measure = self.brushes.metrics(Role.QUIET).horizontalAdvance
        names = (measure(name) for name in self.diary.names)
        return max(names, default=0.0) + self.brushes.unit * 7

    def sizeHint(self) -> QSize:
        """A line of text, and air."""
        return QSize(super().sizeHint().width(), self.brushes.theme.line + self.brushes.unit * 3)

    def paintSection(self, painter: QPainter, rect: QRect, column: int) -> None:
        """Draw one head."""
        b, unit, room = self.brushes, self.brushes.unit, QRectF(rect)
        painter.fillRect(rect, b.theme.paper)
        spot = QRectF(room.left() + unit, room.top() + unit, unit * 3.5, b.theme.line)
        draw_letter(painter, b, spot, column)
        if self.says_names:
            painter.setFont(b.font(Role.QUIET))
            painter.setPen(b.quiet)
            text = QRectF(spot.right() + unit, spot.top(), room.width(), spot.height())
            painter.drawText(text, LEFT, self.diary.names[column])


class DayHeads(QHeaderView):
    """The days, with the week's number where a course week begins; a dot tells of a note."""

    def __init__(self, diary: DiaryModel, brushes: Brushes, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Vertical, parent)
        self.diary, self.brushes = diary, brushes

    def sizeHint(self) -> QSize:
        """Wide enough for the longest day."""
        measure = self.brushes.metrics(Role.QUIET).horizontalAdvance
        return QSize(round(self._week_width() + measure("Wed 30 Sep") + self.brushes.unit * 4), 10)

    def _week_width(self) -> float:
        unit = self.brushes.unit
        return self.brushes.metrics(Role.STRONG).horizontalAdvance("00") + unit

    def paintSection(self, painter: QPainter, rect: QRect, row: int) -> None:
        """Draw one head."""
        b, room, days = self.brushes, QRectF(rect), self.diary.days
        painter.fillRect(rect, b.theme.paper)
        painter.setPen(b.hairline)
        if rect.top() > 0:
            painter.drawLine(room.topLeft(), room.topRight())
        if row % 7 == 0:
            painter.setFont(b.font(Role.STRONG))
            painter.setPen(b.ink)
            painter.drawText(room, LEFT, str(course_week(days[0], days[row])))
        painter.setFont(b.font(Role.QUIET))
        painter.setPen(b.quiet)
        painter.drawText(room.adjusted(self._week_width(), 0, 0, 0), LEFT, short_day(days[row]))
        if self.diary.note(row):
            side = b.unit * 1.4
            spot = QRectF(room.right() - side * 1.6, room.center().y() - side / 2, side, side)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(b.ink.color())
            painter.drawEllipse(spot)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)


class DiaryGrid(QTableView):
    """The grid and its keys; `names_shown` tells whether its heads have the names in full."""

    names_shown = Signal(bool)
    note_wanted = Signal()

    def __init__(self, model: DiaryModel, theme: Theme) -> None:
        super().__init__()
        self.diary, brushes = model, Brushes(theme)
        self.setModel(model)
        self.setItemDelegate(DiaryDelegate(brushes, self))
        self.heads = RemedyHeads(model, brushes, self)
        self.setHorizontalHeader(self.heads)
        self.setVerticalHeader(DayHeads(model, brushes, self))
        self.setCornerButtonEnabled(False)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerItem)
        self.setAccessibleName(self.tr("Diary"))
        fill_room(self)
        if model.rowCount():
            self.setCurrentIndex(model.index(model.first_without_entry(), 0))

    def go_to(self, day: date) -> None:
        """Take a day in hand, where it is among the diary's."""
        if day in self.diary.days:
            self.setCurrentIndex(self.diary.index(self.diary.days.index(day), 0))

    def sizeHint(self) -> QSize:
        """A list of many rows asks for a few, and takes what more room there is."""
        return room_of_few(self, super().sizeHint())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Rows that end where the view ends; names where they fit; the day in hand in view."""
        super().resizeEvent(event)
        names, theme = self.heads, self.heads.brushes.theme
        least, wanted = theme.line + theme.unit * 3, names.sizeHint().height()
        room = self.viewport().height() + names.height() - wanted
        row, left = whole_rows(room, least, self.diary.rowCount())
        self.verticalHeader().setDefaultSectionSize(row)
        if names.minimumHeight() != wanted + left:
            names.setFixedHeight(wanted + left)
            self.updateGeometries()
        columns = max(1, self.diary.columnCount())
        names.says_names = self.viewport().width() / columns >= names.need()
        self.names_shown.emit(names.says_names)
        if self.currentIndex().isValid():
            self.scrollTo(self.currentIndex())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Key in what was taken; the rest moves about."""
        at, text = self.currentIndex(), event.text()
        if not at.isValid():
            super().keyPressEvent(event)
            return
        row, column, key = at.row(), at.column(), event.key()
        if key == Qt.Key.Key_Space:
            self.diary.cycle(row, column)
        elif text.isdecimal():
            self.diary.set_taken([row], [column], int(text))
            self._move(row + 1, column)
        elif key == Qt.Key.Key_D:
            self.diary.put_all_taken([row])
            self._move(row + 1, column)
        elif key == Qt.Key.Key_W:
            week = self.diary.week_of(row)
            self.diary.put_all_taken(week)
            self._move(week.stop, column)
        elif key == Qt.Key.Key_N:
            self.note_wanted.emit()
        elif event.matches(QKeySequence.StandardKey.Undo):
            self.diary.undo()
        elif event.matches(QKeySequence.StandardKey.Redo) or text == "\x19":  # Ctrl+Y
            self.diary.redo()
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.diary.forget(row, column)
        else:
            super().keyPressEvent(event)

    def _move(self, row: int, column: int) -> None:
        self.setCurrentIndex(self.diary.index(min(row, self.diary.rowCount() - 1), column))
