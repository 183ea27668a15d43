"""The strip of facts that matter for safety: clicked, they are changed where they stand."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QVBoxLayout, QWidget

from sennight.desktop.kit.plain_text import plain_caption, plain_tip
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import button, restyle, text_label
from sennight.desktop.parts.standing import (
    age_words,
    facts_words,
    none_words,
    reaction_words,
)
from sennight.domain.amounts import plain_number
from sennight.domain.courses.clients import Client, Topic

ABREAST = 80
"""Columns of text from which on all facts stand side by side."""


class FactPart(QFrame):
    """A caption, what is known, and what can be done; a click anywhere in it does that."""

    wanted = Signal()

    def __init__(self, caption: str) -> None:
        super().__init__()
        self.setProperty("kind", "fact")
        self._caption = caption
        self.value = text_label("", Role.STRONG, wrap=True)
        self.value.setAccessibleName(caption)
        self.act = button("", kind="in-place")
        self.act.clicked.connect(self.wanted)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(0)
        self._layout.addWidget(text_label(caption, Role.QUIET))
        self._layout.addWidget(self.value)
        self._layout.addWidget(self.act, 0, Qt.AlignmentFlag.AlignLeft)
        self._layout.addStretch(1)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A click does what the word beneath says."""
        if event.button() == Qt.MouseButton.LeftButton and self.rect().contains(event.pos()):
            self.wanted.emit()

    def say(self, value: str, act: str, *, role: str) -> None:
        """Show what is known in the colours of a role, and what can be done."""
        self.value.setText(value)
        self.value.setProperty("role", role)
        restyle(self.value)
        self.act.setText(plain_caption(act))
        self.act.setAccessibleName(f"{self._caption}: {act}")


class FactsStrip(QWidget):
    """Age, conditions, medicines, allergies, reactions and red flags side by side.

    `topic_wanted` tells under which topic facts are to be changed, None for age and weight.
    """

    topic_wanted = Signal(object)
    flags_wanted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._layout = QGridLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._abreast = 0
        self._has_untimed = False
        self._shares: list[tuple[FactPart, int]] = []
        self.parts: dict[Topic | None, FactPart] = {}
        for topic, caption, share in (
            (None, self.tr("Age, weight"), 5),
            (Topic.CONDITIONS, self.tr("Conditions"), 6),
            (Topic.MEDICINES, self.tr("Medicines"), 7),
            (Topic.ALLERGIES, self.tr("Allergies"), 4),
            (Topic.REACTIONS, self.tr("Reactions"), 5),
        ):
            part = self._part(caption, share)
            part.wanted.connect(lambda topic=topic: self.topic_wanted.emit(topic))
            self.parts[topic] = part
        self.flags_part = self._part(self.tr("Red flags"), 5)
        self.flags_part.wanted.connect(self.flags_wanted)
        self._arrange(len(self._shares))
        self.age = self.parts[None].value
        self.conditions = self.parts[Topic.CONDITIONS].value
        self.medicines = self.parts[Topic.MEDICINES].value
        self.allergies = self.parts[Topic.ALLERGIES].value
        self.reactions = self.parts[Topic.REACTIONS].value
        self.flags = self.flags_part.value

    def _part(self, caption: str, share: int) -> FactPart:
        part = FactPart(caption)
        self._shares.append((part, share))
        return part

    def resizeEvent(self, event: QResizeEvent) -> None:
        """All side by side where there is room, else in two lines."""
        super().resizeEvent(event)
        letter = self.fontMetrics().horizontalAdvance("n")
        self._arrange(len(self._shares) if event.size().width() >= letter * ABREAST else 3)

    def _arrange(self, abreast: int) -> None:
        if abreast == self._abreast:
            return
        self._abreast = abreast
        for n, (part, share) in enumerate(self._shares):
            self._layout.removeWidget(part)
            row, column = divmod(n, abreast)
            self._layout.addWidget(part, row, column, Qt.AlignmentFlag.AlignTop)
            self._layout.setColumnStretch(n, share if abreast > 3 else int(n < abreast))

    def minimumSizeHint(self) -> QSize:
        """Two lines need little width."""
        return QSize(self.fontMetrics().horizontalAdvance("n") * 40, self.sizeHint().height())

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self._layout.setHorizontalSpacing(theme.unit * 4)
        self._layout.setVerticalSpacing(theme.unit)
        for part in (*self.parts.values(), self.flags_part):
            part.value.setMinimumHeight(theme.line)  # else it asks for the height of a column

    def show_client(self, client: Client, today: date, names: Mapping[str, str]) -> None:
        """Show a client's facts, herbs by their names; what is not known is said."""
        self._show_person(client, today)
        self._has_untimed = any(not medicine.at for medicine in client.medicines)
        for topic in (Topic.CONDITIONS, Topic.MEDICINES, Topic.ALLERGIES):
            facts, asked = client.facts(topic), topic in client.asked
            words = facts_words(facts, asked=asked)
            self._show(topic, words, is_known=bool(facts) or asked, is_there=bool(facts))
        reactions = [reaction_words(reaction, names) for reaction in client.reactions]
        asked = Topic.REACTIONS in client.asked
        words = "; ".join(reactions) or none_words(asked=asked)
        is_known = bool(reactions) or asked
        self._show(Topic.REACTIONS, words, is_known=is_known, is_there=bool(reactions))
        told = "\n".join(reaction.what for reaction in client.reactions)
        self.reactions.setToolTip(plain_tip(told))

    def _show_person(self, client: Client, today: date) -> None:
        age = age_words(client.born, today)
        weight = client.weight_kg
        known = [age] if age else []
        known += (
            [self.tr("{weight}\u00a0kg").format(weight=plain_number(weight))] if weight else []
        )
        words = ", ".join(known) or self.tr("not known")
        act = self.tr("Change") if age and weight else self.tr("+ add")
        self.parts[None].say(words, act, role="strong" if age else "doubt")

    def _show(self, topic: Topic, words: str, *, is_known: bool, is_there: bool) -> None:
        """Where nobody asked, that is what stands out."""
        act = self.tr("+ add") if is_known else self.tr("Ask now")
        if topic is Topic.MEDICINES and self._has_untimed:
            act = self.tr("+ add, times not recorded")
        role = "strong" if is_there else "text" if is_known else "doubt"
        self.parts[topic].say(words, act, role=role)

    def show_flags(self, words: str, *, is_known: bool, stands: bool) -> None:
        """When red flags were asked for last, and what came of it."""
        act = self.tr("Ask again") if is_known else self.tr("Ask now")
        role = "alarm" if stands else "text" if is_known else "doubt"
        self.flags_part.say(words, act, role=role)
