"""Draws the days of the calendar: as a stack of dyed marks, or as doses in words."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QPixmap
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from sennight.desktop.course.brushes import Brushes
from sennight.desktop.course.calendar_model import Index, WeeksModel
from sennight.desktop.theme import Role
from sennight.domain.plain_words import MONTH_NAMES, plain_amount, times_over
from sennight.domain.sheet import Cell, Mark, State
from sennight.dyes import DYES

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
TOP_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop


class DayDelegate(QStyledItemDelegate):
    """What both grids share: ground, number of the day, today, and the ring of the keyboard.

    What is taken is drawn once for days on which the same is taken, and kept as a picture until
    the course, the size of the cells or the look is another.
    """

    def __init__(self, brushes: Brushes, parent: WeeksModel) -> None:
        super().__init__(parent)
        self.model = parent
        self._pictures: dict[tuple[int, ...], QPixmap] = {}
        self._begins: frozenset[date] = frozenset()
        self.set_brushes(brushes)
        parent.modelReset.connect(self.forget)

    def set_brushes(self, brushes: Brushes) -> None:
        """Draw with another look."""
        self.brushes, self.look, self.unit = brushes, brushes.look, brushes.unit
        self._start = QPen(self.look.ink, max(1.5, self.look.scale / 70))
        self._faint = QPen(self.look.outline)
        self._pause = QPen(self.look.outline, max(1.0, self.unit / 3))
        self._numbers = [str(n) for n in range(32)]
        self._quiet, self._strong = brushes.font(Role.QUIET), brushes.font(Role.STRONG)
        metrics = brushes.metrics(Role.QUIET)
        self.number_width = metrics.horizontalAdvance("30") + self.unit * 2
        self._ascent, self._height = metrics.ascent(), metrics.height()
        self.forget()

    def forget(self) -> None:
        """Forget what was drawn; the days are others now."""
        self._pictures.clear()
        runs = self.model.shown.layout.phases
        self._begins = frozenset(run.span.first for run in runs)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one day."""
        day = self.model.day_at(index.row(), index.column())
        cell, rect = self.model.cell(day), QRectF(option.rect)
        left, top, right, bottom = rect.left(), rect.top(), rect.right(), rect.bottom()
        painter.setPen(self.brushes.hairline)
        painter.drawLine(QPointF(left, bottom), QPointF(right, bottom))
        self.number(painter, rect, cell)
        if cell.marks or cell.paused:
            painter.drawPixmap(QPointF(left, top), self._picture(painter, rect, cell))
        if day in self._begins:
            painter.setPen(self._start)
            painter.drawLine(QPointF(left + 1, top + 2), QPointF(left + 1, bottom - 2))
        if day == self.model.shown.today:
            painter.setPen(self.brushes.today)
            painter.drawLine(QPointF(left + 3, bottom - 1), QPointF(right - 3, bottom - 1))
        if option.state & QStyle.StateFlag.State_Selected:
            self._ring(painter, rect, is_here=bool(option.state & QStyle.StateFlag.State_HasFocus))

    def _picture(self, painter: QPainter, rect: QRectF, cell: Cell) -> QPixmap:
        """What is taken on a day, drawn once for all days on which the same is taken."""
        size = rect.size().toSize()
        key = (size.width(), size.height(), cell.paused, *map(id, cell.marks))
        found = self._pictures.get(key)
        if found is None:
            ratio = painter.device().devicePixelRatioF()
            found = QPixmap(size * ratio)
            found.setDevicePixelRatio(ratio)
            found.fill(Qt.GlobalColor.transparent)
            inner = QPainter(found)
            self.draw_marks(inner, QRectF(0, 0, rect.width(), rect.height()), cell)
            inner.end()
            self._pictures[key] = found
        return found

    def draw_marks(self, painter: QPainter, rect: QRectF, cell: Cell) -> None:
        """Draw what is taken on a day of the course."""
        raise NotImplementedError

    def _ring(self, painter: QPainter, rect: QRectF, *, is_here: bool) -> None:
        """Around the day in hand; strong while the keyboard is here."""
        painter.setPen(self.brushes.focus if is_here else self._faint)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(rect.adjusted(1, 1, -2, -2))

    def number(self, painter: QPainter, rect: QRectF, cell: Cell) -> None:
        """The number of the day."""
        painter.setFont(self._quiet)
        painter.setPen(self.brushes.quiet if cell.in_course else self._faint)
        base = rect.top() + (rect.height() - self._height) / 2 + self._ascent
        painter.drawText(QPointF(rect.left() + self.unit, base), self._numbers[cell.day.day])


class SheetDelegate(DayDelegate):
    """A day as marks, each remedy in a place of its own: stacked, or side by side in low rows."""

    def draw_marks(self, painter: QPainter, rect: QRectF, cell: Cell) -> None:
        """A mark for each remedy."""
        left = rect.left() + self.number_width
        room = QRectF(left, rect.top() + 2, rect.right() - left - self.unit, rect.height() - 4)
        for mark in cell.marks:
            if mark.state is not State.PAUSED:
                self._mark(painter, self._place(room, mark.index), mark)
        if cell.paused and not any(mark.stretch for mark in cell.marks):
            self._pause_sign(painter, room)

    def _place(self, room: QRectF, index: int) -> QRectF:
        """Where the mark of a remedy stands, on whole pixels so that patterns stay sharp."""
        count = max(1, len(self.model.shown.course.remedies))
        unit = self.unit
        if room.height() / count >= unit * 1.8:
            slot = room.height() / count
            thick = min(slot - 2, unit * 2.4)
            top = room.top() + slot * index + (slot - thick) / 2
            return QRectF(round(room.left()), round(top), round(room.width()), round(thick))
        slot = min(room.width() / count, unit * 5)
        tall = min(room.height() - 3, unit * 2.6)
        top = room.top() + (room.height() - tall) / 2
        return QRectF(round(room.left() + slot * index), round(top), round(slot - 2), round(tall))

    def _mark(self, painter: QPainter, bar: QRectF, mark: Mark) -> None:
        n = mark.index % len(DYES)
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

    def _pause_sign(self, painter: QPainter, room: QRectF) -> None:
        middle, reach = room.center(), min(room.height() * 0.3, self.unit * 2)
        painter.setPen(self._pause)
        for x in (middle.x() - self.unit * 0.6, middle.x() + self.unit * 0.6):
            painter.drawLine(QPointF(x, middle.y() - reach), QPointF(x, middle.y() + reach))


class MonthDelegate(DayDelegate):
    """A day with its doses in words, as many as fit, the rest counted."""

    def number(self, painter: QPainter, rect: QRectF, cell: Cell) -> None:
        """The number at the top, strong within the month."""
        month = self.model.month
        inside = month is None or cell.day in month
        painter.setFont(self._strong if inside else self._quiet)
        painter.setPen(self.brushes.ink if inside and cell.in_course else self._faint)
        text = self._numbers[cell.day.day]
        if cell.day.day == 1:
            text = f"1 {MONTH_NAMES[cell.day.month - 1][:3]}" if self._has_air(rect, cell) else "1"
        room = rect.adjusted(self.unit * 1.5, self.unit * 0.6, 0, 0)
        painter.drawText(room, TOP_LEFT, text)

    def draw_marks(self, painter: QPainter, rect: QRectF, cell: Cell) -> None:
        """A line of words for each remedy."""
        line = self._step()
        room = rect.adjusted(0, self.brushes.line + self.unit * 0.8, 0, 0)
        if not self._has_air(rect, cell):
            room = rect.adjusted(self.unit * 4.5, self.unit * 0.5, 0, 0)
        fit = int(room.height() // line)
        marks = cell.marks if len(cell.marks) <= fit else cell.marks[: max(0, fit - 1)]
        room.setHeight(line)
        for mark in marks:
            self._line(painter, room, mark)
            room.translate(0, line)
        self._rest(painter, room, cell, len(marks))

    def _step(self) -> float:
        """From one line of words to the next."""
        return self._height * 0.93

    def _has_air(self, rect: QRectF, cell: Cell) -> bool:
        """Whether the words stand beneath the number rather than beside it."""
        line = self._step()
        return rect.height() - self.brushes.line - self.unit * 0.8 >= line * len(cell.marks)

    def _rest(self, painter: QPainter, room: QRectF, cell: Cell, told: int) -> None:
        left = len(cell.marks) - told
        if not left and not (cell.paused and not cell.marks):
            return
        painter.setFont(self._quiet)
        painter.setPen(self.brushes.quiet)
        text = self.tr("%n more", "", left) if left else self.tr("paused")
        text = text.replace("%n", str(left))
        room = room.adjusted(self.unit * 1.5, 0, -self.unit * 0.5, 0)
        if left and self.brushes.metrics(Role.QUIET).horizontalAdvance(text) > room.width():
            text = f"+ {left}"
        painter.drawText(room, LEFT, text)

    def _line(self, painter: QPainter, room: QRectF, mark: Mark) -> None:
        unit, n = self.unit, mark.index % len(DYES)
        painter.setFont(self._quiet)
        bar = QRectF(room.left() + unit * 1.5, room.top() + 2, unit * 0.8, room.height() - 4)
        is_off = mark.state is State.OFF
        if mark.state is not State.PAUSED:
            painter.fillRect(bar, (self.brushes.off if is_off else self.brushes.taken)[n])
        painter.setPen(self.brushes.dye_pen[n])
        left = bar.right() + unit * 0.7
        painter.drawText(
            QRectF(left, room.top(), unit * 4, room.height()),
            LEFT,
            self.brushes.letters[mark.index],
        )
        painter.setPen(self.brushes.ink if mark.stretch else self.brushes.quiet)
        left += self.brushes.metrics(Role.QUIET).horizontalAdvance("M") + unit * 0.7
        wide = room.right() - left - unit * 0.5
        painter.drawText(
            QRectF(left, room.top(), wide, room.height()), LEFT, self.said(mark, wide)
        )

    def said(self, mark: Mark, wide: float) -> str:
        """A mark's words: the longest of several ways to say it that fits."""
        measure = self.brushes.metrics(Role.QUIET).horizontalAdvance
        ways = _ways(mark)
        return next((way for way in ways if measure(way) <= wide), ways[-1])


def _ways(mark: Mark) -> tuple[str, ...]:
    """Ways to say what a remedy does on a day, the longest first."""
    stretch = mark.stretch
    if stretch is None:
        return (mark.state.value,)
    amount = plain_amount(stretch.amount, stretch.unit)
    short = amount.split(" (", maxsplit=1)[0]
    if not stretch.times:
        return (f"{amount} when needed", f"{short} if needed", "if needed")
    more = " + as needed" if stretch.as_needed_max is not None else ""
    plus = " +" if more else ""
    often = times_over(len(stretch.times))
    return (
        f"{amount} {often}{more}",
        f"{short} {often}{plus}",
        f"{short} × {len(stretch.times)}{plus}",
        f"× {len(stretch.times)}{plus}",
    )
