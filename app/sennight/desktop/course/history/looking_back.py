"""The course as it stood on a past day: its timeline and calendar then, to look at only."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from sennight.desktop.course.calendar.calendar_view import CourseCalendar
from sennight.desktop.course.session import SaveError, Session
from sennight.desktop.course.timeline.view import Timeline
from sennight.desktop.kit.date_field import DateField
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.fitting_area import FittingArea
from sennight.desktop.kit.forms import FieldForm, read_field
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.courses.courses import Course, as_it_stood
from sennight.domain.courses.revision_words import revision_sentence
from sennight.domain.directions.plain_words import plain_date
from sennight.practice.course_reading import CourseReading
from sennight.practice.courses import CourseVersion, version_on

LEAST_WEEKS = 6
"""Lines of text that the weeks have at least; beyond that they scroll, and nothing around them."""

LEAST_TOLD = 24
"""Letters across in the column of what is told."""


def _kept(_course: Course) -> None:
    raise SaveError(translate("LookBack", "A look back changes nothing."))


class LookBack(FormDialog):
    """Asks for a day, and shows the course as it stood then."""

    def __init__(
        self,
        reading: CourseReading,
        history: Sequence[CourseVersion],
        theme: Theme,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(
            parent,
            translate("LookBack", "View the course on a past date"),
            do=translate("LookBack", "Close"),
        )
        self.history = history
        self.leave_button.hide()
        self.day = DateField(reading.today, past=True)
        self.day.set_day(reading.today)
        self.day.editingFinished.connect(self.look_back)
        self.form = FieldForm()
        self.row = self.form.row(self.tr("Day"), self.day)
        self.version_label = text_label("", wrap=True)
        self.decisions = text_label("", Role.QUIET, wrap=True)
        self.session = Session(reading, _kept, undo_stack=QUndoStack(self), parent=self)
        self.timeline = Timeline(self.session, theme)
        self.timeline.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.timeline.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.calendar = CourseCalendar(self.session, theme, with_lines=False)
        self.calendar.setMinimumHeight(theme.line * LEAST_WEEKS)
        self.save_height()
        self.set_body(self._body_of(), columns=150, lines=44)
        self.look_back()

    def _body_of(self) -> QWidget:
        """What is asked and told, and the course beside it: neither lengthens the other."""
        body, told, course = QWidget(), QWidget(), QWidget()
        left, right, halves = QVBoxLayout(told), QVBoxLayout(course), QHBoxLayout(body)
        for layout in (left, right, halves):
            layout.setContentsMargins(0, 0, 0, 0)
        for part in (self.form, self.version_label, self.decisions):
            left.addWidget(part)
        left.addStretch(1)
        right.addWidget(self.timeline)
        right.addWidget(self.calendar, 1)
        halves.setSpacing(self.fontMetrics().height() * 2)
        area = FittingArea(told)
        area.setMinimumWidth(self._width(LEAST_TOLD))
        halves.addWidget(area, 2)
        halves.addWidget(course, 7)
        return body

    def look_back(self) -> None:
        """Show the course as it stood on the day that is typed."""
        self.row.explain("")
        day = read_field(self.row, self.day)
        if day is None:
            return
        number, when, course = version_on(self.history, day)
        stood = as_it_stood(course, day)
        self.session.take_over(stood, today=day)
        self.session.go_to(day)
        text = self.tr("Version {number}, saved on {day}.")
        self.version_label.setText(text.format(number=number, day=plain_date(when.date())))
        decisions = [revision_sentence(revision, stood) for revision in stood.revisions]
        self.decisions.setText("\n".join(decisions) or self.tr("No decision had been made yet."))
