"""The calendar as models: weeks of days for the course and the month, one day's doses for the day.

Each cell of a grid is a day of the sheet; its accessible text says it as a sentence.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    Qt,
)

from sennight.desktop.kit.grid_model import NOWHERE, GridModel, Index
from sennight.desktop.kit.plain_text import plain_tip
from sennight.domain.dates import Span, add_months
from sennight.domain.day import clock
from sennight.domain.directions.plain_words import WEEKDAY_NAMES, counted, plain_date, plain_dose
from sennight.domain.schedule.day_plan import AsNeededDose, DayDose, DayPlan, named_time
from sennight.domain.schedule.weeks import DayCell, DayText, day_text
from sennight.practice.course_reading import CourseReading

CELL = Qt.ItemDataRole.UserRole + 1
ENTRY = Qt.ItemDataRole.UserRole + 2
SPOKEN_ROLES = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole)
SENTENCE_ROLES = (
    Qt.ItemDataRole.AccessibleTextRole,
    Qt.ItemDataRole.AccessibleDescriptionRole,
)


def month_weeks(day: date) -> tuple[date, ...]:
    """The Mondays of the weeks that a day's month has a day in."""
    first = day.replace(day=1)
    monday = first - timedelta(days=first.weekday())
    end = add_months(first, 1)
    count = -(-(end - monday).days // 7)
    return tuple(monday + timedelta(weeks=n) for n in range(count))


class WeeksModel(GridModel):
    """Weeks as rows, Monday to Sunday as columns."""

    def __init__(self, reading: CourseReading, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.reading = reading
        self.mondays: tuple[date, ...] = ()
        self.month: Span | None = None
        self.short_names = False
        self._outside: dict[date, DayCell] = {}

    def show_course(self, reading: CourseReading) -> None:
        """All weeks of the course."""
        self._show(reading, reading.weeks.mondays, None)

    def show_month(self, reading: CourseReading, day: date) -> None:
        """The month of a day."""
        first = day.replace(day=1)
        self._show(reading, month_weeks(day), Span(first, add_months(first, 1)))

    def _show(self, reading: CourseReading, mondays: tuple[date, ...], month: Span | None) -> None:
        self.beginResetModel()
        self.reading, self.mondays, self.month = reading, mondays, month
        self._outside = {}
        self.endResetModel()

    def day_at(self, row: int, column: int) -> date:
        """The day of a cell."""
        return self.mondays[row] + timedelta(days=column)

    def index_of(self, day: date) -> QModelIndex:
        """Where a day stands; an invalid index where it does not."""
        if not self.mondays:
            return NOWHERE
        weeks, column = divmod((day - self.mondays[0]).days, 7)
        return self.index(weeks, column) if 0 <= weeks < len(self.mondays) else NOWHERE

    def cell(self, day: date) -> DayCell:
        """A day of the sheet, or a blank one outside the course."""
        cell = self.reading.weeks.cell(day)
        if cell is None:
            cell = self._outside.setdefault(day, DayCell(day, in_course=False))
        return cell

    def row_count(self) -> int:
        """The weeks."""
        return len(self.mondays)

    def column_count(self) -> int:
        """The days of a week."""
        return 7

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The cell for the delegate, a sentence for screen readers and tests."""
        if not index.isValid():
            return None
        if role == CELL:
            return self.cell(self.day_at(index.row(), index.column()))
        if role in SENTENCE_ROLES:
            return self.day_text(self.day_at(index.row(), index.column())).sentence
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(self.day_text(self.day_at(index.row(), index.column())).sentence)
        return None

    def day_text(self, day: date) -> DayText:
        """A day in full."""
        return day_text(self.reading.layout, self.cell(day))

    def column_heading(self, column: int, role: int) -> object:
        """The weekdays, in full for those who hear them."""
        if role not in SPOKEN_ROLES:
            return None
        name = WEEKDAY_NAMES[column]
        return name[:3] if self.short_names and role == Qt.ItemDataRole.DisplayRole else name

    def row_heading(self, row: int, role: int) -> object:
        """The weeks."""
        if role not in SPOKEN_ROLES:
            return None
        week, monday = self.week_beginning_in(row), plain_date(self.mondays[row])
        return f"{self.tr('Week')} {week}, {monday}" if week else monday

    def week_beginning_in(self, row: int) -> int | None:
        """The course week that begins in a row."""
        monday, days = self.mondays[row], self.reading.layout.days
        for day in Span(monday, monday + timedelta(days=7)):
            if day in days and (day - days.first).days % 7 == 0:
                return (day - days.first).days // 7 + 1
        return None

    def begins_in(self, row: int) -> tuple[str, ...]:
        """The phases and flares whose first day lies in a row."""
        monday = self.mondays[row]
        week = Span(monday, monday + timedelta(days=7))
        runs = (*self.reading.layout.phases, *self.reading.layout.flares)
        return tuple(run.phase.id for run in runs if run.span.first in week)


@dataclass(frozen=True, slots=True)
class DayEntry:
    """A row of a day: a time (None for what is taken as needed), and what is taken then.

    `moment` is what the client calls the time, `short` the same in fewer letters.
    """

    minute: int | None
    moment: str
    doses: tuple[DayDose | AsNeededDose, ...]
    short: str = ""


class DayModel(QAbstractListModel):
    """The entries of one day, timed or as needed."""

    def __init__(self, reading: CourseReading, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.reading = reading
        self.entries: Sequence[DayEntry] = ()

    def show_entries(self, reading: CourseReading, entries: Sequence[DayEntry]) -> None:
        """Show these entries of a course's day."""
        self.beginResetModel()
        self.reading, self.entries = reading, entries
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """The entries."""
        return 0 if parent.isValid() else len(self.entries)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The entry for the delegate, its words for everyone else."""
        if not index.isValid():
            return None
        entry = self.entries[index.row()]
        if role == ENTRY:
            return entry
        if role in (Qt.ItemDataRole.DisplayRole, *SENTENCE_ROLES):
            return self.words(entry)
        return None

    def words(self, entry: DayEntry) -> str:
        """An entry in one sentence."""
        head = "" if entry.minute is None else f"{clock(entry.minute)} "
        moment = f"{entry.moment}: " if entry.moment else ""
        return head + moment + "; ".join(self.dose_words(dose) for dose in entry.doses)

    def dose_words(self, dose: DayDose | AsNeededDose) -> str:
        """A remedy with its amount, and its ceiling where it is taken as needed."""
        name = self.reading.course.remedy(dose.remedy).name
        text = f"{name}, {plain_dose(dose.stretch.directions)}"
        if isinstance(dose, AsNeededDose):
            text += f", {ceiling_words(dose)}"
        return text


def ceiling_words(dose: AsNeededDose) -> str:
    """The ceiling of what is taken as needed."""
    more = " more" if dose.stretch.times else ""
    return f"at most {counted(dose.ceiling, 'time')}{more} a day"


def timed_entries(reading: CourseReading, plan: DayPlan) -> tuple[DayEntry, ...]:
    """A day's doses in order, with rising and bedtime as its ends."""
    client_day = reading.course.client.day
    entries = [
        DayEntry(t.minute, t.moment, t.doses, named_time(client_day, t.minute, is_short=True))
        for t in plan.times
    ]
    taken = {entry.minute for entry in entries}
    for minute, moment in ((plan.rising, "on getting up"), (plan.bedtime, "bedtime")):
        if minute not in taken:
            entries.append(DayEntry(minute, moment, (), moment))
    return tuple(sorted(entries, key=lambda entry: entry.minute or 0))


def needed_entries(plan: DayPlan) -> tuple[DayEntry, ...]:
    """What may be taken as needed on a day."""
    return tuple(DayEntry(None, "", (dose,)) for dose in plan.as_needed)
