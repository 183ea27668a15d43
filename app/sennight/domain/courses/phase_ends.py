"""Moving the end of a phase: what it takes, before a course begins and while it runs."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from sennight.domain.courses.courses import Course, Extend
from sennight.domain.courses.editing import EditError, with_length
from sennight.domain.courses.protocols import Phase
from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import ONE_DAY, CalendarUnit, Length, days_or_weeks


def is_running(course: Course, today: date) -> bool:
    """Whether a change of a phase's end is a decision to keep, not an edit of the plan.

    So it is from the first day on, and as soon as anything was decided.
    """
    return course.start <= today or bool(course.revisions)


def move_end(layout: Layout, phase_id: str, end: date, *, today: date) -> Course:
    """The course with a phase that ends the day before `end`; everything after it moves along.

    An edit of the phase's length (or of the course's last day, for an open phase) before the
    course runs, else one more Extend. Raises EditError where the phase would have no day left.
    """
    course = layout.course
    run = next((run for run in layout.phases if run.phase.id == phase_id), None)
    if run is None:
        raise EditError(f"“{phase_id}” has no day in this course; expected a phase that runs")
    if end <= run.span.first:
        raise EditError(f"“{phase_id}” begins on {run.span.first}; expected an end after it")
    moved = (end - run.span.end).days
    if not moved:
        return course
    if is_running(course, today):
        in_weeks = moved % 7 == 0
        by = moved // 7 if in_weeks else moved
        extend = Extend(on=today, phase=phase_id, by=by, in_weeks=in_weeks)
        return replace(course, revisions=(*course.revisions, extend))
    if run.phase.length is None:
        return replace(course, until=end - ONE_DAY)
    length = _length(run.phase, run.span.first, run.span.days + moved)
    return replace(course, protocol=with_length(course.protocol, phase_id, length))


def _length(phase: Phase, first: date, days: int) -> Length:
    """So many days, in months where the phase is counted in them and they come out even."""
    if phase.length and phase.length.unit is CalendarUnit.MONTHS:
        months = Length(max(1, round(days / 30.44)), CalendarUnit.MONTHS)
        if months.after(first) == first + timedelta(days=days):
            return months
    return days_or_weeks(days)
