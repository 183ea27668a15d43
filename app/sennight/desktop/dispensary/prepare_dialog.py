"""The dialog in which a remedy is prepared: what to weigh and measure, and from where."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from fractions import Fraction

from PySide6.QtWidgets import QLineEdit, QWidget

from sennight.desktop.dispensary.reading import read_amount
from sennight.desktop.dispensary.words import amount_words, unit_words
from sennight.desktop.kit.date_field import DateField
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, TypedField, explained, read_field
from sennight.desktop.kit.name_field import NameField
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.amounts import rounded
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.batches import usual_use_by
from sennight.domain.dispensary.material_words import material_words
from sennight.domain.dispensary.preparing import Preparation, ToMeasure, unit_of
from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.supply.quantities import Quantity
from sennight.practice.dispensary import Made

Plan = Callable[[Remedy, Quantity], Preparation]


class PrepareDialog(FormDialog):
    """Asks which remedy and how much, and shows what goes in; `answer` is what to make.

    `plan` works out what to weigh. Ingredients that are not in stock are told and may be used
    all the same: they are kept without a delivery.
    """

    def __init__(
        self,
        parent: QWidget | None,
        remedies: Mapping[str, Remedy],
        names: Mapping[str, str],
        plan: Plan,
        *,
        maker: str,
        today: date,
    ) -> None:
        super().__init__(
            parent,
            translate("Dispensary", "Prepare a remedy"),
            do=translate("Dispensary", "Made: take it from stock"),
        )
        self._remedies, self._names, self._plan, self._today = remedies, names, plan, today
        self.answer: tuple[Remedy, Quantity, Made] | None = None
        self._planned: Preparation | None = None
        self._form = FieldForm()
        self._make_fields(maker)
        self._make_list()
        self.set_body(self._form, columns=100, lines=40)
        self._show()

    def _make_fields(self, maker: str) -> None:
        self.remedy, self.amount = NameField(self._remedies), TypedField(read_amount)
        self.use_by = DateField(self._today)
        self.maker, self.note = QLineEdit(maker), QLineEdit()
        self._remedy_row, self._amount_row = self._form.line(
            (self.tr("Remedy"), self.remedy), (self.tr("Amount"), self.amount)
        )
        self._maker_row, self._use_by_row = self._form.line(
            (self.tr("Made by"), self.maker), (self.tr("Use by"), self.use_by)
        )
        self._form.row(self.tr("Note"), self.note)
        explained(self._amount_row, self.amount, lambda _: "")
        explained(self._use_by_row, self.use_by, plain_date)
        self.remedy.textChanged.connect(self._show)
        self.amount.textChanged.connect(self._show)

    def fill_in(self, remedy: Remedy, amount: Quantity) -> None:
        """Begin with a remedy and an amount."""
        self.remedy.setText(remedy.name)
        self.amount.setText(rounded(amount.amount, 2))

    def _make_list(self) -> None:
        headings = (self.tr("Weigh or measure"), self.tr("Amount"), self.tr("From"))
        self.model = TextTable(headings, self)
        self.rows = RowsView(self.model, shares=(5, 3, 10))
        self.rows.fit_height(self.fontMetrics().height() * 6, self.fontMetrics().height() * 16)
        self._rows_row = self._form.row(self.tr("What goes in"), self.rows)
        self.message = text_label("", Role.ALARM, wrap=True)
        self.foot.addWidget(self.message)

    def _show(self) -> None:
        """Work out what goes in, while it is typed."""
        remedy = self._chosen()
        unit = unit_words(unit_of(remedy.form)) if remedy else "g"
        self._amount_row.label.setText(self.tr("Amount, {unit}").format(unit=unit))
        self._planned, problem = self._prepared(remedy)
        parts = self._planned.to_measure if self._planned else ()
        self.model.show_rows(len(parts), lambda row: self._cells(parts[row]))
        self._rows_row.setVisible(bool(parts))
        self.message.setText(problem or self._missing())
        usual = self._usual_use_by()
        self.use_by.setPlaceholderText(plain_date(usual) if usual else "")
        self.main_button.setEnabled(self._planned is not None)

    def _chosen(self) -> Remedy | None:
        return self._remedies.get(self.remedy.matching_label() or "")

    def _prepared(self, remedy: Remedy | None) -> tuple[Preparation | None, str]:
        try:
            amount = self.amount.value()
        except ReadingError:
            return None, ""
        if remedy is None or amount is None:
            return None, ""
        try:
            return self._plan(remedy, Quantity(amount, unit_of(remedy.form))), ""
        except CalculationError as error:
            return None, str(error)

    def _cells(self, part: ToMeasure) -> tuple[str, ...]:
        unit = part.material.unit
        taken = [
            self.tr("{amount} of {supplier} {batch}").format(
                amount=amount_words(amount, unit), supplier=delivery.supplier, batch=delivery.batch
            )
            for delivery, amount in part.draw.amounts
        ]
        if part.draw.missing:
            missing = amount_words(part.draw.missing, unit)
            taken.append(self.tr("{amount} not in stock").format(amount=missing))
        what = material_words(part.material, self._names)
        return what, amount_words(part.amount, unit), "; ".join(taken)

    def _missing(self) -> str:
        if self._planned is None or not self._planned.missing:
            return ""
        names = ", ".join(
            self._names.get(part.material.name, part.material.name)
            for part in self._planned.missing
        )
        return self.tr(
            "Not enough in stock: {names}. What is missing is recorded without a delivery, and "
            "cannot be traced."
        ).format(names=names)

    def _usual_use_by(self) -> date | None:
        if self._planned is None:
            return None
        dates = (
            delivery.best_before
            for part in self._planned.to_measure
            for delivery, _ in part.draw.amounts
        )
        return usual_use_by(self._planned.remedy, self._today, dates)

    def is_changed(self) -> bool:
        """Whether something was typed."""
        return bool(self.remedy.typed or self.amount.text().strip() or self.note.text().strip())

    def submit(self) -> None:
        """Take what is to be made."""
        self._form.clear_wrong()
        maker = " ".join(self.maker.text().split())
        if not maker:
            self._maker_row.wrong(self.tr("Enter who made it"))
        use_by: date | None = read_field(self._use_by_row, self.use_by)
        if use_by is not None and use_by < self._today:
            self._use_by_row.wrong(self.tr("That day is past"))
        planned = self._planned
        if planned is None or self._form.to_first_wrong():
            return
        note = " ".join(self.note.text().split())
        self.answer = (planned.remedy, planned.amount, Made(maker, use_by, note))
        self.accept()


def left_words(left: Fraction, amount: Quantity) -> str:
    """How much of a batch is left of all of it."""
    template = translate("Dispensary", "{left} of {all}")
    return template.format(
        left=amount_words(left, amount.unit), all=amount_words(amount.amount, amount.unit)
    )
