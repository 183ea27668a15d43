"""The field at the head of the story: what is written about today, kept by Ctrl+Enter."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QFrame, QHBoxLayout, QVBoxLayout, QWidget

from sennight.desktop.clients.attached_files import PendingFiles
from sennight.desktop.clients.consultation_fields import ConsultationFields
from sennight.desktop.kit.draft_note import brought_back_words
from sennight.desktop.kit.drafts import DraftKeeper, Fields
from sennight.desktop.kit.fitting_area import FittingArea
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import button, text_label
from sennight.domain.directions.plain_words import MONTH_NAMES, WEEKDAY_NAMES
from sennight.domain.follow_up.consultations import Consultation, usual_kind
from sennight.practice.consultations import (
    AttachmentError,
    add_consultation,
    client_consultations,
    consultation_headings,
)
from sennight.practice.drafts import Draft, DraftKey
from sennight.practice.opening import OpenPractice, PracticeFileError


class ConsultationWriter(QFrame):
    """One line until the keyboard is in it, then the practice's headings.

    What is typed is on the disk within a second; `kept` tells that a consultation was kept,
    `opened_up` that there are more fields now, or fewer.
    """

    kept = Signal()
    opened_up = Signal()
    status_message = Signal(str)

    def __init__(self, practice: OpenPractice, today: date) -> None:
        super().__init__()
        self.setObjectName("writer")
        self._practice, self._today, self._client = practice, today, ""
        self.setAcceptDrops(True)
        self.fields = ConsultationFields(consultation_headings(practice), today=today)
        self.files = PendingFiles()
        self.hint = text_label(self.tr("Ctrl+Enter saves it."), Role.QUIET)
        self.attach = button(self.tr("Attach a file…"), kind="link")
        self.keep_button = button(self.tr("Save"), kind="main")
        self._lay_out()
        self.draft = DraftKeeper(self, practice, self._draft_fields)
        self._connect()
        self.is_open = True
        self._show_whole(whole=False)

    def _draft_fields(self) -> Fields:
        return {"Consultation": self.fields, "Files": self.files}

    def _lay_out(self) -> None:
        foot = QHBoxLayout()
        foot.addWidget(self.hint, 1)
        foot.addWidget(self.attach)
        foot.addWidget(self.keep_button)
        self._layout = QVBoxLayout(self)
        self._layout.addWidget(FittingArea(self.fields))
        self._layout.addWidget(self.files)
        self._layout.addLayout(foot)

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self._layout.setContentsMargins(*[theme.unit * 2] * 4)
        self._layout.setSpacing(theme.unit)

    def _connect(self) -> None:
        for keys in ("Ctrl+Return", "Ctrl+Enter"):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(self.keep)
        self.keep_button.clicked.connect(self.keep)
        self.attach.clicked.connect(self.files.ask)
        self.files.refused.connect(self.fields.wrong)
        self.files.changed.connect(self._open_up)
        self.fields.free.entered.connect(self._open_up)
        self.draft.refused.connect(self.status_message)
        self.draft.brought_back.connect(self._brought_back)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._focus_went)

    # Opening up and closing

    def _open_up(self) -> None:
        self._show_whole(whole=True)

    def _show_whole(self, *, whole: bool) -> None:
        self.fields.show_all(shown=whole)
        self.attach.setVisible(whole)
        self.keep_button.setVisible(whole)
        if whole != self.is_open:
            self.is_open = whole
            self.opened_up.emit()

    def _focus_went(self, _old: QWidget | None, now: QWidget | None) -> None:
        """Close where nothing was written and the keyboard is elsewhere on the page."""
        is_here = now is not None and (now is self or self.isAncestorOf(now))
        if now is not None and now.window() is self.window() and not is_here:
            self._show_whole(whole=not self.is_empty)

    @property
    def is_empty(self) -> bool:
        """Whether nothing would be lost."""
        return self.fields.is_empty and not self.files.paths

    def renew_headings(self) -> None:
        """Write under the practice's headings as they are now."""
        is_open = self.keep_button.isVisible()
        self.fields.set_headings(consultation_headings(self._practice))
        self._show_whole(whole=is_open)

    def write(self) -> None:
        """Go there."""
        self._open_up()
        self.fields.free.setFocus(Qt.FocusReason.OtherFocusReason)

    # Files that are dropped on it

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Files may come."""
        if any(url.isLocalFile() for url in event.mimeData().urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Take the files."""
        urls = event.mimeData().urls()
        self.files.add([Path(url.toLocalFile()) for url in urls if url.isLocalFile()])
        event.acceptProposedAction()

    # A client's

    def show_client(self, client_id: str, name: str, today: date) -> None:
        """Write about a client; what was typed before and not kept is brought back."""
        if client_id != self._client:
            self.draft.keep()
        self._client, self._today = client_id, today
        day = f"{WEEKDAY_NAMES[today.weekday()]} {today.day} {MONTH_NAMES[today.month - 1]}"
        self.fields.free.setPlaceholderText(self.tr("Write about today, {day}…").format(day=day))
        self._begin(name)

    def _begin(self, name: str) -> None:
        is_first = not client_consultations(self._practice, self._client)
        self.fields.clear(usual_kind(is_first=is_first))
        self.files.clear()
        title = self.tr("Consultation – {name}").format(name=name)
        self._name = name
        self.draft.begin(DraftKey("consultation", self._client), title)
        self._show_whole(whole=not self.is_empty)

    def _brought_back(self, draft: Draft, otherwise: list[str]) -> None:
        self.status_message.emit(brought_back_words(draft, otherwise))

    def keep(self) -> bool:
        """Keep what is written; whether that could be done."""
        consultation = self.fields.consultation()
        if consultation is None:
            return False
        if consultation.is_empty:
            self.fields.wrong(self.tr("Nothing is written yet"))
            return False
        if not self._kept(consultation):
            return False
        self.fields.clear(consultation.kind)
        self.files.clear()
        self.draft.forget()
        self._begin(self._name)
        self.status_message.emit(self.tr("The consultation is saved."))
        self.kept.emit()
        return True

    def _kept(self, consultation: Consultation) -> bool:
        try:
            add_consultation(self._practice, self._client, consultation, files=self.files.paths)
        except (AttachmentError, PracticeFileError) as error:
            self.fields.wrong(str(error))
            return False
        return True
