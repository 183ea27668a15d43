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
        super().__init__(
            parent,
            translate("AcceptDialog", "Accept this finding?"),
            do=translate("AcceptDialog", "Accept"),
        )
        self.session, self.row = session, row
        self.reason = QLineEdit()
        self.reason.setMaxLength(MOST_IN_A_REASON)
        form = FieldForm()
        self.reason_row = form.row(
            self.tr("Reason"),
            self.reason,
            help_text=self.tr("What you weighed up, and what was agreed with the client"),
        )
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
        self.foot.addWidget(
            text_label(
                self.tr(
                    "The finding stays in view with your reason. Both are recorded permanently "
                    "with this course and printed on your own copy; then the course can be "
                    "given."
                ),
                Role.QUIET,
                wrap=True,
            )
        )
        self.set_body(body, columns=84, lines=20 + 2 * len(row.more))
        self.reason.setFocus(Qt.FocusReason.OtherFocusReason)

    def is_changed(self) -> bool:
        """Whether a reason was typed."""
        return bool(self.reason.text().strip())

    def submit(self) -> None:
        """Keep the reason, or ask for one."""
        reason = self.reason.text().strip()
        if not reason:
            self.reason_row.wrong(self.tr("Enter a reason; it is recorded with the course"))
            self.reason.setFocus(Qt.FocusReason.OtherFocusReason)
        elif self.session.accept(self.row.ids, reason):
            self.accept()
