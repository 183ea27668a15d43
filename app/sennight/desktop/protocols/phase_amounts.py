"""What the fullest day of a phase comes to: each herb against its range."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.parts.range_bar import RangeBars, bars_of
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.exposure.exposure import Exposure
from sennight.domain.exposure.fullest import fullest
from sennight.practice.course_reading import CourseReading


class PhaseAmounts(QWidget):
    """The bars of one phase; of a flare-up plan, those of its own days."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.when = text_label("", Role.QUIET, wrap=True)
        self.bars = RangeBars(theme, self.tr("Amounts: each herb against its range"))
        room = QVBoxLayout(self)
        room.setContentsMargins(0, 0, 0, 0)
        room.setSpacing(2)
        room.addWidget(text_label(self.tr("Amounts"), Role.HEADING))
        room.addWidget(self.when)
        room.addWidget(self.bars)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.bars.apply_theme(theme)

    def show_phase(self, reading: CourseReading, phase: str) -> None:
        """Show another phase, or the same after an edit."""
        rows = amounts_of(reading, phase)
        self.bars.show_bars(bars_of(rows, reading.materia_medica.names))
        told = self.tr("On the fullest day of {phase}")
        if not rows:
            told = self.tr("Nothing that is counted is taken in {phase}")
        self.when.setText(told.format(phase=phase_title(phase)))


def amounts_of(reading: CourseReading, phase: str) -> tuple[Exposure, ...]:
    """The most of each herb in a phase; in a flare-up plan, as if it were called."""
    spans = reading.spans_of(phase)
    if spans:
        return fullest(reading.exposures, spans)
    rows = [row for row in reading.all_exposures if row.if_flare == phase]
    return fullest(rows, [row.span for row in rows])
