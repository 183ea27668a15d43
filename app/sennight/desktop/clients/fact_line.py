"""A line for one fact: what it is called, what it counts as, when it holds, what is asked."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from sennight.desktop.clients.classes_dialog import ClassesDialog
from sennight.desktop.clients.draft_values import fact_to_json
from sennight.desktop.kit.drafts import as_object
from sennight.desktop.kit.forms import TypedField
from sennight.desktop.kit.reading import ReadingError, read_date, read_times, times_text
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.parts.fact_words import (
    assumed_uses,
    counts_as,
    either,
    meaning_words,
    record_words,
)
from sennight.domain.courses.clients import Fact, Topic
from sennight.domain.day import Moment
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.tag_words import upper_first
from sennight.knowledge.client_facts import fact_records
from sennight.practice.drafts import Json

LONGEST_BESIDE = 8
"""A longer name, in letters, stands above its days, where it does not break at every word."""
SIDE_BY_SIDE = 2
"""So many answers stand in a line; their names may be long."""


class DayField(TypedField[date]):
    """A field for a day; T takes today where nothing is typed yet."""

    def __init__(self, today: date, *, placeholder: str) -> None:
        super().__init__(partial(read_date, today=today), placeholder=placeholder)
        self._today = today
        self.setToolTip(self.tr("A date such as 1 May 2027; T for today"))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """T takes today."""
        whole = not self.text() or self.selectedText() == self.text()
        if event.text().lower() == "t" and whole:
            self.setText(plain_date(self._today))
            self.textEdited.emit(self.text())
        else:
            super().keyPressEvent(event)


def key_of(fact: Fact) -> str:
    """What tells a fact from others of its kind: its tag, or its name where it has none."""
    return fact.tag or fact.name


class FactLine(QWidget):
    """One fact; `changed` says that another takes its place, `present` that a condition is there.

    A medicine has a dose and times, and says what it counts as. What is not checked says so.
    """

    removed = Signal(str)
    changed = Signal(str, Fact)
    present = Signal(str)

    def __init__(self, fact: Fact, topic: Topic, *, today: date) -> None:
        super().__init__()
        self._was, self._today, self._topic = fact, today, topic
        self.tag = key_of(fact)
        self._name = fact.name or record_words(topic, fact.tag)
        self.beneath = text_label("", Role.ALARM, wrap=True)
        self.beneath.hide()
        self.first = self._day(fact.since, self.tr("from"))
        self.last = self._day(fact.until, self.tr("to"))
        self.remove = button(self.tr("Remove"), kind="link")
        self.remove.setAccessibleName(self.tr("Remove {name}").format(name=self._name))
        self.remove.clicked.connect(lambda: self.removed.emit(self.tag))
        is_medicine = topic is Topic.MEDICINES
        self.dose = self._dose() if is_medicine else None
        self.times = self._times() if is_medicine else None
        self.counting: QLabel | None = None
        self.change: QPushButton | None = None
        self.answers: list[QPushButton] = []
        self._lay_out()

    # Layout

    def _day(self, day: date | None, what: str) -> DayField:
        field = DayField(self._today, placeholder=what)
        field.setText(plain_date(day) if day else "")
        field.setAccessibleName(f"{self._name}, {what}")
        field.setFixedWidth(field.fontMetrics().horizontalAdvance("00 September 0000") + 24)
        field.textEdited.connect(self.beneath.hide)
        return field

    def _dose(self) -> QLineEdit:
        field = QLineEdit(self._was.dose)
        field.setPlaceholderText(self.tr("dose"))
        field.setAccessibleName(self.tr("{name}, dose").format(name=self._name))
        field.setFixedWidth(field.fontMetrics().horizontalAdvance("500 micrograms daily") + 24)
        return field

    def _times(self) -> TypedField[tuple[Moment | time, ...]]:
        field = TypedField(read_times, placeholder=self.tr("at 8:00, bedtime"))
        field.setText(times_text(self._was.at))
        field.setAccessibleName(self.tr("{name}, times of day").format(name=self._name))
        field.setToolTip(self.tr("Times of day, such as 8:00 or bedtime, if they are known"))
        field.textEdited.connect(self.beneath.hide)
        return field

    def _lay_out(self) -> None:
        label = text_label(upper_first(self._name), Role.STRONG, wrap=True)
        label.setToolTip(meaning_words(self._topic, self._was.tag))
        head, row = QHBoxLayout(), QHBoxLayout()
        is_medicine = self.times is not None
        is_above = is_medicine or len(self._name) > LONGEST_BESIDE
        (head if is_above else row).addWidget(label, 1)
        if is_above and not is_medicine:
            row.addStretch(1)
        if self.dose is not None and self.times is not None:
            head.addWidget(self.dose)
            row.addWidget(self.times, 1)
        for part in (self.first, self.last):
            row.addWidget(part)
        (head if is_medicine else row).addWidget(self.remove)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addLayout(head)
        layout.addLayout(row)
        self._add_meaning(layout)
        layout.addWidget(self.beneath)

    def _add_meaning(self, layout: QVBoxLayout) -> None:
        """What it counts as, or that it is not checked; and what is to be asked."""
        if not self._was.is_known:
            self.counting = text_label(self.tr("Not checked: look it up."), Role.ALARM, wrap=True)
        elif self._topic is Topic.MEDICINES:
            classes = ", ".join(counts_as(self._was)) or self.tr(
                "nothing that herbs are checked for"
            )
            self.counting = text_label(
                self.tr("Counts as: {classes}").format(classes=classes), Role.QUIET, wrap=True
            )
        if self.counting is not None:
            row = QHBoxLayout()
            row.addWidget(self.counting, 1)
            if self._topic is Topic.MEDICINES:
                known = self._was.is_known
                change = self.tr("Change") if known else self.tr("Say what it is")
                self.change = button(change, kind="link")
                self.change.setAccessibleName(
                    self.tr("Change what {name} counts as").format(name=self._name)
                )
                self.change.clicked.connect(self.choose_classes)
                row.addWidget(self.change)
            layout.addLayout(row)
        if records := either(self._topic, self._was.tag):
            self._ask_which(layout, records)

    def _ask_which(self, layout: QVBoxLayout, records: tuple[str, ...]) -> None:
        """Which of several things is meant, a press of a button for each."""
        layout.addWidget(text_label(self.tr("Which?"), Role.QUIET))
        for start in range(0, len(records), SIDE_BY_SIDE):
            row = QHBoxLayout()
            for tag in records[start : start + SIDE_BY_SIDE]:
                answer = button(upper_first(record_words(self._topic, tag)), kind="link")
                answer.clicked.connect(partial(self._is, tag))
                row.addWidget(answer)
                self.answers.append(answer)
            row.addStretch(1)
            layout.addLayout(row)

    def ask_use(self, condition: str) -> None:
        """Ask whether a medicine is for a condition, once: yes records it, no is kept."""
        name = record_words(Topic.CONDITIONS, condition)
        row = QHBoxLayout()
        row.addWidget(text_label(self.tr("Is it for {name}?").format(name=name), Role.QUIET))
        for text, answer in ((self.tr("Yes"), self._is_for), (self.tr("No"), self._is_not_for)):
            answer_button = button(text, kind="link")
            answer_button.setAccessibleName(
                self.tr("{medicine} for {name}: {answer}").format(
                    medicine=self._name, name=name, answer=text
                )
            )
            answer_button.clicked.connect(partial(answer, condition))
            row.addWidget(answer_button)
            self.answers.append(answer_button)
        row.addStretch(1)
        layout = self.layout()
        if isinstance(layout, QVBoxLayout):
            layout.insertLayout(layout.count() - 1, row)

    @property
    def stops(self) -> tuple[QWidget, ...]:
        """What the keyboard stops at, in order."""
        dose = (self.dose,) if self.dose else ()
        times = (self.times,) if self.times else ()
        change = (self.change,) if self.change else ()
        ends = (self.first, self.last)
        if times:
            return (*dose, self.remove, *times, *ends, *change, *self.answers)
        return (*ends, self.remove, *self.answers)

    # Answers

    def _is(self, tag: str) -> None:
        name = self._was.name or record_words(self._topic, self._was.tag)
        self._become(replace(self._now(), tag=tag, name=name))

    def _is_for(self, condition: str) -> None:
        self.present.emit(condition)

    def _is_not_for(self, condition: str) -> None:
        self._become(replace(self._now(), not_for=(*self._was.not_for, condition)))

    def choose_classes(self) -> None:
        """Ask for the classes that the medicine counts as."""
        records = fact_records()
        known = self._was.classes
        if known is None:
            medicine = records.medicines.get(self._was.tag)
            tag_alone = (self._was.tag,) if self._was.tag in records.classes else ()
            known = medicine.classes if medicine else tag_alone
        dialog = ClassesDialog(self, self._name, known)
        dialog.keep_draft_within(self, f"classes/{self.tag}")
        if dialog.exec() and dialog.classes is not None and dialog.classes != known:
            self._become(replace(self._now(), classes=dialog.classes))
        dialog.deleteLater()

    def _become(self, fact: Fact) -> None:
        self.changed.emit(self.tag, fact)

    def _now(self) -> Fact:
        """The fact with what is typed, or as it was where something is wrong."""
        return self.fact() or self._was

    # Values

    @property
    def taken(self) -> Fact:
        """The fact as it was taken, without what is typed since."""
        return self._was

    def fact(self) -> Fact | None:
        """The fact; None where a day or a time is wrong, which is then shown."""
        try:
            since, until = self.first.value(), self.last.value()
            at = (self.times.value() or ()) if self.times else self._was.at
        except ReadingError as error:
            self._wrong(str(error))
            return None
        if since and until and until < since:
            self._wrong(self.tr("The last day comes before the first"))
            return None
        dose = self.dose.text().strip() if self.dose else self._was.dose
        return replace(self._was, since=since, until=until, at=at, dose=dose)

    def draft_value(self) -> dict[str, Json]:
        """The fact, and what is typed in its fields."""
        typed: dict[str, Json] = {name: field.text() for name, field in self._typed.items()}
        return {**fact_to_json(self._was), **typed}

    def put_draft_value(self, value: Json) -> None:
        """Hold again what was typed in its fields."""
        content = as_object(value)
        for name, field in self._typed.items():
            field.setText(str(content[name]))

    @property
    def _typed(self) -> dict[str, QLineEdit]:
        fields = {"from": self.first, "to": self.last, "dose": self.dose, "times": self.times}
        return {name: field for name, field in fields.items() if field is not None}

    @property
    def assumed(self) -> tuple[str, ...]:
        """The conditions that the medicine is usually given for."""
        return assumed_uses(self._was) if self._topic is Topic.MEDICINES else ()

    def _wrong(self, text: str) -> None:
        self.beneath.setText(text)
        self.beneath.show()
