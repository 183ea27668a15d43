"""Going ahead with a finding: the reason is asked for and kept."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from sennight.desktop.course.safety.rows import FindingRow
from sennight.desktop.course.session import Session
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import MOST_IN_A_REASON, FieldForm
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label


class AcceptDialog(FormDialog):
    """Tells the finding once more, whole, and asks for the reason to go ahead with it."""

    def __init__(self, session: Session, row: FindingRow, parent: QWidget | None = None) -> None:
        super().__init__(parent, self.title_words(), do=self.verb())
        self.session, self.row = session, row
        self.reason = QLineEdit()
        self.reason.setMaxLength(MOST_IN_A_REASON)
        form = FieldForm()
        label, help_text = self.asked()
        self.reason_row = form.row(label, self.reason, help_text=help_text)
        self.reason.textEdited.connect(lambda: self.reason_row.explain(""))
        session.refused.connect(self.reason_row.wrong)
        body = QWidget()
        layout = QVBoxLayout(body)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(text_label(row.text, Role.STRONG, wrap=True))
        for label, text in row.more:
            layout.addWidget(text_label(f"{label}: {text}", wrap=True))
        layout.addSpacing(self.fontMetrics().height() // 2)
        layout.addWidget(form)
        layout.addStretch(1)
        self.foot.addWidget(text_label(self.note(), Role.QUIET, wrap=True))
        self.set_body(body, columns=84, lines=20 + 2 * len(row.more))
        self.reason.setFocus(Qt.FocusReason.OtherFocusReason)

    def title_words(self) -> str:
        """The dialog's title."""
        return translate("AcceptDialog", "Accept this finding?")

    def verb(self) -> str:
        """What its main button does."""
        return translate("AcceptDialog", "Accept")

    def asked(self) -> tuple[str, str]:
        """What is to be typed, and what helps to do so."""
        return (
            translate("AcceptDialog", "Reason"),
            translate("AcceptDialog", "What you weighed up, and what was agreed with the client"),
        )

    def note(self) -> str:
        """What follows from it, and how long it holds."""
        return translate(
            "AcceptDialog",
            "The finding stays in view with your reason. Both are recorded permanently with this "
            "course and printed on your own copy; then the course can be given. You are asked "
            "again when more is taken, when something is added to the formula, a phase or the "
            "client’s record, and after 12 weeks.",
        )

    def keep(self, reason: str) -> bool:
        """Keep the decision; False where it was not saved."""
        return self.session.accept(self.row.ids, reason)

    def is_changed(self) -> bool:
        """Whether a reason was typed."""
        return bool(self.reason.text().strip())

    def submit(self) -> None:
        """Keep the reason, or ask for one."""
        reason = self.reason.text().strip()
        if not reason:
            self.reason_row.wrong(self.tr("Enter a reason; it is recorded with the course"))
            self.reason.setFocus(Qt.FocusReason.OtherFocusReason)
        elif self.keep(reason):
            self.accept()


class DiscussDialog(AcceptDialog):
    """Keeps that a caution was discussed with the client, and what was said."""

    def title_words(self) -> str:
        """The dialog's title."""
        return translate("DiscussDialog", "Discussed with the client?")

    def verb(self) -> str:
        """What its main button does."""
        return translate("DiscussDialog", "Mark as discussed")

    def asked(self) -> tuple[str, str]:
        """What is to be typed."""
        said = translate("DiscussDialog", "What was said")
        return said, translate("DiscussDialog", "What the client knows and should watch for")

    def note(self) -> str:
        """How long it holds."""
        return translate(
            "DiscussDialog",
            "The caution is shown as discussed. It comes back when more is taken, when something "
            "is added to the formula, a phase or the client’s record, and after 12 weeks.",
        )

    def keep(self, reason: str) -> bool:
        """Keep that it was discussed; False where it was not saved."""
        return self.session.discuss(self.row.ids, reason)
