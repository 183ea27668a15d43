"""Draws a month: what changes on each day in words, and all remedies as a row of marks."""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from datetime import date

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QPainter

from sennight.desktop.course.calendar.calendar_delegate import LEFT, DayDelegate
from sennight.desktop.kit.brushes import draw_letter
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.domain.directions.plain_words import MONTH_NAMES, plain_dose
from sennight.domain.schedule.weeks import DayCell
from sennight.domain.tag_words import upper_first
from sennight.practice.day_changes import Change, DayChange

TOP_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop


def change_words(change: DayChange) -> tuple[str, ...]:
    """Ways to say a change beside the letter of its remedy, the longest first."""
    stretch = change.stretch
    dose = plain_dose(stretch.directions).split(" (", maxsplit=1)[0] if stretch else ""
    taken = f"{dose} × {len(stretch.times)}" if stretch and stretch.times else dose
    fixed = {
        Change.PHASE: (upper_first(change.name),),
        Change.FLARE: (translate("Month", "flare-up"), translate("Month", "flare")),
        Change.PAUSE: (translate("Month", "pause begins"), translate("Month", "pause")),
        Change.OFF: (translate("Month", "off"),),
        Change.STOPS: (translate("Month", "stops"),),
        Change.AGAIN: (
            translate("Month", "on again"),
            translate("Month", "again"),
            translate("Month", "on"),
        ),
    }
    if change.kind in fixed:
        return fixed[change.kind]
    word = translate("Month", "starts") if change.kind is Change.STARTS else ""
    return tuple(dict.fromkeys((f"{word} {taken}".strip(), taken, word or dose, "")))


class MonthDelegate(DayDelegate):
    """A day that changes nothing has its marks alone."""

    def also_seen(self, day: date) -> Hashable:
        """The changes of the day."""
        return self.model.reading.changes.get(day, ())

    def number(self, painter: QPainter, rect: QRectF, cell: DayCell) -> None:
        """The number at the top, strong within the month."""
        month = self.model.month
        inside = month is None or cell.day in month
        painter.setFont(self._strong if inside else self._quiet)
        painter.setPen(self.brushes.ink if inside and cell.in_course else self._faint)
        text = str(cell.day.day)
        if cell.day.day == 1 and not self.model.reading.changes.get(cell.day):
            text = f"1 {MONTH_NAMES[cell.day.month - 1][:3]}"
        room = rect.adjusted(self.unit * 1.2, self.unit * 0.4, 0, 0)
        painter.drawText(room, TOP_LEFT, text)

    def draw_marks(self, painter: QPainter, rect: QRectF, cell: DayCell) -> None:
        """The marks in a row at the foot, above them what changes, as much as fits."""
        unit, line = self.unit, self._height
        rect = QRectF(rect.topLeft(), QSizeF(min(rect.width(), self.narrowest), rect.height()))
        high = min(unit * 2.6, rect.height() * 0.3)
        foot = QRectF(
            rect.left() + unit * 1.2, rect.bottom() - high - 3, rect.width() - unit * 2, high
        )
        changes = self.model.reading.changes.get(cell.day, ())
        has_marks = not changes or foot.top() - rect.top() >= line * 2
        if has_marks:
            self.marks_in(painter, foot, cell)
        if not changes:
            return
        lines = list(self._lines(changes))
        beside = self.brushes.metrics(Role.STRONG).horizontalAdvance("30") + unit * 2.2
        room = rect.adjusted(beside, unit * 0.4, -unit * 0.5, 0)
        room.setHeight(line)
        if self._least_width(lines[0]) > room.width():
            room = rect.adjusted(unit, unit * 0.4 + line, 0, 0)
            room.setHeight(line)
        foot_top = foot.top() if has_marks else rect.bottom()
        fit = max(1, int((foot_top - room.top() + 2) // line))
        for n, group in enumerate(lines[:fit]):
            rest = len(lines) - fit if n == fit - 1 else 0
            self._line(painter, room, group, rest)
            room.translate(0, line)
            room.setLeft(rect.left() + unit * 1.2)

    def _least_width(self, group: tuple[DayChange, ...]) -> float:
        """What a line takes at least."""
        letters = sum(self.unit * 3.6 for change in group if change.remedy is not None)
        role = Role.QUIET if letters else Role.STRONG
        return letters + self.brushes.metrics(role).horizontalAdvance(change_words(group[0])[-1])

    def _lines(self, changes: tuple[DayChange, ...]) -> Iterator[tuple[DayChange, ...]]:
        """Those that are said in the same words together: `C D stops`."""
        groups: dict[tuple[str, ...], list[DayChange]] = {}
        for change in changes:
            groups.setdefault(change_words(change), []).append(change)
        yield from (tuple(group) for group in groups.values())

    def _line(
        self, painter: QPainter, room: QRectF, group: tuple[DayChange, ...], rest: int
    ) -> None:
        left, unit = room.left(), self.unit
        for change in group:
            if change.remedy is not None:
                side = min(self._height, unit * 3.2)
                draw_letter(
                    painter, self.brushes, QRectF(left, room.top(), side, side), change.remedy
                )
                left += side + unit * 0.4
        more = f" +{rest}" if rest else ""
        role = Role.QUIET if group[0].remedy is not None else Role.STRONG
        ways, wide = change_words(group[0]), room.right() - left
        if self.brushes.metrics(role).horizontalAdvance(ways[-1]) > wide:
            role = Role.QUIET  # which is narrower
        measure = self.brushes.metrics(role)
        told = (*(way + more for way in ways), *ways)  # whole words go before how many are left
        fits = (way for way in told if measure.horizontalAdvance(way) <= wide)
        cut = measure.elidedText(ways[-1], Qt.TextElideMode.ElideRight, wide)
        painter.setFont(self.brushes.font(role))
        painter.setPen(self.brushes.ink)
        words = QRectF(QPointF(left, room.top()), QSizeF(max(wide, 0), room.height()))
        painter.drawText(words, LEFT, next(fits, cut))
