"""The table of Bench: days as headings, beneath each what wants attention on it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from PySide6.QtCore import QEvent, QModelIndex, QObject, QPoint, QSize, Qt, Signal
from PySide6.QtGui import QColor, QContextMenuEvent, QFontMetrics, QIcon, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QAbstractItemView

from sennight.desktop.bench.words import act_words, group_words, spoken, what_words, when_words
from sennight.desktop.kit.grid_model import GridModel, Index
from sennight.desktop.kit.icons import mark
from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.tables import RowTable, arrange_rows
from sennight.desktop.kit.theme import Role, Theme
from sennight.practice.bench import NOTHING, Item, Items, Matter

MARK, CLIENT, WHAT, COURSE, WHEN, ACT, DONE, LATER = range(8)
MEASURED = 100
"""So many items, those that are seen first, say how wide a column wants to be."""
MOST = {CLIENT: 0.4, WHAT: 0.5, COURSE: 0.25}
"""No more of the width than this goes to one of them, however long a name is."""
LEFT_OUT = (COURSE, ACT, WHEN)
"""What is left out where not all texts have room, the first first: all of it is in the tip."""
SPARE = {CLIENT: 2, WHAT: 3, COURSE: 2}
"""How what is left over is shared out."""
GAPS = 8
"""Pixels that a cell of a table leaves around its text, whatever the size of text."""
URGENT = frozenset({Matter.RED_FLAG})
WATCHED = frozenset({Matter.FINDING, Matter.FLARE, Matter.ORDER, Matter.DIARY, Matter.REVIEW})
_ROLES = Qt.ItemDataRole

Line = int | str
"""The place of an item, or the heading over those of a day."""


def lines_of(items: Items, today: date) -> Iterator[Line]:
    """The items with a heading over those of each day; all that is overdue has one."""
    before = ""
    for due, first, end in items.days():
        heading = group_words(due, today)
        if heading != before:
            yield heading
        before = heading
        yield from range(first, end)


class BenchModel(GridModel):
    """The lines of Bench; texts are made as rows come into view."""

    def __init__(self, theme: Theme, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.items, self.lines = NOTHING, tuple[Line, ...]()
        self.theme, self._today = theme, date.min
        self._marks: dict[tuple[Matter, str], QIcon] = {}

    def show_items(self, items: Items, today: date) -> None:
        """Show these items."""
        self.beginResetModel()
        self.items, self.lines, self._today = items, tuple(lines_of(items, today)), today
        self.endResetModel()

    def item(self, row: int) -> Item | None:
        """The item of a row; None for a heading or no row."""
        line = self.lines[row] if 0 <= row < len(self.lines) else ""
        return None if isinstance(line, str) else self.items[line]

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another theme."""
        self.theme, self._marks = theme, {}

    def row_count(self) -> int:
        """How many lines."""
        return len(self.lines)

    def column_count(self) -> int:
        """How many columns."""
        return LATER + 1

    def column_heading(self, column: int, role: int) -> object:
        """What stands over a column."""
        named = {CLIENT: self.tr("Client"), WHAT: self.tr("Task"), COURSE: self.tr("Course")}
        return named.get(column, "") if role == _ROLES.DisplayRole else None

    def word(self, column: int) -> str:
        """What the last columns say."""
        return self.tr("Done") if column == DONE else self.tr("Later…")

    def words(self, column: int) -> tuple[str, ...]:
        """All that a column says that does something."""
        if column == ACT:
            return tuple(act_words(matter) for matter in Matter)
        return (self.word(column),)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """A heading can neither be chosen nor opened."""
        if isinstance(self.lines[index.row()], str):
            return Qt.ItemFlag.ItemIsEnabled
        return super().flags(index)

    def data(self, index: Index, role: int = _ROLES.DisplayRole) -> object:
        """What a cell shows."""
        if not index.isValid():
            return None
        line, column = self.lines[index.row()], index.column()
        if isinstance(line, str):
            return self._heading(line, column, role)
        return self._cell(self.items[line], column, role)

    def _heading(self, line: str, column: int, role: int) -> object:
        if column != MARK:
            return None
        if role == _ROLES.DisplayRole:
            return line
        if role == _ROLES.FontRole:
            return self.theme.font(Role.STRONG)
        if role == _ROLES.ForegroundRole:
            return self.theme.ink
        if role == _ROLES.TextAlignmentRole:
            return int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom)
        return None

    def _cell(self, item: Item, column: int, role: int) -> object:
        if role == _ROLES.DisplayRole:
            return self.text(item, column)
        if role == _ROLES.DecorationRole and column == MARK:
            return self._mark(item)
        if role == _ROLES.FontRole and column == CLIENT:
            return self.theme.font(Role.STRONG)
        if role == _ROLES.ForegroundRole:
            return self._colour(item, column)
        if role == _ROLES.ToolTipRole:
            return plain_tip(spoken(item, self._today))
        if role == _ROLES.AccessibleTextRole and column in (MARK, CLIENT):
            return spoken(item, self._today)
        return None

    def text(self, item: Item, column: int) -> str:
        """What a cell of an item says."""
        if column in (DONE, LATER):
            return self.word(column)
        texts = {
            CLIENT: lambda: item.client,
            WHAT: lambda: what_words(item),
            COURSE: lambda: item.course,
            WHEN: lambda: when_words(item, self._today),
            ACT: lambda: act_words(item.matter),
        }
        return texts[column]() if column in texts else ""

    def _colour(self, item: Item, column: int) -> QColor:
        if column in (ACT, DONE, LATER):
            return self.theme.accent
        if column == WHAT and item.matter in URGENT:
            return self.theme.alarm
        if column == WHEN and item.due < self._today:
            return self.theme.alarm
        return self.theme.slate if column in (COURSE, WHEN) else self.theme.ink

    def _mark(self, item: Item) -> QIcon:
        theme = self.theme
        late = item.due < self._today
        colour = theme.alarm if late or item.matter in URGENT else theme.slate
        if item.matter in WATCHED and colour is theme.slate:
            colour = theme.ink
        key = item.matter, colour.name()
        if key not in self._marks:
            drawn = f"matter-{item.matter.value.replace(' ', '-')}"
            pixmap = mark(drawn, colour, theme.line)
            icon = QIcon(pixmap)
            icon.addPixmap(pixmap, QIcon.Mode.Selected)  # Qt would pale it
            self._marks[key] = icon
        return self._marks[key]


class BenchView(RowTable):
    """Shows the lines; Enter or a click opens one, as its verb says; the last two columns do too.

    `menu_wanted` asks for the menu of a row, at a place on the screen.
    """

    opened = Signal(int)
    done = Signal(int)
    later = Signal(int, QPoint)
    menu_wanted = Signal(int, QPoint)

    def __init__(self, model: BenchModel) -> None:
        super().__init__()
        self._lines = model
        self._heads: set[int] = set()
        self.setModel(model)
        arrange_rows(self)
        self.setWordWrap(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.horizontalHeader().hide()
        model.modelReset.connect(self._lay_out_rows)

    # Layout

    def _lay_out_rows(self) -> None:
        """Headings across the whole width, with room over them."""
        height = self.fontMetrics().height()
        side = self._lines.theme.line
        self.setIconSize(QSize(side, side))
        self.verticalHeader().setDefaultSectionSize(height * 2)
        for row in self._heads:  # a row keeps its height, also when it is another's
            self.setRowHeight(row, height * 2)
        self._heads.clear()
        self.clearSpans()
        for row, line in enumerate(self._lines.lines):
            if isinstance(line, str):
                self.setSpan(row, 0, 1, LATER + 1)
                self.setRowHeight(row, height * 7 // 5 if row == 0 else height * 3)
                self._heads.add(row)
        self._share_width()

    def changeEvent(self, event: QEvent) -> None:
        """Follow the size of text."""
        super().changeEvent(event)
        if event.type() in {QEvent.Type.FontChange, QEvent.Type.StyleChange}:
            self._lay_out_rows()
            self._share_width()

    def resizeEvent(self, event: object) -> None:
        """Share the width out among the columns."""
        super().resizeEvent(event)  # type: ignore[arg-type]
        self._share_width()

    def _share_width(self) -> None:
        """Names and tasks have what they want; the rest where there is room for it."""
        whole, wanted = self.viewport().width(), self._wanted(self.viewport().width())
        for column in LEFT_OUT:
            if sum(wanted.values()) > whole:
                del wanted[column]
        short = sum(wanted.values()) - whole
        if short > 0:
            wanted[WHAT] = max(wanted[WHAT] - short, wanted[CLIENT])
        spare = max(0, whole - sum(wanted.values()))
        parts = {column: part for column, part in SPARE.items() if column in wanted}
        for column in range(LATER + 1):
            self.setColumnHidden(column, column not in wanted)
            more = spare * parts.get(column, 0) // sum(parts.values())
            self.setColumnWidth(column, wanted.get(column, 0) + more)

    def _wanted(self, whole: int) -> dict[int, int]:
        """How wide each column would be, in pixels, of so many in all."""
        theme, items = self._lines.theme, self._lines.items[:MEASURED]
        texts: dict[int, set[str]] = {
            CLIENT: {item.client for item in items},
            WHAT: {what_words(item) for item in items},
            COURSE: {item.course for item in items},
            WHEN: {self._lines.text(item, WHEN) for item in items},
        } | {column: set(self._lines.words(column)) for column in (ACT, DONE, LATER)}
        strong, plain = QFontMetrics(theme.font(Role.STRONG)), self.fontMetrics()
        edge = theme.unit * 4 + GAPS
        wanted = {MARK: theme.line + edge}
        for column, words in texts.items():
            measure = strong if column == CLIENT else plain
            widest = max(map(measure.horizontalAdvance, words), default=0) + edge
            wanted[column] = min(widest, round(whole * MOST.get(column, 1)))
        return wanted

    # Keyboard and mouse

    def row(self) -> int:
        """The row of the item that the keyboard is on, -1 where it is on none."""
        row = self.currentIndex().row()
        return row if self._is_item(row) else -1

    def may_point_at(self, row: int) -> bool:
        """Nothing comes of a click on a heading."""
        return self._is_item(row)

    def _is_item(self, row: int) -> bool:
        return 0 <= row < len(self._lines.lines) and not isinstance(self._lines.lines[row], str)

    def select_near(self, row: int) -> None:
        """Put the keyboard on a row, or on the item nearest to it."""
        count = len(self._lines.lines)
        after = range(max(0, row), count)
        before = range(min(row, count) - 1, -1, -1)
        found = next((at for at in (*after, *before) if self._is_item(at)), None)
        if found is not None:
            self.selectRow(found)
            self.setCurrentIndex(self.model().index(found, CLIENT))

    def moveCursor(
        self, action: QAbstractItemView.CursorAction, modifiers: Qt.KeyboardModifier
    ) -> QModelIndex:
        """Step over headings."""
        index = super().moveCursor(action, modifiers)
        if not index.isValid() or self._is_item(index.row()):
            return index
        back = index.row() < self.currentIndex().row()
        rows = range(index.row(), -1, -1) if back else range(index.row(), len(self._lines.lines))
        found = next((row for row in rows if self._is_item(row)), self.currentIndex().row())
        return self.model().index(found, CLIENT)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens; Home and End go to the first and the last; the rest is the table's."""
        key, row = event.key(), self.row()
        if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and row >= 0:
            self.opened.emit(row)
        elif key == Qt.Key.Key_Home:
            self.select_near(0)
        elif key == Qt.Key.Key_End:
            self.select_near(len(self._lines.lines) - 1)
        else:
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A click of the left button opens a row, or does what its last columns say."""
        super().mouseReleaseEvent(event)
        index = self.indexAt(event.position().toPoint())
        if event.button() != Qt.MouseButton.LeftButton or not self._is_item(index.row()):
            return
        if index.column() == DONE:
            self.done.emit(index.row())
        elif index.column() == LATER:
            self.later.emit(index.row(), self.foot_of(index.row()))
        else:
            self.opened.emit(index.row())

    def foot_of(self, row: int) -> QPoint:
        """Where a menu of a row opens, on the screen."""
        place = self.visualRect(self.model().index(row, LATER))
        return self.viewport().mapToGlobal(place.bottomLeft())

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """The menu of the row beneath the pointer, or of the one that the keyboard is on."""
        by_mouse = event.reason() == QContextMenuEvent.Reason.Mouse
        row = self.indexAt(event.pos()).row() if by_mouse else self.row()
        if self._is_item(row):
            self.select_near(row)
            place = event.globalPos() if by_mouse else self.foot_of(row)
            self.menu_wanted.emit(row, place)
