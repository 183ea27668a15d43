"""Enter what is left: what the client brought back, or still has at home, of each remedy."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from PySide6.QtWidgets import QComboBox, QWidget

from sennight.desktop.kit.date_field import DateField
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, FieldRow, TypedField, explained, read_field
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.amounts_reading import Bounds, read_number
from sennight.domain.amounts import rounded
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.supply.quantities import Quantity
from sennight.practice.returned import HadAtHome, Returned, usually_within

MOST = 100_000


def read_left(text: str) -> Fraction:
    """An amount from 0; raises ReadingError."""
    what = translate("LeftDialog", "an amount, for example 0 or 60")
    return read_number(text, Bounds(what, MOST, from_low=True))


@dataclass(frozen=True, slots=True)
class _Fields:
    """What is asked about one remedy, and the rows of those that are typed."""

    had: HadAtHome
    left: TypedField[Fraction]
    within: TypedField[Fraction]
    lost: TypedField[Fraction]
    now: QComboBox
    rows: tuple[FieldRow, ...]

    @property
    def typed(self) -> tuple[TypedField[Fraction], ...]:
        return self.left, self.within, self.lost

    @property
    def texts(self) -> tuple[str, ...]:
        return *(field.text().strip() for field in self.typed), self.now.currentText()

    def show(self, count: Returned | None) -> None:
        """What was said of a day; nothing of another."""
        within = usually_within(self.had.handed.unit) if count is None else count.within
        self.left.setText("" if count is None else rounded(count.left.amount, 2))
        self.within.setText(rounded(within, 2))
        self.lost.setText("0" if count is None else rounded(count.lost, 2))
        self.now.setCurrentIndex(0 if count is None or count.is_kept else 1)


class LeftDialog(FormDialog):
    """Asks how much is left of each remedy that was handed over.

    `kept` is what was counted, `withdrawn` what was said of the day before and is taken back.
    """

    def __init__(
        self,
        course: str,
        had: Sequence[HadAtHome],
        saved: Iterable[Returned],
        today: date,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(
            parent,
            translate("LeftDialog", "What is left"),
            do=translate("LeftDialog", "Save"),
        )
        self._course, self._today = course, today
        self._saved = {(count.day, count.remedy, count.left.unit): count for count in saved}
        self.kept: tuple[Returned, ...] = ()
        self.withdrawn: tuple[Returned, ...] = ()
        self._form = FieldForm()
        self.day = DateField(today, past=True)
        self.day.set_day(today)
        self._day_row = self._form.row(
            self.tr("Counted on"),
            self.day,
            help_text=self.tr("Leave empty what was not counted."),
        )
        explained(self._day_row, self.day, plain_date)
        self.fields = tuple(self._ask(part) for part in had)
        self.day.editingFinished.connect(self._show_day)
        self._form.keep_together()
        self._shown: date | None = None
        self._show_day()
        self.set_body(self._form, columns=96, lines=18 + 6 * len(self.fields))

    def _ask(self, had: HadAtHome) -> _Fields:
        """The fields of one remedy, under its name."""
        unit = str(had.handed.unit)
        self._form.heading(f"{had.letter} {had.name}")
        told = self.tr("{amount} handed over so far")
        self._form.say(told.format(amount=quantity_words(had.handed)))
        left, within, lost = (TypedField(read_left) for _ in range(3))
        now = QComboBox()
        for text in (self.tr("At home"), self.tr("Handed back")):
            now.addItem(text)
        unit = "" if had.handed.unit is Unit.CAPSULE else f", {unit}"
        rows = self._form.line(
            (self.tr("Left{unit}").format(unit=unit), left),
            (self.tr("Give or take{unit}").format(unit=unit), within),
            (self.tr("Spilt or lost{unit}").format(unit=unit), lost),
            (self.tr("Where it is now"), now),
        )
        for row, field in zip(rows, (left, within, lost), strict=False):
            field.setAccessibleName(f"{row.name}, {had.name}")
            explained(row, field, lambda _: "")
        now.setAccessibleName(f"{rows[-1].name}, {had.name}")
        return _Fields(had, left, within, lost, now, rows)

    def _show_day(self) -> None:
        """Show what was said of another day, unless something is typed."""
        try:
            day = self.day.value()
        except ReadingError:
            return
        if day is None or day == self._shown or (self._shown is not None and self._is_typed):
            return
        for fields in self.fields:
            fields.show(self._said(fields, day))
        self._shown, self._begun = day, self._texts()

    def _said(self, fields: _Fields, day: date) -> Returned | None:
        return self._saved.get((day, fields.had.remedy, fields.had.handed.unit))

    def _texts(self) -> tuple[tuple[str, ...], ...]:
        return tuple(fields.texts for fields in self.fields)

    @property
    def _is_typed(self) -> bool:
        return self._texts() != self._begun

    def is_changed(self) -> bool:
        """Whether anything was typed."""
        return self._is_typed

    def submit(self) -> None:
        """Take what was counted, where all of it can be read."""
        self._form.clear_wrong()
        day = read_field(self._day_row, self.day)
        if (day is None or day > self._today) and not self._day_row.is_wrong:
            self._day_row.wrong(self.tr("Enter today or an earlier day"))
        counts = [self._count(fields, day or self._today) for fields in self.fields]
        if day is None or self._form.to_first_wrong():
            return
        self.kept = tuple(count for count in counts if count is not None)
        said = (
            self._said(fields, day) for fields in self.fields if not fields.left.text().strip()
        )
        self.withdrawn = tuple(count for count in said if count is not None)
        self.accept()

    def _count(self, fields: _Fields, day: date) -> Returned | None:
        """What was counted of one remedy; None where nothing was, or where it is wrong."""
        pairs = zip(fields.rows, fields.typed, strict=False)
        left, within, lost = (read_field(row, field) for row, field in pairs)
        if left is None:
            return None
        zero, handed = Fraction(0), fields.had.handed
        if left + (lost or zero) > handed.amount:
            most = self.tr("No more than was handed over: {amount}")
            fields.rows[0].wrong(most.format(amount=quantity_words(handed)))
        amount = Quantity(left, handed.unit)
        is_kept = fields.now.currentIndex() == 0
        return Returned(
            self._course, fields.had.remedy, day, amount, within or zero, lost or zero, is_kept
        )
