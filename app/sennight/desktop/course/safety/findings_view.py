"""The list of findings: keys walk through it, Enter unfolds a row or goes ahead with it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from PySide6.QtCore import (
    QAbstractListModel,
    QItemSelectionModel,
    QObject,
    QPointF,
    QRectF,
    QSize,
    QSizeF,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QListView,
    QSizePolicy,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
)

from sennight.desktop.course.safety.rows import FindingRow
from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.grid_model import NOWHERE, Index
from sennight.desktop.kit.kept_pictures import KeptPictures
from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.parts.severity_marks import draw_mark
from sennight.practice.safety import Severity

ROW = Qt.ItemDataRole.UserRole + 41
WRAP = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap
MOST_EXPLAINED = 2
"""With more cautions than this each is told in one line; the second line is in the tip."""

MOST_KEPT = 40
"""So many rows are kept as pictures, more than are ever in view; that is some megabytes."""

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
        changed = [n for n, row in enumerate(rows) if row.seen != self.rows[n].seen]
        self.rows = rows
        for n in changed:
            self.dataChanged.emit(self.index(n), self.index(n))
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
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(row.sentence)
        return row if role == ROW else None


@dataclass(frozen=True, slots=True)
class _Piece:
    """A text in its role, under the one before."""

    text: str
    role: Role
    quiet: bool
    wraps: bool = True


class FindingDelegate(QStyledItemDelegate):
    """Draws a row: the mark and the severity's word, then the texts beneath each other."""

    def __init__(self, theme: Theme, parent: QObject) -> None:
        super().__init__(parent)
        self.brushes = Brushes(theme)
        self.is_brief = False
        self._heights: dict[tuple[FindingRow, int, bool], float] = {}
        self._pictures = KeptPictures(MOST_KEPT)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.brushes = Brushes(theme)
        self._heights.clear()
        self._pictures.clear()

    def height(self, row: FindingRow, width: int) -> float:
        """How high a row is at a width: folded in one line or two, unfolded no word is cut."""
        known = self._heights.get((row, width, self.is_brief))
        if known is None:
            room = QRectF(0, 0, self._wide(width), 100000)
            high = sum(self._high(piece, room) for piece in self._pieces(row))
            known = self.brushes.line + high + self.brushes.unit * 0.7
            self._heights[row, width, self.is_brief] = known
        return known

    def _wide(self, width: int) -> float:
        return width - self.brushes.unit * 7.5

    def _high(self, piece: _Piece, room: QRectF) -> float:
        metrics = self.brushes.metrics(piece.role)
        if not piece.wraps:
            return metrics.height()
        return metrics.boundingRect(room, WRAP, piece.text).height() + self.brushes.unit * 0.5

    def _pieces(self, row: FindingRow) -> Iterator[_Piece]:
        if not row.unfolded:
            if row.short and row.severity is not Severity.NOTE and not self.is_brief:
                yield _Piece(row.short, Role.QUIET, quiet=True, wraps=False)
            return
        if row.text:
            yield _Piece(row.text, Role.TEXT, quiet=False)
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
        is_hovered = bool(option.state & QStyle.StateFlag.State_MouseOver)
        self._pictures.draw(
            painter,
            rect,
            (row.seen, self.is_brief),
            lambda inner, room: self._words(inner, room, row),
            ground=b.theme.hover if is_hovered else b.theme.paper,
        )
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(b.focus)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(rect.adjusted(1, 1, -1, -1))

    def _words(self, painter: QPainter, rect: QRectF, row: FindingRow) -> None:
        b = self.brushes
        painter.setPen(b.hairline)
        painter.drawLine(rect.topLeft(), rect.topRight())
        self._head(painter, rect, row)
        top = rect.top() + b.unit * 0.4 + b.line
        room = QRectF(rect.left() + b.unit * 3.5, top, self._wide(int(rect.width())), 100000)
        for piece in self._pieces(row):
            self._piece(painter, room, piece)
            room.setTop(room.top() + self._high(piece, room))

    def _piece(self, painter: QPainter, room: QRectF, piece: _Piece) -> None:
        b = self.brushes
        painter.setFont(b.font(piece.role))
        painter.setPen(b.quiet if piece.quiet else b.ink)
        if piece.wraps:
            painter.drawText(room, WRAP, piece.text)
            return
        line = QRectF(room.topLeft(), QSizeF(room.width(), b.metrics(piece.role).height()))
        cut = b.metrics(piece.role).elidedText(
            piece.text, Qt.TextElideMode.ElideRight, line.width()
        )
        painter.drawText(line, Qt.AlignmentFlag.AlignLeft, cut)

    def _head(self, painter: QPainter, rect: QRectF, row: FindingRow) -> None:
        """The mark, what it is about, and the sign of what is folded."""
        b = self.brushes
        side = b.unit * 2.5
        top = rect.top() + b.unit * 0.4
        mark = QRectF(rect.left(), top + (b.line - side) / 2, side, side)
        if row.severity is not None:
            draw_mark(painter, b.theme, mark, row.severity, hollow=row.accepted or row.discussed)
        room = QRectF(rect.left() + b.unit * 3.5, top, self._wide(int(rect.width())), b.line)
        is_strong = row.severity not in (None, Severity.NOTE)
        role = Role.STRONG if is_strong else Role.TEXT
        painter.setFont(b.font(role))
        painter.setPen(QPen(self._ink(row)))
        words = row.title or row.head
        if is_strong and (row.asks or row.accepted or row.discussed):
            words = f"{row.head}: {words}"
        cut = b.metrics(role).elidedText(words, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, cut)
        if not row.asks:
            self._fold_sign(painter, rect, top, row)

    def _ink(self, row: FindingRow) -> QColor:
        theme = self.brushes.theme
        return theme.alarm if row.asks else theme.ink

    def _fold_sign(self, painter: QPainter, rect: QRectF, top: float, row: FindingRow) -> None:
        """A small angle at the right: whether there is more to read, or all is read."""
        b = self.brushes
        reach = b.unit * 0.7
        at = QPointF(rect.right() - b.unit * 1.6, top + b.line / 2)
        tip = reach * 0.5 if row.unfolded else -reach * 0.5
        painter.setPen(QPen(b.theme.slate, max(1.5, b.theme.scale / 70)))
        if row.unfolded:
            points = [QPointF(-reach, -tip), QPointF(0, tip), QPointF(reach, -tip)]
        else:
            points = [QPointF(tip, -reach), QPointF(-tip, 0), QPointF(tip, reach)]
        painter.drawPolyline(QPolygonF([at + point for point in points]))


class FindingsView(QListView):
    """The list, as high as its words; the arrows move, Enter or a click unfolds."""

    toggled = Signal(str)
    ahead_wanted = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.is_tight = False
        self.findings = FindingsModel(self)
        self._heights: list[int] = []
        self.drawer = FindingDelegate(theme, self)
        self.setModel(self.findings)
        self.setItemDelegate(self.drawer)
        self.setAccessibleName(self.tr("Findings"))
        self.setFrameShape(QListView.Shape.NoFrame)
        self.setMouseTracking(True)
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
        self._choose_lines(rows)
        if self.findings.show_rows(rows):
            self.select(at)
        self.fit()

    def be_tight(self, *, is_tight: bool) -> None:
        """Tell each finding in one line, however few there are, where the column is low."""
        if is_tight != self.is_tight:
            self.is_tight = is_tight
            self._choose_lines(self.findings.rows)
            self.fit()

    def _choose_lines(self, rows: tuple[FindingRow, ...]) -> None:
        grave = [row for row in rows if row.severity not in (None, Severity.NOTE)]
        self.drawer.is_brief = self.is_tight or len(grave) > MOST_EXPLAINED

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

    def height_in(self, width: int) -> int:
        """How high all rows are in so much width."""
        return sum(round(self.drawer.height(row, width)) for row in self.findings.rows) + 2

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
