"""The whole of one day: its doses at their times, as needed, what is off, and the alerts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QListView,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.course.calendar.calendar_model import (
    DayEntry,
    DayModel,
    needed_entries,
    timed_entries,
)
from sennight.desktop.course.calendar.day_delegate import EntryDelegate
from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import Shortened, text_label
from sennight.domain.courses.stretches import Layout
from sennight.domain.directions.plain_words import counted, plain_date, plain_day
from sennight.domain.schedule.day_plan import day_plan
from sennight.domain.schedule.weeks import State
from sennight.practice.course_reading import CourseReading

LEAST_AIR, MOST_AIR = 0.2, 2.2
"""In units: the air that a row of the day has, as little and as much as it may."""


class EntryList(QListView):
    """The doses of a day; `key_pressed` offers its keys to the calendar, but for Up and Down."""

    key_pressed = Signal(object)

    def __init__(self, model: DayModel, drawer: EntryDelegate) -> None:
        super().__init__()
        self.setModel(model)
        self.setItemDelegate(drawer)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setMouseTracking(True)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and Down go from dose to dose, the rest moves the day."""
        if event.key() not in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            event.ignore()
            self.key_pressed.emit(event)
            if event.isAccepted():
                return
        super().keyPressEvent(event)


def off_sentences(reading: CourseReading, day: date) -> Iterator[str]:
    """`Warming rub: off to 29 November` for each remedy that is off on a day."""
    cell = reading.weeks.cell(day)
    for mark in cell.marks if cell else ():
        if mark.state is State.OFF:
            name = reading.course.remedies[mark.index].name
            last = _last_day_off(reading.layout, mark.remedy, day)
            yield f"{name}: off to {plain_date(last)}" if last else f"{name}: off"


def _last_day_off(layout: Layout, remedy: str, day: date) -> date | None:
    rests = (rest.span for rest in layout.rests if rest.remedy == remedy and day in rest.span)
    return next((span.last for span in rests), None)


class DayPane(QWidget):
    """One day from rising to bedtime."""

    key_pressed = Signal(object)

    def __init__(self, reading: CourseReading, brushes: Brushes) -> None:
        super().__init__()
        self.brushes = brushes
        self._reading, self._entries = reading, tuple[DayEntry, ...]()
        self._seen: object = None
        self.title = Shortened("", Role.HEADING)
        self.week = text_label("", Role.QUIET)
        self.timed_model, self.needed_model = DayModel(reading, self), DayModel(reading, self)
        self.drawers = tuple(
            EntryDelegate(brushes, model) for model in (self.timed_model, self.needed_model)
        )
        self.timed = EntryList(self.timed_model, self.drawers[0])
        self.timed.setAccessibleName(self.tr("Doses at their times"))
        self.needed = EntryList(self.needed_model, self.drawers[1])
        self.needed.setAccessibleName(self.tr("As needed"))
        self.off = text_label("", Role.QUIET, wrap=True)
        self.alerts = text_label("", Role.QUIET)
        for entries in (self.timed, self.needed):
            entries.key_pressed.connect(self.key_pressed)
        self._lay_out()

    def _lay_out(self) -> None:
        self.head = QWidget()
        head = QHBoxLayout(self.head)
        head.setContentsMargins(0, 0, 0, 0)
        head.addWidget(self.title, 1)
        head.addWidget(self.week)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(self.head)
        layout.addWidget(self.timed, 100)
        layout.addWidget(self.needed, 50)
        foot = QWidget()
        foot.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self._foot = QHBoxLayout(foot)
        self._foot.setContentsMargins(0, 0, 0, 0)
        self._foot.addWidget(self.off, 1)
        self._foot.addWidget(self.alerts, 0, Qt.AlignmentFlag.AlignTop)
        layout.addWidget(foot)
        layout.addStretch(1)

    def set_brushes(self, brushes: Brushes) -> None:
        """Draw with another look."""
        self.brushes = brushes
        for drawer in self.drawers:
            drawer.set_brushes(brushes)
        self._foot.setSpacing(brushes.unit * 2)
        self._fit()

    def show_day(self, reading: CourseReading, day: date) -> None:
        """Show a day of a course."""
        plan, off = day_plan(reading.layout, day), "\n".join(off_sentences(reading, day))
        entries, needed = timed_entries(reading, plan), needed_entries(plan)
        seen = (day, entries, needed, off, reading.course.remedies)
        self.timed_model.reading = self.needed_model.reading = self._reading = reading
        if seen == self._seen:  # most edits leave the day as it is
            return
        self._seen, self._entries = seen, entries
        self.timed_model.show_entries(reading, entries)
        self.needed_model.show_entries(reading, needed)
        self.needed.setVisible(bool(needed))
        self._say(reading, day, off)
        self._fit()

    def _say(self, reading: CourseReading, day: date, off: str) -> None:
        """Say which day it is, what is off, and how often the phone rings."""
        cell = reading.weeks.cell(day)
        self.title.setText(plain_day(day))
        self.week.setText(self.tr("week {week}").format(week=cell.week) if cell else "")
        self.off.setText(off)
        self.off.setVisible(bool(off))
        alerts = sum(1 for entry in self._entries if entry.doses)
        count = counted(alerts, self.tr("alert")) if alerts else self.tr("No alert")
        whole = self.tr("{alerts} on the phone this day").format(alerts=count)
        self.alerts.setText(count if off else whole)
        self.alerts.setToolTip(plain_tip(whole))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the height among the rows."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Rows with as much air as there is room for, so that the whole day is seen.

        Where it is short, getting up and bedtime are left out if nothing is taken then, then the
        remedies' names, for which their letters stand.
        """
        drawer, needed = self.drawers
        width = self.timed.viewport().width()
        drawer.width, drawer.air, drawer.may_name, drawer.is_tight = width, 0.0, True, False
        needed.air = LEAST_AIR
        needed.width = self.needed.viewport().width()
        asked = sum(needed.height(entry, needed.width) for entry in self.needed_model.entries)
        self.needed.setMaximumHeight(asked + 4)
        left = self._room_for_times(asked)
        taken = tuple(entry for entry in self._entries if entry.doses)
        shown = self._entries if self._high(self._entries, width) <= left else taken
        drawer.may_name = self._high(shown, width) <= left
        if tuple(self.timed_model.entries) != tuple(shown):
            self.timed_model.show_entries(self._reading, shown)
        spare = (left - self._high(shown, width)) / max(1, len(shown)) / max(1, self.brushes.unit)
        drawer.is_tight = spare < LEAST_AIR
        drawer.air = 0.0 if drawer.is_tight else min(MOST_AIR, max(LEAST_AIR, spare - 0.1))
        self.timed.setMaximumHeight(max(self.brushes.line, self._high(shown, width) + 4))
        for entries in (self.timed, self.needed):
            entries.scheduleDelayedItemsLayout()

    def _room_for_times(self, asked: int) -> int:
        """The height that the parts around them leave the doses at their times."""
        high = self.alerts.sizeHint().height() + 2
        if not self.head.isHidden():
            high += self.head.sizeHint().height() + 2
        if not self.off.isHidden():
            beside = self.alerts.sizeHint().width() + self._foot.spacing()
            off = self.off.heightForWidth(self.width() - beside) + 2
            high = max(high, high - self.alerts.sizeHint().height() - 2 + off)
        if self.needed_model.entries:
            high += asked + 6
        return self.height() - high - 6

    def _high(self, entries: Sequence[DayEntry], width: float) -> int:
        return sum(self.drawers[0].height(entry, width) for entry in entries)
