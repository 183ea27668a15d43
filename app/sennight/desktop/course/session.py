"""The course on screen: what it is now, how it changes, and the day and phase in hand.

Every part of the page draws from `Session.shown` and redraws on its signals. An edit makes
a new course, which is saved at once and can be undone. A decision adds a revision; revisions
are kept for good, so it is told before it is made, and the way back over it is closed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack

from sennight.desktop.kit.undo import ValueStep
from sennight.domain.courses.compare import Comparison, compare
from sennight.domain.courses.courses import Accept, Course, Revision
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.protocols import Phase
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.directions.directions import SameTimeError
from sennight.domain.schedule.weeks import CalendarWeek, DayCell, course_weeks

Save = Callable[[Course], None]
"""Saves a course; raises SaveError where it could not."""


class SaveError(Exception):
    """A course could not be saved; the message says why and what to do."""


@dataclass(frozen=True)
class Shown:
    """A course laid out, and the pictures of it that several parts draw."""

    layout: Layout
    today: date

    @property
    def course(self) -> Course:
        """The course itself."""
        return self.layout.course

    @cached_property
    def rows(self) -> tuple[CalendarWeek, ...]:
        """The weeks of the whole-course sheet."""
        return course_weeks(self.layout)

    @cached_property
    def cells(self) -> dict[date, DayCell]:
        """The days of the sheet by their date."""
        return {cell.day: cell for row in self.rows for cell in row.cells if cell.in_course}

    @cached_property
    def places(self) -> dict[str, int]:
        """The place of each remedy in the course, from 0: its dye, pattern and letter."""
        return {remedy.id: n for n, remedy in enumerate(self.course.remedies)}


def try_out(course: Course) -> Layout | str:
    """The course laid out, or why it cannot be."""
    try:
        return lay_out(course)
    except (LayoutError, SameTimeError) as error:
        return why(error)


def why(error: Exception) -> str:
    """Why a course cannot be laid out, in a sentence; of a revision, the refusal alone."""
    said = str(error.__cause__ or error)
    return f"{said[:1].upper()}{said[1:]}."


class Session(QObject):
    """The course in hand, its day and its phase."""

    changed = Signal()
    day_changed = Signal(object)
    phase_changed = Signal(str)
    refused = Signal(str)

    def __init__(
        self,
        course: Course,
        save: Save,
        *,
        today: date,
        undo_stack: QUndoStack,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._save, self.undo_stack = save, undo_stack
        self.shown = Shown(lay_out(course), today)
        self.day = self._inside(today)
        self.phase_id = self._running_phase()

    @property
    def course(self) -> Course:
        """The course as it stands."""
        return self.shown.course

    @property
    def phase(self) -> Phase:
        """The phase whose lines are in hand."""
        return self.course.protocol.phase(self.phase_id) or self.course.protocol.phases[0]

    def _inside(self, day: date) -> date:
        days = self.shown.layout.days
        return min(max(day, days.first), days.last) if days else days.first

    def _running_phase(self) -> str:
        run = self.shown.layout.phase_on(self.day)
        return run.phase.id if run else self.course.protocol.phases[0].id

    # Where the eye is

    def go_to(self, day: date) -> None:
        """Take a day in hand; days outside the course are brought inside."""
        day = self._inside(day)
        if day != self.day:
            self.day = day
            self.day_changed.emit(day)

    def choose_phase(self, phase_id: str) -> None:
        """Take a phase in hand."""
        if phase_id != self.phase_id and self.course.protocol.phase(phase_id):
            self.phase_id = phase_id
            self.phase_changed.emit(phase_id)

    # Changing the course

    def edit(self, words: str, course: Course) -> bool:
        """Make an edit that can be undone; False, and `refused` says why, where it cannot be."""
        if course == self.course:
            return True
        found = try_out(course)
        if isinstance(found, str):
            self.refused.emit(found)
            return False
        self.undo_stack.push(ValueStep(words, self.course, course, self.apply))
        return self.course == course

    def decide(self, revision: Revision) -> bool:
        """Add a revision and close the way back over it; False where it could not be saved."""
        return self._keep(replace(self.course, revisions=(*self.course.revisions, revision)))

    def accept(self, accept: Accept) -> bool:
        """Go ahead with a finding, for good as a revision is; False where it was not saved."""
        return self._keep(replace(self.course, accepts=(*self.course.accepts, accept)))

    def take_over(self, course: Course, *, today: date | None = None) -> None:
        """Show the course as it was saved elsewhere, or on another day taken as today.

        The way back to before is closed.
        """
        self.undo_stack.clear()
        self._show(lay_out(course), today)

    def _keep(self, course: Course) -> bool:
        done = self.apply(course)
        if done:
            self.undo_stack.clear()
        return done

    def apply(self, course: Course) -> bool:
        """Save a course and show it; False, and `refused` says why, where that fails."""
        found = try_out(course)
        if isinstance(found, str):
            self.refused.emit(found)
            return False
        try:
            self._save(course)
        except SaveError as error:
            self.refused.emit(str(error))
            return False
        self._show(found)
        return True

    def _show(self, layout: Layout, today: date | None = None) -> None:
        self.shown = Shown(layout, today or self.shown.today)
        if self.course.protocol.phase(self.phase_id) is None:
            self.phase_id = self.course.protocol.phases[0].id
        self.day = self._inside(self.day)
        self.changed.emit()

    def past_changes(self, course: Course) -> Comparison | None:
        """What a course would change on days before today; None where the past stays."""
        found = try_out(course)
        if isinstance(found, str):
            return None
        differs = compare(self.shown.layout, found)
        first = differs.first_day
        return differs if first is not None and first < self.shown.today else None
