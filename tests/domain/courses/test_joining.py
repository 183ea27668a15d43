"""A remedy that joins a phase under way: what is past stays, from its day on it is taken."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.courses.compare import compare
from sennight.domain.courses.courses import Course, End, Extend, Pause, PauseMode
from sennight.domain.courses.editing import EditError
from sennight.domain.courses.joining import Joined, join_later
from sennight.domain.courses.stretches import lay_out
from support import samples

START = samples.START
NEW = samples.line("t9", "1 cup bd")
STEPPED = samples.line("t1", "1 cup tds", (2, "1 cup bd"), (5, "1 cup od"))


def course(*, last: str | None = "8 w") -> Course:
    made = samples.course(
        samples.phase("loading", "6 w", STEPPED),
        samples.phase("keeping", last, samples.line("t1", "1 cup od")),
    )
    return replace(made, remedies=(*made.remedies, samples.remedy("t9")))


def join(one: Course, phase: str, today: date) -> Joined:
    return join_later(lay_out(one), one, phase, NEW, today)


def paused(first: int, last: int, mode: PauseMode) -> Pause:
    """A pause between two days of the course, counted from 0."""
    days = [START + timedelta(days=n) for n in (first, last)]
    return Pause(on=START, first=days[0], last=days[1], mode=mode)


@given(st.integers(0, 34), st.sampled_from(["skip", "freeze", None]))
def test_nothing_changes_before_it_and_from_then_on_it_is_taken(
    days: int, pause: str | None
) -> None:
    today = START + timedelta(days=days)
    one = course()
    if pause:
        one = replace(one, revisions=(paused(9, 15, PauseMode(pause)),))
    joined = join(one, "loading", today)
    before, after = lay_out(one), lay_out(joined.course)
    assert joined.first >= today
    changes = compare(before, after).lines
    assert {change.remedy for change in changes} == {"t9"}
    taken = [s for s in after.stretches if s.remedy == "t9"]
    first = joined.first
    while any(first in span for span in after.pauses):
        first += timedelta(days=1)
    assert min(s.span.first for s in taken) == first
    assert {s.phase for s in taken} == {joined.phase}
    assert max(s.span.end for s in taken) == next(
        run.span.end for run in before.phases if run.phase.id == "loading"
    )


def test_it_joins_on_the_first_day_of_the_next_week() -> None:
    assert join(course(), "loading", START + timedelta(days=8)).first == START + timedelta(days=14)
    assert join(course(), "loading", START + timedelta(days=14)).first == START + timedelta(
        days=14
    )


def test_a_freeze_counts_no_week() -> None:
    one = replace(course(), revisions=(paused(7, 13, PauseMode.FREEZE),))
    joined = join(one, "loading", START + timedelta(days=15))
    assert joined.first == START + timedelta(days=21)
    assert joined.course.protocol.phases[0].length == samples.length("2 w")


def test_it_joins_an_open_phase() -> None:
    joined = join(course(last=None), "keeping", START + timedelta(weeks=8))
    assert joined.first == START + timedelta(weeks=8)
    assert joined.phase == "keeping 2"


@pytest.mark.parametrize(
    ("phase", "weeks", "said"),
    [
        ("loading", 6, "expected a week inside it"),
        ("rescue", 2, "has no day in this course"),
    ],
)
def test_where_no_week_is_left_it_is_told(phase: str, weeks: int, said: str) -> None:
    with pytest.raises(EditError, match=said):
        join(course(), phase, START + timedelta(weeks=weeks))


def test_behind_the_end_of_the_course_no_week_begins() -> None:
    ended = End(on=START, first=START + timedelta(weeks=9))
    one = replace(course(last=None), revisions=(ended,))
    with pytest.raises(EditError, match="no week of “keeping” is left"):
        join(one, "keeping", START + timedelta(weeks=8, days=3))
    one = replace(course(last=None), until=START + timedelta(weeks=8, days=-1))
    with pytest.raises(EditError, match="expected a later last day"):
        join(one, "keeping", START + timedelta(weeks=7, days=3))


def test_a_decision_that_counts_on_the_phase_stands_against_it() -> None:
    """Loading of 6 weeks, 2 longer by decision, would keep those 2 in its first part."""
    longer = Extend(on=START, phase="loading", by=2, in_weeks=True)
    one = course()
    stepped = replace(
        one.protocol.phases[0], lines=(samples.line("t1", "1 cup tds", (4, "1 cup od")),)
    )
    protocol = replace(one.protocol, phases=(stepped, *one.protocol.phases[1:]))
    one = replace(one, protocol=protocol, revisions=(longer,))
    with pytest.raises(EditError, match="would change days before 2027-02-08, since a decision"):
        join(one, "loading", START + timedelta(weeks=3))
