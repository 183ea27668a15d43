"""The dialog in which a medicine is given the classes that it counts as."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.parts.fact_words import class_words
from sennight.desktop.parts.tag_lines import TagLines
from sennight.domain.tag_words import upper_first
from sennight.knowledge.client_facts import fact_records


class ClassLine(QWidget):
    """A class, and a way to take it out."""

    removed = Signal(str)

    def __init__(self, tag: str, meaning: str) -> None:
        super().__init__()
        name = class_words(tag)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        label = text_label(upper_first(name), Role.STRONG, wrap=True)
        label.setToolTip(meaning)
        row.addWidget(label, 1)
        out = button(self.tr("Remove"), kind="link")
        out.setAccessibleName(self.tr("Remove {name}").format(name=name))
        out.clicked.connect(lambda: self.removed.emit(tag))
        row.addWidget(out)


class ClassesField(TagLines[ClassLine]):
    """The classes, and a field that adds one."""

    def __init__(self, classes: tuple[str, ...], placeholder: str) -> None:
        known = {tag: one.definition for tag, one in fact_records().classes.items()}
        super().__init__(known, placeholder)
        self._known = known
        self.beneath = text_label("", Role.ALARM, wrap=True)
        self.beneath.hide()
        self._layout.addWidget(self.beneath)
        self.entry.picked.connect(self.add)
        self.entry.unknown.connect(self.explain)
        self.entry.textEdited.connect(self.beneath.hide)
        for tag in classes:
            self.add(tag)

    def explain(self, text: str) -> None:
        """Say beneath the field what is wrong."""
        self.beneath.setText(text)
        self.beneath.show()

    def add(self, tag: str) -> None:
        """One more class; one that is there already is not added again."""
        self.beneath.hide()
        if tag not in self._lines:
            line = ClassLine(tag, self._known.get(tag, ""))
            line.removed.connect(self._take_out)
            self._put(tag, line)


class ClassesDialog(FormDialog):
    """Asks for the classes of a medicine; `classes` has them once the dialog was accepted."""

    def __init__(self, parent: QWidget | None, name: str, classes: tuple[str, ...]) -> None:
        super().__init__(parent, self.tr("What is {name}?").format(name=name), do=self.tr("Save"))
        self.classes: tuple[str, ...] | None = None
        self._before = classes
        form = FieldForm()
        self.field = ClassesField(classes, self.tr("Type a class, such as diuretics"))
        form.row(
            self.tr("It counts as"),
            self.field,
            help_text=self.tr("Herbs are checked against these classes and what they belong to"),
        )
        self.set_body(form, columns=64, lines=16)

    def is_changed(self) -> bool:
        """Whether anything differs from what the dialog began with."""
        return self.field.tags != self._before or bool(self.field.entry.text())

    def submit(self) -> None:
        """Accept with the classes, or say what is still typed."""
        if self.field.entry.text().strip():
            self.field.explain(self.field.entry.problem())
            return
        self.classes = self.field.tags
        self.accept()
