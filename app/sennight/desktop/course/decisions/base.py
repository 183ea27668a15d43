"""The dialog that all decisions share: fields, what will change, and why.

A decision is a revision of the course. It is tried out on every keystroke; what is impossible
is told at its field, and the decision cannot be made until it is possible.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QComboBox, QLineEdit, QVBoxLayout, QWidget

from sennight.desktop.course.decisions.doses_table import DosesTable
from sennight.desktop.course.session import Session, why
from sennight.desktop.kit.date_field import DateField
from sennight.desktop.kit.dialogs import TWO_COLUMNS, FormDialog
from sennight.desktop.kit.forms import (
    MOST_IN_A_REASON,
    FieldRow,
    PairedForm,
    TypedField,
    explained,
)
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.parts.directions_edit import DirectionsEdit
from sennight.desktop.parts.question_bar import QuestionBar
from sennight.desktop.parts.typed import explain_directions
from sennight.domain.courses.compare import Comparison
from sennight.domain.courses.compare_words import dose_rows, sentence
from sennight.domain.courses.courses import Course, Revision
from sennight.domain.courses.least_time import early_end_words, early_ends
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.revising import RevisionError
from sennight.domain.directions.directions import Directions, SameTimeError
from sennight.domain.directions.parser import DirectionsError
from sennight.domain.directions.plain_words import counted, plain_day
from sennight.domain.directions.understanding import read_usual_directions
from sennight.practice.course_reading import CourseReading

WITH_DOSES = 86
"""Letters across from which on the doses stand beside fields that are side by side."""


class FieldError(Exception):
    """What is wrong with the field of that name."""

    def __init__(self, field: str, message: str) -> None:
        self.field = field
        super().__init__(message)


class Decision(FormDialog):
    """Asks for one revision.

    A subclass adds its fields when it is made, calls `ready`, and makes the revision of them.
    """

    def __init__(self, session: Session, parent: QWidget | None, *, title: str, do: str) -> None:
        super().__init__(parent, title, do=do)
        self.session = session
        self.today: date = session.reading.today
        self.form = PairedForm()
        self.rows: dict[str, FieldRow] = {}
        self._tried: CourseReading | None = None
        self._tried_on = session.reading
        self.reason = QLineEdit()
        self.reason.setMaxLength(MOST_IN_A_REASON)
        self.changes_label = text_label("", Role.STRONG, wrap=True)
        self.doses = DosesTable()
        self.detail = text_label("", Role.QUIET, wrap=True)
        self.changes_label.setAccessibleName(self.tr("What will change"))
        session.refused.connect(self.changes_label.setText)

    def ready(self) -> None:
        """All fields are there: ask why as well, and try the decision for the first time."""
        self.add("reason", self.tr("Why"), self.reason)
        self._arrange()
        for row in self.rows.values():
            if isinstance(row.field, QComboBox):
                row.field.currentIndexChanged.connect(self.check)
            elif isinstance(row.field, QLineEdit):
                row.field.textEdited.connect(self.check)
        self.check()
        next(iter(self.rows.values())).field.setFocus(Qt.FocusReason.OtherFocusReason)

    def _arrange(self) -> None:
        self.foot.addWidget(self.changes_label)
        self.aside_label.setText(
            self.tr("Decisions are permanent. To correct one, record another.")
        )
        body, told = QWidget(), QVBoxLayout()
        told.addWidget(self.doses)
        told.addWidget(self.detail)
        told.addStretch(1)
        self._columns = QBoxLayout(QBoxLayout.Direction.TopToBottom, body)
        self._columns.setContentsMargins(0, 0, 0, 0)
        self._columns.setSpacing(self.fontMetrics().height())
        self._columns.addWidget(self.form, 1, Qt.AlignmentFlag.AlignTop)
        self._columns.addLayout(told, 1)
        self.set_body(body, columns=84, lines=17 + 4 * len(self.form.rows))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show the doses beside the fields where there is room, else beneath them.

        Where there is too little height for the fields they stand by twos, and what would change
        beside the buttons.
        """
        super().resizeEvent(event)
        size = event.size()
        has_two = self.pair_fields(self.form, size)
        ways = QBoxLayout.Direction
        wanted = WITH_DOSES if has_two else TWO_COLUMNS * 0.9
        is_wide = size.width() >= self._width(wanted)
        self._columns.setStretch(0, int(is_wide))  # else the doses follow the fields at once
        self._columns.setDirection(ways.LeftToRight if is_wide else ways.TopToBottom)

    # For subclasses

    def revision(self) -> Revision:
        """The revision as the fields have it; raises FieldError."""
        raise NotImplementedError

    def add(self, name: str, label: str, field: QWidget, help_text: str = "") -> FieldRow:
        """Add a field under its name."""
        row = self.form.row(label, field, help_text=help_text)
        self.rows[name] = row
        return row

    def add_date(self, name: str, label: str, value: date | None) -> TypedField[date]:
        """Add a field for a day; an empty one may be left so."""
        field = DateField(self.session.reading.today)
        field.set_day(value)
        explained(self.add(name, label, field), field, plain_day)
        return field

    def ask_beneath(self, bar: QuestionBar) -> None:
        """Show a field's questions beneath the row added last."""
        row = next(reversed(self.rows.values()))
        layout = row.layout()
        if layout is not None:
            layout.addWidget(bar)

    def add_choice(self, name: str, label: str, options: list[tuple[str, str]]) -> QComboBox:
        """Add a choice; each option is what is shown and what it stands for."""
        box = QComboBox()
        for text, value in options:
            box.addItem(text, value)
        self.add(name, label, box)
        return box

    def add_text(self, name: str, label: str, value: str, help_text: str = "") -> QLineEdit:
        """Add a field for a text."""
        field = QLineEdit(value)
        self.add(name, label, field, help_text)
        return field

    def day_of(self, name: str, field: TypedField[date]) -> date:
        """The day in a field; FieldError where there is none."""
        day = self.day_or_none(name, field)
        if day is None:
            raise FieldError(name, self.tr("Enter a date, for example 1 March 2027"))
        return day

    def day_or_none(self, name: str, field: TypedField[date]) -> date | None:
        """The day in a field, None where it is empty; FieldError where it cannot be read."""
        try:
            return field.value()
        except ReadingError as error:
            raise FieldError(name, str(error)) from error

    def directions_in(self, name: str, field: DirectionsEdit) -> Directions:
        """The directions in a field; FieldError where there are none, or tells what is wrong."""
        text = field.text().strip()
        if not text:
            raise FieldError(name, self.tr("Enter directions, for example 1 cup tds"))
        try:
            return read_usual_directions(text)
        except DirectionsError:
            words, _ = explain_directions(text, self.session.course.client.day)
            raise FieldError(name, words) from None

    @property
    def why(self) -> str:
        """The reason as typed."""
        return self.reason.text().strip()

    # Trying it out

    def check(self) -> None:
        """Try the decision out; tell what it would change, or what keeps it from being made."""
        for row in self.rows.values():
            row.explain("")
        tried, self._tried_on = self.tried(), self.session.reading
        self._tried = tried
        self.session.trying.emit(tried)
        comparison = tried.changed_from(self.session.reading) if tried else None
        self.main_button.setEnabled(bool(comparison))
        self.changes_label.setText(
            self._would_change(comparison, tried) if comparison and tried else ""
        )
        if comparison is not None and not comparison:
            self.changes_label.setText(self.tr("Nothing changes."))
        self.doses.show_rows(dose_rows(comparison, tried.course) if comparison and tried else ())
        self._tell("\n".join(self._too_early(tried)))
        self.changes_label.setAccessibleDescription(self.changes_label.text())

    def _tell(self, detail: str) -> None:
        """Say what else there is to know, beneath the doses."""
        self.detail.setText(detail)
        self.detail.setVisible(bool(detail))

    def _too_early(self, tried: CourseReading | None) -> tuple[str, ...]:
        """What the decision ends before its least time; what ends so already is not its doing."""
        if tried is None:
            return ()
        known = early_ends(self.session.reading.layout.plan)
        new = (early for early in early_ends(tried.layout.plan) if early not in known)
        return tuple(early_end_words(early) for early in new)

    def tried(self) -> CourseReading | None:
        """The course with the decision; None, and the field says why, where it is impossible."""
        return self.read(lambda: self.session.with_decision(self.revision()))

    def read(self, made: Callable[[], Course]) -> CourseReading | None:
        """A course that is made of the fields; None, and a field says why, where it cannot be."""
        try:
            return self.session.reading.of(made())
        except (FieldError, RevisionError) as error:
            self._refuse(error.field, why(error))
        except (LayoutError, SameTimeError) as error:
            self._refuse("", why(error))
        return None

    def is_changed(self) -> bool:
        """Whether a reason was typed; all else is quickly chosen again."""
        return bool(self.why)

    def _refuse(self, field: str, message: str) -> None:
        row = self.rows.get(field) or next(iter(self.rows.values()))
        if isinstance(row.field, QLineEdit) and not row.field.text().strip():
            row.explain(message)  # what is still missing is not wrong
        else:
            row.wrong(message)

    def _would_change(self, comparison: Comparison, tried: CourseReading) -> str:
        text = sentence(comparison, tried.course)
        before, now = set(self.session.reading.events), set(tried.events)
        moved = max(len(now - before), len(before - now))
        if moved:
            text = f"{text.removesuffix('.')}; {counted(moved, self.tr('reminder'))} change."
        return text

    def done(self, result: int) -> None:
        """Close; nothing is tried any more."""
        self.session.trying.emit(None)
        super().done(result)

    def submit(self) -> None:
        """Make the decision; it is tried again where the course has become another since."""
        if self._tried_on is not self.session.reading:
            self.check()
        if self._tried is None or not self.main_button.isEnabled():
            return
        if self.session.keep_tried(self._tried):
            self.accept()
