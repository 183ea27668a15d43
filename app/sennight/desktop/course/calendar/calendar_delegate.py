"""Draws the days of the calendar as dyed marks, a whole week as one kept picture."""

from __future__ import annotations

from collections.abc import Hashable
from datetime import date

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QPainter, QPen, QPixmap, QStaticText
from PySide6.QtWidgets import QStyledItemDelegate

from sennight.desktop.course.calendar.calendar_model import WeeksModel
from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.theme import Role
from sennight.domain.schedule.weeks import DayCell, RemedyMark, State
from sennight.dyes import DYES

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
Key = tuple[Hashable, ...]
"""What a picture is kept under."""

MOST_PICTURES = 500
"""So many weeks are kept as pictures; that is some megabytes."""

LEAST_MARK = 1.2
"""In units: marks side by side are not narrower than this, where there is room for more rows."""

WIDEST_MARK = 4.2
"""In units: a mark takes no more of the width than this, else it looks like a bar."""


class DayDelegate(QStyledItemDelegate):
    """What both grids share: ground, number of the day, today, and the ring of the keyboard.

    A week is drawn once and kept as a picture, under a key of all that can be seen of it; so
    after an edit only the weeks are drawn that look different.
    """

    def __init__(self, brushes: Brushes, parent: WeeksModel) -> None:
        super().__init__(parent)
        self.model = parent
        self._pictures: dict[Key, QPixmap] = {}
        self._tokens: dict[Key, int] = {}
        self.set_brushes(brushes)
        parent.modelReset.connect(self.forget)

    def set_brushes(self, brushes: Brushes) -> None:
        """Draw with another look."""
        self.brushes, self.theme, self.unit = brushes, brushes.theme, brushes.unit
        self._start = QPen(self.theme.ink, max(1.5, self.theme.scale / 70))
        self._faint, self._chosen = QPen(self.theme.outline), QPen(self.theme.slate)
        self._pause = QPen(self.theme.outline, max(1.0, self.unit / 3))
        self._quiet, self._strong = brushes.font(Role.QUIET), brushes.font(Role.STRONG)
        self._numbers = [_laid_out(str(n), self._quiet) for n in range(32)]
        metrics = brushes.metrics(Role.QUIET)
        self.number_width = metrics.horizontalAdvance("30") + self.unit * 1.6
        self._height = metrics.height()
        self._pictures.clear()
        self._stacks: dict[Key, QPixmap] = {}
        self.narrowest = 0
        self.forget()

    def forget(self) -> None:
        """The days are others now."""
        reading = self.model.reading
        self._begins = frozenset(run.span.first for run in reading.layout.phases)
        layout = reading.layout
        taken = {s.remedy for s in layout.stretches} | {rest.remedy for rest in layout.rests}
        placed = [place for remedy, place in reading.places.items() if remedy in taken]
        self.slots = {place: slot for slot, place in enumerate(sorted(placed))}
        self._known: dict[int, int] = {}
        self._keys: dict[int, Key] = {}
        self._looks: dict[date, Key] = {}
        self._stacks.clear()

    # Weeks as pictures

    def week(self, row: int, widths: tuple[int, ...], height: int, ratio: float) -> QPixmap:
        """A week, its days so wide, at so many device pixels a pixel."""
        self.narrowest = min(widths)
        if row not in self._keys:
            self._keys[row] = self._key(row)
        key = (self._keys[row], widths, height, ratio)
        picture = self._pictures.get(key)
        if picture is None:
            if len(self._pictures) >= MOST_PICTURES:
                self._pictures.clear()
            picture = self._pictures[key] = self._draw_week(row, widths, height, ratio)
        return picture

    def _key(self, row: int) -> Key:
        """All that can be seen of a week."""
        days = (self.model.day_at(row, column) for column in range(7))
        return (tuple(self.slots), *((self._cell_key(day), self.also_seen(day)) for day in days))

    def also_seen(self, day: date) -> Hashable:
        """What else of a day is drawn, beside its marks and its number."""
        del day
        return None

    def _cell_key(self, day: date) -> Key:
        cell, month = self.model.cell(day), self.model.month
        known, token = self._known, self._token
        themes = tuple([known.get(id(mark)) or token(mark) for mark in cell.marks])
        self._looks[day] = themes
        return (
            day.day if day.day > 1 else -day.month,
            cell.in_course,
            cell.paused,
            day in self._begins,
            day == self.model.reading.today,
            month is None or day in month,
            themes,
        )

    def _token(self, mark: RemedyMark) -> int:
        """A number for a mark, the same for all marks that look the same."""
        taken = mark.stretch
        how = (taken.amount, taken.unit, len(taken.times)) if taken else ()
        seen = (mark.index, mark.state, mark.in_flare, mark.as_needed_max is None, how)
        token = self._known[id(mark)] = self._tokens.setdefault(seen, len(self._tokens) + 1)
        return token

    def _draw_week(self, row: int, widths: tuple[int, ...], height: int, ratio: float) -> QPixmap:
        picture = QPixmap(QSize(sum(widths), height) * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(self.theme.paper)
        painter = QPainter(picture)
        left = 0
        for column, width in enumerate(widths):
            self.draw_day(painter, QRectF(left, 0, width, height), self.model.day_at(row, column))
            left += width
        painter.end()
        return picture

    def draw_day(self, painter: QPainter, rect: QRectF, day: date) -> None:
        """Draw one day."""
        cell = self.model.cell(day)
        left, top, right, bottom = rect.left(), rect.top(), rect.right(), rect.bottom()
        painter.setPen(self.brushes.hairline)
        painter.drawLine(QPointF(left, bottom - 1), QPointF(right, bottom - 1))
        self.number(painter, rect, cell)
        if cell.marks or cell.paused:
            painter.drawPixmap(rect.topLeft(), self._stack(painter, rect, cell))
        if day in self._begins:
            painter.setPen(self._start)
            painter.drawLine(QPointF(left + 1, top + 2), QPointF(left + 1, bottom - 2))
        if day == self.model.reading.today:
            painter.setPen(self.brushes.today)
            painter.drawLine(QPointF(left + 3, bottom - 2), QPointF(right - 3, bottom - 2))

    def _stack(self, painter: QPainter, rect: QRectF, cell: DayCell) -> QPixmap:
        """The marks of a day, drawn once for all days of the course on which they look alike."""
        size, ratio = rect.size().toSize(), painter.device().devicePixelRatioF()
        themes = self._looks.get(cell.day) or self._cell_key(cell.day)[-1]
        key = (themes, self.also_seen(cell.day), cell.paused, size.width(), size.height(), ratio)
        picture = self._stacks.get(key)
        if picture is None:
            picture = self._stacks[key] = QPixmap(size * ratio)
            picture.setDevicePixelRatio(ratio)
            picture.fill(Qt.GlobalColor.transparent)
            inner = QPainter(picture)
            self.draw_marks(inner, QRectF(0, 0, rect.width(), rect.height()), cell)
            inner.end()
        return picture

    def draw_in_hand(self, painter: QPainter, rect: QRectF, day: date, *, is_here: bool) -> None:
        """Draw the day in hand; its ring is strong while the keyboard is here."""
        painter.fillRect(rect, self.theme.selection)
        self.draw_day(painter, rect, day)
        painter.setPen(self.brushes.focus if is_here else self._chosen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(rect.adjusted(1, 1, -2, -2))

    def draw_marks(self, painter: QPainter, rect: QRectF, cell: DayCell) -> None:
        """Draw what is taken on a day of the course."""
        raise NotImplementedError

    def marks_in(self, painter: QPainter, room: QRectF, cell: DayCell) -> None:
        """A mark for each remedy in a room; they are as wide as it allows."""
        for mark in cell.marks:
            if mark.state is not State.PAUSED:
                self._mark(painter, self._place(room, mark.index), mark)

    def _place(self, room: QRectF, index: int) -> QRectF:
        """Where the mark of a remedy stands, on whole pixels so that patterns stay sharp."""
        count, unit = max(1, len(self.slots)), self.unit
        at = self.slots.get(index, 0)
        if room.height() / count >= unit * 1.8:
            slot = room.height() / count
            thick = min(slot - 2, unit * 2.4)
            top = room.top() + slot * at + (slot - thick) / 2
            return QRectF(round(room.left()), round(top), round(room.width()), round(thick))
        rows = -(-count // max(1, int(room.width() // (unit * LEAST_MARK))))
        along = -(-count // rows)
        slot, high = min(room.width() / along, unit * WIDEST_MARK), room.height() / rows
        tall = min(high, unit * 3.2)
        top = room.top() + high * (at // along) + (high - tall) / 2
        left = room.left() + slot * (at % along)
        return QRectF(round(left), round(top), round(slot - 1), round(tall))

    def _mark(self, painter: QPainter, bar: QRectF, mark: RemedyMark) -> None:
        n = mark.index % len(DYES)
        tile = self.brushes.tile
        painter.setBrushOrigin(bar.center() - QPointF(tile / 2, tile / 2))  # one whole pattern
        if mark.state is State.OFF:
            painter.fillRect(bar, self.brushes.off[n])
        elif mark.state is State.AS_NEEDED:
            painter.setPen(self.brushes.dye_pen[n])
            painter.setBrush(self.brushes.tint[n])
            painter.drawRect(bar.adjusted(0.5, 0.5, -0.5, -0.5))
        else:
            painter.fillRect(bar, self.brushes.taken[n])
        if mark.in_flare:
            painter.setPen(self.brushes.ink)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(bar.adjusted(0.5, 0.5, -0.5, -0.5))

    def number(self, painter: QPainter, rect: QRectF, cell: DayCell) -> None:
        """The number of the day."""
        painter.setFont(self._quiet)
        painter.setPen(self.brushes.quiet if cell.in_course else self._faint)
        top = round(rect.top() + (rect.height() - self._height) / 2)
        number = self._numbers[cell.day.day]
        wide = self.number_width - self.unit * 0.8 - number.size().width()
        painter.drawStaticText(QPointF(rect.left() + wide, top), number)


def _laid_out(text: str, font: QFont) -> QStaticText:
    """A text that is drawn often, laid out once."""
    laid_out = QStaticText(text)
    laid_out.setTextFormat(Qt.TextFormat.PlainText)
    laid_out.prepare(font=font)
    return laid_out


class SheetDelegate(DayDelegate):
    """A day as marks, each remedy in a place of its own: stacked, or side by side in low rows."""

    def draw_marks(self, painter: QPainter, rect: QRectF, cell: DayCell) -> None:
        """A mark for each remedy."""
        left = rect.left() + self.number_width
        room = QRectF(
            left, rect.top() + 2, rect.right() - left - self.unit * 0.8, rect.height() - 5
        )
        self.marks_in(painter, room, cell)
        if cell.paused and not any(mark.stretch for mark in cell.marks):
            self._pause_sign(painter, room)

    def _pause_sign(self, painter: QPainter, room: QRectF) -> None:
        middle, reach = room.center(), min(room.height() * 0.3, self.unit * 2)
        painter.setPen(self._pause)
        for x in (middle.x() - self.unit * 0.6, middle.x() + self.unit * 0.6):
            painter.drawLine(QPointF(x, middle.y() - reach), QPointF(x, middle.y() + reach))
