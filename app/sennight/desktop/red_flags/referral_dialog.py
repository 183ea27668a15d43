"""The referral letter: the practitioner's own words are asked for, the rest is known."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QPlainTextEdit, QVBoxLayout, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.paper import A4, LETTER, usual_paper
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.practices import PracticeCard
from sennight.practice.red_flags import Referral, flags_of, red_flags, referral_letter


class ReferralDialog(FormDialog):
    """Says what the letter will hold; `pdf` has it once the sheet was accepted."""

    def __init__(
        self,
        referral: Referral,
        card: PracticeCard,
        parent: QWidget | None = None,
        *,
        today: date,
    ) -> None:
        super().__init__(
            parent,
            translate("ReferralDialog", "Referral letter"),
            do=translate("ReferralDialog", "Save letter"),
        )
        self._referral, self._card, self._today = referral, card, today
        self.pdf = b""
        self.note = QPlainTextEdit()
        self.note.setTabChangesFocus(True)
        self.note.setFixedHeight(self.fontMetrics().lineSpacing() * 6)
        self.paper = QComboBox()
        self.paper.addItems((A4, LETTER))
        self.paper.setCurrentText(usual_paper())
        form = FieldForm()
        form.row(self.tr("Your own words to the doctor"), self.note)
        form.line((self.tr("Paper"), self.paper))
        body = QWidget()
        layout = QVBoxLayout(body)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(text_label(self._holds(), wrap=True))
        layout.addWidget(form)
        layout.addStretch(1)
        self.set_body(body, columns=80, lines=32)
        self.note.setFocus(Qt.FocusReason.OtherFocusReason)

    def _holds(self) -> str:
        signs = "\n".join(f"– {flag.sign}" for flag in flags_of(self._referral.check, red_flags()))
        text = self.tr(
            "The letter has {client}’s name, what is known of them and what they take, the "
            "practice, and these signs:\n{signs}"
        )
        return text.format(client=self._referral.client.name, signs=signs)

    def is_changed(self) -> bool:
        """Whether something was written."""
        return bool(self.note.toPlainText().strip())

    def submit(self) -> None:
        """Make the letter."""
        referral = replace(self._referral, note=self.note.toPlainText().strip())
        paper = self.paper.currentText()
        self.pdf = referral_letter(referral, self._card, today=self._today, paper=paper)
        self.accept()
