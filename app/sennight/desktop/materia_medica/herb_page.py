"""One herb: what the texts say of it, the practice's own ranges beside them, and its note."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent, QUndoStack
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QTextEdit, QVBoxLayout

from sennight.desktop.kit.draft_note import brought_back_words
from sennight.desktop.kit.drafts import DraftKeeper
from sennight.desktop.kit.note_field import NoteField
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.section import Page
from sennight.desktop.kit.short_dialogs import confirm
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.undo import ValueStep
from sennight.desktop.kit.widgets import Shortened, button, hairline, text_label
from sennight.desktop.materia_medica.herb_document import herb_document
from sennight.desktop.materia_medica.own_herb_dialog import OwnHerbDialog
from sennight.desktop.materia_medica.own_range_dialog import OwnRangeDialog
from sennight.desktop.materia_medica.words import own_words
from sennight.desktop.parts.range_bar import form_words, grams_text
from sennight.domain.herbs.herbs import Herb
from sennight.domain.herbs.own_herbs import OwnHerb, OwnRange, published_maximum
from sennight.domain.remedies.remedy_words import ratio_words
from sennight.practice.drafts import Draft, DraftKey
from sennight.practice.materia_medica import supplied_materia_medica
from sennight.practice.opening import MissingRecordError, OpenPractice, PracticeFileError
from sennight.practice.own_herbs import (
    drop_own_range,
    herb_notes,
    known_herbs,
    list_own_herbs,
    list_own_ranges,
    retire_own_herb,
    save_herb_note,
    save_own_herb,
    save_own_range,
)

IN_DOCUMENT = 6
"""Pixels that Qt leaves before the text of a document, with the room for its ring."""
BESIDE = 110
"""Columns of text from which on the note stands beside the document."""


class HerbPage(Page):
    """A herb at a time; the note can be undone while the program runs."""

    status_message = Signal(str)
    changed = Signal()
    closed = Signal()

    def __init__(self, practice: OpenPractice, theme: Theme) -> None:
        super().__init__()
        self._practice = practice
        self.herb: Herb | None = None
        self._own: OwnHerb | None = None
        self._note = ""
        self._stacks: dict[str, QUndoStack] = {}
        self._make_parts()
        self._lay_out()
        self.draft = DraftKeeper(self, practice, lambda: {"Note": self.note})
        self._connect()
        self.apply_theme(theme)

    # Layout

    def _make_parts(self) -> None:
        self.title = Shortened("", Role.TITLE)
        self.names = Shortened("", Role.QUIET)
        self.range_button = button(self.tr("Own range"))
        self.edit_button = button(self.tr("Change herb"))
        self.retire_button = button(self.tr("Hide from lists"))
        self.document = QTextEdit()
        self.document.setReadOnly(True)
        self.document.setTabChangesFocus(True)
        self.document.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.document.setProperty("kind", "reading")
        self.document.setAccessibleName(self.tr("Monograph"))
        self.ranges, self._has_own = text_label("", wrap=True), False
        self.note = NoteField()
        self.note.setPlaceholderText(self.tr("What you have seen, and what to mind"))
        self.note.setProperty("kind", "note")
        self.note.setTabChangesFocus(True)
        self.note.setAccessibleName(self.tr("Your own note"))

    def _lay_out(self) -> None:
        self._head = QHBoxLayout()
        names = QVBoxLayout()
        names.setSpacing(0)
        names.addWidget(self.title)
        names.addWidget(self.names)
        self._head.addLayout(names, 1)
        for head_button in (self.retire_button, self.edit_button, self.range_button):
            self._head.addWidget(head_button, 0, Qt.AlignmentFlag.AlignTop)
        self._side = QVBoxLayout()
        self._own_head = text_label(self.tr("This practice's own ranges"), Role.HEADING)
        self._side.addWidget(self._own_head)
        self._side.addWidget(self.ranges)
        self._side.addWidget(text_label(self.tr("Your own note"), Role.HEADING))
        self._side.addWidget(self.note, 1)
        self._body = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._body.addWidget(self.document, 8)
        self._body.addLayout(self._side, 3)
        self._layout = QVBoxLayout(self)
        self._layout.addLayout(self._head)
        self._rule = QHBoxLayout()
        self._rule.addWidget(hairline())
        self._layout.addLayout(self._rule)
        self._layout.addLayout(self._body, 1)

    def apply_theme(self, theme: Theme) -> None:
        """Distances and colours for the look."""
        self.theme, unit = theme, theme.unit
        edge = theme.edge - IN_DOCUMENT  # the document's text begins where the title does
        self._layout.setContentsMargins(edge, unit * 4, theme.edge * 3 // 4, unit * 2)
        for row in (self._head, self._rule):
            row.setContentsMargins(IN_DOCUMENT, 0, 0, 0)
        self._layout.setSpacing(unit * 3)
        self._head.setSpacing(unit * 2)
        self._body.setSpacing(unit * 6)
        self._side.setSpacing(unit * 2)
        self.note.setMinimumHeight(theme.line * 2)
        self.document.setMinimumHeight(theme.line * 5)
        if self.herb is not None:
            self.document.setHtml(herb_document(self.herb, theme))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The note beside the document where there is room for both, else beneath it."""
        super().resizeEvent(event)
        wide = self.width() >= self.fontMetrics().horizontalAdvance("n") * BESIDE
        ways = QBoxLayout.Direction
        self._body.setDirection(ways.LeftToRight if wide else ways.TopToBottom)
        self._side.setContentsMargins(0 if wide else IN_DOCUMENT, 0, 0, 0)
        self.note.setMaximumHeight(1 << 20 if wide else self.theme.line * 4)
        self._show_own(wide=wide)

    # Showing

    def _connect(self) -> None:
        self.note.left.connect(self.keep_note)
        self.draft.brought_back.connect(self._brought_back)
        self.draft.refused.connect(self.status_message)
        self.range_button.clicked.connect(self.ask_range)
        self.edit_button.clicked.connect(self.ask_herb)
        self.retire_button.clicked.connect(self.retire)

    @property
    def undo_stack(self) -> QUndoStack | None:
        """The edits of the note of the herb in view."""
        return self._stacks.get(self.herb.id) if self.herb else None

    def take_focus(self) -> None:
        """Give the keyboard to the document."""
        self.document.setFocus(Qt.FocusReason.OtherFocusReason)

    def open(self, herb_id: str) -> None:
        """Show a herb; raises MissingRecordError."""
        herb = known_herbs(self._practice).herb(herb_id)
        if herb is None:
            raise MissingRecordError("herb", herb_id)
        if herb_id not in self._stacks:
            self._stacks[herb_id] = QUndoStack(self)
        other = self.herb is None or self.herb.id != herb_id
        own = (*list_own_herbs(self._practice), *list_own_herbs(self._practice, retired=True))
        self.herb = herb
        self._own = next((own_herb for own_herb in own if own_herb.id == herb_id), None)
        self._show(herb, from_top=other)

    def _show(self, herb: Herb, *, from_top: bool) -> None:
        mark = own_words(herb)
        self.title.setText(f"{herb.name} ({mark})" if mark else herb.name)
        self.names.setText(
            " · ".join(name for name in (herb.latin, herb.part, herb.family) if name)
        )
        at = 0 if from_top else self.document.verticalScrollBar().value()
        self.document.setHtml(herb_document(herb, self.theme))
        self.document.verticalScrollBar().setValue(at)
        self._show_ranges()
        self._note = herb_notes(self._practice).get(herb.id, "")
        self.note.setPlainText(self._note)
        self.draft.begin(
            DraftKey("herb-note", herb.id), self.tr("Note – {name}").format(name=herb.name)
        )
        own = self._own
        self.edit_button.setVisible(own is not None)
        self.retire_button.setVisible(own is not None)
        if own is not None:
            again = self.tr("Show again") if own.retired else self.tr("Hide from lists")
            self.retire_button.setText(again)
        self.changed.emit()

    def _own_ranges(self) -> tuple[OwnRange, ...]:
        return list_own_ranges(self._practice, self.herb.id) if self.herb else ()

    def _show_ranges(self) -> None:
        lines = [self._range_words(own_range) for own_range in self._own_ranges()]
        nothing = self.tr("None; amounts are compared with the published ranges.")
        self.ranges.setText("\n".join(lines) or nothing)
        self._has_own = bool(lines)
        self._show_own(wide=self._body.direction() is QBoxLayout.Direction.LeftToRight)

    def _show_own(self, *, wide: bool) -> None:
        """Beneath the document there is no room to say that there is none."""
        for part in (self._own_head, self.ranges):
            part.setVisible(wide or self._has_own)

    def _range_words(self, own_range: OwnRange) -> str:
        template = self.tr("{form}: {low} to {high} {unit} a day")
        text = template.format(
            form=form_words(own_range.form)[:1].upper() + form_words(own_range.form)[1:],
            low=grams_text(own_range.low),
            high=grams_text(own_range.high),
            unit=own_range.unit,
        )
        if own_range.ratio is not None:
            text += f" ({ratio_words(own_range.ratio)})"
        if own_range.reference:
            text += f", {own_range.reference}"
        supplied = supplied_materia_medica().herb(own_range.herb)
        most = published_maximum(own_range, supplied)
        if most is not None:
            beyond = self.tr("; exceeds the published maximum of {most} g")
            text += beyond.format(most=grams_text(most))
        return f"{text}."

    # Editing

    def keep_note(self) -> None:
        """Save the note if it was changed; one that cannot be saved stays a draft."""
        stack, text = self.undo_stack, self.note.toPlainText().strip()
        if stack is None or self.herb is None or text == self._note:
            return
        stack.push(ValueStep(self.tr("change of the note"), self._note, text, self._put_note))
        if self._note == text:
            self.status_message.emit(self.tr("The note is saved."))
        else:
            self.draft.keep()

    def _brought_back(self, draft: Draft, otherwise: list[str]) -> None:
        self.status_message.emit(brought_back_words(draft, otherwise))

    def _put_note(self, text: str) -> bool:
        if self.herb is None:
            return False
        try:
            save_herb_note(self._practice, self.herb.id, text)
        except PracticeFileError as error:
            self.status_message.emit(str(error))
            return False
        self._note = text
        if self.note.toPlainText().strip() != text:
            self.note.setPlainText(text)
        self.draft.forget()
        return True

    def ask_range(self) -> None:
        """Ask for a range of the practice's own, or take one back."""
        self.keep_note()
        if self.herb is None:
            return
        supplied = supplied_materia_medica().herb(self.herb.id)
        dialog = OwnRangeDialog(self, self.herb, supplied, self._own_ranges())
        dialog.keep_draft(self._practice, "own-range", self.herb.id)
        if saved_from(dialog, lambda: self._save_range(dialog)):
            self.open(self.herb.id)
            self.status_message.emit(self.tr("The practice's own range is saved."))
        dialog.deleteLater()

    def _save_range(self, dialog: OwnRangeDialog) -> None:
        if dialog.answer is not None:
            save_own_range(self._practice, dialog.answer)
        elif dialog.dropped is not None and self.herb is not None:
            drop_own_range(self._practice, self.herb.id, dialog.dropped)

    def ask_herb(self) -> None:
        """Ask for other facts about an own herb, and save them."""
        self.keep_note()
        own = self._own
        if own is None:
            return
        dialog = OwnHerbDialog(self, own, is_new=False)
        dialog.keep_draft(self._practice, "own-herb", own.id)
        if saved_from(dialog, lambda: self._save(dialog.answer)):
            self.open(own.id)
            self.status_message.emit(self.tr("The herb is saved; what it was before is kept."))
        dialog.deleteLater()

    def _save(self, own: OwnHerb | None) -> None:
        if own is not None:
            save_own_herb(self._practice, own)

    def retire(self) -> None:
        """Offer an own herb no more, or again; it stays for the remedies that hold it."""
        own = self._own
        if own is None:
            return
        if own.retired:
            save_own_herb(self._practice, replace(own, retired=False))
            self.open(own.id)
        elif confirm(
            self,
            self.tr("Hide {herb} from lists?").format(herb=own.name),
            self.tr("Remedies that contain it are not changed. It can be shown again later."),
            do=self.tr("Hide from lists"),
            stay=self.tr("Cancel"),
        ):
            retire_own_herb(self._practice, own)
            self.closed.emit()
