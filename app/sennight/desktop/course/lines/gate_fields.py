"""The fields of a phase's gate: the condition for moving on to the next phase."""

from __future__ import annotations

import re

from PySide6.QtWidgets import QLineEdit

from sennight.desktop.kit.forms import FieldForm, TypedField
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.translating import translate
from sennight.domain.courses.protocols import Gate

_PERCENT = re.compile(r"\s*([0-9]{1,3})\s*%?\s*")
MOST_PERCENT = 100
MOST_LETTERS = 60


def read_percent(text: str) -> int:
    """A whole percentage from 1 to 100: `30` or `30 %`; raises ReadingError."""
    match = _PERCENT.fullmatch(text)
    if not match or not 1 <= int(match[1]) <= MOST_PERCENT:
        raise ReadingError(translate("PhaseDialog", "enter a whole percentage from 1 to 100"))
    return int(match[1])


class GateFields:
    """What is rated, and how far it must fall; both empty is no gate."""

    def __init__(self, form: FieldForm, gate: Gate | None) -> None:
        self.measure = QLineEdit(gate.measure if gate else "")
        self.measure.setMaxLength(MOST_LETTERS)
        self.percent = TypedField(read_percent)
        self.percent.setText(str(gate.fall_percent) if gate else "")
        self.measure_row = form.row(
            translate("PhaseDialog", "Moving on waits for a fall of"),
            self.measure,
            help_text=translate("PhaseDialog", "As the scores call it, such as pain."),
        )
        self.percent_row = form.row(
            translate("PhaseDialog", "by so many percent"),
            self.percent,
            help_text=translate(
                "PhaseDialog", "From the first rating in the phase. It is told, nothing more."
            ),
        )

    def value(self) -> Gate | None:
        """The gate, None where both are empty; a row is marked where it is wrong."""
        measure = " ".join(self.measure.text().split())
        self.measure_row.explain("")
        self.percent_row.explain("")
        try:
            percent = self.percent.value()
        except ReadingError as error:
            self.percent_row.wrong(str(error))
            return None
        if percent is None and measure:
            self.percent_row.wrong(translate("PhaseDialog", "Say by how much it is to fall"))
        if percent is not None and not measure:
            self.measure_row.wrong(translate("PhaseDialog", "Say what it is that is to fall"))
        return Gate(measure, percent) if measure and percent is not None else None
