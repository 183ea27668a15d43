"""Amounts, among what follows: every herb of the day or phase in hand against its range."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sennight.desktop.kit.choices import Choices
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.parts.fold import Fold
from sennight.desktop.parts.herb_rows import HerbRow
from sennight.desktop.parts.range_bar import RangeBars, bars_of, grams_text
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.exposure.bands import Band
from sennight.domain.exposure.ethanol import has_drunk_ethanol
from sennight.domain.exposure.exposure import Exposure
from sennight.domain.exposure.fullest import fullest
from sennight.practice.course_reading import CourseReading

DAY, PHASE = 0, 1


class AmountsPanel(Fold):
    """The bars of one day, or the fullest of each herb in one phase, and the ethanol."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(translate("Amounts", "Amounts"), theme)
        self._reading: CourseReading | None = None
        self._day, self._phase = date.min, ""
        self.choice = Choices((self.tr("day"), self.tr("phase")), theme)
        self.choice.setAccessibleName(self.tr("Amounts of this day or this phase"))
        self.when = text_label("", Role.QUIET, wrap=True)
        name = self.tr("Amounts: each herb against its range")
        self.bars = RangeBars(theme, name, drawer=HerbRow)
        self.ethanol = text_label("", Role.QUIET, wrap=True)
        self.head_room.insertWidget(1, self.choice)
        for part in (self.when, self.bars, self.ethanol):
            self.room.addWidget(part)
        self.choice.chosen.connect(lambda _n: self._update_text())
        self.set_open(is_open=True)

    def set_open(self, *, is_open: bool) -> None:
        """The day or the phase is chosen where the herbs are seen."""
        super().set_open(is_open=is_open)
        if hasattr(self, "choice"):
            self.choice.setVisible(is_open)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        super().apply_theme(theme)
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
            self.when.setText(when.format(phase=phase_title(self._phase)))
        else:
            spans = (Span.of_days(self._day, self._day),)
            self.when.setText(plain_date(self._day))
        rows = fullest(reading.exposures, spans)
        self.bars.show_bars(bars_of(rows, reading.materia_medica.names))
        self._say_ethanol(reading, spans)
        self._judge(rows)
        self.when.setVisible(self.choice.currentIndex() == PHASE or not rows)
        if not rows:
            nothing = self.tr("{when}: no herb that is counted is taken.")
            self.when.setText(nothing.format(when=self.when.text()))

    def _judge(self, rows: Sequence[Exposure]) -> None:
        """How many herbs are over their range, in the heading."""
        over = sum(1 for row in rows if row.band is Band.OVER)
        if over:
            text = self.tr("{count} over range").format(count=over)
            self.head.say(text, lambda theme: theme.alarm)
        else:
            none = self.tr("none over range") if rows else self.tr("nothing counted")
            self.head.say(none, shorter=(self.tr("none over") if rows else "", ""))

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
        self.ethanol.setVisible(bool(self.ethanol.text()))

    def _no_ethanol(self) -> str:
        forms = (
            {remedy.form for remedy in self._reading.course.remedies} if self._reading else set()
        )
        return self.tr("Ethanol: none") if any(map(has_drunk_ethanol, forms)) else ""

    def _unknown(self) -> str:
        return self.tr("Ethanol: not known, since a tincture’s details are incomplete")
