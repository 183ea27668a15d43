"""The course page: shows one course of a practice at a time."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeyEvent, QUndoStack
from PySide6.QtWidgets import QVBoxLayout, QWidget

from sennight.desktop.course.controller import CourseController
from sennight.desktop.kit.section import Page
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.widgets import pressed_by_enter
from sennight.practice.courses import course_entry
from sennight.practice.opening import OpenPractice


def local_now() -> datetime:
    """Now, on this machine's clock, with its zone."""
    return datetime.now().astimezone()


class CoursePage(Page):
    """Opens courses, one after the other in the same parts.

    `turned` tells that the page has turned from the course to its review, or back.
    """

    turned = Signal()

    def __init__(
        self,
        practice: OpenPractice,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        now: Callable[[], datetime] = local_now,
    ) -> None:
        super().__init__(parent)
        self.practice, self.theme, self.now = practice, theme, now
        self.undo_stack = QUndoStack(self)
        self.controller: CourseController | None = None
        self._room = QVBoxLayout(self)
        self._room.setContentsMargins(0, 0, 0, 0)

    @property
    def is_review(self) -> bool:
        """Whether the review is in view in place of the course."""
        return self.controller is not None and self.controller.review.is_open

    def show_course(self, course_id: str) -> None:
        """Show a course; from its review, the page turns back to it as it is."""
        if self.is_review and self.has(course_id):
            self._turn_to(review=False)
        else:
            self.open(course_id)

    def show_review(self, course_id: str) -> None:
        """Show the review of a course; raises MissingRecordError."""
        if not self.has(course_id):
            self.open(course_id)
        self._turn_to(review=True)

    def has(self, course_id: str) -> bool:
        """Whether it is this course that stands in front."""
        return (
            self.controller is not None
            and self.isVisible()
            and self.controller.entry.id == course_id
        )

    def _turn_to(self, *, review: bool) -> None:
        if self.controller is not None:
            self.controller.deciding.put_away()
            if review:
                self.controller.review.open(self.theme)
            else:
                self.controller.review.close()

    def open(self, course_id: str) -> None:
        """Show a course as it was saved last; raises MissingRecordError."""
        self.save_now()
        entry = course_entry(self.practice, course_id)
        if self.controller is None:
            self.controller = CourseController(
                self.practice, entry, self.theme, self, undo_stack=self.undo_stack, now=self.now
            )
            self.controller.review.turned.connect(self.turned)
            self._room.addWidget(self.controller)
            self.seats = self.controller.view.head.seats
        else:
            self.controller.open(entry)
        self.take_focus()

    def save_now(self) -> bool:
        """Save an edit made a moment ago; False where the last one could not be saved."""
        if self.controller is None:
            return True
        return self.controller.session.save_now() and self.controller.session.unsaved is None

    def take_focus(self) -> None:
        """Give the keyboard to the calendar, in a course without lines to what adds one."""
        if self.controller is None:
            return
        if self.is_review:
            self.controller.review.take_focus()
            return
        body = self.controller.view
        if any(phase.lines for phase in self.controller.session.course.protocol.phases):
            body.calendar.focus_view()
        else:
            body.show_lines()

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.theme = theme
        if self.controller is not None:
            self.controller.apply_theme(theme)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses a button; Escape never leaves the page."""
        if not pressed_by_enter(event, self.focusWidget()):
            super().keyPressEvent(event)
