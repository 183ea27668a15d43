"""The calendar in its three scales, keys 1, 2 and 3, around one day in hand."""

from __future__ import annotations

from datetime import date, timedelta
from enum import IntEnum

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from sennight.desktop.course.calendar.calendar_delegate import SheetDelegate
from sennight.desktop.course.calendar.calendar_model import WeeksModel
from sennight.desktop.course.calendar.day_grid import DayGrid
from sennight.desktop.course.calendar.day_pane import DayPane
from sennight.desktop.course.calendar.month_delegate import MonthDelegate
from sennight.desktop.course.session import Session
from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.choices import Choices
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import Shortened
from sennight.desktop.parts.typed import day_and_month
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.dates import Span, add_months, course_week
from sennight.domain.directions.plain_words import MONTH_NAMES, WEEKDAY_NAMES, counted

STEPS = {
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_Up: -7,
    Qt.Key.Key_Down: 7,
}


LOWEST_OF_MONTH = 1.85
"""The same of a week in a month."""


LOWEST_WEEK = 0.8
"""In lines of text: a week's row is not lower than this."""


WEEKS_SHARE, DAY_SHARE = 11, 9
"""How weeks and day share the width."""


USUAL_REMEDIES = 4
"""For each remedy more the weeks get some more of the width."""


MOST_WEEKS = 12
"""So many weeks of a phase go before the last lines of it; more are scrolled to."""


BESIDE_FROM, MORE_BESIDE = 130, 12
"""In units: from this width on the day stands beside the weeks, and for each remedy more."""


LINES = 3
"""The choice behind the scales."""


class CalendarScale(IntEnum):
    """How much of the course is seen at once."""

    COURSE = 0
    MONTH = 1
    DAY = 2


class CourseCalendar(QWidget):
    """Course, month and day of a session's course.

    The day stands beside the weeks, or the month, and in their place where there is no room for
    both. `lines_wanted` is the fourth choice, for the lines that stand below or, in a low window,
    in the same place.
    """

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
        self._is_month_old = True
        self._build_models()
        self._build_views()
        self._lay_out()
        session.changed.connect(self._refresh)
        session.day_changed.connect(self._show_day)
        session.phase_changed.connect(lambda _phase: self._show_day(session.day))
        self._refresh()

    def _build_models(self) -> None:
        reading = self.session.reading
        self.sheet_model, self.month_model = WeeksModel(reading, self), WeeksModel(reading, self)
        self.sheet_delegate = SheetDelegate(self.brushes, self.sheet_model)
        self.month_delegate = MonthDelegate(self.brushes, self.month_model)

    def _build_views(self) -> None:
        self.sheet = DayGrid(self.sheet_model, self.brushes, LOWEST_WEEK)
        self.sheet.setItemDelegate(self.sheet_delegate)
        self.sheet.setAccessibleName(self.tr("Course, week by week"))
        self.month = DayGrid(self.month_model, self.brushes, LOWEST_OF_MONTH)
        self.month.setItemDelegate(self.month_delegate)
        self.month.setAccessibleName(self.tr("Month"))
        for grid in (self.sheet, self.month):
            grid.day_asked.connect(self.session.go_to)
            grid.key_pressed.connect(self.key)
        self.day_page = DayPane(self.session.reading, self.brushes)
        self.day_page.key_pressed.connect(self.key)
        self.day_page.head.hide()  # what it says stands beside the scales then

    def _lay_out(self) -> None:
        self.title = Shortened("", Role.HEADING)
        self.quiet = Shortened("", Role.QUIET, is_whole=True)
        texts = (self.tr("Weeks"), self.tr("Month"), self.tr("Day"))
        lines = (self.tr("Lines"),) if self.with_lines else ()
        self.scales = Choices((*texts, *lines), self.theme)
        self.scales.setAccessibleName(self.tr("Scale of the calendar"))
        self.scales.keeps_all = True
        self.scales.chosen.connect(self.show_scale)
        self.scales.setToolTip(self.tr("Keys 1, 2, 3 and 4"))
        self._head = QHBoxLayout()
        self._head.addWidget(self.title)
        self._head.addWidget(self.quiet, 1)
        self._head.addWidget(self.scales)
        self.stack = QStackedWidget()
        for page in (self.sheet, self.month, self.day_page):
            self.stack.addWidget(page)
        left = QVBoxLayout()
        left.setContentsMargins(0, 0, 0, 0)
        left.setSpacing(0)
        left.addLayout(self._head)
        left.addWidget(self.stack, 1)
        self._across = QHBoxLayout(self)
        self._across.setContentsMargins(0, 0, 0, 0)
        self._across.addLayout(left, WEEKS_SHARE)
        self.arrange_lines(has_turns=False)
        self._space()

    def _space(self) -> None:
        self._across.setSpacing(self.theme.unit * 5)
        self._across.setContentsMargins(0, 0, self.theme.unit * 2, 0)
        self._head.setSpacing(self.theme.unit * 2)
        self.day_page.head.setFixedHeight(self.scales.sizeHint().height())

    def least_height(self) -> int:
        """In how much height all weeks of the phase in hand are seen, however low."""
        names = self.theme.line
        rows = min(len(self._run()), MOST_WEEKS) * round(self.theme.line * LOWEST_WEEK)
        return self.head_height() + names + rows + 4

    def head_height(self) -> int:
        """The height of what stands above the days."""
        return self._head.sizeHint().height()

    # The day beside the weeks

    @property
    def is_beside(self) -> bool:
        """Whether the day stands beside the weeks, and not in their place."""
        return self.stack.indexOf(self.day_page) < 0

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The day stands beside the weeks where there is room for both."""
        super().resizeEvent(event)
        self._fit_day()

    def _fit_day(self) -> None:
        wanted = BESIDE_FROM + MORE_BESIDE * self._more_remedies
        self._put_day(is_beside=self.width() >= self.theme.unit * wanted)

    @property
    def _more_remedies(self) -> int:
        """How many remedies are taken beyond the usual number."""
        return max(0, len(self.sheet_delegate.slots) - USUAL_REMEDIES)

    def _put_day(self, *, is_beside: bool) -> None:
        if is_beside == self.is_beside:
            return
        had_day = self.stack.currentWidget() is self.day_page
        if is_beside:
            self.stack.removeWidget(self.day_page)
            self._across.addWidget(self.day_page, DAY_SHARE)
            self.day_page.show()
        else:
            self._across.removeWidget(self.day_page)
            self.stack.addWidget(self.day_page)
        self.day_page.head.setVisible(is_beside)
        self.scales.set_shown(int(CalendarScale.DAY), is_shown=not is_beside)
        self.show_scale(0 if had_day else self.stack.currentIndex())

    def arrange_lines(self, *, has_turns: bool) -> None:
        """Offer the lines beside the scales where they take turns with the days."""
        if self.with_lines:
            self.scales.set_shown(LINES, is_shown=has_turns)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.theme, self.brushes = theme, Brushes(theme)
        self.scales.apply_theme(theme)
        self._space()
        for drawer in (self.sheet_delegate, self.month_delegate, self.day_page):
            drawer.set_brushes(self.brushes)
        self.sheet.set_brushes(self.brushes)
        self.month.set_brushes(self.brushes)
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
        if scale == CalendarScale.DAY and self.is_beside:
            self.day_page.timed.setFocus(Qt.FocusReason.OtherFocusReason)
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
        view = {0: self.sheet, 1: self.month}.get(int(self.scale), self.day_page.timed)
        view.setFocus(Qt.FocusReason.OtherFocusReason)

    # Showing

    def _refresh(self) -> None:
        reading, day = self.session.reading, self.session.day
        self.sheet_model.show_course(reading)
        self._across.setStretch(0, WEEKS_SHARE + 2 * self._more_remedies)
        self._is_month_old = True
        self._show_day(day)

    def _show_day(self, day: date) -> None:
        reading = self.session.reading
        month = self.month_model.month
        is_other = month is None or day not in month or self._is_month_old
        if self.scale is CalendarScale.MONTH and is_other:
            self.month_model.show_month(reading, day)
            self._is_month_old = False
        self.day_page.show_day(reading, day)
        self._say(day)
        if self.scale is CalendarScale.COURSE:
            self.sheet.show_day(day)
            self.sheet.show_run(self._run())
        elif self.scale is CalendarScale.MONTH:
            self.month.show_day(day)

    def _run_of_phase(self) -> Span | None:
        """The days of the phase in hand: of its several runs, the one about the day in hand."""
        spans = self.session.reading.spans_of(self.session.phase_id)
        here = (span for span in spans if self.session.day in span)
        return next(here, next(iter(spans), None))

    def _run(self) -> range:
        """The rows of the phase in hand; all of them where it has no days."""
        span, first = self._run_of_phase(), self.sheet_model.mondays[:1]
        if span is None or not first or not span:
            return range(self.sheet_model.rowCount())
        begin, end = ((day - first[0]).days // 7 for day in (span.first, span.last))
        return range(begin, end + 1)

    def _say(self, day: date) -> None:
        """Say above the days what is seen."""
        days = self.session.reading.layout.days
        weeks = -(-days.days // 7)
        if self.scale is CalendarScale.MONTH:
            month = MONTH_NAMES[day.month - 1]
            is_tight = self.theme.is_large and not self.is_beside
            self.title.setText(f"{month[:3] if is_tight else month} {day.year}")
            self.quiet.setText("")
            return
        span = self._run_of_phase()
        if self.scale is CalendarScale.DAY:
            self.title.setText(f"{WEEKDAY_NAMES[day.weekday()][:3]} {day_and_month(day)}")
            self.quiet.setText(f"{day.year}, {self.day_page.week.text()}".removesuffix(", "))
            return
        if span is None or not span:
            self.title.setText(counted(weeks, self.tr("week")))
            self.quiet.setText("")
            return
        begin, end = course_week(days.first, span.first), course_week(days.first, span.last)
        text = self.tr("weeks {first} to {last}") if end > begin else self.tr("week {first}")
        self.title.setText(phase_title(self.session.phase_id))
        self.quiet.setText(text.format(first=begin, last=end))

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
