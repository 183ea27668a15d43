"""The strip of facts that matter for safety; it stays in view at the head of a folder."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.parts.standing import (
    age_words,
    facts_words,
    none_words,
    reaction_words,
)
from sennight.domain.courses.clients import Client, Topic


class FactsStrip(QWidget):
    """Age, conditions, medicines, allergies and reactions side by side, captions over them."""

    def __init__(self) -> None:
        super().__init__()
        self._layout = QHBoxLayout(self)
        self.age = self._part(self.tr("Age"), 2)
        self.conditions = self._part(self.tr("Conditions"), 5)
        self.medicines = self._part(self.tr("Medicines"), 5)
        self.allergies = self._part(self.tr("Allergies"), 5)
        self.reactions = self._part(self.tr("Reactions"), 5)

    def _part(self, caption: str, share: int) -> QLabel:
        value = text_label("", Role.STRONG, wrap=True)
        value.setAccessibleName(caption)
        part = QVBoxLayout()
        part.setSpacing(2)
        part.addWidget(text_label(caption, Role.QUIET))
        part.addWidget(value)
        part.addStretch(1)
        self._layout.addLayout(part, share)
        self._layout.setAlignment(part, Qt.AlignmentFlag.AlignTop)
        return value

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(theme.unit * 4)
        for label in (self.conditions, self.medicines, self.allergies, self.reactions):
            label.setMinimumHeight(theme.line)  # else each asks for the height of a narrow column

    def show_client(self, client: Client, today: date, names: Mapping[str, str]) -> None:
        """Show a client's facts, herbs by their names; what is not known is said."""
        self.age.setText(age_words(client.born, today) or self.tr("not known"))
        for label, topic in (
            (self.conditions, Topic.CONDITIONS),
            (self.medicines, Topic.MEDICINES),
            (self.allergies, Topic.ALLERGIES),
        ):
            label.setText(facts_words(client.facts(topic), asked=topic in client.asked))
        reactions = [reaction_words(reaction, names) for reaction in client.reactions]
        self.reactions.setText(
            "; ".join(reactions) or none_words(asked=Topic.REACTIONS in client.asked)
        )
        told = "\n".join(reaction.what for reaction in client.reactions)
        self.reactions.setToolTip(plain_tip(told))
