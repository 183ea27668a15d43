"""Tags that are chosen by their names, each on a line with a way to remove it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.parts.tag_lines import TagLines
from sennight.domain.tag_words import upper_first


class ChosenTag(QWidget):
    """A tag by its name, and a way to remove it."""

    removed = Signal(str)

    def __init__(self, tag: str, name: str, meaning: str) -> None:
        super().__init__()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        label = text_label(upper_first(name), Role.STRONG, wrap=True)
        label.setToolTip(meaning)
        row.addWidget(label, 1)
        out = button(self.tr("Remove"), kind="link")
        out.setAccessibleName(self.tr("Remove {name}").format(name=name))
        out.clicked.connect(lambda: self.removed.emit(tag))
        row.addWidget(out)


class ChosenTags(TagLines[ChosenTag]):
    """The tags, and a field that adds one; `known` says what each means."""

    def __init__(
        self, known: Mapping[str, str], label: Callable[[str], str], placeholder: str
    ) -> None:
        super().__init__(known, placeholder)
        self._known, self._label = known, label
        self.beneath = text_label("", Role.ALARM, wrap=True)
        self.beneath.hide()
        self._layout.addWidget(self.beneath)
        self.entry.picked.connect(self.add)
        self.entry.unknown.connect(self._explain)
        self.entry.textEdited.connect(self.beneath.hide)

    def _explain(self, text: str) -> None:
        self.beneath.setText(text)
        self.beneath.show()

    def add(self, tag: str) -> None:
        """One more tag; one that is there already is not added again."""
        self.beneath.hide()
        if tag not in self._lines:
            line = ChosenTag(tag, self._label(tag), self._known.get(tag, ""))
            line.removed.connect(self._take_out)
            self._put(tag, line)
            self.changed.emit()

    def is_right(self) -> bool:
        """Whether nothing is left typed that is no tag; else that is shown."""
        if self.entry.text().strip():
            self._explain(self.entry.problem())
            return False
        return True
