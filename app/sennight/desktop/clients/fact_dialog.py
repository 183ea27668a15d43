"""Facts of one kind, changed where they stand, in a dialog beneath those that were clicked."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from functools import partial

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QComboBox, QWidget

from sennight.desktop.clients.facts_field import FactsField
from sennight.desktop.clients.reactions_field import ReactionsField
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, TypedField, explained, read_field
from sennight.desktop.kit.reading import read_date, read_weight
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.standing import age_words
from sennight.domain.amounts import plain_number
from sennight.domain.courses.clients import Client, Fact, Reaction, Sex, Topic
from sennight.domain.directions.plain_words import plain_date, plain_day
from sennight.knowledge.client_facts import fact_records

OFTEN = ("pregnancy", "lactation", "planned-surgery")
"""Conditions that a button takes, since they change from one visit to the next."""

SEXES = (None, Sex.FEMALE, Sex.MALE)
"""In the order in which the box offers them."""

COLUMNS = 66
"""Columns of text that a dialog in place takes."""


def lay_beneath(dialog: QWidget, part: QWidget) -> None:
    """Move a dialog to beneath a part of the page, as far as the screen has room there."""
    at, room = part.mapToGlobal(QPoint(0, part.height())), dialog.screen().availableGeometry()
    left = min(at.x(), room.right() - dialog.width())
    top = min(at.y(), room.bottom() - dialog.height())
    dialog.move(max(room.left(), left), max(room.top(), top))


def topic_words(topic: Topic) -> str:
    """A topic as a heading."""
    names = {
        Topic.CONDITIONS: translate("Facts", "Conditions"),
        Topic.MEDICINES: translate("Facts", "Medicines"),
        Topic.ALLERGIES: translate("Facts", "Allergies"),
        Topic.REACTIONS: translate("Facts", "Reactions to herbs"),
    }
    return names[topic]


class InPlace(FormDialog):
    """What the dialogs over the strip share: a record that is changed, and no second heading."""

    def __init__(self, parent: QWidget | None, title: str, client: Client, *, today: date) -> None:
        super().__init__(parent, title, do=self.tr("Save"))
        self.heading.hide()
        self._was, self._today = client, today
        self.client: Client | None = None
        self.past_reactions: tuple[Reaction, ...] = ()
        self.form = FieldForm()

    def take(self, client: Client | None) -> None:
        """Leave with another record, where one can be made of what is typed."""
        if client is not None and not self.form.to_first_wrong():
            self.client = client
            self.accept()

    def state(self) -> tuple[object, ...]:
        """All that is typed and chosen."""
        raise NotImplementedError

    def begin(self, *, lines: int) -> None:
        """Show the form; what it holds now is what it began with."""
        self.form.keep_together()
        self.set_body(self.form, columns=COLUMNS, lines=lines)
        self._before = self.state()

    def is_changed(self) -> bool:
        """Whether anything differs from what the dialog began with."""
        return self.state() != self._before


class FactsDialog(InPlace):
    """Changes the conditions, medicines or allergies of a client.

    A medicine may be for a condition, which is then recorded as well.
    """

    def __init__(
        self, parent: QWidget | None, client: Client, topic: Topic, *, today: date
    ) -> None:
        super().__init__(parent, topic_words(topic), client, today=today)
        self._topic, self._implied = topic, dict[str, None]()
        asks = self.tr("Type a name")
        if topic is Topic.MEDICINES:
            asks = self.tr("Type a name and dose: ramipril 5 mg")
        often = OFTEN if topic is Topic.CONDITIONS else ()
        self.facts = FactsField(topic, asks, today=today, often=often)
        self.facts.has_condition = self._holds
        self.facts.present.connect(self._imply)
        self.facts.changed.connect(self.grow)
        self.facts.entry.onward.connect(self.submit)
        for fact in client.facts(topic):
            self.facts.add(fact)
        self.facts.all_asked.setChecked(topic in client.asked)
        self.form.row(topic_words(topic), self.facts)
        self.begin(lines=21)
        self.facts.entry.setFocus(Qt.FocusReason.OtherFocusReason)

    def _holds(self, tag: str) -> bool:
        records = fact_records()
        known = (*(fact.tag for fact in self._was.conditions), *self._implied)
        return any(tag in records.condition_meaning(condition).tags for condition in known)

    def _imply(self, tag: str) -> None:
        self._implied[tag] = None

    def state(self) -> tuple[object, ...]:
        """The facts, what is typed in their lines, and the box."""
        return (json.dumps(self.facts.draft_value()),)

    def submit(self) -> None:
        """Leave with the facts, or show what is wrong."""
        facts = self.facts.facts()
        if facts is None:
            return
        asked = with_topic(self._was.asked, self._topic, on=self.facts.all_asked.isChecked())
        client = replace(self._was, asked=asked)
        new = tuple(Fact(tag) for tag in self._implied)
        match self._topic:
            case Topic.CONDITIONS:
                self.take(replace(client, conditions=facts))
            case Topic.MEDICINES:
                conditions = (*client.conditions, *new)
                self.take(replace(client, medicines=facts, conditions=conditions))
            case _:
                self.take(replace(client, allergies=facts))


class ReactionsDialog(InPlace):
    """Adds reactions of the past to those on record."""

    def __init__(
        self, parent: QWidget | None, client: Client, names: Mapping[str, str], *, today: date
    ) -> None:
        super().__init__(parent, topic_words(Topic.REACTIONS), client, today=today)
        self.reactions = ReactionsField(client.reactions, names, today=today)
        self.reactions.all_asked.setChecked(Topic.REACTIONS in client.asked)
        self.form.row(topic_words(Topic.REACTIONS), self.reactions)
        self.begin(lines=12)

    def state(self) -> tuple[object, ...]:
        """The reactions that were added, and the box."""
        return (*self.reactions.added, self.reactions.all_asked.isChecked())

    def submit(self) -> None:
        """Leave with the reactions."""
        self.past_reactions = tuple(self.reactions.added)
        on = self.reactions.all_asked.isChecked()
        asked = with_topic(self._was.asked, Topic.REACTIONS, on=on)
        reactions = (*self._was.reactions, *self.past_reactions)
        self.take(replace(self._was, asked=asked, reactions=reactions))


class PersonDialog(InPlace):
    """Changes the day of birth, the weight and the sex of a client."""

    def __init__(self, parent: QWidget | None, client: Client, *, today: date) -> None:
        super().__init__(parent, translate("Facts", "Age and weight"), client, today=today)
        read_past = partial(read_date, today=today, past=True)
        self.born = TypedField(read_past, placeholder=self.tr("1 May 1970"))
        self.weight = TypedField(read_weight, placeholder=self.tr("not known"))
        self.sex = QComboBox()
        self.sex.addItems([self.tr("not recorded"), self.tr("female"), self.tr("male")])
        self._born_row, self._weight_row = self.form.line(
            (self.tr("Born"), self.born), (self.tr("Weight in kg"), self.weight)
        )
        self.form.row(self.tr("Sex"), self.sex)
        self.born.setText(plain_date(client.born) if client.born else "")
        self.weight.setText(plain_number(client.weight_kg) if client.weight_kg else "")
        self.sex.setCurrentIndex(SEXES.index(client.sex))
        explained(self._born_row, self.born, self._born_words)
        explained(self._weight_row, self.weight, lambda _: "")
        self.begin(lines=13)
        self.born.setFocus(Qt.FocusReason.OtherFocusReason)

    def _born_words(self, born: date) -> str:
        if born > self._today:
            return self.tr("The date is in the future")
        return f"{plain_day(born)}, {age_words(born, self._today)}"

    def state(self) -> tuple[object, ...]:
        """What is typed and chosen."""
        return (self.born.text(), self.weight.text(), self.sex.currentIndex())

    def submit(self) -> None:
        """Leave with what was typed, or show what is wrong at its field."""
        self.form.clear_wrong()
        born = read_field(self._born_row, self.born)
        weight = read_field(self._weight_row, self.weight)
        if born and born > self._today:
            self._born_row.wrong(self.tr("Enter a date of birth in the past"))
        sex = SEXES[self.sex.currentIndex()]
        self.take(replace(self._was, born=born, weight_kg=weight, sex=sex))


def with_topic(asked: tuple[Topic, ...], topic: Topic, *, on: bool) -> tuple[Topic, ...]:
    """The topics that a client was asked about, with one of them or without."""
    return tuple(other for other in Topic if (on if other is topic else other in asked))
