"""The grid of days that course and month share: its keys, and the fit of its rows."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QItemSelectionModel, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView

from sennight.desktop.course.calendar.calendar_delegate import DayDelegate
from sennight.desktop.course.calendar.calendar_model import WeeksModel
from sennight.desktop.course.calendar.week_heads import WeekHeads
from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.theme import Role

HIGH, HIGHEST = 1.2, 1.8
"""In lines: how high a week is at most, and where all weeks of the course are seen."""

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class DayGrid(QTableView):
    """Weeks and days; arrow keys move the day in hand, even from Sunday to Monday."""

    day_asked = Signal(object)
    key_pressed = Signal(object)

    def __init__(self, model: WeeksModel, brushes: Brushes, least_lines: float) -> None:
        super().__init__()
        self.weeks, self._least = model, least_lines
        self.run, self._seen = range(0), 1
        self.brushes = brushes
        self.setModel(model)
        self.heads = WeekHeads(model, brushes, self)
        self.setVerticalHeader(self.heads)
        self._arrange()
        model.modelReset.connect(self.fit)
        self.horizontalHeader().setFixedHeight(brushes.line)
        self.clicked.connect(lambda at: self.day_asked.emit(model.day_at(at.row(), at.column())))

    def _arrange(self) -> None:
        self.setShowGrid(False)
        self.setMouseTracking(True)
        self.setTabKeyNavigation(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerItem)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setCornerButtonEnabled(False)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        header = self.horizontalHeader()
        header.setProperty("kind", "days")
        header.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        header.setSectionsClickable(False)
        header.setHighlightSections(False)
        header.setMinimumSectionSize(10)
        header.setDefaultAlignment(LEFT)

    def set_brushes(self, brushes: Brushes) -> None:
        """Draw with another look."""
        self.brushes = brushes
        self.heads.set_brushes(brushes)
        self.horizontalHeader().setFixedHeight(brushes.line)
        self.fit()

    def fit(self) -> None:
        """Rows as high as the run in hand allows, not lower than a person can read."""
        theme = self.brushes.theme
        least = round(self._least * theme.line)
        is_sheet = self._least < 1.5
        most = round(theme.line * self._most()) if is_sheet else 100 * theme.line
        measure = self.brushes.metrics(Role.QUIET).horizontalAdvance
        room = self.viewport().width() / 7 - self.brushes.unit * 2
        self.heads.says_phases = True
        narrow = (self.width() - self.heads.sizeHint().width()) / 7 < self._wanted_width()
        self.heads.says_phases = not narrow
        self.weeks.short_names = measure("Wednesday") > room
        self._fit_rows(least, most)
        self.heads.updateGeometry()

    def _most(self) -> float:
        """In lines: how high a week is at most; higher where the whole course is seen."""
        height = self.contentsRect().height() - self.brushes.line
        whole = height / max(1, self.weeks.rowCount()) / self.brushes.line
        return min(max(HIGH, whole), HIGHEST)

    def _wanted_width(self) -> float:
        """What a day takes with its number and a mark of a good width for each remedy."""
        marks = len(self.weeks.reading.course.remedies)
        return self.brushes.unit * (marks * 3 + 6)

    def _fit_rows(self, least: int, most: int) -> None:
        """Rows of one height, so that the run in hand is seen whole where that can be."""
        rows, names = max(1, self.weeks.rowCount()), self.horizontalHeader()
        height = self.contentsRect().height() - self.brushes.line
        wanted = len(self.run) or rows
        fit = max(1, min(wanted, height // least))
        row = max(least, min(most, height // fit))
        if self.heads.defaultSectionSize() != row:
            self.heads.setDefaultSectionSize(row)
        self._seen = max(1, height // row)
        left = max(0, height - self._seen * row)
        wanted_names = self.brushes.line + (left if self._seen < rows else 0)
        if names.height() != wanted_names:
            names.setFixedHeight(wanted_names)
            self.updateGeometries()

    def show_run(self, run: range) -> None:
        """Bring the weeks of a phase to view, its first week on top."""
        if run != self.run:
            self.run = self.heads.run = run
            self.fit()
            self.heads.viewport().update()
            self.place()

    def place(self) -> None:
        """The run on top where the day in hand is then in view, else the day in the middle."""
        at = self.currentIndex()
        first = self.run.start
        if not at.isValid() or at.row() in range(first, first + self._seen):
            self.verticalScrollBar().setValue(first)
        else:
            self.scrollTo(at, QAbstractItemView.ScrollHint.PositionAtCenter)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the rows to the height; the day in hand stays in view, with days around it."""
        super().resizeEvent(event)
        self.fit()
        self.place()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the weeks as whole pictures, which is many times quicker than day by day."""
        days = self.itemDelegate()
        if not isinstance(days, DayDelegate) or not self.weeks.rowCount():
            super().paintEvent(event)
            return
        painter = QPainter(self.viewport())
        first, last = self.rowAt(event.rect().top()), self.rowAt(event.rect().bottom())
        rows = range(max(0, first), (self.weeks.rowCount() if last < 0 else last + 1))
        widths = tuple(self.columnWidth(column) for column in range(7))
        left, high, ratio = self.columnViewportPosition(0), self.rowHeight(0), self._ratio()
        for row in rows:
            week = days.week(row, widths, high, ratio)
            painter.drawPixmap(left, self.rowViewportPosition(row), week)
        at = self.currentIndex()
        if at.isValid() and at.row() in rows:
            rect, day = QRectF(self.visualRect(at)), self.weeks.day_at(at.row(), at.column())
            days.draw_in_hand(painter, rect, day, is_here=self.hasFocus())
        painter.end()

    def _ratio(self) -> float:
        return self.viewport().devicePixelRatioF()

    def show_day(self, day: date) -> None:
        """Put the ring on a day."""
        index = self.weeks.index_of(day)
        if index.isValid():
            flag = QItemSelectionModel.SelectionFlag.ClearAndSelect
            self.selectionModel().setCurrentIndex(index, flag)
            self.scrollTo(index)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave all keys to the calendar; it knows what a day before Monday is."""
        event.ignore()
        self.key_pressed.emit(event)
        if not event.isAccepted():
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Only the left button takes a day in hand."""
        if event.button() is Qt.MouseButton.LeftButton:
            super().mousePressEvent(event)
