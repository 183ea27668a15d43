"""What lies over the lanes: the ratings of a measure, and another course as a ghost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from sennight.desktop.course.session import Session
from sennight.desktop.course.timeline.ghost import glided
from sennight.desktop.course.timeline.layout import LaneKind
from sennight.desktop.course.timeline.overlays import score_lane
from sennight.desktop.course.timeline.view import Timeline
from sennight.desktop.kit.theme import Theme
from sennight.domain.courses.courses import Flare
from sennight.domain.courses.editing import with_length
from sennight.domain.courses.protocols import Gate
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.follow_up.diaries import Score
from sennight.practice.course_reading import CourseReading
from support import course_cases

WEEK = timedelta(weeks=1)


def gated() -> CourseReading:
    course = course_cases.full_course(decided=False)
    first, *rest = course.protocol.phases
    phases = (replace(first, gate=Gate("pain", 30)), *rest)
    course = replace(course, protocol=replace(course.protocol, phases=phases))
    return course_cases.session(course, today=course.start + WEEK * 2).reading


def scores(measure: str, *values: int) -> tuple[Score, ...]:
    days = (course_cases.START + WEEK * n for n in range(len(values)))
    return tuple(Score(on, measure, Fraction(v)) for on, v in zip(days, values, strict=True))


def test_the_measure_that_a_gate_waits_for_is_drawn_with_what_it_comes_to() -> None:
    reading = gated()
    assert score_lane(reading, ()) is None
    lane = score_lane(reading, (*scores("sleep", 4, 6), *scores("pain", 8, 5)))
    assert lane is not None
    assert (lane.name, lane.met) == ("Pain", True)
    assert lane.verdict == "8 to 5: gate met (to fall by 30 %)"
    assert [height for _day, height in lane.points] == [0.8, 0.5]
    worse = score_lane(reading, scores("pain", 5, 8))
    assert worse is not None
    assert worse.verdict == "5 to 8: gate not met (to fall by 30 %)"
    one = score_lane(reading, scores("sleep", 4))
    assert one is not None
    assert (one.verdict, one.met) == ("4", None)


@pytest.fixture
def timeline(qtbot: QtBot, theme: Theme) -> Iterator[Timeline]:
    session = course_cases.session(course_cases.full_course(decided=False))
    made = Timeline(session, theme)
    qtbot.addWidget(made)
    made.resize(1100, made.sizeHint().height())
    made.show()
    yield made
    made.hide()


def longer(session: Session, weeks: int) -> CourseReading:
    course = session.course
    protocol = with_length(course.protocol, "loading", Length(weeks, CalendarUnit.WEEKS))
    tried = session.try_out(replace(course, protocol=protocol))
    assert not isinstance(tried, str)
    return tried


def colour(timeline: Timeline, index: int, x: float) -> QColor:
    bar = timeline.heights.lane_rect(timeline.shown.row(index), x, x + 2)
    image = timeline.grab().toImage()
    return image.pixelColor(round(x), round(bar.center().y()))


def test_a_ghost_shows_what_is_added_and_what_goes_away(timeline: Timeline, theme: Theme) -> None:
    """Remedy t3 is taken in loading, two capsules three weeks of four, then again at the end."""
    ends = max(bar.right for bar in timeline.shown.bars if bar.index == 2 and bar.right < 500)
    taken = next(
        bar for bar in timeline.shown.bars if bar.index == 3 and bar.kind is LaneKind.AS_NEEDED
    )
    added = ends + 12
    assert colour(timeline, 2, added) == theme.paper
    before = colour(timeline, 3, taken.left + 10)
    timeline.show_ghost(longer(timeline.session, 10))
    assert colour(timeline, 2, added) == theme.tint(2)
    assert colour(timeline, 3, taken.left + 10) != before, "what begins later is veiled"
    timeline.show_ghost(None)
    assert colour(timeline, 2, added) == theme.paper
    assert colour(timeline, 3, taken.left + 10) == before


def with_flare(session: Session) -> CourseReading:
    """The course with a flare-up of its plan in the fourth week."""
    first = session.course.start + WEEK * 3
    tried = session.try_out(
        session.with_decision(Flare(on=first, reason="", first=first, rescue="rescue", last=None))
    )
    assert not isinstance(tried, str)
    return tried


def test_a_flare_that_is_tried_has_a_frame_and_lanes_for_its_plan(timeline: Timeline) -> None:
    """A remedy of the plan alone has no lane otherwise; it keeps it until the form is left."""
    lanes = timeline.shown.lanes
    tried = with_flare(timeline.session)
    timeline.show_ghost(tried)
    assert set(timeline.shown.lanes) > set(lanes)
    (band,) = timeline.ghost.laid_out.flares
    (drawn,) = [bar for bar in timeline.ghost.laid_out.bars if bar.index not in lanes]
    assert (drawn.left, drawn.right) == (band.left, band.right)
    with_it = timeline.grab().toImage()
    timeline.show_ghost(None)
    assert set(timeline.shown.lanes) > set(lanes), "nothing jumps while a date is half typed"
    without = timeline.grab().toImage()
    y = round(timeline.heights.foot)
    changed = [x for x in range(with_it.width()) if with_it.pixel(x, y) != without.pixel(x, y)]
    assert changed
    assert band.left - 2 <= changed[0] <= changed[-1] <= band.right + 2
    timeline.leave_ghost()
    assert timeline.shown.lanes == lanes


def test_a_flare_that_is_struck_out_is_struck_through(timeline: Timeline) -> None:
    session = timeline.session
    before = session.reading
    session.open(with_flare(session))
    (band,), heights = timeline.shown.flares, timeline.heights
    plain = timeline.grab().toImage()
    timeline.show_ghost(before)
    struck = timeline.grab().toImage()
    y = round(heights.lanes + heights.lane)  # between two lanes, where no bar is
    changed = [x for x in range(plain.width()) if struck.pixel(x, y) != plain.pixel(x, y)]
    assert changed
    assert band.left < changed[0] <= changed[-1] < band.right
    assert changed[-1] - changed[0] < 8, "one stroke"
    timeline.show_ghost(None)


def test_a_ghost_glides_from_where_it_was(timeline: Timeline) -> None:
    short, long = longer(timeline.session, 8), longer(timeline.session, 12)
    timeline.show_ghost(short)
    was = timeline.ghost.laid_out
    timeline.show_ghost(long)
    now = timeline.ghost.laid_out
    half = glided(was, now, 0.5)
    for before, between, after in zip(was.phases, half.phases, now.phases, strict=True):
        assert between.left == pytest.approx((before.left + after.left) / 2)
        assert between.right == pytest.approx((before.right + after.right) / 2)
    assert glided(was, now, 1.0).phases == now.phases
    assert {bar.index for bar in glided(was, now, 0.0).bars} == {bar.index for bar in now.bars}
