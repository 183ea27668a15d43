"""Paints a chart of ratings over time, with the phases as its ground."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.theme import Role, Theme
from sennight.domain.follow_up.chart import ScoreChart

HEIGHT = 24
"""Of a chart, in units."""


def paint_chart(painter: QPainter, brushes: Brushes, room: QRectF, chart: ScoreChart) -> None:
    """Draw the grounds, the band of what does not matter yet, the ratings and the scale's ends."""
    b, unit = brushes, brushes.unit
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    figures = b.metrics(Role.QUIET).horizontalAdvance(str(chart.high)) + unit
    plot = room.adjusted(figures, unit, -unit, -unit)
    for n, ground in enumerate(chart.grounds):
        left, right = plot.left() + ground.left * plot.width(), ground.right * plot.width()
        span = QRectF(left, plot.top(), plot.left() + right - left, plot.height())
        painter.fillRect(span, b.theme.selection if ground.is_flare else b.theme.hover)
        if n and not ground.is_flare:
            painter.setPen(QPen(b.theme.outline, 1, Qt.PenStyle.DotLine))
            painter.drawLine(span.topLeft(), span.bottomLeft())
    if chart.matters is not None:
        _band(painter, b, plot, chart.matters)
    painter.setPen(b.hairline)
    painter.drawLine(plot.bottomLeft(), plot.bottomRight())
    painter.drawLine(plot.topLeft(), plot.topRight())
    painter.setFont(b.font(Role.QUIET))
    painter.setPen(b.quiet)
    side = QRectF(room.left(), plot.top() - unit, figures - unit, plot.height() + unit * 2)
    right_side = Qt.AlignmentFlag.AlignRight
    painter.drawText(side, right_side | Qt.AlignmentFlag.AlignTop, str(chart.high))
    painter.drawText(side, right_side | Qt.AlignmentFlag.AlignBottom, str(chart.low))
    _ratings(painter, b, plot, chart)


def _band(painter: QPainter, b: Brushes, plot: QRectF, band: tuple[float, float]) -> None:
    """The band between two lines of dashes, so that it is told without colour too."""
    low, high = (plot.bottom() - part * plot.height() for part in band)
    painter.fillRect(QRectF(plot.left(), high, plot.width(), low - high), b.theme.hairline)
    painter.setPen(QPen(b.theme.outline, 1, Qt.PenStyle.DashLine))
    for height in (low, high):
        painter.drawLine(QPointF(plot.left(), height), QPointF(plot.right(), height))


def _ratings(painter: QPainter, b: Brushes, plot: QRectF, chart: ScoreChart) -> None:
    points = [
        QPointF(plot.left() + x * plot.width(), plot.bottom() - y * plot.height())
        for x, y in chart.points
    ]
    painter.setPen(QPen(b.theme.ink, max(1.5, b.unit / 3)))
    painter.drawPolyline(QPolygonF(points))
    painter.setBrush(b.theme.ink)
    for point in points:
        painter.drawEllipse(point, b.unit * 0.6, b.unit * 0.6)
    painter.setBrush(Qt.BrushStyle.NoBrush)


class ChartView(QWidget):
    """One chart; what it shows is told in words to those who hear."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.chart: ScoreChart | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.apply_theme(theme)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self._brushes = Brushes(theme)
        self.updateGeometry()
        self.update()

    def show_chart(self, chart: ScoreChart, name: str, words: str) -> None:
        """Show a chart of that name; `words` are its numbers."""
        self.chart = chart
        self.setAccessibleName(name)
        self.setAccessibleDescription(words)
        self.update()

    def sizeHint(self) -> QSize:
        """As wide as there is room."""
        unit = self._brushes.unit
        return QSize(unit * 40, unit * HEIGHT)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - Qt's name
        """Draw the chart."""
        if self.chart is not None:
            paint_chart(QPainter(self), self._brushes, QRectF(self.rect()), self.chart)
