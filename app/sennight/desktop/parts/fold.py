"""A part that folds: its heading tells in a few words what it comes to, and opens the rest."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QIcon, QPainter, QPaintEvent, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QHBoxLayout,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.theme import Role, Theme

SIDE_BY_SIDE = 58
"""In units: from this width on two headings stand side by side."""

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class FoldHead(QPushButton):
    """The heading: a title, what it comes to on the right, and a sign of whether it is open."""

    def __init__(self, title: str, theme: Theme) -> None:
        super().__init__()
        self._title, self._verdict, self._shorter = title, "", tuple[str, ...]()
        self.role = Role.HEADING
        self._tone: Callable[[Theme], QColor] | None = None
        self._is_shown = True
        self.setCheckable(True)
        self.setAutoDefault(False)
        self.setProperty("kind", "fold")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.apply_theme(theme)
        self.say("")

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.brushes = Brushes(theme)
        self.updateGeometry()
        self.update()

    def say(
        self,
        verdict: str,
        tone: Callable[[Theme], QColor] | None = None,
        *,
        shorter: tuple[str, ...] = (),
    ) -> None:
        """Tell what it comes to, in slate or in the colour that `tone` picks from the look.

        Where there is no room for it the first of the `shorter` that fits stands there instead.
        """
        if self.accessibleName() and self._is_said(verdict, tone):
            return
        self._verdict, self._shorter, self._tone = verdict, shorter, tone
        self.setAccessibleName(f"{self._title}: {verdict}" if verdict else self._title)
        self.setToolTip(plain_tip(self.accessibleName()))
        self.update()

    def _is_said(self, verdict: str, tone: Callable[[Theme], QColor] | None) -> bool:
        theme, before = self.brushes.theme, self._tone
        colours = before and before(theme), tone and tone(theme)
        return verdict == self._verdict and colours[0] == colours[1]

    @property
    def verdict(self) -> str:
        """What it comes to."""
        return self._verdict

    def sizeHint(self) -> QSize:
        """One line."""
        unit = self.brushes.unit
        return QSize(unit * 30, round(self.brushes.line + unit * 0.5))

    def minimumSizeHint(self) -> QSize:
        """The title is never cut."""
        wide = self.brushes.metrics(Role.HEADING).horizontalAdvance(self._title)
        return QSize(round(wide + self.brushes.unit * 6), self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - Qt's name
        """Draw the line."""
        painter, b = QPainter(self), self.brushes
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        rect = QRectF(self.rect())
        if self.underMouse() and self.isEnabled():
            painter.fillRect(rect, b.theme.hover)
        painter.setFont(b.font(self.role))
        painter.setPen(b.ink)
        left = rect.left() + self._icon(painter, rect)
        painter.drawText(rect.adjusted(left, 0, 0, 0), LEFT, self._title)
        left += b.metrics(self.role).horizontalAdvance(self._title) + b.unit * 2
        self._chevron(painter, rect)
        room = rect.adjusted(left, 0, -b.unit * 4, 0)
        metrics, right = b.metrics(Role.QUIET), Qt.TextElideMode.ElideRight
        texts = (self._verdict, *self._shorter)
        fitting = (text for text in texts if metrics.horizontalAdvance(text) <= room.width())
        cut = metrics.elidedText(next(fitting, texts[-1]), right, room.width())
        painter.setFont(b.font(Role.QUIET))
        painter.setPen(QPen(self._tone(b.theme)) if self._tone else b.quiet)
        painter.drawText(room, RIGHT, cut)
        if self.hasFocus():
            painter.setPen(b.focus)
            painter.drawRect(rect.adjusted(1, 1, -1, -1))

    def _icon(self, painter: QPainter, rect: QRectF) -> float:
        """The mark before the title; returns the room that it takes."""
        side = self.iconSize().width()
        if self.icon().isNull():
            return 0.0
        top = round(rect.center().y() - side / 2)
        painter.drawPixmap(QPointF(0, top), self.icon().pixmap(side, side, QIcon.Mode.Normal))
        return side + self.brushes.unit

    def _chevron(self, painter: QPainter, rect: QRectF) -> None:
        reach, b = self.brushes.unit * 0.7, self.brushes
        at = QPointF(rect.right() - b.unit * 1.6, rect.center().y())
        down = 1 if self.isChecked() else -1
        if not self.isChecked():
            points = [
                QPointF(at.x() + reach * 0.5 * down, at.y() - reach),
                QPointF(at.x() - reach * 0.5 * down, at.y()),
                QPointF(at.x() + reach * 0.5 * down, at.y() + reach),
            ]
        else:
            points = [
                QPointF(at.x() - reach, at.y() - reach * 0.5),
                QPointF(at.x(), at.y() + reach * 0.5),
                QPointF(at.x() + reach, at.y() - reach * 0.5),
            ]
        painter.setPen(QPen(b.theme.slate, max(1.5, b.theme.scale / 70)))
        painter.drawPolyline(QPolygonF(points))


class Fold(QWidget):
    """A heading that tells, and a body beneath it; opens by itself only where there is room.

    What the user chose stays: `chosen` is None while nothing was.
    """

    fold_changed = Signal()

    def __init__(self, title: str, theme: Theme) -> None:
        super().__init__()
        self.head = FoldHead(title, theme)
        self.body = QWidget()
        self.chosen: bool | None = None
        self.room = QVBoxLayout(self.body)
        self.room.setContentsMargins(0, 0, 0, 0)
        self.room.setSpacing(2)
        self.head_room = QHBoxLayout()
        self.head_room.setContentsMargins(0, 0, 0, 0)
        self.head_room.addWidget(self.head, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addLayout(self.head_room)
        layout.addWidget(self.body)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        self.head.clicked.connect(self._choose)
        self.set_open(is_open=False)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.head.apply_theme(theme)

    @property
    def is_open(self) -> bool:
        """Whether the body is shown."""
        return self.head.isChecked()

    def set_open(self, *, is_open: bool) -> None:
        """Show the body, or the heading alone."""
        self.head.setChecked(is_open)
        self.body.setVisible(is_open)

    def _choose(self) -> None:
        self.chosen = self.head.isChecked()
        self.set_open(is_open=self.chosen)
        self.fold_changed.emit()

    def setVisible(self, visible: bool) -> None:  # noqa: FBT001, N802 - Qt's
        """The heading and the body go along where they stand elsewhere."""
        super().setVisible(visible)
        self.head.setVisible(visible)
        self.body.setVisible(visible and self.is_open)

    def stand_in(self, heads: QBoxLayout, bodies: QVBoxLayout) -> None:
        """Have the heading beside others, and the body beneath them all."""
        self.head.role = Role.STRONG
        heads.addWidget(self.head, 1)
        bodies.addWidget(self.body)

    def body_height(self, width: int) -> int:
        """How high the body is in so much width."""
        layout = self.body.layout()
        if layout is None:
            return 0
        layout.activate()
        if layout.hasHeightForWidth():
            return layout.totalHeightForWidth(width)
        return layout.totalSizeHint().height()


class FoldPair(QWidget):
    """Two parts that fold, their headings side by side."""

    def __init__(self, theme: Theme, *folds: Fold) -> None:
        super().__init__()
        self._theme = theme
        self._heads = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addLayout(self._heads)
        for fold in folds:
            fold.setParent(self)
            fold.stand_in(self._heads, layout)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)

    def apply_theme(self, theme: Theme) -> None:
        """Other distances."""
        self._theme = theme
        self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """See whether both have room side by side."""
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        """Side by side, or in a narrow column beneath each other."""
        is_wide = self.width() >= self._theme.unit * SIDE_BY_SIDE
        directions = QBoxLayout.Direction
        self._heads.setDirection(directions.LeftToRight if is_wide else directions.TopToBottom)
        self._heads.setSpacing(self._theme.unit * 4 if is_wide else round(self._theme.unit * 0.6))
