"""The dialog for the practice's card: what handouts carry at their head."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QPlainTextEdit, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import MOST_LETTERS, FieldForm
from sennight.desktop.kit.growing_field import GrowingField
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.translating import translate
from sennight.domain.practices import PracticeCard
from sennight.practice.card import change_practice_card, practice_card
from sennight.practice.opening import OpenPractice

_LINES = 8
_LINES_ON_LABELS, _LETTERS_ON_LABELS = 3, 60
"""What a small label has room for beside all else."""


class CardForm(FieldForm):
    """The fields of a card; before the first start nothing is asked about labels."""

    def __init__(self, card: PracticeCard, *, asks_for_labels: bool = True) -> None:
        super().__init__()
        self.name, self.practitioner = QLineEdit(card.name), QLineEdit(card.practitioner)
        self.address = GrowingField(least=3)
        self.address.setPlainText("\n".join(card.address))
        self.phone, self.email = QLineEdit(card.phone), QLineEdit(card.email)
        self.emergency = QLineEdit(card.emergency)
        self.on_labels = GrowingField(least=_LINES_ON_LABELS)
        self.on_labels.setPlainText("\n".join(card.on_labels))
        self._fill()
        self._labels_row.setVisible(asks_for_labels)
        self.name.textEdited.connect(lambda: self._name_row.explain(""))

    def _fill(self) -> None:
        self._name_row, _ = self.line(
            (
                translate("CardDialog", "Name of the practice"),
                self.name,
                translate("CardDialog", "Printed on every handout."),
            ),
            (translate("CardDialog", "Practitioner"), self.practitioner),
        )
        self._address_row = self.row(translate("CardDialog", "Address"), self.address)
        *_, emergency = self.line(
            (translate("CardDialog", "Telephone"), self.phone),
            (translate("CardDialog", "E-mail"), self.email),
            (translate("CardDialog", "Emergency number"), self.emergency),
        )
        self._labels_row = self.row(
            translate("CardDialog", "On every label"),
            self.on_labels,
            help_text=translate(
                "CardDialog", "Where local rules ask for more: up to 3 short lines."
            ),
        )
        emergency.explain(translate("CardDialog", "Where your clients live, such as 999 or 112."))

    def card(self) -> PracticeCard:
        """The card as typed."""
        return PracticeCard(
            self.name.text().strip(),
            self.practitioner.text().strip(),
            _lines(self.address),
            self.phone.text().strip(),
            self.email.text().strip(),
            self.emergency.text().strip(),
            _lines(self.on_labels),
        )

    def check(self) -> bool:
        """Whether the card can be saved; what is wrong is shown."""
        card = self.card()
        if not card.name:
            self._name_row.wrong(translate("CardDialog", "Enter a name; handouts begin with it"))
        if len(card.address) > _LINES or any(len(line) > MOST_LETTERS for line in card.address):
            text = translate(
                "CardDialog", "At most {lines} lines of {letters} letters fit onto the papers"
            )
            self._address_row.wrong(text.format(lines=_LINES, letters=MOST_LETTERS))
        own = card.on_labels
        if len(own) > _LINES_ON_LABELS or any(len(line) > _LETTERS_ON_LABELS for line in own):
            text = translate(
                "CardDialog", "At most {lines} lines of {letters} letters fit onto labels"
            )
            self._labels_row.wrong(text.format(lines=_LINES_ON_LABELS, letters=_LETTERS_ON_LABELS))
        return not self.to_first_wrong()


class CardDialog(FormDialog):
    """Asks for the card; `answer` has it once the dialog was accepted."""

    def __init__(self, parent: QWidget | None, card: PracticeCard) -> None:
        super().__init__(parent, self.tr("Your practice"), do=self.tr("Save"))
        self.answer = card
        self.form = CardForm(card)
        self.form.keep_together()
        self.set_body(self.form, columns=78, lines=44)
        self._before = self.form.card()
        self.form.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def is_changed(self) -> bool:
        """Whether anything differs from the card that was given."""
        return self.form.card() != self._before

    def submit(self) -> None:
        """Accept with the card, which needs a name."""
        self.form.clear_wrong()
        if self.form.check():
            self.answer = self.form.card()
            self.accept()


def _lines(field: QPlainTextEdit) -> tuple[str, ...]:
    """The lines that say something."""
    lines = field.toPlainText().splitlines()
    return tuple(line.strip() for line in lines if line.strip())


def ask_for_card(parent: QWidget | None, practice: OpenPractice) -> bool:
    """Ask for the practice's card and save it; whether that was done."""
    dialog = CardDialog(parent, practice_card(practice))
    dialog.keep_draft(practice, "card")
    saved = saved_from(dialog, lambda: change_practice_card(practice, dialog.answer))
    dialog.deleteLater()
    return saved
