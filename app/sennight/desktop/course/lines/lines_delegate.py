"""Draws and edits a cell of the lines: what is typed, and its plain words beneath."""

from __future__ import annotations

from PySide6.QtCore import QAbstractItemModel, QEvent, QObject, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from sennight.desktop.course.lines.line_cells import READERS, Column, LineCell
from sennight.desktop.course.lines.lines_model import LinesModel
from sennight.desktop.course.lines.remedy_field import RemedyField
from sennight.desktop.kit.brushes import Brushes, draw_letter
from sennight.desktop.kit.grid_model import Index
from sennight.desktop.kit.icons import form_mark
from sennight.desktop.kit.kept_pictures import KeptPictures
from sennight.desktop.kit.theme import Role
from sennight.desktop.parts.directions_edit import DirectionsEdit
from sennight.domain.remedies.forms import Form

WRAP = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap
ONE_LINE = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextSingleLine
NAME_FROM = 9.0
"""In units: where a remedy's name begins, behind its letter and the drawing of its form."""

MOST_KEPT = 400
"""So many measures and pictures of texts are kept."""


class LineDelegate(QStyledItemDelegate):
    """Draws a cell's text with its plain words beneath, and edits it."""

    explained = Signal(str, bool)
    asked = Signal(object)
    named = Signal(int)

    def __init__(self, brushes: Brushes, model: LinesModel, parent: QObject) -> None:
        super().__init__(parent)
        self.model = model
        self.hovered, self.is_tight = -1, False
        self._heights: dict[tuple[str, str, float], float] = {}
        self._pictures = KeptPictures(MOST_KEPT)
        self.set_brushes(brushes)

    def set_brushes(self, brushes: Brushes) -> None:
        """Draw with another look."""
        self.brushes = brushes
        self._heights.clear()
        self._pictures.clear()

    def _text_width(self, column: int, width: float) -> float:
        left = NAME_FROM if column == Column.REMEDY else 0.0
        return width - self.brushes.unit * (left + 2.0)

    def word_width(self) -> int:
        """How wide the column of remedies is so that it cuts no word of their names."""
        measure = self.brushes.metrics(Role.TEXT).horizontalAdvance
        names = (remedy.name for remedy in self.model.session.course.remedies)
        longest = max((measure(word) for name in names for word in name.split()), default=0.0)
        return round(longest + self.brushes.unit * (NAME_FROM + 2.5))

    def height(self, row: int, widths: list[int]) -> int:
        """How high a row is, so that no word is cut; a column without width asks for nothing."""
        cells = ((n, cell) for n, cell in enumerate(self.model.cells(row)) if widths[n] > 0)
        high = max(self._height(cell, n, widths[n]) for n, cell in cells)
        return round(high + self.brushes.unit * 0.5)

    def _height(self, cell: LineCell, column: int, width: int) -> float:
        wide = self._text_width(column, width)
        text, plain, wrong = cell
        if plain and self.is_tight and column in READERS and wrong is None:
            return self._wrapped(Role.TEXT, text or "x", wide) + self._one_line()
        high = self._wrapped(Role.TEXT, text or "x", wide)
        return high + self._wrapped(Role.QUIET, plain, wide) if plain else high

    def _one_line(self) -> float:
        """The height of plain words that are cut to one line; the tip has them whole."""
        return self.brushes.metrics(Role.QUIET).height()

    def _wrapped(self, role: Role, text: str, wide: float) -> float:
        """How high a text is where it wraps; measured once."""
        key = (role.name, text, wide)
        height = self._heights.get(key)
        if height is None:
            if len(self._heights) >= MOST_KEPT:
                self._heights.clear()
            box = QRectF(0, 0, wide, 10000)
            height = self.brushes.metrics(role).boundingRect(box, WRAP, text).height()
            self._heights[key] = height
        return height

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one cell."""
        b, rect = self.brushes, QRectF(option.rect)
        state, row, column = option.state, index.row(), index.column()
        if state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, b.theme.selection)
        elif row == self.hovered:
            painter.fillRect(rect, b.theme.hover)
        painter.setPen(b.hairline)
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        remedy = self.model.remedy_at(row) if column == Column.REMEDY else None
        mark = (self.model.place(row), remedy.form) if remedy is not None else None
        cell = self.model.cell(row, column)
        if cell.text or cell.plain or mark:
            self._pictures.draw(
                painter,
                rect,
                (cell, column, self.is_tight, mark),
                lambda inner, room: self._words_and_mark(inner, room, cell, column, mark),
            )
        if state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(b.focus)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(rect.adjusted(1, 1, -1, -2))

    def _words_and_mark(
        self,
        painter: QPainter,
        rect: QRectF,
        cell: LineCell,
        column: int,
        mark: tuple[int, Form] | None,
    ) -> None:
        """All that a cell says, without what depends on the pointer and the keyboard."""
        if mark is not None:
            self._remedy_mark(painter, rect, *mark)
        left = self.brushes.unit * NAME_FROM if column == Column.REMEDY else 0.0
        room = rect.adjusted(left, self.brushes.unit * 0.2, 0, 0)
        room.setWidth(self._text_width(column, rect.width()))
        self._texts(painter, room, cell, is_quiet=column == Column.UNTIL)

    def _remedy_mark(self, painter: QPainter, rect: QRectF, place: int, form: Form) -> None:
        """The letter of a line's remedy, and the drawing of its form."""
        b, unit = self.brushes, self.brushes.unit
        spot = QRectF(rect.left() + unit * 0.4, rect.top() + unit * 0.3, unit * 3.6, b.theme.line)
        if place >= 0:
            draw_letter(painter, b, spot, place)
        side = round(b.theme.line * 0.9)
        drawn = form_mark(form, b.theme.slate.name(), side)
        painter.drawPixmap(QPointF(round(spot.right() + unit * 0.8), round(spot.top())), drawn)

    def _texts(self, painter: QPainter, room: QRectF, cell: LineCell, *, is_quiet: bool) -> None:
        b = self.brushes
        text, plain, wrong = cell
        painter.setFont(b.font(Role.TEXT))
        painter.setPen(b.quiet if is_quiet else b.ink)
        painter.drawText(room, WRAP, text)  # a dose is never cut
        if wrong is not None:
            self._wave(painter, room, text, wrong)
        if plain:
            high = self._wrapped(Role.TEXT, text or "x", room.width())
            painter.setFont(b.font(Role.QUIET))
            painter.setPen(QPen(b.theme.alarm) if wrong else b.quiet)
            if self.is_tight and not wrong:
                plain = b.metrics(Role.QUIET).elidedText(
                    plain, Qt.TextElideMode.ElideRight, room.width()
                )
            flags = ONE_LINE if self.is_tight and not wrong else WRAP
            painter.drawText(room.adjusted(0, high, 0, 0), flags, plain)

    def _wave(self, painter: QPainter, room: QRectF, text: str, wrong: tuple[int, int]) -> None:
        """Underline what is wrong where it is (on the first line of the text)."""
        metrics = self.brushes.metrics(Role.TEXT)
        start, end = wrong
        left = room.left() + metrics.horizontalAdvance(text[:start])
        right = left + max(metrics.horizontalAdvance(text[start:end]), self.brushes.unit * 2.0)
        y = room.top() + metrics.ascent() + 3
        painter.setPen(QPen(self.brushes.theme.alarm, 1.5, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(left, y), QPointF(min(right, room.right()), y))

    # Editing

    def createEditor(
        self, parent: QWidget, _option: QStyleOptionViewItem, index: Index
    ) -> QWidget:
        """A field that finds a remedy, or one that reads directions."""
        if index.column() == Column.REMEDY:
            return self._remedy_field(parent, index.row())
        column = index.column()
        edit = DirectionsEdit(
            lambda text: self.model.explain(text, column),
            self.brushes.theme,
            parent,
            read=READERS[column],
        )
        edit.asked.connect(self.asked)
        edit.setAccessibleName(str(self.model.headerData(column, Qt.Orientation.Horizontal)))
        edit.explained.connect(self.explained)
        edit.entered.connect(lambda: self._done(edit))
        return edit

    def _done(self, edit: QWidget) -> None:
        self.commitData.emit(edit)
        self.closeEditor.emit(edit, QStyledItemDelegate.EndEditHint.NoHint)

    def _remedy_field(self, parent: QWidget, row: int) -> RemedyField:
        now = self.model.remedy_at(row)
        remedies = (*((now,) if now else ()), *self.model.free_remedies())
        field = RemedyField(tuple(dict.fromkeys(remedies)), parent)
        field.explained.connect(self.explained)
        field.entered.connect(lambda: self._named(field, row))
        return field

    def _named(self, field: RemedyField, row: int) -> None:
        """Take the remedy that was found and tell its row; else say why there is none."""
        if field.remedy() is None:
            self.explained.emit(field.problem(), True)  # noqa: FBT003 - a signal takes no names
            return
        field.popup.hide()
        self._done(field)
        self.named.emit(row)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Enter and Tab in the field for a remedy go on only where one was found."""
        if isinstance(watched, RemedyField) and isinstance(event, QKeyEvent):
            is_press = event.type() == QEvent.Type.KeyPress
            if is_press and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Tab):
                watched.entered.emit()
                return True
        return super().eventFilter(watched, event)

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Begin with what is there; a new line has no remedy yet."""
        if isinstance(editor, RemedyField) and index.row() >= len(self.model.lines):
            return
        if isinstance(editor, DirectionsEdit | RemedyField):
            editor.setText(str(index.data(Qt.ItemDataRole.EditRole)))
            editor.selectAll()

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        """Hand over what was typed or chosen."""
        if isinstance(editor, RemedyField):
            model.setData(index, editor.remedy())
        elif isinstance(editor, DirectionsEdit):
            model.setData(index, editor.text())

    def updateEditorGeometry(
        self, editor: QWidget, option: QStyleOptionViewItem, _index: Index
    ) -> None:
        """Over the text; the plain words beneath stay in view."""
        rect = option.rect
        high = min(rect.height(), self.brushes.theme.line + self.brushes.unit * 3)
        editor.setGeometry(rect.x(), rect.y(), rect.width(), high)

    def destroyEditor(self, editor: QWidget, index: Index) -> None:
        """Nothing is being typed any more."""
        super().destroyEditor(editor, index)
        self.asked.emit(None)
        self.explained.emit("", False)  # noqa: FBT003 - a signal takes no names
