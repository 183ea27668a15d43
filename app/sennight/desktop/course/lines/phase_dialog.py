"""What a phase holds beside its lines: advice, its least time, its gate, ceilings for the day."""

from __future__ import annotations

import re
from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QLineEdit, QWidget

from sennight.desktop.course.lines.gate_fields import GateFields, read_weeks
from sennight.desktop.course.session import Session
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, FieldRow, TypedField
from sennight.desktop.kit.plain_text import plain_caption
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.directions_edit import DirectionsEdit
from sennight.desktop.parts.question_bar import QuestionBar
from sennight.desktop.parts.typed import explain_timing
from sennight.domain.courses.editing import with_phase
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.courses.protocols import AdviceLine, Ceiling, Protocol
from sennight.domain.directions.parser import DirectionsError
from sennight.domain.directions.understanding import read_usual_timing

_MOST = re.compile(r"\s*([1-9][0-9]?)\s*")
LONGEST_TRIGGER = 200
WIDE, SIDE_BY_SIDE = 114, 108
"""Columns of text of the dialog, and from how many on its halves stand side by side."""
SPARE = 2
"""So many empty rows stand ready for more advice."""


def read_most(text: str) -> int:
    """The most doses in a day, 1 to 99; raises ReadingError."""
    match = _MOST.fullmatch(text)
    if not match:
        raise ReadingError(translate("PhaseDialog", "enter a number from 1 to 99"))
    return int(match[1])


class PhaseDialog(FormDialog):
    """Edits what the phase in hand holds; `protocol` is as the fields have it."""

    def __init__(self, session: Session, theme: Theme, parent: QWidget | None) -> None:
        title = translate("PhaseDialog", "Advice and limits: {phase}")
        super().__init__(
            parent,
            title.format(phase=phase_title(session.phase.id)),
            do=translate("PhaseDialog", "Change the phase"),
        )
        self.session = session
        self.protocol = session.course.protocol
        self.form, self.limits = FieldForm(), FieldForm()
        self._add_trigger()
        self._add_advice(theme)
        self._add_limits()
        body = self.halves(self.form, self.limits, columns=SIDE_BY_SIDE)
        self.set_body(body, columns=WIDE, lines=40)
        first = self.trigger if self.session.phase.is_rescue else self.advice[0].text
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _add_trigger(self) -> None:
        """When the client begins a flare-up plan; other phases begin on their day."""
        self.trigger = QLineEdit(self.session.phase.trigger)
        self.trigger.setMaxLength(LONGEST_TRIGGER)
        if self.session.phase.is_rescue:
            self.form.heading(self.tr("Flare-up plan"))
            self.form.row(
                self.tr("The client starts it when"),
                self.trigger,
                help_text=self.tr("Such as: the knee is hot and swollen for 2 days"),
            )

    def _add_advice(self, theme: Theme) -> None:
        self.form.heading(self.tr("Advice"))
        known = self.session.phase.advice
        self.advice = tuple(
            AdviceFields(self.form, known[n] if n < len(known) else None, theme, self.session)
            for n in range(len(known) + SPARE)
        )
        for fields in self.advice:
            fields.when.explained.connect(fields.explain)

    def _add_limits(self) -> None:
        self.limits.heading(self.tr("Limits"))
        least = self.session.phase.at_least_weeks
        self.least = TypedField(read_weeks)
        self.least.setText(str(least or ""))
        self.least_row: FieldRow | None = None
        if not self.session.phase.is_rescue:
            self.least_row = self.limits.row(
                self.tr("Minimum length in weeks"),
                self.least,
                help_text=self.tr("You can end it earlier; you will be told."),
            )
        self.gate = GateFields(self.limits, self.session.phase.gate, self.session.reading.measures)
        known = (*self.protocol.ceilings, None)
        remedies = [(remedy.id, remedy.name) for remedy in self.session.course.lanes]
        self.ceilings = tuple(CeilingFields(self.limits, ceiling, remedies) for ceiling in known)

    def _read(self) -> Protocol | None:
        """The protocol as the fields have it; None where one of them is wrong."""
        advice = [fields.value() for fields in self.advice]
        ceilings = [fields.value() for fields in self.ceilings]
        gate = self.gate.value()
        least = None
        if self.least_row is not None:
            try:
                least = self.least.value()
                self.least_row.explain("")
            except ReadingError as error:
                self.least_row.wrong(str(error))
        if any(row.is_wrong for row in (*self.form.rows, *self.limits.rows)):
            return None
        phase = replace(
            self.session.phase,
            advice=tuple(line for line in advice if line is not None),
            at_least_weeks=least,
            gate=gate,
            trigger=" ".join(self.trigger.text().split()),
        )
        protocol = with_phase(self.session.course.protocol, phase.id, phase)
        kept = tuple(ceiling for ceiling in ceilings if ceiling is not None)
        return replace(protocol, ceilings=kept)

    def submit(self) -> None:
        """Carry on where all can be read."""
        protocol = self._read()
        if protocol is None:
            if not self.form.to_first_wrong():
                self.limits.to_first_wrong()
            return
        self.protocol = protocol
        self.accept()

    def is_changed(self) -> bool:
        """Whether anything would be lost."""
        return self._read() != self.session.course.protocol


class AdviceFields:
    """The fields of one line of advice; an empty text is none."""

    def __init__(
        self, form: FieldForm, advice: AdviceLine | None, theme: Theme, session: Session
    ) -> None:
        day = session.course.client.day
        self.text = QLineEdit(advice.text if advice else "")
        self.when = DirectionsEdit(
            lambda text: explain_timing(text, day), theme, read=read_usual_timing
        )
        timing = advice.timing if advice else None
        self.when.setText(str(timing) if timing else "")
        self.remind = QCheckBox(translate("PhaseDialog", "In the calendar"))
        self.remind.setChecked(bool(advice and advice.remind))
        self.diary = QCheckBox(translate("PhaseDialog", "To tick off"))
        self.diary.setChecked(bool(advice and advice.diary))
        self.text_row = form.row(translate("PhaseDialog", "What to do, or to leave"), self.text)
        self.when_row, *_ = form.line(
            (translate("PhaseDialog", "When (if it has a time)"), self.when),
            (translate("PhaseDialog", "Remind"), self.remind),
            (translate("PhaseDialog", "Diary"), self.diary),
        )
        layout = self.when_row.layout()
        if layout is not None:
            layout.addWidget(QuestionBar.beneath(self.when))

    def explain(self, text: str, wrong: bool) -> None:  # noqa: FBT001 - a signal takes no names
        """Say what was understood, or what is wrong."""
        if wrong:
            self.when_row.wrong(text)
        else:
            self.when_row.explain(text)

    def value(self) -> AdviceLine | None:
        """The advice, None for an empty one; a row is marked where it is wrong."""
        text = " ".join(self.text.text().split())
        when = self.when.text().strip()
        self.text_row.explain("")
        if not text and when:
            self.text_row.wrong(translate("PhaseDialog", "Enter what is done then"))
        try:
            timing = read_usual_timing(when) if when else None
        except DirectionsError:
            return None  # the row shows it already
        if not text:
            return None
        return AdviceLine(text, timing, self.remind.isChecked(), self.diary.isChecked())


class CeilingFields:
    """The fields of a ceiling: the most, and a box for each remedy; an empty most is none."""

    def __init__(
        self, form: FieldForm, ceiling: Ceiling | None, remedies: list[tuple[str, str]]
    ) -> None:
        self.most = TypedField(read_most)
        self.most.setText(str(ceiling.most) if ceiling else "")
        self.row = form.row(
            translate("PhaseDialog", "Most doses a day, all together"),
            self.most,
            help_text=translate("PhaseDialog", "of the remedies that are ticked"),
        )
        self.boxes = {remedy: QCheckBox(plain_caption(name)) for remedy, name in remedies}
        for remedy, box in self.boxes.items():
            box.setChecked(ceiling is not None and remedy in ceiling.remedies)
        form.line(*(("", box) for box in self.boxes.values()))

    def value(self) -> Ceiling | None:
        """The ceiling, None where no most is given; its row is marked where it is wrong."""
        ticked = tuple(remedy for remedy, box in self.boxes.items() if box.isChecked())
        self.row.explain("")
        try:
            most = self.most.value()
        except ReadingError as error:
            self.row.wrong(str(error))
            return None
        if most is None:
            return None
        if not ticked:
            self.row.wrong(translate("PhaseDialog", "Tick the remedies that it applies to"))
            return None
        return Ceiling(ticked, most)
