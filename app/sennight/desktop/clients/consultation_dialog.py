"""A consultation as it was kept: another wording, its files, its earlier wordings, struck out."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from sennight.desktop.clients.attached_files import ask_for_attachments
from sennight.desktop.clients.consultation_fields import ConsultationFields
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.drafts import Fields
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import Shortened, button, hairline, text_label
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.follow_up.story import consultation_item
from sennight.practice.consultations import (
    Attachment,
    AttachmentError,
    ConsultationEntry,
    attach_file,
    attachment_to_read,
    consultation_entry,
    consultation_headings,
    correct_consultation,
    strike_out_attachment,
    strike_out_consultation,
)
from sennight.practice.opening import OpenPractice, PracticeFileError
from sennight.practice.story import size_words
from sennight.practice.writing import FolderError


def open_attachment(practice: OpenPractice, attachment_id: int) -> str:
    """Show a file in the program that this computer has for it; why that cannot be, or nothing."""
    try:
        path = attachment_to_read(practice, attachment_id)
    except (FolderError, PracticeFileError) as error:
        return str(error)
    QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))
    return ""


class ConsultationDialog(FormDialog):
    """Shows a consultation and keeps a correction; files are attached at once.

    `is_done` says after it was left whether anything of the record is another now.
    """

    def __init__(
        self,
        practice: OpenPractice,
        entry: ConsultationEntry,
        parent: QWidget | None = None,
        *,
        today: date,
    ) -> None:
        day = plain_date(entry.consultation.day)
        title = self.tr("Consultation of {day}").format(day=day)
        super().__init__(parent, title, do=self.tr("Save this wording"))
        self._practice, self._today = practice, today
        self.entry, self.is_done = entry, False
        self.fields = ConsultationFields(consultation_headings(practice), today=today)
        self.fields.put(entry.consultation)
        self._before = self.fields.draft_value()
        self.attach = button(self.tr("Attach a file…"), kind="link")
        self.reason = QLineEdit()
        self.reason.setPlaceholderText(self.tr("why, for example: of another client"))
        self.strike = button(self.tr("Strike out"))
        self._files = QVBoxLayout()
        self._make_body()
        self._connect()
        if entry.is_void:
            self._lock()

    def _make_body(self) -> None:
        body = QWidget()
        layout = QVBoxLayout(body)
        layout.setContentsMargins(0, 0, 0, 0)
        if not self.entry.is_whole:
            words = self.tr(
                "This does not match the checksum saved with it: compare it with a backup."
            )
            layout.addWidget(text_label(words, Role.ALARM, wrap=True))
        layout.addWidget(self.fields)
        layout.addWidget(hairline())
        layout.addLayout(self._files)
        self._files.addWidget(self.attach)
        self._show_files()
        for words in self._earlier():
            layout.addWidget(text_label(words, Role.QUIET, wrap=True))
        layout.addWidget(self._striking())
        layout.addStretch(1)
        self.set_body(body, columns=86, lines=33)
        self.fields.free.setFocus()

    def _striking(self) -> QWidget:
        """Why it was entered in error, and the button that says so."""
        self._form = FieldForm()
        self._reason_row = self._form.row(self.tr("Entered in error"), self.reason)
        part = QWidget()
        row = QHBoxLayout(part)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self._form, 1)
        row.addWidget(self.strike)
        return part

    def _earlier(self) -> list[str]:
        """The earlier wordings, the newest first."""
        told = []
        for version in reversed(self.entry.versions[:-1]):
            when = version.when.astimezone()
            until = self.tr("As saved on {day} at {time}, until it was corrected").format(
                day=plain_date(when.date()), time=f"{when:%H:%M}"
            )
            item = consultation_item(version.consultation, self.entry.id)
            told.append(f"{until}. {item.words}")
        return told

    def _lock(self) -> None:
        """What was struck out is only looked at."""
        for part in (self.fields, self._form, self.strike, self.attach, self.main_button):
            part.setEnabled(False)
        struck = self.tr("Struck out: {why}").format(why=self.entry.void)
        self._reason_row.explain(struck)

    def _connect(self) -> None:
        self.attach.clicked.connect(self._attach)
        self.strike.clicked.connect(self._strike_out)
        self.reason.textEdited.connect(lambda: self._reason_row.explain(""))

    # Files

    def _show_files(self) -> None:
        for place in reversed(range(self._files.count() - 1)):
            item = self._files.takeAt(place)
            widget = item.widget() if item else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for place, file in enumerate(self.entry.attachments):
            self._files.insertWidget(place, self._file_row(file))

    def _file_row(self, file: Attachment) -> QWidget:
        row = QWidget()
        layout = QHBoxLayout(row)
        layout.setContentsMargins(0, 0, 0, 0)
        void = self.tr(", struck out: {why}").format(why=file.void) if file.void else ""
        layout.addWidget(Shortened(f"{file.name} ({size_words(file.size)}){void}"), 1)
        read = button(self.tr("Open"), kind="link")
        read.setAccessibleName(self.tr("Open {name}").format(name=file.name))
        read.clicked.connect(partial(self._open, file.id))
        layout.addWidget(read)
        if not file.void and not self.entry.is_void:
            wrong = button(self.tr("Attached in error"), kind="link")
            wrong.setAccessibleName(self.tr("{name}: attached in error").format(name=file.name))
            wrong.clicked.connect(partial(self._strike_file, file.id))
            layout.addWidget(wrong)
        return row

    def _open(self, file_id: int) -> None:
        trouble = open_attachment(self._practice, file_id)
        if trouble:
            self.fields.wrong(trouble)

    def _attach(self) -> None:
        self.attach_files(ask_for_attachments(self))

    def attach_files(self, paths: list[Path]) -> None:
        """Keep copies of files with the consultation."""
        for path in paths:
            try:
                attach_file(self._practice, self.entry.id, path)
            except (AttachmentError, PracticeFileError) as error:
                self.fields.wrong(str(error))
                break
            self._renew()

    def _strike_file(self, file_id: int) -> None:
        why = self.reason.text().strip()
        if not why:
            self._reason_row.wrong(self.tr("Enter here why it was entered in error"))
            self.reason.setFocus()
            return
        strike_out_attachment(self._practice, file_id, reason=why, on=self._today)
        self.reason.clear()
        self._renew()

    def _renew(self) -> None:
        self.is_done = True
        self.entry = consultation_entry(self._practice, self.entry.id)
        self._show_files()

    # The record

    def draft_fields(self) -> Fields:
        """What is written, and why it is struck out."""
        return {"Consultation": self.fields, "Entered in error": self.reason}

    def is_changed(self) -> bool:
        """Whether leaving would lose something."""
        return self.fields.draft_value() != self._before or bool(self.reason.text().strip())

    def _strike_out(self) -> None:
        why = self.reason.text().strip()
        if not why:
            self._reason_row.wrong(self.tr("Enter why it was entered in error"))
            self.reason.setFocus()
            return
        self._done(
            lambda: strike_out_consultation(
                self._practice, self.entry.id, reason=why, on=self._today
            )
        )

    def submit(self) -> None:
        """Keep another wording, or say what is wrong with it."""
        consultation = self.fields.consultation()
        if consultation is None:
            return
        if consultation.is_empty:
            self.fields.wrong(self.tr("Nothing would be left; strike it out instead"))
            return
        self._done(lambda: correct_consultation(self._practice, self.entry.id, consultation))

    def _done(self, act: Callable[[], object]) -> None:
        try:
            act()
        except PracticeFileError as error:
            self.fields.wrong(str(error))
            return
        self.is_done = True
        self.accept()
