"""The days of a finding in the lane of its remedy."""

from __future__ import annotations

from PySide6.QtCore import QPoint
from pytestqt.qtbot import QtBot

from sennight.desktop.course.controller import CourseController
from sennight.practice.safety import Severity


def test_cautions_are_drawn_on_the_lanes_and_told_there(
    qtbot: QtBot, controller: CourseController
) -> None:
    view = controller.view
    qtbot.waitUntil(lambda: not view.consequences.is_waiting)
    timeline, reading = view.timeline, view.session.reading
    found = next(line for line in reading.safety.lines if line.severity is Severity.AVOID)
    place = reading.places[found.remedies[0]]
    heights = timeline.heights
    y = round(heights.lanes + heights.lane * (timeline.shown.row(place) + 1) - 1)
    x = round(timeline.shown.scale.x(found.days[0].first))
    assert f"Avoid: {found.heading}" in timeline.tip_at(QPoint(x + 2, y - 6))

    def is_marked() -> bool:
        image = timeline.grab().toImage()
        span = range(x + 20, x + 60)
        return any(image.pixelColor(at, y) == controller.theme.alarm for at in span)

    assert is_marked()
    timeline.show_findings(())
    assert not is_marked()
