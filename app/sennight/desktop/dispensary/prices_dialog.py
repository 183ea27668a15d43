"""The dialog of prices: a rule for all forms, others for some, and what comes out of them."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QWidget

from sennight.desktop.dispensary.reading import read_money
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, FieldRow, TypedField, read_field
from sennight.desktop.kit.room import MOST_WHOLE, fill_room
from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.parts.form_names import form_name
from sennight.domain.amounts import rounded
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.remedies.forms import Form
from sennight.practice.pricing import Priced, PriceRule, Prices

MOST_LETTERS = 4
"""Of a currency's sign."""


class PricesDialog(FormDialog):
    """Asks for the rules; `answer` has them. What they come to was worked out before."""

    def __init__(self, parent: QWidget | None, prices: Prices, listed: Sequence[Priced]) -> None:
        super().__init__(
            parent, translate("Dispensary", "Prices"), do=translate("Dispensary", "Save")
        )
        self._before, self._listed = prices, tuple(listed)
        self._rules: dict[str, PriceRule] = {"": prices.usual, **prices.rules}
        self.answer: Prices | None = None
        self._shown = ""
        self._form = FieldForm()
        self._make_fields(prices)
        self._make_list()
        self._texts: dict[str, tuple[str, ...]] = {}
        self._show_rule()
        self._keep_texts()
        self._begun = dict(self._texts)
        self.set_body(self._form, columns=96, lines=40)

    def _make_fields(self, prices: Prices) -> None:
        self.form, self.currency = QComboBox(), QLineEdit(prices.currency)
        self.form.addItem(self.tr("All forms"), "")
        for form in Form:
            self.form.addItem(form_name(form), str(form))
        self.currency.setMaxLength(MOST_LETTERS)
        fields = (TypedField(read_money), TypedField(read_money), TypedField(read_money))
        self.markup, self.fee, self.tax = fields
        self.step = TypedField(read_money)
        self._form.line((self.tr("For"), self.form), (self.tr("Currency"), self.currency))
        rows = self._form.line(
            (self.tr("Markup, %"), self.markup),
            (self.tr("A container and filling it"), self.fee),
            (self.tr("Tax, %"), self.tax),
            (self.tr("Rounded up to"), self.step),
        )
        self._rows: tuple[FieldRow, ...] = rows
        self.form.currentIndexChanged.connect(self._choose)

    def _make_list(self) -> None:
        headings = (
            self.tr("Remedy"),
            self.tr("Container"),
            self.tr("Contents"),
            self.tr("Price"),
        )
        self.model = TextTable(headings, self)
        self.list = RowsView(self.model, shares=(8, 4, 4, 4))
        self._form.row(self.tr("Prices by the rules as saved"), self.list)
        self.model.show_rows(len(self._listed), self._cells)
        fill_room(self.list)
        if len(self._listed) <= MOST_WHOLE:
            head = self.list.horizontalHeader().sizeHint().height()
            row = self.list.verticalHeader().defaultSectionSize()
            self.list.setMinimumHeight(head + row * len(self._listed) + 2)
        note = self.tr("A price is known where every delivery in a remedy came with its cost.")
        self.save_list = button(self.tr("Save the price list…"))
        line = QHBoxLayout()
        line.addWidget(text_label(note, Role.QUIET, wrap=True), 1)
        line.addWidget(self.save_list)
        self.foot.addLayout(line)

    def _cells(self, row: int) -> tuple[str, ...]:
        priced, words = self._listed[row], self._before.words
        return (
            priced.remedy.name,
            quantity_words(priced.container),
            "" if priced.cost is None else words(priced.cost),
            "" if priced.price is None else words(priced.price.total),
        )

    @property
    def _fields(self) -> tuple[TypedField[Fraction], ...]:
        return self.markup, self.fee, self.tax, self.step

    def _show_rule(self) -> None:
        """What was typed for the form that is chosen, else its rule, else that of all forms."""
        rule = self._rules.get(self._shown)
        texts = self._texts.get(self._shown) or (
            _texts(rule) if rule is not None else self._texts[""]
        )
        for field, text in zip(self._fields, texts, strict=True):
            field.setText(text)

    def _keep_texts(self) -> None:
        self._texts[self._shown] = tuple(field.text() for field in self._fields)

    def _choose(self) -> None:
        """Keep what was typed for one form, and show another one."""
        self._keep_texts()
        self._shown = str(self.form.currentData())
        self._show_rule()

    def _typed(self) -> PriceRule | None:
        self._form.clear_wrong()
        values = [
            read_field(row, field) for row, field in zip(self._rows, self._fields, strict=True)
        ]
        if not values[3] and not self._rows[3].is_wrong:
            self._rows[3].wrong(self.tr("Enter a step above 0, for example 0.05"))
        if self._form.to_first_wrong():
            return None
        markup, fee, tax, step = (value or Fraction(0) for value in values)
        return PriceRule(markup / 100, fee, tax / 100, step)

    def _prices(self) -> Prices | None:
        """The rules as they were typed; None where one is wrong, which is then shown.

        A form that is priced like all others has no rule of its own.
        """
        self._keep_texts()
        rules = dict(self._rules)
        for form in tuple(self._texts):
            self.form.setCurrentIndex(self.form.findData(form))
            rule = self._typed()
            if rule is None:
                return None
            rules[form] = rule
        usual = rules.pop("")
        own = {form: rule for form, rule in rules.items() if rule != usual or form in self._rules}
        return Prices(usual, own, self.currency.text().strip() or self._before.currency)

    def is_changed(self) -> bool:
        """Whether anything was typed."""
        self._keep_texts()
        return self._texts != self._begun or self.currency.text() != self._before.currency

    def submit(self) -> None:
        """Take the rules, where all are right."""
        self.answer = self._prices()
        if self.answer is not None:
            self.accept()


def _texts(rule: PriceRule) -> tuple[str, ...]:
    values = (rule.markup * 100, rule.fee, rule.tax * 100, rule.step)
    return tuple(rounded(value, 2) for value in values)
