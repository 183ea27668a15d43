"""The grid of days that course and month share: its keys, its heads, and the fit of its rows."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QEvent, QItemSelectionModel, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from sennight.desktop.course.calendar.calendar_delegate import MOST_PICTURES, DayDelegate
from sennight.desktop.course.calendar.calendar_model import WeeksModel
from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.theme import Role
from sennight.domain.directions.plain_words import MONTH_NAMES

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class WeekHeads(QHeaderView):
    """The head of each week: its number, its date, and the phases that begin in it."""

    def __init__(self, model: WeeksModel, brushes: Brushes, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Vertical, parent)
        self.weeks = model
        self.brushes = brushes
        self.says_phases = True
        self.setSectionsClickable(False)
        self.setMinimumSectionSize(4)
        self._texts: dict[int, tuple[str, str, str]] = {}
        self._pictures: dict[tuple[object, ...], QPixmap] = {}
        model.modelReset.connect(self._texts.clear)

    def set_brushes(self, brushes: Brushes) -> None:
        """Draw with another look."""
        self.brushes = brushes
        self._pictures.clear()

    def sizeHint(self) -> QSize:
        """Wide enough for the longest head."""
        unit = self.brushes.unit
        metrics = self.brushes.metrics(Role.QUIET)
        if self.weeks.month is not None:
            return QSize(round(metrics.horizontalAdvance("00") + unit * 3), 10)
        names = self.names_width() if self.says_phases else 0
        return QSize(round(self._dates() + names + unit * 3), 10)

    def names_width(self) -> float:
        """How wide the longest name of a phase in the heads is."""
        measure = self.brushes.metrics(Role.QUIET).horizontalAdvance
        layout = self.weeks.reading.layout
        runs = (*layout.phases, *layout.flares)
        return max((measure(run.phase.id) for run in runs), default=0.0)

    def _dates(self) -> float:
        metrics = self.brushes.metrics(Role.QUIET)
        return (
            metrics.horizontalAdvance("00")
            + metrics.horizontalAdvance("30 Sep")
            + (self.brushes.unit * 4)
        )

    def paintSection(self, painter: QPainter, rect: QRect, row: int) -> None:
        """Draw one head; it is kept as a picture."""
        ratio = self.devicePixelRatioF()
        texts = self._words(row)
        key = (texts, rect.width(), rect.height(), self.says_phases, ratio)
        picture = self._pictures.get(key)
        if picture is None:
            if len(self._pictures) >= MOST_PICTURES:
                self._pictures.clear()
            picture = self._pictures[key] = QPixmap(rect.size() * ratio)
            picture.setDevicePixelRatio(ratio)
            picture.fill(self.brushes.theme.paper)
            inner = QPainter(picture)
            room = QRectF(0, 0, rect.width(), rect.height())
            self._draw(inner, room, texts)
            inner.end()
        painter.drawPixmap(rect.topLeft(), picture)

    def _words(self, row: int) -> tuple[str, str, str]:
        """The week's number, its Monday, and the phase that begins in it."""
        texts = self._texts.get(row)
        if texts is None:
            week, monday = self.weeks.week_beginning_in(row), self.weeks.mondays[row]
            day = f"{monday.day} {MONTH_NAMES[monday.month - 1][:3]}"
            begins = ", ".join(self.weeks.begins_in(row)[:1])
            texts = (
                (str(week or ""), day, begins) if self._has_dates else (str(week or ""), "", "")
            )
            self._texts[row] = texts
        return texts

    @property
    def _has_dates(self) -> bool:
        return self.weeks.month is None

    def _draw(self, painter: QPainter, room: QRectF, texts: tuple[str, str, str]) -> None:
        b, unit = self.brushes, self.brushes.unit
        week, monday, begins = texts
        foot = room.adjusted(0, 0, 0, -1)
        painter.setPen(b.hairline)
        painter.drawLine(foot.bottomLeft(), foot.bottomRight())
        painter.setPen(b.ink)
        painter.setFont(b.font(Role.STRONG))
        painter.drawText(room, LEFT, week)
        painter.setFont(b.font(Role.QUIET))
        if self.says_phases:
            painter.drawText(room.adjusted(self._dates(), 0, 0, 0), LEFT, begins)
        painter.setPen(b.quiet)
        wide = b.metrics(Role.STRONG).horizontalAdvance("00") + unit
        painter.drawText(room.adjusted(wide, 0, 0, 0), LEFT, monday)


class DayGrid(QTableView):
    """Weeks and days; arrow keys move the day in hand, even from Sunday to Monday."""

    day_asked = Signal(object)
    pointed = Signal(object)
    key_pressed = Signal(object)

    def __init__(self, model: WeeksModel, brushes: Brushes, least_lines: float) -> None:
        super().__init__()
        self.weeks, self._least = model, least_lines
        self.brushes = brushes
        self.setModel(model)
        self.heads = WeekHeads(model, brushes, self)
        self.setVerticalHeader(self.heads)
        self._arrange()
        model.modelReset.connect(self.fit)
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
        self.fit()

    def fit(self) -> None:
        """Rows that fill the height, not lower than a person can read."""
        theme = self.brushes.theme
        least = max(self._least * theme.line, len(self.weeks.reading.course.remedies) * 3 + 5)
        most = 4 * theme.line if self._least < 2 else 100 * theme.line
        measure = self.brushes.metrics(Role.TEXT).horizontalAdvance
        room = (self.viewport().width() / 7) - self.brushes.unit * 4
        self.heads.says_phases = True
        marks = len(self.weeks.reading.course.remedies) * 2.4 + 6
        narrow = (self.width() - self.heads.sizeHint().width()) / 7 < marks * self.brushes.unit
        self.heads.says_phases = not narrow
        self.weeks.short_names = measure("Wednesday") > room
        self._fit_rows(least, most)
        self.heads.updateGeometry()

    def _fit_rows(self, least: float, most: float) -> None:
        """Rows of one height that end where the view ends; the weekdays take what is left."""
        rows, names = max(1, self.weeks.rowCount()), self.horizontalHeader()
        wanted = names.sizeHint().height()
        height = self.contentsRect().height() - wanted
        fit = min(rows, max(1, int(height // least)))
        row = max(1, round(min(max(height // fit, least), most)))
        left = height - fit * row if fit < rows else 0
        self.heads.setDefaultSectionSize(row)
        if names.minimumHeight() != wanted + max(0, left):
            names.setFixedHeight(wanted + max(0, left))
            self.updateGeometries()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the rows to the height; the day in hand stays in view, with days around it."""
        super().resizeEvent(event)
        self.fit()
        if self.currentIndex().isValid():
            self.scrollTo(self.currentIndex(), QAbstractItemView.ScrollHint.PositionAtCenter)

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

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Tell which day the pointer is over."""
        super().mouseMoveEvent(event)
        at = self.indexAt(event.position().toPoint())
        self.pointed.emit(self.weeks.day_at(at.row(), at.column()) if at.isValid() else None)

    def leaveEvent(self, event: QEvent) -> None:
        """The pointer is over no day any more."""
        super().leaveEvent(event)
        self.pointed.emit(None)
