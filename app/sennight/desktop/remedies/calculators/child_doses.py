"""The old rules for the young and the light, side by side; none is ever applied by itself."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from fractions import Fraction

from PySide6.QtWidgets import QComboBox, QWidget

from sennight.desktop.kit.forms import TypedField, explained
from sennight.desktop.kit.reading import ReadingError, read_weight
from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.amounts_reading import Bounds, read_number
from sennight.desktop.remedies.calculators.base import CalculatorDialog, exact_text
from sennight.desktop.remedies.formula import Formula
from sennight.domain.amounts import plain_number, rounded
from sennight.domain.courses.clients import Client
from sennight.domain.directions.plain_words import listed
from sennight.domain.formulas.children import (
    Child,
    ChildTable,
    Estimate,
    child_table,
    completed_months,
)
from sennight.domain.herbs.child_doses import NO_LONGER_A_CHILD
from sennight.domain.herbs.herbs import MateriaMedica, Stated
from sennight.domain.herbs.sources import Basis


def _read_years(text: str) -> Fraction:
    what = translate("Formula", "an age in years, for example 8 or 8.5")
    return read_number(text, Bounds(what, 120, from_low=True))


def _read_height(text: str) -> Fraction:
    return read_number(text, Bounds(translate("Formula", "a height in cm, for example 130"), 250))


def _rule_words(estimate: Estimate) -> str:
    """A rule in words, with its source where it has one."""
    common = estimate.from_where == "common practice"
    return estimate.says if common else f"{estimate.says}; {estimate.from_where}"


def _memory(age: Stated) -> str:
    read = age.origin.basis is Basis.READ
    return "" if read else translate("Formula", " (not yet checked)")


class ChildDoseDialog(CalculatorDialog):
    """A table of what each rule makes of the trial dose for an age, a weight and a height."""

    def __init__(
        self,
        parent: QWidget | None,
        before: Formula,
        materia_medica: MateriaMedica,
        *,
        clients: tuple[Client, ...],
        today: Callable[[], date],
    ) -> None:
        title = self.tr("Doses by age and weight")
        super().__init__(parent, title, before, materia_medica)
        self._today = today
        self._clients = clients
        self._estimates: tuple[Estimate, ...] = ()
        self.main_button.hide()
        self.leave_button.setText(self.tr("Close"))
        self._make_fields()
        self.quiet(
            self.tr(
                "These rules estimate a dose from the adult dose. Most are old, and they "
                "disagree with each other; where no source is named, the rule is common "
                "practice. None is applied automatically. A herb's stated minimum age comes "
                "before every rule. No such rule is published for older people; starting low and "
                "increasing slowly is common practice."
            )
        )
        self.ready(columns=104, lines=46)

    def _make_fields(self) -> None:
        self.client = QComboBox()
        self.client.addItem(self.tr("no client"), None)
        for client in self._clients:
            self.client.addItem(client.name, client)
        self.age = TypedField(_read_years, placeholder=self.tr("such as 8"))
        self.weight = TypedField(read_weight, placeholder=self.tr("such as 25"))
        self.tall = TypedField(_read_height, placeholder=self.tr("such as 130"))
        self.fields.row(self.tr("Client"), self.client)
        rows = self.fields.line(
            (self.tr("Age in years"), self.age),
            (self.tr("Weight in kg"), self.weight),
            (self.tr("Height in cm"), self.tall),
        )
        for row, field in zip(rows, (self.age, self.weight, self.tall), strict=True):
            explained(row, field, lambda _: "")
        headings = (self.tr("Rule"), self.tr("What it says"), self.tr("Part"), self.tr("Dose"))
        self.model = TextTable(headings, self)
        self.rows = RowsView(self.model, shares=(3, 9, 3, 5))
        self.rows.fit_height(self.fontMetrics().height() * 6, self.fontMetrics().height() * 24)
        self._rows_row = self.fields.row(
            self.tr("What each rule makes of the adult’s dose"), self.rows
        )
        self.client.currentIndexChanged.connect(self._take_client)

    def _take_client(self) -> None:
        client: Client | None = self.client.currentData()
        if client is None:
            return
        months = completed_months(client.born, self._today()) if client.born else None
        self.age.setText("" if months is None else rounded(Fraction(months, 12), 2))
        self.weight.setText(plain_number(client.weight_kg) if client.weight_kg else "")

    def work_out(self) -> tuple[str, Formula | None]:
        """The table, and whether a herb's stated age goes before it."""
        age, directions = self.age.value(), self.before.directions
        if age is None:
            self._show(())
            return self.tr("Type an age, or choose a client."), None
        if directions is None:
            raise ReadingError(self.tr("Enter a valid trial dose"))
        months = round(age * 12)
        child = Child(months, self.weight.value(), self.tall.value())
        herbs = [
            self.materia_medica.herb(ingredient.herb)
            for ingredient in self.before.remedy.ingredients
        ]
        table = child_table(directions.amount, child, [herb for herb in herbs if herb])
        self._show(table.estimates)
        return f"{self._sentence(table)}{self._alcohol(months)}", None

    def _alcohol(self, months: int) -> str:
        """That a liquid with alcohol is not for a child."""
        remedy = self.before.remedy
        has_alcohol = remedy.form.facts.has_ethanol and any(
            ingredient.ethanol != 0 for ingredient in remedy.ingredients
        )
        if not has_alcohol or months >= NO_LONGER_A_CHILD * 12:
            return ""
        return self.tr(" It contains alcohol: for children under 12 give a form without it.")

    def _show(self, estimates: tuple[Estimate, ...]) -> None:
        self._estimates = estimates
        self.model.show_rows(len(estimates), self._cells)
        self._rows_row.setVisible(bool(estimates))

    def _cells(self, row: int) -> tuple[str, ...]:
        estimate, directions = self._estimates[row], self.before.directions
        if estimate.part is None or estimate.dose is None or directions is None:
            needs = self.tr("needs {what}").format(what=estimate.needs)
            return estimate.rule, _rule_words(estimate), "", needs
        part = f"{rounded(estimate.part * 100, 1)} %"
        dose = f"{exact_text(estimate.dose)} {directions.unit}"
        return estimate.rule, _rule_words(estimate), part, dose

    def _sentence(self, table: ChildTable) -> str:
        if table.is_barred:
            barred = listed(
                [
                    self.tr("{herb} from {years} years{memory}").format(
                        herb=self.herb_name(herb),
                        years=plain_number(age.value),
                        memory=_memory(age),
                    )
                    for herb, age in table.barred
                ]
            )
            template = self.tr(
                "Too young by the herbs’ own minimum age, whatever a rule gives: {herbs}."
            )
            return template.format(herbs=barred)
        doses = [estimate.dose for estimate in table.estimates if estimate.dose is not None]
        directions = self.before.directions
        if not doses or directions is None:
            return self.tr("No rule gives a dose for this.")
        template = self.tr(
            "The rules give from {least} to {most} {unit} in one dose, against {adult}; use the "
            "lowest, and a dose published for the age before any rule."
        )
        return template.format(
            least=exact_text(min(doses)),
            most=exact_text(max(doses)),
            unit=directions.unit,
            adult=f"{plain_number(directions.amount)} {directions.unit}",
        )
