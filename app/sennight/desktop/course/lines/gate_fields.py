"""The fields of a phase's gate: the condition for moving on to the next phase."""

from __future__ import annotations

import re
from fractions import Fraction

from PySide6.QtWidgets import QComboBox, QLineEdit

from sennight.desktop.kit.forms import FieldForm, TypedField
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.translating import translate
from sennight.domain.amounts import plain_number
from sennight.domain.courses.protocols import MOST_PERCENT, Gate, Threshold
from sennight.domain.follow_up.gate_words import wanted_words
from sennight.domain.follow_up.gates import is_against
from sennight.domain.follow_up.measures import Measures

_NUMBER = re.compile(r"\s*([0-9]{1,4}(?:[.,][0-9]{1,2})?)\s*%?\s*")
_WEEKS = re.compile(r"\s*([0-9]{1,3})\s*(?:w|wks?|weeks?)?\s*", re.IGNORECASE)
MOST_LETTERS = 60


def read_amount(text: str) -> Fraction:
    """A percentage, points or a rating: `30`, `30 %`, `2.5`; raises ReadingError."""
    match = _NUMBER.fullmatch(text)
    if not match:
        raise ReadingError(translate("PhaseDialog", "enter a number, for example 30 or 2.5"))
    return Fraction(match[1].replace(",", "."))


def read_weeks(text: str) -> int:
    """A number of weeks, 1 or more: `6` or `6 w`; raises ReadingError."""
    match = _WEEKS.fullmatch(text)
    if not match or int(match[1]) < 1:
        raise ReadingError(translate("PhaseDialog", "enter a number of weeks, such as 6"))
    return int(match[1])


def threshold_choices() -> tuple[tuple[Threshold, str], ...]:
    """Each kind of threshold in words."""
    return (
        (Threshold.FALL_PERCENT, translate("PhaseDialog", "to fall by a percentage")),
        (Threshold.FALL_POINTS, translate("PhaseDialog", "to fall by points")),
        (Threshold.RISE_PERCENT, translate("PhaseDialog", "to rise by a percentage")),
        (Threshold.RISE_POINTS, translate("PhaseDialog", "to rise by points")),
        (Threshold.AT_MOST, translate("PhaseDialog", "to be at most")),
        (Threshold.AT_LEAST, translate("PhaseDialog", "to be at least")),
    )


class GateFields:
    """What is rated, how far it must fall or rise, and by when; without measure it is no gate."""

    def __init__(self, form: FieldForm, gate: Gate | None, measures: Measures) -> None:
        self._measures = measures
        self.measure = QLineEdit(gate.measure if gate else "")
        self.measure.setMaxLength(MOST_LETTERS)
        self.wants = QComboBox()
        for wants, words in threshold_choices():
            self.wants.addItem(words, wants)
        self.amount = TypedField(read_amount)
        self.by_weeks = TypedField(read_weeks)
        if gate:
            self.wants.setCurrentIndex(list(Threshold).index(gate.wants))
            self.amount.setText(plain_number(Fraction(gate.amount)))
            self.by_weeks.setText(str(gate.by_weeks or ""))
        self.measure_row = form.row(
            translate("PhaseDialog", "Moving on waits for"),
            self.measure,
            help_text=translate(
                "PhaseDialog",
                "As the scores call it, such as pain. Falls and rises are counted from the first "
                "rating in the phase. You are only told; nothing else happens.",
            ),
        )
        self.wants_row, self.amount_row, self.by_row = form.narrow_line(
            (translate("PhaseDialog", "which has"), self.wants),
            (translate("PhaseDialog", "How much"), self.amount),
            (translate("PhaseDialog", "By the end of week (optional)"), self.by_weeks),
        )
        self.measure.textEdited.connect(self.explain)
        self.wants.currentIndexChanged.connect(self.explain)
        self.amount.textEdited.connect(self.explain)

    def explain(self) -> None:
        """Say as it is typed what is waited for; what is half typed is not called wrong yet."""
        try:
            amount = self.amount.value()
        except ReadingError:
            amount = None
        measure = self._measure_id()
        told = ""
        if measure and amount is not None and not self._off_scale(measure, amount):
            gate = Gate(measure, amount, self._wants())
            told = translate("PhaseDialog", "Moving on waits for {what}.").format(
                what=wanted_words(gate, self._measures.of(measure))
            )
        self.measure_row.explain(told)

    def _measure_id(self) -> str:
        return " ".join(self.measure.text().split())

    def _wants(self) -> Threshold:
        return Threshold(self.wants.currentData())

    def value(self) -> Gate | None:
        """The gate, None where its fields are empty; a row is marked where it is wrong."""
        measure = self._measure_id()
        for row in (self.measure_row, self.amount_row, self.by_row):
            row.explain("")
        amount = self._read(measure)
        try:
            by_weeks = self.by_weeks.value()
        except ReadingError as error:
            self.by_row.wrong(str(error))
            return None
        if amount is None:
            return None
        gate = Gate(measure, amount, self._wants(), by_weeks)
        if is_against(gate, self._measures.of(measure)):
            better = "higher" if gate.wants.wants_less else "lower"
            text = translate("PhaseDialog", "For this, {better} is better; choose the other way")
            self.wants_row.wrong(text.format(better=better))
            return None
        return gate

    def _read(self, measure: str) -> Fraction | int | None:
        """How much; None where nothing is waited for, or where a row is wrong."""
        try:
            amount = self.amount.value()
        except ReadingError as error:
            self.amount_row.wrong(str(error))
            return None
        if amount is None and measure:
            self.amount_row.wrong(translate("PhaseDialog", "Say how much"))
        if amount is not None and not measure:
            self.measure_row.wrong(translate("PhaseDialog", "Enter what is rated"))
        if amount is None or not measure:
            return None
        if what := self._off_scale(measure, amount):
            self.amount_row.wrong(what)
            return None
        return int(amount) if self._wants().is_percent else amount

    def _off_scale(self, measure: str, amount: Fraction) -> str:
        """Why the amount cannot be; empty where it can."""
        wants, (low, high) = self._wants(), self._measures.scale(measure)
        if wants.is_percent:
            if amount.denominator == 1 and 1 <= amount <= MOST_PERCENT[wants]:
                return ""
            text = translate("PhaseDialog", "enter a whole percentage from 1 to {most}")
            return text.format(most=MOST_PERCENT[wants])
        if wants.is_level:
            text = translate("PhaseDialog", "enter a rating from {low} to {high}")
            return "" if low <= amount <= high else text.format(low=low, high=high)
        text = translate("PhaseDialog", "enter points above 0, at most {high}")
        return "" if 0 < amount <= high else text.format(high=high)
