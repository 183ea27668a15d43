"""Giving one paper: kept on record, written where the practitioner says, and opened."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QWidget

from sennight.desktop.kit.file_dialogs import ask_where
from sennight.desktop.kit.short_dialogs import choose, message_dialog
from sennight.desktop.kit.translating import translate
from sennight.practice.opening import OpenPractice, PracticeFileError
from sennight.practice.papers import About, Paper, give_paper_as, next_number
from sennight.practice.writing import FolderError, write_paths

PDF = "PDF (*.pdf)"


def save_one_pdf(parent: QWidget | None, title: str, name: str, content: bytes) -> Path | None:
    """Ask where to write a PDF that is given to nobody, and offer to open it; where it is."""
    path = ask_where(parent, title, name, PDF)
    if path is None:
        return None
    try:
        (written,) = write_paths({path: content})
    except FolderError as error:
        message_dialog(parent, translate("Papers", "Could not be saved"), str(error)).exec()
        return None
    _offer_to_open(parent, written)
    return written


def _offer_to_open(parent: QWidget | None, written: Path) -> None:
    if choose(
        parent,
        translate("Papers", "Saved"),
        str(written),
        do=translate("Papers", "Open"),
        stay=translate("Papers", "Close"),
    ):
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(written)))


def give_one_paper(
    parent: QWidget | None,
    title: str,
    practice: OpenPractice,
    about: About,
    paper: Paper,
    *,
    now: datetime,
) -> Path | None:
    """Ask where to write a PDF, keep and write it, and offer to open it; where it is, or None."""
    name = paper.name(about.names, day=now.date(), number=next_number(practice))
    path = ask_where(parent, title, name, PDF)
    if path is None:
        return None
    try:
        written = give_paper_as(practice, about, paper, path, now=now)
    except (FolderError, PracticeFileError) as error:
        message_dialog(parent, translate("Papers", "Could not be saved"), str(error)).exec()
        return None
    _offer_to_open(parent, written)
    return written
