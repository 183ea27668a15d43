"""What a client was given, as it was: opened to be read, or saved once more."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from sennight.desktop.kit.file_dialogs import ask_where
from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import button, text_label
from sennight.domain.directions.plain_words import plain_date
from sennight.practice.courses import CourseEntry
from sennight.practice.opening import OpenPractice, PracticeFileError
from sennight.practice.papers import (
    GivenPaper,
    list_given,
    paper_to_read,
    paper_words,
    save_paper,
)
from sennight.practice.writing import FolderError

READABLE = frozenset({".pdf", ".ics", ".eml"})
"""What is handed to another program to show. A practice file may come from elsewhere, and other
files could be programs."""


MOST_ROWS = 6
"""So many papers are in view; of more, the older ones scroll."""


class GivenPapers(QWidget):
    """The papers of one client, the newest first; hidden where there are none."""

    status_message = Signal(str)

    def __init__(self, practice: OpenPractice) -> None:
        super().__init__()
        self._practice = practice
        self.papers: tuple[GivenPaper, ...] = ()
        self._courses: dict[str, str] = {}
        columns = (self.tr("Paper"), self.tr("Course"), self.tr("Given on"))
        self.model = TextTable(columns, self)
        self.rows = RowsView(self.model, shares=(4, 4, 6))
        self.rows.setAccessibleName(self.tr("Given"))
        self.rows.horizontalHeader().hide()
        self.rows.is_calm = True
        self.open_button = button(self.tr("Open"), kind="link")
        self.save_button = button(self.tr("Save as…"), kind="link")
        self._lay_out()
        self.hide()
        self.rows.entered_row.connect(self.open_paper)
        self.rows.doubleClicked.connect(lambda index: self.open_paper(index.row()))
        self.open_button.clicked.connect(lambda: self.open_paper(self._row()))
        self.save_button.clicked.connect(lambda: self.save_as(self._row()))

    def _lay_out(self) -> None:
        self._head = QHBoxLayout()
        self._head.addWidget(text_label(self.tr("Given"), Role.HEADING), 1)
        for act in (self.open_button, self.save_button):
            self._head.addWidget(act, 0, Qt.AlignmentFlag.AlignTop)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addLayout(self._head)
        layout.addWidget(self.rows)

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self._head.setSpacing(theme.unit * 3)
        self.rows.show_whole(MOST_ROWS)

    def show_client(self, client_id: str, courses: tuple[CourseEntry, ...]) -> None:
        """Show what a client was given; courses that cannot be read have no name here."""
        self._courses = {entry.id: entry.course.protocol.name for entry in courses}
        self.papers = list_given(self._practice, client_id)
        self.model.show_rows(len(self.papers), self._cells)
        self.rows.show_whole(MOST_ROWS)
        self.setVisible(bool(self.papers))

    def _cells(self, row: int) -> tuple[str, ...]:
        paper = self.papers[row]
        course = self._courses.get(paper.course_id or "", "")
        day = plain_date(paper.when.astimezone().date())
        number = self.tr("{day} (no. {number})").format(day=day, number=paper.number)
        return paper_words(paper), course, number

    def _row(self) -> int:
        return self.rows.currentIndex().row()

    def open_number(self, paper_id: int) -> None:
        """Show the paper of that id."""
        rows = (row for row, paper in enumerate(self.papers) if paper.id == paper_id)
        self.open_paper(next(rows, -1))

    def open_paper(self, row: int) -> None:
        """Show a paper in the program that this computer has for it."""
        if not 0 <= row < len(self.papers):
            return
        paper = self.papers[row]
        if Path(paper.name).suffix.lower() not in READABLE:
            text = self.tr("Files of this kind are not opened from here. Save it instead.")
            self.status_message.emit(text)
            return
        try:
            path = paper_to_read(self._practice, paper.id)
        except (FolderError, PracticeFileError) as error:
            self.status_message.emit(str(error))
            return
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))

    def save_as(self, row: int) -> None:
        """Write a paper once more, the same bytes, where the practitioner says."""
        if not 0 <= row < len(self.papers):
            return
        paper = self.papers[row]
        path = ask_where(self.window(), self.tr("Save as"), Path(paper.name).name, "")
        if path is None:
            return
        try:
            written = save_paper(self._practice, paper.id, path)
        except (FolderError, PracticeFileError) as error:
            self.status_message.emit(str(error))
            return
        self.status_message.emit(self.tr("Saved as {path}.").format(path=written))
