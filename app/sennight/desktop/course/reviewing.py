"""Opens the review in the course page's place, keeps it up to date, and closes it again."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QLayout, QWidget

from sennight.desktop.course.lines.gate_dialog import GateDialog
from sennight.desktop.course.records import ClientRecords
from sennight.desktop.course.review.view import ReviewView
from sennight.desktop.course.session import Session
from sennight.desktop.kit.theme import Theme
from sennight.practice.courses import CourseEntry
from sennight.practice.opening import OpenPractice
from sennight.practice.reviewing import course_review, since_given


class ReviewWork(QObject):
    """Acts for one course page; what it does not do itself is `wanted`, by the action's id."""

    wanted = Signal(str)

    def __init__(
        self,
        practice: OpenPractice,
        session: Session,
        records: ClientRecords,
        course_page: QWidget,
        *,
        entry: Callable[[], CourseEntry],
    ) -> None:
        super().__init__(course_page)
        self._practice, self._session, self._records = practice, session, records
        self._course_page, self._entry = course_page, entry
        self.view: ReviewView | None = None
        session.changed.connect(self.refresh)
        records.saved.connect(self.refresh)

    @property
    def is_open(self) -> bool:
        """Whether the review is what is seen."""
        return self.view is not None and not self.view.isHidden()

    def open(self, room: QLayout, theme: Theme, title: str) -> None:
        """Show the review in place of the course; it is made when it is opened first."""
        if self.view is None:
            self.view = ReviewView(theme)
            self.view.closed.connect(self.close)
            self.view.wanted.connect(self._act)
            self.view.day_wanted.connect(self._records.enter_diary_on)
            self._session.refused.connect(self.view.refuse)
            room.addWidget(self.view)
        self.view.title.setText(title)
        self._course_page.hide()
        self.view.show()
        self.refresh()
        self.view.take_focus()

    def close(self) -> None:
        """Show the course again."""
        if self.view is not None:
            self.view.hide()
            self._course_page.show()
            self._course_page.setFocus()

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        if self.view is not None:
            self.view.apply_theme(theme)

    def refresh(self) -> None:
        """Show how it goes now, where the review is what is seen."""
        if self.view is None or not self.is_open:
            return
        entry, reading = self._entry(), self._session.reading
        self.view.show_review(
            reading,
            course_review(self._practice, entry.id, reading),
            since_given(self._practice, entry.client_id, entry.id, reading),
        )

    def _act(self, action: str) -> None:
        if action == "diary":
            self._records.enter_diary()
        elif action == "scores":
            self._records.enter_scores()
        elif action == "gate":
            self.set_gate()
        else:
            self.wanted.emit(action)
            self.refresh()

    def set_gate(self) -> None:
        """Ask what moving on from the running phase waits for."""
        session = self._session
        run = session.reading.layout.phase_on(session.reading.today)
        phase = run.phase.id if run else session.phase_id
        dialog = GateDialog(session, phase, self._course_page.window())
        session.keep_draft(dialog, f"gate/{phase}")
        dialog.exec()
        dialog.deleteLater()
