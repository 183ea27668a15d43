"""The find field on top of the window, and the list of what it found beneath it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QFrame, QLineEdit, QVBoxLayout, QWidget

from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.shell.find import Thing, matching_things

WIDE, NARROW, NARROWEST = 44, 12, 8
"""How wide the field is, in letters: in the bar, in a head line, and there with large text."""

_MOVES = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}
_ENTER = {Qt.Key.Key_Return, Qt.Key.Key_Enter}


class FoundPanel(QFrame):
    """What was found, in a sheet that lies over the page; the keyboard stays in the field."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("found")
        self.model = TextTable((self.tr("Name"), self.tr("What it is")), self)
        self.rows = RowsView(self.model, shares=(3, 4))
        self.rows.horizontalHeader().hide()
        self.rows.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.rows.setAccessibleName(self.tr("Found"))
        self.nothing = text_label("", Role.QUIET, wrap=True)
        self._layout = QVBoxLayout(self)
        self._layout.addWidget(self.rows)
        self._layout.addWidget(self.nothing)
        self.hide()

    def apply_theme(self, theme: Theme) -> None:
        """Sizes for the text."""
        self._is_large = theme.is_large
        self._layout.setContentsMargins(theme.unit, theme.unit, theme.unit, theme.unit)

    def show_things(self, things: tuple[Thing, ...], typed: str) -> None:
        """Show what was found, or that nothing was."""
        self.model.show_rows(len(things), lambda row: (things[row].name, things[row].about))
        self.rows.setVisible(bool(things))
        self.nothing.setText(self.tr("No match for “{typed}”.").format(typed=typed))
        self.nothing.setVisible(not things)
        self.rows.setFixedHeight(self.rows.verticalHeader().defaultSectionSize() * len(things))
        self.adjustSize()

    def move_by(self, step: int) -> None:
        """One row down or up."""
        last = self.model.rowCount() - 1
        self.rows.select_row(min(max(self.rows.currentIndex().row() + step, 0), last))


class FindField(QLineEdit):
    """Finds as it is typed into; arrows choose, Enter opens, Escape leaves."""

    chosen = Signal(object)

    def __init__(
        self,
        window: QWidget,
        index: Callable[[], tuple[Thing, ...]],
        written: Callable[[str], tuple[Thing, ...]] = lambda _: (),
    ) -> None:
        super().__init__()
        self._index, self._written = index, written
        self._things: tuple[Thing, ...] | None = None
        self._matches: tuple[Thing, ...] = ()
        self._window = window
        self.panel = FoundPanel(window)
        self._is_narrow = self._is_large = False
        self._say_what_is_found()
        self.setAccessibleName(self.tr("Find"))
        self.setAccessibleDescription(
            self.tr("Type part of a name; arrows choose, Enter opens, Escape closes")
        )
        self.textEdited.connect(self._search)
        self.panel.rows.chosen.connect(self._open)

    def _say_what_is_found(self) -> None:
        whole = self.tr("Find a client, course, protocol, remedy, herb or action")
        self.setPlaceholderText(self.tr("Find…") if self._is_narrow else whole)
        self.setToolTip(whole if self._is_narrow else "")

    def be_narrow(self, *, is_narrow: bool) -> None:
        """Take little room, in the head line of a page, or say in full what can be found."""
        self._is_narrow = is_narrow
        self._say_what_is_found()
        self._fit()

    def _fit(self) -> None:
        narrow = NARROWEST if self._is_large else NARROW
        letters = narrow if self._is_narrow else WIDE
        self.setFixedWidth(self.fontMetrics().horizontalAdvance("n") * letters)

    def apply_theme(self, theme: Theme) -> None:
        """Sizes for the text."""
        self._fit()
        self.panel.apply_theme(theme)

    def learn(self) -> None:
        """Learn what there is to find, which takes a while the first time."""
        self._things = self._index()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Begin: learn what there is to find."""
        self.learn()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Leave: the list goes away."""
        super().focusOutEvent(event)
        self.panel.hide()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows choose, Enter opens, Escape leaves; the rest is typing."""
        key = Qt.Key(event.key())
        if key in _MOVES and self.panel.isVisible():
            self.panel.move_by(_MOVES[key])
        elif key in _ENTER:
            self._open(self.panel.rows.currentIndex().row())
        elif key == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)

    def leave(self) -> None:
        """Clear the field, put the list away, and hand the keyboard on."""
        self.clear()
        self.panel.hide()
        self.clearFocus()

    def _search(self, typed: str) -> None:
        if self._things is None:
            self.learn()
        self._matches = (*matching_things(self._things or (), typed), *self._written(typed))
        self.panel.show_things(self._matches, typed.strip())
        self.panel.setVisible(bool(typed.strip()))
        self._place()

    def _place(self) -> None:
        corner = self.mapTo(self._window, QPoint(0, self.height()))
        wanted = self.fontMetrics().horizontalAdvance("n") * WIDE * 2
        width = min(wanted, self._window.width())
        left = min(corner.x(), self._window.width() - width)
        self.panel.setGeometry(left, corner.y(), width, self.panel.sizeHint().height())
        self.panel.raise_()

    def _open(self, row: int) -> None:
        if 0 <= row < len(self._matches) and self.panel.isVisible():
            thing = self._matches[row]
            self.leave()
            self.chosen.emit(thing)
