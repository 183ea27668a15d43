"""Paints drawings with Qt: on a widget in the look of the page, or as a picture, or in greys."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import assert_never

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QAction,
    QColor,
    QFont,
    QFontMetricsF,
    QGuiApplication,
    QImage,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.domain.charts.drawing import (
    Align,
    Box,
    Dot,
    Drawing,
    DyedBox,
    Ink,
    Lines,
    Shape,
    Stroke,
    Words,
)
from sennight.dyes import CHART_COLOURS, DYES, GREY_DYE

_STROKES = {
    Stroke.SOLID: Qt.PenStyle.SolidLine,
    Stroke.DASHED: Qt.PenStyle.DashLine,
    Stroke.DOTTED: Qt.PenStyle.DotLine,
}
_FLAT = Qt.PenCapStyle.FlatCap


def text_size(theme: Theme) -> float:
    """The size of a chart's words, in pixels."""
    return QFontMetricsF(theme.font(Role.QUIET)).height() * 0.76


class ChartPainter:
    """Paints drawings in one look; in greys where a printer would have no colours."""

    def __init__(self, theme: Theme, *, in_greys: bool = False) -> None:
        if in_greys:
            greys = tuple(QColor(GREY_DYE) for _ in DYES)
            theme = replace(theme, dyes=greys, paper=QColor("#FFFFFF"))
        self.brushes = Brushes(theme)
        self.family = theme.family
        self.colours = {
            ink: QColor(_colour(ink, is_dark=theme.dark, in_greys=in_greys)) for ink in Ink
        }

    def paint(self, painter: QPainter, drawing: Drawing) -> None:
        """Draw all shapes, from the painter's origin."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for shape in drawing.shapes:
            self._shape(painter, shape)

    def _shape(self, painter: QPainter, shape: Shape) -> None:
        match shape:
            case Box():
                self._box(painter, shape)
            case DyedBox():
                room = QRectF(shape.x, shape.y, shape.width, shape.height)
                painter.fillRect(room, self.brushes.taken[shape.index % len(DYES)])
            case Lines():
                self._lines(painter, shape)
            case Dot():
                painter.setPen(QPen(self.colours[shape.ink], max(1.2, shape.radius / 2.5)))
                paper = self.colours[Ink.PAPER if shape.is_hollow else shape.ink]
                painter.setBrush(paper)
                painter.drawEllipse(QPointF(shape.x, shape.y), shape.radius, shape.radius)
            case Words():
                self._words(painter, shape)
            case _:
                assert_never(shape)

    def _box(self, painter: QPainter, box: Box) -> None:
        room = QRectF(box.x, box.y, box.width, box.height)
        if box.fill is not None:
            painter.fillRect(room, self.colours[box.fill])
        if box.edge is not None:
            painter.setPen(QPen(self.colours[box.edge], 1, _STROKES[box.stroke], _FLAT))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(room.adjusted(0.5, 0.5, -0.5, -0.5))

    def _lines(self, painter: QPainter, lines: Lines) -> None:
        pen = QPen(self.colours[lines.ink], lines.weight, _STROKES[lines.stroke], _FLAT)
        painter.setPen(pen)
        points = QPolygonF([QPointF(x, y) for x, y in lines.points])
        if lines.fill is None:
            painter.drawPolyline(points)
        else:
            painter.setBrush(self.colours[lines.fill])
            painter.drawPolygon(points)

    def _words(self, painter: QPainter, words: Words) -> None:
        font = QFont(self.family)
        font.setPixelSize(max(1, round(words.size)))
        font.setWeight(QFont.Weight.DemiBold if words.is_strong else QFont.Weight.Normal)
        measure = QFontMetricsF(font)
        text = words.text
        if words.room is not None:
            text = measure.elidedText(text, Qt.TextElideMode.ElideRight, words.room)
        wide = measure.horizontalAdvance(text)
        shift = {Align.START: 0.0, Align.MIDDLE: wide / 2, Align.END: wide}[words.align]
        dyed = None if words.dye is None else self.brushes.theme.dye(words.dye)
        painter.setFont(font)
        painter.setPen(dyed or self.colours[words.ink])
        middle = words.y + (measure.ascent() - measure.descent()) / 2
        painter.drawText(QPointF(words.x - shift, middle), text)


def _colour(ink: Ink, *, is_dark: bool, in_greys: bool) -> str:
    colour = CHART_COLOURS[ink]
    if in_greys:
        return colour.grey
    return colour.dark if is_dark else colour.light


def drawing_image(drawing: Drawing, theme: Theme, *, in_greys: bool = False) -> QImage:
    """A drawing as a picture twice as fine as on the screen, on its paper."""
    fineness = 2
    image = QImage(
        round(drawing.width * fineness),
        round(drawing.height * fineness),
        QImage.Format.Format_RGB32,
    )
    image.setDevicePixelRatio(fineness)
    look = ChartPainter(theme, in_greys=in_greys)
    image.fill(look.colours[Ink.PAPER])
    painter = QPainter(image)
    look.paint(painter, drawing)
    painter.end()
    return image


class ChartView(QWidget):
    """Shows a drawing that is made for its width; what it shows is told to those who hear.

    A subclass makes the drawing.
    """

    def __init__(self, theme: Theme, name: str = "") -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(name)
        self._offer_pictures()
        self.apply_theme(theme)

    def _offer_pictures(self) -> None:
        """A menu of its own, which takes the drawing elsewhere."""
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)
        for text, in_greys in (
            (translate("Charts", "Copy the picture"), False),
            (translate("Charts", "Copy the picture in greys"), True),
        ):
            action = QAction(text, self)
            action.triggered.connect(partial(self.copy_picture, in_greys=in_greys))
            self.addAction(action)

    def make_drawing(self, width: float) -> Drawing | None:
        """The drawing for a width in pixels; None where there is nothing to draw."""
        raise NotImplementedError

    def height_wanted(self) -> float:
        """How high the drawing wants to be, in pixels."""
        raise NotImplementedError

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.theme, self.text = theme, text_size(theme)
        self._painter = ChartPainter(theme)
        self.refresh()

    def refresh(self) -> None:
        """What is shown has changed."""
        drawing = self.make_drawing(max(1, self.width()))
        self.setAccessibleDescription(drawing.words if drawing else "")
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """As wide as there is room."""
        return QSize(self.theme.unit * 40, round(self.height_wanted()))

    def copy_picture(self, *_: object, in_greys: bool) -> None:
        """Put the drawing on the clipboard, as it is or in greys on white."""
        drawing = self.make_drawing(self.width())
        if drawing is not None:
            image = drawing_image(drawing, self.theme, in_greys=in_greys)
            QGuiApplication.clipboard().setImage(image)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - Qt's name
        """Draw it."""
        drawing = self.make_drawing(self.width())
        if drawing is not None:
            painter = QPainter(self)
            self._painter.paint(painter, drawing)
