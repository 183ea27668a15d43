"""The items of a client's story as rows, all of them or those that were asked for."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum

from PySide6.QtCore import QAbstractListModel, QObject, Qt

from sennight.desktop.kit.grid_model import NOWHERE, Index
from sennight.desktop.kit.matching import matching
from sennight.desktop.kit.plain_text import plain_tip
from sennight.domain.follow_up.story import StoryItem, StoryKind

FOUND = Callable[[str], frozenset[int]]
"""The ids of the consultations that hold the words typed."""


class Shown(Enum):
    """Which items are shown; the value is their kinds, none for all of them."""

    ALL = ()
    CONSULTATIONS = (StoryKind.CONSULTATION, StoryKind.FILE)
    DECISIONS = (StoryKind.DECISION, StoryKind.WEEKS_OFF, StoryKind.REACTION)
    GIVEN = (StoryKind.GIVEN, StoryKind.DISPENSED)
    REPORTED = (StoryKind.DIARY, StoryKind.DAY_NOTE, StoryKind.SCORES)


class StoryModel(QAbstractListModel):
    """Rows of items; the first of each day begins the day."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.items: tuple[StoryItem, ...] = ()
        self._all: tuple[StoryItem, ...] = ()

    def show_items(self, items: tuple[StoryItem, ...]) -> None:
        """Show all items of a story."""
        self._all = items
        self._put(items)

    def narrow(self, shown: Shown, typed: str, found: FOUND) -> None:
        """Show those of some kinds, that hold what was typed."""
        items = tuple(item for item in self._all if not shown.value or item.kind in shown.value)
        if typed.strip():
            written = found(typed)
            others = set(matching(typed, items, _searched))
            items = tuple(
                item
                for item in items
                if item in others
                or (item.kind is StoryKind.CONSULTATION and item.record in written)
            )
        self._put(items)

    def _put(self, items: tuple[StoryItem, ...]) -> None:
        self.beginResetModel()
        self.items = items
        self.endResetModel()

    def begins_day(self, row: int) -> bool:
        """Whether an item is the first of its day."""
        return row == 0 or self.items[row - 1].day != self.items[row].day

    def ends_day(self, row: int) -> bool:
        """Whether an item is the last of its day."""
        return self.ends_story(row) or self.begins_day(row + 1)

    def ends_story(self, row: int) -> bool:
        """Whether nothing comes beneath it."""
        return row == len(self.items) - 1

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """The items shown."""
        return 0 if parent.isValid() else len(self.items)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """An item in words."""
        if not index.isValid():
            return None
        item = self.items[index.row()]
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole}:
            return item.words
        if role == Qt.ItemDataRole.ToolTipRole and item.void:
            return plain_tip(item.void)
        return None


def _searched(item: StoryItem) -> str:
    """What is searched here; the words of a consultation lie in the index of the file."""
    if item.kind is StoryKind.CONSULTATION:
        return ""
    return " ".join((item.title, item.about, *(part.text for part in item.parts)))
