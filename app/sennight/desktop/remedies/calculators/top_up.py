"""The smallest amount that brings a herb to a point in its range."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QComboBox, QWidget

from sennight.desktop.kit.forms import TypedField, explained
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.parts.amounts_reading import read_amount
from sennight.desktop.parts.range_bar import band_words, reservations_text
from sennight.desktop.remedies.calculators.base import PLACES, CalculatorDialog, exact_text
from sennight.desktop.remedies.formula import Formula
from sennight.domain.amounts import rounded
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import plain_amount
from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.formulas.formulas import Trial
from sennight.domain.formulas.top_up import Addition, TopUp, top_up
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.remedies.forms import is_taken_by_mouth
from sennight.domain.remedies.portions import measured_units
from sennight.domain.remedies.remedies import Remedy


class TopUpDialog(CalculatorDialog):
    """Asks for a herb, a place in its range, and what to give more of."""

    def __init__(
        self,
        parent: QWidget | None,
        before: Formula,
        materia_medica: MateriaMedica,
        *,
        shelf: tuple[Remedy, ...],
    ) -> None:
        super().__init__(parent, self.tr("Top up a herb"), before, materia_medica)
        self.herb = self.herb_box()
        self.place = QComboBox()
        for band, place in PLACES:
            self.place.addItem(self.tr("at least {band}").format(band=band_words(band)), place)
        self.place.setCurrentIndex(1)
        self.adding = QComboBox()
        own = before.remedy
        others = (other for other in shelf if other.id != own.id and is_taken_by_mouth(other.form))
        for choice in (own, *others):
            self.adding.addItem(choice.name, choice)
        self.step = TypedField(read_amount)
        self.fields.row(self.tr("Herb"), self.herb)
        self.fields.row(self.tr("Bring it to"), self.place)
        self.fields.row(self.tr("By giving more of"), self.adding)
        self._step_row = self.fields.row(self.tr("In steps of"), self.step)
        explained(self._step_row, self.step, lambda _: "")
        self.adding.currentIndexChanged.connect(self._usual_step)
        self._usual_step()
        self.quiet(self.tr("On top of the trial dose: {dose}.").format(dose=before.tried))
        self.ready(lines=34)

    def _usual_step(self) -> None:
        remedy: Remedy = self.adding.currentData()
        unit = measured_units(remedy)[0]
        self._step_row.label.setText(self.tr("In steps of ({unit})").format(unit=unit))
        self.step.setText(remedy.form.facts.step)

    def work_out(self) -> tuple[str, Formula | None]:
        """The amount to add in a day; of this remedy it can be applied to the trial dose."""
        tried = self.before.trial(self.materia_medica)
        remedy: Remedy = self.adding.currentData()
        step = self.step.value()
        herb = self.materia_medica.herb(
            self.before.remedy.ingredients[self.herb.currentData()].herb
        )
        if tried is None or herb is None:
            raise CalculationError(self.tr("enter a valid trial dose"))
        if step is None:
            raise ReadingError(self.tr("Enter a step, for example 0.5"))
        unit = measured_units(remedy)[0]
        adding = Addition(remedy, step, unit)
        result = top_up(herb, tried.rows, adding, place=self.place.currentData())
        if not result.amount:
            template = self.tr("{herb} is already {band}; nothing needs to be added.")
            return template.format(herb=herb.name, band=band_words(result.band)), None
        text = self._sentence(result, remedy, herb.name)
        if remedy.id == self.before.remedy.id:
            return self._applied(text, result, tried)
        return text + self.tr(" Give it in the course as a line of its own."), None

    def _sentence(self, result: TopUp, remedy: Remedy, herb: str) -> str:
        template = self.tr(
            "{amount} more of {remedy} a day brings {herb} to {percent} % of its maximum: {band}."
        )
        return reservations_text(result.reservations) + template.format(
            amount=plain_amount(result.amount, result.unit),
            remedy=remedy.name,
            herb=herb,
            percent=rounded(result.fraction * 100, 1),
            band=band_words(result.band),
        )

    def _applied(self, text: str, result: TopUp, tried: Trial) -> tuple[str, Formula | None]:
        """The trial dose with what is added shared out among the timed doses."""
        directions = tried.directions
        if directions.unit is not result.unit or not tried.timed:
            return text, None
        more = replace(directions, amount=directions.amount + result.amount / tried.timed)
        template = self.tr(" Apply changes the trial dose to {dose} ({amount} each time).")
        unit: Unit = directions.unit
        each = f"{exact_text(more.amount)} {unit}"
        return text + template.format(dose=more, amount=each), replace(
            self.before, tried=str(more)
        )
