"""What a course brings to attention, and when."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from hypothesis import assume, given, settings

from sennight.domain.coming import ComingDay, coming_days
from sennight.domain.courses.courses import Course, End, Flare, Pause, PauseMode
from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.lasting import Lasting
from sennight.domain.matters import Matter
from sennight.domain.supply.needs import Bottle
from support import samples
from support.draws import draws
from support.naive import Reading
from support.samples import START, day, line, phase

ONE = timedelta(days=1)
YEAR = samples.course(
    phase("loading", "4 w", line("t1", "1 cup bd 2 w on 1 w off")),
    phase("keeping", "14 w", line("t1", "1 cup od"), line("t2", "1 cup od 2 d on 2 d off")),
    phase("ease", "5 d", line("t3", "1 cup qds")),
)
YEAR = replace(
    YEAR,
    protocol=replace(
        YEAR.protocol,
        phases=(
            *YEAR.protocol.phases[:2],
            replace(YEAR.protocol.phases[2], purpose="rescue"),
        ),
    ),
)


def of(course: Course, *matters: Matter) -> list[ComingDay]:
    return [row for row in coming_days(lay_out(course)) if row.matter in matters]


def test_phases_begin_and_end_and_are_reviewed() -> None:
    assert of(YEAR, Matter.BEGIN, Matter.PHASE, Matter.END) == [
        ComingDay(Matter.BEGIN, START, "loading", day(28)),
        ComingDay(Matter.END, day(126)),
        ComingDay(Matter.PHASE, day(29), "keeping", day(126)),
    ]
    assert [(row.day, row.what) for row in of(YEAR, Matter.REVIEW)] == [
        (day(28), "loading"),
        (day(113), "keeping"),
        (day(126), "keeping"),
    ]


def test_weeks_off_are_told_and_days_off_are_not() -> None:
    name = YEAR.remedy("t1").name
    assert of(YEAR, Matter.OFF, Matter.BACK) == [
        ComingDay(Matter.BACK, day(22), name),
        ComingDay(Matter.OFF, day(15), name, day(21)),
    ]


def test_a_flare_lasts_and_is_over() -> None:
    flare = Flare(on=day(40), first=day(41), rescue="ease")
    assert of(replace(YEAR, revisions=(flare,)), Matter.FLARE, Matter.FLARE_END) == [
        ComingDay(Matter.FLARE, day(41), "ease", day(45)),
        ComingDay(Matter.FLARE_END, day(46), "ease"),
    ]


def test_a_pause_is_over_only_where_something_is_taken_after_it() -> None:
    pause = Pause(on=day(40), first=day(41), last=day(45), mode=PauseMode.SKIP)
    paused = replace(YEAR, revisions=(pause,))
    resumed = ComingDay(Matter.RESUME, day(46))
    assert of(paused, Matter.PAUSE, Matter.RESUME) == [
        ComingDay(Matter.PAUSE, day(41), "", day(45)),
        resumed,
    ]
    ended = replace(paused, revisions=(pause, End(on=day(41), first=day(46))))
    assert resumed not in coming_days(lay_out(ended))


def test_orders_are_told_once_for_a_day_with_the_earlier_end() -> None:
    def lasts(formula: str, order_by: date | None, last: date | None) -> Lasting:
        return Lasting(Bottle("t1", formula, Unit.CUP), last, order_by)

    layout = lay_out(YEAR)
    found = coming_days(
        layout,
        [
            lasts("t1", day(9), day(17)),
            lasts("t1", day(9), day(16)),
            lasts("t2", day(3), None),
            lasts("t3", None, day(126)),
        ],
    )
    assert [row for row in found if row.matter is Matter.ORDER] == [
        ComingDay(Matter.ORDER, day(3), YEAR.remedy("t2").name),
        ComingDay(Matter.ORDER, day(9), YEAR.remedy("t1").name, day(16)),
    ]


def test_what_was_struck_out_or_ended_at_once_brings_nothing() -> None:
    assert coming_days(lay_out(replace(YEAR, void="another client's", void_on=START))) == ()
    assert coming_days(lay_out(replace(YEAR, revisions=(End(on=START, first=START),)))) == ()


def frozen_twice(course: Course) -> bool:
    """Whether two frozen pauses have a day in common: both lengths count then in the layout."""
    days = [
        pause.first + n * ONE
        for pause in course.revisions
        if isinstance(pause, Pause) and pause.mode is PauseMode.FREEZE
        for n in range((pause.last - pause.first).days + 1)
    ]
    return len(days) > len(set(days))


@settings(max_examples=draws(15))
@given(samples.possible_courses())
def test_phases_and_weeks_off_are_those_of_a_reading_day_by_day(course: Course) -> None:
    assume(not frozen_twice(course))
    reading = Reading(course)
    end = reading.end or date.max
    by_day = {real: at.phase.id for real, at in reading.placed().items() if real < end}
    runs = {name: [d for d, its in by_day.items() if its == name] for name in by_day.values()}
    rows = coming_days(lay_out(course))
    phases = [row for row in rows if row.matter in (Matter.BEGIN, Matter.PHASE)]
    told = {row.what: (row.day, row.until) for row in phases}
    # A frozen pause at a phase's end may count to it, so only first days are compared.
    assert told.keys() == runs.keys()
    assert {name: first for name, (first, _) in told.items()} == {
        name: min(days) for name, days in runs.items()
    }
    taken = reading.taken()
    ids = {remedy.name: remedy.id for remedy in course.remedies}
    for row in rows:
        if row.matter is Matter.OFF and row.until is not None:
            days = range((row.until - row.day).days + 1)
            assert len(days) >= 7
            assert not any((row.day + n * ONE, ids[row.what]) in taken for n in days)
        elif row.matter is Matter.BACK:
            # Of what is taken on some weekdays the first may come a few days later.
            assert any((row.day + n * ONE, ids[row.what]) in taken for n in range(7))
            assert (row.day - ONE, ids[row.what]) not in taken


def test_weeks_off_at_the_end_have_no_day_on_which_they_are_over() -> None:
    only = samples.course(phase("loading", "3 w", line("t1", "1 cup bd 2 w on 1 w off")))
    assert [row.matter for row in of(only, Matter.OFF, Matter.BACK)] == [Matter.OFF]
