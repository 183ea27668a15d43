"""Forms: a row is a label, its field and, beneath, a word of help or what is wrong.

`Form.row` is the only place where a field gets its label, so each has a buddy, an accessible
name and, from the help, an accessible description.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.kit.prose import limit_prose
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import restyle, text_label

Value = TypeVar("Value")

MOST_LETTERS, MOST_IN_A_REASON, MOST_IN_A_PATH = 200, 1000, 4000
"""What fits into a field of one line, so that a name fits onto a paper; a reason; a path."""
_NO_LIMIT = 32767
"""What a field of Qt's takes where nobody says less."""


def limit_letters(field: QLineEdit, tell: Callable[[str], object]) -> None:
    """Let a field have MOST_LETTERS at most unless it has a limit, and say so where more come."""
    if field.maxLength() == _NO_LIMIT:
        field.setMaxLength(MOST_LETTERS)
    template = translate("Forms", "At most {most} letters fit here; the rest was left out.")
    field.inputRejected.connect(lambda: tell(template.format(most=field.maxLength())))


class FieldRow(QWidget):
    """A field with its label above and a line of help, or of what is wrong, beneath.

    Fields too narrow for a sentence share one line beneath all of them, `shared`; what is
    wrong then begins with the label. `name` is the label that it began with, and tells the rows
    of a form apart.
    """

    def __init__(
        self, label: str, field: QWidget, help_text: str = "", shared: QLabel | None = None
    ) -> None:
        super().__init__()
        self.name, self.field, self._help, self._shared = label, field, help_text, shared
        self.label = text_label(label, Role.QUIET)
        self.beneath = shared or text_label(help_text, Role.QUIET, wrap=True)
        if not help_text:  # shown before it stands in something, it would be a window of its own
            self.beneath.hide()
        self._name(label)
        self._lay_out()
        if isinstance(field, QLineEdit):
            limit_letters(field, self.wrong)
        elif isinstance(field, QPlainTextEdit):
            limit_prose(field, tell=self.wrong)

    def _name(self, label: str) -> None:
        """Name what the keyboard acts on, which may be a part of the field."""
        target = self.field.focusProxy() or self.field
        self.label.setBuddy(target)
        target.setAccessibleName(label)
        target.setAccessibleDescription(self._help)

    def _lay_out(self) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(self.label)
        layout.addWidget(self.field)
        if self._shared is None:
            layout.addWidget(self.beneath)

    @property
    def is_wrong(self) -> bool:
        """Whether the row shows that something is wrong."""
        return bool(self.field.property("wrong"))

    def explain(self, text: str) -> None:
        """Show how the field was understood, or the help again where `text` is empty."""
        self._show(text or self._help, wrong=False)

    def wrong(self, text: str) -> None:
        """Show what is wrong with the field, in words, beneath it."""
        self._show(f"{self.label.text()}: {text}" if self._shared else text, wrong=True)

    def _show(self, text: str, *, wrong: bool) -> None:
        if self._shared and not wrong and not self.is_wrong:
            return
        self.beneath.setText(text)
        self.beneath.setVisible(bool(text))
        (self.field.focusProxy() or self.field).setAccessibleDescription(text)
        if wrong == self.is_wrong:
            return
        self.field.setProperty("wrong", wrong)
        self.beneath.setProperty("role", "alarm" if wrong else "quiet")
        restyle(self.field)
        restyle(self.beneath)


class _SideBySide(QWidget):
    """Rows that share a line where they fit, and stand beneath each other where they do not."""

    def __init__(self, rows: tuple[FieldRow, ...]) -> None:
        super().__init__()
        self._rows = rows
        self._line = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._line.setContentsMargins(0, 0, 0, 0)
        self._line.setSpacing(self.fontMetrics().height() // 2)
        for row in rows:
            self._line.addWidget(row, 1, Qt.AlignmentFlag.AlignTop)
            row.installEventFilter(self)
        if len(rows) == 1:
            self._line.addStretch(1)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Where all rows are hidden the line is too, or it would leave a gap."""
        if event.type() in {QEvent.Type.ShowToParent, QEvent.Type.HideToParent}:
            self.setVisible(any(not row.isHidden() for row in self._rows))
        return super().eventFilter(watched, event)

    def minimumSizeHint(self) -> QSize:
        """As wide as the widest row, since the others can go beneath it."""
        widest = max(row.minimumSizeHint().width() for row in self._rows)
        return QSize(widest, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """See which way the rows fit."""
        super().resizeEvent(event)
        gaps = self._line.spacing() * (len(self._rows) - 1)
        need = sum(row.minimumSizeHint().width() for row in self._rows) + gaps
        ways = QBoxLayout.Direction
        way = ways.LeftToRight if need <= event.size().width() else ways.TopToBottom
        if way != self._line.direction():
            self._line.setDirection(way)
            self.updateGeometry()


class FieldForm(QWidget):
    """Rows beneath each other; short ones can share a line."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: list[FieldRow] = []
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(self.fontMetrics().height() // 2)

    def heading(self, text: str) -> None:
        """A heading over the rows that follow."""
        if self.rows:
            self._layout.addSpacing(self.fontMetrics().height())
        self._layout.addWidget(text_label(text, Role.HEADING))

    def say(self, text: str) -> None:
        """A quiet sentence between the rows."""
        self.place(text_label(text, Role.QUIET, wrap=True))

    def place(self, part: QWidget) -> None:
        """Something that is no field, between the rows."""
        self._layout.addWidget(part)

    def row(self, label: str, field: QWidget, *, help_text: str = "") -> FieldRow:
        """Add a row over the whole width."""
        row = FieldRow(label, field, help_text)
        self.rows.append(row)
        self._layout.addWidget(row)
        return row

    def line(
        self, *fields: tuple[str, QWidget] | tuple[str, QWidget, str]
    ) -> tuple[FieldRow, ...]:
        """Add rows side by side: the label and the field of each, and its help where it has one.

        One alone has half the width.
        """
        return self._side_by_side(*(FieldRow(*field) for field in fields))

    def narrow_line(self, *fields: tuple[str, QWidget]) -> tuple[FieldRow, ...]:
        """Add rows side by side that share the line beneath."""
        beneath = text_label("", Role.QUIET, wrap=True)
        line = self._side_by_side(
            *(FieldRow(label, field, "", beneath) for label, field in fields)
        )
        self._layout.addWidget(beneath)
        return line

    def _side_by_side(self, *rows: FieldRow) -> tuple[FieldRow, ...]:
        self._layout.addWidget(_SideBySide(rows))
        self.rows += rows
        return rows

    def keep_together(self) -> None:
        """Leave room that is too much beneath the rows, not between them."""
        self._layout.addStretch(1)

    def clear_wrong(self) -> None:
        """Show the help again beneath rows that were wrong, before they are read anew."""
        for row in self.rows:
            if row.is_wrong:
                row.explain("")

    def to_first_wrong(self) -> bool:
        """Put the keyboard into the first field that is wrong; whether there is one."""
        for row in self.rows:
            if row.is_wrong:
                row.field.setFocus(Qt.FocusReason.OtherFocusReason)
                return True
        return False


class PairedForm(FieldForm):
    """A form whose rows stand beneath each other, or by twos where there is little height."""

    def __init__(self) -> None:
        super().__init__()
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(self.fontMetrics().height())
        self._grid.setVerticalSpacing(self._layout.spacing())
        self._layout.addLayout(self._grid)
        self._columns = 1

    def row(self, label: str, field: QWidget, *, help_text: str = "") -> FieldRow:
        """Add a row."""
        row = FieldRow(label, field, help_text)
        self.rows.append(row)
        self._arrange()
        return row

    def height_in_one(self) -> int:
        """How high the rows are beneath each other."""
        heights = (row.sizeHint().height() for row in self.rows)
        return sum(heights) + self._grid.verticalSpacing() * (len(self.rows) - 1)

    def set_columns(self, columns: int) -> None:
        """Let the rows stand in one column or in two; the last of an odd number has both."""
        if columns != self._columns:
            self._columns = columns
            self._arrange()

    def _arrange(self) -> None:
        last = len(self.rows) - 1
        for place, row in enumerate(self.rows):
            line, column = divmod(place, self._columns)
            span = self._columns - column if place == last else 1
            self._grid.addWidget(row, line, column, 1, span, Qt.AlignmentFlag.AlignTop)
        for column in range(2):
            self._grid.setColumnStretch(column, int(column < self._columns))


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


def explained(row: FieldRow, field: TypedField[Value], say: Callable[[Value], str]) -> None:
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
        read_field(row, field)

    field.textEdited.connect(typed)
    field.editingFinished.connect(left)


def read_field(row: FieldRow, field: TypedField[Value]) -> Value | None:
    """The value of a row's field; None where there is none or where it is wrong, then shown."""
    try:
        return field.value()
    except ReadingError as error:
        row.wrong(str(error))
        return None
