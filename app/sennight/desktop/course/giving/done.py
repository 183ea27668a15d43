"""What was saved: where it is, what to tell the client, and what can be done with it now."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from sennight.desktop.course.handing_over import HandOverDialog
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import button, text_label


def open_file(path: Path) -> None:
    """Open a file or a folder with the program that this machine has for it."""
    QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))


class SavedFiles(QWidget):
    """The files that were saved."""

    def __init__(self) -> None:
        super().__init__()
        self.paths: tuple[Path, ...] = ()
        self.calendar_name = ""
        self.note = text_label("", wrap=True)
        self.where = text_label("", Role.QUIET, wrap=True)
        self.where.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.folder = button(self.tr("Open folder"))
        self.email = button(self.tr("Open the e-mail"))
        self.phone = button(self.tr("To the phone…"))
        self.folder.clicked.connect(self._open_folder)
        self.email.clicked.connect(self._open_email)
        self.phone.clicked.connect(self._hand_over)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(self.fontMetrics().height() // 2)
        layout.addWidget(self.note)
        layout.addLayout(_row(self.folder, self.email, self.phone))
        layout.addWidget(self.where)
        layout.addStretch(1)

    def show_files(self, paths: Sequence[Path], note: str, calendar_name: str) -> None:
        """Show these files, and what to tell the client."""
        self.paths, self.calendar_name = tuple(paths), calendar_name
        self.note.setText(note)
        self.note.setVisible(bool(note))
        names = [str(path.parent) for path in paths[:1]] + [path.name for path in paths]
        self.where.setText("\n".join(names))
        self.email.setVisible(bool(self._with_suffix(".eml")))
        self.phone.setVisible(len(self._with_suffix(".ics")) == 1)

    def _open_folder(self) -> None:
        open_file(self.paths[0].parent)

    def _open_email(self) -> None:
        """Open the message in the practitioner's own program, to be sent from there."""
        open_file(self._with_suffix(".eml")[0])

    def _with_suffix(self, suffix: str) -> list[Path]:
        """The files of a kind in the folder, without one that a phone is subscribed to."""
        folder = self.paths[0].parent
        return [path for path in self.paths if path.parent == folder and path.suffix == suffix]

    def _hand_over(self) -> None:
        """Show a code of the calendar file to the phone in the room."""
        (calendar,) = self._with_suffix(".ics")
        HandOverDialog(calendar, self.calendar_name, self).exec()


def _row(*buttons: QPushButton) -> QHBoxLayout:
    row = QHBoxLayout()
    for each_button in buttons:
        row.addWidget(each_button)
    row.addStretch(1)
    return row
