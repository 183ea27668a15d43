"""The timeline: where things stand, and how an end is moved."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QMouseEvent, QPixmap
from pytestqt.qtbot import QtBot

from sennight.desktop.course.session import Session
from sennight.desktop.course.timeline.heights import Heights, Rows
from sennight.desktop.course.timeline.layout import LaneKind, Room, Scale, timeline_layout
from sennight.desktop.course.timeline.view import Timeline
from sennight.desktop.kit.brushes import clear_of
from sennight.desktop.kit.theme import Theme
from sennight.domain.courses.stretches import lay_out
from support import course_cases
from support.draws import draws

LEFT, WIDTH = 100.0, 1000.0


@pytest.fixture
def session() -> Session:
    return course_cases.session()


@pytest.fixture
def timeline(qtbot: QtBot, session: Session, theme: Theme) -> Iterator[Timeline]:
    made = Timeline(session, theme)
    qtbot.addWidget(made)
    made.resize(1100, made.sizeHint().height())
    made.show()
    made.setFocus()
    yield made
    made.hide()


@given(
    st.dates(date(2026, 1, 1), date(2028, 1, 1)),
    st.integers(1, 400),
    st.integers(0, 399),
    st.floats(100, 3000),
)
def test_a_day_is_found_where_it_was_put(start: date, days: int, n: int, width: float) -> None:
    scale = Scale(start, days, LEFT, width)
    day = start + timedelta(days=n % days)
    assert scale.day(scale.x(day)) == day
    assert scale.day_under(scale.x(day) + scale.day_width / 2) == day
    assert scale.x(start) == LEFT


@settings(max_examples=draws(20))
@given(st.floats(60, 3000), st.integers(1, 60))
def test_labels_never_overlap_and_all_stands_inside(width: float, weeks: int) -> None:
    layout = lay_out(course_cases.full_course(decided=False, weeks=max(19, weeks)))
    label = 25.0
    shown = timeline_layout(layout, Room(LEFT, width, label), today=course_cases.TODAY)
    told = [tick.x for tick in shown.weeks if tick.text]
    assert all(b - a >= label - 0.01 for a, b in pairwise(told))
    for bar in shown.bars:
        assert LEFT - 0.01 <= bar.left < bar.right <= LEFT + width + 0.01


def test_the_picture_has_what_the_course_has(session: Session) -> None:
    shown = timeline_layout(
        session.reading.layout, Room(LEFT, WIDTH, 20), today=course_cases.TODAY
    )
    assert [band.name for band in shown.phases] == ["loading", "maintenance", "taper"]
    assert [band.name for band in shown.flares] == ["rescue"]
    assert len(shown.pauses) == 1
    assert [flag.revisions for flag in shown.flags] == [(0,), (1,), (2,)]
    kinds = {(bar.index, bar.kind) for bar in shown.bars}
    assert {
        (2, LaneKind.OFF),
        (2, LaneKind.TAKEN),
        (3, LaneKind.AS_NEEDED),
        (0, LaneKind.TAKEN),
    } <= kinds
    assert {bar.index for bar in shown.bars if bar.in_flare} == {1, 4}
    assert shown.today is not None


def test_phases_stand_one_behind_the_other(session: Session) -> None:
    shown = timeline_layout(
        session.reading.layout, Room(LEFT, WIDTH, 20), today=course_cases.TODAY
    )
    ends = [band.right for band in shown.phases]
    begins = [band.left for band in shown.phases]
    assert begins[1:] == pytest.approx(ends[:-1])


def test_keys_choose_an_end_and_move_it(qtbot: QtBot, timeline: Timeline) -> None:
    told: list[str] = []
    moved: list[tuple[str, date]] = []
    timeline.status_message.connect(told.append)
    timeline.end_moved.connect(lambda phase, end: moved.append((phase, end)))
    end = timeline.session.reading.layout.phases[1].span.end
    while not told or "Maintenance ends on" not in told[-1]:
        qtbot.keyClick(timeline, Qt.Key.Key_Right)
    both = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    qtbot.keyClick(timeline, Qt.Key.Key_Right, both)
    qtbot.keyClick(timeline, Qt.Key.Key_Left, Qt.KeyboardModifier.ControlModifier)
    assert moved == []
    assert told[-1].startswith("Maintenance ends")
    qtbot.keyClick(timeline, Qt.Key.Key_Return)
    assert moved == [("maintenance", end + timedelta(days=6))]


@pytest.mark.parametrize(
    ("key", "said"),
    [
        (Qt.Key.Key_Right, "8 February 2027: Loading is 1 week longer"),
        (Qt.Key.Key_Left, "Taper ends on"),
    ],
)
def test_the_first_key_takes_the_first_mark_or_the_last(
    qtbot: QtBot, timeline: Timeline, key: Qt.Key, said: str
) -> None:
    told: list[str] = []
    timeline.status_message.connect(told.append)
    qtbot.keyClick(timeline, key)
    assert said in told[-1]


def test_the_picture_keeps_a_margin_at_the_right(timeline: Timeline) -> None:
    end = timeline.session.reading.layout.days.end
    right = timeline.shown.scale.x(end)
    assert right == pytest.approx(timeline.width() - 0.4 * timeline.theme.unit)


def test_escape_leaves_a_move(qtbot: QtBot, timeline: Timeline) -> None:
    moved: list[object] = []
    timeline.end_moved.connect(lambda *args: moved.append(args))
    qtbot.keyClick(timeline, Qt.Key.Key_Left)
    qtbot.keyClick(timeline, Qt.Key.Key_Right, Qt.KeyboardModifier.ControlModifier)
    qtbot.keyClick(timeline, Qt.Key.Key_Escape)
    qtbot.keyClick(timeline, Qt.Key.Key_Return)
    assert moved == []


@pytest.mark.parametrize(("shift", "snapped"), [(False, 10), (True, 7)])
def test_an_end_is_dragged_to_days_or_with_shift_to_weeks(
    qtbot: QtBot, timeline: Timeline, *, shift: bool, snapped: int
) -> None:
    moved: list[tuple[str, date]] = []
    timeline.end_moved.connect(lambda phase, end: moved.append((phase, end)))
    end = timeline.session.reading.layout.phases[0].span.end
    y = round(timeline.heights.band + 4)
    start = QPoint(round(timeline.shown.scale.x(end)), y)
    stop = QPoint(round(timeline.shown.scale.x(end + timedelta(days=10))), y)
    modifiers = Qt.KeyboardModifier.ShiftModifier if shift else Qt.KeyboardModifier.NoModifier
    qtbot.mousePress(timeline, Qt.MouseButton.LeftButton, modifiers, start)
    timeline.mouseMoveEvent(_move(stop, modifiers))
    qtbot.mouseRelease(timeline, Qt.MouseButton.LeftButton, modifiers, stop)
    assert moved == [("loading", end + timedelta(days=snapped))]


def _move(at: QPoint, modifiers: Qt.KeyboardModifier) -> QMouseEvent:
    return QMouseEvent(
        QEvent.Type.MouseMove,
        QPointF(at),
        QPointF(at),
        Qt.MouseButton.NoButton,
        Qt.MouseButton.LeftButton,
        modifiers,
    )


def test_a_click_takes_the_day_and_its_phase_in_hand(qtbot: QtBot, timeline: Timeline) -> None:
    day = date(2027, 6, 21)
    x = round(timeline.shown.scale.x(day) + timeline.shown.scale.day_width / 2)
    at = QPoint(x, round(timeline.heights.lanes + 3))
    qtbot.mouseClick(timeline, Qt.MouseButton.LeftButton, pos=at)
    assert timeline.session.day == day
    assert timeline.session.phase_id == "taper"


def test_flags_and_names_say_what_they_are(timeline: Timeline) -> None:
    flag = timeline.shown.flags[0]
    tip = timeline.tip_at(QPoint(round(flag.x) + 2, round(timeline.heights.flags) + 2))
    assert tip == "8 February 2027: Loading is 1 week longer (slow to respond)."
    lane = QPoint(30, round(timeline.heights.lanes + timeline.heights.lane * 1.5))
    assert timeline.tip_at(lane) == "Remedy t2"


def test_it_draws_each_remedy_in_its_dye(timeline: Timeline, theme: Theme) -> None:
    pixmap = QPixmap(timeline.size())
    timeline.render(pixmap)
    image = pixmap.toImage()
    bar = next(b for b in timeline.shown.bars if b.index == 0)
    rect = timeline.heights.lane_rect(0, bar.left, bar.right)
    assert image.pixelColor(round(rect.left()) + 3, round(rect.center().y())) == theme.dye(0)


def test_words_stand_clear_of_the_line_of_today() -> None:
    room = QRectF(100, 0, 200, 20)
    assert clear_of(room, 50, None, 4) == room
    assert clear_of(room, 50, 190, 4) == room, "the words end before the line"
    assert clear_of(room, 50, 130, 4) == QRectF(134, 0, 166, 20), "behind the line"
    late = clear_of(QRectF(100, 0, 60, 20), 50, 140, 4)
    assert late == QRectF(100, 0, 36, 20), "before it, where there is more room"


def test_lanes_get_lower_than_their_text_only_as_far_as_it_can_be_read(theme: Theme) -> None:
    high, low = Heights.of(theme, Rows(5), 1000), Heights.of(theme, Rows(12), 50)
    assert high.lane > theme.line
    assert theme.line > low.lane >= 0.9 * theme.line * 100 / theme.scale
