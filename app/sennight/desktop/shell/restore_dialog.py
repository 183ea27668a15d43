"""The dialog that shows what is in each backup, and asks for one to restore."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QVBoxLayout, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.shell.health_words import moment_words
from sennight.domain.directions.plain_words import counted
from sennight.practice.backups import BackupFile, contents_of
from sennight.practice.opening import PracticeFileError


class RestoreDialog(FormDialog):
    """`chosen` has the backup once the dialog was accepted; the newest is first in the list."""

    def __init__(self, parent: QWidget | None, backups: tuple[BackupFile, ...]) -> None:
        super().__init__(parent, self.tr("Restore a backup"), do=self.tr("Restore"))
        self._backups = backups
        self.chosen: Path | None = None
        self.model = TextTable(
            (self.tr("Made"), self.tr("What is in it"), self.tr("Newest entry")), self
        )
        self.rows = RowsView(self.model, shares=(5, 4, 5))
        self.rows.setAccessibleName(self.tr("Backups"))
        self.model.show_rows(len(backups), self._cells)
        self.rows.chosen.connect(lambda _: self.submit())
        text = self.tr(
            "The practice goes back to how it was then. The file as it is now is kept beside it, "
            "under a name with today's date."
        )
        body = QWidget()
        layout = QVBoxLayout(body)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(text_label(text, Role.QUIET, wrap=True))
        layout.addWidget(self.rows, 1)
        self.set_body(body, columns=90, lines=26)
        if backups:
            self.rows.select_row(0)
        self.rows.setFocus()

    def _cells(self, row: int) -> tuple[str, ...]:
        backup = self._backups[row]
        try:
            held = contents_of(backup.path)
        except PracticeFileError:
            return moment_words(backup.when), self.tr("cannot be read"), ""
        what = f"{counted(held.clients, 'client')}, {counted(held.courses, 'course')}"
        return moment_words(backup.when), what, moment_words(held.newest) if held.newest else ""

    def submit(self) -> None:
        """Accept with the backup that the list is on."""
        row = self.rows.currentIndex().row()
        if 0 <= row < len(self._backups):
            self.chosen = self._backups[row].path
            self.accept()


def ask_for_backup(parent: QWidget | None, backups: tuple[BackupFile, ...]) -> Path | None:
    """Show the backups and ask for one; None where none was chosen."""
    dialog = RestoreDialog(parent, backups)
    dialog.exec()
    dialog.deleteLater()
    return dialog.chosen


def restored_words(path: Path, aside: Path | None) -> str:
    """What is said after a backup was restored."""
    if aside is None:
        return translate("Restoring", "Restored.")
    text = translate("Restoring", "Restored. The file that was there before is kept: {name}")
    return text.format(name=aside.name if aside.parent == path.parent else aside)
