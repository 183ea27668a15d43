"""A field for facts of one kind: found by name as they are typed, a line for each."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from itertools import pairwise

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from sennight.desktop.clients.draft_values import fact_from_json
from sennight.desktop.clients.fact_entry import FactEntry
from sennight.desktop.clients.fact_line import FactLine, key_of
from sennight.desktop.kit.drafts import as_list, as_object, leaving_out_what_cannot_be_read
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.parts.fact_words import meaning_words, record_words
from sennight.domain.courses.clients import Fact, Topic
from sennight.domain.tag_words import upper_first
from sennight.knowledge.client_facts import fact_records
from sennight.practice.drafts import Json


class FactsField(QWidget):
    """The facts of one kind, a field that adds one, and whether the client was asked for all.

    `has_condition` says whether a condition is recorded, so that a medicine does not ask for it.
    """

    changed = Signal()
    present = Signal(str)

    def __init__(
        self, topic: Topic, placeholder: str, *, today: date, often: tuple[str, ...] = ()
    ) -> None:
        super().__init__()
        self._topic, self._today = topic, today
        self._lines: dict[str, FactLine] = {}
        self.has_condition: Callable[[str], bool] = lambda _: False
        self.entry = FactEntry(topic)
        self.entry.setPlaceholderText(placeholder)
        self.often: dict[str, QPushButton] = {}
        self.all_asked = QCheckBox()
        self.beneath = text_label("", Role.ALARM, wrap=True)
        self.beneath.hide()
        self._layout = QVBoxLayout(self)
        self._lay_out(often)
        self.entry.picked.connect(self.add)
        self.entry.unknown.connect(self._explain)
        self.entry.textEdited.connect(self.beneath.hide)
        self._show_asked()

    def _lay_out(self, often: tuple[str, ...]) -> None:
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(4)
        self._layout.addWidget(self.entry)
        if often:
            self._layout.addLayout(self._often(often))
        self._layout.addWidget(self.all_asked)
        self._layout.addWidget(self.beneath)
        self.setFocusProxy(self.entry)

    def _often(self, tags: tuple[str, ...]) -> QHBoxLayout:
        """Words that are asked for so often that a press of a button takes them."""
        row = QHBoxLayout()
        for tag in tags:
            self.often[tag] = tag_button = button(
                upper_first(record_words(self._topic, tag)), kind="link"
            )
            tag_button.setToolTip(meaning_words(self._topic, tag))
            tag_button.clicked.connect(partial(self._take, tag))
            row.addWidget(tag_button)
        row.addStretch(1)
        return row

    def _take(self, tag: str) -> None:
        """Add a word, and go to its first day."""
        self.add(Fact(tag))
        self._lines[tag].first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _explain(self, text: str) -> None:
        self.beneath.setText(text)
        self.beneath.show()

    def _show_asked(self) -> None:
        """The box says what it records: that there is none, or that there is no more."""
        none, more = self.tr("Asked: none"), self.tr("Asked: no others")
        self.all_asked.setText(more if self._lines else none)

    @property
    def tags(self) -> tuple[str, ...]:
        """What tells the facts that are in it now from each other."""
        return tuple(self._lines)

    @property
    def state(self) -> tuple[Fact, ...]:
        """The facts as they were taken, without what is typed in their lines."""
        return tuple(line.taken for line in self._lines.values())

    def holds(self, condition: str) -> bool:
        """Whether a condition is among the facts, or implied by one of them."""
        records = fact_records()
        return any(condition in records.condition_meaning(tag).tags for tag in self._lines)

    def add(self, fact: Fact) -> None:
        """One more fact; one that is there already is not added again."""
        self.beneath.hide()
        if key_of(fact) not in self._lines:
            self._put(fact, len(self._lines))
            self._show_asked()
            self.changed.emit()

    def _put(self, fact: Fact, place: int) -> None:
        """A line for a fact, at a place among the lines."""
        line = FactLine(fact, self._topic, today=self._today)
        line.removed.connect(self._take_out)
        line.changed.connect(self._replace)
        line.present.connect(self._is_present)
        for condition in line.assumed:
            if not self.has_condition(condition):
                line.ask_use(condition)
        self._layout.insertWidget(self._layout.count() - len(self._lines) + place, line)
        lines = list(self._lines.items())
        lines.insert(place, (key_of(fact), line))
        self._lines = dict(lines)
        self._order_stops()

    def _order_stops(self) -> None:
        """The keyboard goes from the field through the lines in their order, then to the box."""
        stops = [self.entry, *self.often.values(), self.all_asked]
        stops += [stop for line in self._lines.values() for stop in line.stops]
        for stop, after in pairwise(stops):
            self.setTabOrder(stop, after)

    def _replace(self, key: str, fact: Fact) -> None:
        """Another fact in the place of one; the same as one that is there already takes it out."""
        place = list(self._lines).index(key)
        self._drop(key)
        if key_of(fact) not in self._lines:
            self._put(fact, place)
            self._lines[key_of(fact)].first.setFocus(Qt.FocusReason.OtherFocusReason)
        self.changed.emit()

    def _is_present(self, condition: str) -> None:
        """A medicine is for a condition: it is recorded, and asked for no more."""
        self.present.emit(condition)
        for line in tuple(self._lines.values()):
            if condition in line.assumed and (fact := line.fact()) is not None:
                self._replace(line.tag, fact)

    def _take_out(self, key: str) -> None:
        self._drop(key)
        self._show_asked()
        self.entry.setFocus(Qt.FocusReason.OtherFocusReason)
        self.changed.emit()

    def _drop(self, key: str) -> None:
        line = self._lines.pop(key)
        self._layout.removeWidget(line)
        line.hide()
        line.deleteLater()

    # What is typed, kept on disk

    def draft_value(self) -> Json:
        """The facts with what is typed in their lines, and what is half typed."""
        return {
            "typed": self.entry.text(),
            "asked": self.all_asked.isChecked(),
            "facts": [line.draft_value() for line in self._lines.values()],
        }

    def put_draft_value(self, value: Json) -> None:
        """Hold them again."""
        with leaving_out_what_cannot_be_read():
            content = as_object(value)
            lines = [(fact_from_json(line), line) for line in as_list(content["facts"])]
            for key in self.tags:
                self._drop(key)
            for fact, line in lines:
                self.add(fact)
                self._lines[key_of(fact)].put_draft_value(line)
            self._show_asked()
            self.all_asked.setChecked(bool(content["asked"]))
            self.entry.setText(str(content["typed"]))

    # Values

    def facts(self) -> tuple[Fact, ...] | None:
        """The facts in order; None where something is wrong, which is then shown."""
        if self.entry.typed:
            self._explain(self.entry.problem())
            return None
        facts = [line.fact() for line in self._lines.values()]
        right = tuple(fact for fact in facts if fact is not None)
        return right if len(right) == len(facts) else None
