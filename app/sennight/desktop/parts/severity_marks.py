"""The marks of the three severities: a shape each, so that colour is never the only sign."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPen, QPixmap, QPolygonF

from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.translating import translate
from sennight.practice.safety import Severity


def severity_words(severity: Severity) -> str:
    """A severity as people read it."""
    return {
        Severity.AVOID: translate("Safety", "Avoid"),
        Severity.CAUTION: translate("Safety", "Caution"),
        Severity.NOTE: translate("Safety", "Note"),
    }[severity]


def severity_colour(theme: Theme, severity: Severity | None) -> QColor:
    """The ink that a severity's word is written in."""
    if severity is Severity.AVOID:
        return theme.alarm
    return theme.doubt if severity is Severity.CAUTION else theme.slate


EDGE = QPointF(1, 1)
"""Room around a mark for half of the pen."""
MOST_KEPT = 64
Kind = tuple[Severity, bool, bool]
"""Which mark: its severity, whether it is hollow, and whether it lies on a round of paper."""
_Look = tuple[Severity, bool, bool, float, float, str, str, int, float]
_PICTURES: dict[_Look, QPixmap] = {}
"""Marks that were drawn: a timeline has a hundred of a few kinds, and is drawn at each edit."""


def draw_mark(
    painter: QPainter,
    theme: Theme,
    rect: QRectF,
    severity: Severity,
    *,
    hollow: bool,
    on_paper: bool = False,
) -> None:
    """Avoid: a full square with a bar left out; caution: a half-filled lozenge; note: a ring.

    `hollow` draws only the outline, for what was decided; `on_paper` a round of paper beneath,
    which covers what lies under the mark.
    """
    draw_marks(painter, theme, [rect.topLeft()], rect.size(), (severity, hollow, on_paper))


def draw_marks(
    painter: QPainter, theme: Theme, corners: Iterable[QPointF], size: QSizeF, kind: Kind
) -> None:
    """The same mark at several places, each given by its upper left corner."""
    picture = _picture(theme, size, kind, painter.device().devicePixelRatioF())
    for corner in corners:
        painter.drawPixmap(corner - EDGE, picture)


def _picture(theme: Theme, size: QSizeF, kind: Kind, ratio: float) -> QPixmap:
    severity, hollow, on_paper = kind
    inks = severity_colour(theme, severity).name(), theme.paper.name()
    look = (*kind, size.width(), size.height(), *inks, theme.scale, ratio)
    picture = _PICTURES.get(look)
    if picture is None:
        if len(_PICTURES) >= MOST_KEPT:
            _PICTURES.clear()
        picture = _PICTURES[look] = QPixmap((size.toSize() + QSize(3, 3)) * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(Qt.GlobalColor.transparent)
        inner = QPainter(picture)
        if on_paper:
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            inner.setPen(Qt.PenStyle.NoPen)
            inner.setBrush(theme.paper)
            inner.drawEllipse(QRectF(EDGE, size).adjusted(-1, -1, 1, 1))
        _draw(inner, theme, QRectF(EDGE, size), severity, hollow=hollow)
        inner.end()
    return picture


def _draw(
    painter: QPainter, theme: Theme, rect: QRectF, severity: Severity, *, hollow: bool
) -> None:
    colour = severity_colour(theme, severity)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(colour, max(1.2, theme.scale / 80)))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if severity is Severity.AVOID:
        _square(painter, theme, rect, colour, hollow=hollow)
    elif severity is Severity.CAUTION:
        _lozenge(painter, rect, colour)
    else:
        painter.drawEllipse(rect.adjusted(1.5, 1.5, -1.5, -1.5))
    painter.restore()


def mark_icon(theme: Theme, severity: Severity | None, side: int, *, hollow: bool) -> QIcon:
    """The mark for a button, drawn double for sharp screens; none without a severity."""
    if severity is None:
        return QIcon()
    pixmap = QPixmap(side * 2, side * 2)
    pixmap.setDevicePixelRatio(2)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    draw_mark(painter, theme, QRectF(0, 0, side, side), severity, hollow=hollow)
    painter.end()
    return QIcon(pixmap)


def _square(
    painter: QPainter, theme: Theme, rect: QRectF, colour: QColor, *, hollow: bool
) -> None:
    box = rect.adjusted(1, 1, -1, -1)
    bar = QRectF(box.left(), box.top(), box.width() * 0.62, box.height() * 0.2)
    bar.moveCenter(box.center())
    if not hollow:
        painter.setBrush(colour)
    painter.drawRect(box)
    painter.fillRect(bar, colour if hollow else theme.paper)


def _lozenge(painter: QPainter, rect: QRectF, colour: QColor) -> None:
    middle = rect.center()
    top, bottom = QPointF(middle.x(), rect.top()), QPointF(middle.x(), rect.bottom())
    left, right = QPointF(rect.left(), middle.y()), QPointF(rect.right(), middle.y())
    painter.drawPolygon(QPolygonF([top, right, bottom, left]))
    painter.setBrush(colour)
    painter.drawPolygon(QPolygonF([left, right, bottom]))
