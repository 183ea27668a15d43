"""The dialog in which a delivery is entered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import partial

from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from sennight.desktop.dispensary.reading import read_amount, read_extract_ratio, read_money
from sennight.desktop.dispensary.words import amount_words, unit_words
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, FieldRow, TypedField, explained, read_field
from sennight.desktop.kit.name_field import NameField
from sennight.desktop.kit.reading import read_last_day
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.amounts_reading import read_percent, read_ratio
from sennight.domain.amounts import rounded
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.batches import Batch
from sennight.domain.dispensary.material_words import held_words
from sennight.domain.dispensary.stock import Held, Material, material_made
from sennight.practice.dispensary import Received


@dataclass(frozen=True, slots=True)
class MadeHere:
    """A batch of the practice's own for the shelf: what is left of it, from whom, and its cost."""

    batch: Batch
    left: Fraction
    supplier: str
    cost: Fraction | None = None


class ReceiveDialog(FormDialog):
    """Asks what came from whom; `answer` is the delivery. `names` are the herbs' by their ids.

    With `made` it is a batch made here: its supplier, number and date are known.
    """

    def __init__(
        self,
        parent: QWidget | None,
        names: Mapping[str, str],
        today: date,
        made: MadeHere | None = None,
    ) -> None:
        title = translate("Dispensary", "Enter a delivery")
        if made is not None:
            title = translate("Dispensary", "Put {remedy}, batch {number}, on the shelf").format(
                remedy=made.batch.remedy.name, number=made.batch.number
            )
        super().__init__(parent, title, do=translate("Dispensary", "Put into stock"))
        self._made = made
        self._ids = {name: herb for herb, name in names.items()}
        self.answer: Received | None = None
        self._form = FieldForm()
        self._make_fields(tuple(self._ids), today)
        self._form.keep_together()
        self.set_body(self._form, columns=78, lines=28)
        self._show_kind()
        if made is not None:
            self._fill_in(made, names)
        self._begun = self._typed()

    def _fill_in(self, made: MadeHere, names: Mapping[str, str]) -> None:
        """What a batch says of itself; a mixture is something else, under its own name."""
        batch, unit = made.batch, made.batch.amount.unit
        material = material_made(batch.remedy) or Material(batch.remedy.name, Held.OTHER, unit)
        self.kind.setCurrentIndex(list(Held).index(material.held))
        self.unit.setCurrentIndex(self.unit.findData(unit))
        self.name.setText(names.get(material.name, material.name))
        if material.ratio is not None:
            self.ratio.setText(f"1:{rounded(material.ratio, 2)}")
        if material.ethanol is not None:
            self.ethanol.setText(rounded(material.ethanol, 1))
        self.amount.setText(rounded(made.left, 2))
        self.supplier.setText(made.supplier)
        self.batch.setText(batch.number)
        self.best_before.setText(plain_date(batch.use_by))
        if made.cost is not None:
            self.cost.setText(rounded(made.cost, 2))

    def _make_fields(self, names: tuple[str, ...], today: date) -> None:
        self.name, self.kind, self.unit = NameField(names), QComboBox(), QComboBox()
        for held in Held:
            self.kind.addItem(held_words(held), held)
        for unit in (Unit.G, Unit.ML, Unit.CAPSULE):
            self.unit.addItem(unit_words(unit), unit)
        self.ratio, self.ethanol = TypedField(self._read_ratio), TypedField(read_percent)
        self.amount, self.cost = TypedField(read_amount), TypedField(read_money)
        self.supplier, self.batch = QLineEdit(), QLineEdit()
        self.best_before = TypedField(
            partial(read_last_day, today=today), placeholder=self.tr("30 June 2028 or 06/28")
        )
        self._name_row, _ = self._form.line(
            (self.tr("What"), self.name), (self.tr("As"), self.kind)
        )
        self._ratio_row, self._ethanol_row = self._form.line(
            (self.tr("Ratio"), self.ratio), (self.tr("Alcohol, % by volume"), self.ethanol)
        )
        self._amount_row, self._unit_row = self._form.line(
            (self.tr("Amount"), self.amount), (self.tr("In"), self.unit)
        )
        number = self.tr("Batch number") if self._made else self.tr("Supplier’s batch number")
        self._supplier_row, self._batch_row = self._form.line(
            (self.tr("From"), self.supplier), (number, self.batch)
        )
        self._date_row, self._cost_row = self._form.line(
            (self.tr("Best before"), self.best_before), (self.tr("Cost of all of it"), self.cost)
        )
        explained(self._date_row, self.best_before, plain_date)
        for row, field in ((self._amount_row, self.amount), (self._cost_row, self.cost)):
            explained(row, field, lambda _: "")
        self.kind.currentIndexChanged.connect(self._show_kind)

    @property
    def _held(self) -> Held:
        return Held(self.kind.currentData())

    def _read_ratio(self, text: str) -> Fraction:
        return read_ratio(text) if self._held is Held.LIQUID else read_extract_ratio(text)

    def _show_kind(self) -> None:
        held = self._held
        self.ratio.setPlaceholderText("1:5" if held is Held.LIQUID else "4:1")
        self._ratio_row.setVisible(held in (Held.LIQUID, Held.EXTRACT))
        self._ethanol_row.setVisible(held is Held.LIQUID)
        self._unit_row.setVisible(held is Held.OTHER)
        unit = unit_words(self._unit(held))
        is_free = held is Held.OTHER
        words = self.tr("Amount") if is_free else self.tr("Amount, {unit}").format(unit=unit)
        self._amount_row.label.setText(words)

    def is_changed(self) -> bool:
        """Whether something was typed."""
        return self._typed() != self._begun

    def _typed(self) -> tuple[str, ...]:
        what = (self.name, self.ratio, self.ethanol, self.amount)
        fields = (*what, self.supplier, self.batch, self.best_before, self.cost)
        return tuple(field.text().strip() for field in fields)

    def submit(self) -> None:
        """Take the delivery, where all is said."""
        self._form.clear_wrong()
        material, amount = self._material(), self._needed(self._amount_row, self.amount)
        supplier, batch = (" ".join(f.text().split()) for f in (self.supplier, self.batch))
        for row, text in ((self._supplier_row, supplier), (self._batch_row, batch)):
            if not text:
                row.wrong(self.tr("Needed to trace it later"))
        best_before = read_field(self._date_row, self.best_before)
        cost = read_field(self._cost_row, self.cost)
        if self._made is not None and material is not None:
            self._check_batch(self._made, material, amount, best_before)
        if material is None or amount is None or self._form.to_first_wrong():
            return
        self.answer = Received(material, amount, supplier, batch, best_before, cost)
        self.accept()

    def _check_batch(
        self, made: MadeHere, material: Material, amount: Fraction | None, best_before: date | None
    ) -> None:
        """No more than is left, in the batch's own unit, and no longer than it keeps."""
        batch = made.batch
        if material.unit is not batch.amount.unit:
            words = self.tr("This batch is measured in {unit}: choose what it is on the shelf")
            self._name_row.wrong(words.format(unit=unit_words(batch.amount.unit)))
        elif amount is not None and amount > made.left:
            left = amount_words(made.left, batch.amount.unit)
            self._amount_row.wrong(self.tr("{left} left of this batch").format(left=left))
        if best_before is None or best_before > batch.use_by:
            words = self.tr("No later than the batch: {day}")
            self._date_row.wrong(words.format(day=plain_date(batch.use_by)))

    def _needed(self, row: FieldRow, field: TypedField[Fraction]) -> Fraction | None:
        if not field.text().strip():
            row.wrong(self.tr("Enter an amount, for example 250"))
            return None
        return read_field(row, field)

    def _material(self) -> Material | None:
        """The material typed; None where it is none, then said."""
        held, typed = self._held, self.name.typed
        label = self.name.matching_label()
        name = typed if held is Held.OTHER else self._ids.get(label or "", "")
        if not name:
            self._name_row.wrong(
                self.tr("Enter a name")
                if held is Held.OTHER
                else self.tr("No such herb: choose one from the list, or “something else”")
            )
        has_ratio = held in (Held.LIQUID, Held.EXTRACT)
        ratio = read_field(self._ratio_row, self.ratio) if has_ratio else None
        ethanol = read_field(self._ethanol_row, self.ethanol) if held is Held.LIQUID else None
        if not name:
            self._form.to_first_wrong()
            return None
        return Material(name, held, self._unit(held), ratio, ethanol)

    def _unit(self, held: Held) -> Unit:
        if held is Held.OTHER:
            return Unit(self.unit.currentData())
        return Unit.ML if held is Held.LIQUID else Unit.G
