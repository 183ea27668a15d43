"""Asking for files and folders, with no trace of their names in the toolkit's own settings.

Where the desktop has no dialog of its own, Qt draws one and writes into its settings, which every
Qt program reads, which folders were visited: a folder may be called after a client.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from PySide6.QtCore import QSettings, QStandardPaths
from PySide6.QtWidgets import QFileDialog, QWidget

_TRACES = ("FileDialog/history", "FileDialog/lastVisited")


def documents_folder() -> Path:
    """Where people keep documents."""
    documents = QStandardPaths.StandardLocation.DocumentsLocation
    return Path(QStandardPaths.writableLocation(documents))


def ask_where(parent: QWidget | None, title: str, name: str, kinds: str) -> Path | None:
    """Ask for a file to write, beginning with a name in the documents folder.

    The dialog asks before a file that is there is chosen.
    """
    with _without_trace():
        chosen, _ = QFileDialog.getSaveFileName(
            parent, title, str(documents_folder() / name), kinds
        )
    return Path(chosen) if chosen else None


def ask_for_file(
    parent: QWidget | None, title: str, folder: Path | None = None, kinds: str = ""
) -> Path | None:
    """Ask for a file to read, beginning in the documents folder or another."""
    with _without_trace():
        chosen, _ = QFileDialog.getOpenFileName(
            parent, title, str(folder or documents_folder()), kinds
        )
    return Path(chosen) if chosen else None


def ask_for_files(parent: QWidget | None, title: str, kinds: str) -> list[Path]:
    """Ask for several files to read, beginning in the documents folder."""
    with _without_trace():
        chosen, _ = QFileDialog.getOpenFileNames(parent, title, str(documents_folder()), kinds)
    return [Path(name) for name in chosen]


def ask_for_folder(parent: QWidget | None, title: str, folder: str) -> Path | None:
    """Ask for a folder, beginning in another."""
    with _without_trace():
        chosen = QFileDialog.getExistingDirectory(parent, title, folder)
    return Path(chosen) if chosen else None


@contextmanager
def _without_trace() -> Iterator[None]:
    """Put back what Qt remembered of folders before the block."""
    settings = toolkit_settings()
    before = {key: settings.value(key) for key in _TRACES}
    try:
        yield
    finally:
        settings.sync()
        for key, value in before.items():
            if settings.value(key) == value:
                continue
            if value is None:
                settings.remove(key)
            else:
                settings.setValue(key, value)
        settings.sync()


def toolkit_settings() -> QSettings:
    """The settings that Qt keeps for itself, for all programs of this user."""
    return QSettings(QSettings.Scope.UserScope, "QtProject")
