"""Choosing tags: a field that finds a word of the vocabulary, and a line for each one taken."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Generic, TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from sennight.desktop.kit.drafts import as_list, as_object, leaving_out_what_cannot_be_read
from sennight.desktop.kit.name_field import FROM_NAME, NameField
from sennight.desktop.parts.tags import tag_words
from sennight.domain.courses.problems import nearest
from sennight.practice.drafts import Json

Line = TypeVar("Line", bound=QWidget)


class TagField(NameField):
    """Finds a word of the vocabulary, by its name or its meaning, as it is typed."""

    picked = Signal(str)
    unknown = Signal(str)

    def __init__(self, vocabulary: Mapping[str, str]) -> None:
        self._tags = {
            f"{tag_words(tag)}{FROM_NAME}{meaning}": tag for tag, meaning in vocabulary.items()
        }
        super().__init__(self._tags)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter takes the word typed; it is not the dialog's Enter while there is one."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and self.typed:
            self._enter()
            event.accept()
        else:
            super().keyPressEvent(event)

    def _enter(self) -> None:
        label = self.matching_label()
        if label:
            self.choose_label(label)
        else:
            self.unknown.emit(self.problem())

    def problem(self) -> str:
        """What is wrong with what is still typed here: it has to be chosen, or taken away."""
        text = self.tr("“{word}” is not chosen yet; choose from the list, or clear this field")
        names = [tag_words(tag) for tag in self._tags.values()]
        return text.format(word=self.typed) + nearest(self.typed, names)

    def choose_label(self, label: str) -> None:
        """Hand the word over, and be ready for the next one."""
        self.clear()
        self.picked.emit(self._tags[label])


class TagLines(QWidget, Generic[Line]):
    """A field that finds tags, and beneath it a line for each, in the order they came in."""

    changed = Signal()

    def __init__(self, known: Mapping[str, str], placeholder: str) -> None:
        super().__init__()
        self._lines: dict[str, Line] = {}
        self.entry = TagField(known)
        self.entry.setPlaceholderText(placeholder)
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(4)
        self._layout.addWidget(self.entry)
        self.setFocusProxy(self.entry)

    @property
    def tags(self) -> tuple[str, ...]:
        """The tags that are in it now."""
        return tuple(self._lines)

    def add(self, tag: str) -> None:
        """One more tag; one that is there already is not added again."""
        raise NotImplementedError

    # What is typed, kept on disk

    def draft_value(self) -> Json:
        """The tags, and what is half typed."""
        return {"typed": self.entry.text(), "tags": list(self.tags)}

    def put_draft_value(self, value: Json) -> None:
        """Take the tags again."""
        with leaving_out_what_cannot_be_read():
            content = as_object(value)
            tags = [str(tag) for tag in as_list(content["tags"])]
            for tag in self.tags:
                self._take_out(tag)
            for tag in tags:
                self.add(tag)
            self.entry.setText(str(content["typed"]))

    # Lines

    def _put(self, tag: str, line: Line) -> None:
        self._layout.addWidget(line)
        self._lines[tag] = line

    def _take_out(self, tag: str) -> None:
        line = self._lines.pop(tag)
        self._layout.removeWidget(line)
        line.hide()
        line.deleteLater()
        self.entry.setFocus(Qt.FocusReason.OtherFocusReason)
        self.changed.emit()
