"""Files that are to be attached once a consultation is kept, each with a button that leaves it."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from sennight.desktop.kit.drafts import as_list, leaving_out_what_cannot_be_read
from sennight.desktop.kit.file_dialogs import ask_for_files
from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import Shortened, button
from sennight.practice.consultations import SUFFIXES, AttachmentError, read_to_attach
from sennight.practice.drafts import Json


def ask_for_attachments(parent: QWidget) -> list[Path]:
    """The files that are chosen; none where that was given up."""
    kinds = " ".join(f"*{suffix}" for suffix in SUFFIXES)
    wanted = translate("Files", "PDF and pictures ({kinds})").format(kinds=kinds)
    return ask_for_files(parent, translate("Files", "Attach files"), wanted)


class PendingFiles(QWidget):
    """The files chosen so far; hidden while there are none.

    `refused` says why one cannot be attached.
    """

    changed = Signal()
    refused = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.paths: list[Path] = []
        self._rows: list[QWidget] = []
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(0)
        self.hide()

    def ask(self) -> None:
        """Ask for files, and take them."""
        self.add(ask_for_attachments(self.window()))

    def add(self, paths: Iterable[Path]) -> None:
        """Take files that can be attached."""
        for path in paths:
            try:
                read_to_attach(path)
            except AttachmentError as error:
                self.refused.emit(str(error))
                continue
            if path not in self.paths:
                self.paths.append(path)
        self._show()
        self.changed.emit()

    def clear(self) -> None:
        """None are chosen."""
        self.paths = []
        self._show()

    def _leave_out(self, path: Path) -> None:
        self.paths.remove(path)
        self._show()
        self.changed.emit()

    def _show(self) -> None:
        for row in self._rows:
            self._layout.removeWidget(row)
            row.hide()
            row.deleteLater()
        self._rows = [self._row(path) for path in self.paths]
        for row in self._rows:
            self._layout.addWidget(row)
        self.setVisible(bool(self.paths))

    def _row(self, path: Path) -> QWidget:
        row = QWidget()
        name, leave = Shortened(path.name), button(self.tr("Leave out"), kind="link")
        leave.setAccessibleName(self.tr("Remove {name}").format(name=path.name))
        name.setToolTip(plain_tip(str(path)))
        leave.clicked.connect(partial(self._leave_out, path))
        layout = QHBoxLayout(row)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(name, 1)
        layout.addWidget(leave)
        return row

    # What is chosen, kept on disk

    def draft_value(self) -> Json:
        """Where they lie."""
        return [str(path) for path in self.paths]

    def put_draft_value(self, value: Json) -> None:
        """Choose them again, those that are still there."""
        with leaving_out_what_cannot_be_read():
            paths = [Path(str(path)) for path in as_list(value)]
            self.clear()
            self.add(path for path in paths if path.is_file())
