"""Stretches against a naive day-by-day reading, and against dateutil for cycles and months."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

import pytest
from dateutil.relativedelta import relativedelta
from dateutil.rrule import DAILY, WEEKLY, rrule
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, Pause, PauseMode
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.protocols import LOADING, empty_protocol
from sennight.domain.courses.stretches import cycle_runs, lay_out
from sennight.domain.dates import CalendarUnit, Length, Span
from sennight.domain.day import ClientDay, Moment
from sennight.domain.schedule.doses import doses, expected
from support.draws import draws
from support.naive import Reading
from support.samples import course, courses, day, line, phase, take
from support.single_days import days_of, rows


@settings(max_examples=draws(50))
@given(courses())
def test_a_course_equals_its_day_by_day_reading(plan: Course) -> None:
    assert days_of(lay_out(plan)) == Reading(plan).taken()


def test_phases_follow_each_other_in_days_weeks_and_months() -> None:
    plan = course(
        phase("a", "10 d", line("t1", "1 cup od")),
        phase("b", "2 w", line("t1", "2 cups od")),
        phase("c", "1 mo", line("t1", "3 cups od")),
        phase("d", None, line("t1", "4 cups od")),
        start=date(2027, 1, 7),
        until=date(2027, 4, 1),
    )
    assert [(r.span.first, r.span.last) for r in lay_out(plan).phases] == [
        (date(2027, 1, 7), date(2027, 1, 16)),
        (date(2027, 1, 17), date(2027, 1, 30)),
        (date(2027, 1, 31), date(2027, 2, 27)),  # the 31st + 1 month: 28 February
        (date(2027, 2, 28), date(2027, 4, 1)),
    ]


def test_an_open_phase_runs_to_the_364th_day() -> None:
    plan = course(phase("a", "1 w"), phase("b", None, line("t1", "1 cup od")))
    assert lay_out(plan).stretches[0].span == Span.of_days(day(8), day(364))


def test_until_bounds_an_open_phase_and_nothing_else() -> None:
    plan = course(phase("a", "6 w", line("t1", "1 cup od")), until=day(10))
    assert lay_out(plan).stretches[0].span.last == day(42)


def test_an_open_phase_without_a_day_is_refused() -> None:
    plan = course(phase("a", "2 w"), phase("b", None), until=day(14))
    with pytest.raises(LayoutError, match=r"open phase “b” would begin on 2027-01-18"):
        lay_out(plan)


def test_steps_replace_directions_whole_from_their_point() -> None:
    plan = course(phase("a", "6 w", line("t1", "1 cup tds ac 1 w on 1 w off", (4, "1 cup bd"))))
    assert rows(plan) == [
        (1, 7, "a", "1 cup tds ac 1 w on 1 w off"),
        (15, 21, "a", "1 cup tds ac 1 w on 1 w off"),
        (29, 42, "a", "1 cup bd"),
    ]


def test_a_step_is_the_anchor_of_its_cycle() -> None:
    plan = course(phase("a", "4 w", line("t1", "1 cup od", (1, "1 cup od 1 w on 1 w off"))))
    assert [(a, b) for a, b, _, _ in rows(plan)] == [(1, 7), (8, 14), (22, 28)]


def test_counted_days_start_on_a_day_taken() -> None:
    """An on-period that begins on a day left out starts its stretch on the next day taken."""
    plan = course(phase("a", "8 w", line("t1", "1 cup od alternate days 3 w on 2 w off")))
    assert [(a, b) for a, b, _, _ in rows(plan)] == [(1, 21), (37, 56)]
    assert {n for n in range(1, 57) if expected(lay_out(plan).stretches, "t1", day(n))} == {
        *range(1, 22, 2),
        *range(37, 57, 2),
    }


def test_days_without_a_weekday_taken_on_are_no_stretch() -> None:
    pause = Pause(on=day(1), first=day(3), last=day(14), mode=PauseMode.SKIP)
    plan = course(phase("a", "3 w", line("t1", "1 cup od on fri")), revisions=(pause,))
    assert [(a, b) for a, b, _, _ in rows(plan)] == [(15, 21)]


def test_rests_are_the_off_periods() -> None:
    plan = course(phase("a", "9 w", line("t1", "1 cup od 3 w on 1 w off")))
    assert [(r.span.first, r.span.last) for r in lay_out(plan).rests] == [
        (day(22), day(28)),
        (day(50), day(56)),
    ]


def test_doses_past_midnight_carry_the_next_date() -> None:
    late = Client("Una Example", day=ClientDay.at({Moment.BEDTIME: time(0, 30)}))
    plan = course(phase("a", "2 d", line("t1", "1 cup nocte")), client=late)
    found = doses(lay_out(plan))
    assert [(d.date, d.time.isoformat("minutes"), d.day) for d in found] == [
        (day(2), "00:30", day(1)),
        (day(3), "00:30", day(2)),
    ]


def test_doses_are_in_order_of_time_then_remedy() -> None:
    plan = course(phase("a", "1 d", line("t2", "1 cup tds"), line("t1", "1 cup bd")))
    assert [(d.time.hour, d.remedy) for d in doses(lay_out(plan))] == [
        (7, "t1"),
        (7, "t2"),
        (12, "t2"),
        (18, "t1"),
        (18, "t2"),
    ]


def test_as_needed_lines_have_stretches_and_no_doses() -> None:
    plan = course(phase("a", "1 w", line("t1", "1 cup every 4-6 h prn")))
    (only,) = lay_out(plan).stretches
    assert (only.times, only.as_needed_max) == ((), 4)
    assert doses(lay_out(plan)) == ()


# dateutil as the outside reference


@given(st.integers(1, 30), st.integers(1, 30), st.dates(date(2026, 1, 1), date(2030, 1, 1)))
def test_cycles_of_days_start_where_rrule_says(on: int, off: int, anchor: date) -> None:
    cycle = take(f"1 cup od {on} d on {off} d off").cycle
    assert cycle is not None
    within = Span(anchor, anchor + timedelta(days=400))
    starts = [span.first for span, is_on in cycle_runs(cycle, anchor, within) if is_on]
    rule = rrule(
        DAILY, interval=on + off, dtstart=_at_midnight(anchor), until=_at_midnight(within.last)
    )
    assert starts == [when.date() for when in rule]


@given(st.integers(1, 8), st.integers(1, 8), st.dates(date(2026, 1, 1), date(2030, 1, 1)))
def test_cycles_of_weeks_start_where_rrule_says(on: int, off: int, anchor: date) -> None:
    cycle = take(f"1 cup od {on} w on {off} w off").cycle
    assert cycle is not None
    within = Span(anchor + timedelta(days=100), anchor + timedelta(days=500))
    starts = [span.first for span, is_on in cycle_runs(cycle, anchor, within) if is_on]
    rule = rrule(
        WEEKLY, interval=on + off, dtstart=_at_midnight(anchor), until=_at_midnight(within.last)
    )
    inside = [when.date() for when in rule if when.date() >= within.first]
    assert starts[-len(inside) :] == inside  # the first run may have begun before the span


def test_cycles_of_months_count_each_run_from_its_own_first_day() -> None:
    cycle = take("1 cup od 1 mo on 1 mo off").cycle
    assert cycle is not None
    within = Span(date(2027, 1, 31), date(2027, 7, 1))
    starts = [span.first for span, _ in cycle_runs(cycle, date(2027, 1, 31), within)]
    # 31 Jan + 1 month + 1 month is 28 March, as dateutil steps it
    assert starts == [date(2027, 1, 31), *(date(2027, month, 28) for month in range(2, 7))]


def test_months_before_the_days_asked_for_are_counted_and_not_told() -> None:
    cycle = take("1 cup od 1 mo on 1 mo off").cycle
    assert cycle is not None
    within = Span(date(2027, 3, 10), date(2027, 5, 1))
    assert list(cycle_runs(cycle, date(2027, 1, 1), within)) == [
        (Span(date(2027, 3, 10), date(2027, 4, 1)), True),
        (Span(date(2027, 4, 1), date(2027, 5, 1)), False),
    ]


@given(st.dates(date(2024, 1, 1), date(2032, 1, 1)), st.integers(1, 24))
def test_lengths_in_months_are_dateutils(first: date, months: int) -> None:
    assert Length(months, CalendarUnit.MONTHS).after(first) == first + relativedelta(months=months)


def _at_midnight(when: date) -> datetime:
    return datetime.combine(when, time())


def test_a_course_knows_its_own_remedies_and_no_others() -> None:
    plan = course(phase("loading", "2 w", line("t1", "1 cup od")))
    assert plan.remedy("t2").id == "t2"
    with pytest.raises(KeyError, match="t9"):
        plan.remedy("t9")


def test_an_empty_protocol_has_a_phase_to_begin_with() -> None:
    protocol = empty_protocol("Knees")
    assert protocol.name == "Knees"
    assert [(one.id, one.purpose, one.lines) for one in protocol.sequence] == [
        (LOADING, LOADING, ())
    ]
