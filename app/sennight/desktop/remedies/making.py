"""How a remedy is made and measured: the fields that belong to its form."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar, assert_never

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QStackedWidget, QWidget

from sennight.desktop.kit.forms import FieldForm, FieldRow, TypedField, read_field
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.amounts_reading import (
    read_drops,
    read_grams,
    read_minutes,
    read_water,
)
from sennight.desktop.remedies.parts_model import FormulaEditRequest
from sennight.domain.amounts import plain_number
from sennight.domain.remedies.forms import Composition, Form, composition_of
from sennight.domain.remedies.remedies import Method, Remedy, TeaMaking

Value = TypeVar("Value")


def method_name(method: Method) -> str:
    """A way of making tea."""
    if method is Method.INFUSION:
        return translate("Formula", "Infusion: boiling water, drawn")
    return translate("Formula", "Decoction: simmered")


class Making(QStackedWidget):
    """The making of a tea, or the drops in one mL; `asked` carries the edits."""

    asked = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._remedy = Remedy("", "", Form.TEA, ())
        self._tea, self._liquid, self._nothing = FieldForm(), FieldForm(), QWidget()
        self._make_tea()
        self._make_liquid()
        for page in (self._tea, self._liquid, self._nothing):
            self.addWidget(page)

    def _make_tea(self) -> None:
        self.grams, self.water = TypedField(read_grams), TypedField(read_water)
        self.minutes = TypedField(read_minutes)
        self.method = QComboBox()
        for method in Method:
            self.method.addItem(method_name(method), method)
        self._tea.heading(self.tr("Making one cup"))
        grams, water, minutes = self._tea.narrow_line(
            (self.tr("Grams of the mixture"), self.grams),
            (self.tr("mL of water"), self.water),
            (self.tr("Minutes"), self.minutes),
        )
        self._tea.row(self.tr("Method"), self.method)
        self._watch(grams, self.grams, lambda tea, new: replace(tea, grams_per_cup=new))
        self._watch(water, self.water, lambda tea, new: replace(tea, water_ml=new))
        self._watch(minutes, self.minutes, lambda tea, new: replace(tea, minutes=new))
        self.method.activated.connect(lambda _n: self._ask_method())

    def _make_liquid(self) -> None:
        self.drops = TypedField(read_drops, placeholder="20")
        row = self._liquid.row(
            self.tr("Drops in 1 mL"),
            self.drops,
            help_text=self.tr(
                "20 for water; alcohol gives 30 to 60. Count the drops that fill 1 mL."
            ),
        )
        self.drops.editingFinished.connect(lambda: self._take_drops(row))
        self.drops.textEdited.connect(lambda: self._clear(row, self.drops))

    def _watch(
        self,
        row: FieldRow,
        field: TypedField[Value],
        change: Callable[[TeaMaking, Value], TeaMaking],
    ) -> None:
        def left() -> None:
            new = read_field(row, field)
            tea = self._remedy.tea
            if new is not None and tea is not None:
                row.explain("")
                self._ask(row.label.text(), replace(self._remedy, tea=change(tea, new)))

        field.editingFinished.connect(left)
        field.textEdited.connect(lambda: self._clear(row, field))

    def _clear(self, row: FieldRow, field: TypedField[Value]) -> None:
        """What was wrong is wrong no longer once it can be read."""
        try:
            field.value()
        except ReadingError:
            return
        row.explain("")

    def _take_drops(self, row: FieldRow) -> None:
        new = read_field(row, self.drops)
        if new is not None:
            row.explain("")
            self._ask(row.label.text(), replace(self._remedy, drops_per_ml=new))

    def _ask_method(self) -> None:
        tea = self._remedy.tea
        if tea is not None:
            changed = replace(tea, method=Method(self.method.currentData()))
            self._ask(self.tr("Method"), replace(self._remedy, tea=changed))

    def _ask(self, what: str, remedy: Remedy) -> None:
        if remedy != self._remedy:
            words = self.tr("Change {what}").format(what=what[:1].lower() + what[1:])
            self.asked.emit(FormulaEditRequest(words, remedy))

    def _page(self, composition: Composition) -> QWidget:
        match composition:
            case Composition.BY_WEIGHT:
                return self._tea
            case Composition.BY_VOLUME:
                return self._liquid
            case Composition.BY_PIECE:
                return self._nothing
            case _:
                assert_never(composition)

    def show_remedy(self, remedy: Remedy) -> None:
        """Show how a remedy is made."""
        before, self._remedy = self._remedy, remedy
        page = self._page(composition_of(remedy.form))
        self.setCurrentWidget(page)
        self.setMaximumHeight(max(0, page.sizeHint().height()))  # −1 for a page with nothing
        fresh = before.id != remedy.id
        if remedy.tea is not None and (fresh or before.tea != remedy.tea):
            self.grams.setText(plain_number(remedy.tea.grams_per_cup))
            self.water.setText(plain_number(remedy.tea.water_ml))
            self.minutes.setText(str(remedy.tea.minutes))
            self.method.setCurrentIndex(list(Method).index(remedy.tea.method))
        if fresh or before.drops_per_ml != remedy.drops_per_ml:
            self.drops.setText(plain_number(remedy.drops_per_ml))
