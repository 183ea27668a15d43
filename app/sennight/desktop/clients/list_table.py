"""The table of the clients: what each cell says, and the line that scores draw in it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from fractions import Fraction

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem

from sennight.desktop.kit.grid_model import Index
from sennight.desktop.kit.tables import TextTable
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.translating import translate
from sennight.domain.amounts import plain_number
from sennight.domain.directions.plain_words import MONTH_NAMES, counted
from sennight.practice.bench import Matter
from sennight.practice.client_list import ClientStanding, Due, Trend

NAME, AGE, COURSE, NOW, NEXT, DIARY, TREND, FLAGS = range(8)
SHARES, NARROW_SHARES = (21, 8, 20, 20, 14, 9, 9, 10), (64, 0, 0, 47, 38, 22, 0, 30)
BEHIND = 7
"""From so many days without an entry on a diary is behind."""
RATED_TO = 10
"""Where ratings end."""


def list_columns() -> tuple[str, ...]:
    """The headings of the list."""
    return (
        translate("Clients", "Name"),
        translate("Clients", "Age"),
        translate("Clients", "Course"),
        translate("Clients", "Now"),
        translate("Clients", "Next"),
        translate("Clients", "Diary"),
        translate("Clients", "Trend"),
        translate("Clients", "Red flags"),
    )


def diary_age(client: ClientStanding, today: date) -> int | None:
    """For how many days the diary is not entered; None where none is kept or all is entered."""
    if client.diary_since is None:
        return None
    return max(0, (today - client.diary_since).days)


def next_words(due: Due | None, today: date) -> str:
    """`review 14 Feb`, `10 Feb` for an appointment, with its year where it is another."""
    if due is None:
        return ""
    day = f"{due.day.day} {MONTH_NAMES[due.day.month - 1][:3]}"
    if due.day.year != today.year:
        day = f"{day} {due.day.year}"
    if due.matter is Matter.APPOINTMENT:
        return translate("Clients", "visit {day}").format(day=day)
    return translate("Clients", "review {day}").format(day=day)


def diary_words(client: ClientStanding, today: date) -> str:
    """`12 days` that are not entered; nothing where the diary is entered or none is kept."""
    age = diary_age(client, today)
    return counted(age, translate("Clients", "day")) if age else ""


def flags_words(client: ClientStanding) -> str:
    """`2 red flags` that stand; where none does, whether anybody asked."""
    if client.red_flags:
        return counted(client.red_flags, translate("Clients", "red flag"))
    return (
        translate("Clients", "none")
        if client.asked_for_flags
        else translate("Clients", "not asked")
    )


def trend_words(trend: Trend | None) -> str:
    """`Pain 7 to 4.5`; nothing for fewer than two ratings."""
    if trend is None or len(trend.values) < 2:
        return ""
    first, last = plain_number(trend.values[0]), plain_number(trend.values[-1])
    text = translate("Clients", "{measure} {first} to {last}")
    return text.format(measure=trend.name, first=first, last=last)


class ClientsTable(TextTable):
    """The texts of the list; what is late or stands in its colour, and the scores of each row."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(list_columns(), parent)
        self.theme: Theme | None = None
        self.tone: Callable[[int, int, Theme], QColor | None] = lambda _row, _column, _theme: None
        self.trend: Callable[[int], Trend | None] = lambda _row: None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """What a cell shows; the trend is drawn, and read aloud."""
        if not index.isValid():
            return None
        row, column = index.row(), index.column()
        if column == TREND and role == Qt.ItemDataRole.DisplayRole:
            return ""
        if column == TREND and role == Qt.ItemDataRole.UserRole:
            return self.trend(row)
        if column == TREND and role == Qt.ItemDataRole.AccessibleTextRole:
            return super().data(index)
        if role == Qt.ItemDataRole.ForegroundRole and self.theme is not None:
            tone = self.tone(row, column, self.theme)
            if tone is not None:
                return tone
        return super().data(index, role)


class TrendDelegate(QStyledItemDelegate):
    """Draws scores as a line over the height of their scale, the last one as a dot."""

    theme: Theme | None = None

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Draw the ground of the cell, and the line on it."""
        super().paint(painter, option, index)
        trend = index.data(Qt.ItemDataRole.UserRole)
        if self.theme is None or not isinstance(trend, Trend) or len(trend.values) < 2:
            return
        theme: Theme = self.theme
        edge = theme.unit * 2
        place = QRectF(option.rect).adjusted(edge, edge, -edge, -edge)
        points = points_of(trend, place)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(theme.hairline, 1))
        painter.drawLine(place.bottomLeft(), place.bottomRight())
        painter.setPen(QPen(theme.slate, max(1.5, theme.unit / 3)))
        painter.drawPolyline(QPolygonF(points))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.ink)
        painter.drawEllipse(points[-1], theme.unit / 2, theme.unit / 2)
        painter.restore()


def points_of(trend: Trend, place: QRectF) -> list[QPointF]:
    """Where the values lie: from left to right, the least of the scale at the bottom.

    A scale of many minutes ends at the highest value.
    """
    low, high = Fraction(trend.low), Fraction(trend.high)
    if high > RATED_TO:
        high = max(*trend.values, low + 1)
    step = place.width() / (len(trend.values) - 1)
    return [
        QPointF(
            place.left() + n * step,
            place.bottom() - float((value - low) / (high - low)) * place.height(),
        )
        for n, value in enumerate(trend.values)
    ]
