"""The week at a glance: what is overdue and what each day brings, a dot for each."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from sennight.desktop.bench.table import URGENT, WATCHED
from sennight.desktop.bench.words import day_and_month
from sennight.desktop.kit.theme import Role, Theme
from sennight.domain.directions.plain_words import WEEKDAY_NAMES
from sennight.practice.bench import Item, Items

DAYS = 7
MOST_DOTS = 16
"""More than so many are only counted."""


class WeekStrip(QWidget):
    """Eight columns: what is overdue, then seven days from today; a click goes to one.

    `chosen` gives the day, or the day before today for what is overdue.
    """

    chosen = Signal(object)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme, self._today = theme, date.min
        self._counts: Counter[int] = Counter()
        self._some: dict[int, list[Item]] = {}
        self.setMouseTracking(True)

    def show_items(self, items: Items, today: date) -> None:
        """Show so much a day."""
        self._today, self._counts, self._some = today, Counter(), {}
        for due, first, end in items.days():
            column = self._column_of(due)
            self._counts[column] += end - first
            some = self._some.setdefault(column, [])
            some += items[first : min(end, first + MOST_DOTS - len(some))]
        self.setAccessibleName(self._spoken())
        self.updateGeometry()
        self.update()

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another theme."""
        self._theme = theme
        self.updateGeometry()
        self.update()

    def _column_of(self, due: date) -> int:
        return max(0, (due - self._today).days + 1)

    def _spoken(self) -> str:
        days = (f"{self._head(column)}: {self._counts[column]}" for column in range(DAYS + 1))
        return self.tr("The week: {days}").format(days=", ".join(days))

    def _head(self, column: int) -> str:
        if column == 0:
            return self.tr("Overdue")
        day = self._today + timedelta(days=column - 1)
        if column == 1:
            return self.tr("Today")
        return f"{WEEKDAY_NAMES[day.weekday()][:3]} {day_and_month(day)}"

    def _fitting(self, painter: QPainter, column: int, line: QRectF) -> str:
        """The head, without its month where that would run into the count."""
        head, wide = self._head(column), painter.fontMetrics().horizontalAdvance
        fits = wide(f"{head}  00") <= line.width()
        return head if fits or column < 2 else head.rpartition(" ")[0]

    # Drawing

    def sizeHint(self) -> QSize:
        """A line of words, and one or two of dots."""
        return QSize(self._theme.unit * 120, self._high())

    def minimumSizeHint(self) -> QSize:
        """The columns share what width there is."""
        return QSize(self._theme.unit * 60, self._high())

    def _high(self) -> int:
        most = max((len(items) for items in self._some.values()), default=0)
        return self._theme.line * (3 if most > self._dots_a_row() else 2)

    def _dots_a_row(self) -> int:
        """How many dots of a day stand beside each other."""
        wide = self._width() - self._gap
        return max(1, int((wide + self._theme.unit) // (self._theme.unit * 2.5)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """More dots find room in a line, or fewer."""
        super().resizeEvent(event)
        self.updateGeometry()

    def _width(self) -> float:
        """Of a column with the gap after it; the last one ends where the list beneath does."""
        return (self.width() + self._gap) / (DAYS + 1)

    @property
    def _gap(self) -> int:
        return self._theme.unit * 2

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - Qt's name
        """Draw a column a day."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for column in range(DAYS + 1):
            self._draw(painter, column)

    def _draw(self, painter: QPainter, column: int) -> None:
        theme, wide, count = self._theme, self._width(), self._counts[column]
        place = QRectF(column * wide, 0, wide - self._gap, self.height())
        is_late = column == 0 and count
        painter.setFont(theme.font(Role.STRONG if column == 1 else Role.QUIET))
        painter.setPen(theme.alarm if is_late else theme.ink if column == 1 else theme.slate)
        line = QRectF(place.left(), 0, place.width(), theme.line)
        painter.drawText(line, Qt.AlignmentFlag.AlignLeft, self._fitting(painter, column, line))
        painter.setPen(theme.ink if count else theme.slate)
        painter.setFont(theme.font(Role.STRONG if count else Role.QUIET))
        painter.drawText(line, Qt.AlignmentFlag.AlignRight, str(count) if count else "–")
        painter.fillRect(
            QRectF(place.left(), theme.line + theme.unit / 2, place.width(), 1),
            theme.ink if column == 1 else theme.hairline,
        )
        self._draw_dots(painter, place, self._some.get(column, []))

    def _draw_dots(self, painter: QPainter, place: QRectF, items: list[Item]) -> None:
        side = self._theme.unit * 1.5
        step = side + self._theme.unit
        a_row = self._dots_a_row()
        painter.setPen(Qt.PenStyle.NoPen)
        for number, item in enumerate(items[: min(MOST_DOTS, a_row * 2)]):
            row, column = divmod(number, a_row)
            painter.setBrush(self._colour(item))
            top = self._theme.line + self._theme.unit * 2 + row * step
            painter.drawEllipse(QRectF(place.left() + column * step, top, side, side))

    def _colour(self, item: Item) -> QColor:
        theme = self._theme
        if item.matter in URGENT or item.due < self._today:
            return theme.alarm
        return theme.ink if item.matter in WATCHED else theme.outline

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Go to the day that was clicked."""
        if event.button() == Qt.MouseButton.LeftButton:
            column = int(event.position().x() // self._width())
            self.chosen.emit(self._today + timedelta(days=min(column, DAYS) - 1))
