"""The dialog that asks how much of a material is always to be in stock."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from PySide6.QtWidgets import QComboBox, QWidget

from sennight.desktop.dispensary.reading import read_found
from sennight.desktop.dispensary.words import unit_words
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, TypedField, read_field
from sennight.desktop.kit.translating import translate
from sennight.domain.amounts import rounded
from sennight.domain.dispensary.material_words import material_words
from sennight.domain.dispensary.stock import Material


class MinimumDialog(FormDialog):
    """Asks for a material and an amount; `answer` has both, 0 for no minimum."""

    def __init__(
        self,
        parent: QWidget | None,
        materials: Sequence[Material],
        kept: Mapping[Material, Fraction],
        names: Mapping[str, str],
        *,
        chosen: Material | None = None,
    ) -> None:
        super().__init__(
            parent,
            translate("Dispensary", "Always keep in stock"),
            do=translate("Dispensary", "Save"),
        )
        self._materials, self._kept = tuple(materials), kept
        self.answer: tuple[Material, Fraction] | None = None
        self.what, self.amount = QComboBox(), TypedField(read_found)
        self.what.addItems([material_words(material, names) for material in self._materials])
        self._form = FieldForm()
        self._form.row(self.tr("What"), self.what)
        self._row = self._form.row(
            self.tr("Amount"),
            self.amount,
            help_text=self.tr("When less would be left, it is listed to order. 0: keep none."),
        )
        self._form.keep_together()
        self.what.currentIndexChanged.connect(self._show)
        if chosen in self._materials:
            self.what.setCurrentIndex(self._materials.index(chosen))
        self._show()
        self.set_body(self._form, columns=66, lines=18)

    def _show(self) -> None:
        material = self._materials[self.what.currentIndex()]
        held = self._kept.get(material)
        self._before = "" if held is None else rounded(held, 2)
        self.amount.setText(self._before)
        label = self.tr("Amount, {unit}").format(unit=unit_words(material.unit))
        self._row.label.setText(label)

    def is_changed(self) -> bool:
        """Whether another amount was typed."""
        return self.amount.text().strip() != self._before

    def submit(self) -> None:
        """Take the amount."""
        self._form.clear_wrong()
        amount = read_field(self._row, self.amount)
        if self._form.to_first_wrong():
            return
        self.answer = self._materials[self.what.currentIndex()], amount or Fraction(0)
        self.accept()
