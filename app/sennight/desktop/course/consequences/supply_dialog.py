"""The dialog that tells how much the course takes on which days, and what goes into that."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from PySide6.QtWidgets import QComboBox, QLabel, QVBoxLayout, QWidget

from sennight.desktop.kit.date_field import DateField
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, explained
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.amounts import rounded
from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.directions.plain_words import counted, plain_date, plain_dates
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.dispensary.material_words import material_words
from sennight.domain.dispensary.taken_within import Taken, taken_within
from sennight.domain.tag_words import upper_first
from sennight.practice.course_reading import CourseReading


class SupplyDialog(FormDialog):
    """Asks for which days, and says how much of each remedy and of what goes in."""

    def __init__(
        self, reading: CourseReading, visit: date | None, parent: QWidget | None = None
    ) -> None:
        super().__init__(
            parent, translate("Supply", "How much is taken"), do=translate("Supply", "Close")
        )
        self.leave_button.hide()
        self._reading = reading
        self.days, self.until = QComboBox(), DateField(reading.today)
        self._spans = tuple(self._offered(visit))
        for words, _ in self._spans:
            self.days.addItem(words)
        form = FieldForm()
        form.row(self.tr("On which days"), self.days)
        self._until_row = form.row(self.tr("The last day"), self.until)
        explained(self._until_row, self.until, plain_date)
        self._told = QWidget()
        self._lines = QVBoxLayout(self._told)
        self._lines.setContentsMargins(0, 0, 0, 0)
        form.place(self._told)
        form.keep_together()
        self.set_body(form, columns=84, lines=32)
        self.days.currentIndexChanged.connect(self._show)
        self.until.textChanged.connect(self._show)
        self._show()

    def _offered(self, visit: date | None) -> Iterator[tuple[str, Span | None]]:
        """The days to choose from; None for those up to a day that is typed."""
        if visit is not None:
            words = self.tr("To the next review, {day}").format(day=plain_date(visit))
            yield words, Span(self._first, visit + ONE_DAY)
        for run in self._reading.layout.phases:
            name = upper_first(run.phase.id)
            yield f"{name}, {plain_dates(run.span)}", run.span
        yield self.tr("The whole course"), self._reading.layout.days
        yield self.tr("To a day…"), None

    @property
    def _first(self) -> date:
        return max(self._reading.today, self._reading.layout.days.first)

    @property
    def span(self) -> Span | None:
        """The days in hand; None while none is typed."""
        _, span = self._spans[self.days.currentIndex()]
        if span is not None:
            return span
        try:
            last = self.until.value()
        except ReadingError:
            return None
        return None if last is None or last < self._first else Span(self._first, last + ONE_DAY)

    def lines(self) -> tuple[tuple[str, str], ...]:
        """Each remedy with its amount, and what goes into it."""
        reading = self._reading
        found = taken_within(reading.layout, self.span, reading.settings) if self.span else ()
        return tuple((self._amount(taken), self._contents(taken)) for taken in found)

    def _amount(self, taken: Taken) -> str:
        words = f"{taken.remedy.name}: {quantity_words(taken.amount)}"
        if taken.containers is None:
            return words
        return f"{words}, {counted(taken.containers, self.tr('container'))}"

    def _contents(self, taken: Taken) -> str:
        names = self._reading.materia_medica.names
        return "; ".join(
            f"{rounded(amount, 1)} {material.unit} {material_words(material, names)}"
            for material, amount in taken.materials
        )

    def _show(self) -> None:
        """Say it for the days in hand."""
        self._until_row.setVisible(self._spans[self.days.currentIndex()][1] is None)
        for label in self._told.findChildren(QLabel):
            label.setParent(None)
            label.deleteLater()
        told = self.lines() or ((self.tr("Nothing is taken on these days."), ""),)
        for amount, contents in told if self.span else ():
            self._lines.addWidget(text_label(amount, Role.STRONG, wrap=True))
            if contents:
                self._lines.addWidget(text_label(contents, Role.QUIET, wrap=True))
