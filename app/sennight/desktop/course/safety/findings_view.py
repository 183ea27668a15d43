"""The list of findings: keys walk through it, Enter unfolds a row or goes ahead with it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from PySide6.QtCore import (
    QAbstractListModel,
    QItemSelectionModel,
    QObject,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QListView,
    QSizePolicy,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
)

from sennight.desktop.course.safety.marks import draw_mark, severity_colour
from sennight.desktop.course.safety.rows import FindingRow
from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.grid_model import NOWHERE, Index
from sennight.desktop.kit.theme import Role, Theme

ROW = Qt.ItemDataRole.UserRole + 41
WRAP = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap
ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class FindingsModel(QAbstractListModel):
    """The rows."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[FindingRow, ...] = ()

    def show_rows(self, rows: tuple[FindingRow, ...]) -> bool:
        """Other rows; whether they are of other findings, and not only say something else."""
        if [row.id for row in rows] != [row.id for row in self.rows]:
            self.beginResetModel()
            self.rows = rows
            self.endResetModel()
            return True
        changed = [n for n, row in enumerate(rows) if row != self.rows[n]]
        self.rows = rows
        if changed:
            self.dataChanged.emit(self.index(changed[0]), self.index(changed[-1]))
        return False

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """One a row."""
        return 0 if parent.isValid() else len(self.rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The text, the whole sentence, or the row itself."""
        if not index.isValid():
            return None
        row = self.rows[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return row.text or row.head
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return row.sentence
        return row if role == ROW else None


@dataclass(frozen=True, slots=True)
class _Piece:
    """A text in its role, under the one before."""

    text: str
    role: Role
    quiet: bool


class FindingDelegate(QStyledItemDelegate):
    """Draws a row: the mark and the severity's word, then the texts beneath each other."""

    def __init__(self, theme: Theme, parent: QObject) -> None:
        super().__init__(parent)
        self.brushes = Brushes(theme)
        self._heights: dict[tuple[FindingRow, int], float] = {}

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.brushes = Brushes(theme)
        self._heights.clear()

    def height(self, row: FindingRow, width: int) -> float:
        """How high a row is at a width, so that no word is cut."""
        known = self._heights.get((row, width))
        if known is None:
            room = QRectF(0, 0, self._wide(width), 100000)
            high = sum(self._high(piece, room) for piece in self._pieces(row))
            known = self.brushes.line + high + self.brushes.unit * 2
            self._heights[row, width] = known
        return known

    def _wide(self, width: int) -> float:
        return width - self.brushes.unit * 5.5

    def _high(self, piece: _Piece, room: QRectF) -> float:
        metrics = self.brushes.metrics(piece.role)
        return metrics.boundingRect(room, WRAP, piece.text).height() + self.brushes.unit * 0.5

    def _pieces(self, row: FindingRow) -> Iterator[_Piece]:
        if row.text:
            yield _Piece(row.text, Role.TEXT, quiet=False)
        if not row.unfolded:
            return
        for label, text in row.more:
            line = text if label == row.head else f"{label}: {text}"
            yield _Piece(line, Role.QUIET, quiet=True)

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """As wide as the list, as high as the words want."""
        wide = option.rect.width()
        return QSize(wide, round(self.height(index.data(ROW), wide)))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one row."""
        b, rect = self.brushes, QRectF(option.rect)
        row: FindingRow = index.data(ROW)
        painter.setPen(b.hairline)
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(b.focus)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(rect.adjusted(1, 1, -2, -2))
        self._head(painter, rect, row)
        top = rect.top() + b.unit + b.line
        room = QRectF(rect.left() + b.unit * 4.5, top, self._wide(int(rect.width())), 100000)
        for piece in self._pieces(row):
            painter.setFont(b.font(piece.role))
            painter.setPen(b.quiet if piece.quiet else b.ink)
            painter.drawText(room, WRAP, piece.text)
            room.setTop(room.top() + self._high(piece, room))

    def _head(self, painter: QPainter, rect: QRectF, row: FindingRow) -> None:
        b = self.brushes
        side = b.unit * 2.5
        top = rect.top() + b.unit + (b.line - side) / 2
        mark = QRectF(rect.left() + b.unit, top, side, side)
        if row.severity is not None:
            draw_mark(painter, b.theme, mark, row.severity, hollow=row.accepted)
        room = QRectF(
            rect.left() + b.unit * 4.5, rect.top() + b.unit, rect.width() - b.unit * 5.5, b.line
        )
        painter.setFont(b.font(Role.STRONG))
        painter.setPen(self._ink(row))
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft, row.head)
        if row.more or not row.text:
            self._fold_sign(painter, room, row)

    def _ink(self, row: FindingRow) -> QColor:
        theme = self.brushes.theme
        return severity_colour(theme, row.severity) if row.text else theme.ink

    def _fold_sign(self, painter: QPainter, room: QRectF, row: FindingRow) -> None:
        """A small + or – at the right: whether there is more to read."""
        if row.asks:
            return
        painter.setPen(self.brushes.quiet)
        painter.drawText(room, Qt.AlignmentFlag.AlignRight, "–" if row.unfolded else "+")


class FindingsView(QListView):
    """The list, as high as its words; the arrows move, Enter or a click unfolds."""

    toggled = Signal(str)
    ahead_wanted = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.findings = FindingsModel(self)
        self._heights: list[int] = []
        self.drawer = FindingDelegate(theme, self)
        self.setModel(self.findings)
        self.setItemDelegate(self.drawer)
        self.setAccessibleName(self.tr("Findings"))
        self.setFrameShape(QListView.Shape.NoFrame)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.clicked.connect(lambda index: self._toggle(index.row()))

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.drawer.apply_theme(theme)
        self._heights = []
        self.fit()

    def show_rows(self, rows: tuple[FindingRow, ...]) -> None:
        """Show other rows; the keyboard stays on the finding that it was on."""
        at = self.current_id()
        if self.findings.show_rows(rows):
            self.select(at)
        self.fit()

    def current_id(self) -> str:
        """The id of the row that the keyboard is on."""
        row = self.currentIndex().row()
        return self.findings.rows[row].id if 0 <= row < len(self.findings.rows) else ""

    def select(self, row_id: str) -> None:
        """Put the keyboard's place on a row, the first one where it is not there."""
        ids = [row.id for row in self.findings.rows]
        if ids:
            row = ids.index(row_id) if row_id in ids else 0
            flag = QItemSelectionModel.SelectionFlag.NoUpdate
            self.selectionModel().setCurrentIndex(self.findings.index(row), flag)

    def fit(self) -> None:
        """As high as all rows together."""
        wide = self.viewport().width()
        heights = [round(self.drawer.height(row, wide)) for row in self.findings.rows]
        if heights != self._heights:
            self._heights = heights
            self.setFixedHeight(sum(heights) + 2)
            self.scheduleDelayedItemsLayout()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Other widths want other heights."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.fit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter goes ahead or unfolds; Space, Right and Left unfold and fold."""
        row = self.currentIndex().row()
        if not 0 <= row < len(self.findings.rows):
            super().keyPressEvent(event)
            return
        at, key = self.findings.rows[row], event.key()
        if key in ENTER and at.asks:
            self.ahead_wanted.emit(at.id)
        elif key in (*ENTER, Qt.Key.Key_Space):
            self._toggle(row)
        elif key in (Qt.Key.Key_Right, Qt.Key.Key_Left):
            if at.unfolded == (key == Qt.Key.Key_Left):
                self._toggle(row)
        else:
            super().keyPressEvent(event)

    def _toggle(self, row: int) -> None:
        if not self.findings.rows[row].asks:
            self.toggled.emit(self.findings.rows[row].id)
