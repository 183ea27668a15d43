"""Paints a timeline's picture: axis, phases, one lane a remedy, flares, pauses and flags."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPen, QPixmap, QPolygonF

from sennight.desktop.course.timeline.layout import LaneBar, LaneKind, PhaseBand, TimelineLayout
from sennight.desktop.kit.brushes import Brushes, draw_letter
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.domain.courses.courses import Course
from sennight.dyes import DYES

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter

LEAST_LETTERS = 4
"""A phase's name cut to fewer letters than this says nothing, and is left to the tip."""

TEXT_IN_LINE = 0.74
"""The size of a font, as a part of the height of the line that it is to fit into."""


def clear_of(room: QRectF, wide: float, line: float | None, gap: float) -> QRectF:
    """Room for a text `wide` pixels wide, beside an upright line that would cut through it."""
    if line is None or not room.left() - gap < line < room.left() + min(wide, room.width()) + gap:
        return room
    before, after = line - gap - room.left(), room.right() - line - gap
    if after >= min(wide, before):
        return QRectF(line + gap, room.top(), after, room.height())
    return QRectF(room.left(), room.top(), before, room.height())


@dataclass(frozen=True, slots=True)
class Heights:
    """Where the rows of the timeline stand, in pixels from its top."""

    months: float
    weeks: float
    flags: float
    band: float
    lanes: float
    lane: float
    bottom: float

    @classmethod
    def of(cls, theme: Theme, lanes: int, room: float) -> Heights:
        """The rows for so many remedies, whose lanes get lower where `room` is short.

        A lane stays as high as a line of text at 100 %, whatever the size chosen.
        """
        text, unit = float(theme.line), float(theme.unit)
        months = unit * 0.5
        weeks = months + text
        flags = weeks + text * 0.9 + unit * 0.5
        band = flags + unit * 2.5
        first = band + text + unit * 2
        least = text * 100 / theme.scale * 0.9
        lane = min(text + unit * 0.5, max(least, room / max(1, lanes)))
        return cls(months, weeks, flags, band, first, lane, first + lane * lanes + unit)

    def lane_rect(self, index: int, left: float, right: float) -> QRectF:
        """The bar of a lane."""
        inset = self.lane * 0.16
        top = self.lanes + self.lane * index + inset
        first, last = round(left), round(right)
        return QRectF(first, round(top), last - first, round(self.lane - 2 * inset))


class TimelinePainter:
    """Draws one picture; holds what does not change from paint to paint."""

    def __init__(self, brushes: Brushes, heights: Heights) -> None:
        self.brushes, self.heights = brushes, heights
        self.theme = brushes.theme
        self.text, self.small = brushes.font(Role.TEXT), None
        if heights.lane < brushes.line:
            self.small = QFont(self.text)
            self.small.setPixelSize(round(heights.lane * TEXT_IN_LINE))
            self.text = self.small
        self.measure = QFontMetricsF(self.text)
        self._kept: tuple[object, QPixmap] | None = None

    def paint(self, p: QPainter, shown: TimelineLayout, course: Course, chosen: str) -> None:
        """Everything but what the pointer and the keyboard have in hand."""
        p.drawPixmap(0, 0, self._ground(p, shown, course))
        for band in shown.phases:
            self._phase(p, band, shown.today, is_chosen=band.name == chosen)
        self._empty_lanes(p, shown, course)
        for bar in shown.bars:
            self._bar(p, bar)
        for band in shown.flares:
            self._flare(p, band)
        for band in shown.pauses:
            self._pause(p, band)
        for flag in shown.flags:
            self.flag(p, flag.x, is_chosen=False)
        if shown.today is not None:
            p.setPen(self.brushes.today)
            top = self.heights.flags
            p.drawLine(QPointF(shown.today, top), QPointF(shown.today, self.heights.bottom))

    def _ground(self, p: QPainter, shown: TimelineLayout, course: Course) -> QPixmap:
        """The axis and the remedies' names, kept as a picture: few edits change them."""
        ratio = p.device().devicePixelRatioF()
        names = tuple(remedy.name for remedy in course.remedies)
        key = (shown.scale, shown.months, shown.weeks, names, ratio)
        if self._kept is None or self._kept[0] != key:
            wide = shown.scale.left + shown.scale.width + self.brushes.unit * 4
            picture = QPixmap(QSizeF(wide, self.heights.bottom + 1).toSize() * ratio)
            picture.setDevicePixelRatio(ratio)
            picture.fill(Qt.GlobalColor.transparent)
            inner = QPainter(picture)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._axis(inner, shown)
            self._names(inner, shown, course)
            inner.end()
            self._kept = key, picture
        return self._kept[1]

    def _axis(self, p: QPainter, shown: TimelineLayout) -> None:
        h, b = self.heights, self.brushes
        text = float(self.theme.line)
        p.setFont(b.font(Role.QUIET))
        for month in shown.months:
            if month.x > shown.scale.left:
                p.setPen(b.hairline)
                p.drawLine(QPointF(month.x, h.months + 2), QPointF(month.x, h.weeks))
                p.drawLine(QPointF(month.x, h.flags), QPointF(month.x, h.bottom))
            p.setPen(b.ink)
            room = QRectF(month.x + self.brushes.unit * 0.5, h.months, 400, text)
            p.drawText(room, LEFT, month.text)
        for week in shown.weeks:
            p.setPen(b.hairline)
            tick = self.brushes.unit * (1.4 if week.text else 0.7)
            p.drawLine(QPointF(week.x, h.flags - tick * 0.3), QPointF(week.x, h.flags + tick))
            if week.text:
                p.setPen(b.quiet)
                room = QRectF(week.x + self.brushes.unit * 0.5, h.weeks, 100, text * 0.9)
                p.drawText(room, LEFT, week.text)

    def _phase(
        self, p: QPainter, band: PhaseBand, today: float | None, *, is_chosen: bool
    ) -> None:
        h, b, unit = self.heights, self.brushes, self.brushes.unit
        left = round(band.left)
        rect = QRectF(left, h.band, round(band.right) - left, self.theme.line + unit)
        p.fillRect(rect, self.theme.selection if is_chosen else self.theme.hover)
        p.setPen(QPen(self.theme.paper, 2))
        p.drawLine(rect.topLeft(), QPointF(rect.left(), h.bottom))
        p.setPen(b.ink)
        p.setFont(b.font(Role.STRONG if is_chosen else Role.TEXT))
        measure = b.metrics(Role.STRONG)
        inside = rect.adjusted(unit, 0, -unit * 0.5, 0)
        inside = clear_of(inside, measure.horizontalAdvance(band.name), today, unit)
        name = measure.elidedText(band.name, Qt.TextElideMode.ElideRight, inside.width())
        if len(name) >= min(LEAST_LETTERS, len(band.name)):
            p.drawText(inside, LEFT, name)

    def _names(self, p: QPainter, shown: TimelineLayout, course: Course) -> None:
        h, b, unit = self.heights, self.brushes, self.brushes.unit
        for n, remedy in enumerate(course.remedies):
            top = h.lanes + h.lane * n
            letter = QRectF(0, top + unit * 0.3, unit * 3.5, h.lane - unit * 0.6)
            draw_letter(p, b, letter, n, self.small)
            p.setFont(self.text)
            p.setPen(b.ink)
            room = QRectF(unit * 5, top, shown.scale.left - unit * 6, h.lane)
            p.drawText(
                room,
                LEFT,
                self.measure.elidedText(remedy.name, Qt.TextElideMode.ElideRight, room.width()),
            )

    def _empty_lanes(self, p: QPainter, shown: TimelineLayout, course: Course) -> None:
        """Say why a remedy has no days."""
        taken = {bar.index for bar in shown.bars}
        rescue = {
            line.remedy
            for phase in course.protocol.phases
            if phase.is_rescue
            for line in phase.lines
        }
        p.setFont(self.small or self.brushes.font(Role.QUIET))
        p.setPen(self.brushes.quiet)
        h, unit, measure = self.heights, self.brushes.unit, self.brushes.metrics(Role.QUIET)
        left = shown.scale.left + unit
        wide = shown.scale.left + shown.scale.width - left
        for n, remedy in enumerate(course.remedies):
            if n not in taken:
                words = translate("Timeline", "flare-up plan")
                if remedy.id not in rescue:
                    words = translate("Timeline", "not taken")
                room = QRectF(left, h.lanes + h.lane * n, wide, h.lane)
                room = clear_of(room, measure.horizontalAdvance(words), shown.today, unit)
                p.drawText(room, LEFT, words)

    def _bar(self, p: QPainter, bar: LaneBar) -> None:
        n = bar.index % len(DYES)
        rect = self.heights.lane_rect(bar.index, bar.left, bar.right)
        if bar.kind is LaneKind.OFF:
            p.fillRect(rect, self.brushes.off[n])
        elif bar.kind is LaneKind.AS_NEEDED:
            p.fillRect(rect, self.brushes.tint[n])
            p.setPen(self.brushes.dye_pen[n])
            p.setBrush(Qt.BrushStyle.NoBrush)
            p.drawRect(rect.adjusted(0.5, 0.5, -0.5, -0.5))
        else:
            p.fillRect(rect, self.brushes.taken[n])
        if bar.in_flare:
            p.setPen(self.brushes.ink)
            p.setBrush(Qt.BrushStyle.NoBrush)
            p.drawRect(rect.adjusted(0.5, 0.5, -0.5, -0.5))

    def _flare(self, p: QPainter, band: PhaseBand) -> None:
        pen = QPen(self.theme.ink, max(1.0, self.theme.scale / 90), Qt.PenStyle.DashLine)
        p.setPen(pen)
        p.setBrush(Qt.BrushStyle.NoBrush)
        top = self.heights.lanes - self.brushes.unit * 0.8
        height = self.heights.bottom - top - self.brushes.unit * 0.5
        p.drawRect(QRectF(band.left, top, band.right - band.left, height))

    def _pause(self, p: QPainter, band: PhaseBand) -> None:
        """Two upright strokes on blank paper, in the middle of the pause."""
        h, unit = self.heights, self.brushes.unit
        middle = (band.left + band.right) / 2
        at, low = h.lanes + h.lane * 0.3, h.bottom - unit - h.lane * 0.3
        p.setPen(QPen(self.theme.outline, max(1.5, unit / 2.5)))
        gap = min(unit * 0.7, (band.right - band.left) / 4)
        for x in (middle - gap, middle + gap):
            p.drawLine(QPointF(x, at), QPointF(x, low))

    def flag(self, p: QPainter, x: float, *, is_chosen: bool) -> None:
        """A small flag on a pole that stands on the phases."""
        unit, h = self.brushes.unit, self.heights
        top = h.band - unit * 3.2
        colour = self.theme.focus if is_chosen else self.theme.ink
        p.setPen(QPen(colour, max(1.0, self.theme.scale / 100)))
        p.drawLine(QPointF(x, top), QPointF(x, h.band))
        p.setBrush(colour)
        p.drawPolygon(
            QPolygonF(
                [
                    QPointF(x, top),
                    QPointF(x + unit * 2, top + unit * 0.9),
                    QPointF(x, top + unit * 1.8),
                ]
            )
        )
