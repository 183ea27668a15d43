"""Moving the end of a phase, before a course begins and while it runs."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.courses.compare import compare
from sennight.domain.courses.courses import Course, Extend
from sennight.domain.courses.editing import EditError
from sennight.domain.courses.phase_ends import is_running, move_end
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import CalendarUnit, Length
from support import samples

EARLIER = samples.START - timedelta(days=10)
RUNNING = samples.START + timedelta(days=10)


def course() -> Course:
    return samples.course(
        samples.phase("loading", "6 w", samples.line("t1", "1 cup tds")),
        samples.phase("middle", "2 mo", samples.line("t1", "1 cup bd")),
        samples.phase("open", None, samples.line("t1", "1 cup od")),
    )


@given(st.integers(1, 80), st.booleans(), st.sampled_from(["loading", "middle"]))
def test_a_phase_ends_where_it_was_put(days: int, running: bool, phase: str) -> None:
    before = lay_out(course())
    run = next(run for run in before.phases if run.phase.id == phase)
    end = max(run.span.first, RUNNING) + timedelta(days=days)
    after = lay_out(move_end(before, phase, end, today=RUNNING if running else EARLIER))
    moved = {one.phase.id: one.span for one in after.phases}
    assert moved[phase].end == end
    assert moved[phase].first == run.span.first


def test_before_the_course_it_is_an_edit_and_later_a_decision() -> None:
    layout = lay_out(course())
    end = layout.phases[0].span.end + timedelta(days=14)
    edited = move_end(layout, "loading", end, today=EARLIER)
    assert edited.revisions == ()
    assert edited.protocol.phases[0].length == Length(8, CalendarUnit.WEEKS)
    decided = move_end(layout, "loading", end, today=RUNNING)
    assert decided.protocol == course().protocol
    assert decided.revisions == (Extend(on=RUNNING, phase="loading", by=2, in_weeks=True),)
    assert not compare(lay_out(edited), lay_out(decided))
    assert is_running(decided, EARLIER)


def test_months_stay_months_where_they_come_out_even() -> None:
    layout = lay_out(course())
    first = layout.phases[1].span.first
    three = move_end(layout, "middle", Length(3, CalendarUnit.MONTHS).after(first), today=EARLIER)
    assert three.protocol.phases[1].length == Length(3, CalendarUnit.MONTHS)
    fifty_days = move_end(layout, "middle", first + timedelta(days=50), today=EARLIER)
    assert fifty_days.protocol.phases[1].length == Length(50, CalendarUnit.DAYS)


def test_an_open_phase_moves_the_last_day() -> None:
    layout = lay_out(course())
    moved = move_end(layout, "open", date(2027, 9, 1), today=EARLIER)
    assert moved.until == date(2027, 8, 31)


def test_a_phase_keeps_a_day() -> None:
    layout = lay_out(course())
    with pytest.raises(EditError, match="expected an end after"):
        move_end(layout, "loading", samples.START, today=EARLIER)
    with pytest.raises(EditError, match="no day in this course"):
        move_end(layout, "nowhere", date(2027, 9, 1), today=EARLIER)
    assert move_end(layout, "loading", layout.phases[0].span.end, today=EARLIER) == course()
