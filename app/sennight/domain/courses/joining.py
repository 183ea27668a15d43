"""A remedy that joins a phase which is under way: the phase is split, and its rest has the line.

No revision brings in a remedy that a phase has no line for, and a line added to the phase would
be a line from its first day on, as if it had been taken all along.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from sennight.domain.courses.compare import compare
from sennight.domain.courses.courses import Course
from sennight.domain.courses.editing import EditError, add_line, split_phase
from sennight.domain.courses.plan import LayoutError, PhaseRun
from sennight.domain.courses.protocols import Line
from sennight.domain.courses.stretches import Layout, lay_out


@dataclass(frozen=True, slots=True)
class Joined:
    """The course with the line from `first` on, in the new phase `phase`."""

    course: Course
    phase: str
    first: date


def join_later(layout: Layout, course: Course, phase_id: str, line: Line, today: date) -> Joined:
    """A line from the first week of a phase that begins today or later.

    `layout` is how things stand; `course` is the same course, with the line's remedy among its
    own. The phase is split at that week, so cycles and counted days begin again there. Raises
    EditError where no such week is left in the phase, or where the split would change what was
    taken before it, as when a decision names the phase.
    """
    weeks = _weeks_gone(layout, phase_id, today)
    joined, after = _split(course, phase_id, line, weeks)
    while joined.first < today:
        weeks += 1
        joined, after = _split(course, phase_id, line, weeks)
    changed = compare(layout, after).first_day
    if changed is not None and changed < joined.first:
        raise EditError(
            f"splitting “{phase_id}” would change days before {joined.first}, since a decision "
            "counts on its length; expected a phase that no decision names"
        )
    return joined


def _weeks_gone(layout: Layout, phase_id: str, today: date) -> int:
    """The weeks of a phase until today, the last one begun too; 1 at least.

    Fewer where there are pauses, since in a freeze no week of the phase goes by.
    """
    run = _run(layout, phase_id)
    if run is None:
        raise EditError(f"“{phase_id}” has no day in this course; expected a phase that runs")
    return 1 if layout.pauses else max(1, -(-(today - run.span.first).days // 7))


def _split(course: Course, phase_id: str, line: Line, weeks: int) -> tuple[Joined, Layout]:
    """A phase split after so many weeks, the line in its second part, and how that lies."""
    protocol, new_id = split_phase(course.protocol, phase_id, weeks)
    course = replace(course, protocol=add_line(protocol, new_id, line))
    try:
        after = lay_out(course)
    except LayoutError as error:
        raise EditError(str(error)) from error
    run = _run(after, new_id)
    if run is None:
        raise EditError(f"no week of “{phase_id}” is left in this course; expected one that is")
    return Joined(course, new_id, run.span.first), after


def _run(layout: Layout, phase_id: str) -> PhaseRun | None:
    return next((run for run in layout.phases if run.phase.id == phase_id), None)
