"""A ghost: another course, tried out, over the one in view.

What it adds is outlined, what it takes away lies under a veil. A flare-up that it adds has a
frame, one that it takes away is struck through, and where a phase ends otherwise a dashed line
stands at its new end. As it changes, all of that glides from where it was.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TypeVar

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from sennight.desktop.course.timeline.layout import (
    LaneBar,
    LaneKind,
    PhaseBand,
    TimelineLayout,
)
from sennight.desktop.course.timeline.painter import TimelinePainter
from sennight.desktop.kit.motion import Glide, between
from sennight.domain.courses.stretches import Layout
from sennight.practice.course_reading import CourseReading

VEIL = 0.72
"""How much of a bar that goes away is covered."""

Place = TypeVar("Place", LaneBar, PhaseBand)
Places = dict[tuple[object, int], Place]

LaidOut = Callable[[Layout], TimelineLayout]
"""Lays a course out along the axis in view."""


class Ghost:
    """What a timeline draws over its course while another is tried out.

    `held` are the remedies that have a lane because of it. They keep it until the trying ends,
    so that nothing jumps while what is typed makes no sense.
    """

    def __init__(self, timeline: QWidget) -> None:
        self.reading: CourseReading | None = None
        self.held: frozenset[str] = frozenset()
        self._glide = Glide(timeline, timeline.update)
        self._before: Layout | None = None
        self._was: TimelineLayout | None = None
        self._now: TimelineLayout | None = None

    def show(self, reading: CourseReading | None, course: Layout) -> None:
        """Take another ghost, over the course as it is; None for none."""
        if reading is self.reading:
            return
        self._before = self.reading.layout if self.reading else course
        self.reading = reading
        if reading is not None:
            self.held |= {stretch.remedy for stretch in reading.layout.stretches}
            self._glide.begin()

    def leave(self) -> None:
        """Nothing is tried any more."""
        self.reading, self.held = None, frozenset()

    @property
    def laid_out(self) -> TimelineLayout:
        """Where it stands in the end; raises LookupError where nothing is tried."""
        if self.reading is None or self._now is None:
            raise LookupError
        return self._now

    def lay_out(self, laid_out: LaidOut) -> None:
        """Work out anew where it stands, after it changed or the axis did."""
        if self.reading is not None and self._before is not None:
            self._was, self._now = laid_out(self._before), laid_out(self.reading.layout)

    def paint(self, p: QPainter, painting: TimelinePainter, shown: TimelineLayout) -> None:
        """Draw it, as far as it has come."""
        if self.reading is None or self._was is None or self._now is None:
            return
        now, part = self._now, self._glide.part
        paint_ghost(p, painting, shown, now if part >= 1 else glided(self._was, now, part))


# Gliding


def glided(was: TimelineLayout, now: TimelineLayout, part: float) -> TimelineLayout:
    """A picture on its way to another: what both have moves, what is new grows from its left."""
    return replace(
        now,
        bars=_bars(was.bars, now.bars, part),
        phases=_bands(was.phases, now.phases, part),
        flares=_bands(was.flares, now.flares, part),
    )


def _bars(was: Sequence[LaneBar], now: Sequence[LaneBar], part: float) -> tuple[LaneBar, ...]:
    before = _in_turn(was, lambda bar: (bar.kind, bar.index))
    after = _in_turn(now, lambda bar: (bar.kind, bar.index))
    edges = {key: _edges(before.get(key), bar, part) for key, bar in after.items()}
    return tuple(
        replace(bar, left=edges[key][0], right=edges[key][1]) for key, bar in after.items()
    )


def _bands(
    was: Sequence[PhaseBand], now: Sequence[PhaseBand], part: float
) -> tuple[PhaseBand, ...]:
    before = _in_turn(was, lambda band: band.name)
    after = _in_turn(now, lambda band: band.name)
    edges = {key: _edges(before.get(key), band, part) for key, band in after.items()}
    return tuple(
        replace(band, left=edges[key][0], right=edges[key][1]) for key, band in after.items()
    )


def _in_turn(places: Sequence[Place], key: Callable[[Place], object]) -> Places[Place]:
    """Places by what they are of, and by which of those they are, counted along the axis."""
    seen, found = Counter[object](), dict[tuple[object, int], Place]()
    for place in sorted(places, key=lambda place: place.left):
        found[key(place), seen[key(place)]] = place
        seen[key(place)] += 1
    return found


def _edges(
    was: LaneBar | PhaseBand | None, now: LaneBar | PhaseBand, part: float
) -> tuple[float, float]:
    left, right = (was.left, was.right) if was else (now.left, now.left)
    return between(left, now.left, part), between(right, now.right, part)


# Painting


def paint_ghost(
    p: QPainter, painting: TimelinePainter, shown: TimelineLayout, ghost: TimelineLayout
) -> None:
    """Another course over this one."""
    pen = QPen(painting.theme.ink, max(1.4, painting.theme.scale / 75))
    for index in shown.lanes:
        _lane(p, painting, (shown, ghost), index, pen)
    p.setBrush(Qt.BrushStyle.NoBrush)
    _ends(p, painting, (shown, ghost), pen)
    now, then = ({band.span for band in picture.flares} for picture in (shown, ghost))
    for band in ghost.flares:
        if band.span not in now:
            _new_flare(p, painting, band, pen)
    for band in shown.flares:
        if band.span not in then:
            _struck(p, painting, band, pen)


def _lane(
    p: QPainter,
    painting: TimelinePainter,
    pictures: tuple[TimelineLayout, TimelineLayout],
    index: int,
    pen: QPen,
) -> None:
    """The days that a remedy has more, and those that it has no more."""
    shown, ghost = pictures
    now, then = _runs(shown, index), _runs(ghost, index)
    row, veil = shown.row(index), QColor(painting.theme.paper)
    veil.setAlphaF(VEIL)
    for left, right in _without(now, then):
        p.fillRect(painting.heights.lane_rect(row, left, right).adjusted(0, -1, 0, 1), veil)
    for left, right in _without(then, now):
        rect = painting.heights.lane_rect(row, left, right)
        p.fillRect(rect, painting.brushes.tint[index % len(painting.brushes.tint)])
        p.setPen(pen)
        p.setBrush(Qt.BrushStyle.NoBrush)
        p.drawRect(rect.adjusted(0.5, 0.5, -0.5, -0.5))


def _ends(
    p: QPainter,
    painting: TimelinePainter,
    pictures: tuple[TimelineLayout, TimelineLayout],
    pen: QPen,
) -> None:
    """A dashed line where a phase ends otherwise."""
    shown, ghost = pictures
    ends = {round(band.right) for band in shown.phases}
    p.setPen(QPen(pen.color(), pen.widthF(), Qt.PenStyle.DashLine))
    for band in ghost.phases:
        if round(band.right) not in ends:
            x = band.right
            p.drawLine(QPointF(x, painting.heights.band), QPointF(x, painting.heights.foot))


def _frame(painting: TimelinePainter, band: PhaseBand) -> QRectF:
    """Around the days of a flare-up, as the timeline draws it."""
    unit, h = painting.brushes.unit, painting.heights
    top = h.lanes - unit * 0.8
    return QRectF(band.left, top, band.right - band.left, h.foot - top + unit * 0.3)


def _new_flare(p: QPainter, painting: TimelinePainter, band: PhaseBand, pen: QPen) -> None:
    """A frame around its days."""
    p.setPen(QPen(pen.color(), pen.widthF(), Qt.PenStyle.DashLine))
    p.drawRect(_frame(painting, band))


def _struck(p: QPainter, painting: TimelinePainter, band: PhaseBand, pen: QPen) -> None:
    """A stroke through the frame of one that goes."""
    frame = _frame(painting, band)
    p.setPen(pen)
    p.drawLine(frame.bottomLeft(), frame.topRight())


Run = tuple[float, float]
"""From where to where a remedy is taken, in pixels."""


def _runs(shown: TimelineLayout, index: int) -> list[Run]:
    """The runs of days on which a remedy is taken, as one where they meet."""
    found: list[Run] = []
    bars = (bar for bar in shown.bars if bar.index == index and bar.kind is not LaneKind.OFF)
    for bar in sorted(bars, key=lambda bar: bar.left):
        if found and bar.left <= found[-1][1] + 0.5:
            found[-1] = found[-1][0], max(found[-1][1], bar.right)
        else:
            found.append((bar.left, bar.right))
    return found


def _without(runs: list[Run], others: list[Run]) -> list[Run]:
    """What of some runs lies in none of the others; slivers are left out."""
    left_over = runs
    for first, last in others:
        pieces = (((a, min(b, first)), (max(a, last), b)) for a, b in left_over)
        left_over = [(a, b) for pair in pieces for a, b in pair if b - a > 1]
    return left_over
