"""Draws the days of the calendar: as a stack of dyed marks, or as doses in words."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from sennight.desktop.course.brushes import Brushes
from sennight.desktop.course.calendar_model import CELL, Index, WeeksModel
from sennight.desktop.theme import Role
from sennight.domain.plain_words import MONTH_NAMES, plain_amount, times_over
from sennight.domain.sheet import Cell, Mark, State
from sennight.dyes import DYES

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
TOP_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop


class DayDelegate(QStyledItemDelegate):
    """What both grids share: ground, number of the day, today, and the ring of the keyboard."""

    def __init__(self, brushes: Brushes, parent: WeeksModel) -> None:
        super().__init__(parent)
        self.model = parent
        self.set_brushes(brushes)

    def set_brushes(self, brushes: Brushes) -> None:
        """Draw with another look."""
        self.brushes, self.look = brushes, brushes.look
        look = self.look
        self._start = QPen(look.ink, max(1.5, look.scale / 70))
        self._faint = QPen(look.outline)
        self._pause = QPen(look.outline, max(1.0, look.unit / 3))
        self._numbers = [str(n) for n in range(32)]

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one day."""
        cell: Cell = index.data(CELL)
        rect = QRectF(option.rect)
        painter.setPen(self.brushes.hairline)
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        if cell.in_course:
            self.draw_day(painter, rect, cell)
            if self._begins(cell):
                painter.setPen(self._start)
                x = rect.left() + 1
                painter.drawLine(QPointF(x, rect.top() + 2), QPointF(x, rect.bottom() - 2))
        else:
            self.number(painter, rect, cell)
        if cell.day == self.model.shown.today:
            painter.setPen(self.brushes.today)
            y = rect.bottom() - 1
            painter.drawLine(QPointF(rect.left() + 3, y), QPointF(rect.right() - 3, y))
        if option.state & QStyle.StateFlag.State_Selected:
            self._ring(painter, rect)

    def draw_day(self, painter: QPainter, rect: QRectF, cell: Cell) -> None:
        """Draw what is taken on a day of the course."""
        raise NotImplementedError

    def _begins(self, cell: Cell) -> bool:
        """Whether a phase begins on a day."""
        runs = self.model.shown.layout.phases
        return any(run.span.first == cell.day for run in runs)

    def _ring(self, painter: QPainter, rect: QRectF) -> None:
        painter.setPen(self.brushes.focus)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(rect.adjusted(1, 1, -2, -2))

    def number_width(self) -> float:
        """Room for the number of the day."""
        return self.brushes.metrics(Role.QUIET).horizontalAdvance("30") + self.look.unit * 2

    def number(self, painter: QPainter, rect: QRectF, cell: Cell) -> None:
        """The number of the day; the month's name on its first."""
        painter.setFont(self.brushes.font(Role.QUIET))
        painter.setPen(self.brushes.quiet if cell.in_course else self._faint)
        text = self._numbers[cell.day.day]
        room = QRectF(rect.left() + self.look.unit, rect.top(), self.number_width(), rect.height())
        painter.drawText(room, LEFT, text)


class SheetDelegate(DayDelegate):
    """A day as marks, each remedy in a place of its own: stacked, or side by side in low rows."""

    def draw_day(self, painter: QPainter, rect: QRectF, cell: Cell) -> None:
        """The number, and a mark for each remedy."""
        self.number(painter, rect, cell)
        left = rect.left() + self.number_width()
        room = QRectF(
            left, rect.top() + 2, rect.right() - left - self.look.unit, rect.height() - 4
        )
        for mark in cell.marks:
            if mark.state is not State.PAUSED:
                self._mark(painter, self._place(room, mark.index), mark)
        if cell.paused and not any(mark.stretch for mark in cell.marks):
            self._pause_sign(painter, room)

    def _place(self, room: QRectF, index: int) -> QRectF:
        """Where the mark of a remedy stands, on whole pixels so that patterns stay sharp."""
        count = max(1, len(self.model.shown.course.remedies))
        unit = self.look.unit
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
        middle, reach = room.center(), min(room.height() * 0.3, self.look.unit * 2)
        painter.setPen(self._pause)
        for x in (middle.x() - self.look.unit * 0.6, middle.x() + self.look.unit * 0.6):
            painter.drawLine(QPointF(x, middle.y() - reach), QPointF(x, middle.y() + reach))


class MonthDelegate(DayDelegate):
    """A day with its doses in words, as many as fit, the rest counted."""

    def set_brushes(self, brushes: Brushes) -> None:
        """Draw with another look; the words are worked out again."""
        super().set_brushes(brushes)
        self._words: dict[tuple[int, int], str] = {}

    def number(self, painter: QPainter, rect: QRectF, cell: Cell) -> None:
        """The number at the top, strong within the month."""
        month = self.model.month
        inside = month is None or cell.day in month
        painter.setFont(self.brushes.font(Role.STRONG if inside else Role.QUIET))
        painter.setPen(self.brushes.ink if inside and cell.in_course else self._faint)
        text = self._numbers[cell.day.day]
        if cell.day.day == 1:
            text = f"1 {MONTH_NAMES[cell.day.month - 1][:3]}" if self._has_air(rect, cell) else "1"
        room = rect.adjusted(self.look.unit * 1.5, self.look.unit * 0.6, 0, 0)
        painter.drawText(room, TOP_LEFT, text)

    def draw_day(self, painter: QPainter, rect: QRectF, cell: Cell) -> None:
        """The number, and a line of words for each remedy."""
        self.number(painter, rect, cell)
        line = self._step()
        room = rect.adjusted(0, self.look.line + self.look.unit * 0.8, 0, 0)
        if not self._has_air(rect, cell):
            room = rect.adjusted(self.look.unit * 4.5, self.look.unit * 0.5, 0, 0)
        fit = int(room.height() // line)
        marks = cell.marks if len(cell.marks) <= fit else cell.marks[: max(0, fit - 1)]
        room.setHeight(line)
        for mark in marks:
            self._line(painter, room, mark)
            room.translate(0, line)
        self._rest(painter, room, cell, len(marks))

    def _step(self) -> float:
        """From one line of words to the next."""
        return self.brushes.metrics(Role.QUIET).height() * 0.93

    def _has_air(self, rect: QRectF, cell: Cell) -> bool:
        """Whether the words stand beneath the number rather than beside it."""
        line = self._step()
        return rect.height() - self.look.line - self.look.unit * 0.8 >= line * len(cell.marks)

    def _rest(self, painter: QPainter, room: QRectF, cell: Cell, told: int) -> None:
        left = len(cell.marks) - told
        if not left and not (cell.paused and not cell.marks):
            return
        painter.setFont(self.brushes.font(Role.QUIET))
        painter.setPen(self.brushes.quiet)
        text = self.tr("%n more", "", left) if left else self.tr("paused")
        text = text.replace("%n", str(left))
        painter.drawText(room.adjusted(self.look.unit * 1.5, 0, 0, 0), LEFT, text)

    def _line(self, painter: QPainter, room: QRectF, mark: Mark) -> None:
        unit, n = self.look.unit, mark.index % len(DYES)
        painter.setFont(self.brushes.font(Role.QUIET))
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
        key = (id(mark), round(wide))
        if key not in self._words:
            measure = self.brushes.metrics(Role.QUIET).horizontalAdvance
            ways = _ways(mark)
            self._words[key] = next((way for way in ways if measure(way) <= wide), ways[-1])
        return self._words[key]

    def forget(self) -> None:
        """Forget the words; the marks are others now."""
        self._words.clear()


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
