"""The gate of one phase: what moving on from it waits for; an edit that can be undone."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from sennight.desktop.course.lines.gate_fields import GateFields
from sennight.desktop.course.session import Session
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.translating import translate
from sennight.domain.courses.courses import Course
from sennight.domain.courses.editing import with_phase
from sennight.domain.courses.phase_names import phase_title


class GateDialog(FormDialog):
    """Sets, changes or, where its fields are emptied, takes away the gate of a phase."""

    def __init__(self, session: Session, phase_id: str, parent: QWidget | None = None) -> None:
        title = translate("GateDialog", "Gate of {phase}").format(phase=phase_title(phase_id))
        super().__init__(parent, title, do=translate("GateDialog", "Set the gate"))
        self.session, self.phase_id = session, phase_id
        phase = session.course.protocol.phase(phase_id)
        self._phase = phase if phase is not None else session.phase
        self.form = FieldForm()
        self.gate = GateFields(self.form, self._phase.gate, session.reading.measures)
        self.form.keep_together()
        self.set_body(self.form, columns=84, lines=16)
        self.gate.measure.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def course(self) -> Course:
        """The course with the gate as the fields have it."""
        course = self.session.course
        phase = replace(self._phase, gate=self.gate.value())
        return replace(course, protocol=with_phase(course.protocol, self._phase.id, phase))

    def is_changed(self) -> bool:
        """Whether anything would be lost."""
        return self.course != self.session.course

    def submit(self) -> None:
        """Set it, where all can be read."""
        course = self.course
        if self.form.to_first_wrong():
            return
        if self.session.edit(translate("GateDialog", "Change a gate"), course):
            self.accept()
