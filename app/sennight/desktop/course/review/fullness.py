"""The diary as a calendar: a day a cell, as full as what was due was taken."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from PySide6.QtCore import QObject, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
)

from sennight.desktop.kit.grid_model import GridModel, Index
from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.charts import ChartPainter
from sennight.domain.charts.diary import day_drawing, day_weeks, day_words
from sennight.domain.charts.review import Review
from sennight.domain.dates import course_week
from sennight.domain.directions.plain_words import WEEKDAY_NAMES, plain_date
from sennight.domain.follow_up.diaries import DayNote
from sennight.domain.follow_up.fullness import Fullness

DAY = Qt.ItemDataRole.UserRole + 31
NOTED = Qt.ItemDataRole.UserRole + 32
_SPOKEN = (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.AccessibleDescriptionRole)
MOST_ROWS = 8
"""So many weeks are in view at once; the others scroll."""

DayCell = tuple[date, Fullness]


class FullnessModel(GridModel):
    """The diary's days in weeks from Monday to Sunday."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.weeks: tuple[tuple[DayCell | None, ...], ...] = ()
        self.start = date.min
        self.notes: dict[date, str] = {}

    def show_review(self, review: Review, notes: Iterable[DayNote] = ()) -> None:
        """Show the days up to today, with what was said of them."""
        self.beginResetModel()
        self.notes = {note.day: note.words for note in notes}
        self.weeks, self.start = day_weeks(review.days), review.layout.course.start
        self.endResetModel()

    def row_count(self) -> int:
        """The weeks."""
        return len(self.weeks)

    def column_count(self) -> int:
        """The days of a week."""
        return 7

    def cell(self, index: Index) -> DayCell | None:
        """A day and how full it is; None outside the diary."""
        return self.weeks[index.row()][index.column()] if index.isValid() else None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """A day for the delegate, a sentence for those who hear and for the tip."""
        cell = self.cell(index)
        if cell is None:
            return None
        if role == DAY:
            return cell
        if role == NOTED:
            return cell[0] in self.notes
        if role in _SPOKEN:
            return self.words(cell)
        return plain_tip(self.words(cell)) if role == Qt.ItemDataRole.ToolTipRole else None

    def words(self, cell: DayCell) -> str:
        """A day in a sentence, with its note."""
        note = self.notes.get(cell[0])
        return f"{day_words(*cell)}. “{note}”" if note else day_words(*cell)

    def column_heading(self, column: int, role: int) -> object:
        """The weekdays, in full for those who hear them."""
        if role == Qt.ItemDataRole.DisplayRole:
            return WEEKDAY_NAMES[column][:1]
        return WEEKDAY_NAMES[column] if role in _SPOKEN else None

    def row_heading(self, row: int, role: int) -> object:
        """The course week that begins in the row, or that its first day belongs to."""
        first = next(cell for cell in self.weeks[row] if cell is not None)[0]
        week = course_week(self.start, first)
        if role == Qt.ItemDataRole.DisplayRole:
            return str(week)
        words = translate("Review", "Week {week}, {day}").format(week=week, day=plain_date(first))
        return words if role in _SPOKEN else None

    def index_of(self, day: date) -> Index:
        """Where a day stands; an invalid index where it does not."""
        first = self.weeks[0][-1] if self.weeks else None
        if first is None:
            return self.index(-1, -1)
        weeks, column = divmod((day - first[0] + timedelta(days=6)).days, 7)
        return self.index(weeks, column)


class _DayDelegate(QStyledItemDelegate):
    def __init__(self, theme: Theme, parent: QObject) -> None:
        super().__init__(parent)
        self.apply_theme(theme)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.theme, self.painter = theme, ChartPainter(theme)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw a day."""
        cell, gap = index.data(DAY), self.theme.unit / 2
        room = QRectF(option.rect).adjusted(gap, gap, -gap, -gap)
        fullness = cell[1] if cell else None
        noted = bool(index.data(NOTED))
        drawing = day_drawing(fullness, room.width(), room.height(), is_noted=noted)
        painter.save()
        painter.translate(room.topLeft())
        self.painter.paint(painter, drawing)
        painter.restore()
        if cell and option.state & QStyle.StateFlag.State_Selected:
            is_here = option.state & QStyle.StateFlag.State_HasFocus
            brushes = self.painter.brushes
            painter.setPen(brushes.focus if is_here else self.theme.outline)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(option.rect).adjusted(1, 1, -1, -1))


class FullnessView(QTableView):
    """Arrows move; Enter or a double click chooses a day, whose entry is then opened."""

    day_chosen = Signal(object)
    described = Signal(str)

    def __init__(self, model: FullnessModel, theme: Theme) -> None:
        super().__init__()
        self.days = model
        self.setModel(model)
        self._delegate = _DayDelegate(theme, self)
        self.setItemDelegate(self._delegate)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.setCornerButtonEnabled(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(translate("Review", "Diary, a day a cell"))
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.horizontalHeader().setMinimumSectionSize(1)
        self.horizontalHeader().setProperty("kind", "days")
        self.horizontalHeader().setHighlightSections(False)
        self.verticalHeader().setHighlightSections(False)
        self.doubleClicked.connect(self._choose)
        self.selectionModel().currentChanged.connect(self._describe)
        self.apply_theme(theme)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look; as high as its weeks want, within bounds."""
        self._theme = theme
        self._delegate.apply_theme(theme)
        self.verticalHeader().setDefaultSectionSize(theme.line + theme.unit)
        self.fit()

    def fit(self) -> None:
        """Take the height of the weeks that are in view at once."""
        rows = max(1, min(self.days.row_count(), MOST_ROWS))
        head = self.horizontalHeader().sizeHint().height()
        self.setFixedHeight(rows * self.verticalHeader().defaultSectionSize() + head + 2)

    def show_review(self, review: Review, notes: Iterable[DayNote] = ()) -> None:
        """Show the diary; the day in hand stays, at first it is the last one."""
        cell = self.days.cell(self.currentIndex())
        self.days.show_review(review, notes)
        self.fit()
        day = cell[0] if cell else review.days[-1][0] if review.days else None
        if day is not None:
            self.go_to(day)

    def go_to(self, day: date) -> None:
        """Take a day in hand, where it is among the diary's."""
        index = self.days.index_of(day)
        if 0 <= index.row() < self.days.row_count():
            self.setCurrentIndex(index)
            self.scrollTo(index)

    def _describe(self, now: Index) -> None:
        cell = self.days.cell(now)
        self.described.emit(self.days.words(cell) if cell else "")

    def _choose(self, index: Index) -> None:
        cell = self.days.cell(index)
        if cell is not None:
            self.day_chosen.emit(cell[0])

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter chooses the day in hand."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self._choose(self.currentIndex())
        else:
            super().keyPressEvent(event)
