"""The referral letter: the practitioner's own words are asked for, the rest is known."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QPlainTextEdit, QVBoxLayout, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.courses.clients import Client
from sennight.domain.practices import PracticeCard
from sennight.practice.red_flags import RedFlagCheck, flags_of, red_flags, referral_letter

PAPERS = ("A4", "Letter")


class ReferralDialog(FormDialog):
    """Says what the letter will hold; `pdf` has it once the sheet was accepted."""

    def __init__(
        self,
        client: Client,
        card: PracticeCard,
        check: RedFlagCheck,
        parent: QWidget | None = None,
        *,
        today: date,
    ) -> None:
        super().__init__(
            parent,
            translate("ReferralDialog", "Referral letter"),
            do=translate("ReferralDialog", "Save letter"),
        )
        self._client, self._card, self._check, self._today = client, card, check, today
        self.pdf = b""
        self.note = QPlainTextEdit()
        self.note.setTabChangesFocus(True)
        self.note.setFixedHeight(self.fontMetrics().lineSpacing() * 6)
        self.paper = QComboBox()
        self.paper.addItems(PAPERS)
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
        signs = "\n".join(f"– {flag.sign}" for flag in flags_of(self._check, red_flags()))
        text = self.tr("The letter names {client}, the practice and these signs:\n{signs}")
        return text.format(client=self._client.name, signs=signs)

    def is_changed(self) -> bool:
        """Whether something was written."""
        return bool(self.note.toPlainText().strip())

    def submit(self) -> None:
        """Make the letter."""
        self.pdf = referral_letter(
            self._client,
            self._card,
            self._check,
            today=self._today,
            note=self.note.toPlainText().strip(),
            paper=self.paper.currentText(),
        )
        self.accept()
