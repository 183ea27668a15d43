"""The dialog of what a practice sets for its dispensary."""

from __future__ import annotations

from fractions import Fraction

from PySide6.QtWidgets import QWidget

from sennight.desktop.dispensary.reading import (
    read_amount,
    read_days,
    read_share,
    read_spillage,
)
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, FieldRow, TypedField, read_field
from sennight.desktop.kit.translating import translate
from sennight.domain.amounts import rounded
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.preparing import Rounding
from sennight.domain.supply.needs import Allowance
from sennight.domain.supply.settings import SupplySettings
from sennight.practice.dispensary import DispensarySettings


class SettingsDialog(FormDialog):
    """Asks how supply is reckoned and amounts are rounded; `answer` has it."""

    def __init__(self, parent: QWidget | None, settings: DispensarySettings) -> None:
        super().__init__(
            parent, translate("Dispensary", "Dispensary settings"), do=self.tr("Save")
        )
        self.answer: DispensarySettings | None = None
        self._form = FieldForm()
        self._make_fields()
        self._fill(settings)
        self._form.keep_together()
        self.set_body(self._form, columns=78, lines=30)

    def _make_fields(self) -> None:
        self.as_needed, self.spillage = TypedField(read_share), TypedField(read_spillage)
        self.order_days = TypedField(read_days)
        sizes = (TypedField(read_amount), TypedField(read_amount), TypedField(read_amount))
        self.ml, self.grams, self.capsules = sizes
        self.weighed, self.measured = TypedField(read_amount), TypedField(read_amount)
        self._rows: tuple[FieldRow, ...] = (
            self._form.row(
                self.tr("Doses as needed, % of the most allowed"),
                self.as_needed,
                help_text=self.tr("How much of it you expect a client to use"),
            ),
            self._form.row(
                self.tr("Spillage, % on top"),
                self.spillage,
                help_text=self.tr("What is lost in pouring and measuring out"),
            ),
            self._form.row(self.tr("Order how many days before it runs out"), self.order_days),
            *self._form.line(
                (self.tr("A bottle holds, mL"), self.ml),
                (self.tr("A bag holds, g"), self.grams),
                (self.tr("A tub holds, capsules"), self.capsules),
            ),
            *self._form.line(
                (self.tr("Weigh to the nearest, g"), self.weighed),
                (self.tr("Measure to the nearest, mL"), self.measured),
            ),
        )

    @property
    def _fields(self) -> tuple[TypedField[Fraction], ...]:
        return (
            self.as_needed,
            self.spillage,
            self.order_days,
            self.ml,
            self.grams,
            self.capsules,
            self.weighed,
            self.measured,
        )

    def _fill(self, settings: DispensarySettings) -> None:
        supply, steps = settings.supply, settings.rounding.steps
        values = (
            supply.allowance.as_needed * 100,
            supply.allowance.spillage * 100,
            Fraction(supply.order_days),
            supply.ml,
            supply.grams,
            supply.capsules,
            steps[Unit.G],
            steps[Unit.ML],
        )
        for field, value in zip(self._fields, values, strict=True):
            field.setText(rounded(value, 3))
        self._begun = self._texts()

    def _texts(self) -> tuple[str, ...]:
        return tuple(field.text().strip() for field in self._fields)

    def is_changed(self) -> bool:
        """Whether anything was typed."""
        return self._texts() != self._begun

    def submit(self) -> None:
        """Take the settings, where all are right."""
        self._form.clear_wrong()
        typed = [
            read_field(row, field) for row, field in zip(self._rows, self._fields, strict=True)
        ]
        for row, value in zip(self._rows, typed, strict=True):
            if value is None and not row.is_wrong:
                row.wrong(self.tr("Enter a number"))
        if self._form.to_first_wrong():
            return
        as_needed, spillage, days, ml, grams, capsules, weighed, measured = (
            value or Fraction(0) for value in typed
        )
        allowance = Allowance(as_needed / 100, spillage / 100)
        self.answer = DispensarySettings(
            SupplySettings(allowance, ml, grams, capsules, int(days)),
            Rounding({Unit.G: weighed, Unit.ML: measured}),
        )
        self.accept()
