"""The dialog in which a medicine is given the classes that it counts as."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from sennight.desktop.clients.chosen_tags import ChosenTags
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.parts.fact_words import class_words
from sennight.knowledge.client_facts import fact_records


class ClassesDialog(FormDialog):
    """Asks for the classes of a medicine; `classes` has them once the dialog was accepted."""

    def __init__(self, parent: QWidget | None, name: str, classes: tuple[str, ...]) -> None:
        super().__init__(parent, self.tr("What is {name}?").format(name=name), do=self.tr("Save"))
        self.classes: tuple[str, ...] | None = None
        self._before = classes
        form = FieldForm()
        known = {tag: record.definition for tag, record in fact_records().classes.items()}
        self.field = ChosenTags(known, class_words, self.tr("Type a class, such as diuretics"))
        for tag in classes:
            self.field.add(tag)
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
        if not self.field.is_right():
            return
        self.classes = self.field.tags
        self.accept()
