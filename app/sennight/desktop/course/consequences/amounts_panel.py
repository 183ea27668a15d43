"""Amounts, among what follows: every herb of the day or phase in hand against its range."""

from __future__ import annotations

from datetime import date

from PySide6.QtWidgets import QVBoxLayout, QWidget

from sennight.desktop.kit.choices import Choices
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.parts.range_bar import RangeBars, bars_of, grams_text
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.exposure.ethanol import (
    has_drunk_ethanol,
)
from sennight.domain.exposure.fullest import fullest
from sennight.practice.course_reading import CourseReading

DAY, PHASE = 0, 1


class AmountsPanel(QWidget):
    """The bars of one day, or the fullest of each herb in one phase, and the ethanol."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._reading: CourseReading | None = None
        self._day, self._phase = date.min, ""
        self.choice = Choices((self.tr("This day"), self.tr("This phase")), theme)
        self.choice.setAccessibleName(self.tr("Amounts of this day or this phase"))
        self.when = text_label("", Role.QUIET, wrap=True)
        self.bars = RangeBars(theme, self.tr("Amounts: each herb against its range"))
        self.ethanol = text_label("", wrap=True)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(text_label(self.tr("Amounts"), Role.HEADING))
        for part in (self.choice, self.when, self.bars, self.ethanol):
            layout.addWidget(part)
        self.choice.chosen.connect(lambda _n: self._update_text())

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.choice.apply_theme(theme)
        self.bars.apply_theme(theme)

    def refresh(self, reading: CourseReading) -> None:
        """Show the amounts of a course."""
        self._reading = reading
        self._update_text()

    def show_day(self, day: date) -> None:
        """Take another day in hand."""
        self._day = day
        if self.choice.currentIndex() == DAY:
            self._update_text()

    def show_phase(self, phase: str) -> None:
        """Take another phase in hand."""
        self._phase = phase
        if self.choice.currentIndex() == PHASE:
            self._update_text()

    def _update_text(self) -> None:
        reading = self._reading
        if reading is None:
            return
        if self.choice.currentIndex() == PHASE and self._phase:
            spans = reading.spans_of(self._phase)
            when = self.tr("The highest days of {phase}")
            self.when.setText(when.format(phase=self._phase))
        else:
            spans = (Span.of_days(self._day, self._day),)
            self.when.setText(plain_date(self._day))
        rows = fullest(reading.exposures, spans)
        self.bars.show_bars(bars_of(rows, reading.materia_medica.names))
        self._say_ethanol(reading, spans)
        if not rows:
            nothing = self.tr("{when}: nothing that is counted is taken.")
            self.when.setText(nothing.format(when=self.when.text()))

    def _say_ethanol(self, reading: CourseReading, spans: tuple[Span, ...]) -> None:
        """The most ethanol in a day of these."""
        days = [
            day for day in reading.ethanol_days if any(day.span.touches(span) for span in spans)
        ]
        known = [day.grams_high for day in days if day.grams_high is not None]
        if days and len(known) == len(days):
            text = self.tr("Ethanol: up to {grams} g a day")
            self.ethanol.setText(text.format(grams=grams_text(max(known))))
        else:
            self.ethanol.setText(self._no_ethanol() if not days else self._unknown())

    def _no_ethanol(self) -> str:
        forms = (
            {remedy.form for remedy in self._reading.course.remedies} if self._reading else set()
        )
        return self.tr("Ethanol: none") if any(map(has_drunk_ethanol, forms)) else ""

    def _unknown(self) -> str:
        return self.tr("Ethanol: not known, since a tincture’s details are incomplete")
