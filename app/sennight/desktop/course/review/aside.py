"""The right side of the review: the diary as a calendar, last time, findings, and the figures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QVBoxLayout

from sennight.desktop.course.diary.diary_values import short_day
from sennight.desktop.course.review.fullness import FullnessModel, FullnessView
from sennight.desktop.course.review.left import LeftPanel
from sennight.desktop.course.review.parts import ReviewPart, scrolled
from sennight.desktop.course.review.shares import SharesTable
from sennight.desktop.course.review.since import SincePanel
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.charts.review import Review
from sennight.domain.follow_up.diaries import DayNote
from sennight.practice.course_reading import CourseReading
from sennight.practice.reviewing import SinceGiven

MOST_NOTES = 5
"""So many notes of days are in view; the days above tell of the others."""


class ReviewAside(ReviewPart):
    """`day_wanted` is a day whose diary entry is to be opened, `left_wanted` what is left."""

    day_wanted = Signal(object)
    left_wanted = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self.calendar = FullnessView(FullnessModel(self), theme)
        self.day = text_label("", Role.QUIET, wrap=True)
        self.notes_heading = text_label(translate("Review", "Diary notes"), Role.HEADING)
        self.notes = text_label("", wrap=True)
        self.since = SincePanel()
        self.figures = text_label(translate("Review", "Taken, of what was due"), Role.HEADING)
        self.shares = SharesTable(self)
        ranges = translate("Review", "A range: which doses were missed is not recorded.")
        self.ranges = text_label(ranges, Role.QUIET, wrap=True)
        self.left = LeftPanel()
        self.calendar.described.connect(self.day.setText)
        self.calendar.day_chosen.connect(self.day_wanted)
        self.left.wanted.connect(self.left_wanted)
        heading = text_label(translate("Review", "Diary"), Role.HEADING)
        room = QVBoxLayout(self)
        room.setContentsMargins(0, 0, 0, 0)
        room.addWidget(
            scrolled(
                heading,
                self.calendar,
                self.day,
                self.notes_heading,
                self.notes,
                self.since,
                self.figures,
                self.shares,
                self.ranges,
                self.left,
            )
        )
        self.apply_theme(theme)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.theme = theme
        self.calendar.apply_theme(theme)
        self.shares.apply_theme(theme)

    def show_review(
        self,
        reading: CourseReading,
        review: Review,
        since: SinceGiven,
        notes: Sequence[DayNote] = (),
        left: tuple[str, ...] = (),
    ) -> None:
        """Show a course as it stands today; what was said of single days, the newest first."""
        self.calendar.show_review(review, notes)
        self.notes.setText("\n".join(self._said(notes)))
        for part in (self.notes_heading, self.notes):
            part.setVisible(bool(notes))
        self.since.show_since(reading, since)
        self.shares.show_review(review, self.theme)
        self.figures.setVisible(review.report is not None)
        self.ranges.setVisible(self.shares.has_ranges)
        self.left.show_told(left)

    def take_focus(self) -> None:
        """Give the keyboard to the diary's days."""
        QTimer.singleShot(0, self.calendar, self.calendar.setFocus)

    def _said(self, notes: Sequence[DayNote]) -> Iterator[str]:
        """The newest notes in words, and how many there are beside them."""
        for note in reversed(notes[-MOST_NOTES:]):
            yield f"{short_day(note.day)}: {note.words}"
        if len(notes) > MOST_NOTES:
            more = self.tr("{count} earlier, in the client’s story and on the days above")
            yield more.format(count=len(notes) - MOST_NOTES)
