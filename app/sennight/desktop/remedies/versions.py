"""What was kept of a remedy before."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.remedies.formula import parts_words
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.practice.opening import OpenPractice
from sennight.practice.remedies import ShelfRemedy, remedy_saves


class VersionsSheet(FormDialog):
    """The versions of a remedy, newest first; `chosen` is the one to bring back."""

    def __init__(
        self,
        parent: QWidget,
        practice: OpenPractice,
        remedy_id: str,
        materia_medica: MateriaMedica,
    ) -> None:
        super().__init__(parent, self.tr("Versions"), do=self.tr("Restore"))
        self.chosen: ShelfRemedy | None = None
        self._saves = remedy_saves(practice, remedy_id)[::-1]
        self._materia_medica = materia_medica
        headings = (self.tr("Version"), self.tr("Saved on"), self.tr("Name"), self.tr("Formula"))
        self.model = TextTable(headings, self)
        self.rows = RowsView(self.model, shares=(2, 4, 5, 11))
        self.rows.setAccessibleName(self.tr("Versions"))
        body = QWidget()
        layout = QVBoxLayout(body)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(
            text_label(
                self.tr(
                    "A course keeps the version that it was given. Restoring one puts it into "
                    "the editor; it becomes a new version when it is saved."
                ),
                Role.QUIET,
                wrap=True,
            )
        )
        layout.addWidget(self.rows, 1)
        self.set_body(body, columns=110, lines=26)
        self.model.show_rows(len(self._saves), self._cells)
        self.rows.entered_row.connect(lambda _row: self.submit())

    def _cells(self, row: int) -> tuple[str, ...]:
        when, shelf = self._saves[row]
        day = plain_date(when.astimezone().date())
        parts = parts_words(shelf.remedy, self._materia_medica)
        return str(shelf.version), day, shelf.remedy.name, parts

    def submit(self) -> None:
        """Take the version that the list is on."""
        row = self.rows.currentIndex().row()
        if 0 <= row < len(self._saves):
            self.chosen = self._saves[row][1]
            self.accept()


def chosen_version(
    parent: QWidget, practice: OpenPractice, remedy_id: str, materia_medica: MateriaMedica
) -> ShelfRemedy | None:
    """Show a remedy's versions; the one to restore, None where none is."""
    sheet = VersionsSheet(parent, practice, remedy_id, materia_medica)
    sheet.exec()
    chosen = sheet.chosen
    sheet.deleteLater()
    return chosen
