"""A list that fills a page: its title and count, a field that narrows it, rows that open.

A page owns one, tells it what to show, and adds what is its own: buttons, other searches, the
words for where nothing is shown.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.kit.tables import Cells, RowsView, TextTable
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import Empty, text_label


class NarrowField(QLineEdit):
    """Narrows a list as it is typed into; Down and Enter go into the list."""

    into_list = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Down and Enter leave for the list; Escape clears what was typed."""
        if event.key() in {Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.into_list.emit()
        elif event.key() == Qt.Key.Key_Escape and self.text():
            self.clear()
        else:
            super().keyPressEvent(event)


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns of a list: their headings, and how they share its width.

    `narrow` is how they share it where there is little, `model` a table of the page's own.
    """

    headings: tuple[str, ...]
    shares: tuple[int, ...]
    narrow: tuple[int, ...] = ()
    model: TextTable | None = None


@dataclass(frozen=True, slots=True)
class ListWords:
    """What a list says of itself; `rows` and `field` are names for a screen reader."""

    title: str
    rows: str
    field: str
    hint: str
    """What stands in the field until something is typed."""
    drawing: str = ""
    """What is drawn where nothing is shown."""


class NarrowedList(QWidget):
    """`narrowed` tells that the field was typed into, `opened` the id of the row to open.

    `before` and `after` stand beside the field, `first_steps` where nothing is shown. The
    field is as wide as `letters`, the least and the most. A list that `has_many` after it has
    those beneath its title where there is no room beside it.
    """

    narrowed = Signal()
    opened = Signal(str)

    def __init__(
        self,
        words: ListWords,
        columns: Columns,
        *,
        before: tuple[QWidget, ...] = (),
        after: tuple[QWidget, ...] = (),
        first_steps: tuple[QPushButton, ...] = (),
        letters: tuple[int, int] = (12, 26),
    ) -> None:
        super().__init__()
        self._ids: tuple[str, ...] = ()
        self._letters, self.has_many = letters, False
        self._make_parts(words, columns, first_steps)
        self._lay_out((*before, self.narrow), after)
        self.narrow.textChanged.connect(self.narrowed)
        self.narrow.into_list.connect(self._into_list)
        self.rows.chosen.connect(lambda row: self.opened.emit(self._ids[row]))

    # Layout

    def _make_parts(
        self, words: ListWords, columns: Columns, first_steps: tuple[QPushButton, ...]
    ) -> None:
        self.title = text_label(words.title, Role.TITLE)
        self.count = text_label("", Role.QUIET)
        self.narrow = NarrowField()
        self.narrow.setPlaceholderText(words.hint)
        self.narrow.setAccessibleName(words.field)
        self.narrow.setClearButtonEnabled(True)
        self.model = columns.model or TextTable(columns.headings, self)
        self.rows = RowsView(self.model, shares=columns.shares, narrow=columns.narrow)
        self.rows.setAccessibleName(words.rows)
        self.empty = Empty("", "", *first_steps, drawing=words.drawing)
        self.body = QStackedWidget()

    def _lay_out(self, beside: tuple[QWidget, ...], after: tuple[QWidget, ...]) -> None:
        self._head = head = QHBoxLayout()
        head.addWidget(self.title, 0, Qt.AlignmentFlag.AlignBottom)
        head.addWidget(self.count, 0, Qt.AlignmentFlag.AlignBottom)
        head.addStretch(1)
        for part in beside:  # the field up to its most, first of all
            head.addWidget(part, 100 if part is self.narrow else 0)
        self._tools = QHBoxLayout()
        self._tools.addStretch(1)
        for part in after:
            self._tools.addWidget(part)
        self._top = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._top.addLayout(head, 1)
        self._top.addLayout(self._tools)
        self._layout = QVBoxLayout(self)
        self._layout.addLayout(self._top)
        self._layout.addWidget(self.body, 1)
        for part in (self.rows, self.empty):
            self.body.addWidget(part)

    def hide_title(self) -> None:
        """Do without the title, where the page has one; the count stands beside the field."""
        self.title.hide()
        self._head.setAlignment(self.count, Qt.AlignmentFlag.AlignVCenter)

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self._layout.setContentsMargins(theme.edge, theme.unit * 4, theme.edge, theme.unit * 4)
        self._layout.setSpacing(theme.unit * 5)
        for row in (self._head, self._tools, self._top):
            row.setSpacing(theme.unit * 3)
        wide, (least, most) = self.fontMetrics().horizontalAdvance("n"), self._letters
        self.narrow.setMinimumWidth(wide * least)
        self.narrow.setMaximumWidth(wide * most)
        self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """See whether the tools fit beside the title."""
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        ways, left_right = QBoxLayout.Direction, self._layout.contentsMargins()
        room = self.width() - left_right.left() - left_right.right()
        is_beneath = self.has_many and self._in_one_row() > room
        way = ways.TopToBottom if is_beneath else ways.LeftToRight
        if way != self._top.direction():
            self._top.setDirection(way)
            self.updateGeometry()

    def _in_one_row(self) -> int:
        """How wide title and tools are in one row."""
        rows = (self._head, self._tools)
        return sum(row.minimumSize().width() for row in rows) + self._top.spacing()

    def minimumSizeHint(self) -> QSize:
        """As wide as the widest of what can stand beneath each other."""
        least = super().minimumSizeHint()
        if not self.has_many:
            return least
        sides = self._layout.contentsMargins()
        parts = (self._head.minimumSize(), self._tools.minimumSize(), self.body.minimumSizeHint())
        wide = max(part.width() for part in parts) + sides.left() + sides.right()
        return QSize(wide, least.height())

    # Behaviour

    def fill(self, ids: tuple[str, ...], cells: Cells, *, of: int, whole: str) -> None:
        """Show a row for each id, out of so many; `whole` counts these in words.

        Where none is shown, the words of `empty` stand instead, which the page chooses.
        """
        self._ids = ids
        self.model.show_rows(len(ids), cells)
        narrower = self.tr("{shown} of {all}").format(shown=len(ids), all=of)
        self.count.setText(narrower if len(ids) != of else whole if of else "")
        self.body.setCurrentWidget(self.rows if ids else self.empty)
        self.narrow.setVisible(of > 0)
        self._arrange()

    def current(self) -> str:
        """The id that the list is on, or nothing."""
        row = self.rows.currentIndex().row()
        return self._ids[row] if 0 <= row < len(self._ids) else ""

    def select(self, wanted: str) -> None:
        """Put the list on an id, if it is shown."""
        if wanted in self._ids:
            self.rows.select_row(self._ids.index(wanted))

    def take_focus(self, *, otherwise: QWidget) -> None:
        """Give the keyboard to the list, or elsewhere where nothing is shown."""
        first = self.rows if self._ids else otherwise
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _into_list(self) -> None:
        if self._ids:
            self.rows.setFocus(Qt.FocusReason.OtherFocusReason)
