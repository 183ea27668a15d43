"""A client's folder: the facts that matter for safety, the courses, and a note."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction, QResizeEvent, QUndoStack
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.clients.actions import archive_words, folder_specs
from sennight.desktop.clients.client_dialog import Answer, ClientDialog
from sennight.desktop.clients.dispensed import Dispensed
from sennight.desktop.clients.facts_strip import FactsStrip
from sennight.desktop.clients.given_papers import GivenPapers
from sennight.desktop.clients.rows import course_cells, course_columns
from sennight.desktop.clients.start_dialog import Start, StartDialog
from sennight.desktop.intake.import_file import import_file
from sennight.desktop.kit.draft_note import brought_back_words
from sennight.desktop.kit.drafts import DraftKeeper
from sennight.desktop.kit.menus import menu_button
from sennight.desktop.kit.note_field import NoteField
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.section import Page
from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.undo import ValueStep
from sennight.desktop.kit.widgets import Empty, button, hairline, text_label
from sennight.desktop.parts.standing import course_sentence
from sennight.desktop.red_flags.flags_banner import FlagsBanner
from sennight.domain.courses.stretches import lay_out
from sennight.practice.clients import ClientEntry, change_client, client_entry
from sennight.practice.courses import (
    CourseEntry,
    client_courses,
    course_entry,
    start_course,
    start_empty_course,
)
from sennight.practice.drafts import Draft, DraftKey
from sennight.practice.formula_drafts import formula_drafts
from sennight.practice.opening import OpenPractice, PracticeFileError
from sennight.practice.own_herbs import known_herbs
from sennight.practice.protocols import list_protocols
from sennight.practice.reactions import record_past_reactions

BESIDE = 120
"""Columns of text from which on the note stands beside the courses."""


class FolderPage(Page):
    """One client's folder at a time; each client's edits can be undone while the program runs."""

    course_opened = Signal(str)
    status_message = Signal(str)
    changed = Signal()

    def __init__(self, practice: OpenPractice, theme: Theme, now: Callable[[], datetime]) -> None:
        super().__init__()
        self._practice, self._now = practice, now
        self._entry: ClientEntry | None = None
        self._courses: tuple[CourseEntry, ...] = ()
        self._new_course = ""
        self._stacks: dict[str, QUndoStack] = {}
        self._make_head()
        self._make_body()
        self._lay_out()
        self.draft = DraftKeeper(self, practice, lambda: {"Note": self.note})
        self._connect()
        self.apply_theme(theme)

    # Layout

    def _make_head(self) -> None:
        self.title = text_label("", Role.TITLE, wrap=True)
        self.contact = text_label("", Role.QUIET, wrap=True)
        doing = {"flags": self.ask_for_flags, "archive": self.turn_archive}
        self.more = menu_button(self.tr("More…"), folder_specs(), doing, self)
        self.edit = button(self.tr("Change client"))
        self.start = button(self.tr("Start a course"), kind="main")
        self.strip = FactsStrip()
        self.banner = FlagsBanner(self._practice, self._now, self)
        self.asked = text_label("", Role.QUIET, wrap=True)

    def _make_body(self) -> None:
        self.bring = button(self.tr("Import a course file…"))
        self.model = TextTable(course_columns(), self)
        self.rows = RowsView(self.model, shares=(5, 7, 5))
        self.rows.setAccessibleName(self.tr("Courses"))
        self.empty = Empty(
            self.tr("No course yet"),
            self.tr("Start one from a protocol, or from an empty one; all of it can be changed."),
            self.bring,
        )
        self.damage = text_label("", Role.QUIET, wrap=True)
        self.damage.setAccessibleName(self.tr("Damaged courses"))
        self.courses = QStackedWidget()
        self.courses.addWidget(self.rows)
        self.courses.addWidget(self.empty)
        self.dispensed = Dispensed(self._practice)
        self.given = GivenPapers(self._practice)
        self.note = NoteField()
        self.note.setPlaceholderText(self.tr("Anything worth remembering about this client"))
        self.note.setProperty("kind", "note")
        self.note.setTabChangesFocus(True)
        self.note.setAccessibleName(self.tr("Note"))

    def _lay_out(self) -> None:
        self._head = QHBoxLayout()
        names = QVBoxLayout()
        names.setSpacing(0)
        names.addWidget(self.title)
        names.addWidget(self.contact)
        self._head.addLayout(names, 1)
        for part in (self.more, self.edit, self.start):
            self._head.addWidget(part, 0, Qt.AlignmentFlag.AlignTop)
        self._body = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        note = QVBoxLayout()
        note.setSpacing(0)
        note.addWidget(text_label(self.tr("Note"), Role.QUIET))
        note.addWidget(self.note, 1)
        self._body.addWidget(self._records(), 7)
        self._body.addLayout(note, 3)
        self._layout = QVBoxLayout(self)
        self._layout.addWidget(self.banner)
        self._layout.addLayout(self._head)
        self._layout.addWidget(self.strip)
        self._layout.addWidget(self.asked)
        self._layout.addWidget(self.damage)
        self._layout.addWidget(hairline())
        self._layout.addLayout(self._body, 1)

    def _records(self) -> QScrollArea:
        """The courses, what was handed over and given; they scroll where text needs more room."""
        records = QWidget()
        column = QVBoxLayout(records)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.courses, 1)
        column.addWidget(self.dispensed)
        column.addWidget(self.given)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setWidget(records)
        return self._scroll

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self._layout.setContentsMargins(
            theme.unit * 8, theme.unit * 4, theme.unit * 8, theme.unit * 2
        )
        self._layout.setSpacing(theme.unit * 4)
        self._body.setSpacing(theme.unit * 6)
        self._head.setSpacing(theme.unit * 3)
        self.courses.setMinimumHeight(theme.line * 5)
        self._scroll.setMinimumHeight(theme.line * 6)
        self.note.setMinimumHeight(theme.line * 3)
        self.strip.apply_theme(theme)
        self.dispensed.apply_theme(theme)
        self.given.apply_theme(theme)
        self.banner.apply_theme(theme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The note beside the courses where there is room for both, else beneath them."""
        super().resizeEvent(event)
        wide = self.width() >= self.fontMetrics().horizontalAdvance("n") * BESIDE
        ways = QBoxLayout.Direction
        self._body.setDirection(ways.LeftToRight if wide else ways.TopToBottom)

    # Behaviour

    def _connect(self) -> None:
        self.edit.clicked.connect(self.change)
        self.start.clicked.connect(self.start_course)
        self.rows.chosen.connect(lambda row: self.course_opened.emit(self._courses[row].id))
        self.note.left.connect(self.keep_note)
        self.draft.brought_back.connect(self._brought_back)
        self.draft.refused.connect(self.status_message)
        self.bring.clicked.connect(self.bring_in)
        self.banner.changed.connect(self.load)
        self.given.status_message.connect(self.status_message)

    def _today(self) -> date:
        return self._now().date()

    @property
    def undo_stack(self) -> QUndoStack | None:
        """The edits of the client in view."""
        return self._stacks.get(self._entry.id) if self._entry else None

    def take_focus(self) -> None:
        """Give the keyboard to the courses, or to what starts one."""
        first = self.rows if self._courses else self.start
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def open(self, client_id: str) -> None:
        """Show a client's folder."""
        self.keep_note()
        if client_id not in self._stacks:
            self._stacks[client_id] = QUndoStack(self)
        self._entry = client_entry(self._practice, client_id)
        self.load()
        self._scroll.verticalScrollBar().setValue(0)

    def load(self) -> None:
        """Read the client in view anew."""
        if self._entry is None:
            return
        self._entry = entry = client_entry(self._practice, self._entry.id)
        self._courses, damaged = client_courses(self._practice, entry.id)
        self.damage.setText("\n".join(damaged))
        self.damage.setVisible(bool(damaged))
        self.title.setText(entry.client.name)
        self.contact.setText(entry.contact)
        self.contact.setVisible(bool(entry.contact))
        names = known_herbs(self._practice).names
        self.strip.show_client(entry.client, self._today(), names)
        self.banner.show_client(entry.id)
        self.asked.setText(self.banner.asked_words())
        self.asked.setVisible(not self.banner.stands)
        for turn in self.findChildren(QAction, "archive"):
            turn.setText(archive_words(archived=entry.archived))
        self.note.setPlainText(entry.note)
        title = self.tr("Note – {name}").format(name=entry.client.name)
        self.draft.begin(DraftKey("client-note", entry.id), title)
        self.model.show_rows(len(self._courses), self._cells)
        self.dispensed.show_client(entry.id, self._courses, self._today())
        self.given.show_client(entry.id, self._courses)
        self.courses.setCurrentWidget(self.rows if self._courses else self.empty)

    def _cells(self, row: int) -> tuple[str, ...]:
        return course_cells(self._courses[row], self._today())

    def _brought_back(self, draft: Draft, otherwise: list[str]) -> None:
        self.status_message.emit(brought_back_words(draft, otherwise))

    def _put(self, entry: ClientEntry) -> bool:
        """Save a client's record and show it; whether that could be done."""
        try:
            change_client(self._practice, entry)
        except PracticeFileError as error:
            self.status_message.emit(str(error))
            return False
        self.draft.forget()
        self.load()
        self.changed.emit()
        return True

    def _step(self, text: str, after: ClientEntry) -> bool:
        """Save a record as one step that can be undone; whether that could be done."""
        stack = self.undo_stack
        if stack is None or self._entry is None or after == self._entry:
            return False
        stack.push(ValueStep(text, self._entry, after, self._put))
        return self._entry == after

    def keep_note(self) -> None:
        """Save the note if it was changed; one that cannot be saved stays a draft."""
        if self._entry is None or self.note.toPlainText() == self._entry.note:
            return
        after = replace(self._entry, note=self.note.toPlainText())
        if self._step(self.tr("change of the note"), after):
            self.status_message.emit(self.tr("The note is saved."))
        else:
            self.draft.keep()

    def change(self) -> None:
        """Ask for other facts about the client, and save them."""
        self.keep_note()
        if self._entry is None:
            return
        before = self._entry
        dialog = ClientDialog(self, before, today=self._today())
        dialog.keep_draft(self._practice, "client", before.id, about=before.client.name)
        if saved_from(dialog, lambda: self._save_change(before, dialog)) and dialog.answer:
            self._step(self.tr("change of the client"), _changed(before, dialog.answer))
            self.load()
            self.changed.emit()
            self.status_message.emit(self.tr("The client's record is saved."))
        dialog.deleteLater()

    def _save_change(self, before: ClientEntry, dialog: ClientDialog) -> None:
        """Save the record, and then, for good, the reactions of the past.

        Where only the second fails, doing both again saves the record no second time.
        """
        if dialog.answer is None:
            return
        change_client(self._practice, _changed(before, dialog.answer))
        if dialog.past_reactions:
            record_past_reactions(
                self._practice, before.id, dialog.past_reactions, now=self._now()
            )

    def ask_for_flags(self) -> None:
        """Ask for red flags, and keep the answers."""
        self.banner.ask()

    def turn_archive(self) -> None:
        """Put the folder into the archive, or bring it back."""
        if self._entry is None:
            return
        after = replace(self._entry, archived=not self._entry.archived)
        if self._step(archive_words(archived=self._entry.archived), after):
            put_away = self.tr("The client is archived. Nothing is lost, and it can be restored.")
            back = self.tr("The client is back on the list.")
            self.status_message.emit(put_away if after.archived else back)

    def bring_in(self) -> bool:
        """Bring a course file in; whether that was done."""
        brought = import_file(self, self._practice, self._now())
        if brought is not None:
            self.load()
            self.status_message.emit(self.tr("The protocol is saved to Protocols."))
        return brought is not None

    def start_course(self) -> None:
        """Ask for a protocol and a first day, and start a course."""
        if self._entry is None:
            return
        shelf = list_protocols(self._practice)
        dialog = StartDialog(self, self._entry.client, shelf, today=self._today())
        dialog.keep_draft(self._practice, "start", self._entry.id)
        dialog.tell_unsaved([draft.remedy.id for draft in formula_drafts(self._practice)])
        dialog.tell_flags(self.banner.asked_words(), stands=self.banner.stands)
        if saved_from(dialog, lambda: self._start(dialog.answer)):
            self._started()
        dialog.deleteLater()

    def _start(self, answer: Start | None) -> None:
        if self._entry is None or answer is None:
            return
        practice, client_id, now = self._practice, self._entry.id, self._now()
        if answer.protocol_id:
            self._new_course = start_course(
                practice, client_id, answer.protocol_id, answer.first, until=answer.until, now=now
            )
        else:
            self._new_course = start_empty_course(
                practice, client_id, answer.name, answer.first, now=now
            )

    def _started(self) -> None:
        course = course_entry(self._practice, self._new_course).course
        self.load()
        self.changed.emit()
        self.status_message.emit(course_sentence(course.protocol.name, lay_out(course)))
        self.course_opened.emit(self._new_course)


def _changed(before: ClientEntry, answer: Answer) -> ClientEntry:
    """The client with what was typed; reactions are recorded apart."""
    client, contact, _ = answer
    client = replace(client, reactions=before.client.reactions)
    return replace(before, client=client, contact=contact)
