"""The phases of a course as words to choose from, and what can be done to them."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QWidget

from sennight.desktop.course.actions import phase_specs
from sennight.desktop.course.lines.line_cells import LineEditRequest
from sennight.desktop.course.lines.phase_dialog import PhaseDialog
from sennight.desktop.course.session import Session, why
from sennight.desktop.kit.choices import Choices
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.menus import menu_button
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button
from sennight.domain.courses.courses import Course
from sennight.domain.courses.editing import (
    EditError,
    add_phase,
    copy_phase,
    move_phase,
    remove_phase,
    rename_phase,
    split_phase,
    with_length,
)
from sennight.domain.courses.phase_names import phase_head
from sennight.domain.courses.protocols import MAINTENANCE, RESCUE, Phase
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.directions.plain_words import plain_length

LETTERS = 14
"""Letters of a phase in a list for which there is always room; its tip has it whole."""
_LENGTH = re.compile(r"\s*([0-9]{1,3})\s*(d|w|mo)[a-z]*\s*", re.IGNORECASE)


def read_length(text: str) -> Length | None:
    """A phase's length as typed: `6 w`, `10 d`, `3 mo`, or `open`; raises EditError."""
    if text.strip().lower() == "open":
        return None
    match = _LENGTH.fullmatch(text)
    if not match or int(match[1]) < 1:
        raise EditError("enter a length: 6 w, 10 d, 3 mo, or open")
    return Length(int(match[1]), CalendarUnit(match[2].lower()))


def _length_text(phase: Phase) -> str:
    return str(phase.length) if phase.length else "open"


class RenamePhase(FormDialog):
    """Asks for a phase's name; what is not possible is told while it is typed."""

    def __init__(self, course: Course, phase_id: str, parent: QWidget) -> None:
        super().__init__(
            parent,
            translate("RenamePhase", "Rename the phase"),
            do=translate("RenamePhase", "Rename"),
        )
        self.course, self._phase_id = course, phase_id
        self._before = course
        self.field = QLineEdit(phase_id)
        form = FieldForm()
        self._row = form.row(self.tr("Name"), self.field)
        self.field.textEdited.connect(self._typed)
        form.keep_together()
        self.field.selectAll()
        self.set_body(form, columns=56, lines=12)
        self.field.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def name(self) -> str:
        """The name as typed."""
        return " ".join(self.field.text().split())

    def _typed(self) -> None:
        try:
            self.course = rename_phase(self._before, self._phase_id, self.name)
        except EditError as error:
            self._row.wrong(why(error))
        else:
            self._row.explain("")
        self.main_button.setDisabled(self._row.is_wrong)


class PhaseBar(QWidget):
    """Chooses, names and measures the phase in hand."""

    asked = Signal(object)
    refused = Signal(str)
    more_wanted = Signal()

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self.session, self._theme = session, theme
        self._lay_out(theme)
        session.changed.connect(self.refresh)
        session.phase_changed.connect(self.refresh)
        self.apply_theme(theme)
        self.refresh()

    def _lay_out(self, theme: Theme) -> None:
        self.choices = Choices((), theme)
        self.choices.setAccessibleName(self.tr("Phases"))
        self.choices.chosen.connect(self._chosen)
        self.listed = QComboBox()
        self.listed.setAccessibleName(self.tr("Phases"))
        self.listed.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.listed.setMinimumContentsLength(LETTERS)
        self.listed.activated.connect(self._chosen)
        self.length = QLineEdit()
        self.length.setProperty("kind", "small")
        self.length.setAccessibleName(self.tr("Length of the phase"))
        self.length.setToolTip(self.tr("Length of the phase: 6 w, 10 d, 3 mo, or open"))
        self.length.editingFinished.connect(self._measured)
        self.add_line = button(
            self.tr("Add line"), kind="small", tip=self.tr("Enter in the table")
        )
        doing: dict[str, Callable[[], object]] = {
            "line": self.add_line.click,
            "more": self.more_wanted.emit,
            "holds": self.holds,
            "add": self.add,
            "add-rescue": self.add_rescue,
            "split": self.split,
            "rename": self.rename,
            "copy": self.copy,
            "earlier": lambda: self.move_by(-1),
            "later": lambda: self.move_by(1),
            "remove": self.remove,
        }
        self.menu_button = menu_button(
            self.tr("Phase…"), phase_specs(), doing, self, kind="small-menu"
        )
        layout = self._room = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(theme.unit * 2)
        layout.addWidget(self.choices, 1)
        layout.addWidget(self.listed, 1)
        self.listed.hide()
        layout.addWidget(self.length)
        layout.addWidget(self.menu_button)
        layout.addWidget(self.add_line)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """See what there is room for."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """In a narrow bar the phases go first; a line is added by Enter or from the menu.

        Where there is no room for their names side by side, they are a list.
        """
        gap, kept = self._room.spacing(), self.length.width() + self.menu_button.sizeHint().width()
        need = self.choices.least_width() + kept + gap * 2
        more = self.add_line.sizeHint().width() + gap
        is_list = need > self.width()
        self.add_line.setVisible(need + more <= self.width())
        has_keyboard = self.choices.hasFocus() or self.listed.hasFocus()
        self.choices.setVisible(not is_list)
        self.listed.setVisible(is_list)
        if has_keyboard:
            shown = self.listed if is_list else self.choices
            shown.setFocus(Qt.FocusReason.OtherFocusReason)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self._theme = theme
        self.choices.apply_theme(theme)
        self.length.setFixedWidth(theme.unit * 14)

    def refresh(self) -> None:
        """Show the phases as they are."""
        phases = self.session.course.protocol.phases
        texts = tuple(
            (
                phase_head(phase.id),
                plain_length(phase.length) if phase.length else self.tr("open"),
            )
            for phase in phases
        )
        ids = [phase.id for phase in phases]
        at = ids.index(self.session.phase.id)
        self.choices.show_texts(texts, at)
        labels = [" · ".join(pair) for pair in texts]
        if labels != [self.listed.itemText(n) for n in range(self.listed.count())]:
            self.listed.clear()
            self.listed.addItems(labels)
            self._fit()
        self.listed.setCurrentIndex(at)
        self.length.setText(_length_text(self.session.phase))

    def typed_length(self) -> tuple[str, str] | None:
        """The phase in hand, and the length that was typed for it and is not taken yet."""
        phase, text = self.session.phase, self.length.text()
        return None if text == _length_text(phase) else (phase.id, text)

    def _chosen(self, index: int) -> None:
        phases = self.session.course.protocol.phases
        if 0 <= index < len(phases):
            self.session.choose_phase(phases[index].id)

    # Doing

    def _try(self, text: str, change: Callable[[], Course]) -> None:
        try:
            self.asked.emit(LineEditRequest(text, change()))
        except EditError as error:
            self.refused.emit(str(error))
            self.refresh()

    def rename(self) -> None:
        """Ask for another name of the phase in hand."""
        session, before = self.session, self.session.phase.id
        dialog = RenamePhase(session.course, before, self.window())
        session.keep_draft(dialog, f"rename/{before}")
        if dialog.exec() and dialog.course != session.course:
            name = dialog.name
            self.asked.emit(LineEditRequest(self.tr("Rename a phase"), dialog.course))
            session.choose_phase(name)
        dialog.deleteLater()

    def holds(self) -> None:
        """Ask for the advice and the limits of the phase in hand."""
        dialog = PhaseDialog(self.session, self._theme, self.window())
        self.session.keep_draft(dialog, f"phase/{self.session.phase.id}")
        course = self.session.course
        if dialog.exec() and dialog.protocol != course.protocol:
            changed = replace(course, protocol=dialog.protocol)
            self.asked.emit(LineEditRequest(self.tr("Change advice and limits"), changed))
        dialog.deleteLater()

    def _measured(self) -> None:
        course, phase = self.session.course, self.session.phase
        if self.length.text() == _length_text(phase):
            return
        self._try(
            self.tr("Change a length"),
            lambda: replace(
                course,
                protocol=with_length(course.protocol, phase.id, read_length(self.length.text())),
            ),
        )
        self.refresh()

    def add(self) -> None:
        """A new phase after the one in hand."""
        self._new(self.tr("Add a phase"), MAINTENANCE)

    def add_rescue(self) -> None:
        """A new phase that waits for a flare-up."""
        self._new(self.tr("Add a flare-up plan"), RESCUE)

    def _new(self, text: str, purpose: str) -> None:
        course = self.session.course
        after = None if purpose == RESCUE else self.session.phase_id
        protocol, new_id = add_phase(course.protocol, after, purpose)
        self.asked.emit(LineEditRequest(text, replace(course, protocol=protocol)))
        self.session.choose_phase(new_id)

    def copy(self) -> None:
        """The phase in hand once more."""
        course = self.session.course
        protocol, new_id = copy_phase(course.protocol, self.session.phase_id)
        self.asked.emit(
            LineEditRequest(self.tr("Copy a phase"), replace(course, protocol=protocol))
        )
        self.session.choose_phase(new_id)

    def split(self) -> None:
        """The phase in hand as two, the second from the week of the day in hand on."""
        course, phase_id = self.session.course, self.session.phase_id
        runs = {run.phase.id: run.span for run in self.session.reading.layout.phases}
        if phase_id not in runs or self.session.day not in runs[phase_id]:
            self.refused.emit(self.tr("Choose a day inside the phase first; it is split there."))
            return
        weeks = round((self.session.day - runs[phase_id].first).days / 7)
        self._try(
            self.tr("Split a phase"),
            lambda: replace(course, protocol=split_phase(course.protocol, phase_id, weeks)[0]),
        )

    def move_by(self, places: int) -> None:
        """The phase in hand earlier or later."""
        course, phase_id = self.session.course, self.session.phase_id
        self._try(
            self.tr("Move a phase"),
            lambda: replace(course, protocol=move_phase(course.protocol, phase_id, places)),
        )

    def remove(self) -> None:
        """The course without the phase in hand."""
        course, phase_id = self.session.course, self.session.phase_id
        self._try(
            self.tr("Remove a phase"),
            lambda: replace(course, protocol=remove_phase(course.protocol, phase_id)),
        )
