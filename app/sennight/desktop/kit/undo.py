"""Undo: a step holds the value before and the value after, and puts one of them in place.

A page that edits something has an `undo_stack: QUndoStack`; the frame's undo and redo work on
the stack of the page in front (QUndoGroup). Values are immutable, so a step is two values:

    page.undo_stack.push(ValueStep("Change directions", before, after, page.put))
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from PySide6.QtGui import QUndoCommand

Value = TypeVar("Value")


class ValueStep(QUndoCommand, Generic[Value]):
    """One edit of an immutable value.

    Pushing it does it. `put` shows and saves a value and returns whether it could; it must not
    raise, since Qt calls it. A step that could not be done leaves the stack.
    """

    def __init__(
        self, text: str, before: Value, after: Value, put: Callable[[Value], bool]
    ) -> None:
        super().__init__(text)
        self._before, self._after, self._put = before, after, put

    def redo(self) -> None:
        """Put the value after the edit in place."""
        self.setObsolete(not self._put(self._after))

    def undo(self) -> None:
        """Put the value before the edit back."""
        self.setObsolete(not self._put(self._before))
