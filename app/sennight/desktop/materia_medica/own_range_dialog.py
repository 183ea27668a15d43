"""The dialog in which the practice enters a range of its own for a herb."""

from __future__ import annotations

from fractions import Fraction

from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, TypedField, explained, read_field
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.parts.amounts_reading import (
    Bounds,
    read_number,
    read_ratio,
)
from sennight.desktop.parts.range_bar import form_words, grams_text
from sennight.domain.amounts import plain_number
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import Herb
from sennight.domain.herbs.own_herbs import OwnRange, published_maximum
from sennight.domain.remedies.remedy_words import ratio_words


def _read_daily(text: str) -> Fraction:
    what = translate("Herbs", "an amount a day, for example 3")
    return read_number(text, Bounds(what, 10_000, from_low=True))


class OwnRangeDialog(FormDialog):
    """Asks for a range of the practice's own for one herb and form.

    `answer` is the range, `dropped` the form whose range is to be taken back.
    """

    def __init__(
        self,
        parent: QWidget | None,
        herb: Herb,
        supplied: Herb | None,
        ranges: tuple[OwnRange, ...],
    ) -> None:
        title = translate("Herbs", "Own range for {herb}").format(herb=herb.name)
        super().__init__(parent, title, do=translate("Herbs", "Save"))
        self._herb, self._supplied = herb, supplied
        self._ranges = {own_range.form: own_range for own_range in ranges}
        self.answer: OwnRange | None = None
        self.dropped: TakenAs | None = None
        self._fields = FieldForm()
        self._make_fields()
        self.message = text_label("", Role.ALARM, wrap=True)
        self.foot.addWidget(self.message)
        note = self.tr(
            "Your own range is used before the published ones wherever amounts are compared, "
            "and is marked as the practice’s own. The published ones stay beside it."
        )
        self.foot.addWidget(text_label(note, Role.QUIET, wrap=True))
        self._fields.keep_together()
        self.set_body(self._fields, columns=74, lines=36)
        self._show_form()

    def _make_fields(self) -> None:
        self.form = QComboBox()
        for form in TakenAs:
            self.form.addItem(form_words(form), form)
        self.low, self.high = TypedField(_read_daily), TypedField(_read_daily)
        self.ratio = TypedField(read_ratio, placeholder="1:5")
        self.reference = QLineEdit()
        self._fields.row(self.tr("Taken as"), self.form)
        self._low_row, self._high_row = self._fields.line(
            (self.tr("Minimum per day"), self.low), (self.tr("Maximum per day"), self.high)
        )
        self._ratio_row = self._fields.row(self.tr("Of a tincture in the ratio"), self.ratio)
        self._fields.row(self.tr("Source"), self.reference)
        self.drop = button(self.tr("Use the published range"), kind="link")
        self._fields.place(self.drop)
        self.drop.setAccessibleName(self.drop.text())
        for row, field in (
            (self._low_row, self.low),
            (self._high_row, self.high),
            (self._ratio_row, self.ratio),
        ):
            explained(row, field, lambda _: "")
            field.textChanged.connect(self._say_beyond)
        self.form.currentIndexChanged.connect(self._show_form)
        self.drop.clicked.connect(self._drop)

    @property
    def _form(self) -> TakenAs:
        """The form chosen; Qt gives its text back alone."""
        return TakenAs(self.form.currentData())

    def _show_form(self) -> None:
        form = self._form
        liquid, own_range = form is TakenAs.LIQUID, self._ranges.get(form)
        unit = OwnRange(self._herb.id, form, Fraction(0), Fraction(0)).unit
        self._low_row.label.setText(self.tr("Minimum per day, {unit}").format(unit=unit))
        self._high_row.label.setText(self.tr("Maximum per day, {unit}").format(unit=unit))
        self._ratio_row.setVisible(liquid)
        self.low.setText(plain_number(own_range.low) if own_range else "")
        self.high.setText(plain_number(own_range.high) if own_range else "")
        self.ratio.setText(ratio_words(own_range.ratio) if own_range and own_range.ratio else "")
        self.reference.setText(own_range.reference if own_range else "")
        self.drop.setVisible(own_range is not None)
        self._say_beyond()

    def _read(self) -> OwnRange | None:
        """The range as typed; None where something is missing or wrong, then shown."""
        low, high = read_field(self._low_row, self.low), read_field(self._high_row, self.high)
        liquid = self._form is TakenAs.LIQUID
        ratio = read_field(self._ratio_row, self.ratio) if liquid else None
        if low is None or high is None or (liquid and ratio is None):
            return None
        reference = " ".join(self.reference.text().split())
        return OwnRange(self._herb.id, self._form, low, high, ratio, reference)

    def _say_beyond(self) -> None:
        """Say where the range goes beyond what is published, while it is typed."""
        try:
            low, high, ratio = self.low.value(), self.high.value(), self.ratio.value()
        except ValueError:
            low = high = ratio = None
        self.message.setText("")
        form = self._form
        if low is None or high is None or (form is TakenAs.LIQUID and ratio is None):
            return
        own_range = OwnRange(self._herb.id, form, low, high, ratio)
        most = published_maximum(own_range, self._supplied)
        if most is not None:
            template = self.tr(
                "This exceeds the published maximum of {most} g of dried herb a day."
            )
            self.message.setText(template.format(most=grams_text(most)))

    def submit(self) -> None:
        """Take the range, where it is one."""
        for row, field in ((self._low_row, self.low), (self._high_row, self.high)):
            if not field.text().strip():
                row.wrong(self.tr("Enter an amount a day, for example 3"))
        if self._form is TakenAs.LIQUID and not self.ratio.text().strip():
            self._ratio_row.wrong(self.tr("Enter a ratio, for example 1:5"))
        own_range = self._read()
        if own_range is not None and (own_range.low > own_range.high or own_range.high <= 0):
            self._high_row.wrong(self.tr("The maximum must be above 0 and not below the minimum"))
            own_range = None
        if own_range is None:
            self._fields.to_first_wrong()
            return
        self.answer = own_range
        self.accept()

    def _drop(self) -> None:
        self.dropped = self._form
        self.accept()
