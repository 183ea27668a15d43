"""Herbs against their ranges, one row each: name, amount, and the bar; the tip has the rest."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyleOptionViewItem

from sennight.desktop.kit.grid_model import Index
from sennight.desktop.kit.theme import Role
from sennight.desktop.parts.range_bar import BAR, AmountBar, RangeBar
from sennight.domain.exposure.bands import Band

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter

NAME, AMOUNT = 0.42, 0.2
"""How much of the width the name takes, and the amount behind it; the bar has the rest."""


class HerbRow(RangeBar):
    """Draws a herb in one line."""

    def height(self, bar: AmountBar, width: float) -> int:
        """One line, whatever it says."""
        del bar, width
        return round(self.brushes.metrics(Role.QUIET).height())

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """As wide as the list."""
        del option
        return QSize(60, self.height(index.data(BAR), 0))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one herb."""
        bar: AmountBar = index.data(BAR)
        b, rect, unit = self.brushes, QRectF(option.rect), self.brushes.unit
        name = QRectF(rect.left(), rect.top(), rect.width() * NAME - unit, rect.height())
        painter.setFont(b.font(Role.QUIET))
        painter.setPen(b.ink)
        cut = _fitting(b.metrics(Role.QUIET), bar.name, name.width())
        painter.drawText(name, LEFT, cut)
        amount = QRectF(name.right(), rect.top(), rect.width() * AMOUNT, rect.height())
        is_over = bar.row.band is Band.OVER
        painter.setFont(b.font(Role.STRONG if is_over else Role.QUIET))
        painter.setPen(QPen(b.theme.alarm) if is_over else b.ink)
        painter.drawText(amount, RIGHT, bar.short_amount)
        high = unit * 1.4
        track = QRectF(
            amount.right() + unit * 1.6,
            round(rect.center().y() - high / 2),
            rect.right() - amount.right() - unit * 1.8,
            high,
        )
        self._bar(painter, track, bar.row)
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(b.focus)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(rect.adjusted(1, 1, -1, -1))


def _fitting(measure: QFontMetricsF, name: str, wide: float) -> str:
    """A herb's name; without what stands in brackets, then cut, where it is too long."""
    short, _, rest = name.partition(" (")
    if rest and measure.horizontalAdvance(name) > wide:
        name = short
    return measure.elidedText(name, Qt.TextElideMode.ElideRight, wide)
