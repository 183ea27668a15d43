"""A page laid flat, with what was read drawn around its boxes in three ways.

An empty box has a small ring at its corner, a marked one a solid frame with a filled disc, an
unclear one a broken frame with a question mark. The paper is white in every look, and so what is
drawn on it is in the inks of the light one.
"""

from __future__ import annotations

from typing import assert_never

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QScrollArea, QWidget

from sennight.desktop.course.diary.sheet_answers import SheetAnswers, Spot
from sennight.desktop.kit.theme import Theme, make_theme
from sennight.practice.sheet_pages import BoxState, SeenBox, SeenPage

_GAP = 0.12
"""Of a box's side: how far what is drawn stays off the box."""
_LEAST_WIDTH = 30
"""Letters of text: a page is not drawn narrower."""
_AROUND = 1.0
"""Sides of a box that its close-up shows around it."""


class Marker:
    """Draws what a box holds around it, the box itself left free."""

    def __init__(self, theme: Theme) -> None:
        light = make_theme(dark=False, scale=theme.scale, points=theme.points * 100 / theme.scale)
        self.marked, self.empty, self.unclear = light.accent, light.slate, light.alarm
        self.here, self.paper = light.ink, QColor("#FFFFFF")

    def colour(self, state: BoxState) -> QColor:
        """The ink for a state; none is told by its colour alone."""
        match state:
            case BoxState.MARKED:
                return self.marked
            case BoxState.EMPTY:
                return self.empty
            case BoxState.UNCLEAR:
                return self.unclear
            case _:
                assert_never(state)

    def draw(
        self, painter: QPainter, box: QRectF, state: BoxState, *, by_hand: bool, here: bool
    ) -> None:
        """Draw what a box holds; a thin second line where it was said by hand."""
        side, ink = box.width(), self.colour(state)
        frame = box.adjusted(-_GAP * side, -_GAP * side, _GAP * side, _GAP * side)
        thick = max(1.5, side * 0.07)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if state is not BoxState.EMPTY:
            lines = Qt.PenStyle.SolidLine if state is BoxState.MARKED else Qt.PenStyle.DashLine
            painter.setPen(QPen(ink, thick, lines))
            painter.drawRect(frame)
        self._badge(painter, frame.topRight(), side * 0.2, state)
        if by_hand:
            painter.setPen(QPen(ink, 1))
            painter.drawLine(
                frame.bottomLeft() + QPointF(0, thick * 1.6),
                frame.bottomRight() + QPointF(0, thick * 1.6),
            )
        if here:
            wide = frame.adjusted(-thick * 2, -thick * 2, thick * 2, thick * 2)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(self.here, thick * 1.3))
            painter.drawRoundedRect(wide, thick * 2, thick * 2)

    def _badge(self, painter: QPainter, at: QPointF, radius: float, state: BoxState) -> None:
        ink = self.colour(state)
        painter.setPen(QPen(ink, max(1.0, radius * 0.3)))
        match state:
            case BoxState.MARKED:
                painter.setBrush(QBrush(ink))
                painter.drawEllipse(at, radius * 0.8, radius * 0.8)
            case BoxState.EMPTY:
                painter.setBrush(QBrush(self.paper))
                painter.drawEllipse(at, radius * 0.6, radius * 0.6)
            case BoxState.UNCLEAR:
                painter.setBrush(QBrush(self.paper))
                spot = QRectF(at.x() - radius * 1.5, at.y() - radius * 1.5, radius * 3, radius * 3)
                painter.drawEllipse(spot)
                font = QFont(painter.font())
                font.setPixelSize(max(6, round(radius * 2.4)))
                font.setBold(True)
                painter.setFont(font)
                painter.drawText(spot, Qt.AlignmentFlag.AlignCenter, "?")
            case _:
                assert_never(state)


def page_image(page: SeenPage) -> QImage:
    """The flat picture as Qt draws it."""
    shown = page.picture
    grey = QImage.Format.Format_Grayscale8
    return QImage(shown.pixels, shown.width, shown.height, shown.width, grey).copy()


class DrawnPage(QWidget):
    """A page as wide as there is room; `picked` tells the box that was clicked."""

    picked = Signal(object)

    def __init__(self, answers: SheetAnswers, theme: Theme) -> None:
        super().__init__()
        self.answers, self.marker = answers, Marker(theme)
        self.code, self.here = "", Spot("", 0)
        self.image = QImage()
        self.setAccessibleName(self.tr("The sheet as it was read"))
        answers.changed.connect(self.update)

    def show_page(self, code: str) -> None:
        """Show another page, empty for none."""
        if code != self.code:
            self.code = code
            self.image = page_image(self.answers.pages[code]) if code else QImage()
        self.update()

    @property
    def scale(self) -> float:
        """Points of the window for one of the picture."""
        return self.width() / max(1, self.image.width())

    def place(self, box: SeenBox) -> QRectF:
        """Where a box is drawn."""
        s = self.scale
        return QRectF(box.x * s, box.y * s, box.side * s, box.side * s)

    def fit(self, room: QSize) -> None:
        """Be as wide as the room, and as high as the page then is; the whole room without one."""
        shape = self.image.size()
        ratio = shape.height() / shape.width() if shape.width() else 0.0
        self.setFixedSize(room.width(), max(1, round(room.width() * ratio) or room.height()))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the page, and around its boxes what they hold."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.image.isNull():
            painter.setPen(QPen(self.palette().dark().color(), 1.5, Qt.PenStyle.DashLine))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 4, 4)
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, self.tr("No photo yet"))
            return
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(QRectF(self.rect()), self.image)
        seen = QRectF(event.rect()).adjusted(-60, -60, 60, 60)
        for n, box in enumerate(self.answers.pages[self.code].boxes):
            spot, place = Spot(self.code, n), self.place(box)
            if seen.intersects(place):
                by_hand = spot in self.answers.said
                state = self.answers.state(spot)
                self.marker.draw(painter, place, state, by_hand=by_hand, here=spot == self.here)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the box under the pointer in hand."""
        if self.code:
            for n, box in enumerate(self.answers.pages[self.code].boxes):
                if self.place(box).adjusted(-2, -2, 2, 2).contains(event.position()):
                    self.picked.emit(Spot(self.code, n))


class SheetView(QScrollArea):
    """The page, scrolled to the box in hand."""

    def __init__(self, answers: SheetAnswers, theme: Theme) -> None:
        super().__init__()
        self.picture = DrawnPage(answers, theme)
        self.setWidget(self.picture)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        letter = self.fontMetrics().horizontalAdvance("n")
        self.setMinimumSize(QSize(letter * _LEAST_WIDTH, self.fontMetrics().height() * 6))

    def go_to(self, spot: Spot) -> None:
        """Take a box in hand, and bring it into view."""
        self.picture.here = spot
        self.picture.show_page(spot.code)
        self._fit()
        self._bring_into_view(spot)

    def _bring_into_view(self, spot: Spot) -> None:
        place = self.picture.place(self.picture.answers.box(spot)).center().toPoint()
        self.ensureVisible(place.x(), place.y(), 0, self.viewport().height() // 3)

    def show_page(self, code: str) -> None:
        """Show a page from above, empty for none."""
        self.picture.show_page(code)
        self._fit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave the keys to the dialog: arrows go from box to box."""
        event.ignore()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the page as wide as there is room."""
        super().resizeEvent(event)
        self._fit()
        if self.picture.here.code:
            self._bring_into_view(self.picture.here)

    def _fit(self) -> None:
        """A page has a scroll bar for good, or its width would go back and forth with it."""
        ways = Qt.ScrollBarPolicy
        self.setVerticalScrollBarPolicy(
            ways.ScrollBarAlwaysOn if self.picture.code else ways.ScrollBarAlwaysOff
        )
        self.picture.fit(self.viewport().size())


class CloseUp(QWidget):
    """The box in hand, large, with what is around it and nothing drawn over it."""

    def __init__(self) -> None:
        super().__init__()
        self.piece = QImage()
        side = self.fontMetrics().height() * 7
        self.setFixedSize(side, side)

    def show_box(self, image: QImage, box: SeenBox | None) -> None:
        """Show a box of a page; None for none."""
        self.piece = QImage()
        if box is not None:
            around = box.side * _AROUND
            room = QRectF(box.x, box.y, box.side, box.side)
            self.piece = image.copy(room.adjusted(-around, -around, around, around).toRect())
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - Qt's name
        """Draw it."""
        if not self.piece.isNull():
            painter = QPainter(self)
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(self.rect(), self.piece)
            painter.setPen(self.palette().mid().color())
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))


class Legend(QWidget):
    """One way of drawing, as a sample beside its word."""

    def __init__(self, state: BoxState, marker: Marker) -> None:
        super().__init__()
        self.state, self.marker = state, marker
        side = round(self.fontMetrics().height() * 1.5)
        self.setFixedSize(side, side)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - Qt's name
        """Draw a box on a piece of paper."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self.marker.paper)
        room = QRectF(self.rect())
        box = room.adjusted(*(room.width() * share for share in (0.24, 0.3, -0.3, -0.24)))
        painter.setPen(QPen(QColor("#9A9A9A"), 1))
        painter.drawRect(box)
        self.marker.draw(painter, box, self.state, by_hand=False, here=False)
