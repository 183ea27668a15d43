"""The course on screen: what it is now, how it changes, and the day and phase in hand.

Every part of the page draws from `Session.reading` and redraws on its signals. An edit makes
a new course, which is drawn at once and saved when that is on the screen; it can be undone. A
decision adds a revision; revisions are kept for good, so it is told before it is made, saved
before it is shown, and the way back over it is closed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QUndoStack

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.undo import ValueStep
from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.compare import Comparison
from sennight.domain.courses.courses import Course, Revision
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.protocols import Phase
from sennight.domain.directions.directions import SameTimeError
from sennight.practice.course_reading import CourseReading
from sennight.practice.red_flags import RedFlagCheck
from sennight.practice.safety import decide

AFTER_FRAME = 30
"""Milliseconds after which an edit is saved: by then it is on the screen.

A timer of none would be a posted event, which goes before the painting.
"""

Save = Callable[[Course], None]
"""Saves a course; raises SaveError where it could not."""

KeepDraft = Callable[[FormDialog, str], None]
"""Lets a dialog about the course, by a word of its own, keep what is typed into it."""


def _keep_nothing(_dialog: FormDialog, _kind: str) -> None:
    """Of a course that is only looked at nothing is typed."""


@dataclass(frozen=True, slots=True)
class _Edit:
    """An edit that is shown and not saved yet: its words, and the step that undoes it."""

    words: str
    before: Course
    course: Course
    step: ValueStep[Course]


class SaveError(Exception):
    """A course could not be saved; the message says why and what to do."""


def read_otherwise(reading: CourseReading, course: Course) -> CourseReading | str:
    """Another course read in the same way, or why it cannot be laid out."""
    try:
        return reading.of(course)
    except (LayoutError, SameTimeError) as error:
        return why(error)


def why(error: Exception) -> str:
    """Why a course cannot be laid out, in a sentence; of a revision, the refusal alone."""
    text = str(error.__cause__ or error)
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith('?') else '.'}"


class Session(QObject):
    """The course in hand, its day and its phase.

    `opened` tells, before `changed` does, that another course is in hand, of which nothing was
    typed yet. `refused` says why something could not be done; `save_failed` has the words of an
    edit that was shown but could not be saved, and its course. It is then taken back.
    """

    changed = Signal()
    opened = Signal()
    day_changed = Signal(object)
    phase_changed = Signal(str)
    refused = Signal(str)
    trying = Signal(object)
    """The course read as a decision that is being made would leave it; None once it is not."""
    save_failed = Signal(str, object)

    def __init__(
        self,
        reading: CourseReading,
        save: Save,
        *,
        undo_stack: QUndoStack,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._save, self.undo_stack = save, undo_stack
        self.reading = reading
        self._tried: CourseReading | None = None
        self.unsaved: Course | None = None
        self._to_save: _Edit | None = None
        self._is_pushing = False
        self.keep_draft: KeepDraft = _keep_nothing
        self.day = self._inside(reading.today)
        self.phase_id = self._running_phase()

    def open(self, reading: CourseReading) -> None:
        """Take another course in hand, on its day of today; nothing leads back to the one before.

        What was not saved of the one before must have been, by `save_now`.
        """
        self.undo_stack.clear()
        self.reading, self._tried = reading, None
        self.unsaved, self._to_save = None, None
        self.day = self._inside(reading.today)
        self.phase_id = self._running_phase()
        self.opened.emit()
        self.changed.emit()

    @property
    def course(self) -> Course:
        """The course as it stands."""
        return self.reading.course

    @property
    def phase(self) -> Phase:
        """The phase whose lines are in hand."""
        return self.course.protocol.phase(self.phase_id) or self.course.protocol.phases[0]

    def _inside(self, day: date) -> date:
        days = self.reading.layout.days
        return min(max(day, days.first), days.last) if days else days.first

    def _running_phase(self) -> str:
        run = self.reading.layout.phase_on(self.day)
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

    def try_out(self, course: Course) -> CourseReading | str:
        """A course read as this one is, or why it cannot be laid out.

        What was tried last is kept, so that asking, saving and showing lay out once.
        """
        if course is self.reading.course:
            return self.reading
        if self._tried is None or self._tried.course is not course:
            reading = read_otherwise(self.reading, course)
            if isinstance(reading, str):
                return reading
            self._tried = reading
        return self._tried

    def edit(self, words: str, course: Course) -> bool:
        """Make an edit that can be undone; False, and `refused` says why, where it cannot be."""
        if course == self.course:
            return True
        reading = self.try_out(course)
        if isinstance(reading, str):
            self.refused.emit(reading)
            return False
        if not self.save_now():
            return False
        before, self._is_pushing = self.course, True
        step = ValueStep(words, before, course, self._put)
        try:
            self.undo_stack.push(step)
        finally:
            self._is_pushing = False
        if self.course is course:
            self._to_save = _Edit(words, before, course, step)
            QTimer.singleShot(AFTER_FRAME, self, self.save_now)
        return self.course is course

    def _put(self, course: Course) -> bool:
        """Show the course of an edit, to be saved after the frame; save undo and redo at once."""
        if not self._is_pushing:
            return self.apply(course)
        reading = self.try_out(course)
        if isinstance(reading, str):
            self.refused.emit(reading)
            return False
        self._show(reading)
        return True

    def save_now(self) -> bool:
        """Save the edit that is shown and not saved yet; whether that was done, or not needed.

        Where it fails the edit is taken back, and leaves the way back.
        """
        edit, self._to_save = self._to_save, None
        if edit is None:
            return True
        self.unsaved = edit.course
        try:
            self._save(edit.course)
        except SaveError as error:
            self._take_back(edit)
            self.refused.emit(str(error))
            self.save_failed.emit(edit.words, edit.course)
            return False
        self.unsaved = None
        return True

    def _take_back(self, edit: _Edit) -> None:
        edit.step.setObsolete(True)
        self.undo_stack.undo()  # which takes it off, and does nothing else
        reading = self.try_out(edit.before)
        if not isinstance(reading, str):
            self._show(reading)

    def decide(self, revision: Revision) -> bool:
        """Add a revision and close the way back over it; False where it could not be saved."""
        return self.keep(self.with_decision(revision))

    def with_decision(self, revision: Revision) -> Course:
        """The course with one more revision."""
        return replace(self.course, revisions=(*self.course.revisions, revision))

    def accept(self, finding_ids: Iterable[str], reason: str) -> bool:
        """Go ahead with findings, for good as a revision is; False where it was not saved."""
        accepts = self._decided(finding_ids, reason)
        return self.keep(replace(self.course, accepts=(*self.course.accepts, *accepts)))

    def discuss(self, finding_ids: Iterable[str], what: str) -> bool:
        """Keep that cautions were discussed; False where it was not saved."""
        accepts = self._decided(finding_ids, what)
        return self.keep(replace(self.course, discussed=(*self.course.discussed, *accepts)))

    def _decided(self, finding_ids: Iterable[str], reason: str) -> Iterator[Accept]:
        reading = self.reading
        for name in finding_ids:
            yield decide(reading.safety, reading.layout, name, reason=reason, on=reading.today)

    def keep(self, course: Course) -> bool:
        """Save a course for good, with no way back; False where it could not be saved."""
        done = self.save_now() and self.apply(course)
        if done:
            self.undo_stack.clear()
        return done

    def keep_tried(self, tried: CourseReading) -> bool:
        """The same for one that has been read already."""
        self._tried = tried
        return self.keep(tried.course)

    def take_over(self, course: Course, *, today: date | None = None) -> None:
        """Show the course as it was saved elsewhere, or on another day taken as today.

        The way back to before is closed.
        """
        self._to_save = None
        self.undo_stack.clear()
        reading = self.reading.of(course)
        self._show(replace(reading, today=today) if today else reading)

    def stand(self, standing: RedFlagCheck | None) -> None:
        """Take another check for red flags as the last one."""
        self._show(replace(self.reading, standing=standing))

    def apply(self, course: Course) -> bool:
        """Save a course and show it; False, and `refused` says why, where that fails.

        A course that could not be saved is in `unsaved`, until another is.
        """
        reading = self.try_out(course)
        if isinstance(reading, str):
            self.refused.emit(reading)
            return False
        if self._to_save is not None and self._to_save.before is course:
            self._to_save = None  # undone before it was saved
            self._show(reading)
            return True
        if not self.save_now():
            return False
        self.unsaved = course
        try:
            self._save(course)
        except SaveError as error:
            self.refused.emit(str(error))
            return False
        self.unsaved = None
        self._show(reading)
        return True

    def _show(self, reading: CourseReading) -> None:
        self.reading, self._tried = reading, None
        if self.course.protocol.phase(self.phase_id) is None:
            self.phase_id = self.course.protocol.phases[0].id
        self.day = self._inside(self.day)
        self.changed.emit()

    def past_changes(self, course: Course) -> Comparison | None:
        """What a course would change on days before today; None where the past stays."""
        reading = self.try_out(course)
        if isinstance(reading, str):
            return None
        differs = reading.changed_from(self.reading)
        first = differs.first_day
        return differs if first is not None and first < self.reading.today else None
