"""What follows from the course: short panels that say it anew after every edit.

A further panel is one more in `ConsequencesPanel.panels`.
"""

from __future__ import annotations

from time import perf_counter
from typing import Protocol

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from sennight.desktop.course.consequences.actions_panel import ActionsPanel
from sennight.desktop.course.consequences.amounts_panel import AmountsPanel
from sennight.desktop.course.consequences.panel import Panel
from sennight.desktop.course.consequences.progress_panel import ProgressPanel
from sennight.desktop.course.consequences.supply_panel import SupplyPanel
from sennight.desktop.course.safety.panel import SafetyPanel
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.widgets import hairline
from sennight.desktop.parts.fold import SIDE_BY_SIDE, Fold, FoldPair
from sennight.domain.directions.plain_words import counted, plain_date
from sennight.domain.dispensary.lasting import Lasting
from sennight.domain.follow_up.adherence import AdherenceReport
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.reminders.events import EventKind
from sennight.practice.course_reading import CourseReading

LOW = 70
"""In units: in a column lower than this each finding is told in one line."""

AT_ONCE = 0.01
"""Seconds after which no further panel is begun before what was typed and drawn has its turn.

Each turn lays the whole column out, which costs as much as a small panel says.
"""


class CoursePanel(Protocol):
    """What follows from a course, said in one place."""

    def refresh(self, reading: CourseReading) -> None:
        """Say what follows now."""


class RemindersPanel(Panel):
    """How often the client's phone would ring, and how many entries its calendar gets."""

    def title(self) -> str:
        """Reminders."""
        return self.tr("Alerts")

    def refresh(self, reading: CourseReading) -> None:
        """Count alarms and entries, as they would be given today."""
        verdict = self.tr("{count} a day").format(count=reading.most_alarms)
        self.say_later(verdict, lambda: self._counts(reading))

    def _counts(self, reading: CourseReading) -> tuple[str, ...]:
        events = reading.events
        entries = sum(1 for event in events if event.kind is EventKind.DOSE)
        return (
            self.tr("Alerts on the busiest day: {count}").format(count=reading.most_alarms),
            self.tr("Calendar entries for doses: {count}").format(count=entries),
            self.tr("Other calendar entries: {count}").format(count=len(events) - entries),
        )


class AdherencePanel(Panel):
    """How much of what was due was taken; hidden while there is no diary."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.diary: tuple[Taken, ...] = ()

    def title(self) -> str:
        """What was taken of what was due."""
        return self.tr("Taken")

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
        told = self.tr("{figure} of the doses due, up to {day}")
        self.say(figure, told.format(figure=figure, day=plain_date(until)), *lines)


class ConsequencesPanel(QScrollArea):
    """The column of panels.

    The panels open by themselves as far as the height goes, those that matter most first; what
    the user opens or folds stays so.
    """

    rated_anew = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setProperty("kind", "column")
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("What follows"))
        self.safety = SafetyPanel(theme)
        self.amounts, self.borne = AmountsPanel(theme), ActionsPanel(theme)
        self.supply, self.reminders = SupplyPanel(theme), RemindersPanel(theme)
        self.goes, self.adherence = ProgressPanel(theme), AdherencePanel(theme)
        self.panels: tuple[CoursePanel, ...] = (
            self.safety,
            self.amounts,
            self.borne,
            self.supply,
            self.adherence,
            self.goes,
            self.reminders,
        )
        self.folds: tuple[Fold, ...] = (
            self.safety,
            self.amounts,
            self.borne,
            self.goes,
            self.adherence,
            self.supply,
            self.reminders,
        )
        self._lay_out(theme)
        self._shared = QSize()
        self._reading: CourseReading | None = None
        self._waiting: list[CoursePanel] = []
        self._after_frame = QTimer(self)
        self._after_frame.timeout.connect(self._refresh_next)
        for fold in self.folds:
            fold.fold_changed.connect(self.share_height)
        self.apply_theme(theme)

    def _lay_out(self, theme: Theme) -> None:
        """What is always open above, and pairs that share a line beneath."""
        column = QWidget()
        self._layout = QVBoxLayout(column)
        for n, panel in enumerate((self.safety, self.amounts, self.borne)):
            if n:
                self._layout.addWidget(hairline())
            self._layout.addWidget(panel)
        self._layout.addWidget(hairline())
        self._pairs = (
            FoldPair(theme, self.adherence, self.goes),
            FoldPair(theme, self.supply, self.reminders),
        )
        for pair in self._pairs:
            self._layout.addWidget(pair)
        self._layout.addStretch(1)
        self.setWidget(column)

    def apply_theme(self, theme: Theme) -> None:
        """Other distances."""
        self._theme = theme
        self._layout.setContentsMargins(theme.unit * 3, 0, theme.unit, 0)
        self._layout.setSpacing(round(theme.unit * 0.5))
        for fold in self.folds:
            fold.apply_theme(theme)
        for pair in self._pairs:
            pair.apply_theme(theme)
        self.share_height()

    def begin(self) -> None:
        """Another course is in hand: fold its findings, and what was opened by hand."""
        self.safety.begin()
        self.verticalScrollBar().setValue(0)
        for fold in self.folds:
            fold.chosen = None

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the height anew."""
        super().resizeEvent(event)
        if self.size() != self._shared:  # a scroll bar that comes or goes shares nothing out
            self.share_height()

    def _folded_height(self) -> int:
        """How high the column is with every panel folded."""
        items = (self._layout.itemAt(n) for n in range(self._layout.count()))
        parts = [item.widget() for item in items if item is not None]
        head, gap = self.safety.head.sizeHint().height(), self._layout.spacing()
        wide = self.viewport().width() - self._theme.unit * 4 >= self._theme.unit * SIDE_BY_SIDE
        pair = head if wide else head * 2
        high = sum(
            pair if isinstance(part, FoldPair) else head if isinstance(part, Fold) else 1
            for part in parts
            if part
        )
        return high + gap * (len(parts) + 1)

    def share_height(self) -> None:
        """Open as many panels as there is room for; the findings are always seen."""
        self._shared = self.size()
        self.safety.view.be_tight(is_tight=self.height() < self._theme.unit * LOW)
        shown = [fold for fold in self.folds if not fold.isHidden()]
        width = self.viewport().width() - self._theme.unit * 4
        left = self.viewport().height() - self._folded_height() - self._theme.unit * 2
        for fold in sorted(shown, key=lambda fold: fold.chosen is None):
            wanted = fold.body_height(width)
            may_open = wanted <= left or fold is self.safety
            is_open = may_open if fold.chosen is None else fold.chosen
            fold.set_open(is_open=is_open)
            left -= wanted if is_open else 0

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
        for line in (self.supply, self.reminders):  # how high they are decides what is open
            line.fill()
        self.share_height()
        self.rated_anew.emit()

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
            self.share_height()

    def refresh_scores(self, reading: CourseReading, scores: tuple[Score, ...]) -> None:
        """Say what follows from other scores: how it goes."""
        self._reading, self.goes.scores = reading, scores
        self.goes.refresh(reading)
        self.share_height()
        self.rated_anew.emit()

    def refresh_supply(self, reading: CourseReading, lasts: tuple[Lasting, ...]) -> None:
        """Say until when it lasts, from what was handed over or is left."""
        self._reading, self.supply.lasts = reading, lasts
        self.supply.refresh(reading)
        self.share_height()

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
            self.share_height()
            self.rated_anew.emit()
