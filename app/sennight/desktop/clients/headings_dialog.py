"""The headings under which consultations are written, one a line."""

from __future__ import annotations

from PySide6.QtWidgets import QPlainTextEdit, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.domain.follow_up.consultations import checked_headings


class HeadingsDialog(FormDialog):
    """Asks for headings; `headings` has them once the dialog was accepted."""

    def __init__(self, parent: QWidget | None, headings: tuple[str, ...]) -> None:
        super().__init__(parent, self.tr("Headings of consultations"), do=self.tr("Save"))
        self.headings: tuple[str, ...] | None = None
        self.lines = QPlainTextEdit("\n".join(headings))
        self.lines.setTabChangesFocus(True)
        self._before = self.lines.toPlainText()
        self.form = FieldForm()
        self._row = self.form.row(
            self.tr("One on each line"),
            self.lines,
            help_text=self.tr(
                "New consultations use these headings. Those already written keep their own."
            ),
        )
        self.lines.textChanged.connect(lambda: self._row.explain(""))
        self.set_body(self.form, columns=62, lines=22)

    def is_changed(self) -> bool:
        """Whether the lines are others."""
        return self.lines.toPlainText() != self._before

    def submit(self) -> None:
        """Leave with the headings, or say what is wrong with them."""
        try:
            self.headings = checked_headings(tuple(self.lines.toPlainText().splitlines()))
        except ValueError as error:
            self._row.wrong(str(error)[:1].upper() + str(error)[1:])
            return
        self.accept()
