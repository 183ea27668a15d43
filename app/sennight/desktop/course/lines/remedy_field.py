"""A field in the table of lines that finds a remedy by its name."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from sennight.desktop.kit.name_field import FROM_NAME, NameField
from sennight.domain.courses.problems import nearest
from sennight.domain.directions.plain_words import listed
from sennight.domain.remedies.remedies import Remedy

MOST_NAMED = 4
"""Where more remedies fit than this, they are not named."""


class RemedyField(NameField):
    """Finds one of some remedies; `entered` tells of Enter, `explained` what is wrong."""

    entered = Signal()
    explained = Signal(str, bool)

    def __init__(self, remedies: tuple[Remedy, ...], parent: QWidget | None = None) -> None:
        self._remedies = _labelled(remedies)
        super().__init__(self._remedies, parent)
        self.widen(44)
        self.setAccessibleName(self.tr("Remedy"))
        self.setPlaceholderText(self.tr("Remedy"))
        self.textEdited.connect(lambda _text: self.explained.emit("", False))  # noqa: FBT003 - Qt

    def remedy(self) -> Remedy | None:
        """The remedy that was found; None where there is none or where several fit."""
        label = self.matching_label()
        return self._remedies[label] if label else None

    def problem(self) -> str:
        """Why no remedy was found, and what to do."""
        fitting = self.fitting()
        if not self.typed:
            return self.tr("Enter a remedy’s name, or part of it.")
        if not fitting:
            text = self.tr("No match for “{word}” among the remedies free here")
            names = [label.partition(FROM_NAME)[0] for label in self.labels]
            return text.format(word=self.typed) + nearest(self.typed, names)
        text = self.tr("Several remedies have “{word}” in their names: {names}.")
        few = fitting[:MOST_NAMED]
        more = [self.tr("more")] if len(fitting) > len(few) else []
        names = [label.partition(FROM_NAME)[0] for label in few]
        return text.format(word=self.typed, names=listed([*names, *more]))

    def choose_label(self, label: str) -> None:
        """Choosing from the list is as good as typing the name and Enter."""
        super().choose_label(label)
        self.entered.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter behind the open list takes what fits; without a list the table takes it."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.popup.hide()
            QTimer.singleShot(0, self, self.entered.emit)
            event.accept()
        else:
            super().keyPressEvent(event)


def _labelled(remedies: tuple[Remedy, ...]) -> dict[str, Remedy]:
    """Each remedy under its name and form; where two have both alike, a number tells them."""
    labelled: dict[str, Remedy] = {}
    for remedy in remedies:
        named = label = f"{remedy.name}{FROM_NAME}{remedy.form.facts.noun}"
        number = 2
        while label in labelled:
            label, number = f"{named} {number}", number + 1
        labelled[label] = remedy
    return labelled
