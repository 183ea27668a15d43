"""The most clock times of a day, against every day looked at one by one."""

from __future__ import annotations

from datetime import date

from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import lay_out
from sennight.domain.schedule.doses import doses, most_times_a_day
from support import samples
from support.samples import line, phase


def test_the_fullest_day_counts_a_shared_time_once_and_lies_ahead() -> None:
    """From a Monday: the tea twice a day, and on Thursdays drops at two times more."""
    lines = line("r1", "1 cup at 08:00,20:00"), line("r2", "1 cup at 09:00,20:00,21:00 on thu")
    layout = lay_out(samples.course(phase("a", "2 w", *lines)))
    assert most_times_a_day(layout, since=samples.day(1)) == 4
    assert most_times_a_day(layout, since=samples.day(11)) == 4
    assert most_times_a_day(layout, since=samples.day(12)) == 2, "no Thursday is left"
    assert most_times_a_day(layout, since=samples.day(15)) == 0


def test_rules_that_meet_in_the_second_week_alone_are_met() -> None:
    """Tuesdays, and alternate days from a Monday: both on the ninth day first."""
    lines = line("r1", "1 cup at 08:00 on tue"), line("r2", "1 cup at 09:00 alternate days")
    layout = lay_out(samples.course(phase("a", "2 w", *lines)))
    assert most_times_a_day(layout, since=samples.day(1)) == 2
    assert most_times_a_day(layout, since=samples.day(10)) == 1


@given(samples.possible_courses(), st.integers(1, 40))
def test_it_is_what_counting_every_day_gives(course: Course, number: int) -> None:
    layout, since = lay_out(course), samples.day(number)
    times: dict[date, set[tuple[date, object]]] = {}
    for dose in doses(layout):
        if dose.day >= since:
            times.setdefault(dose.day, set()).add((dose.date, dose.time))
    assert most_times_a_day(layout, since=since) == max(map(len, times.values()), default=0)
