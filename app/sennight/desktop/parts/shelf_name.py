"""Asking what the shelf is to call a protocol."""

from __future__ import annotations

from PySide6.QtWidgets import QLineEdit

from sennight.desktop.kit.forms import FieldForm
from sennight.practice.importing import NameTakenError
from sennight.practice.opening import OpenPractice
from sennight.practice.protocols import list_protocols


class ShelfNameForm(FieldForm):
    """A name that is typed, for a protocol that goes onto the shelf."""

    def __init__(self, practice: OpenPractice, label: str, name: str) -> None:
        super().__init__()
        self._taken = {entry.protocol.name for entry in list_protocols(practice)}
        self.name = QLineEdit(name)
        self.name_row = self.row(label, self.name)
        self.name.textEdited.connect(lambda: self.name_row.explain(""))

    @property
    def text(self) -> str:
        """The name as typed."""
        return self.name.text().strip()

    def is_right(self) -> bool:
        """Whether there is a name that the shelf does not have yet; else that is shown."""
        if not self.text:
            self.name_row.wrong(self.tr("Enter a name"))
        elif self.text in self._taken:
            self.name_row.wrong(str(NameTakenError(self.text)))
        else:
            return True
        return False
