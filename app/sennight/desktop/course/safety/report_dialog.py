"""The report of a reaction, offered once the reaction is on record."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QVBoxLayout, QWidget

from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.paper import A4, LETTER, usual_paper
from sennight.desktop.kit.paper_dialog import PaperDialog
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.papers import PaperKind
from sennight.practice.papers import Paper


class ReportDialog(PaperDialog):
    """Shows the report; `report` makes it for a size of paper."""

    def __init__(self, report: Callable[[str], bytes], parent: QWidget | None) -> None:
        super().__init__(
            parent,
            translate("ReportDialog", "The reaction is recorded"),
            do=translate("ReportDialog", "Save report…"),
        )
        self._report = report
        self.leave_button.setText(self.tr("Not now"))
        self.paper = QComboBox()
        self.paper.addItems((A4, LETTER))
        self.paper.setCurrentText(usual_paper())
        self.paper.currentIndexChanged.connect(self.refresh)
        form = FieldForm()
        form.line((self.tr("Paper"), self.paper))
        asked = QWidget()
        layout = QVBoxLayout(asked)
        layout.setContentsMargins(0, 0, 0, 0)
        words = self.tr(
            "This report can be sent where that is required. It has the client’s initials, not "
            "the name. A copy is kept under Given."
        )
        layout.addWidget(text_label(words, wrap=True))
        layout.addWidget(form)
        self.show_beside(asked)
        self.main_button.setFocus(Qt.FocusReason.OtherFocusReason)

    def plan(self) -> Callable[[], Paper]:
        """The report on this paper."""
        report, size = self._report, self.paper.currentText()
        return lambda: Paper(PaperKind.REACTION_REPORT, report(size))
