"""The sheet in which the actions wanted of a course are chosen; it says what would be missing."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.parts.tag_lines import TagLines
from sennight.desktop.parts.tags import tag_words
from sennight.domain.courses.courses import Course
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.directions.plain_words import listed
from sennight.domain.exposure.coverage import Coverage
from sennight.knowledge.vocabulary import vocabulary
from sennight.practice.course_reading import CourseReading


class AimLine(QWidget):
    """One wanted action: its word, what it means, and a way to take it out."""

    removed = Signal(str)

    def __init__(self, action: str) -> None:
        super().__init__()
        name = tag_words(action)
        self.remove = button(self.tr("Remove"), kind="link")
        self.remove.setAccessibleName(self.tr("Remove {name}").format(name=name))
        self.remove.clicked.connect(lambda: self.removed.emit(action))
        head = QHBoxLayout()
        head.addWidget(text_label(name[:1].upper() + name[1:], Role.STRONG, wrap=True), 1)
        head.addWidget(self.remove)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addLayout(head)
        layout.addWidget(text_label(vocabulary().actions[action], Role.QUIET, wrap=True))


class AimsField(TagLines[AimLine]):
    """Wanted actions in the order in which they were chosen, and a field that adds one."""

    def __init__(self, aims: tuple[str, ...]) -> None:
        ask = translate("AimsField", "An action, or what it does")
        super().__init__(vocabulary().actions, ask)
        self._layout.setSpacing(self.fontMetrics().height() // 2)
        self.entry.picked.connect(self.add)
        for action in aims:
            self.add(action)

    def add(self, action: str) -> None:
        """One more action; one that is there already is not added again."""
        if action not in self._lines:
            line = AimLine(action)
            line.removed.connect(self._take_out)
            self._put(action, line)
        self.changed.emit()


class AimsDialog(FormDialog):
    """Asks which actions are wanted; `course` then wants them."""

    def __init__(self, reading: CourseReading, parent: QWidget | None) -> None:
        super().__init__(
            parent,
            translate("AimsDialog", "Wanted actions"),
            do=translate("AimsDialog", "Save"),
        )
        self._reading, self._before = reading, reading.course
        self.field = AimsField(self._before.protocol.aims)
        form = FieldForm()
        self.row = form.row(self.tr("Add an action"), self.field)
        form.keep_together()
        self.gaps_label = text_label("", Role.STRONG, wrap=True)
        self.gaps_label.setAccessibleName(self.tr("What is not covered"))
        self.foot.addWidget(self.gaps_label)
        self.field.changed.connect(self._tell)
        self.field.entry.unknown.connect(self.row.wrong)
        self.field.entry.textEdited.connect(lambda: self.row.explain(""))
        self._tell()
        self.set_body(form, columns=76, lines=30)
        self.field.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def course(self) -> Course:
        """The course with the actions as they are chosen now."""
        protocol = replace(self._before.protocol, aims=self.field.tags)
        return replace(self._before, protocol=protocol)

    def _tell(self) -> None:
        self.row.explain("")
        aims = self.field.tags
        self.gaps_label.setText(gaps_sentence(aims, self._reading.actions_wanting(aims)))

    def is_changed(self) -> bool:
        """Whether other actions are chosen than were wanted before."""
        return self.course != self._before

    def submit(self) -> None:
        """Accept, unless a word is typed that was not chosen."""
        if self.field.entry.text().strip():
            self.row.wrong(self.field.entry.problem())
            self.field.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self.accept()


def gaps_sentence(aims: tuple[str, ...], rows: tuple[Coverage, ...]) -> str:
    """Which of the wanted actions nothing bears, and in which phases."""
    if not aims:
        return translate("AimsDialog", "No action is wanted, so none is left uncovered.")
    gaps: dict[str, list[str]] = {}
    for row in rows:
        if row.is_gap:
            gaps.setdefault(row.action, []).append(row.phase)
    if not gaps:
        return translate("AimsDialog", "Every wanted action is covered in every phase.")
    missing = translate("AimsDialog", "{action} in {phases}")
    phrases = [
        missing.format(
            action=tag_words(action), phases=listed([phase_title(phase) for phase in phases])
        )
        for action, phases in gaps.items()
    ]
    return translate("AimsDialog", "Not covered: {gaps}.").format(gaps="; ".join(phrases))
