"""A field for a day: typed in any usual way, or picked from a small calendar."""

from __future__ import annotations

from datetime import date
from functools import partial

from PySide6.QtCore import QDate, QPoint, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCalendarWidget, QFrame, QVBoxLayout, QWidget

from sennight.desktop.kit.forms import TypedField
from sennight.desktop.kit.icons import mark
from sennight.desktop.kit.reading import ReadingError, read_date
from sennight.domain.directions.plain_words import plain_date


class SmallCalendar(QFrame):
    """A month, in front of the page until a day is picked or it is left."""

    def __init__(self, field: DateField, day: date) -> None:
        super().__init__(field, Qt.WindowType.Popup)
        self.setObjectName("found")
        self.month = QCalendarWidget()
        self.month.setFirstDayOfWeek(Qt.DayOfWeek.Monday)
        self.month.setVerticalHeaderFormat(QCalendarWidget.VerticalHeaderFormat.NoVerticalHeader)
        self.month.setSelectedDate(QDate(day.year, day.month, day.day))
        self.month.setAccessibleName(self.tr("Calendar"))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.month)
        self.month.activated.connect(self._picked)
        self.month.clicked.connect(self._picked)
        self._field = field

    def _picked(self, day: QDate) -> None:
        self._field.pick(date(day.year(), day.month(), day.day()))
        self.close()


class DateField(TypedField[date]):
    """Takes `22 March`, `next Monday`, `+3 w`; Alt+Down or the mark shows the calendar."""

    def __init__(self, today: date, *, placeholder: str = "", past: bool = False) -> None:
        super().__init__(partial(read_date, today=today, past=past), placeholder=placeholder)
        self._today = today
        self.calendar: SmallCalendar | None = None
        side = self.fontMetrics().height()
        picture = mark("calendar", self.palette().placeholderText().color(), side)
        self._show = self.addAction(picture, TypedField.ActionPosition.TrailingPosition)
        self._show.setToolTip(self.tr("Pick from a calendar (Alt+Down)"))
        self._show.triggered.connect(self.show_calendar)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Alt+Down shows the calendar."""
        if event.key() == Qt.Key.Key_Down and event.modifiers() & Qt.KeyboardModifier.AltModifier:
            self.show_calendar()
        else:
            super().keyPressEvent(event)

    def show_calendar(self) -> None:
        """Show the month of the day that is typed, or today's."""
        self.calendar = SmallCalendar(self, self._typed_day() or self._today)
        self.calendar.adjustSize()
        self.calendar.move(self._place(self.calendar))
        self.calendar.show()
        self.calendar.month.setFocus(Qt.FocusReason.PopupFocusReason)

    def _place(self, calendar: QWidget) -> QPoint:
        """Beneath the field, or over it where the screen ends."""
        beneath = self.mapToGlobal(QPoint(0, self.height()))
        room = self.screen().availableGeometry()
        top = beneath.y()
        if top + calendar.height() > room.bottom():
            top = self.mapToGlobal(QPoint(0, 0)).y() - calendar.height()
        left = min(beneath.x(), room.right() - calendar.width())
        return QPoint(max(room.left(), left), max(room.top(), top))

    def _typed_day(self) -> date | None:
        try:
            return self.value()
        except ReadingError:
            return None

    def pick(self, day: date) -> None:
        """Hold a day that was picked, as if it were typed."""
        self.setText(plain_date(day))
        self.textEdited.emit(self.text())
        self.setFocus(Qt.FocusReason.OtherFocusReason)
