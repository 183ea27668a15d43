"""What changed from one version of the program to the next."""

from __future__ import annotations

from PySide6.QtWidgets import QTextEdit, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.places import own_folder


class ChangesDialog(FormDialog):
    """The list of changes that is kept with the program, to read."""

    def __init__(self, parent: QWidget | None) -> None:
        super().__init__(parent, self.tr("What changed"), do=self.tr("Close"))
        self.leave_button.hide()
        self.text = QTextEdit()
        self.text.setReadOnly(True)
        self.text.setTabChangesFocus(True)
        self.text.setProperty("kind", "reading")
        self.text.setAccessibleName(self.tr("What changed"))
        _, _, body = (own_folder("resources") / "changes.md").read_text("utf-8").partition("\n")
        self.text.document().setIndentWidth(self.fontMetrics().height())  # Qt leaves ten letters
        self.text.document().setDocumentMargin(0)
        self.text.setMarkdown(body)
        self.set_body(self.text, columns=84, lines=34)
