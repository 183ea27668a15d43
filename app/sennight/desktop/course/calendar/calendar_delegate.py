"""Draws the days of the calendar: as a stack of dyed marks, or as doses in words."""

from __future__ import annotations

from collections.abc import Hashable
from datetime import date

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QFont, QPainter, QPen, QPixmap, QStaticText
from PySide6.QtWidgets import QStyledItemDelegate

from sennight.desktop.course.calendar.calendar_model import WeeksModel
from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.theme import Role
from sennight.domain.directions.plain_words import MONTH_NAMES, plain_dose, times_over
from sennight.domain.schedule.weeks import DayCell, RemedyMark, State
from sennight.dyes import DYES

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
Key = tuple[Hashable, ...]
"""What a picture is kept under."""

MOST_PICTURES = 500
"""So many weeks are kept as pictures; that is some megabytes."""

LEAST_MARK = 1.2
"""In units: marks side by side are not narrower than this, where there is room for more rows."""

TOP_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop


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
        self._faint = QPen(self.theme.outline)
        self._pause = QPen(self.theme.outline, max(1.0, self.unit / 3))
        self._quiet, self._strong = brushes.font(Role.QUIET), brushes.font(Role.STRONG)
        self._numbers = [_laid_out(str(n), self._quiet) for n in range(32)]
        metrics = brushes.metrics(Role.QUIET)
        self.number_width = metrics.horizontalAdvance("30") + self.unit * 2
        self._beside = brushes.metrics(Role.STRONG).horizontalAdvance("30") + self.unit * 0.8
        self._height = metrics.height()
        self._pictures.clear()
        self._stacks: dict[Key, QPixmap] = {}
        self.narrowest = 0
        self.forget()

    def forget(self) -> None:
        """The days are others now."""
        reading, month = self.model.reading, self.model.month
        self._begins = frozenset(run.span.first for run in reading.layout.phases)
        self._most = max((len(self.model.cell(day).marks) for day in month or ()), default=0)
        letters = self.brushes.letters[: len(reading.course.remedies)]
        measure = self.brushes.metrics(Role.QUIET).horizontalAdvance
        self._letter_width = max((measure(letter) for letter in letters), default=0.0)
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
        places = len(self.model.reading.course.remedies)
        return (places, self._most, *(self._cell_key(day) for day in days))

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
        key = (themes, cell.paused, size.width(), size.height(), ratio)
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
        painter.setPen(self.brushes.focus if is_here else self._faint)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(rect.adjusted(1, 1, -2, -2))

    def draw_marks(self, painter: QPainter, rect: QRectF, cell: DayCell) -> None:
        """Draw what is taken on a day of the course."""
        raise NotImplementedError

    def number(self, painter: QPainter, rect: QRectF, cell: DayCell) -> None:
        """The number of the day."""
        painter.setFont(self._quiet)
        painter.setPen(self.brushes.quiet if cell.in_course else self._faint)
        top = round(rect.top() + (rect.height() - self._height) / 2)
        number = self._numbers[cell.day.day]
        painter.drawStaticText(QPointF(rect.left() + self.unit, top), number)


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
        room = QRectF(left, rect.top() + 2, rect.right() - left - self.unit, rect.height() - 4)
        for mark in cell.marks:
            if mark.state is not State.PAUSED:
                self._mark(painter, self._place(room, mark.index), mark)
        if cell.paused and not any(mark.stretch for mark in cell.marks):
            self._pause_sign(painter, room)

    def _place(self, room: QRectF, index: int) -> QRectF:
        """Where the mark of a remedy stands, on whole pixels so that patterns stay sharp."""
        count = max(1, len(self.model.reading.course.remedies))
        unit = self.unit
        if room.height() / count >= unit * 1.8:
            slot = room.height() / count
            thick = min(slot - 2, unit * 2.4)
            top = room.top() + slot * index + (slot - thick) / 2
            return QRectF(round(room.left()), round(top), round(room.width()), round(thick))
        rows = -(-count // max(1, int(room.width() // (unit * LEAST_MARK))))
        along = -(-count // rows)
        slot, high = min(room.width() / along, unit * 5), room.height() / rows
        tall = min(high - 3, unit * 2.6)
        top = room.top() + high * (index // along) + (high - tall) / 2
        left = room.left() + slot * (index % along)
        return QRectF(round(left), round(top), round(slot - 2), round(tall))

    def _mark(self, painter: QPainter, bar: QRectF, mark: RemedyMark) -> None:
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

    def number(self, painter: QPainter, rect: QRectF, cell: DayCell) -> None:
        """The number at the top, strong within the month."""
        month = self.model.month
        inside = month is None or cell.day in month
        painter.setFont(self._strong if inside else self._quiet)
        painter.setPen(self.brushes.ink if inside and cell.in_course else self._faint)
        text = str(cell.day.day)
        if cell.day.day == 1:
            text = f"1 {MONTH_NAMES[cell.day.month - 1][:3]}" if self._has_air(rect) else "1"
        room = rect.adjusted(self.unit * 1.5, self.unit * 0.6, 0, 0)
        painter.drawText(room, TOP_LEFT, text)

    def draw_marks(self, painter: QPainter, rect: QRectF, cell: DayCell) -> None:
        """A line of words for each remedy, as many as the narrowest day has room for."""
        line = self._step()
        rect = QRectF(rect.topLeft(), QSizeF(min(rect.width(), self.narrowest), rect.height()))
        room = rect.adjusted(0, self.brushes.line + self.unit * 0.8, 0, 0)
        if not self._has_air(rect):
            room = rect.adjusted(self._beside, self.unit * 0.5, 0, 0)
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

    def _has_air(self, rect: QRectF) -> bool:
        """Whether the words of this month stand beneath the numbers rather than beside them."""
        line = self._step()
        return rect.height() - self.brushes.line - self.unit * 0.8 >= line * self._most

    def _rest(self, painter: QPainter, room: QRectF, cell: DayCell, shown: int) -> None:
        left = len(cell.marks) - shown
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

    def _line(self, painter: QPainter, room: QRectF, mark: RemedyMark) -> None:
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
        left += self._letter_width + unit * 0.7
        wide = room.right() - left
        painter.drawText(
            QRectF(left, room.top(), wide, room.height()), LEFT, self.fitting_text(mark, wide)
        )

    def fitting_text(self, mark: RemedyMark, wide: float) -> str:
        """A mark's words: the longest of several ways to say it that fits."""
        measure = self.brushes.metrics(Role.QUIET).horizontalAdvance
        ways = _ways(mark)
        return next((way for way in ways if measure(way) <= wide), ways[-1])


def _ways(mark: RemedyMark) -> tuple[str, ...]:
    """Ways to say what a remedy does on a day, the longest first; its letter alone at last."""
    stretch = mark.stretch
    if stretch is None:
        return (mark.state.value,)
    amount = plain_dose(stretch.directions)
    short = amount.split(" (", maxsplit=1)[0]
    if not stretch.times:
        return (f"{amount} when needed", f"{short} if needed", "if needed", "")
    more = " + as needed" if stretch.as_needed_max is not None else ""
    plus = " +" if more else ""
    often = times_over(len(stretch.times))
    return (
        f"{amount} {often}{more}",
        f"{short} {often}{plus}",
        f"{short} × {len(stretch.times)}{plus}",
        f"× {len(stretch.times)}{plus}",
        f"×{len(stretch.times)}",
        "",
    )
