"""The strip of facts beneath the head line: what has to be known before anything is given."""

from __future__ import annotations

from collections.abc import Mapping
from operator import is_

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import Shortened, button, restyle, text_label
from sennight.desktop.parts.standing import age_words, facts_words, none_words, reaction_words
from sennight.domain.amounts import plain_number
from sennight.domain.courses.clients import Client, Topic
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.practice.course_reading import CourseReading

LETTERS, FEWEST = 9, 5
"""So many letters of a fact are seen at least, and where room is very short."""


class _Fact(QWidget):
    """A caption and what is known; what was not asked yet is written as a doubt."""

    def __init__(self, caption: str) -> None:
        super().__init__()
        self.caption = text_label(caption, Role.QUIET)
        self.value = Shortened("", Role.STRONG)
        self.value.setAccessibleName(caption)
        self.value.least_letters = LETTERS
        self._words, self._is_doubt = "", False
        self.room = QHBoxLayout(self)
        self.room.setContentsMargins(0, 0, 0, 0)
        self.room.addWidget(self.caption)
        self.room.addWidget(self.value, 1)

    def say(self, text: str, *, is_doubt: bool = False, is_none: bool = False) -> None:
        """Show what is known."""
        self._words, self._is_doubt = text, is_doubt
        self.value.setText(text)
        role = "doubt" if is_doubt else "quiet" if is_none else "strong"
        if self.value.property("role") != role:
            self.value.setProperty("role", role)
            restyle(self.value)

    def be_short(self, *, is_short: bool) -> None:
        """Where room is very short, few letters of what is known, and a sign for what is not."""
        is_sign = is_short and self._is_doubt
        self.value.least_letters = FEWEST if is_short else LETTERS
        self.value.setText("?" if is_sign else self._words)
        if is_sign:
            self.value.setToolTip(plain_tip(self._words))
        self.value.updateGeometry()


class FactsStrip(QWidget):
    """Age, weight, conditions, medicines, allergies, reactions and red flags in one line."""

    ask_wanted = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.age, self.weight = _Fact(self.tr("Age")), _Fact(self.tr("Weight"))
        self.topics = {
            Topic.CONDITIONS: _Fact(self.tr("Conditions")),
            Topic.MEDICINES: _Fact(self.tr("Medicines")),
            Topic.ALLERGIES: _Fact(self.tr("Allergies")),
        }
        self.reactions = _Fact(self.tr("Reactions"))
        self.flags = _Fact(self.tr("Red flags"))
        self.ask = button(self.tr("Ask now"), kind="word")
        self.ask.clicked.connect(self.ask_wanted)
        self._has_weight = False
        self._seen: tuple[object, ...] | None = None
        self._layout = QHBoxLayout(self)
        self._layout.setSizeConstraint(QHBoxLayout.SizeConstraint.SetNoConstraint)
        for part in self._parts():
            self._layout.addWidget(part)
        self._layout.addWidget(self.ask)
        self._layout.addStretch(1)
        self.apply_theme(theme)

    def minimumSizeHint(self) -> QSize:
        """It gives way, part by part."""
        return QSize(0, super().minimumSizeHint().height())

    def _parts(self) -> tuple[_Fact, ...]:
        return (self.age, self.weight, *self.topics.values(), self.reactions, self.flags)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """See what there is room for."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Where it is narrow, some captions give way, then the weight, then letters.

        No caption does beside a fact that says nothing without it.
        """
        facts = (*self.topics.values(), self.reactions)
        for part in facts:
            part.be_short(is_short=False)
        for part in (self.age, self.weight, *facts):
            part.caption.show()
        self.weight.setVisible(self._has_weight)
        spoken = [part for part in facts if part.value.property("role") == "strong"]
        first = (self.age.caption, self.weight.caption, self.weight)
        for give_way in (*first, *(part.caption for part in spoken)):
            if self._least_width() <= self.width():
                return
            give_way.hide()
        for part in facts:
            if self._least_width() > self.width():
                part.be_short(is_short=True)

    def _least_width(self) -> int:
        """The room for all that is shown, without waiting for the layout to be asked anew."""
        parts = [part for part in self._parts() if not part.isHidden()]
        shown = [
            label for part in parts for label in (part.caption, part.value) if not label.isHidden()
        ]
        gaps = (len(shown) - len(parts)) * self.age.room.spacing()
        if not self.ask.isHidden():
            gaps += self.ask.sizeHint().width() + self._layout.spacing()
        words = sum(label.minimumSizeHint().width() for label in shown)
        return words + gaps + (len(parts) - 1) * self._layout.spacing()

    def texts(self) -> tuple[QLabel, ...]:
        """What is said of each fact."""
        return tuple(part.value for part in self._parts())

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(theme.unit * 3)
        for part in self._parts():
            part.room.setSpacing(theme.unit)

    def refresh(self, reading: CourseReading) -> None:
        """Show the facts of a course's client; most edits leave them as they are."""
        client = reading.course.client
        seen = (client, reading.today, reading.materia_medica, reading.standing)
        if self._seen is not None and all(map(is_, seen, self._seen)):
            return
        self._seen = seen
        age = age_words(client.born, reading.today)
        self.age.say(age or self.tr("not known"), is_doubt=not age)
        self._has_weight = client.weight_kg is not None
        if client.weight_kg is not None:
            self.weight.say(self.tr("{kg} kg").format(kg=plain_number(client.weight_kg)))
        for topic, part in self.topics.items():
            facts, asked = client.facts(topic), topic in client.asked
            words = facts_words(facts, asked=asked)
            part.say(words, is_doubt=not facts and not asked, is_none=not facts and asked)
        self._say_reactions(client, reading.materia_medica.names)
        self._say_flags(reading.standing)
        self._fit()

    def _say_reactions(self, client: Client, names: Mapping[str, str]) -> None:
        asked = Topic.REACTIONS in client.asked
        told = "; ".join(reaction_words(reaction, names) for reaction in client.reactions)
        self.reactions.say(
            told or none_words(asked=asked),
            is_doubt=not told and not asked,
            is_none=not told and asked,
        )

    def _say_flags(self, check: RedFlagCheck | None) -> None:
        self.ask.setVisible(check is None)
        if check is None:
            self.flags.value.hide()
            self.flags.value.setText(self.tr("not asked"))
            return
        self.flags.value.show()
        found = self.tr("found on {day}") if check.ticked else self.tr("none on {day}")
        self.flags.say(
            found.format(day=plain_date(check.day)),
            is_doubt=bool(check.ticked),
            is_none=not check.ticked,
        )
