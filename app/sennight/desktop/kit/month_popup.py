"""A small calendar of one month, to pick a day from with the mouse or the keys."""

from __future__ import annotations

from calendar import Calendar
from datetime import date, timedelta

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button
from sennight.domain.dates import EARLIEST, LATEST, add_months
from sennight.domain.directions.plain_words import MONTH_NAMES, WEEKDAY_NAMES, plain_day

ROWS, DAYS = 6, 7
_CENTRE = Qt.AlignmentFlag.AlignCenter
_STEPS = {
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_Up: -DAYS,
    Qt.Key.Key_Down: DAYS,
}
_MONTHS = {Qt.Key.Key_PageUp: -1, Qt.Key.Key_PageDown: 1}


class MonthGrid(QWidget):
    """The days of a month, Monday first; `day` is the one that the keys are on."""

    chosen = Signal(object)
    moved = Signal(object)

    def __init__(self, day: date, today: date, latest: date | None) -> None:
        super().__init__()
        self.day, self._today, self._latest = day, today, latest or LATEST
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.go_to(day)

    def go_to(self, day: date) -> None:
        """Take another day in hand, kept inside what can be chosen."""
        self.day = min(max(day, EARLIEST), self._latest)
        self.setAccessibleName(plain_day(self.day))
        self.moved.emit(self.day)
        self.update()

    def turn(self, months: int) -> None:
        """Go so many months on, or back."""
        self.go_to(add_months(self.day, months))

    def days(self) -> tuple[date, ...]:
        """The six weeks that are shown."""
        weeks = Calendar().monthdatescalendar(self.day.year, self.day.month)
        first = weeks[0][0]
        return tuple(first + timedelta(days=n) for n in range(ROWS * DAYS))

    # Drawing

    def sizeHint(self) -> QSize:
        """Room for two figures a day."""
        side = self.fontMetrics().height() * 9 // 5
        return QSize(side * DAYS, side * (ROWS + 1))

    def _cell(self, n: int) -> QRectF:
        wide, high = self.width() / DAYS, self.height() / (ROWS + 1)
        return QRectF(n % DAYS * wide, (n // DAYS + 1) * high, wide, high)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the weekdays' letters and the days."""
        del event
        p, palette = QPainter(self), self.palette()
        quiet, ink = palette.placeholderText().color(), palette.text().color()
        p.setPen(quiet)
        for n, name in enumerate(WEEKDAY_NAMES):
            p.drawText(self._cell(n - DAYS), _CENTRE, name[:2])
        for n, day in enumerate(self.days()):
            rect = self._cell(n)
            if day == self.day:
                p.fillRect(rect.adjusted(1, 1, -1, -1), palette.highlight())
            if day == self._today:
                p.setPen(QPen(ink, 1))
                p.drawRect(rect.adjusted(2, 2, -2, -2))
            can_be = day.month == self.day.month and day <= self._latest
            is_here = day == self.day
            p.setPen(palette.highlightedText().color() if is_here else ink if can_be else quiet)
            p.drawText(rect, _CENTRE, str(day.day))
        p.end()

    # Mouse and keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows go by days and weeks, Page by months, Home to today; Enter chooses."""
        key = Qt.Key(event.key())
        if key in _STEPS:
            self.go_to(self.day + timedelta(days=_STEPS[key]))
        elif key in _MONTHS:
            self.turn(_MONTHS[key])
        elif key == Qt.Key.Key_Home:
            self.go_to(self._today)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.chosen.emit(self.day)
        else:
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Choose the day under the pointer."""
        at = event.position()
        for n, day in enumerate(self.days()):
            if self._cell(n).contains(at) and day <= self._latest:
                self.chosen.emit(day)
                return


class MonthPopup(QFrame):
    """The grid under the month's name, with a month back and forth; Escape closes it."""

    def __init__(
        self, day: date, today: date, parent: QWidget, *, latest: date | None = None
    ) -> None:
        super().__init__(parent, Qt.WindowType.Popup)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAccessibleName(translate("MonthPopup", "Pick a day"))
        self.name = QLabel()
        self.name.setAlignment(_CENTRE)
        before, after = button("‹", kind="link"), button("›", kind="link")
        before.setAccessibleName(translate("MonthPopup", "Previous month"))
        after.setAccessibleName(translate("MonthPopup", "Next month"))
        self.grid = MonthGrid(day, today, latest)
        self.grid.moved.connect(self._show_month)
        before.clicked.connect(lambda: self.grid.turn(-1))
        after.clicked.connect(lambda: self.grid.turn(1))
        head = QHBoxLayout()
        for part in (before, self.name, after):
            head.addWidget(part, 1 if part is self.name else 0)
        room = QVBoxLayout(self)
        room.addLayout(head)
        room.addWidget(self.grid)
        self._show_month(day)

    def _show_month(self, day: date) -> None:
        self.name.setText(f"{MONTH_NAMES[day.month - 1]} {day.year}")
