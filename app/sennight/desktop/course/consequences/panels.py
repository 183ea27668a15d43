"""What follows from the course: short panels that say it anew after every edit.

A further panel is one more in `ConsequencesPanel.panels`.
"""

from __future__ import annotations

from time import perf_counter
from typing import Protocol

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QLabel, QScrollArea, QVBoxLayout, QWidget

from sennight.desktop.course.consequences.actions_panel import ActionsPanel
from sennight.desktop.course.consequences.amounts_panel import AmountsPanel
from sennight.desktop.course.consequences.panel import Panel
from sennight.desktop.course.consequences.progress_panel import ProgressPanel
from sennight.desktop.course.consequences.supply_panel import SupplyPanel
from sennight.desktop.course.safety.panel import SafetyPanel
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import hairline, text_label
from sennight.domain.directions.plain_words import counted, plain_date
from sennight.domain.dispensary.lasting import Lasting
from sennight.domain.follow_up.adherence import AdherenceReport
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.reminders.events import EventKind
from sennight.domain.schedule.weeks import DayText
from sennight.practice.course_reading import CourseReading

AT_ONCE = 0.006
"""Seconds after which no further panel is begun before what was typed and drawn has its turn.

Each turn lays the whole column out, which costs as much as a small panel says.
"""


class CoursePanel(Protocol):
    """What follows from a course, said in one place."""

    def refresh(self, reading: CourseReading) -> None:
        """Say what follows now."""


class DayPanel(QWidget):
    """The day under the pointer, or in hand: what is taken on it, in full."""

    def __init__(self) -> None:
        super().__init__()
        self._day = text_label("", Role.STRONG, wrap=True)
        self._room = QVBoxLayout(self)
        self._room.setContentsMargins(0, 0, 0, 0)
        self._room.addWidget(self._day)
        self._doses: list[QLabel] = []

    def show_day(self, day: DayText) -> None:
        """Show a day, the doses of its remedies beneath each other."""
        self._day.setText(day.head)
        while len(self._doses) < len(day.doses):
            self._doses.append(text_label("", wrap=True))
            self._room.addWidget(self._doses[-1])
        for n, label in enumerate(self._doses):
            label.setVisible(n < len(day.doses))
            label.setText(day.doses[n] if n < len(day.doses) else "")


class RemindersPanel(Panel):
    """How often the client's phone would ring, and how many entries its calendar gets."""

    def title(self) -> str:
        """Reminders."""
        return self.tr("Reminders")

    def refresh(self, reading: CourseReading) -> None:
        """Count alarms and entries, as they would be given today."""
        events = reading.events
        entries = sum(1 for event in events if event.kind is EventKind.DOSE)
        self.say(
            str(reading.most_alarms),
            self.tr("alerts on the busiest day"),
            self.tr("calendar entries for doses: {count}").format(count=entries),
            self.tr("for phases and days off: {count}").format(count=len(events) - entries),
        )


class AdherencePanel(Panel):
    """How much of what was due was taken; hidden while there is no diary."""

    def __init__(self) -> None:
        super().__init__()
        self.diary: tuple[Taken, ...] = ()

    def title(self) -> str:
        """Adherence."""
        return self.tr("Adherence")

    def refresh(self, reading: CourseReading) -> None:
        """Work the proportion out of the diary."""
        report = reading.adherence(self.diary)
        self.setVisible(report is not None)
        if report is not None:
            self._update_text(reading, report)

    def _update_text(self, reading: CourseReading, report: AdherenceReport) -> None:
        overall = report.overall
        part = overall.proportion
        figure = "–" if part is None else f"{round(part * 100)} %"
        names = {remedy.id: remedy.name for remedy in reading.course.remedies}
        lines = [
            f"{names[remedy]}: {adherence.taken} of {adherence.due}"
            for remedy, adherence in report.remedies
            if adherence.due
        ]
        if overall.days_due > overall.days_recorded:
            missing = overall.days_due - overall.days_recorded
            without = self.tr("{days} due without an entry")
            lines.append(without.format(days=counted(missing, "day")))
            if part is None and overall.due:
                lines.append(self.tr("Too few days have an entry for a percentage"))
        if overall.persistence is not None and overall.persistence < 1 and overall.last:
            lines.append(self.tr("Last dose entered: {day}").format(day=plain_date(overall.last)))
        until = max((entry.day for entry in report.days), default=reading.today)
        unit = self.tr("of due doses taken, up to {day}").format(day=plain_date(until))
        self.say(figure, unit, *lines)


class ConsequencesPanel(QScrollArea):
    """The column of panels."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setProperty("kind", "column")
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("What follows"))
        self.safety = SafetyPanel(theme)
        self.amounts, self.borne = AmountsPanel(theme), ActionsPanel(theme)
        self.supply, self.reminders = SupplyPanel(), RemindersPanel()
        self.goes, self.adherence = ProgressPanel(theme), AdherencePanel()
        self.panels = (
            self.safety,
            self.amounts,
            self.borne,
            self.supply,
            self.reminders,
            self.goes,
            self.adherence,
        )
        column = QWidget()
        self._layout = QVBoxLayout(column)
        self.day = DayPanel()
        self._layout.addWidget(self.safety.glance)
        self._layout.addWidget(self.day)
        self._layout.addWidget(hairline())
        self._layout.addWidget(text_label(self.tr("What follows"), Role.QUIET))
        for panel in self.panels:
            self._layout.addWidget(panel)
        self._layout.addStretch(1)
        self.setWidget(column)
        self._reading: CourseReading | None = None
        self._waiting: list[CoursePanel] = []
        self._after_frame = QTimer(self)
        self._after_frame.timeout.connect(self._refresh_next)
        self.apply_theme(theme)

    def apply_theme(self, theme: Theme) -> None:
        """Other distances."""
        self.setMinimumWidth(theme.unit * 48)
        self._layout.setContentsMargins(theme.unit * 3, 0, theme.unit, 0)
        self._layout.setSpacing(theme.unit * 4)
        for panel in (self.safety, self.amounts, self.borne, self.goes):
            panel.apply_theme(theme)

    def refresh(
        self,
        reading: CourseReading,
        diary: tuple[Taken, ...],
        lasts: tuple[Lasting, ...] = (),
        scores: tuple[Score, ...] = (),
    ) -> None:
        """Say everything anew, at once; `lasts` is how long what was handed over lasts."""
        self.goes.scores = scores
        self._after_frame.stop()
        self._reading, self.adherence.diary, self.supply.lasts = reading, diary, lasts
        for panel in self.panels:
            panel.refresh(reading)

    def refresh_after_edit(self, reading: CourseReading) -> None:
        """Say everything anew, a few panels at a time, when the edit has been drawn.

        What is typed or drawn in between comes first, so that nothing waits for all of them.
        """
        self._reading = reading
        self._waiting = list(self.panels)
        self._after_frame.start(0)

    def refresh_diary(self, diary: tuple[Taken, ...]) -> None:
        """Say what follows from another diary, which is adherence alone."""
        self.adherence.diary = diary
        if self._reading is not None:
            self.adherence.refresh(self._reading)

    def refresh_scores(self, reading: CourseReading, scores: tuple[Score, ...]) -> None:
        """Say what follows from other scores: how it goes."""
        self._reading, self.goes.scores = reading, scores
        self.goes.refresh(reading)

    @property
    def is_waiting(self) -> bool:
        """Whether something is still to be said anew."""
        return self._after_frame.isActive()

    def _refresh_next(self) -> None:
        begin = perf_counter()
        while self._waiting and self._reading is not None and perf_counter() - begin < AT_ONCE:
            self._waiting.pop(0).refresh(self._reading)
        if not self._waiting:
            self._after_frame.stop()
