"""How a remedy is made and measured: the fields that belong to its form, family by family."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import TypeVar, assert_never

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QLineEdit, QVBoxLayout, QWidget

from sennight.desktop.kit.forms import FieldForm, FieldRow, TypedField, read_field
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.amounts_reading import (
    read_base_parts,
    read_batch,
    read_container,
    read_dropperful,
    read_drops,
    read_grams,
    read_minutes,
    read_packet,
    read_spoon,
    read_sugar,
    read_water,
)
from sennight.desktop.remedies.parts_model import FormulaEditRequest
from sennight.domain.amounts import plain_number
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.remedies.form_facts import Composition
from sennight.domain.remedies.forms import Form, is_made_in_water
from sennight.domain.remedies.portions import container_units, measured_units
from sennight.domain.remedies.remedies import Base, Method, Portion, Remedy, TeaMaking
from sennight.domain.supply.quantities import Quantity
from sennight.domain.supply.settings import USUAL_SUPPLY, SupplySettings

Value = TypeVar("Value")


def method_name(method: Method) -> str:
    """A way of drawing herbs out with water."""
    match method:
        case Method.INFUSION:
            return translate("Formula", "Infusion: boiling water, left to stand")
        case Method.DECOCTION:
            return translate("Formula", "Decoction: simmered")
        case Method.MACERATION:
            return translate("Formula", "Maceration: cold water, left to stand")
        case _:
            assert_never(method)


def _number(value: Fraction | None) -> str:
    return "" if value is None else plain_number(value)


class Making(QWidget):
    """The fields of a remedy's form; `asked` carries the edits.

    `usual` is what the practice's containers hold.
    """

    asked = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._remedy = Remedy("", "", Form.TEA, ())
        self.usual = USUAL_SUPPLY
        self._water, self._spoon = FieldForm(), FieldForm()
        self._liquid, self._base, self._packet = FieldForm(), FieldForm(), FieldForm()
        self._handed_out = FieldForm()
        self._make_water()
        self._make_spoon()
        self._make_base()
        self._make_liquid()
        self._make_packet()
        self._make_container()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        forms = (self._water, self._spoon, self._base, self._packet, self._liquid)
        for fields in (*forms, self._handed_out):
            layout.addWidget(fields)

    # The families' fields

    def _make_water(self) -> None:
        self.grams, self.water = TypedField(read_grams), TypedField(read_water)
        self.minutes = TypedField(read_minutes)
        self.method = QComboBox()
        for method in Method:
            self.method.addItem(method_name(method), method)
        self._water.heading(self.tr("Making one batch with water"))
        grams, water, minutes = self._water.narrow_line(
            (self.tr("Grams of the mixture"), self.grams),
            (self.tr("mL of water"), self.water),
            (self.tr("Minutes"), self.minutes),
        )
        self._water.row(self.tr("Method"), self.method)
        self._watch(grams, self.grams, _of_tea(lambda tea, new: replace(tea, grams_per_cup=new)))
        self._watch(water, self.water, _of_tea(lambda tea, new: replace(tea, water_ml=new)))
        self._watch(minutes, self.minutes, _of_tea(lambda tea, new: replace(tea, minutes=new)))
        self.method.activated.connect(lambda _n: self._ask_method())

    def _make_spoon(self) -> None:
        self.spoon, self.stirred = TypedField(read_spoon), QLineEdit()
        weigh = self.tr("A level teaspoon of a powder weighs about 1.5 to 3 g. Weigh one.")
        spoon = self._spoon.row(self.tr("Grams in a teaspoon"), self.spoon, help_text=weigh)
        into = self._spoon.row(self.tr("Stirred into"), self.stirred)
        self.stirred.setPlaceholderText(self.tr("water, yoghurt or porridge"))
        self._watch(spoon, self.spoon, lambda remedy, new: replace(remedy, spoon_g=new))
        self._watch_text(into, self.stirred, lambda remedy, new: replace(remedy, stirred_into=new))

    def _make_base(self) -> None:
        self.base, self.base_parts = QLineEdit(), TypedField(read_base_parts)
        self.sugar, self.batch = TypedField(read_sugar), TypedField(read_batch)
        self.base.setPlaceholderText(self.tr("None"))
        name, self._parts, self._sugar, self._batch = self._base.narrow_line(
            (self.tr("Base"), self.base),
            (self.tr("Parts of the base"), self.base_parts),
            (self.tr("g of sugar in 100 mL"), self.sugar),
            (self.tr("Grams that the drops go into"), self.batch),
        )
        self._watch_text(name, self.base, _of_base(lambda base, new: replace(base, name=new)))
        self._watch(self._parts, self.base_parts, _of_base(_with_parts))
        self._watch(self._sugar, self.sugar, _of_base(_with_sugar))
        self._watch(self._batch, self.batch, lambda remedy, new: replace(remedy, batch_g=new))

    def _make_liquid(self) -> None:
        self.drops = TypedField(read_drops, placeholder="20")
        self.dropperful = TypedField(read_dropperful, placeholder=self.tr("1 mL, or 30 drops"))
        count = self.tr("20 for water; alcohol gives 30 to 60. Count the drops that fill 1 mL.")
        fill = self.tr("Droppers differ. Fill this one, and measure the mL or count the drops.")
        drops, holds = self._liquid.line(
            (self.tr("Drops in 1 mL"), self.drops, count),
            (self.tr("One dropperful holds"), self.dropperful, fill),
        )
        self._watch(drops, self.drops, lambda remedy, new: replace(remedy, drops_per_ml=new))
        self._watch_measure(
            holds, self.dropperful, lambda remedy, new: replace(remedy, dropperful=new)
        )

    def _make_packet(self) -> None:
        self.packet = TypedField(read_packet, placeholder=self.tr("1 piece"))
        told = self.tr("As its packet says, for example 5 mL, 1 scoop or 2 capsules.")
        (row,) = self._packet.line((self.tr("The mg are for"), self.packet, told))
        self._watch_measure(row, self.packet, lambda remedy, new: replace(remedy, mg_in=new))

    def _make_container(self) -> None:
        self.container = TypedField(lambda text: read_container(self._remedy.form, text))
        told = self.tr("Supply and labels count in containers of this size.")
        (row,) = self._handed_out.line((self.tr("One container holds"), self.container, told))
        self._watch_measure(
            row, self.container, lambda remedy, new: replace(remedy, container=new)
        )

    # Edits

    def _watch(
        self,
        row: FieldRow,
        field: TypedField[Value],
        change: Callable[[Remedy, Value], Remedy],
    ) -> None:
        def left() -> None:
            new = read_field(row, field)
            if new is not None:
                row.explain("")
                self._ask(row.label.text(), change(self._remedy, new))

        field.editingFinished.connect(left)
        field.textEdited.connect(lambda: self._clear(row, field))

    def _watch_measure(
        self,
        row: FieldRow,
        field: TypedField[Portion],
        change: Callable[[Remedy, Portion | None], Remedy],
    ) -> None:
        """A measure, which is not said where the field is left empty."""

        def left() -> None:
            row.explain("")
            new = read_field(row, field)
            if not row.is_wrong:
                self._ask(row.label.text(), change(self._remedy, new))

        field.editingFinished.connect(left)
        field.textEdited.connect(lambda: self._clear(row, field))

    def _watch_text(
        self, row: FieldRow, field: QLineEdit, change: Callable[[Remedy, str], Remedy]
    ) -> None:
        def left() -> None:
            new = " ".join(field.text().split())
            self._ask(row.label.text(), change(self._remedy, new))

        field.editingFinished.connect(left)

    def _clear(self, row: FieldRow, field: TypedField[Value]) -> None:
        """What was wrong is wrong no longer once it can be read."""
        try:
            field.value()
        except ReadingError:
            return
        row.explain("")

    def _ask_method(self) -> None:
        tea = self._remedy.tea
        if tea is not None:
            changed = replace(tea, method=Method(self.method.currentData()))
            self._ask(self.tr("Method"), replace(self._remedy, tea=changed))

    def _ask(self, what: str, remedy: Remedy) -> None:
        if remedy != self._remedy:
            words = self.tr("Change {what}").format(what=what[:1].lower() + what[1:])
            self.asked.emit(FormulaEditRequest(words, remedy))

    # Showing

    def show_remedy(self, remedy: Remedy) -> None:
        """Show how a remedy is made."""
        before, self._remedy = self._remedy, remedy
        facts, fresh = remedy.form.facts, before.id != remedy.id
        by_volume = facts.composition is Composition.BY_VOLUME
        in_base = facts.composition is Composition.IN_BASE
        self._water.setVisible(is_made_in_water(remedy.form))
        self._spoon.setVisible(facts.has_spoon)
        self._base.setVisible(by_volume or in_base)
        self._liquid.setVisible(Unit.DROPPERFUL in measured_units(remedy))
        self._packet.setVisible(not facts.own_formula)
        self._parts.setVisible(by_volume)
        self._sugar.setVisible(facts.has_sugar)
        self._batch.setVisible(in_base)
        self.container.setPlaceholderText(_usual_container(remedy.form, self.usual))
        self._show_tea(before.tea, remedy.tea, fresh=fresh)
        base, old = remedy.base or Base(), before.base or Base()
        for field, then, now in (
            (self.drops, _number(before.drops_per_ml), _number(remedy.drops_per_ml)),
            (self.spoon, _number(before.spoon_g), _number(remedy.spoon_g)),
            (self.stirred, before.stirred_into, remedy.stirred_into),
            (self.base, old.name, base.name),
            (self.base_parts, _number(old.parts), _number(base.parts)),
            (self.sugar, _number(old.sugar), _number(base.sugar)),
            (self.batch, _number(before.batch_g), _number(remedy.batch_g)),
            (self.dropperful, _portion(before.dropperful), _portion(remedy.dropperful)),
            (self.packet, _portion(before.mg_in), _portion(remedy.mg_in)),
            (self.container, _portion(before.container), _portion(remedy.container)),
        ):
            if fresh or then != now:
                field.setText(now)

    def _show_tea(self, old: TeaMaking | None, tea: TeaMaking | None, *, fresh: bool) -> None:
        if tea is not None and (fresh or old != tea):
            self.grams.setText(plain_number(tea.grams_per_cup))
            self.water.setText(plain_number(tea.water_ml))
            self.minutes.setText(str(tea.minutes))
            self.method.setCurrentIndex(list(Method).index(tea.method))


def _usual_container(form: Form, usual: SupplySettings) -> str:
    """What the practice's own container of that form holds, where it is not said of a remedy."""
    unit = container_units(form)[0]
    size = usual.size_in(unit)
    return "" if size is None else quantity_words(Quantity(size, unit))


def _portion(portion: Portion | None) -> str:
    return "" if portion is None else quantity_words(Quantity(portion.amount, portion.unit))


def _of_tea(
    change: Callable[[TeaMaking, Value], TeaMaking],
) -> Callable[[Remedy, Value], Remedy]:
    """A change of how it is made in water, as one of the remedy."""
    return lambda remedy, new: (
        replace(remedy, tea=change(remedy.tea, new)) if remedy.tea else remedy
    )


def _of_base(change: Callable[[Base, Value], Base]) -> Callable[[Remedy, Value], Remedy]:
    """A change of the base, as one of the remedy; a base of which nothing is said is none."""

    def changed(remedy: Remedy, new: Value) -> Remedy:
        base = change(remedy.base or Base(), new)
        return replace(remedy, base=None if base == Base() else base)

    return changed


def _with_parts(base: Base, parts: Fraction) -> Base:
    return replace(base, parts=parts)


def _with_sugar(base: Base, sugar: Fraction) -> Base:
    return replace(base, sugar=sugar)
