"""Draws the entries of one day: a time, what the client calls it, and the remedies taken then."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
)

from sennight.desktop.course.calendar.calendar_model import (
    ENTRY,
    DayEntry,
    DayModel,
    ceiling_words,
)
from sennight.desktop.kit.brushes import Brushes, draw_letter
from sennight.desktop.kit.grid_model import Index
from sennight.desktop.kit.theme import Role
from sennight.domain.day import clock
from sennight.domain.directions.plain_words import plain_dose, plain_wait
from sennight.domain.schedule.day_plan import AsNeededDose, DayDose

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
WRAP = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap

INDENT = 5
"""In units: where the words of a dose begin, after its letter."""


class EntryDelegate(QStyledItemDelegate):
    """A row of the day; rows with a time hang on a line from rising to bedtime."""

    def __init__(self, brushes: Brushes, parent: DayModel) -> None:
        super().__init__(parent)
        self.model = parent
        self.set_brushes(brushes)

    def set_brushes(self, brushes: Brushes) -> None:
        """Draw with another look."""
        self.brushes, self.theme = brushes, brushes.theme

    @property
    def _line(self) -> float:
        return self.theme.line + self.brushes.unit * 1.2

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """As many lines as remedies and ceilings take, and some air."""
        entry: DayEntry = index.data(ENTRY)
        view = option.widget
        wide = view.viewport().width() if isinstance(view, QAbstractItemView) else 400
        room = wide - self.brushes.unit * INDENT
        needed = [dose for dose in entry.doses if isinstance(dose, AsNeededDose)]
        high = self._line * max(1, len(entry.doses))
        high += sum(self._ceiling_height(dose, room) for dose in needed)
        return QSize(100, round(high + self.brushes.unit * 1.5))

    def _ceiling_height(self, dose: AsNeededDose, wide: float) -> float:
        """How high the words about a ceiling are, where they wrap."""
        box = QRectF(0, 0, max(wide, 1.0), 10000)
        return self.brushes.metrics(Role.QUIET).boundingRect(box, WRAP, _ceiling(dose)).height()

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one entry."""
        entry: DayEntry = index.data(ENTRY)
        rect = QRectF(option.rect)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, self.theme.selection)
        left = rect.left()
        if entry.minute is not None:
            left = self._time(painter, rect, entry, index.row())
        top = rect.top() + self.brushes.unit * 0.7
        for dose in entry.doses:
            top = self._dose(painter, QRectF(left, top, rect.right() - left, self._line), dose)

    def _time(self, painter: QPainter, rect: QRectF, entry: DayEntry, row: int) -> float:
        """The time and its name, left of the line; returns where the doses begin."""
        b, unit = self.brushes, self.brushes.unit
        first = QRectF(rect.left() + unit * 0.5, rect.top() + unit * 0.7, 400, self._line)
        painter.setFont(b.font(Role.STRONG if entry.doses else Role.TEXT))
        painter.setPen(b.ink if entry.doses else b.quiet)
        painter.drawText(first, LEFT, clock(entry.minute or 0))
        wide = b.metrics(Role.STRONG).horizontalAdvance("00:00") + unit * 2
        painter.setFont(b.font(Role.QUIET))
        painter.setPen(b.quiet)
        painter.drawText(first.adjusted(wide, 0, 0, 0), LEFT, entry.moment)
        x = first.left() + wide + self._moments() + unit * 2
        middle = first.center().y()
        painter.setPen(b.hairline)
        painter.drawLine(
            QPointF(x, middle if row == 0 else rect.top()),
            QPointF(x, middle if row == self.model.rowCount() - 1 else rect.bottom()),
        )
        painter.setPen(b.ink)
        painter.setBrush(self.theme.ink if entry.doses else self.theme.paper)
        painter.drawEllipse(QPointF(x, middle), unit * 0.6, unit * 0.6)
        return x + unit * 3

    def _moments(self) -> float:
        """Room for the longest name of a time in this day."""
        measure = self.brushes.metrics(Role.QUIET).horizontalAdvance
        return max((measure(entry.moment) for entry in self.model.entries), default=0.0)

    def _dose(self, painter: QPainter, room: QRectF, dose: DayDose | AsNeededDose) -> float:
        b, unit = self.brushes, self.brushes.unit
        letter = QRectF(room.left(), room.top() + unit * 0.5, unit * 3.5, room.height() - unit)
        draw_letter(painter, b, letter, dose.index)
        text = room.adjusted(unit * INDENT, 0, 0, 0)
        painter.setFont(b.font(Role.STRONG))
        painter.setPen(b.ink)
        amount = plain_dose(dose.stretch.directions)
        painter.drawText(text, LEFT, amount)
        wide = b.metrics(Role.STRONG).horizontalAdvance(amount) + unit * 1.5
        painter.setFont(b.font(Role.TEXT))
        name = self.model.reading.course.remedy(dose.remedy).name
        rest = text.adjusted(wide, 0, 0, 0)
        fits = b.metrics(Role.TEXT).elidedText(name, Qt.TextElideMode.ElideRight, rest.width())
        painter.drawText(rest, LEFT, fits)
        if not isinstance(dose, AsNeededDose):
            return room.bottom()
        high = self._ceiling_height(dose, text.width())
        painter.setFont(b.font(Role.QUIET))
        painter.setPen(b.quiet)
        beneath = QRectF(text.left(), text.bottom() - unit * 0.5, text.width(), high)
        painter.drawText(beneath, WRAP, _ceiling(dose))
        return beneath.bottom()


def _ceiling(dose: AsNeededDose) -> str:
    """The most of what is taken as needed, and how long to wait in between."""
    needed = dose.stretch.directions.as_needed
    wait = plain_wait(needed) if needed else ""
    return ", ".join(part for part in (ceiling_words(dose), wait) if part)
