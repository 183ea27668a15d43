"""A field for facts of one kind: words of the vocabulary, each with the days it holds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from itertools import pairwise

from PySide6.QtCore import QStringListModel, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCompleter, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from sennight.desktop.clients.standing import tag_words
from sennight.desktop.forms import TypedField
from sennight.desktop.reading import ReadingError, read_date
from sennight.desktop.theme import Role
from sennight.desktop.widgets import button, words
from sennight.domain.clients import Fact
from sennight.domain.plain_words import plain_date
from sennight.domain.problems import nearest


class TagField(QLineEdit):
    """Finds a word of the vocabulary, by its name or its meaning, as it is typed."""

    picked = Signal(str)
    unknown = Signal(str)

    def __init__(self, vocabulary: Mapping[str, str]) -> None:
        super().__init__()
        self._tags = {f"{tag_words(tag)} – {meaning}": tag for tag, meaning in vocabulary.items()}
        completer = QCompleter(QStringListModel(list(self._tags), self), self)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        completer.setMaxVisibleItems(8)
        completer.activated.connect(self._pick, Qt.ConnectionType.QueuedConnection)
        self.setCompleter(completer)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Enter takes the word typed; it is not the dialog's Enter while there is one."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and self.text().strip():
            self._enter()
            event.accept()
        else:
            super().keyPressEvent(event)

    def _enter(self) -> None:
        found = self._found()
        if found:
            self._take(found)
        else:
            self.unknown.emit(self.problem())

    def _found(self) -> str | None:
        """The tag typed whole, or the only one whose name or meaning has what was typed."""
        typed = self.text().strip().casefold()
        names = {tag_words(tag).casefold(): tag for tag in self._tags.values()}
        labels = {label.casefold(): tag for label, tag in self._tags.items()}
        fitting = {tag for label, tag in labels.items() if typed in label}
        whole = names.get(typed) or labels.get(typed)
        return whole or (fitting.pop() if len(fitting) == 1 else None)

    def problem(self) -> str:
        """What is wrong with what is still typed here: it has to be chosen, or taken away."""
        typed = self.text().strip()
        text = self.tr("“{word}” is not chosen yet; choose from the list, or clear this field")
        names = [tag_words(tag) for tag in self._tags.values()]
        return text.format(word=typed) + nearest(typed, names)

    def _pick(self, label: str) -> None:
        if label in self._tags:
            self._take(self._tags[label])

    def _take(self, tag: str) -> None:
        self.clear()
        self.picked.emit(tag)


class FactLine(QWidget):
    """One fact: its word, from and to, and a way to take it out."""

    removed = Signal(str)

    def __init__(self, fact: Fact, meaning: str) -> None:
        super().__init__()
        self._was = fact
        self.tag = fact.tag
        name = tag_words(fact.tag)
        self.beneath = words("", Role.ALARM, wrap=True)
        self.beneath.hide()
        self.first = self._day(fact.since, self.tr("from"), name)
        self.last = self._day(fact.until, self.tr("to"), name)
        self.remove = button(self.tr("Take out"), kind="link")
        self.remove.setAccessibleName(self.tr("Take out {name}").format(name=name))
        self.remove.clicked.connect(lambda: self.removed.emit(self.tag))
        self._lay_out(name, meaning)

    def _day(self, day: date | None, what: str, name: str) -> TypedField[date]:
        field = TypedField(read_date, placeholder=what)
        field.setText(plain_date(day) if day else "")
        field.setAccessibleName(f"{name}, {what}")
        field.setFixedWidth(field.fontMetrics().horizontalAdvance("00 September 0000") + 24)
        field.textEdited.connect(self.beneath.hide)
        return field

    def _lay_out(self, name: str, meaning: str) -> None:
        label = words(name[:1].upper() + name[1:], Role.STRONG, wrap=True)
        label.setToolTip(meaning)
        row = QHBoxLayout()
        row.addWidget(label, 1)
        for part in (self.first, self.last, self.remove):
            row.addWidget(part)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addLayout(row)
        layout.addWidget(self.beneath)

    def fact(self) -> Fact | None:
        """The fact; None where a day is wrong, which is then shown."""
        try:
            since, until = self.first.value(), self.last.value()
        except ReadingError as error:
            self._wrong(str(error))
            return None
        if since and until and until < since:
            self._wrong(self.tr("The last day comes before the first"))
            return None
        return replace(self._was, since=since, until=until)

    def _wrong(self, text: str) -> None:
        self.beneath.setText(text)
        self.beneath.show()


class FactsField(QWidget):
    """The facts of one kind, and a field that adds one."""

    changed = Signal()

    def __init__(self, vocabulary: Mapping[str, str], placeholder: str) -> None:
        super().__init__()
        self._vocabulary = vocabulary
        self._lines: dict[str, FactLine] = {}
        self.entry = TagField(vocabulary)
        self.entry.setPlaceholderText(placeholder)
        self.beneath = words("", Role.ALARM, wrap=True)
        self.beneath.hide()
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(4)
        self._layout.addWidget(self.entry)
        self._layout.addWidget(self.beneath)
        self.setFocusProxy(self.entry)
        self.entry.picked.connect(lambda tag: self.add(Fact(tag)))
        self.entry.unknown.connect(self._say)
        self.entry.textEdited.connect(self.beneath.hide)

    def _say(self, text: str) -> None:
        self.beneath.setText(text)
        self.beneath.show()

    def add(self, fact: Fact) -> None:
        """One more fact; a word that is there already is not added again."""
        self.beneath.hide()
        if fact.tag in self._lines:
            return
        line = FactLine(fact, self._vocabulary.get(fact.tag, ""))
        line.removed.connect(self._take_out)
        self._layout.addWidget(line)
        self._put_in_tab_order(line)
        self._lines[fact.tag] = line
        self.changed.emit()

    def _put_in_tab_order(self, line: FactLine) -> None:
        before = next(reversed(self._lines.values())).remove if self._lines else self.entry
        for one, after in pairwise((before, line.first, line.last, line.remove)):
            self.setTabOrder(one, after)

    def _take_out(self, tag: str) -> None:
        line = self._lines.pop(tag)
        self._layout.removeWidget(line)
        line.hide()
        line.deleteLater()
        self.entry.setFocus(Qt.FocusReason.OtherFocusReason)
        self.changed.emit()

    @property
    def tags(self) -> tuple[str, ...]:
        """The words that are in it now."""
        return tuple(self._lines)

    def facts(self) -> tuple[Fact, ...] | None:
        """The facts in order; None where something is wrong, which is then shown."""
        if self.entry.text().strip():
            self._say(self.entry.problem())
            return None
        found = [line.fact() for line in self._lines.values()]
        right = tuple(fact for fact in found if fact is not None)
        return right if len(right) == len(found) else None
