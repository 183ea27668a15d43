"""One protocol, edited with the parts of the course page, without a client and without dates."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget

from sennight.desktop.course.consequences.actions_panel import ActionsPanel
from sennight.desktop.course.consequences.aims import AimsDialog
from sennight.desktop.course.drafted_formula import remedies_to_give, with_formulas_saved
from sennight.desktop.course.lines.line_cells import Column, LineEditRequest
from sennight.desktop.course.lines.lines_editor import LinesEditor
from sennight.desktop.course.session import SaveError, Session
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import Shortened, button, text_label
from sennight.desktop.parts.protocol_words import phases_summary
from sennight.desktop.protocols.phase_amounts import PhaseAmounts
from sennight.domain.courses.courses import Course
from sennight.practice.course_reading import read_course
from sennight.practice.drafts import DraftKey
from sennight.practice.opening import MissingRecordError, OpenPractice, PracticeFileError
from sennight.practice.own_herbs import known_herbs
from sennight.practice.protocol_files import as_course
from sennight.practice.protocols import (
    ProtocolError,
    ShelfProtocol,
    change_protocol,
)
from sennight.practice.supplied_protocols import SUPPLIED


class ProtocolEditor(QWidget):
    """Phases, lines, what a day of the phase in hand comes to, and the actions of each phase.

    A protocol that comes with the program can be looked at; an edit of it is refused, with what
    to do instead.
    """

    def __init__(
        self, practice: OpenPractice, shelf: ShelfProtocol, theme: Theme, undo_stack: QUndoStack
    ) -> None:
        super().__init__()
        self.practice, self.shelf = practice, shelf
        course = as_course(shelf)
        reading = read_course(course, today=course.start, materia_medica=known_herbs(practice))
        self.session = Session(reading, self._save, undo_stack=undo_stack, parent=self)
        self.title = Shortened(shelf.protocol.name, Role.TITLE)
        self.summary = text_label("", Role.QUIET, wrap=True)
        self.lines = LinesEditor(self.session, theme)
        self.lines.table.hideColumn(Column.UNTIL)
        self.lines.keep_together()
        self.amounts, self.borne = PhaseAmounts(theme), ActionsPanel(theme)
        self.head = QHBoxLayout()
        self._lay_out()
        self._connect()
        self.apply_theme(theme)
        self.refresh()

    @property
    def is_supplied(self) -> bool:
        """Whether it comes with the program, and is on no shelf."""
        return self.shelf.id.startswith(SUPPLIED)

    def _lay_out(self) -> None:
        self._room = QVBoxLayout(self)
        self.head.addWidget(self.title, 1)
        self._room.addLayout(self.head)
        self._room.addWidget(self.summary)
        self._across = QHBoxLayout()
        self._across.addWidget(self.lines, 5)
        self.column = QScrollArea()
        self.column.setProperty("kind", "column")
        self.column.setWidgetResizable(True)
        self.column.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.column.setAccessibleName(self.tr("What follows"))
        inner = QWidget()
        self._column = QVBoxLayout(inner)
        self.runs = text_label("", wrap=True)
        self.runs.setTextFormat(Qt.TextFormat.RichText)
        for part in (self.runs, self.amounts, self.borne):
            self._column.addWidget(part)
        self._column.addStretch(1)
        self.column.setWidget(inner)
        self._across.addWidget(self.column, 2)
        self._room.addLayout(self._across, 1)

    def _connect(self) -> None:
        self.lines.set_shelf(remedies_to_give(self.practice))
        if not self.is_supplied:
            key = DraftKey("protocol-lines", self.shelf.id)
            self.lines.keep_drafts(self.practice, key, self.shelf.protocol.name)
        self.lines.asked.connect(self.edit)
        self.session.refused.connect(self.lines.refuse)
        self.session.changed.connect(self.refresh)
        self.session.phase_changed.connect(self._show_amounts)
        self.borne.choose.clicked.connect(self.choose_aims)

    def add_button(self, text: str, do: Callable[[], object], *, kind: str = "") -> QPushButton:
        """One more button at the head."""
        made = button(text, kind=kind)
        made.clicked.connect(do)
        self.head.addWidget(made)
        return made

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look, other distances."""
        unit = theme.unit
        self._room.setContentsMargins(theme.edge, unit * 2, theme.edge * 3 // 4, unit * 2)
        self._room.setSpacing(unit * 2)
        self.head.setSpacing(unit * 2)
        self._across.setSpacing(unit * 3)
        self._column.setContentsMargins(unit * 3, 0, unit, 0)
        self._column.setSpacing(unit * 4)
        self.column.setMinimumWidth(unit * (44 if theme.is_large else 48))
        for part in (self.lines, self.amounts, self.borne):
            part.apply_theme(theme)

    def refresh(self) -> None:
        """Say anew what the protocol comes to."""
        reading = self.session.reading
        self.title.setText(reading.course.protocol.name)
        self.summary.setText(phases_summary(reading.course.protocol))
        self._show_amounts()
        self.borne.refresh(reading)

    def _show_amounts(self) -> None:
        self.amounts.show_phase(self.session.reading, self.session.phase_id)

    # Editing

    def edit(self, asked: LineEditRequest) -> None:
        """Make an edit that can be undone."""
        try:
            course = with_formulas_saved(self.practice, self.session.course, asked.course, self)
        except PracticeFileError as error:
            self.lines.refuse(str(error))
            return
        if course is None or not self.session.edit(asked.words, course):
            self.session.changed.emit()

    def rename(self, name: str) -> bool:
        """Give the protocol another name; whether that was done."""
        course = self.session.course
        protocol = replace(course.protocol, name=name)
        return self.session.edit(self.tr("Rename"), replace(course, protocol=protocol))

    def choose_aims(self) -> None:
        """Ask for the actions that are wanted of it."""
        dialog = AimsDialog(self.session.reading, self)
        dialog.keep_draft(self.practice, "protocol-aims", self.shelf.id)
        if dialog.exec():
            self.session.edit(self.tr("Choose wanted actions"), dialog.course)
        dialog.deleteLater()

    def _save(self, course: Course) -> None:
        if self.is_supplied:
            raise SaveError(
                self.tr("This protocol comes with the program. Copy it, and change the copy.")
            )
        shelf = replace(self.shelf, protocol=course.protocol, remedies=course.remedies)
        try:
            change_protocol(self.practice, shelf)
        except (ProtocolError, MissingRecordError, PracticeFileError) as error:
            raise SaveError(str(error)) from error
        self.shelf = shelf
