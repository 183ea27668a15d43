"""The table of a phase's lines: typed in place, explained in plain words beneath."""

from __future__ import annotations

from PySide6.QtCore import QAbstractItemModel, QObject, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QPen, QPixmap, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from sennight.desktop.course.brushes import Brushes, draw_letter
from sennight.desktop.course.calendar_model import Index
from sennight.desktop.course.directions_edit import DirectionsEdit
from sennight.desktop.course.lines_model import PLACE, PLAIN, WRONG, Column, LinesModel
from sennight.desktop.theme import Look, Role
from sennight.domain.remedies import Remedy

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
WRAP = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap
MOST_KEPT = 400
"""So many measures and pictures of texts are kept."""

SHARES, WITHOUT_STEPS = (26, 46, 28), (32, 54, 14)
"""How the first three columns share what the last day leaves them."""


class LineDelegate(QStyledItemDelegate):
    """Draws a cell's text with its plain words beneath, and edits it."""

    explained = Signal(str, bool)

    def __init__(self, brushes: Brushes, model: LinesModel, parent: QObject) -> None:
        super().__init__(parent)
        self.model = model
        self._heights: dict[tuple[str, str, float], float] = {}
        self._pictures: dict[tuple[object, ...], QPixmap] = {}
        self.set_brushes(brushes)

    def set_brushes(self, brushes: Brushes) -> None:
        """Draw with another look."""
        self.brushes = brushes
        self._heights.clear()
        self._pictures.clear()

    def _text_width(self, column: int, width: float) -> float:
        left = 5.0 if column == Column.REMEDY else 0.0
        return width - self.brushes.unit * (left + 2.0)

    def word_width(self) -> int:
        """How wide the column of remedies is so that it cuts no word of their names."""
        measure = self.brushes.metrics(Role.TEXT).horizontalAdvance
        names = (remedy.name for remedy in self.model.session.course.remedies)
        longest = max((measure(word) for name in names for word in name.split()), default=0.0)
        return round(longest + self.brushes.unit * 7.5)

    def height(self, row: int, widths: list[int]) -> int:
        """How high a row is, so that no word is cut."""
        unit = self.brushes.unit
        return round(max(self._height(row, c, widths[c]) for c in Column) + unit * 2)

    def _height(self, row: int, column: int, width: int) -> float:
        wide = self._text_width(column, width)
        text = self.model.text(row, column) or "x"
        high = self._wrapped(Role.TEXT, text, wide)
        plain = self.model.plain(row, column)
        return high + self._wrapped(Role.QUIET, plain, wide) if plain else high

    def _wrapped(self, role: Role, text: str, wide: float) -> float:
        """How high a text is where it wraps; measured once."""
        key = (role.name, text, wide)
        found = self._heights.get(key)
        if found is None:
            if len(self._heights) >= MOST_KEPT:
                self._heights.clear()
            box = QRectF(0, 0, wide, 10000)
            found = self.brushes.metrics(role).boundingRect(box, WRAP, text).height()
            self._heights[key] = found
        return found

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one cell."""
        b, unit, rect = self.brushes, self.brushes.unit, QRectF(option.rect)
        state = option.state
        if state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, b.look.hover)
        painter.setPen(b.hairline)
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        column = index.column()
        left = 0
        if column == Column.REMEDY:
            left = unit * 5
            place = index.data(PLACE)
            if place >= 0:
                spot = QRectF(rect.left(), rect.top() + unit, unit * 3.5, b.look.line)
                draw_letter(painter, b, spot, place)
        room = QRectF(
            rect.left() + left,
            rect.top() + unit,
            self._text_width(column, rect.width()),
            rect.height() - unit,
        )
        self._kept_texts(painter, room, index)
        if state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(b.focus)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(rect.adjusted(1, 1, -2, -2))

    def _kept_texts(self, painter: QPainter, room: QRectF, index: Index) -> None:
        """Draw a cell's texts, from the picture that is kept of them where there is one."""
        seen = (index.data(), index.data(PLAIN), index.data(WRONG))
        ratio = painter.device().devicePixelRatioF()
        size = (round(room.width()), round(room.height()))
        key = (*seen, index.column() == Column.UNTIL, *size, ratio)
        found = self._pictures.get(key)
        if found is None:
            if len(self._pictures) >= MOST_KEPT:
                self._pictures.clear()
            found = self._pictures[key] = QPixmap(QSize(*size) * ratio)
            found.setDevicePixelRatio(ratio)
            found.fill(Qt.GlobalColor.transparent)
            inner = QPainter(found)
            self._texts(inner, QRectF(0, 0, *size), index)
            inner.end()
        painter.drawPixmap(room.topLeft(), found)

    def _texts(self, painter: QPainter, room: QRectF, index: Index) -> None:
        b = self.brushes
        text, plain, wrong = index.data(), index.data(PLAIN), index.data(WRONG)
        painter.setFont(b.font(Role.TEXT))
        painter.setPen(b.quiet if index.column() == Column.UNTIL else b.ink)
        painter.drawText(room, WRAP, text)
        if wrong is not None:
            self._wave(painter, room, text, wrong)
        if plain:
            high = self._wrapped(Role.TEXT, text or "x", room.width())
            painter.setFont(b.font(Role.QUIET))
            painter.setPen(QPen(b.look.alarm) if wrong else b.quiet)
            painter.drawText(room.adjusted(0, high, 0, 0), WRAP, plain)

    def _wave(self, painter: QPainter, room: QRectF, text: str, wrong: tuple[int, int]) -> None:
        """Underline what is wrong where it is (on the first line of the text)."""
        metrics = self.brushes.metrics(Role.TEXT)
        start, end = wrong
        left = room.left() + metrics.horizontalAdvance(text[:start])
        right = left + max(metrics.horizontalAdvance(text[start:end]), self.brushes.unit * 2.0)
        y = room.top() + metrics.ascent() + 3
        painter.setPen(QPen(self.brushes.look.alarm, 1.5, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(left, y), QPointF(min(right, room.right()), y))

    # Editing

    def createEditor(  # noqa: N802 - Qt's name
        self, parent: QWidget, _option: QStyleOptionViewItem, index: Index
    ) -> QWidget:
        """A choice of remedies, or a field that reads directions."""
        if index.column() == Column.REMEDY:
            return self._choice(parent, index)
        column = index.column()
        edit = DirectionsEdit(
            lambda text: self.model.explain(text, column), self.brushes.look, parent
        )
        edit.setAccessibleName(str(self.model.headerData(column, Qt.Orientation.Horizontal)))
        edit.explained.connect(self.explained)
        edit.entered.connect(lambda: self._done(edit))
        return edit

    def _done(self, edit: QWidget) -> None:
        self.commitData.emit(edit)
        self.closeEditor.emit(edit, QStyledItemDelegate.EndEditHint.NoHint)

    def _choice(self, parent: QWidget, index: Index) -> QComboBox:
        box = QComboBox(parent)
        now = self.model.remedy_at(index.row())
        remedies = (*((now,) if now else ()), *self.model.free_remedies())
        for remedy in dict.fromkeys(remedies):
            box.addItem(remedy.name, remedy)
        box.setAccessibleName(self.tr("Remedy"))
        box.activated.connect(lambda _n: self._done(box))
        return box

    def setEditorData(self, editor: QWidget, index: Index) -> None:  # noqa: N802 - Qt's name
        """Begin with what is there."""
        if isinstance(editor, DirectionsEdit):
            editor.setText(str(index.data(Qt.ItemDataRole.EditRole)))
            editor.selectAll()

    def setModelData(  # noqa: N802 - Qt's name
        self, editor: QWidget, model: QAbstractItemModel, index: Index
    ) -> None:
        """Hand over what was typed or chosen."""
        if isinstance(editor, QComboBox):
            chosen: Remedy = editor.currentData()
            model.setData(index, chosen)
        elif isinstance(editor, DirectionsEdit):
            model.setData(index, editor.text())

    def updateEditorGeometry(  # noqa: N802 - Qt's name
        self, editor: QWidget, option: QStyleOptionViewItem, _index: Index
    ) -> None:
        """Over the text; the plain words beneath stay in view."""
        rect = option.rect
        high = min(rect.height(), self.brushes.look.line + self.brushes.unit * 3)
        editor.setGeometry(rect.x(), rect.y(), rect.width(), high)

    def destroyEditor(self, editor: QWidget, index: Index) -> None:  # noqa: N802 - Qt's name
        """Nothing is being typed any more."""
        super().destroyEditor(editor, index)
        self.explained.emit("", False)  # noqa: FBT003 - a signal takes no names


class LinesView(QTableView):
    """The lines; Enter begins one, Delete removes one, typing changes the cell in hand."""

    def __init__(self, model: LinesModel, look: Look) -> None:
        super().__init__()
        self.lines = model
        self.setModel(model)
        self.delegate = LineDelegate(Brushes(look), model, self)
        self.setItemDelegate(self.delegate)
        self._arrange()
        self.setAccessibleName(self.tr("Lines of the phase"))
        model.modelReset.connect(self._kept)
        model.rowsInserted.connect(self.fit)
        model.rowsRemoved.connect(self.fit)
        model.dataChanged.connect(self.fit)
        self._place = (0, int(Column.TAKE))
        self.selectionModel().currentChanged.connect(self._remember)

    def _arrange(self) -> None:
        self.setShowGrid(False)
        self.setMouseTracking(True)
        self.setTabKeyNavigation(False)
        self.setWordWrap(True)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        triggers = QAbstractItemView.EditTrigger
        self.setEditTriggers(
            triggers.AnyKeyPressed | triggers.DoubleClicked | triggers.EditKeyPressed
        )
        self.verticalHeader().hide()
        header = self.horizontalHeader()
        header.setProperty("kind", "flush")
        header.setDefaultAlignment(LEFT)
        header.setHighlightSections(False)
        header.setSectionsClickable(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)

    def set_look(self, look: Look) -> None:
        """Draw with another look."""
        self.delegate.set_brushes(Brushes(look))
        self.fit()

    def fit(self) -> None:
        """Columns by their shares, rows as high as their words."""
        brushes = self.delegate.brushes
        until = round(
            brushes.metrics(Role.TEXT).horizontalAdvance("30 Sep 2027") + brushes.unit * 4
        )
        width = max(0, self.viewport().width() - until)
        has_steps = any(line.steps for line in self.lines.lines)
        shares = SHARES if has_steps else WITHOUT_STEPS
        widths = [*(width * share // sum(shares) for share in shares), until]
        wanted = min(self.delegate.word_width(), width // 2) - widths[Column.REMEDY]
        if wanted > 0:
            widths[Column.REMEDY] += wanted
            widths[Column.TAKE] -= wanted
        for column, wide in enumerate(widths):
            self.setColumnWidth(column, wide)
        for row in range(self.lines.rowCount()):
            self.setRowHeight(row, self.delegate.height(row, widths))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Fit columns and rows."""
        super().resizeEvent(event)
        self.fit()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Some three lines."""
        return QSize(600, self.delegate.brushes.look.line * 9)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """A line with its words, at least."""
        return QSize(200, self.delegate.brushes.look.line * 3)

    def _remember(self, now: Index) -> None:
        if now.isValid():
            self._place = (now.row(), now.column())

    def _kept(self) -> None:
        """After an edit, the keyboard stays where it was."""
        self.fit()
        row = min(self._place[0], self.lines.rowCount() - 1)
        if row >= 0:
            self.setCurrentIndex(self.lines.index(row, self._place[1]))

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """The keyboard comes to the directions first, since these are changed most."""
        if not self.currentIndex().isValid():
            self.setCurrentIndex(self.lines.index(*self._place))
        super().focusInEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Enter and Delete act on lines; digits and letters edit the cell."""
        key = event.key()
        if self.state() is QAbstractItemView.State.EditingState:
            return  # the Enter that ends an edit comes through here as well
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.begin_line()
        elif key == Qt.Key.Key_Delete or (key == Qt.Key.Key_Escape and self._on_new_line()):
            self.remove_line()
        else:
            super().keyPressEvent(event)

    def _on_new_line(self) -> bool:
        return self.currentIndex().row() >= len(self.lines.lines)

    def begin_line(self) -> None:
        """Begin a line and type its directions."""
        if self.lines.begin_line():
            index = self.lines.index(self.lines.rowCount() - 1, Column.TAKE)
            self.setCurrentIndex(index)
            self.scrollTo(index)
            self.edit(index)

    def remove_line(self) -> None:
        """Remove the line in hand."""
        if self.currentIndex().isValid():
            self.lines.remove(self.currentIndex().row())
