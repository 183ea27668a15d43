"""A client's folder: the facts that matter for safety, the story, how it goes, the records."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from typing import assert_never

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QAction, QResizeEvent, QUndoStack
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout

from sennight.desktop.clients.actions import archive_words, folder_specs
from sennight.desktop.clients.client_changes import ClientChanges
from sennight.desktop.clients.consultation_dialog import ConsultationDialog, open_attachment
from sennight.desktop.clients.facts_strip import FactsStrip
from sennight.desktop.clients.folder_records import FolderRecords
from sennight.desktop.clients.headings_dialog import HeadingsDialog
from sennight.desktop.clients.starting import ask_for_start
from sennight.desktop.clients.story_view import StoryView
from sennight.desktop.intake.import_file import import_file
from sennight.desktop.kit.choices import Choices
from sennight.desktop.kit.draft_note import brought_back_words
from sennight.desktop.kit.drafts import DraftKeeper
from sennight.desktop.kit.menus import menu_button
from sennight.desktop.kit.save_as import save_one_pdf
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.section import Page, Seats
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.undo import ValueStep
from sennight.desktop.kit.widgets import Shortened, button, hairline, restyle
from sennight.desktop.parts.standing import course_sentence
from sennight.desktop.red_flags.flags_banner import FlagsBanner
from sennight.domain.courses.clients import Topic
from sennight.domain.courses.stretches import lay_out
from sennight.domain.follow_up.story import StoryItem, StoryKind
from sennight.practice.clients import ClientEntry, change_client, client_entry
from sennight.practice.consultations import (
    consultation_entry,
    consultation_headings,
    save_headings,
)
from sennight.practice.courses import CourseEntry, client_courses, course_entry
from sennight.practice.drafts import Draft, DraftKey
from sennight.practice.opening import OpenPractice, PracticeFileError
from sennight.practice.own_herbs import known_herbs
from sennight.practice.story import story_paper

BESIDE = 84
"""Columns of text from which on the story and the records stand beside each other."""


class FolderPage(Page):
    """One client's folder at a time; each client's edits can be undone while the program runs.

    A course is wanted as a whole, or a day of it: to be looked at, in its diary or its scores.
    """

    course_opened = Signal(str)
    day_wanted = Signal(str, object)
    diary_wanted = Signal(str, object)
    scores_wanted = Signal(str, object)
    status_message = Signal(str)
    changed = Signal()

    def __init__(self, practice: OpenPractice, theme: Theme, now: Callable[[], datetime]) -> None:
        super().__init__()
        self._practice, self._now, self._theme = practice, now, theme
        self._entry: ClientEntry | None = None
        self._courses: tuple[CourseEntry, ...] = ()
        self._stacks: dict[str, QUndoStack] = {}
        self._changes = ClientChanges(self, practice, now)
        self._make_head()
        self.story = StoryView(practice, theme, self._today())
        self.records = FolderRecords(practice, theme)
        self._name_parts()
        self._lay_out()
        self.draft = DraftKeeper(self, practice, lambda: {"Note": self.note})
        self._connect()
        self.apply_theme(theme)

    # Layout

    def _make_head(self) -> None:
        self.title = Shortened("", Role.TITLE)
        self.contact = Shortened("", Role.QUIET, is_whole=True)
        doing = {
            "write": self.write,
            "change": self.change,
            "print": self.print_story,
            "headings": self.choose_headings,
            "flags": self.ask_for_flags,
            "archive": self.turn_archive,
        }
        self.more = menu_button(self.tr("More…"), folder_specs(), doing, self)
        self.start = button(self.tr("Start a course"), kind="main")
        for push_button in (self.more, self.start):
            push_button.setProperty("head", "true")
        self.strip = FactsStrip()
        self.banner = FlagsBanner(self._practice, self._now, self)

    def _name_parts(self) -> None:
        """The parts of the records that the page works with."""
        records = self.records
        self.rows, self.model, self.courses = records.rows, records.rows.table, records.courses
        self.empty, self.damage, self.note = records.empty, records.damage, records.note
        self.given, self.dispensed, self.bring = records.given, records.dispensed, records.bring

    def _lay_out(self) -> None:
        self._head = QHBoxLayout()
        self.seats = Seats(QHBoxLayout(), QHBoxLayout(), QHBoxLayout())
        self._head.addLayout(self.seats.back)
        self._head.addWidget(self.title)
        self._head.addWidget(self.contact, 1)
        self._head.addLayout(self.seats.tools)
        for part in (self.more, self.start):
            self._head.addWidget(part, 0, Qt.AlignmentFlag.AlignVCenter)
        self.sides = Choices((self.tr("Story"), self.tr("Courses and papers")), self._theme)
        self.sides.setAccessibleName(self.tr("Side of the folder"))
        self._between = hairline()
        self._between.setFixedSize(1, 1)
        self._between.setMaximumHeight(16_777_215)
        self._body = QHBoxLayout()
        self._body.addWidget(self.story, 9)
        self._body.addWidget(self._between)
        self._body.addWidget(self.records, 11)
        self._layout = QVBoxLayout(self)
        self._layout.addWidget(self.banner)
        self._layout.addLayout(self._head)
        self._layout.addWidget(self.strip)
        self._layout.addWidget(hairline())
        self._layout.addWidget(self.sides)
        self._layout.addLayout(self._body, 1)
        self._layout.addLayout(self.seats.foot)

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self._layout.setContentsMargins(
            theme.unit * 5, theme.unit * 3, theme.unit * 4, theme.unit * 2
        )
        self._layout.setSpacing(theme.unit * 2)
        self._body.setSpacing(theme.unit * 4)
        self._head.setSpacing(theme.unit * (1 if theme.is_large else 3))
        self.title.least_letters = 11 if theme.is_large else 18
        self.title.setProperty("role", "title" if not theme.is_large else "name")
        restyle(self.title)
        for part in (self.sides, self.strip, self.story, self.records, self.banner):
            part.apply_theme(theme)
        self._turn()

    def minimumSizeHint(self) -> QSize:
        """One side at a time needs little; what does not fit scrolls."""
        text = self.fontMetrics()
        margins = self._layout.contentsMargins()
        head = self._head.minimumSize().width() + margins.left() + margins.right()
        return QSize(max(head, text.horizontalAdvance("n") * 56), text.height() * 20)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Story and records beside each other where there is room for both, else one of them."""
        super().resizeEvent(event)
        self._turn()

    def _turn(self) -> None:
        wide = self.width() >= self.fontMetrics().horizontalAdvance("n") * BESIDE
        side = self.sides.currentIndex()
        self.sides.setVisible(not wide)
        self._between.setVisible(wide)
        self.story.heading.setVisible(wide)  # else it is said just above
        self.story.setVisible(wide or side == 0)
        self.records.setVisible(wide or side == 1)

    # Behaviour

    def _connect(self) -> None:
        self.start.clicked.connect(self.start_course)
        self.records.another.clicked.connect(self.start_course)
        self.rows.chosen.connect(lambda row: self.course_opened.emit(self._courses[row].id))
        self.note.left.connect(self.keep_note)
        self.draft.brought_back.connect(self._brought_back)
        self.draft.refused.connect(self.status_message)
        self.bring.clicked.connect(self.bring_in)
        self.banner.changed.connect(self.load)
        self.given.status_message.connect(self.status_message)
        self.strip.topic_wanted.connect(self.change_facts)
        self.strip.flags_wanted.connect(self.ask_for_flags)
        self.story.opened.connect(self.open_item)
        self.story.written.connect(self._written)
        self.story.status_message.connect(self.status_message)
        self.sides.currentChanged.connect(self._turn)

    def _today(self) -> date:
        return self._now().date()

    @property
    def undo_stack(self) -> QUndoStack | None:
        """The edits of the client in view."""
        return self._stacks.get(self._entry.id) if self._entry else None

    def take_focus(self) -> None:
        """Give the keyboard to the courses, or to what starts one."""
        first = self.rows if self._courses and self.rows.isVisible() else self.start
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def open(self, client_id: str) -> None:
        """Show a client's folder."""
        self.keep_note()
        if client_id not in self._stacks:
            self._stacks[client_id] = QUndoStack(self)
        self._entry = client_entry(self._practice, client_id)
        self.load()
        self.records.to_top()

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
        names = known_herbs(self._practice).names
        self.strip.show_client(entry.client, self._today(), names)
        self.banner.show_client(entry.id)
        self.strip.show_flags(
            self.banner.short_words(),
            is_known=self.banner.check is not None,
            stands=self.banner.stands,
        )
        for turn in self.findChildren(QAction, "archive"):
            turn.setText(archive_words(archived=entry.archived))
        self.note.setPlainText(entry.note)
        title = self.tr("Note – {name}").format(name=entry.client.name)
        self.draft.begin(DraftKey("client-note", entry.id), title)
        self.story.show_client(entry.id, entry.client.name, self._today())
        self.records.show_client(entry.id, self._courses, self._today())

    def _brought_back(self, draft: Draft, otherwise: list[str]) -> None:
        self.status_message.emit(brought_back_words(draft, otherwise))

    def _written(self) -> None:
        self.story.refresh(self._today())
        self.changed.emit()

    def write(self) -> None:
        """Go to where a consultation is written."""
        self.sides.setCurrentIndex(0)
        self.story.writer.write()

    # The story

    def open_item(self, item: StoryItem) -> None:
        """Go to where a thing of the story is looked at."""
        match item.kind:
            case StoryKind.CONSULTATION:
                self.open_consultation(item.record)
            case StoryKind.FILE:
                self._tell(open_attachment(self._practice, item.record))
            case StoryKind.GIVEN:
                self.given.open_number(item.record)
            case StoryKind.REACTION:
                self.change_facts(Topic.REACTIONS)
            case StoryKind.DISPENSED:
                self.dispensed.open_number(item.record)
            case StoryKind.DIARY | StoryKind.DAY_NOTE:
                self.diary_wanted.emit(item.course, item.about_day or item.day)
            case StoryKind.SCORES:
                self.scores_wanted.emit(item.course, item.day)
            case StoryKind.DECISION | StoryKind.WEEKS_OFF:
                self.day_wanted.emit(item.course, item.day)
            case _:
                assert_never(item.kind)

    def _tell(self, trouble: str) -> None:
        if trouble:
            self.status_message.emit(trouble)

    def open_consultation(self, number: int) -> None:
        """Show a consultation, to be worded otherwise or struck out."""
        if self._entry is None:
            return
        entry = consultation_entry(self._practice, number)
        dialog = ConsultationDialog(self._practice, entry, self, today=self._today())
        about = self._entry.client.name
        dialog.keep_draft(self._practice, f"consultation/{number}", self._entry.id, about=about)
        dialog.exec()
        if dialog.is_done:
            self._written()
        dialog.deleteLater()

    def print_story(self) -> None:
        """Write the whole story as a PDF where the practitioner says."""
        if self._entry is not None:
            name, pdf = story_paper(self._practice, self._entry.id, today=self._today())
            save_one_pdf(self.window(), self.tr("Record of consultations"), name, pdf)

    def choose_headings(self) -> None:
        """Ask for the headings of consultations, and save them."""
        dialog = HeadingsDialog(self, consultation_headings(self._practice))
        dialog.keep_draft(self._practice, "consultation-headings")
        if saved_from(dialog, lambda: save_headings(self._practice, dialog.headings or ())):
            self.story.writer.renew_headings()
            self.status_message.emit(self.tr("The headings are saved."))
        dialog.deleteLater()

    # The record

    def change_facts(self, topic: Topic | None) -> None:
        """Change the facts under a topic where they stand; None for age and weight."""
        if self._entry is not None:
            self.keep_note()
            self._saved(self._changes.facts(self._entry, topic, self.strip.parts[topic]))

    def _saved(self, after: ClientEntry | None) -> None:
        """Show a record that was saved, as a step that can be undone; None where none was."""
        if after is None:
            return
        self._step(self.tr("change of the client"), after)
        self.load()
        self.changed.emit()
        self.status_message.emit(self.tr("The client's record is saved."))

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
        """Save the note if it was changed; one that cannot be saved stays a draft.

        What is written and not saved yet is on the disk afterwards, too.
        """
        self.story.writer.draft.keep()
        if self._entry is None or self.note.toPlainText() == self._entry.note:
            return
        after = replace(self._entry, note=self.note.toPlainText())
        if self._step(self.tr("change of the note"), after):
            self.status_message.emit(self.tr("The note is saved."))
        else:
            self.draft.keep()

    def change(self) -> None:
        """Ask for other facts about the client, and save them."""
        if self._entry is not None:
            self.keep_note()
            self._saved(self._changes.whole(self._entry))

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
        started = ask_for_start(self, self._practice, self._entry, self.banner, self._now())
        if started:
            course = course_entry(self._practice, started).course
            self.load()
            self.changed.emit()
            self.status_message.emit(course_sentence(course.protocol.name, lay_out(course)))
            self.course_opened.emit(started)
