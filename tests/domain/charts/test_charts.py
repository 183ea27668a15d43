"""Charts as neutral drawings: places, what is told, and that the figures are the report's."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.charts.diary import (
    DiaryChart,
    day_drawing,
    day_weeks,
    day_words,
    diary_drawing,
    fullness_words,
)
from sennight.domain.charts.drawing import (
    Align,
    Box,
    Dot,
    Drawing,
    DyedBox,
    Ink,
    Lines,
    Shape,
    Stroke,
    Words,
)
from sennight.domain.charts.ghost import ghost_drawing
from sennight.domain.charts.scores import ScoreChart, charts_of, score_drawing
from sennight.domain.charts.time_axis import TimeAxis, axis_days, week_numbers
from sennight.domain.courses.courses import Extend, Flare, Pause, PauseMode
from sennight.domain.courses.protocols import Gate, Threshold
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.follow_up.adherence import adherence
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.follow_up.fullness import Fullness, fullness_by_day, fullness_by_week
from sennight.domain.follow_up.gates import read_gates
from sennight.domain.follow_up.progress import progress
from sennight.dyes import CHART_COLOURS
from support.samples import course, day, line, phase

GATES = {
    "one": Gate("pain", 30),
    "two": Gate("sleep", Fraction(9), Threshold.AT_LEAST),
}


def laid_out() -> Layout:
    phases = [
        replace(phase(name, "2 w", line("t1", "1 cup bd"), line("t2", "5 mL od")), gate=gate)
        for name, gate in GATES.items()
    ]
    return lay_out(
        course(
            *phases,
            phase("rescue", "3 d", line("t3", "1 capsule od")),
            revisions=(
                Flare(on=day(9), first=day(10), rescue="rescue"),
                Pause(on=day(9), first=day(22), last=day(23), mode=PauseMode.SKIP),
                Flare(on=day(11), first=day(25), rescue="rescue", void="slip", void_on=day(11)),
            ),
        )
    )


LAYOUT = laid_out()
TODAY = day(17)


def chart_of(measure: str, *values: str) -> ScoreChart:
    """Ratings on the first day, then every week."""
    scores = [Score(day(1 + 7 * n), measure, Fraction(value)) for n, value in enumerate(values)]
    (chart,) = charts_of(progress(scores), read_gates(LAYOUT, scores), LAYOUT, TODAY)
    return chart


def drawn(chart: ScoreChart, *, width: float = 500) -> Drawing:
    days = axis_days(LAYOUT, None, chart.progress.ratings[-1].day, TODAY)
    axis = TimeAxis(days, 20, width, 10)
    return score_drawing(chart, axis, 100, is_named=True, is_numbered=True)


def of_kind(drawing: Drawing, kind: type[Shape]) -> list[Shape]:
    return [shape for shape in drawing.shapes if isinstance(shape, kind)]


def said(drawing: Drawing) -> list[str]:
    return [shape.text for shape in drawing.shapes if isinstance(shape, Words)]


def test_every_ink_has_a_colour_on_each_ground() -> None:
    assert set(CHART_COLOURS) == set(Ink)


def test_an_axis_goes_on_to_the_end_of_the_phase_within_bounds() -> None:
    days = axis_days(LAYOUT, None, TODAY, TODAY)
    assert (days.first, days.days % 7) == (day(1), 0)
    assert days.end >= TODAY + timedelta(weeks=2)
    before = axis_days(LAYOUT, day(-6), day(-6), day(-6))
    assert (before.first, before.days) == (day(-6), 14)
    axis = TimeAxis(days, 20, 500, 10)
    assert (axis.across(days.first), axis.across(days.end)) == (20, 500)
    assert axis.across(day(-100)) == 20


def test_weeks_are_numbered_as_many_as_fit() -> None:
    days = replace(axis_days(LAYOUT, None, TODAY, TODAY), end=day(1) + timedelta(weeks=40))
    wide = [
        w.text
        for w in week_numbers(TimeAxis(days, 0, 2000, 10), day(1), 5)
        if isinstance(w, Words)
    ]
    assert wide == [str(n) for n in range(1, 41)]
    narrow = [
        w.text for w in week_numbers(TimeAxis(days, 0, 400, 10), day(1), 5) if isinstance(w, Words)
    ]
    assert narrow[:3] == ["1", "2", "4"]
    assert not list(week_numbers(TimeAxis(days, 0, 400, 10), day(900), 5))


def test_a_chart_has_phases_flares_breaks_flags_and_today() -> None:
    drawing = drawn(chart_of("pain", "8", "7", "5"))
    boxes = [box for box in drawing.shapes if isinstance(box, Box)]
    assert [box.fill for box in boxes if box.fill in (Ink.GROUND, Ink.GROUND_TOO)] == [
        Ink.GROUND,
        Ink.GROUND_TOO,
    ]
    flares = [box for box in boxes if box.fill is Ink.FLARE_GROUND]
    assert [(box.edge, box.stroke) for box in flares] == [(Ink.FLARE, Stroke.DASHED)]
    assert sum(box.fill is Ink.PAPER for box in boxes) == 1
    assert sum(box.fill is Ink.BAND for box in boxes) == 1
    lines = [one for one in drawing.shapes if isinstance(one, Lines)]
    assert (
        sum(one.fill is Ink.INK for one in lines) == 1
    )  # both decisions of day 9, none struck out
    (today,) = (one.points[0][0] for one in lines if one.ink is Ink.TODAY)
    assert today == pytest.approx(20 + 480 * 16.5 / 35)
    assert {"One", "Two", "gate: 5.6 or less", "5", "10", "0", "1"} <= set(said(drawing))
    assert drawing.words == "8 on 4 January 2027; 7 on 11 January 2027; 5 on 18 January 2027"


def test_a_level_is_drawn_where_it_is_and_a_rating_in_a_flare_is_hollow() -> None:
    drawing = drawn(chart_of("sleep", "4", "9", "10"))
    assert "gate: 9 or more" in said(drawing)
    scores = [Score(day(10), "sleep", Fraction(3)), Score(day(16), "sleep", Fraction(2))]
    (chart,) = charts_of(progress(scores), (), LAYOUT, TODAY)
    dots = [dot for dot in drawn(chart).shapes if isinstance(dot, Dot)]
    assert [dot.is_hollow for dot in dots] == [True, False]
    assert dots[0].y < dots[1].y
    assert not [
        one for one in drawn(chart).shapes if isinstance(one, Box) and one.fill is Ink.BAND
    ]


def test_one_rating_is_a_dot_and_a_scale_in_minutes_is_cut() -> None:
    drawing = drawn(chart_of("stiffness in minutes", "60"))
    assert len(of_kind(drawing, Dot)) == 1
    assert "66" in said(drawing)
    assert chart_of("stiffness in minutes", "0").ends == (0, 1)
    plain = score_drawing(
        chart_of("pain", "7"),
        TimeAxis(LAYOUT.days, 20, 200, 10),
        80,
        is_named=False,
        is_numbered=False,
    )
    assert "One" not in said(plain)


RATING = st.integers(0, 20).map(lambda halves: str(Fraction(halves, 2)))


@given(st.lists(RATING, min_size=1, max_size=5), st.sampled_from(["pain", "sleep", "own"]))
def test_every_shape_is_within_the_drawing_and_dots_stand_for_the_ratings(
    values: list[str], measure: str
) -> None:
    drawing = drawn(chart_of(measure, *values))
    dots = [dot for dot in drawing.shapes if isinstance(dot, Dot)]
    for dot, value in zip(dots, values, strict=True):
        assert dot.y == pytest.approx(85 - 70 * float(Fraction(value)) / 10)
    assert all(one.x < two.x for one, two in pairwise(dots))
    for shape in drawing.shapes:
        if isinstance(shape, Box):
            assert 0 <= shape.x <= shape.x + shape.width <= drawing.width
            assert 0 <= shape.y <= shape.y + shape.height <= drawing.height
        if isinstance(shape, Words):
            assert 0 <= shape.x <= drawing.width
            assert 0 <= shape.y <= drawing.height


def test_a_course_as_it_would_be_stands_in_dashes_beneath_the_one_that_is() -> None:
    longer = replace(
        LAYOUT.course,
        revisions=(*LAYOUT.course.revisions, Extend(on=TODAY, phase="two", by=7)),
    )
    then = lay_out(longer)
    axis = TimeAxis(axis_days(LAYOUT, None, TODAY, TODAY), 20, 500, 10)
    drawing = ghost_drawing(LAYOUT, then, axis)
    boxes = [box for box in drawing.shapes if isinstance(box, Box)]
    now = [box for box in boxes if box.fill in (Ink.GROUND, Ink.GROUND_TOO)]
    ghosts = [box for box in boxes if box.edge is Ink.INK]
    assert all(box.stroke is Stroke.DASHED for box in ghosts)
    assert [box.y for box in now] == [0, 0]
    assert all(box.y + box.height <= drawing.height for box in ghosts)
    assert ghosts[0].width == now[0].width
    assert ghosts[1].width > now[1].width
    assert sum(box.fill is Ink.FLARE_GROUND for box in boxes) == 2
    assert "Two until 31 January 2027" in drawing.words.partition("Then:")[0]
    assert "Two until 7 February 2027" in drawing.words.partition("Then:")[2]
    early = replace(axis, days=replace(axis.days, end=day(3)))
    assert len(ghost_drawing(LAYOUT, then, early).shapes) == 6
    none = replace(LAYOUT, phases=())
    assert "Now: Flare-up plan until" in ghost_drawing(none, then, axis).words


def diary(*entries: tuple[int, str, int]) -> DiaryChart:
    days = adherence(LAYOUT, [Taken(day(n), remedy, doses) for n, remedy, doses in entries]).days
    return DiaryChart(LAYOUT, fullness_by_week(LAYOUT, days, TODAY), TODAY)


def test_lanes_are_as_full_as_the_weeks_were() -> None:
    chart = diary((1, "t1", 2), (2, "t1", 1), (1, "t2", 0))
    axis = TimeAxis(axis_days(LAYOUT, None, TODAY, TODAY), 20, 500, 10)
    drawing = diary_drawing(chart, axis)
    assert chart.remedies == ("t1", "t2", "t3")
    letters = [w.text for w in drawing.shapes if isinstance(w, Words) and w.align is Align.END]
    assert letters == ["A", "B", "C"]
    (dyed,) = (box for box in drawing.shapes if isinstance(box, DyedBox))
    cell = next(b for b in drawing.shapes if isinstance(b, Box) and b.edge is Ink.QUIET)
    assert dyed.width == pytest.approx(cell.width * 3 / 14)
    assert dyed.index == 0
    assert "week 1 3 of 4, 10 without an entry" in drawing.words
    assert drawing.height == chart.height(10)


@pytest.mark.parametrize(
    ("fullness", "said_so", "shapes"),
    [
        (Fullness(0, 0, 0), "nothing due", [Lines]),
        (Fullness(3, 0, 0), "3 doses due, no entry", [Box, Lines, Box]),
        (Fullness(3, 3, 2), "2 of 3 doses taken", [Box, Box]),
        (Fullness(6, 3, 2), "2 of 3 doses taken, 3 without an entry", [Box, Lines, Box]),
    ],
)
def test_a_day_is_told_and_drawn(
    fullness: Fullness, said_so: str, shapes: list[type[Shape]]
) -> None:
    assert day_words(day(1), fullness) == f"4 January 2027: {said_so}"
    drawing = day_drawing(fullness, 20, 20)
    assert [type(shape) for shape in drawing.shapes] == shapes
    assert day_drawing(None, 20, 20).shapes == ()
    assert fullness_words(Fullness(0, 0, 0)) == "nothing due"


def test_a_day_of_which_something_was_said_has_a_dot_besides() -> None:
    plain = day_drawing(Fullness(3, 3, 2), 20, 20)
    noted = day_drawing(Fullness(3, 3, 2), 20, 20, is_noted=True)
    assert noted.shapes[: len(plain.shapes)] == plain.shapes
    assert [type(shape) for shape in noted.shapes[len(plain.shapes) :]] == [Dot, Dot]


def test_days_stand_in_weeks_from_monday() -> None:
    days = fullness_by_day(LAYOUT, (), day(9))
    first, second = day_weeks(days)
    assert [at[0] for at in first if at] == [day(n) for n in range(1, 8)]
    assert [at is None for at in second] == [False, False, True, True, True, True, True]


def test_what_lies_outside_the_axis_is_left_out() -> None:
    """Phases, flares, breaks, gates and decisions of which no day is shown."""
    days = replace(axis_days(LAYOUT, None, TODAY, TODAY), end=day(3))
    axis = TimeAxis(days, 20, 500, 10)
    chart = chart_of("sleep", "4")
    drawing = score_drawing(chart, axis, 100, is_named=True, is_numbered=True)
    assert said(drawing).count("Two") == 0
    boxes = [box for box in drawing.shapes if isinstance(box, Box)]
    assert [box.fill for box in boxes] == [Ink.GROUND]
    lines = [one for one in drawing.shapes if isinstance(one, Lines)]
    assert not [one for one in lines if one.ink in (Ink.TODAY, Ink.GATE, Ink.INK)]


def test_a_week_that_was_entered_whole_and_not_taken_is_blank() -> None:
    chart = diary(*((n, "t1", 0) for n in range(1, 8)))
    axis = TimeAxis(axis_days(LAYOUT, None, TODAY, TODAY), 20, 500, 10)
    shapes = diary_drawing(chart, axis).shapes
    assert not [box for box in shapes if isinstance(box, DyedBox)]
    assert "week 1 0 of 14," in diary_drawing(chart, axis).words
    taken = diary(*((n, "t1", 2) for n in range(1, 8)))
    struck = [
        line
        for line in diary_drawing(taken, axis).shapes
        if isinstance(line, Lines) and line.ink is Ink.QUIET
    ]
    unentered = [week for week in taken.weeks if week.fullness.unrecorded]
    assert len(struck) == len(unentered) > 0


@pytest.mark.parametrize("last", [Fraction(n, 4) for n in range(41)])
@pytest.mark.parametrize("gate", [Gate("pain", Fraction(4), Threshold.AT_MOST), Gate("pain", 30)])
def test_no_gate_goes_through_the_last_figure(last: Fraction, gate: Gate) -> None:
    """Wherever the last rating lies, in a chart high enough for both."""
    made = lay_out(course(replace(phase("one", "4 w", line("t1", "1 cup bd")), gate=gate)))
    scores = (Score(day(1), "pain", Fraction(6)), Score(day(10), "pain", last))
    (chart,) = charts_of(progress(scores), read_gates(made, scores), made, day(10))
    axis = TimeAxis(made.days, 20, 300, 9.5)
    drawn = score_drawing(chart, axis, 165, is_named=False, is_numbered=False)
    figure = next(s for s in drawn.shapes if isinstance(s, Words) and s.is_strong)
    (line_at,) = [
        s.points[0][1] for s in drawn.shapes if isinstance(s, Lines) and s.ink is Ink.GATE
    ]
    assert abs(figure.y - line_at) > 9.5 * 0.55
    assert 0 < figure.y < 165
