"""A remedy that joins a phase which is under way: the phase is split, and its rest has the line.

No revision brings in a remedy that a phase has no line for, and a line added to the phase would
be a line from its first day on, as if it had been taken all along.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from itertools import count

from sennight.domain.compare import compare
from sennight.domain.courses import Course
from sennight.domain.editing import EditError, add_line, split_phase
from sennight.domain.plan import LayoutError
from sennight.domain.protocols import Line
from sennight.domain.stretches import Layout, lay_out


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
    for joined in _splits(layout, course, phase_id, line, today):
        after = _tried(joined)
        run = next((run for run in after.phases if run.phase.id == joined.phase), None)
        if run is None:
            break
        if run.span.first < today:
            continue
        changed = compare(layout, after).first_day
        if changed is not None and changed < run.span.first:
            raise EditError(
                f"splitting “{phase_id}” would change days before {run.span.first}, since a "
                "decision counts on its length; expected a phase that no decision names"
            )
        return replace(joined, first=run.span.first)
    raise EditError(f"no week of “{phase_id}” begins on {today} or later; expected one that does")


def _splits(
    layout: Layout, course: Course, phase_id: str, line: Line, today: date
) -> Iterator[Joined]:
    """The course split after ever more weeks; ends, as split_phase says, with an EditError."""
    run = next((run for run in layout.phases if run.phase.id == phase_id), None)
    if run is None:
        raise EditError(f"“{phase_id}” has no day in this course; expected a phase that runs")
    gone = -(-(today - run.span.first).days // 7)
    for weeks in count(1 if layout.pauses else max(1, gone)):  # in a freeze no week goes by
        protocol, new_id = split_phase(course.protocol, phase_id, weeks)
        protocol = add_line(protocol, new_id, line)
        yield Joined(replace(course, protocol=protocol), new_id, run.span.first)


def _tried(joined: Joined) -> Layout:
    try:
        return lay_out(joined.course)
    except LayoutError as error:
        raise EditError(str(error)) from error
