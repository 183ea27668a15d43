"""Draws the entries of one day: a time, what the client calls it, and the remedies taken then."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

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
from sennight.desktop.kit.icons import form_mark
from sennight.desktop.kit.kept_pictures import KeptPictures
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.domain.amounts import plain_number
from sennight.domain.day import clock
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import plain_dose, plain_wait
from sennight.domain.schedule.day_plan import AsNeededDose, DayDose

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
WRAP = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap

BADGE, GAP = 4.2, 1.8
"""In units: a letter with the air behind it, and the air between two doses."""

NAMED_FROM = 84
"""In units: from this width of the list on, each dose has the remedy's name behind it."""

MOST_FOR_MOMENT = 0.4
"""The name of a time takes no more of the width than this."""


_Room = tuple[float, float, bool]
"""What a row is laid out in: where its doses begin, its width, and whether it may name them."""

MOST_FLOWS = 200
"""So many rows are kept as they were laid out."""

MOST_KEPT = 60
"""So many rows are kept as pictures, those of a few days; that is some megabytes."""


@dataclass(frozen=True, slots=True)
class _Placed:
    """A dose in the flow of a row: how far from the left, on which line, and its words.

    `drawn` is the form whose drawing stands for the unit: `1` and a capsule.
    """

    left: float
    line: int
    index: int
    amount: str
    name: str
    drawn: str


class EntryDelegate(QStyledItemDelegate):
    """A row of the day; rows with a time hang on a line from rising to bedtime."""

    def __init__(self, brushes: Brushes, parent: DayModel) -> None:
        super().__init__(parent)
        self.model = parent
        self.air, self.width, self.may_name, self.is_tight = 1.2, 400.0, True, False
        self._widest: tuple[Sequence[DayEntry], bool, float] | None = None
        self._flows: dict[
            int, tuple[DayEntry, tuple[float, float, bool], tuple[_Placed, ...]]
        ] = {}
        self._pictures = KeptPictures(MOST_KEPT)
        self.set_brushes(brushes)

    def set_brushes(self, brushes: Brushes) -> None:
        """Draw with another look."""
        self.brushes, self.theme = brushes, brushes.theme
        self._widest = None
        self._flows.clear()
        self._pictures.clear()

    @property
    def _line(self) -> float:
        return self.theme.line + self.brushes.unit * (0 if self.is_tight else 0.4)

    # Measures

    def _doses_left(self, entry: DayEntry, width: float) -> float:
        """Where the doses of a row begin."""
        if entry.minute is None:
            return self.brushes.unit * 0.5
        unit = self.brushes.unit
        moment = min(self._moments(), width * MOST_FOR_MOMENT)
        return self._clock_width() + unit * 3.6 + moment + unit * 1.6

    def _clock_width(self) -> float:
        return self.brushes.metrics(Role.STRONG).horizontalAdvance("00:00")

    def _moments(self) -> float:
        """Room for the longest name of a time in this day; measured once."""
        entries, says_names = self.model.entries, self._says_names(self.width)
        known = self._widest
        if known is None or known[0] is not entries or known[1] != says_names:
            measure = self.brushes.metrics(Role.QUIET).horizontalAdvance
            wide = max((measure(self._moment(entry)) for entry in entries), default=0.0)
            known = self._widest = entries, says_names, wide
        return known[2]

    def _moment(self, entry: DayEntry) -> str:
        return entry.moment if self._says_names(self.width) else entry.short

    def _says_names(self, width: float) -> bool:
        return self.may_name and width >= self.brushes.unit * NAMED_FROM

    def _flow(self, entry: DayEntry, width: float) -> tuple[_Placed, ...]:
        """The doses of a row behind each other, worked out once for a width."""
        begin = self._doses_left(entry, width)
        known = self._flows.get(id(entry))
        if known is None or known[0] is not entry or known[1] != (begin, width, self.may_name):
            if len(self._flows) >= MOST_FLOWS:
                self._flows.clear()
            placed = tuple(self._placed(entry, width, begin))
            known = self._flows[id(entry)] = entry, (begin, width, self.may_name), placed
        return known[2]

    def _placed(self, entry: DayEntry, width: float, begin: float) -> Iterator[_Placed]:
        """The doses of a row on as many lines as they take."""
        unit = self.brushes.unit
        left, line = begin, 0
        for dose in entry.doses:
            remedy = self.model.reading.course.remedy(dose.remedy)
            says_name = self._says_names(width) or entry.minute is None
            name, amount, drawn = remedy.name if says_name else "", _amount(dose), ""
            if isinstance(dose, AsNeededDose):
                name = translate("Course", "{remedy}, as needed").format(remedy=name)
            unit_is_form = str(dose.stretch.unit) in (remedy.form, Unit.APPLICATION)
            if not says_name and unit_is_form:
                amount, drawn = _number(dose), str(remedy.form)
            wide = unit * BADGE + self._words_width(amount, name, drawn)
            if left > begin and (left + wide > width or name):
                left, line = begin, line + 1
            yield _Placed(left, line, dose.index, amount, name, drawn)
            left += wide + unit * GAP

    def _words_width(self, amount: str, name: str, drawn: str) -> float:
        wide = self.brushes.unit * 4 if drawn else 0.0
        wide += self.brushes.metrics(Role.TEXT).horizontalAdvance(amount)
        if name:
            wide += self.brushes.metrics(Role.QUIET).horizontalAdvance(name) + self.brushes.unit
        return wide

    def height(self, entry: DayEntry, width: float) -> int:
        """How high a row is in so much width: as many lines as its doses and ceilings take."""
        lines = max((placed.line for placed in self._flow(entry, width)), default=0) + 1
        room = width - self.brushes.unit * BADGE
        needed = [dose for dose in entry.doses if isinstance(dose, AsNeededDose)]
        high = self._line * lines + sum(self._ceiling_height(dose, room) for dose in needed)
        return round(high + self.brushes.unit * self.air)

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """As high as its words want."""
        view = option.widget
        wide = view.viewport().width() if isinstance(view, QAbstractItemView) else 400
        return QSize(100, self.height(index.data(ENTRY), wide))

    def _ceiling_height(self, dose: AsNeededDose, wide: float) -> float:
        """How high the words about a ceiling are, where they wrap."""
        box = QRectF(0, 0, max(wide, 1.0), 10000)
        return self.brushes.metrics(Role.QUIET).boundingRect(box, WRAP, _ceiling(dose)).height()

    # Painting

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one entry."""
        entry: DayEntry = index.data(ENTRY)
        rect = QRectF(option.rect)
        flow = self._flow(entry, rect.width())
        needed = tuple(_ceiling(dose) for dose in entry.doses if isinstance(dose, AsNeededDose))
        row, last = index.row(), self.model.rowCount() - 1
        seen = (flow, needed, entry.minute, self._moment(entry), self.air, row == 0, row == last)
        self._pictures.draw(
            painter,
            rect,
            (*seen, self._doses_left(entry, rect.width())),
            lambda inner, room: self._entry(inner, room, entry, row),
        )
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(self.brushes.focus)
            painter.drawRect(rect.adjusted(1, 1, -1, -1))

    def _entry(self, painter: QPainter, rect: QRectF, entry: DayEntry, row: int) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if entry.minute is not None:
            self._time(painter, rect, entry, row)
        top = rect.top() + self.brushes.unit * self.air / 2
        lines = 1
        for placed in self._flow(entry, rect.width()):
            at = QPointF(rect.left() + placed.left, top + self._line * placed.line)
            self._dose(painter, QRectF(at, rect.bottomRight()), placed)
            lines = placed.line + 1
        self._ceilings(
            painter, rect.adjusted(0, top - rect.top() + self._line * lines, 0, 0), entry.doses
        )

    def _time(self, painter: QPainter, rect: QRectF, entry: DayEntry, row: int) -> None:
        """The time and its name, with the day's line between them."""
        b, unit = self.brushes, self.brushes.unit
        first = QRectF(rect.left(), rect.top() + unit * self.air / 2, 400, self._line)
        painter.setFont(b.font(Role.STRONG if entry.doses else Role.TEXT))
        painter.setPen(b.ink if entry.doses else b.quiet)
        painter.drawText(first, LEFT, clock(entry.minute or 0))
        x, middle = first.left() + self._clock_width() + unit * 1.8, first.center().y()
        painter.setPen(b.hairline)
        painter.drawLine(
            QPointF(x, middle if row == 0 else rect.top()),
            QPointF(x, middle if row == self.model.rowCount() - 1 else rect.bottom()),
        )
        painter.setPen(b.ink)
        painter.setBrush(self.theme.ink if entry.doses else self.theme.paper)
        painter.drawEllipse(QPointF(x, middle), unit * 0.6, unit * 0.6)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setFont(b.font(Role.QUIET))
        painter.setPen(b.quiet)
        left = x + unit * 1.8
        wide = self._doses_left(entry, rect.width()) - unit - (left - rect.left())
        name = b.metrics(Role.QUIET).elidedText(
            self._moment(entry), Qt.TextElideMode.ElideRight, wide
        )
        painter.drawText(QRectF(left, first.top(), wide, self._line), LEFT, name)

    def _dose(self, painter: QPainter, room: QRectF, placed: _Placed) -> None:
        b, unit = self.brushes, self.brushes.unit
        letter = QRectF(room.left(), room.top(), unit * 3.6, self._line)
        draw_letter(painter, b, letter, placed.index)
        text = QRectF(room.left() + unit * BADGE, room.top(), room.width(), self._line)
        painter.setFont(b.font(Role.TEXT))
        painter.setPen(b.ink)
        painter.drawText(text, LEFT, placed.amount)
        wide = b.metrics(Role.TEXT).horizontalAdvance(placed.amount) + unit
        if placed.drawn:
            side = round(self.theme.line * 0.85)
            top = round(text.center().y() - side / 2)
            drawing = form_mark(placed.drawn, self.theme.slate.name(), side)
            painter.drawPixmap(QPointF(round(text.left() + wide - unit * 0.4), top), drawing)
        painter.setFont(b.font(Role.QUIET))
        painter.setPen(b.quiet)
        painter.drawText(text.adjusted(wide, 0, 0, 0), LEFT, placed.name)

    def _ceilings(
        self, painter: QPainter, room: QRectF, doses: Sequence[DayDose | AsNeededDose]
    ) -> None:
        room = room.adjusted(self.brushes.unit * BADGE, 0, 0, 0)
        painter.setFont(self.brushes.font(Role.QUIET))
        painter.setPen(self.brushes.quiet)
        for dose in doses:
            if isinstance(dose, AsNeededDose):
                painter.drawText(room, WRAP, _ceiling(dose))
                room.setTop(room.top() + self._ceiling_height(dose, room.width()))


def _amount(dose: DayDose | AsNeededDose) -> str:
    return plain_dose(dose.stretch.directions).split(" (", maxsplit=1)[0]


def _number(dose: DayDose | AsNeededDose) -> str:
    """How many, without the unit: `1`, `1 to 2`."""
    amount, most = dose.stretch.directions.amount, dose.stretch.directions.most
    first = plain_number(amount)
    return first if most is None else f"{first} to {plain_number(most)}"


def _ceiling(dose: AsNeededDose) -> str:
    """The most of what is taken as needed, and how long to wait in between."""
    needed = dose.stretch.directions.as_needed
    wait = plain_wait(needed) if needed else ""
    return ", ".join(part for part in (ceiling_words(dose), wait) if part)
