"""Amounts, among what follows: every herb of the day or phase in hand against its range."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from PySide6.QtWidgets import QVBoxLayout, QWidget

from sennight.desktop.course.session import Shown
from sennight.desktop.kit.choices import Choices
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.parts.range_bar import RangeBars, bars_of, grams_text
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.exposure.bands import Band
from sennight.domain.exposure.ethanol import (
    EthanolDay,
    ethanol_days,
    ethanol_rows,
    has_drunk_ethanol,
)
from sennight.domain.exposure.exposure import Exposure
from sennight.domain.herbs.herbs import MateriaMedica

DAY, PHASE = 0, 1
_GRAVEST = (*(Band.OVER, Band.BELOW, Band.UNKNOWN, Band.HIGH, Band.LOW, Band.MIDDLE, Band.UP_TO),)
"""The bands in the order in which the herbs of a day are listed: first what wants a look."""


class AmountsPanel(QWidget):
    """The bars of one day, or the fullest of each herb in one phase, and the ethanol."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._shown: Shown | None = None
        self._materia_medica = MateriaMedica()
        self._rows: tuple[Exposure, ...] = ()
        self._ethanol: tuple[EthanolDay, ...] = ()
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

    def refresh(
        self, shown: Shown, rows: tuple[Exposure, ...], materia_medica: MateriaMedica
    ) -> None:
        """Show the amounts of a course; `rows` are its exposures."""
        self._shown, self._rows, self._materia_medica = shown, rows, materia_medica
        self._ethanol = tuple(ethanol_days(ethanol_rows(shown.layout)))
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
        if self._shown is None:
            return
        if self.choice.currentIndex() == PHASE and self._phase:
            spans = self._spans(self._shown)
            rows, when = fullest(self._rows, spans), self.tr("The fullest days of {phase}")
            self.when.setText(when.format(phase=self._phase))
        else:
            spans = [Span.of_days(self._day, self._day)]
            rows = fullest(self._rows, spans)
            self.when.setText(plain_date(self._day))
        self.bars.show_bars(bars_of(rows, self._materia_medica.names))
        self._say_ethanol(spans)
        if not rows:
            nothing = self.tr("{when}: nothing that is counted is taken.")
            self.when.setText(nothing.format(when=self.when.text()))

    def _spans(self, shown: Shown) -> list[Span]:
        runs = (*shown.layout.phases, *shown.layout.flares)
        return [run.span for run in runs if run.phase.id == self._phase]

    def _say_ethanol(self, spans: list[Span]) -> None:
        """The most ethanol in a day of these."""
        days = [one for one in self._ethanol if any(one.span.touches(span) for span in spans)]
        known = [one.grams_high for one in days if one.grams_high is not None]
        if days and len(known) == len(days):
            told = self.tr("Ethanol: up to {grams} g a day")
            self.ethanol.setText(told.format(grams=grams_text(max(known))))
        else:
            self.ethanol.setText(self._no_ethanol() if not days else self._unknown())

    def _no_ethanol(self) -> str:
        forms = {one.form for one in self._shown.course.remedies} if self._shown else set()
        return self.tr("Ethanol: none") if any(map(has_drunk_ethanol, forms)) else ""

    def _unknown(self) -> str:
        return self.tr("Ethanol: not known, since not all is said of a tincture")


def fullest(rows: Iterable[Exposure], spans: list[Span]) -> tuple[Exposure, ...]:
    """For each herb and form the row with the most of it on these days, the gravest first."""
    best: dict[tuple[str, str], Exposure] = {}
    for row in rows:
        if any(row.span.touches(span) for span in spans):
            key = row.herb, str(row.form)
            if key not in best or _most(row) > _most(best[key]):
                best[key] = row
    return tuple(sorted(best.values(), key=lambda row: (_GRAVEST.index(row.band), row.herb)))


def _most(row: Exposure) -> float:
    return -1.0 if row.fraction_of_max is None else float(row.fraction_of_max)
