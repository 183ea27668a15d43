"""The calendar in its three scales, keys 1, 2 and 3, around one day in hand."""

from __future__ import annotations

from datetime import date, timedelta
from enum import IntEnum

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QListView,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.course.calendar.calendar_delegate import MonthDelegate, SheetDelegate
from sennight.desktop.course.calendar.calendar_model import (
    DayModel,
    WeeksModel,
    needed_entries,
    timed_entries,
)
from sennight.desktop.course.calendar.day_delegate import EntryDelegate
from sennight.desktop.course.calendar.day_grid import DayGrid
from sennight.desktop.course.session import Session
from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.choices import Choices
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import text_label
from sennight.domain.dates import add_months
from sennight.domain.directions.plain_words import MONTH_NAMES, counted, plain_day

STEPS = {
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_Up: -7,
    Qt.Key.Key_Down: 7,
}


LINES = 3
"""The choice behind the scales."""


class CalendarScale(IntEnum):
    """How much of the course is seen at once."""

    COURSE = 0
    MONTH = 1
    DAY = 2


class EntryList(QListView):
    """The doses of a day; its keys belong to the calendar, but for Up and Down."""

    def __init__(self, model: DayModel, calendar: CourseCalendar) -> None:
        super().__init__()
        self._calendar = calendar
        self.setModel(model)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setResizeMode(QListView.ResizeMode.Adjust)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and Down go from dose to dose, the rest moves the day."""
        if event.key() not in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            event.ignore()
            self._calendar.key(event)
            if event.isAccepted():
                return
        super().keyPressEvent(event)


class CourseCalendar(QWidget):
    """Course, month and day of a session's course.

    `day_described` carries a day in full, as the pointer or the keyboard comes to it;
    `lines_wanted` is the fourth choice, for the lines that stand below or, in a low window, in the
    same place.
    """

    day_described = Signal(object)
    lines_wanted = Signal()
    days_wanted = Signal()

    def __init__(
        self,
        session: Session,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        with_lines: bool = True,
    ) -> None:
        super().__init__(parent)
        self.session, self.theme, self.with_lines = session, theme, with_lines
        self.brushes = Brushes(theme)
        self._build_models()
        self._build_views()
        self._lay_out()
        session.changed.connect(self._refresh)
        session.day_changed.connect(self._show_day)
        self._refresh()

    def _build_models(self) -> None:
        reading = self.session.reading
        self.sheet_model, self.month_model = WeeksModel(reading, self), WeeksModel(reading, self)
        self.timed_model, self.needed_model = DayModel(reading, self), DayModel(reading, self)
        self.sheet_delegate = SheetDelegate(self.brushes, self.sheet_model)
        self.month_delegate = MonthDelegate(self.brushes, self.month_model)
        self.timed_delegate = EntryDelegate(self.brushes, self.timed_model)
        self.needed_delegate = EntryDelegate(self.brushes, self.needed_model)

    def _build_views(self) -> None:
        self.sheet = DayGrid(self.sheet_model, self.brushes, 1.05)
        self.sheet.setItemDelegate(self.sheet_delegate)
        self.sheet.setAccessibleName(self.tr("Course, week by week"))
        self.month = DayGrid(self.month_model, self.brushes, 2.2)
        self.month.setItemDelegate(self.month_delegate)
        self.month.setAccessibleName(self.tr("Month"))
        for grid in (self.sheet, self.month):
            grid.day_asked.connect(self.session.go_to)
            grid.pointed.connect(self._tell)
            grid.key_pressed.connect(self.key)
        self.timed = EntryList(self.timed_model, self)
        self.timed.setItemDelegate(self.timed_delegate)
        self.timed.setAccessibleName(self.tr("Doses at their times"))
        self.needed = EntryList(self.needed_model, self)
        self.needed.setItemDelegate(self.needed_delegate)
        self.needed.setAccessibleName(self.tr("As needed"))

    def _lay_out(self) -> None:
        self.title = text_label("", Role.HEADING)
        texts = (self.tr("Course"), self.tr("Month"), self.tr("Day"))
        lines = (self.tr("Lines"),) if self.with_lines else ()
        self.scales = Choices((*texts, *lines), self.theme)
        self.scales.setAccessibleName(self.tr("Scale of the calendar"))
        self.scales.chosen.connect(self.show_scale)
        self.scales.setToolTip(self.tr("Keys 1, 2, 3 and 4"))
        head = QHBoxLayout()
        head.addWidget(self.title, 1)
        head.addWidget(self.scales)
        self.stack = QStackedWidget()
        self.day_page = self._day_page()
        for page in (self.sheet, self.month, self.day_page):
            self.stack.addWidget(page)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(self.theme.unit)
        layout.addLayout(head)
        layout.addWidget(self.stack, 1)

    def _day_page(self) -> QWidget:
        page = QWidget()
        layout = QHBoxLayout(page)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(self.theme.unit * 4)
        layout.addWidget(self.timed, 2)
        self.side = QWidget()
        side = QVBoxLayout(self.side)
        side.setContentsMargins(0, 0, 0, 0)
        side.addWidget(text_label(self.tr("As needed"), Role.QUIET))
        side.addWidget(self.needed, 1)
        layout.addWidget(self.side, 1)
        return page

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.theme, self.brushes = theme, Brushes(theme)
        for delegate in (self.sheet_delegate, self.month_delegate):
            delegate.set_brushes(self.brushes)
        for entry in (self.timed_delegate, self.needed_delegate):
            entry.set_brushes(self.brushes)
        self.sheet.set_brushes(self.brushes)
        self.month.set_brushes(self.brushes)
        self.scales.apply_theme(theme)
        self._refresh()

    @property
    def scale(self) -> CalendarScale:
        """How much is seen at once."""
        return CalendarScale(self.stack.currentIndex())

    def show_scale(self, scale: int) -> None:
        """See the course, the month or the day, or go to the lines; the keyboard goes along."""
        if scale == LINES:
            self.lines_wanted.emit()
            return
        had_focus = self.stack.isAncestorOf(self.focusWidget()) if self.focusWidget() else False
        self.stack.setCurrentIndex(scale)
        self.scales.choose(scale)
        self.days_wanted.emit()
        self._show_day(self.session.day)
        if had_focus:
            self.focus_view()

    def focus_view(self) -> None:
        """Put the keyboard into the calendar."""
        view = {0: self.sheet, 1: self.month}.get(int(self.scale), self.timed)
        view.setFocus(Qt.FocusReason.OtherFocusReason)

    # Showing

    def _refresh(self) -> None:
        reading, day = self.session.reading, self.session.day
        self.sheet_model.show_course(reading)
        self.month_model.show_month(reading, day)
        self._show_day(day)

    def _show_day(self, day: date) -> None:
        reading = self.session.reading
        month = self.month_model.month
        if self.scale is CalendarScale.MONTH and (month is None or day not in month):
            self.month_model.show_month(reading, day)
        if self.scale is CalendarScale.DAY:
            self._show_entries(day)
        else:
            (self.sheet if self.scale is CalendarScale.COURSE else self.month).show_day(day)
        self.title.setText(self._title(day))
        self._tell(None)

    def _show_entries(self, day: date) -> None:
        reading = self.session.reading
        self.timed_model.show_entries(reading, timed_entries(reading, day))
        needed = needed_entries(reading, day)
        self.needed_model.show_entries(reading, needed)
        self.side.setVisible(bool(needed))

    def _title(self, day: date) -> str:
        if self.scale is CalendarScale.DAY:
            return plain_day(day)
        if self.scale is CalendarScale.MONTH:
            return f"{MONTH_NAMES[day.month - 1]} {day.year}"
        return counted(-(-self.session.reading.layout.days.days // 7), self.tr("week"))

    def _tell(self, day: date | None) -> None:
        """Say in full what is taken on the day under the pointer, else on the day in hand."""
        self.day_described.emit(self.sheet_model.day_text(day or self.session.day))

    # Keys

    def key(self, event: QKeyEvent) -> None:
        """Move the day, or change the scale; accepts the event where it did."""
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        target = None if held else self._target(Qt.Key(event.key()))
        if target is not None:
            self.session.go_to(target)
            event.accept()
        elif not held and event.text() in ("1", "2", "3", "4"):
            self.show_scale(int(event.text()) - 1)
            event.accept()

    def _target(self, key: Qt.Key) -> date | None:
        day, days = self.session.day, self.session.reading.layout.days
        if key in STEPS:
            return day + timedelta(days=STEPS[key])
        return {
            Qt.Key.Key_PageUp: add_months(day, -1),
            Qt.Key.Key_PageDown: add_months(day, 1),
            Qt.Key.Key_T: self.session.reading.today,
            Qt.Key.Key_Home: days.first,
            Qt.Key.Key_End: days.last,
        }.get(key)
