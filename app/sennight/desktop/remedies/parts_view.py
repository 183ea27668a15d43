"""The table of a formula's herbs: typed in place, herbs found by any of their names."""

from __future__ import annotations

from PySide6.QtCore import (
    QAbstractItemModel,
    QObject,
    QPointF,
    QRectF,
    QSize,
    Qt,
    QTimer,
)
from PySide6.QtGui import QKeyEvent, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QLineEdit,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.column_widths import shared_out
from sennight.desktop.kit.drafts import as_list, leaving_out_what_cannot_be_read
from sennight.desktop.kit.grid_model import Index
from sennight.desktop.kit.name_field import FROM_NAME, NameField
from sennight.desktop.kit.tables import HEAD_EDGE, LEFT, KeptPlace, arrange_rows, text_being_typed
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.remedies.columns import Part
from sennight.desktop.remedies.parts_model import WRONG, PartsModel
from sennight.domain.herbs.herbs import Herb
from sennight.domain.remedies.form_facts import filling_name
from sennight.practice.drafts import Json

WIDTHS: dict[Part, int] = {
    Part.HERB: 9,
    Part.PARTS: 4,
    Part.RATIO: 4,
    Part.ETHANOL: 3,
    Part.MG: 4,
    Part.PERCENT: 5,
    Part.DROPS: 4,
    Part.FILLING: 5,
    Part.SHARE: 6,
}
"""How the columns share the width."""


def herb_label(herb: Herb) -> str:
    """A herb in a list to choose from: all the names that it can be found by."""
    names = ", ".join((herb.latin, *herb.other_names))
    return f"{herb.name}{FROM_NAME}{names}"


class HerbField(NameField):
    """Finds a herb by any of its names as it is typed; what is taken is its English name."""

    def __init__(self, herbs: tuple[Herb, ...], parent: QWidget | None = None) -> None:
        super().__init__([herb_label(herb) for herb in herbs], parent)
        self.widen(60)

    def taken(self) -> str:
        """The name of the herb that was found, else what was typed."""
        return (self.matching_label() or self.typed).partition(FROM_NAME)[0]


class PartDelegate(QStyledItemDelegate):
    """Draws a cell, underlined where it is wrong, and edits it."""

    def __init__(self, theme: Theme, model: PartsModel, parent: QObject) -> None:
        super().__init__(parent)
        self.brushes, self.model = Brushes(theme), model

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw one cell."""
        b, unit, rect = self.brushes, self.brushes.unit, QRectF(option.rect)
        state = option.state
        if state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, b.theme.selection)
        elif state & QStyle.StateFlag.State_MouseOver:
            painter.fillRect(rect, b.theme.hover)
        painter.setPen(b.hairline)
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        room = rect.adjusted(unit * 2 + HEAD_EDGE, 0, -unit, 0)
        self._text(painter, room, index)
        if state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(b.focus)
            painter.drawRect(rect.adjusted(1, 1, -2, -2))

    def _text(self, painter: QPainter, room: QRectF, index: Index) -> None:
        b, part = self.brushes, self.model.parts[index.column()]
        is_new = self.model.is_new(index.row())
        strong = part is Part.HERB and not is_new
        role = Role.STRONG if strong else Role.TEXT
        wrong = bool(index.data(WRONG))
        painter.setFont(b.font(role))
        quiet = is_new or part is Part.SHARE
        painter.setPen(QPen(b.theme.alarm) if wrong else b.quiet if quiet else b.ink)
        metrics = b.metrics(role)
        text = metrics.elidedText(
            str(index.data() or ""), Qt.TextElideMode.ElideRight, room.width()
        )
        painter.drawText(room, LEFT, text)
        if wrong:
            y = room.center().y() + metrics.ascent() / 2 + 2
            right = room.left() + max(metrics.horizontalAdvance(text), b.unit * 2.0)
            painter.setPen(QPen(b.theme.alarm, 1.5, Qt.PenStyle.DotLine))
            painter.drawLine(QPointF(room.left(), y), QPointF(right, y))

    # Editing

    def createEditor(
        self, parent: QWidget, _option: QStyleOptionViewItem, index: Index
    ) -> QWidget:
        """A field that finds herbs, a choice of fillings, or a plain field."""
        part = self.model.parts[index.column()]
        if part is Part.FILLING:
            box = QComboBox(parent)
            fillings = self.model.remedy.form.facts.fillings
            box.addItems([filling_name(filling) for filling in fillings])
            box.activated.connect(lambda _n: self._done(box))
            editor: QWidget = box
        elif part is Part.HERB:
            editor = HerbField(tuple(self.model.herbs.values()), parent)
        else:
            editor = QLineEdit(parent)
        editor.setAccessibleName(self.model.heading(part))
        return editor

    def _done(self, edit: QWidget) -> None:
        self.commitData.emit(edit)
        self.closeEditor.emit(edit, QStyledItemDelegate.EndEditHint.NoHint)

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Begin with what is there; what is being typed stays when another cell changes."""
        if isinstance(editor, QLineEdit) and editor.isModified():
            return
        text = str(index.data(Qt.ItemDataRole.EditRole))
        if isinstance(editor, QComboBox):
            editor.setCurrentText(text)
        elif isinstance(editor, QLineEdit):
            editor.setText(text)
            editor.selectAll()

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        """Hand over what was typed or chosen."""
        if isinstance(editor, HerbField):
            model.setData(index, editor.taken())
        elif isinstance(editor, QComboBox):
            model.setData(index, editor.currentText())
        elif isinstance(editor, QLineEdit):
            model.setData(index, editor.text())


class PartsView(QTableView):
    """The herbs; Enter goes to the empty row, Delete takes one out, Alt and arrows move it."""

    def __init__(self, model: PartsModel, theme: Theme) -> None:
        super().__init__()
        self.parts = model
        self.drawer = PartDelegate(theme, model, self)
        self.setModel(model)
        self.setItemDelegate(self.drawer)
        self.setAccessibleName(self.tr("Herbs of the formula"))
        self._arrange()
        model.modelReset.connect(self._kept)
        model.rowsInserted.connect(self.fit)
        model.rowsRemoved.connect(self.fit)
        self._place = KeptPlace(self)
        self._begun: int | None = None
        self.clicked.connect(lambda index: self._begin_in(index.row()))

    def _arrange(self) -> None:
        arrange_rows(self)
        triggers = QAbstractItemView.EditTrigger
        self.setEditTriggers(
            triggers.AnyKeyPressed
            | triggers.DoubleClicked
            | triggers.EditKeyPressed
            | triggers.SelectedClicked
        )

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.drawer.brushes = Brushes(theme)
        self.fit()

    @property
    def _row_height(self) -> int:
        brushes = self.drawer.brushes
        return round(brushes.line + brushes.unit * 4)

    def fit(self) -> None:
        """Columns by their shares, rows as high as their words; all rows in view."""
        self.verticalHeader().setDefaultSectionSize(self._row_height)
        shares = [WIDTHS[part] for part in self.parts.parts]
        wanted = [self._wanted(column) for column in range(len(shares))]
        for column, wide in enumerate(shared_out(self.viewport().width(), shares, wanted)):
            self.setColumnWidth(column, wide)
        self.updateGeometry()

    def _wanted(self, column: int) -> int:
        """How wide a column is with its heading and its texts whole."""
        brushes, part = self.drawer.brushes, self.parts.parts[column]
        measure = brushes.metrics(Role.STRONG).horizontalAdvance
        texts = (self.parts.text(row, part) for row in range(self.parts.rowCount()))
        widest = max(measure(self.parts.heading(part)), *map(measure, texts))
        return round(widest + brushes.unit * 3 + HEAD_EDGE * 2)

    def sizeHint(self) -> QSize:
        """All rows, up to a dozen."""
        rows = min(max(self.parts.rowCount(), 2), 12)
        head = self.horizontalHeader().sizeHint().height()
        return QSize(300, self._row_height * rows + head + 4)

    def minimumSizeHint(self) -> QSize:
        """Two rows at least."""
        head = self.horizontalHeader().sizeHint().height()
        rows = min(max(self.parts.rowCount(), 2), 7)
        return QSize(200, self._row_height * rows + head + 4)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the columns."""
        super().resizeEvent(event)
        self.fit()

    def _kept(self) -> None:
        """After an edit, the keyboard stays where it was."""
        self.fit()
        self._place.go_back()

    # What is typed and not taken, kept on disk

    def draft_value(self) -> Json:
        """Row, column and text of what cannot be taken, and of the cell that is open."""
        cells = self.parts.drafts
        if typed := text_being_typed(self):
            (row, column), text = typed
            part = self.parts.parts[column]
            if text != self.parts.text(row, part, typing=True):
                cells[row, part] = text
        return [[row, str(part), text] for (row, part), text in cells.items()]

    def put_draft_value(self, value: Json) -> None:
        """Hold such texts again; they stay drafts until they are entered."""
        cells: dict[tuple[int, Part], str] = {}
        with leaving_out_what_cannot_be_read():
            for entry in as_list(value):
                row, part, text = map(str, as_list(entry))
                cells[int(row), Part(part)] = text
        self.parts.put_drafts(cells)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter, Delete and Alt with arrows act on rows; digits and letters edit the cell."""
        if self.state() is QAbstractItemView.State.EditingState:
            return  # the Enter that ends an edit comes through here as well
        key, row = event.key(), self.currentIndex().row()
        alt = event.modifiers() & Qt.KeyboardModifier.AltModifier
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.begin()
        elif key == Qt.Key.Key_Delete and row >= 0:
            self.parts.remove(row)
        elif alt and key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            column = self.currentIndex().column()
            there = self.parts.move(row, 1 if key == Qt.Key.Key_Down else -1)
            self.setCurrentIndex(self.parts.index(there, column))
        else:
            super().keyPressEvent(event)

    def closeEditor(self, editor: QWidget, hint: QStyledItemDelegate.EndEditHint) -> None:
        """Once a herb was entered into the empty row, go on to the next one."""
        entered = self._begun is not None and not self.parts.is_new(self._begun)
        self._begun = None
        super().closeEditor(editor, hint)
        if entered and hint is QStyledItemDelegate.EndEditHint.SubmitModelCache:
            QTimer.singleShot(0, self, self.begin)  # once the old editor is gone

    def _begin_in(self, row: int) -> None:
        """A click on the empty row, which says “Add a herb”, begins one."""
        if self.parts.is_new(row) and self.state() is not QAbstractItemView.State.EditingState:
            self.begin()

    def begin(self) -> None:
        """Type a herb into the empty row."""
        index = self.parts.index(self.parts.rowCount() - 1, 0)
        self._begun = index.row()
        self.setCurrentIndex(index)
        self.scrollTo(index)
        self.edit(index)
