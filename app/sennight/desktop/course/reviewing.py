"""Opens the review in the course's place, keeps it up to date, and closes it again."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from sennight.desktop.course.lines.gate_dialog import GateDialog
from sennight.desktop.course.records import ClientRecords
from sennight.desktop.course.review.aside import ReviewAside
from sennight.desktop.course.review.main import ReviewMain
from sennight.desktop.course.session import Session
from sennight.desktop.course.view import CourseView
from sennight.desktop.kit.theme import Theme
from sennight.practice.diaries import day_notes
from sennight.practice.opening import OpenPractice
from sennight.practice.returned import told_by_what_is_left
from sennight.practice.reviewing import course_review, since_given


class ReviewWork(QObject):
    """Acts for one course page; decisions, and the gate, are `wanted` by their kind.

    `turned` tells that the review was opened, or left for the course.
    """

    wanted = Signal(str)
    turned = Signal()

    def __init__(
        self,
        practice: OpenPractice,
        session: Session,
        records: ClientRecords,
        view: CourseView,
    ) -> None:
        super().__init__(view)
        self._practice, self._session, self._records = practice, session, records
        self._view = view
        self.parts: tuple[ReviewMain, ReviewAside] | None = None
        self.is_open = False
        session.changed.connect(self.refresh)
        records.saved.connect(self.refresh)

    def open(self, theme: Theme) -> None:
        """Show the review in place of the course; it is made when it is opened first."""
        if self.parts is None:
            self.parts = self._made(theme)
        if not self.is_open:
            self._view.put_in_place(*self.parts)
            for part in self.parts:
                part.begin()
        self.is_open = True
        self.refresh()
        self.take_focus()
        self.turned.emit()

    def take_focus(self) -> None:
        """Give the keyboard to the diary's days."""
        if self.parts is not None:
            self.parts[1].take_focus()

    def _made(self, theme: Theme) -> tuple[ReviewMain, ReviewAside]:
        main, aside = ReviewMain(theme), ReviewAside(theme)
        for part in (main, aside):
            part.closed.connect(self.leave)
        main.wanted.connect(self.wanted)
        aside.day_wanted.connect(self._records.enter_diary_on)
        aside.left_wanted.connect(self._records.enter_left)
        self._session.refused.connect(main.refuse)
        self._session.trying.connect(main.charts.show_ghost)
        return main, aside

    def leave(self) -> None:
        """Go back from the review to the course."""
        self.close()
        self.turned.emit()

    def close(self) -> None:
        """Show the course again."""
        if self.parts is not None and self.is_open:
            self.is_open = False
            self._view.take_from_place(*self.parts)
            for part in self.parts:  # kept, to be shown again
                part.setParent(self._view)
                part.hide()
            self._view.calendar.focus_view()

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        for part in self.parts or ():
            part.apply_theme(theme)

    def refresh(self) -> None:
        """Show how it goes now, where the review is what is seen."""
        if self.parts is None or not self.is_open:
            return
        course_id, reading = self._records.course_id(), self._session.reading
        review = course_review(self._practice, course_id, reading)
        since = since_given(self._practice, course_id, reading)
        main, aside = self.parts
        main.show_review(review)
        notes = day_notes(self._practice, course_id)
        left = told_by_what_is_left(self._practice, course_id, reading)
        aside.show_review(reading, review, since, notes, left)

    def set_gate(self) -> None:
        """Ask what moving on from the running phase waits for."""
        session = self._session
        run = session.reading.layout.phase_on(session.reading.today)
        phase = run.phase.id if run else session.phase_id
        dialog = GateDialog(session, phase, self._view.window())
        session.keep_draft(dialog, "gate")
        dialog.exec()
        dialog.deleteLater()
