"""The strip of facts that matter for safety: clicked, they are changed where they stand."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QMouseEvent, QPalette
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

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
from sennight.dyes import DYES

OPEN = next(n for n, dye in enumerate(DYES) if dye.name == "weld")
"""The dye of what is still open."""


class FactPart(QFrame):
    """A caption, what is known, and what can be done; a click anywhere in it does that."""

    wanted = Signal()

    def __init__(self, caption: str, theme: Theme) -> None:
        super().__init__()
        self.setProperty("kind", "fact")
        self._caption, self._is_open = caption, False
        self._theme = theme
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

    def apply_theme(self, theme: Theme) -> None:
        """Colour what is open, and leave room for a line."""
        self._theme = theme
        self.value.setMinimumHeight(theme.line)  # else it asks for the height of a column
        self._colour()

    def _colour(self) -> None:
        palette = QPalette(self.value.palette())
        ink = self._theme.ink
        if self._is_open:
            ink = self._theme.dye(OPEN)
        palette.setColor(QPalette.ColorRole.WindowText, ink)
        self.value.setPalette(palette)

    def say(
        self, value: str, act: str, *, role: Role = Role.STRONG, is_open: bool = False
    ) -> None:
        """Show what is known, and what can be done; what is open still stands out."""
        self.value.setText(value)
        self.value.setProperty("role", role.name.lower())
        restyle(self.value)
        self._is_open = is_open
        self._colour()
        self.act.setText(plain_caption(act))
        self.act.setAccessibleName(f"{self._caption}: {act}")


class FactsStrip(QWidget):
    """Age, conditions, medicines, allergies, reactions and red flags side by side.

    `topic_wanted` tells under which topic facts are to be changed, None for age and weight.
    """

    topic_wanted = Signal(object)
    flags_wanted = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._layout = QHBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
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
        self.age = self.parts[None].value
        self.conditions = self.parts[Topic.CONDITIONS].value
        self.medicines = self.parts[Topic.MEDICINES].value
        self.allergies = self.parts[Topic.ALLERGIES].value
        self.reactions = self.parts[Topic.REACTIONS].value
        self.flags = self.flags_part.value

    def _part(self, caption: str, share: int) -> FactPart:
        part = FactPart(caption, self._theme)
        self._layout.addWidget(part, share, Qt.AlignmentFlag.AlignTop)
        return part

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self._layout.setSpacing(theme.unit * 4)
        for part in (*self.parts.values(), self.flags_part):
            part.apply_theme(theme)

    def show_client(self, client: Client, today: date, names: Mapping[str, str]) -> None:
        """Show a client's facts, herbs by their names; what is not known is said."""
        self._show_person(client, today)
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
        self.parts[None].say(words, act, is_open=not age)

    def _show(self, topic: Topic, words: str, *, is_known: bool, is_there: bool) -> None:
        """Where nobody asked, that is what stands out."""
        act = self.tr("+ add") if is_known else self.tr("Ask now")
        role = Role.TEXT if is_known and not is_there else Role.STRONG
        self.parts[topic].say(words, act, role=role, is_open=not is_known)

    def show_flags(self, words: str, *, is_known: bool, stands: bool) -> None:
        """When red flags were asked for last, and what came of it."""
        act = self.tr("Ask again") if is_known else self.tr("Ask now")
        role = Role.ALARM if stands else Role.TEXT if is_known else Role.STRONG
        self.flags_part.say(words, act, role=role, is_open=not is_known)
