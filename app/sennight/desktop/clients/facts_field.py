"""A field for facts of one kind: words of the vocabulary, each with the days it holds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, time
from functools import partial
from itertools import pairwise

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from sennight.desktop.kit.forms import TypedField
from sennight.desktop.kit.reading import ReadingError, read_date, read_times, times_text
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.parts.tag_lines import TagLines
from sennight.desktop.parts.tags import tag_words
from sennight.domain.courses.clients import Fact
from sennight.domain.day import Moment
from sennight.domain.directions.plain_words import plain_date
from sennight.knowledge.vocabulary import vocabulary


class DayField(TypedField[date]):
    """A field for a day; T takes today where nothing is typed yet."""

    def __init__(self, today: date, *, placeholder: str) -> None:
        super().__init__(read_date, placeholder=placeholder)
        self._today = today
        self.setToolTip(self.tr("A day such as 1 May 2027; T takes today"))

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
    """One fact: its word, from and to, times where it has them, and a way to take it out."""

    removed = Signal(str)

    def __init__(self, fact: Fact, meaning: str, *, today: date, timed: bool) -> None:
        super().__init__()
        self._was, self._today, self._timed = fact, today, timed
        self.tag = key_of(fact)
        name = fact.label(vocabulary().words)
        self.beneath = text_label("", Role.ALARM, wrap=True)
        self.beneath.hide()
        self.first = self._day(fact.since, self.tr("from"), name)
        self.last = self._day(fact.until, self.tr("to"), name)
        self.remove = button(self.tr("Take out"), kind="link")
        self.remove.setAccessibleName(self.tr("Take out {name}").format(name=name))
        self.remove.clicked.connect(lambda: self.removed.emit(self.tag))
        self._lay_out(name, meaning)

    def _day(self, day: date | None, what: str, name: str) -> DayField:
        field = DayField(self._today, placeholder=what)
        field.setText(plain_date(day) if day else "")
        field.setAccessibleName(f"{name}, {what}")
        field.setFixedWidth(field.fontMetrics().horizontalAdvance("00 September 0000") + 24)
        field.textEdited.connect(self.beneath.hide)
        return field

    def _times(self, name: str) -> TypedField[tuple[Moment | time, ...]]:
        field = TypedField(read_times, placeholder=self.tr("at 8:00, bedtime"))
        field.setText(times_text(self._was.at))
        field.setAccessibleName(self.tr("{name}, times of day").format(name=name))
        field.setToolTip(self.tr("Times of day, such as 8:00 or bedtime, if they are known"))
        field.textEdited.connect(self.beneath.hide)
        return field

    def _lay_out(self, name: str, meaning: str) -> None:
        label = text_label(name[:1].upper() + name[1:], Role.STRONG, wrap=True)
        label.setToolTip(meaning)
        self.times = self._times(name) if self._timed else None
        head, row = QHBoxLayout(), QHBoxLayout()
        (head if self._timed else row).addWidget(label, 1)
        if self.times is not None:
            row.addWidget(self.times, 1)
        for part in (self.first, self.last):
            row.addWidget(part)
        (head if self._timed else row).addWidget(self.remove)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addLayout(head)
        layout.addLayout(row)
        layout.addWidget(self.beneath)

    @property
    def stops(self) -> tuple[QWidget, ...]:
        """What the keyboard stops at, in order."""
        times = (self.times,) if self.times else ()
        return (*times, self.first, self.last, self.remove)

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
        return replace(self._was, since=since, until=until, at=at)

    def _wrong(self, text: str) -> None:
        self.beneath.setText(text)
        self.beneath.show()


class FactsField(TagLines[FactLine]):
    """The facts of one kind, and a field that adds one."""

    def __init__(
        self,
        vocabulary: Mapping[str, str],
        placeholder: str,
        *,
        today: date,
        timed: bool = False,
        asked: tuple[str, ...] = (),
    ) -> None:
        super().__init__(vocabulary, placeholder)
        self._vocabulary, self._today, self._timed = vocabulary, today, timed
        self.asked: dict[str, QPushButton] = {}
        self.beneath = text_label("", Role.ALARM, wrap=True)
        self.beneath.hide()
        if asked:
            self._layout.addLayout(self._asked(asked))
        self._layout.addWidget(self.beneath)
        self.entry.picked.connect(lambda tag: self.add(Fact(tag)))
        self.entry.unknown.connect(self._update_text)
        self.entry.textEdited.connect(self.beneath.hide)

    def _asked(self, tags: tuple[str, ...]) -> QHBoxLayout:
        """Words that are asked for so often that a press of a button takes them."""
        row = QHBoxLayout()
        for tag in tags:
            name = tag_words(tag)
            self.asked[tag] = one = button(name[:1].upper() + name[1:], kind="link")
            one.setToolTip(self._vocabulary.get(tag, ""))
            one.clicked.connect(partial(self._take, tag))
            row.addWidget(one)
        row.addStretch(1)
        return row

    def _take(self, tag: str) -> None:
        """Add a word, and go to its first day."""
        self.add(Fact(tag))
        self._lines[tag].first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _update_text(self, text: str) -> None:
        self.beneath.setText(text)
        self.beneath.show()

    def add(self, fact: Fact) -> None:
        """One more fact; a word that is there already is not added again."""
        self.beneath.hide()
        if key_of(fact) in self._lines:
            return
        meaning = self._vocabulary.get(fact.tag, "")
        line = FactLine(fact, meaning, today=self._today, timed=self._timed)
        line.removed.connect(self._take_out)
        before = self._last_stop()
        self._put(key_of(fact), line)
        for one, after in pairwise((before, *line.stops)):
            self.setTabOrder(one, after)
        self.changed.emit()

    def _last_stop(self) -> QWidget:
        """What the keyboard comes to last."""
        first = next(reversed(self.asked.values()), self.entry)
        return next(reversed(self._lines.values())).remove if self._lines else first

    def facts(self) -> tuple[Fact, ...] | None:
        """The facts in order; None where something is wrong, which is then shown."""
        if self.entry.text().strip():
            self._update_text(self.entry.problem())
            return None
        found = [line.fact() for line in self._lines.values()]
        right = tuple(fact for fact in found if fact is not None)
        return right if len(right) == len(found) else None
