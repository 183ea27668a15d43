"""Paints what lies over the lanes: the days of findings, and the foot of the timeline."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from PySide6.QtCore import QLineF, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF

from sennight.desktop.course.timeline.layout import Scale, TimelineLayout
from sennight.desktop.course.timeline.overlays import FindingDays, ScoreLane
from sennight.desktop.course.timeline.painter import LEFT, TimelinePainter
from sennight.desktop.kit.brushes import draw_letter
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.severity_marks import draw_marks, severity_colour
from sennight.domain.courses.courses import Course
from sennight.domain.directions.plain_words import plain_length
from sennight.practice.safety import Severity


def paint_findings(
    p: QPainter,
    painting: TimelinePainter,
    shown: TimelineLayout,
    days: Iterable[FindingDays],
    places: Mapping[str, int],
) -> None:
    """A line under the days in a lane, with the mark of its severity where the days begin.

    Of *avoid* it is whole, of a caution in dashes, so that colour is not the only sign.
    """
    unit, theme = painting.brushes.unit, painting.theme
    thick, side = max(1.5, unit * 0.3), unit * 2.0
    for severity, lines in _finding_lines(painting, shown, days, places, thick).items():
        style = Qt.PenStyle.SolidLine if severity is Severity.AVOID else Qt.PenStyle.DashLine
        pen = QPen(severity_colour(theme, severity), thick, style)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        p.setPen(pen)
        p.drawLines([QLineF(left, y, right, y) for left, right, y in lines])
        begins = dict.fromkeys((left, y) for left, _, y in lines)
        corners = (QPointF(left - side * 0.2, y - side * 0.62) for left, y in begins)
        draw_marks(p, theme, corners, QSizeF(side, side), (severity, False, True))


def _finding_lines(
    painting: TimelinePainter,
    shown: TimelineLayout,
    days: Iterable[FindingDays],
    places: Mapping[str, int],
    thick: float,
) -> dict[Severity, dict[tuple[float, float, float], None]]:
    """From where to where, and how low, the lines of each severity lie; each line once."""
    h, scale = painting.heights, shown.scale
    low = {n: h.lanes + h.lane * (row + 1) - thick / 2 for row, n in enumerate(shown.lanes)}
    lines: dict[Severity, dict[tuple[float, float, float], None]] = {}
    told = dict.fromkeys((found.severity, found.remedy, found.span) for found in days)
    for severity, remedy, span in told:
        y = low.get(places.get(remedy, -1))
        if y is None or not span:
            continue
        left, right = _inside(scale, scale.x(span.first), scale.x(span.end))
        if right > left:
            lines.setdefault(severity, {})[left, right, y] = None
    return lines


def _inside(scale: Scale, left: float, right: float) -> tuple[float, float]:
    return max(left, scale.left), min(right, scale.left + scale.width)


def paint_scores(
    p: QPainter, painting: TimelinePainter, shown: TimelineLayout, lane: ScoreLane
) -> float:
    """The ratings as a line, their name in the margin, the verdict beside the last one.

    Returns where the verdict ends.
    """
    b, h, unit, theme = painting.brushes, painting.heights, painting.brushes.unit, painting.theme
    room = QRectF(0, h.foot + unit * 0.5, shown.scale.left, theme.line)
    p.setFont(painting.text)
    p.setPen(b.quiet)
    measure, wide = painting.measure, room.width() - unit
    begin = max(0.0, min(unit * 9, wide - measure.horizontalAdvance(lane.name)))
    name = measure.elidedText(lane.name, Qt.TextElideMode.ElideRight, wide - begin)
    p.drawText(room.adjusted(begin, 0, -unit, 0), LEFT, name)
    points = [
        QPointF(shown.scale.x(day), room.bottom() - 2 - height * (room.height() - 5))
        for day, height in lane.points
    ]
    p.setPen(QPen(theme.ink, max(1.3, unit / 4)))
    p.drawPolyline(QPolygonF(points))
    p.setBrush(theme.ink)
    for point in points:
        p.drawEllipse(point, unit * 0.45, unit * 0.45)
    p.setBrush(Qt.BrushStyle.NoBrush)
    left = max(point.x() for point in points) + unit * 1.5
    if shown.today is not None and left < shown.today + unit * 1.5:
        left = max(left, shown.today + unit * 1.5)
    p.setPen(QPen(theme.good) if lane.met else b.ink)
    p.setFont(b.font(Role.STRONG if lane.met else Role.TEXT))
    wide = b.metrics(Role.STRONG).horizontalAdvance(lane.verdict)
    right = shown.scale.left + shown.scale.width
    words = QRectF(min(left, right - wide - unit), room.top(), wide + unit, room.height())
    if words.left() < left:
        p.fillRect(words.adjusted(-unit, 0, 0, 0), theme.paper)
    p.drawText(words, LEFT, lane.verdict)
    return words.right()


def paint_kept(
    p: QPainter, painting: TimelinePainter, shown: TimelineLayout, course: Course, clear: float
) -> None:
    """The remedies that have no days, in one line at the right, clear of what stands at `clear`.

    Their names are left out where there is no room for them, and then most of the words.
    """
    b, h, unit, theme = painting.brushes, painting.heights, painting.brushes.unit, painting.theme
    lead, right = _kept_words(course, shown.kept), shown.scale.left + shown.scale.width
    quiet, text = b.metrics(Role.QUIET).horizontalAdvance, b.metrics(Role.TEXT).horizontalAdvance
    names = [course.remedies[n].name for n in shown.kept]
    badge, gap = unit * 4.0, unit * 2.0
    whole = quiet(lead) + unit + sum(badge + text(name) + gap for name in names)
    says_names = right - whole > clear + gap
    if not says_names:
        letters = unit + len(names) * (badge + unit)
        if right - quiet(lead) - letters < clear + gap:
            lead = translate("Timeline", "Kept:")
        whole = quiet(lead) + letters
    top, left = h.foot + unit * 0.5, max(shown.scale.left, right - whole)
    p.setFont(b.font(Role.QUIET))
    p.setPen(b.quiet)
    p.drawText(QRectF(left, top, whole, theme.line), LEFT, lead)
    left += quiet(lead) + unit
    for n, name in zip(shown.kept, names, strict=True):
        draw_letter(p, b, QRectF(left, top, unit * 3.6, theme.line), n, painting.small)
        left += badge
        if says_names:
            p.setPen(b.ink)
            p.setFont(b.font(Role.TEXT))
            p.drawText(QRectF(left, top, whole, theme.line), LEFT, name)
            left += text(name) + gap
        else:
            left += unit


def _kept_words(course: Course, kept: Sequence[int]) -> str:
    plans = [phase for phase in course.protocol.phases if phase.is_rescue]
    waiting = {line.remedy for phase in plans for line in phase.lines}
    if not any(course.remedies[n].id in waiting for n in kept):
        return translate("Timeline", "Not taken:")
    length = next((phase.length for phase in plans if phase.length), None)
    if length is None:
        return translate("Timeline", "Flare-up plan, kept ready:")
    template = translate("Timeline", "Flare-up plan, {length}, kept ready:")
    return template.format(length=plain_length(length))
