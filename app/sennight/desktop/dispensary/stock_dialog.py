"""The dialog in which stock is counted, corrected or thrown away."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction

from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from sennight.desktop.dispensary.reading import read_found
from sennight.desktop.dispensary.words import amount_words, unit_words
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, TypedField, explained, read_field
from sennight.desktop.kit.translating import translate
from sennight.domain.amounts import rounded
from sennight.domain.dispensary.material_words import material_words
from sennight.domain.dispensary.stock import Delivery, Movement, MovementKind

KINDS = (MovementKind.COUNTED, MovementKind.DISCARDED, MovementKind.CORRECTED)


class StockDialog(FormDialog):
    """Asks how much there is, or is thrown away, and why; `answer` is the movement."""

    def __init__(
        self,
        parent: QWidget | None,
        delivery: Delivery,
        on_record: Fraction,
        names: Mapping[str, str],
        today: date,
    ) -> None:
        title = translate("Dispensary", "Stock of {what}")
        what = material_words(delivery.material, names)
        super().__init__(parent, title.format(what=what), do=translate("Dispensary", "Save"))
        self._delivery, self._on_record, self._today = delivery, on_record, today
        self.answer: Movement | None = None
        self._form = FieldForm()
        self._make_fields()
        self._form.keep_together()
        self.set_body(self._form, columns=66, lines=22)
        self._show_kind()

    def _make_fields(self) -> None:
        self.kind = QComboBox()
        for text, kind in zip(
            (
                self.tr("Counted: this much is there"),
                self.tr("Discard this much"),
                self.tr("Correct the record: this much is there"),
            ),
            KINDS,
            strict=True,
        ):
            self.kind.addItem(text, kind)
        self.amount, self.reason = TypedField(read_found), QLineEdit()
        on_record = amount_words(self._on_record, self._delivery.material.unit)
        self._form.row(
            self.tr("What happened"),
            self.kind,
            help_text=self._known(on_record),
        )
        unit = unit_words(self._delivery.material.unit)
        self._amount_row = self._form.row(self.tr("Amount, {unit}").format(unit=unit), self.amount)
        self._reason_row = self._form.row(self.tr("Reason"), self.reason)
        explained(self._amount_row, self.amount, lambda _: "")
        self.kind.currentIndexChanged.connect(self._show_kind)

    def _known(self, on_record: str) -> str:
        told = self.tr("On record: {amount}").format(amount=on_record)
        cost = self._delivery.cost
        if cost is None:
            return told
        words = self.tr("{told}. All of it cost {cost} when it came.")
        return words.format(told=told, cost=rounded(cost, 2))

    @property
    def _kind(self) -> MovementKind:
        return MovementKind(self.kind.currentData())

    def _show_kind(self) -> None:
        self._reason_row.setVisible(self._kind is not MovementKind.COUNTED)

    def is_changed(self) -> bool:
        """Whether something was typed."""
        return bool(self.amount.text().strip() or self.reason.text().strip())

    def submit(self) -> None:
        """Take the movement, where it is one."""
        self._form.clear_wrong()
        kind, reason = self._kind, " ".join(self.reason.text().split())
        amount = read_field(self._amount_row, self.amount)
        if not self.amount.text().strip():
            self._amount_row.wrong(self.tr("Enter an amount, for example 0 or 250"))
        if kind is not MovementKind.COUNTED and not reason:
            self._reason_row.wrong(self.tr("Enter the reason in a few words"))
        is_discarded = kind is MovementKind.DISCARDED
        if amount is not None and is_discarded and not 0 < amount <= self._on_record:
            self._amount_row.wrong(self.tr("Above 0, and no more than is on record"))
        if amount is None or self._form.to_first_wrong():
            return
        change = -amount if is_discarded else amount - self._on_record
        self.answer = Movement(self._delivery.id, self._today, kind, change, reason)
        self.accept()
