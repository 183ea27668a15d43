"""Forms: a row is a label, its field and, beneath, a word of help or what is wrong.

`Form.row` is the only place where a field gets its label, so each has a buddy, an accessible
name and, from the help, an accessible description.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from sennight.desktop.reading import ReadingError
from sennight.desktop.theme import Role
from sennight.desktop.widgets import restyle, words

Value = TypeVar("Value")


class Row(QWidget):
    """A field with its label above and a line of help, or of what is wrong, beneath."""

    def __init__(self, label: str, field: QWidget, help_text: str = "") -> None:
        super().__init__()
        self.field, self._help = field, help_text
        self.label = words(label, Role.QUIET)
        self.beneath = words(help_text, Role.QUIET, wrap=True)
        self.beneath.setVisible(bool(help_text))
        self._name(label)
        self._lay_out()

    def _name(self, label: str) -> None:
        self.label.setBuddy(self.field)
        self.field.setAccessibleName(label)
        self.field.setAccessibleDescription(self._help)

    def _lay_out(self) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        for part in (self.label, self.field, self.beneath):
            layout.addWidget(part)

    @property
    def is_wrong(self) -> bool:
        """Whether the row shows that something is wrong."""
        return bool(self.field.property("wrong"))

    def explain(self, text: str) -> None:
        """Show how the field was understood, or the help again where `text` is empty."""
        self._show(text or self._help, wrong=False)

    def wrong(self, text: str) -> None:
        """Show what is wrong with the field, in words, beneath it."""
        self._show(text, wrong=True)

    def _show(self, text: str, *, wrong: bool) -> None:
        self.beneath.setText(text)
        self.beneath.setVisible(bool(text))
        self.field.setAccessibleDescription(text)
        if wrong == self.is_wrong:
            return
        self.field.setProperty("wrong", wrong)
        self.beneath.setProperty("role", "alarm" if wrong else "quiet")
        restyle(self.field)
        restyle(self.beneath)


class Form(QWidget):
    """Rows beneath each other; short ones can share a line."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: list[Row] = []
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)

    def heading(self, text: str) -> None:
        """A heading over the rows that follow."""
        if self.rows:
            self._layout.addSpacing(12)
        self._layout.addWidget(words(text, Role.HEADING))

    def row(self, label: str, field: QWidget, *, help_text: str = "") -> Row:
        """Add a row over the whole width."""
        made = self._made(label, field, help_text)
        self._layout.addWidget(made)
        return made

    def line(self, *fields: tuple[str, QWidget, str]) -> tuple[Row, ...]:
        """Add rows side by side: label, field and help of each."""
        made = tuple(self._made(*one) for one in fields)
        line = QHBoxLayout()
        for row in made:
            line.addWidget(row, 1, Qt.AlignmentFlag.AlignTop)
        self._layout.addLayout(line)
        return made

    def _made(self, label: str, field: QWidget, help_text: str) -> Row:
        made = Row(label, field, help_text)
        self.rows.append(made)
        return made

    def to_first_wrong(self) -> bool:
        """Put the keyboard into the first field that is wrong; whether there is one."""
        for row in self.rows:
            if row.is_wrong:
                row.field.setFocus(Qt.FocusReason.OtherFocusReason)
                return True
        return False


class TypedField(QLineEdit, Generic[Value]):
    """A field whose text a reader turns into a value; empty text is no value (None)."""

    def __init__(self, read: Callable[[str], Value], *, placeholder: str = "") -> None:
        super().__init__()
        self._read = read
        self.setPlaceholderText(placeholder)

    def value(self) -> Value | None:
        """What was typed; raises ReadingError where it cannot be read."""
        text = self.text().strip()
        return self._read(text) if text else None


def explained(row: Row, field: TypedField[Value], say: Callable[[Value], str]) -> None:
    """Let a row say, as it is typed into, how its field was understood.

    What cannot be read yet may be half typed, so it is called wrong when the field is left.
    """

    def typed() -> None:
        try:
            value = field.value()
        except ReadingError:
            row.explain("")
        else:
            row.explain("" if value is None else say(value))

    def left() -> None:
        take(row, field)

    field.textEdited.connect(typed)
    field.editingFinished.connect(left)


def take(row: Row, field: TypedField[Value]) -> Value | None:
    """The value of a row's field; None where there is none or where it is wrong, then shown."""
    try:
        return field.value()
    except ReadingError as error:
        row.wrong(str(error))
        return None
