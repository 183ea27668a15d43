"""The referral letter: the practitioner's own words are asked for, the rest is known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QPlainTextEdit, QVBoxLayout, QWidget

from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.paper import A4, LETTER, usual_paper
from sennight.desktop.kit.paper_dialog import PaperDialog
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.papers import PaperKind
from sennight.domain.practices import PracticeCard
from sennight.practice.papers import Paper
from sennight.practice.red_flags import Referral, flags_of, red_flags, referral_letter


class ReferralDialog(PaperDialog):
    """Asks for the practitioner's own words, beside the letter as it will be."""

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
            do=translate("ReferralDialog", "Save letter…"),
        )
        self._referral, self._card, self._today = referral, card, today
        self.note = QPlainTextEdit()
        self.note.setTabChangesFocus(True)
        self.note.setFixedHeight(self.fontMetrics().lineSpacing() * 6)
        self.paper = QComboBox()
        self.paper.addItems((A4, LETTER))
        self.paper.setCurrentText(usual_paper())
        self.note.textChanged.connect(self.refresh)
        self.paper.currentIndexChanged.connect(self.refresh)
        form = FieldForm()
        form.row(self.tr("Your own words to the doctor"), self.note)
        form.line((self.tr("Paper"), self.paper))
        body = QWidget()
        layout = QVBoxLayout(body)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(text_label(self._holds(), wrap=True))
        layout.addWidget(form)
        self.show_beside(body)
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

    def plan(self) -> Callable[[], Paper]:
        """The letter with these words."""
        referral = replace(self._referral, note=self.note.toPlainText().strip())
        paper, card, today = self.paper.currentText(), self._card, self._today

        def letter() -> Paper:
            return Paper(
                PaperKind.REFERRAL, referral_letter(referral, card, today=today, paper=paper)
            )

        return letter
