"""Paints a timeline's picture: axis, phases, one lane a remedy, flares, pauses and flags."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPen, QPixmap, QPolygonF

from sennight.desktop.course.timeline.heights import Heights
from sennight.desktop.course.timeline.layout import LaneBar, LaneKind, PhaseBand, TimelineLayout
from sennight.desktop.kit.brushes import Brushes, clear_of, draw_letter
from sennight.desktop.kit.icons import form_mark
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.domain.courses.courses import Course
from sennight.domain.courses.phase_names import phase_title
from sennight.dyes import DYES

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter

LEAST_LETTERS = 4
"""A phase's name cut to fewer letters than this says nothing, and is left to the tip."""

TEXT_IN_LINE = 0.74
"""The size of a font, as a part of the height of the line that it is to fit into."""

NAMES_FROM = 9
"""In units: where the remedies' names begin, after the letter and the drawing of the form."""


def today_word() -> str:
    """The word that stands on the line of today."""
    return translate("Timeline", "today")


class TimelinePainter:
    """Draws one picture; holds what does not change from paint to paint."""

    def __init__(self, brushes: Brushes, heights: Heights) -> None:
        self.brushes, self.heights = brushes, heights
        self.theme = brushes.theme
        self.text = brushes.font(Role.TEXT)
        self.small: QFont | None = None
        if heights.lane < brushes.line:
            self.small = QFont(self.text)
            self.small.setPixelSize(round(heights.lane * TEXT_IN_LINE))
            self.text = self.small
        self.measure = QFontMetricsF(self.text)
        self._kept: tuple[object, QPixmap] | None = None
        self._drawn: tuple[object, QPixmap] | None = None

    def paint(self, p: QPainter, shown: TimelineLayout, course: Course, chosen: str) -> None:
        """Everything but what lies over it, and what the pointer and the keyboard have in hand.

        Findings come a moment after an edit, so it is kept as a picture till then.
        """
        ground = self._ground(p, shown, course)
        seen = (ground, shown, chosen)
        if self._drawn is None or self._drawn[0] != seen:
            picture = QPixmap(ground)
            inner = QPainter(picture)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._lanes(inner, shown, chosen)
            inner.end()
            self._drawn = seen, picture
        p.drawPixmap(0, 0, self._drawn[1])

    def _lanes(self, p: QPainter, shown: TimelineLayout, chosen: str) -> None:
        for band in shown.phases:
            self._phase(p, band, shown.today, is_chosen=band.name == chosen)
        for bar in shown.bars:
            self._bar(p, bar, shown.row(bar.index))
        for band in shown.flares:
            self._flare(p, band)
        for band in shown.pauses:
            self._pause(p, band)
        for flag in shown.flags:
            self.flag(p, flag.x, is_chosen=False)

    def _today_sign(self, shown: TimelineLayout) -> QRectF | None:
        """Where the word of today stands in the ruler."""
        if shown.today is None:
            return None
        wide = (
            self.brushes.metrics(Role.BADGE).horizontalAdvance(today_word())
            + self.brushes.unit * 2
        )
        right = shown.scale.left + shown.scale.width
        left = min(max(shown.today - wide / 2, shown.scale.left), right - wide)
        top = self.heights.months + 1
        return QRectF(round(left), top, round(wide), self.theme.line - 2)

    def _is_under_today(self, shown: TimelineLayout, left: float, right: float) -> bool:
        sign = self._today_sign(shown)
        return sign is not None and left < sign.right() + 2 and right > sign.left() - 2

    def paint_today(self, p: QPainter, shown: TimelineLayout) -> None:
        """Today's line over everything, its name in the ruler."""
        b, h, sign = self.brushes, self.heights, self._today_sign(shown)
        if sign is None or shown.today is None:
            return
        p.setPen(b.today)
        p.drawLine(QPointF(shown.today, sign.bottom()), QPointF(shown.today, h.bottom))
        p.setPen(Qt.PenStyle.NoPen)
        p.setBrush(self.theme.ink)
        p.drawRoundedRect(sign, b.unit * 0.4, b.unit * 0.4)
        p.setBrush(Qt.BrushStyle.NoBrush)
        p.setPen(b.paper)
        p.setFont(b.font(Role.BADGE))
        p.drawText(sign, Qt.AlignmentFlag.AlignCenter, today_word())

    def _ground(self, p: QPainter, shown: TimelineLayout, course: Course) -> QPixmap:
        """The axis and the remedies' names, kept as a picture: few edits change them."""
        ratio = p.device().devicePixelRatioF()
        names = tuple((remedy.name, remedy.form) for remedy in course.remedies)
        key = (shown.scale, shown.months, shown.today, shown.lanes, names, ratio)
        if self._kept is None or self._kept[0] != key:
            wide = shown.scale.left + shown.scale.width + self.brushes.unit * 4
            picture = QPixmap(QSizeF(wide, self.heights.bottom + 1).toSize() * ratio)
            picture.setDevicePixelRatio(ratio)
            picture.fill(self.theme.paper)
            inner = QPainter(picture)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._axis(inner, shown)
            self._names(inner, shown, course)
            inner.end()
            self._kept = key, picture
        return self._kept[1]

    def _axis(self, p: QPainter, shown: TimelineLayout) -> None:
        h, b = self.heights, self.brushes
        p.setFont(b.font(Role.QUIET))
        for month in shown.months:
            if month.x > shown.scale.left:
                p.setPen(b.hairline)
                p.drawLine(QPointF(month.x, h.months + 2), QPointF(month.x, h.bottom))
            p.setPen(b.quiet)
            room = QRectF(month.x + b.unit, h.months, 400, self.theme.line)
            wide = b.metrics(Role.QUIET).horizontalAdvance(month.text)
            if not self._is_under_today(shown, room.left(), room.left() + wide):
                p.drawText(room, LEFT, month.text)
        p.setPen(b.hairline)
        for week in shown.weeks:
            p.drawLine(QPointF(week.x, h.band - b.unit * 0.8), QPointF(week.x, h.band))

    def _phase(
        self, p: QPainter, band: PhaseBand, today: float | None, *, is_chosen: bool
    ) -> None:
        h, b, unit = self.heights, self.brushes, self.brushes.unit
        left = round(band.left)
        rect = QRectF(left, h.band, round(band.right) - left, self.theme.line + unit * 0.4)
        p.fillRect(rect, self.theme.selection if is_chosen else self.theme.hover)
        if is_chosen:
            p.fillRect(rect.adjusted(0, rect.height() - 2, 0, 0), self.theme.ink)
        p.setPen(QPen(self.theme.paper, 2))
        p.drawLine(rect.topLeft(), QPointF(rect.left(), h.foot))
        p.setPen(QPen(self.theme.outline, max(2.0, unit * 0.4)))
        edge = rect.right() - unit * 0.6
        p.drawLine(QPointF(edge, rect.top() + unit), QPointF(edge, rect.bottom() - unit))
        p.setPen(b.ink)
        p.setFont(b.font(Role.STRONG if is_chosen else Role.TEXT))
        measure, words = b.metrics(Role.STRONG), phase_title(band.name)
        inside = rect.adjusted(unit, 0, -unit * 1.4, 0)
        inside = clear_of(inside, measure.horizontalAdvance(words), today, unit)
        name = measure.elidedText(words, Qt.TextElideMode.ElideRight, inside.width())
        if len(name) >= min(LEAST_LETTERS, len(words)):
            p.drawText(inside, LEFT, name)

    def _names(self, p: QPainter, shown: TimelineLayout, course: Course) -> None:
        h, b, unit = self.heights, self.brushes, self.brushes.unit
        side = round(min(h.lane - 2, self.theme.line * 0.9))
        for row, n in enumerate(shown.lanes):
            remedy, top = course.remedies[n], h.lanes + h.lane * row
            draw_letter(p, b, QRectF(0, top + 1, unit * 3.6, h.lane - 2), n, self.small)
            drawn = form_mark(remedy.form, self.theme.slate.name(), side)
            p.drawPixmap(QPointF(unit * 4.6, round(top + (h.lane - side) / 2)), drawn)
            p.setFont(self.text)
            p.setPen(b.ink)
            room = QRectF(
                unit * NAMES_FROM, top, shown.scale.left - unit * (NAMES_FROM + 1), h.lane
            )
            cut = self.measure.elidedText(remedy.name, Qt.TextElideMode.ElideRight, room.width())
            p.drawText(room, LEFT, cut)

    def _bar(self, p: QPainter, bar: LaneBar, row: int) -> None:
        n = bar.index % len(DYES)
        rect = self.heights.lane_rect(row, bar.left, bar.right)
        p.setBrushOrigin(rect.topLeft())
        if bar.kind is LaneKind.OFF:
            p.fillRect(rect, self.brushes.off[n])
        elif bar.kind is LaneKind.AS_NEEDED:
            p.fillRect(rect, self.brushes.tint[n])
            p.setPen(self.brushes.outline[n])
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
        height = self.heights.foot - top + self.brushes.unit * 0.3
        p.drawRect(QRectF(band.left, top, band.right - band.left, height))

    def _pause(self, p: QPainter, band: PhaseBand) -> None:
        """Two upright strokes on blank paper, in the middle of the pause."""
        h, unit = self.heights, self.brushes.unit
        middle = (band.left + band.right) / 2
        at, low = h.lanes + h.lane * 0.3, h.foot - h.lane * 0.3
        p.setPen(QPen(self.theme.outline, max(1.5, unit / 2.5)))
        gap = min(unit * 0.7, (band.right - band.left) / 4)
        for x in (middle - gap, middle + gap):
            p.drawLine(QPointF(x, at), QPointF(x, low))

    def flag(self, p: QPainter, x: float, *, is_chosen: bool) -> None:
        """A small flag on a pole that stands on the phases."""
        unit, h = self.brushes.unit, self.heights
        top = h.band - unit * 2.6
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
