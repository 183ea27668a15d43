"""The strip of facts beneath the head line: what has to be known before anything is given."""

from __future__ import annotations

from collections.abc import Mapping
from operator import is_

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QLabel, QWidget

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
    """Age, weight, conditions, medicines, allergies, reactions and red flags.

    They stand in one line where all of it has room, else in two, so that nothing is cut.
    """

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
        self._theme = theme
        self._lay_out()
        self.apply_theme(theme)

    def _lay_out(self) -> None:
        self._layout = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._layout.setSizeConstraint(QHBoxLayout.SizeConstraint.SetNoConstraint)
        self._rows = QHBoxLayout(), QHBoxLayout()
        for n, (row, parts) in enumerate(zip(self._rows, self._halves(), strict=True)):
            for part in parts:
                row.addWidget(part)
            self._layout.addLayout(row, n)
        self._rows[0].addStretch(1)  # which takes room only where the row has a line of its own
        self._rows[1].addWidget(self.ask)
        self._rows[1].addStretch(1)

    def minimumSizeHint(self) -> QSize:
        """It gives way, part by part."""
        return QSize(0, super().minimumSizeHint().height())

    def _halves(self) -> tuple[tuple[_Fact, ...], tuple[_Fact, ...]]:
        """What stands in the first of two lines, and in the second."""
        conditions, medicines, allergies = self.topics.values()
        first = self.age, self.weight, conditions, medicines
        return first, (allergies, self.reactions, self.flags)

    def _parts(self) -> tuple[_Fact, ...]:
        first, second = self._halves()
        return (*first, *second)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """See what there is room for."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """In one line where all has room but for captions, else in two."""
        self._show_all()
        self._give_way(self._parts())
        is_in_two = self._width_of(self._parts(), is_whole=True) > self.width()
        if is_in_two:
            self._show_all()
        ways, unit = QBoxLayout.Direction, self._theme.unit
        self._layout.setDirection(ways.TopToBottom if is_in_two else ways.LeftToRight)
        self._layout.setSpacing(0 if is_in_two else unit * 3)
        for parts in self._halves() if is_in_two else ():
            self._give_way(parts)
        self.updateGeometry()

    def _show_all(self) -> None:
        for part in (*self.topics.values(), self.reactions):
            part.be_short(is_short=False)
        for part in self._parts():
            part.caption.show()
        self.weight.setVisible(self._has_weight)

    def _give_way(self, parts: tuple[_Fact, ...]) -> None:
        """Where a line is narrow, some captions give way, then the weight, then letters.

        No caption does beside a fact that says nothing without it.
        """
        facts = [part for part in parts if part not in (self.age, self.weight, self.flags)]
        spoken = [part for part in facts if part.value.property("role") == "strong"]
        first = (self.age.caption, self.weight.caption, self.weight) if self.age in parts else ()
        for give_way in (*first, *(part.caption for part in spoken)):
            if self._width_of(parts, is_whole=True) <= self.width():
                return
            give_way.hide()
        for part in facts:
            if self._width_of(parts, is_whole=False) > self.width():
                part.be_short(is_short=True)

    def _width_of(self, parts: tuple[_Fact, ...], *, is_whole: bool) -> int:
        """The room for what is shown of these, whole or as short as it may be.

        It does not wait for the layout to be asked anew.
        """
        parts = tuple(part for part in parts if not part.isHidden())
        shown = [
            label for part in parts for label in (part.caption, part.value) if not label.isHidden()
        ]
        between, gaps = self._theme.unit * 3, (len(shown) - len(parts)) * self.age.room.spacing()
        if self.flags in parts and not self.ask.isHidden():
            gaps += self.ask.sizeHint().width() + between
        sizes = (label.sizeHint() if is_whole else label.minimumSizeHint() for label in shown)
        return sum(size.width() for size in sizes) + gaps + (len(parts) - 1) * between

    def texts(self) -> tuple[QLabel, ...]:
        """What is said of each fact."""
        return tuple(part.value for part in self._parts())

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self._theme = theme
        self._layout.setContentsMargins(0, 0, 0, 0)
        for row in self._rows:
            row.setSpacing(theme.unit * 3)
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
