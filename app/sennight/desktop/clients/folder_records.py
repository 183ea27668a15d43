"""The right side of a folder: how it goes, the courses, what was given and dispensed, a note."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.clients.course_rows import CourseRows
from sennight.desktop.clients.dispensed import Dispensed
from sennight.desktop.clients.given_papers import GivenPapers
from sennight.desktop.clients.how_it_goes import HowItGoes
from sennight.desktop.kit.note_field import NoteField
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import Empty, button, text_label
from sennight.practice.courses import CourseEntry
from sennight.practice.opening import OpenPractice

SIDE_BY_SIDE = 84
"""Columns of text from which on papers and what was dispensed stand beside each other."""


class FolderRecords(QScrollArea):
    """Scrolls where text needs more room than there is."""

    def __init__(self, practice: OpenPractice, theme: Theme) -> None:
        super().__init__()
        self.how = HowItGoes(practice, theme)
        self.rows = CourseRows(theme)
        self.rows.setAccessibleName(self.tr("Courses"))
        self.bring = button(self.tr("Import a course file…"))
        self.empty = Empty(
            self.tr("No course yet"),
            self.tr("Start one from a protocol or from scratch; everything can be changed later."),
            self.bring,
            drawing="course",
        )
        self.courses = QStackedWidget()
        self.courses.addWidget(self.rows)
        self.courses.addWidget(self.empty)
        self.another = button(self.tr("Start another course…"), kind="link")
        self.damage = text_label("", Role.ALARM, wrap=True)
        self.damage.setAccessibleName(self.tr("Damaged courses"))
        self.given, self.dispensed = GivenPapers(practice), Dispensed(practice)
        self._make_note()
        self._lay_out()

    def _make_note(self) -> None:
        self.note = NoteField()
        self.note.setPlaceholderText(self.tr("Anything worth remembering about this client"))
        self.note.setProperty("kind", "note")
        self.note.setTabChangesFocus(True)
        self.note.setAccessibleName(self.tr("Note"))
        self.note.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.note.document().documentLayout().documentSizeChanged.connect(self._fit_note)

    def _lay_out(self) -> None:
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        records = QWidget()
        self._column = QVBoxLayout(records)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addWidget(self.how)
        self._column.addLayout(self._course_part())
        self._pair = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        top = Qt.AlignmentFlag.AlignTop
        self._pair.addWidget(self.given, 1, top)
        self._pair.addWidget(self.dispensed, 1, top)
        self._column.addLayout(self._pair)
        self._column.addLayout(self._note_part())
        self._column.addStretch(1)
        self.setWidget(records)

    def _course_part(self) -> QVBoxLayout:
        part, head = QVBoxLayout(), QHBoxLayout()
        part.setSpacing(0)
        head.addWidget(text_label(self.tr("Courses"), Role.HEADING), 1)
        head.addWidget(self.another)
        part.addLayout(head)
        part.addWidget(self.damage)
        part.addWidget(self.courses)
        return part

    def _fit_note(self) -> None:
        """As high as what is written, since the column scrolls as a whole; two lines at least."""
        text, margin = self.note.fontMetrics(), self.note.document().documentMargin()
        lines = max(2, int(self.note.document().size().height()))
        self.note.setFixedHeight(round(lines * text.lineSpacing() + margin * 2 + 2))

    def _note_part(self) -> QVBoxLayout:
        part = QVBoxLayout()
        part.setSpacing(0)
        self._note_label: QLabel = text_label(self.tr("Note"), Role.HEADING)
        part.addWidget(self._note_label)
        part.addWidget(self.note)
        return part

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another theme."""
        self._column.setSpacing(theme.unit * 3)
        self._pair.setSpacing(theme.unit * 5)
        self.how.apply_theme(theme)
        self.rows.apply_theme(theme)
        self.given.apply_theme(theme)
        self.dispensed.apply_theme(theme)
        self.empty.setMinimumHeight(theme.line * 12)
        self._fit_note()
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Papers beside what was dispensed where there is room for both."""
        super().resizeEvent(event)
        wide = self.width() >= self.fontMetrics().horizontalAdvance("n") * SIDE_BY_SIDE
        ways = QBoxLayout.Direction
        self._pair.setDirection(ways.LeftToRight if wide else ways.TopToBottom)

    def show_client(self, client_id: str, courses: tuple[CourseEntry, ...], today: date) -> None:
        """Show what there is of a client."""
        self.how.show_courses(courses, today)
        self.rows.show_courses(courses, today)
        self.dispensed.show_client(client_id, courses, today)
        self.given.show_client(client_id, courses)
        self.courses.setCurrentWidget(self.rows if courses else self.empty)
        self.another.setVisible(bool(courses))
        self._fit()

    def _fit(self) -> None:
        """The courses are as high as what is shown of them."""
        shown = self.courses.currentWidget()
        if shown is self.rows:
            self.courses.setFixedHeight(self.rows.height())
        elif shown is not None:
            self.courses.setMinimumHeight(self.empty.minimumHeight())
            self.courses.setMaximumHeight(16_777_215)

    def to_top(self) -> None:
        """Begin at the top again."""
        self.verticalScrollBar().setValue(0)
