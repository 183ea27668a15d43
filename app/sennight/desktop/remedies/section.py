"""The place of the remedies in the window: the shelf, and the editor of one remedy."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QWidget

from sennight.desktop.kit.navigation import Route, RouteKind
from sennight.desktop.kit.theme import Theme
from sennight.desktop.remedies.page import RemedyPage
from sennight.desktop.remedies.shelf_page import NewRemedyDialog, ShelfPage
from sennight.practice.opening import OpenPractice


class RemediesSection(QObject):
    """Brings the pages to front; `going` asks the window to go to another spot."""

    going = Signal(object)
    said = Signal(str)
    retitled = Signal()

    kinds = (RouteKind.REMEDIES, RouteKind.REMEDY)

    def __init__(self, practice: OpenPractice, theme: Theme, today: Callable[[], date]) -> None:
        super().__init__()
        self.shelf = ShelfPage(practice, theme)
        self.remedy = RemedyPage(practice, theme, today)
        self.pages = (self.shelf, self.remedy)
        self.shelf.opened.connect(self._go_to)
        self.shelf.new_wanted.connect(self.new)
        self.remedy.opened.connect(self._go_to)
        self.remedy.said.connect(self.said)
        self.remedy.changed.connect(self.retitled)

    def _go_to(self, remedy_id: str) -> None:
        self.going.emit(Route(RouteKind.REMEDY, remedy_id))

    def page(self, spot: Route) -> QWidget:
        """The page of a spot, brought up to date; raises MissingRecordError."""
        if spot.kind is RouteKind.REMEDY:
            self.remedy.open(spot.id)
            return self.remedy
        self.shelf.load()
        return self.shelf

    def undo_stack(self, kind: RouteKind) -> QUndoStack | None:
        """The edits of the page in front."""
        return self.remedy.undo_stack if kind is RouteKind.REMEDY else None

    def title(self, kind: RouteKind) -> str:
        """What the window is called."""
        return self.remedy.title if kind is RouteKind.REMEDY else self.shelf.list.title.text()

    def leave(self, kind: RouteKind) -> None:
        """Keep what was edited, before the page goes out of view."""
        if kind is RouteKind.REMEDY:
            self.remedy.keep()

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        for page in self.pages:
            page.apply_theme(theme)

    def new(self) -> None:
        """Ask for a name and a form, and begin a remedy."""
        sheet = NewRemedyDialog(self.shelf)
        if sheet.exec() and sheet.remedy is not None:
            self.remedy.begin(sheet.remedy)
            self._go_to(sheet.remedy.id)
        sheet.deleteLater()
