"""What follows from the course: short panels that say it anew after every edit.

A further panel is one more class in PANELS.
"""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QLabel, QScrollArea, QVBoxLayout, QWidget

from sennight.desktop.course.consequences.actions_panel import ActionsPanel
from sennight.desktop.course.consequences.amounts_panel import AmountsPanel
from sennight.desktop.course.safety.panel import SafetyPanel
from sennight.desktop.course.session import Shown
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import hairline, text_label
from sennight.domain.directions.plain_words import counted, plain_date
from sennight.domain.exposure.exposure import exposures
from sennight.domain.follow_up.adherence import AdherenceReport, adherence
from sennight.domain.follow_up.diaries import Taken
from sennight.domain.reminders.events import EventKind
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.schedule.weeks import DayText
from sennight.practice.materia_medica import supplied_materia_medica


class Panel(QWidget):
    """A heading, a figure that matters, and a few quiet lines."""

    def __init__(self) -> None:
        super().__init__()
        self._figure = text_label("", Role.TITLE)
        self._unit = text_label("", wrap=True)
        self._lines = text_label("", Role.QUIET, wrap=True)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(text_label(self.title(), Role.HEADING))
        for part in (self._figure, self._unit, self._lines):
            layout.addWidget(part)

    def title(self) -> str:
        """The panel's heading."""
        raise NotImplementedError

    def refresh(self, shown: Shown, diary: tuple[Taken, ...]) -> None:
        """Say what follows now."""
        raise NotImplementedError

    def say(self, figure: str, unit: str, *lines: str) -> None:
        """Show a figure with what it counts, and what belongs to it."""
        self._figure.setText(figure)
        self._unit.setText(unit)
        self._lines.setText("\n".join(lines))
        self._figure.setVisible(bool(figure))
        self._lines.setVisible(bool(lines))


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

    def refresh(self, shown: Shown, diary: tuple[Taken, ...]) -> None:
        """Count alarms and entries, as they would be given today."""
        del diary
        layout = shown.layout
        events = reminder_events(layout)
        entries = sum(1 for event in events if event.kind is EventKind.DOSE)
        most = _most_alarms(shown)
        self.say(
            str(most),
            self.tr("alarms on the fullest day ahead"),
            self.tr("calendar entries for doses: {count}").format(count=entries),
            self.tr("for phases and days off: {count}").format(count=len(events) - entries),
        )


def _most_alarms(shown: Shown) -> int:
    """The most different clock times on any day from today on, from the stretches' edges alone.

    The set of stretches that hold changes only where one begins; day rules let it change within
    a week, so a week from each beginning is looked at.
    """
    layout = shown.layout
    most = 0
    for start in sorted({max(s.span.first, shown.today) for s in layout.stretches}):
        due = [s for s in layout.stretches if start in s.span and s.times]
        for n in range(7):
            day = start.fromordinal(start.toordinal() + n)
            times = {minute for s in due if s.taken_on(day) for minute in s.times}
            most = max(most, len(times))
    return most


class AdherencePanel(Panel):
    """How much of what was due was taken; hidden while there is no diary."""

    def title(self) -> str:
        """Adherence."""
        return self.tr("Adherence")

    def refresh(self, shown: Shown, diary: tuple[Taken, ...]) -> None:
        """Work the proportion out of the diary."""
        report = adherence(shown.layout, diary) if diary else None
        self.setVisible(report is not None)
        if report is not None:
            self._update_text(shown, report)

    def _update_text(self, shown: Shown, report: AdherenceReport) -> None:
        found = report.overall
        part = found.proportion
        figure = "–" if part is None else f"{round(part * 100)} %"
        names = {remedy.id: remedy.name for remedy in shown.course.remedies}
        lines = [
            f"{names[remedy]}: {one.taken} of {one.due}"
            for remedy, one in report.remedies
            if one.due
        ]
        if found.days_due > found.days_recorded:
            missing = found.days_due - found.days_recorded
            without = self.tr("{days} due without an entry")
            lines.append(without.format(days=counted(missing, "day")))
        until = max((entry.day for entry in report.days), default=shown.today)
        unit = self.tr("of due doses taken, up to {day}").format(day=plain_date(until))
        self.say(figure, unit, *lines)


PANELS: tuple[type[Panel], ...] = (RemindersPanel, AdherencePanel)


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
        self.materia_medica = supplied_materia_medica()
        self.panels = [panel() for panel in PANELS]
        column = QWidget()
        self._layout = QVBoxLayout(column)
        self.day = DayPanel()
        self._layout.addWidget(self.safety.glance)
        self._layout.addWidget(self.day)
        self._layout.addWidget(hairline())
        self._layout.addWidget(text_label(self.tr("What follows"), Role.QUIET))
        for panel in (self.safety, self.amounts, self.borne, *self.panels):
            self._layout.addWidget(panel)
        self._layout.addStretch(1)
        self.setWidget(column)
        self._shown: Shown | None = None
        self._diary: tuple[Taken, ...] = ()
        self._after_frame = QTimer(self)
        self._after_frame.setSingleShot(True)
        self._after_frame.timeout.connect(self._refresh_rest)
        self.apply_theme(theme)

    def apply_theme(self, theme: Theme) -> None:
        """Other distances."""
        self.setMinimumWidth(theme.unit * 48)
        self._layout.setContentsMargins(theme.unit * 3, 0, theme.unit, 0)
        self._layout.setSpacing(theme.unit * 4)
        for panel in (self.safety, self.amounts, self.borne):
            panel.apply_theme(theme)

    def refresh(self, shown: Shown, diary: tuple[Taken, ...]) -> None:
        """Say everything anew."""
        self._shown, self._diary = shown, diary
        self.safety.refresh(shown, self.materia_medica)
        self._refresh_rest()

    def refresh_after_edit(self, shown: Shown) -> None:
        """Say what stands against the course at once, the rest when the edit has been drawn."""
        self._shown = shown
        self.safety.refresh(shown, self.materia_medica)
        self._after_frame.start(0)

    def _refresh_rest(self) -> None:
        shown = self._shown
        if shown is None:
            return
        self._after_frame.stop()
        rows = exposures(shown.layout, self.materia_medica)
        self.amounts.refresh(shown, rows, self.materia_medica)
        self.borne.refresh(shown, rows, self.materia_medica)
        for panel in self.panels:
            panel.refresh(shown, self._diary)
