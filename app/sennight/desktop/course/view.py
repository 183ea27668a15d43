"""The parts of the course page and how they share the room."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSplitter, QVBoxLayout, QWidget

from sennight.desktop.course.actions import decision_specs, page_specs, review_spec
from sennight.desktop.course.calendar.calendar_view import LINES, CalendarScale, CourseCalendar
from sennight.desktop.course.consequences.panels import ConsequencesPanel
from sennight.desktop.course.lines.lines_editor import LinesEditor
from sennight.desktop.course.session import Session
from sennight.desktop.course.timeline.view import Timeline
from sennight.desktop.kit.menus import menu_button
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import Shortened, button, hairline, restyle, text_label
from sennight.domain.dates import course_week
from sennight.domain.directions.plain_words import plain_dates

LOW = 23
"""With fewer lines of text beneath the timeline, calendar and lines have no room at once."""


LOW_FOR_WORDS = 38
"""The same, while the calendar shows a month in words."""


LANES = 0.23
"""The remedies' lanes in the timeline take no more of the height than this, where they can."""


LARGE = 125
"""From this size of text on the title is set smaller, so that it fits beside the buttons."""


class CourseView(QWidget):
    """Everything that shows one course."""

    decision_wanted = Signal(str)

    def __init__(self, session: Session, theme: Theme, title: str) -> None:
        super().__init__()
        self.session = session
        self.title = Shortened(title, Role.TITLE)
        self.when = Shortened("", Role.QUIET)
        self.timeline = Timeline(session, theme)
        self.status_label = text_label("", Role.QUIET, wrap=True)
        self.calendar = CourseCalendar(session, theme)
        self.lines = LinesEditor(session, theme)
        self.consequences = ConsequencesPanel(theme)
        self.timeline.status_message.connect(self._tell)
        self.calendar.day_described.connect(self.consequences.day.show_day)
        self.calendar.lines_wanted.connect(self.show_lines)
        self.calendar.days_wanted.connect(self.show_days)
        self.is_low = False
        session.day_changed.connect(self.consequences.amounts.show_day)
        session.phase_changed.connect(self.consequences.amounts.show_phase)
        self.consequences.borne.choose.clicked.connect(partial(self.decision_wanted.emit, "aims"))
        self.consequences.amounts.show_day(session.day)
        self.consequences.amounts.show_phase(session.phase_id)
        session.changed.connect(self.refresh)
        self.page_buttons: dict[str, QPushButton] = {}
        self._lay_out(theme)
        self.refresh()
        self.calendar.show_scale(0)

    def _lay_out(self, theme: Theme) -> None:
        self._layout = QVBoxLayout(self)
        self._head = QHBoxLayout()
        self._head.setSpacing(theme.unit * 3)
        names = QVBoxLayout()
        names.setSpacing(0)
        names.addWidget(self.title)
        names.addWidget(self.when)
        self._head.addLayout(names, 1)
        self.decide_button = self._decide_button()
        self._last_button = self.decide_button
        self._head.addWidget(self.decide_button)
        self._layout.addLayout(self._head)
        self._layout.addWidget(self.timeline)
        self._layout.addWidget(self.status_label)
        self.status_label.hide()
        self._layout.addWidget(hairline())
        self._layout.addWidget(self._split(), 1)
        self.apply_theme(theme)

    def _split(self) -> QSplitter:
        self.upright = QSplitter(Qt.Orientation.Vertical)
        self.upright.addWidget(self.calendar)
        self.upright.addWidget(self.lines)
        self.across = QSplitter(Qt.Orientation.Horizontal)
        self.across.addWidget(self.upright)
        self.across.addWidget(self.consequences)
        for splitter, shares in ((self.upright, (3, 2)), (self.across, (5, 1))):
            for n, share in enumerate(shares):
                splitter.setStretchFactor(n, share)
            splitter.setChildrenCollapsible(True)
        return self.across

    def _decide_button(self) -> QPushButton:
        specs = decision_specs()
        doing = {spec.id: partial(self.decision_wanted.emit, spec.id) for spec in specs}
        return menu_button(self.tr("Change course"), specs, doing, self)

    def add_page_buttons(self) -> None:
        """What is done on the page, each with its keys; the main one last."""
        for spec in (review_spec(), *page_specs()):
            kind = "main" if spec.id == "give" else ""
            page_button = button(spec.text, kind=kind, tip=f"{spec.tip} ({spec.keys[0]})")
            page_button.setShortcut(QKeySequence(spec.keys[0]))
            page_button.clicked.connect(partial(self.decision_wanted.emit, spec.id))
            self.add_button(page_button)
            self.page_buttons[spec.id] = page_button
        self._name_page_buttons()

    def _name_page_buttons(self) -> None:
        """Large text wants shorter words; those who hear get the whole ones."""
        short = {
            "diary": self.tr("Diary"),
            "scores": self.tr("Scores"),
            "give": self.tr("Handout…"),
        }
        for spec in page_specs():
            if spec.id in self.page_buttons:
                large = self.theme.scale >= LARGE
                self.page_buttons[spec.id].setText(short[spec.id] if large else spec.text)
                self.page_buttons[spec.id].setAccessibleName(spec.text)

    def add_button(self, button: QPushButton) -> None:
        """One more button at the head; Tab comes to it after those before it."""
        self._head.addWidget(button)
        self.setTabOrder(self._last_button, button)
        self._last_button = button

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look, other distances."""
        self.theme, unit = theme, theme.unit
        for part in (self.calendar, self.lines):
            part.setMinimumHeight(theme.line * 2)
        self.title.setProperty("role", "title" if theme.scale < LARGE else "heading")
        restyle(self.title)
        self._name_page_buttons()
        self._layout.setContentsMargins(unit * 8, unit * 2, unit * 6, unit)
        self._layout.setSpacing(unit * 2)
        self.upright.setContentsMargins(0, 0, unit * 2, 0)
        self.timeline.apply_theme(theme)
        self.calendar.apply_theme(theme)
        self.lines.apply_theme(theme)
        self.consequences.apply_theme(theme)

    def refresh(self) -> None:
        """Say where the course stands."""
        reading = self.session.reading
        days, text = reading.layout.days, plain_dates(reading.layout.days)
        if reading.today in days:
            week = course_week(days.first, reading.today)
            text += " · " + self.tr("week {week} now").format(week=week)
        elif days:
            begun = reading.today >= days.first
            text += " · " + (self.tr("over") if begun else self.tr("not begun yet"))
        self.when.setText(text)

    # In a low window, calendar and lines take turns in one place

    def resizeEvent(self, event: QResizeEvent) -> None:
        """See whether there is room for both."""
        super().resizeEvent(event)
        self._measure()

    def _measure(self) -> None:
        """Words of a month want more room than marks."""
        words_shown = self.calendar.scale is CalendarScale.MONTH
        self.timeline.set_room(self.height() * LANES)
        room = self.height() - self.timeline.sizeHint().height()
        self.is_low = room < self.theme.line * (LOW_FOR_WORDS if words_shown else LOW)
        self._take_turns(lines=self.calendar.scales.currentIndex() == LINES)

    def _take_turns(self, *, lines: bool) -> None:
        self.lines.setVisible(lines or not self.is_low)
        self.calendar.stack.setVisible(not (lines and self.is_low))
        self.lines.table.horizontalHeader().setVisible(not self.is_low)
        head = self.calendar.sizeHint().height() if lines and self.is_low else 1 << 20
        self.calendar.setMaximumHeight(head)

    def show_lines(self) -> None:
        """Bring the lines to view, the keyboard with them."""
        self.calendar.scales.choose(LINES if self.is_low else int(self.calendar.scale))
        self._take_turns(lines=True)
        self.lines.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_days(self) -> None:
        """Bring the calendar to view."""
        self._take_turns(lines=False)
        self._measure()

    def _tell(self, text: str) -> None:
        """What moving an end would do, while it moves."""
        self.status_label.setText(text)
        self.status_label.setVisible(bool(text))
