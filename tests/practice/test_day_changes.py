"""What changes on a day, beside a plain look at each day and the one before it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

from hypothesis import given, settings

from sennight.domain.courses.courses import Course
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.directions.directions import SameTimeError
from sennight.practice.day_changes import Change, DayChange, day_changes
from support import course_cases, samples
from support.draws import draws

DAY = timedelta(days=1)
State = object


def state_of(layout: Layout, remedy: str) -> Callable[[date], State]:
    """A remedy's state on a day: how it is taken, off, in a pause, or None."""

    def on(day: date) -> State:
        taken = [s for s in layout.stretches if s.remedy == remedy and day in s.span]
        if taken:
            return {(s.amount, s.unit, s.times, s.days, s.as_needed_max, s.formula) for s in taken}
        if any(rest.remedy == remedy and day in rest.span for rest in layout.rests):
            return "off"
        return "paused" if any(day in span for span in layout.pauses) else None

    return on


def remedies_that_change(layout: Layout) -> set[tuple[date, int]]:
    """Each day on which a remedy is not as it was on the day before, pauses left out."""
    found = set()
    for place, remedy in enumerate(layout.course.remedies):
        state = state_of(layout, remedy.id)
        for day in layout.days:
            now, before = state(day), state(day - DAY) if day > layout.days.first else None
            ends_in_pause = before == "paused" and now is None
            if now not in (before, "paused") and not ends_in_pause:
                found.add((day, place))
    return found


def told(layout: Layout) -> set[tuple[date, int]]:
    return {
        (day, change.remedy)
        for day, changes in day_changes(layout).items()
        for change in changes
        if change.remedy is not None
    }


def without_overlap(layout: Layout) -> bool:
    """Whether each remedy is taken in one way at a time."""
    return all(
        not (
            a.remedy == b.remedy
            and a is not b
            and a.span.touches(b.span)
            and a.span.overlap(b.span)
        )
        for a in layout.stretches
        for b in layout.stretches
    )


def test_a_course_with_decisions_day_by_day() -> None:
    layout = lay_out(course_cases.full_course())
    assert told(layout) == remedies_that_change(layout)


@settings(max_examples=draws(10, check=20, long=400))
@given(samples.courses(revised=True))
def test_any_course_day_by_day(course: Course) -> None:
    try:
        layout = lay_out(course)
    except (LayoutError, SameTimeError):
        return
    if without_overlap(layout):
        assert told(layout) == remedies_that_change(layout)


def test_each_kind_is_told_on_its_day() -> None:
    changes = day_changes(lay_out(course_cases.full_course()))

    def kinds(day: date) -> set[tuple[Change, int | None]]:
        return {(change.kind, change.remedy) for change in changes.get(day, ())}

    assert DayChange(Change.PHASE, name="loading") in changes[date(2027, 1, 4)]
    assert (Change.STARTS, 0) in kinds(date(2027, 1, 4))
    assert (Change.OFF, 2) in kinds(date(2027, 1, 25))
    assert (Change.AGAIN, 2) in kinds(date(2027, 2, 1))
    assert (Change.STEP, 0) in kinds(date(2027, 2, 1))
    assert DayChange(Change.FLARE, name="rescue") in changes[date(2027, 2, 24)]
    assert (Change.STOPS, 4) in kinds(date(2027, 3, 3))
    assert DayChange(Change.PAUSE) in changes[date(2027, 4, 5)]
    assert date(2027, 1, 5) not in changes
