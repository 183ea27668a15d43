"""Writing a paper where the user says, and opening it."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QStandardPaths, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QWidget

from sennight.desktop.kit.dialogs import choose, message_dialog
from sennight.desktop.kit.translating import translate
from sennight.practice.writing import FolderError, write_paths

PDF = "PDF (*.pdf)"


def ask_where(parent: QWidget | None, title: str, name: str, kinds: str) -> Path | None:
    """Ask for a file to write, beginning with a name in the documents folder."""
    documents = QStandardPaths.StandardLocation.DocumentsLocation
    folder = Path(QStandardPaths.writableLocation(documents))
    chosen, _ = QFileDialog.getSaveFileName(parent, title, str(folder / name), kinds)
    return Path(chosen) if chosen else None


def write_paper(parent: QWidget | None, title: str, name: str, data: bytes) -> Path | None:
    """Ask where to write a PDF, write it, and offer to open it; where it is, or None."""
    path = ask_where(parent, title, name, PDF)
    if path is None:
        return None
    try:
        (written,) = write_paths({path: data})
    except FolderError as error:
        message_dialog(parent, translate("Papers", "Could not be saved"), str(error)).exec()
        return None
    if choose(
        parent,
        translate("Papers", "Saved"),
        str(written),
        do=translate("Papers", "Open"),
        stay=translate("Papers", "Close"),
    ):
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(written)))
    return written
