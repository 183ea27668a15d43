"""A field that finds one of many names as it is typed."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QStringListModel, Qt
from PySide6.QtWidgets import QCompleter, QLineEdit, QWidget

from sennight.desktop.kit.widgets import offer_list

FROM_NAME = " – "
"""Stands in a label between the name and what else it can be found by."""
MOST_SHOWN = 9


class NameField(QLineEdit):
    """Offers the labels that have what is typed; a label is a name, or `name – more words`."""

    def __init__(self, labels: Iterable[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.labels = tuple(labels)
        completer = QCompleter(QStringListModel(self.labels, self), self)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        completer.setMaxVisibleItems(MOST_SHOWN)
        self.popup = offer_list()
        completer.setPopup(self.popup)
        completer.activated.connect(self.choose_label, Qt.ConnectionType.QueuedConnection)
        self.setCompleter(completer)

    def widen(self, columns: int) -> None:
        """Let the list of labels be so many letters wide, where the field itself is narrow."""
        self.popup.setMinimumWidth(self.fontMetrics().horizontalAdvance("n") * columns)

    def choose_label(self, label: str) -> None:
        """What happens when a label is chosen from the list: its name stands in the field."""
        self.setText(label.partition(FROM_NAME)[0])

    @property
    def typed(self) -> str:
        """What was typed, without space around it."""
        return self.text().strip()

    def fitting(self) -> tuple[str, ...]:
        """The labels that have what was typed; none while nothing is."""
        word = self.typed.casefold()
        return tuple(label for label in self.labels if word in label.casefold()) if word else ()

    def matching_label(self) -> str | None:
        """The label typed whole or by its name, or the only one that has what was typed."""
        word, fitting = self.typed.casefold(), self.fitting()
        for label in fitting:
            if word in (label.casefold(), label.partition(FROM_NAME)[0].casefold()):
                return label
        return fitting[0] if len(fitting) == 1 else None
