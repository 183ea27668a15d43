"""The dialog for the practice's card: what handouts carry at their head."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QPlainTextEdit, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import MOST_LETTERS, FieldForm
from sennight.desktop.kit.saving import saved_from
from sennight.domain.practices import PracticeCard
from sennight.practice.card import change_practice_card, practice_card
from sennight.practice.opening import OpenPractice

_LINES = 8
_LINES_ON_LABELS, _LETTERS_ON_LABELS = 3, 60
"""What a small label has room for beside all else."""


class CardDialog(FormDialog):
    """Asks for the card; `answer` has it once the dialog was accepted."""

    def __init__(self, parent: QWidget | None, card: PracticeCard, *, first: bool = False) -> None:
        super().__init__(parent, self.tr("Your practice"), do=self.tr("Save"))
        if first:
            self.leave_button.setText(self.tr("Not now"))
        self.answer = card
        self._make_fields(card)
        self._form = FieldForm()
        self._fill_form()
        self._form.keep_together()
        self.set_body(self._form, columns=78, lines=44)
        self._before = self._card()
        self.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def _make_fields(self, card: PracticeCard) -> None:
        self.name, self.practitioner = QLineEdit(card.name), QLineEdit(card.practitioner)
        self.address = QPlainTextEdit("\n".join(card.address))
        self.address.setTabChangesFocus(True)
        self.address.setFixedHeight(self.fontMetrics().lineSpacing() * 4)
        self.phone, self.email = QLineEdit(card.phone), QLineEdit(card.email)
        self.emergency = QLineEdit(card.emergency)
        self.on_labels = QPlainTextEdit("\n".join(card.on_labels))
        self.on_labels.setTabChangesFocus(True)
        self.on_labels.setFixedHeight(round(self.fontMetrics().lineSpacing() * 3.4))

    def _fill_form(self) -> None:
        form = self._form
        self._name_row = form.row(
            self.tr("Name of the practice"),
            self.name,
            help_text=self.tr("Printed on every handout."),
        )
        form.row(self.tr("Practitioner"), self.practitioner)
        self._address_row = form.row(self.tr("Address"), self.address)
        *_, emergency = form.line(
            (self.tr("Telephone"), self.phone),
            (self.tr("E-mail"), self.email),
            (self.tr("Emergency number"), self.emergency),
        )
        emergency.explain(self.tr("Where your clients live, such as 999 or 112."))
        self._labels_row = form.row(
            self.tr("On every label"),
            self.on_labels,
            help_text=self.tr("Where local rules ask for more: up to 3 short lines."),
        )
        self.name.textEdited.connect(lambda: self._name_row.explain(""))

    def _card(self) -> PracticeCard:
        return PracticeCard(
            self.name.text().strip(),
            self.practitioner.text().strip(),
            _lines(self.address),
            self.phone.text().strip(),
            self.email.text().strip(),
            self.emergency.text().strip(),
            _lines(self.on_labels),
        )

    def is_changed(self) -> bool:
        """Whether anything differs from the card that was given."""
        return self._card() != self._before

    def submit(self) -> None:
        """Accept with the card, which needs a name."""
        card = self._card()
        if not card.name:
            self._name_row.wrong(self.tr("Enter a name; handouts begin with it"))
            self._form.to_first_wrong()
            return
        if len(card.address) > _LINES or any(len(line) > MOST_LETTERS for line in card.address):
            text = self.tr("At most {lines} lines of {letters} letters fit onto the papers")
            self._address_row.wrong(text.format(lines=_LINES, letters=MOST_LETTERS))
            self._form.to_first_wrong()
            return
        own = card.on_labels
        if len(own) > _LINES_ON_LABELS or any(len(line) > _LETTERS_ON_LABELS for line in own):
            text = self.tr("At most {lines} lines of {letters} letters fit onto labels")
            self._labels_row.wrong(text.format(lines=_LINES_ON_LABELS, letters=_LETTERS_ON_LABELS))
            self._form.to_first_wrong()
            return
        self.answer = card
        self.accept()


def _lines(field: QPlainTextEdit) -> tuple[str, ...]:
    """The lines that say something."""
    lines = field.toPlainText().splitlines()
    return tuple(line.strip() for line in lines if line.strip())


def ask_for_card(parent: QWidget | None, practice: OpenPractice) -> bool:
    """Ask for the practice's card and save it; whether that was done. The first one can wait."""
    card = practice_card(practice)
    dialog = CardDialog(parent, card, first=not card.name)
    dialog.keep_draft(practice, "card")
    saved = saved_from(dialog, lambda: change_practice_card(practice, dialog.answer))
    dialog.deleteLater()
    return saved
