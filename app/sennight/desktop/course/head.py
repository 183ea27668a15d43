"""The one head line of the course page: whose course it is, where it stands, what can be done."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QFontMetrics, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QPushButton, QWidget

from sennight.desktop.course.actions import decision_specs, page_specs, review_spec
from sennight.desktop.kit.menus import menu_button
from sennight.desktop.kit.section import Seats
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import Shortened, button, restyle
from sennight.desktop.parts.typed import short_date
from sennight.domain.dates import course_week
from sennight.domain.directions.plain_words import plain_dates
from sennight.practice.course_reading import CourseReading

WIDE_FROM = 210
"""In units: from this width on every button has all its words."""

LINES_BELOW = 140
"""In units: narrower than this the buttons stand beneath the names."""


class HeadLine(QWidget):
    """Client, course and week; the window's tools; Change, Diary, Review, what is given.

    `wanted` carries the word of what was chosen.
    """

    wanted = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.client = Shortened("", Role.TITLE)
        self.course = Shortened("", Role.STRONG)
        self.when = Shortened("", Role.QUIET)
        self.course.least_letters, self.when.least_letters = 3, 30  # the week is never cut
        decisions, doing = decision_specs(), self._doing
        *diary, give = page_specs()
        self.decide_button = menu_button(
            self.tr("Change"), decisions, doing(tuple(spec.id for spec in decisions)), self
        )
        self.decide_button.setAccessibleName(self.tr("Change course"))
        self.diary_button = menu_button(
            self.tr("Diary"), diary, doing(tuple(spec.id for spec in diary)), self
        )
        review = review_spec()
        self.review_button = button(review.text, tip=f"{review.tip} ({review.keys[0]})")
        self.review_button.setShortcut(QKeySequence(review.keys[0]))
        self.review_button.clicked.connect(lambda: self.wanted.emit(review.id))
        self._give, self._theme = give.text, theme
        self.give_button = button(give.text, kind="main", tip=f"{give.tip} ({give.keys[0]})")
        self.give_button.setAccessibleName(give.text)
        self.give_button.setShortcut(QKeySequence(give.keys[0]))
        self.give_button.clicked.connect(lambda: self.wanted.emit(give.id))
        for push_button in self.buttons:
            push_button.setProperty("head", "true")
        self._lay_out()
        self.apply_theme(theme)

    def _doing(self, names: tuple[str, ...]) -> Mapping[str, Callable[[], object]]:
        return {name: lambda name=name: self.wanted.emit(name) for name in names}  # type: ignore[misc]

    def _lay_out(self) -> None:
        self.seats = Seats(QHBoxLayout(), QHBoxLayout(), QHBoxLayout())
        self._layout = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._first, self._second = QHBoxLayout(), QHBoxLayout()
        self._first.addLayout(self.seats.back)
        self._names = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._beneath = QHBoxLayout()
        self._beneath.addWidget(self.course)
        self._beneath.addWidget(self.when, 1)
        self._names.addWidget(self.client)
        self._names.addLayout(self._beneath, 1)
        self._first.addLayout(self._names, 1)
        self._second.addStretch(0)  # which takes room only where the buttons have their own line
        self._second.addLayout(self.seats.tools)
        for push_button in self.buttons:
            self._second.addWidget(push_button)
        self._layout.addLayout(self._first, 1)
        self._layout.addLayout(self._second)

    @property
    def buttons(self) -> tuple[QPushButton, ...]:
        """The buttons, as Tab comes to them."""
        return self.decide_button, self.diary_button, self.review_button, self.give_button

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look, other distances."""
        self._layout.setContentsMargins(0, 0, 0, 0)
        for row in (self._layout, self._first, self._second):
            row.setSpacing(theme.unit * (1 if theme.is_large else 2))
        self._theme = theme
        self.client.least_letters = 7 if theme.is_large else 8
        self._beneath.setSpacing(theme.unit * (1 if theme.is_large else 2))
        self._fit()

    def minimumSizeHint(self) -> QSize:
        """Room for the buttons with their short words, beneath which the names find theirs."""
        wide = self.give_button.fontMetrics().horizontalAdvance
        more = wide(self.give_button.text()) - wide(self.tr("Handout…"))
        return QSize(self._second.minimumSize().width() - more, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """See what there is room for."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """In a narrow window the names stand beneath each other, and the last button is short.

        Where text is large, too, the buttons have a line of their own, and no name is cut.
        """
        is_narrow = self.width() < self._theme.unit * WIDE_FROM
        has_lines = self.width() < self._theme.unit * LINES_BELOW
        ways = QBoxLayout.Direction
        self._layout.setDirection(ways.TopToBottom if has_lines else ways.LeftToRight)
        is_tight = is_narrow or self._theme.is_large or not self._fits_beside()
        self._stack_names(is_stacked=not has_lines and is_tight)
        text = self.tr("Handout…") if is_narrow else self._give
        if text != self.give_button.text():
            keys = self.give_button.shortcut()
            self.give_button.setText(text)
            self.give_button.setShortcut(keys)  # which another text takes away

    def _fits_beside(self) -> bool:
        """Whether client, course and week stand whole in one line, the client as a title."""
        theme = self._theme
        texts = ((self.client, Role.TITLE), (self.course, Role.STRONG), (self.when, Role.QUIET))
        wide = sum(
            QFontMetrics(theme.font(role)).horizontalAdvance(label.text()) for label, role in texts
        )
        others = self._second.sizeHint().width() + self.seats.back.sizeHint().width()
        return wide + others + theme.unit * 12 <= self.width()

    def _stack_names(self, *, is_stacked: bool) -> None:
        """The course beneath the client, or beside, where the client is written larger."""
        directions = QBoxLayout.Direction
        role = "name" if is_stacked or self._theme.is_large else "title"
        self._names.setDirection(directions.TopToBottom if is_stacked else directions.LeftToRight)
        self._names.setSpacing(0 if is_stacked else self._theme.unit * 2)
        if self.client.property("role") != role:
            self.client.setProperty("role", role)
            restyle(self.client)

    def show_names(self, client: str, course: str) -> None:
        """Say whose course it is, and which."""
        self.client.setText(client)
        self.course.setText(course)
        self._fit()

    def show_standing(self, reading: CourseReading) -> None:
        """Say where the course stands today."""
        days = reading.layout.days
        weeks = -(-days.days // 7)
        if reading.today in days:
            week = course_week(days.first, reading.today)
            text = self.tr("week {week} of {weeks}").format(week=week, weeks=weeks)
        elif days and reading.today >= days.first:
            text = self.tr("ended on {day}").format(day=short_date(days.last))
        else:
            text = self.tr("starts on {day}").format(day=short_date(days.first))
        self.when.setText(text)
        self.when.setToolTip(plain_dates(days) if days else "")
        self._fit()
