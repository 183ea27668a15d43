"""The mark of the day in hand beneath the lanes, which glides from day to day."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from sennight.desktop.course.timeline.layout import Scale
from sennight.desktop.course.timeline.painter import TimelinePainter
from sennight.desktop.kit.motion import Glide, between


class DayMark:
    """Where the calendar's day lies in the course."""

    def __init__(self, timeline: QWidget, day: date) -> None:
        self._was = self._day = day
        self._timeline, self._glide = timeline, Glide(timeline, timeline.update)

    def put(self, day: date) -> None:
        """Stand at a day, at once."""
        self._was = self._day = day

    def go_to(self, day: date) -> None:
        """Glide to a day."""
        self._was, self._day = self._day, day
        self._glide.begin()
        self._timeline.update()

    def paint(self, p: QPainter, painting: TimelinePainter, scale: Scale) -> None:
        """A small bar beneath the lanes."""
        unit = painting.theme.unit
        wide = max(scale.day_width, unit * 1.0)
        x = between(scale.x(self._was), scale.x(self._day), self._glide.part)
        left, top = x + (scale.day_width - wide) / 2, painting.heights.foot + unit * 0.1
        p.fillRect(QRectF(left, top, wide, unit * 0.5), painting.theme.focus)
