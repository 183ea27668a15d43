"""The dialog in which all that is in stock is counted at once."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import partial

from PySide6.QtWidgets import QWidget

from sennight.desktop.dispensary.reading import read_found
from sennight.desktop.dispensary.words import amount_words, unit_words
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, TypedField, explained, read_field
from sennight.desktop.kit.translating import translate
from sennight.domain.dispensary.material_words import material_words
from sennight.domain.dispensary.stock import Delivery
from sennight.practice.dispensary import Shelf

COLUMNS = 108
"""Columns of text: two deliveries side by side."""


class StocktakeDialog(FormDialog):
    """Asks how much there is of each delivery; `answer` has what was found, by its id."""

    def __init__(self, parent: QWidget | None, shelf: Shelf, names: Mapping[str, str]) -> None:
        super().__init__(
            parent, translate("Dispensary", "Count all"), do=translate("Dispensary", "Save")
        )
        self.answer: dict[str, Fraction] | None = None
        self._form = FieldForm()
        self._form.say(self.tr("Leave empty what you did not count; it stays as it is."))
        there = [delivery for delivery in shelf.deliveries if shelf.stock.get(delivery.id)]
        there.sort(key=lambda delivery: material_words(delivery.material, names).casefold())
        self.fields = {delivery.id: TypedField(read_found) for delivery in there}
        asked = [self._asked(delivery, shelf.stock[delivery.id], names) for delivery in there]
        for n in range(0, len(asked), 2):
            rows = self._form.line(*asked[n : n + 2])
            for row, (_, field, told) in zip(rows, asked[n:], strict=False):
                explained(row, field, partial(_told, told))
        self._form.keep_together()
        self.set_body(self._form, columns=COLUMNS, lines=36)

    def _asked(
        self, delivery: Delivery, on_record: Fraction, names: Mapping[str, str]
    ) -> tuple[str, TypedField[Fraction], str]:
        """The label, the field and the help of a delivery."""
        unit = delivery.material.unit
        label = self.tr("{what}, {supplier} {batch}, {unit}").format(
            what=material_words(delivery.material, names),
            supplier=delivery.supplier,
            batch=delivery.batch,
            unit=unit_words(unit),
        )
        told = self.tr("On record: {amount}").format(amount=amount_words(on_record, unit))
        return label, self.fields[delivery.id], told

    def is_changed(self) -> bool:
        """Whether anything was counted."""
        return any(field.text().strip() for field in self.fields.values())

    def submit(self) -> None:
        """Take what was found, where all of it can be read."""
        self._form.clear_wrong()
        pairs = zip(self._form.rows, self.fields.items(), strict=True)
        found = {name: read_field(row, field) for row, (name, field) in pairs}
        if self._form.to_first_wrong():
            return
        self.answer = {name: amount for name, amount in found.items() if amount is not None}
        self.accept()


def _told(told: str, _amount: Fraction) -> str:
    return told
