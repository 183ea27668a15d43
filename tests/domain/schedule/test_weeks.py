"""The sheet of weeks and the day plan, against the stretches read day by day."""

from __future__ import annotations

from datetime import date, time, timedelta

import pytest
from hypothesis import given, settings

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, End, Flare, Pause, PauseMode, Stop
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.dates import course_week
from sennight.domain.day import ClientDay, Moment
from sennight.domain.schedule.day_plan import day_plan
from sennight.domain.schedule.weeks import CalendarWeek, CourseWeeks, DayCell, State, day_text
from support.draws import draws
from support.samples import START, course, day, line, phase, possible_courses

WEDNESDAY = date(2027, 1, 6)


def rows_of(layout: Layout) -> tuple[CalendarWeek, ...]:
    return tuple(CourseWeeks(layout))


def cells(layout: Layout) -> dict[date, DayCell]:
    return {cell.day: cell for row in CourseWeeks(layout) for cell in row.cells}


def states(cell: DayCell) -> dict[str, tuple[State, int]]:
    return {mark.remedy: (mark.state, mark.doses) for mark in cell.marks}


def test_rows_are_calendar_weeks_and_each_has_the_course_week_that_begins_in_it() -> None:
    rows = rows_of(lay_out(course(phase("a", "2 w", line("t1", "1 cup od")), start=WEDNESDAY)))
    assert [row.week for row in rows] == [1, 2, None]
    assert [row.monday for row in rows] == [date(2027, 1, d) for d in (4, 11, 18)]
    assert [row.first for row in rows] == [date(2027, 1, d) for d in (6, 11, 18)]
    inside = [[cell.in_course for cell in row.cells] for row in rows]
    assert inside == [[False] * 2 + [True] * 5, [True] * 7, [True] * 2 + [False] * 5]
    assert [cell.week for cell in rows[1].cells] == [1, 1, 2, 2, 2, 2, 2]


def test_a_course_from_a_monday_has_one_row_a_week() -> None:
    rows = rows_of(lay_out(course(phase("a", "12 w", line("t1", "1 cup od")))))
    assert [row.week for row in rows] == list(range(1, 13))
    assert all(cell.in_course for row in rows for cell in row.cells)


@pytest.mark.parametrize("shift", range(7))
def test_every_week_of_a_year_begins_in_its_own_row(shift: int) -> None:
    start = START + timedelta(days=shift)
    rows = rows_of(lay_out(course(phase("a", None, line("t1", "1 cup od")), start=start)))
    for row in rows:
        weeks = {course_week(start, c.day) for c in row.cells if c.in_course}
        assert row.week in weeks or row.week is None
    assert [row.week for row in rows if row.week] == list(range(1, 53))


@given(possible_courses())
@settings(max_examples=draws(25))
def test_each_day_shows_what_the_stretches_hold(given_course: Course) -> None:
    layout = lay_out(given_course)
    order = [remedy.id for remedy in given_course.remedies]
    for cell in cells(layout).values():
        assert cell.in_course == (cell.day in layout.days)
        taken = {s.remedy: s for s in layout.stretches if s.taken_on(cell.day)}
        shown = {mark.remedy: mark for mark in cell.marks}
        assert len(shown) == len(cell.marks)
        assert [m.index for m in cell.marks] == sorted(order.index(r) for r in shown)
        assert {r: m.stretch for r, m in shown.items() if m.stretch} == taken
        for mark in shown.values():
            stretch = mark.stretch
            if stretch is not None:
                assert (mark.doses, mark.as_needed_max) == (
                    len(stretch.times),
                    stretch.as_needed_max,
                )
                assert (mark.state is State.AS_NEEDED) == (not stretch.times)
        off = {r.remedy for r in layout.rests if cell.day in r.span}
        assert {r for r, m in shown.items() if m.state is State.OFF} == off
        paused = {r for r, m in shown.items() if m.state is State.PAUSED}
        assert not paused or cell.paused


def test_week_off_pause_flare_and_what_is_taken_as_needed() -> None:
    layout = lay_out(
        course(
            phase(
                "loading",
                "6 w",
                line("t1", "1 cup tds"),
                line("t2", "5 mL bd 3 w on 1 w off"),
                line("t3", "1 application prn max 4/day"),
            ),
            phase("rescue", "7 d", line("t3", "2 capsule qds")),
            revisions=(
                Flare(on=day(8), first=day(8), rescue="rescue"),
                Pause(on=day(30), first=day(30), last=day(31), mode=PauseMode.SKIP),
                Stop(on=day(36), remedy="t2", first=day(36)),
            ),
        )
    )
    found = cells(layout)
    needed = {
        "t1": (State.TAKEN, 3),
        "t2": (State.TAKEN, 2),
        "t3": (State.AS_NEEDED, 0),
    }
    assert states(found[day(1)]) == needed
    assert states(found[day(8)]) == {**needed, "t3": (State.TAKEN, 4)}
    assert [m.in_flare for m in found[day(8)].marks] == [False, False, True]
    assert (found[day(8)].phase, found[day(8)].flare) == ("loading", "rescue")
    assert states(found[day(22)])["t2"] == (State.OFF, 0)
    assert states(found[day(30)]) == dict.fromkeys(("t1", "t2", "t3"), (State.PAUSED, 0))
    assert "t2" not in states(found[day(36)])
    assert not found[day(30)].resting
    assert not found[day(22)].resting


def test_a_week_off_for_all_is_resting() -> None:
    layout = lay_out(course(phase("a", "4 w", line("t1", "1 cup od 3 w on 1 w off"))))
    found = cells(layout)
    assert [found[day(n)].resting for n in (21, 22, 28)] == [False, True, True]


def test_a_day_that_is_not_due_has_no_mark() -> None:
    layout = lay_out(course(phase("a", "2 w", line("t1", "1 cup od on mon thu"))))
    found = cells(layout)
    assert [bool(found[day(n)].marks) for n in range(1, 8)] == [
        True,
        False,
        False,
        True,
        False,
        False,
        False,
    ]


def test_a_course_that_ends_at_once_has_no_rows() -> None:
    layout = lay_out(
        course(
            phase("a", "2 w", line("t1", "1 cup od")),
            revisions=(End(on=START, first=START),),
        )
    )
    assert rows_of(layout) == ()


def test_sentences_for_a_screen_reader() -> None:
    layout = lay_out(
        course(
            phase(
                "loading",
                "4 w",
                line("t1", "1 cup tds"),
                line("t2", "2.5 mL bd and prn max 2/day 3 w on 1 w off"),
                line("t3", "1 application prn max 1/day on mon"),
            ),
            start=WEDNESDAY,
        )
    )
    rows = rows_of(layout)
    outside = day_text(layout, rows[0].cells[0])
    assert outside.sentence == "Monday 4 January 2027: outside the course."
    assert day_text(layout, rows[0].cells[2]).sentence == (
        "Wednesday 6 January 2027, week 1, loading: Remedy t1 1 cup at 07:30, 12:30 and 18:30; "
        "Remedy t2 2.5 mL at 07:30 and 18:30, and when needed, at most 2 times more."
    )
    assert day_text(layout, rows[4].cells[0]).sentence == (
        "Monday 1 February 2027, week 4, loading: Remedy t1 1 cup at 07:30, 12:30 and 18:30; "
        "Remedy t2 off; Remedy t3 1 application when needed, at most once."
    )


def test_a_day_with_nothing_says_so() -> None:
    layout = lay_out(course(phase("a", "1 w", line("t1", "1 cup od on mon"))))
    tuesday = rows_of(layout)[0].cells[1]
    told = day_text(layout, tuesday).sentence
    assert told == "Tuesday 5 January 2027, week 1, a: nothing to take."


def test_the_day_from_rising_to_bedtime() -> None:
    late = ClientDay.at({Moment.BEDTIME: time(0, 30)})
    layout = lay_out(
        course(
            phase(
                "a",
                "1 w",
                line("t1", "1 cup qds ac"),
                line("t2", "5 mL at 09:15,bedtime"),
                line("t3", "1 application prn gap 4 h"),
            ),
            client=Client("Una Example", day=late),
        )
    )
    plan = day_plan(layout, START)
    assert (plan.rising, plan.bedtime) == (420, 1470)
    assert [(at.minute, at.moment, [d.remedy for d in at.doses]) for at in plan.times] == [
        (420, "on getting up", ["t1"]),
        (555, "", ["t2"]),
        (720, "half an hour before lunch", ["t1"]),
        (1080, "half an hour before the evening meal", ["t1"]),
        (1470, "bedtime", ["t1", "t2"]),
    ]
    assert [(one.remedy, one.ceiling) for one in plan.as_needed] == [("t3", 5)]
    assert day_plan(layout, START - timedelta(days=1)).times == ()


def test_a_day_is_found_without_its_row_and_days_outside_are_not() -> None:
    weeks = CourseWeeks(
        lay_out(course(phase("a", "10 w", line("t1", "1 cup od")), start=WEDNESDAY))
    )
    assert weeks.mondays == tuple(row.monday for row in weeks)
    by_day = {cell.day: cell for row in weeks for cell in row.cells}
    assert weeks.cell(WEDNESDAY) == by_day[WEDNESDAY]
    last = WEDNESDAY + timedelta(weeks=10, days=-1)
    assert weeks.cell(last) == by_day[last]
    assert weeks.cell(last + timedelta(days=1)) is None
    assert weeks.cell(WEDNESDAY - timedelta(days=1)) is None
