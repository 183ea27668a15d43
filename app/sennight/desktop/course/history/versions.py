"""What differs between two versions of a course, each as it stood on a day if asked."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from PySide6.QtWidgets import QComboBox, QVBoxLayout, QWidget

from sennight.desktop.course.session import read_otherwise
from sennight.desktop.kit.date_field import DateField
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, TypedField, read_field
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import hairline, text_label
from sennight.domain.courses.compare_words import sentences
from sennight.domain.courses.courses import Course, as_it_stood
from sennight.domain.courses.phase_words import remark_changes
from sennight.domain.courses.revision_words import revision_sentence
from sennight.domain.directions.plain_words import plain_date
from sennight.practice.course_reading import CourseReading


class VersionsDialog(FormDialog):
    """Chooses two versions, each as it stood on a day if asked, and says what differs."""

    def __init__(
        self,
        reading: CourseReading,
        history: Sequence[tuple[int, datetime, Course]],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(
            parent,
            translate("VersionsDialog", "Compare versions"),
            do=translate("VersionsDialog", "Close"),
        )
        self.reading, self.history = reading, tuple(reversed(history))
        self.leave_button.hide()
        self.form = FieldForm()
        self.before = self._side(self.tr("From version"), len(self.history) - 1)
        self.after = self._side(self.tr("To version"), 0)
        self.changes_label = text_label("", wrap=True)
        body = QWidget()
        room = QVBoxLayout(body)
        room.setContentsMargins(0, 0, 0, 0)
        room.addWidget(self.form)
        room.addWidget(hairline())
        room.addWidget(self.changes_label)
        room.addWidget(text_label(self._decisions(), Role.QUIET, wrap=True))
        room.addStretch(1)
        self.set_body(body, columns=92, lines=32)
        self.compare()

    def _side(self, label: str, chosen: int) -> tuple[QComboBox, TypedField[date]]:
        box = QComboBox()
        for number, when, _course in self.history:
            box.addItem(f"{number} · {plain_date(when.date())} {when.strftime('%H:%M')}")
        box.setCurrentIndex(chosen)
        day = DateField(self.reading.today, placeholder=self.tr("the latest, with every decision"))
        self.form.line((label, box), (self.tr("On"), day))
        box.currentIndexChanged.connect(self.compare)
        day.editingFinished.connect(self.compare)
        return box, day

    def _course(self, side: tuple[QComboBox, TypedField[date]]) -> Course:
        box, field = side
        course = self.history[max(0, box.currentIndex())][2]
        row = next(row for row in self.form.rows if row.field is field)
        row.explain("")
        day = read_field(row, field)
        return as_it_stood(course, day) if day else course

    def compare(self) -> None:
        """Say what differs between the two."""
        before, after = (
            read_otherwise(self.reading, self._course(side)) for side in (self.before, self.after)
        )
        if isinstance(before, str) or isinstance(after, str):
            self.changes_label.setText(before if isinstance(before, str) else str(after))
            return
        taken = sentences(after.changed_from(before), after.course)
        changes = (*taken, *remark_changes(before.course, after.course))
        self.changes_label.setText(
            "\n".join(changes) or self.tr("Nothing differs in what is taken.")
        )

    def _decisions(self) -> str:
        course = self.reading.course
        decisions = [revision_sentence(revision, course) for revision in course.revisions]
        head = self.tr("Decisions on record:")
        return "\n".join([head, *decisions]) if decisions else self.tr("No decision was made yet.")
