"""The place of the materia medica in the window: the list of herbs, and one herb."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QWidget

from sennight.desktop.kit.navigation import HERBS, Route, RouteKind
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.theme import Theme
from sennight.desktop.materia_medica.herb_page import HerbPage
from sennight.desktop.materia_medica.list_page import HerbsPage
from sennight.desktop.materia_medica.own_herb_dialog import OwnHerbDialog
from sennight.domain.herbs.own_herbs import OwnHerb
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import new_own_herb, save_own_herb


class HerbsSection(QObject):
    """Brings the pages to front; `going` asks the window to go to another spot."""

    going = Signal(object)
    said = Signal(str)
    retitled = Signal()

    kinds = (RouteKind.HERBS, RouteKind.HERB)

    def __init__(self, practice: OpenPractice, theme: Theme) -> None:
        super().__init__()
        self._practice = practice
        self.herbs = HerbsPage(practice, theme)
        self.herb = HerbPage(practice, theme)
        self.pages = (self.herbs, self.herb)
        self.herbs.opened.connect(self._go_to)
        self.herbs.new_wanted.connect(self.new)
        self.herb.said.connect(self.said)
        self.herb.changed.connect(self.retitled)
        self.herb.closed.connect(lambda: self.going.emit(HERBS))

    def _go_to(self, herb_id: str) -> None:
        self.going.emit(Route(RouteKind.HERB, herb_id))

    def page(self, spot: Route) -> QWidget:
        """The page of a spot, brought up to date; raises MissingRecordError."""
        if spot.kind is RouteKind.HERB:
            self.herb.open(spot.id)
            return self.herb
        self.herbs.load()
        return self.herbs

    def undo_stack(self, kind: RouteKind) -> QUndoStack | None:
        """The edits of the page in front."""
        return self.herb.undo_stack if kind is RouteKind.HERB else None

    def title(self, kind: RouteKind) -> str:
        """What the window is called."""
        return self.herb.title.text() if kind is RouteKind.HERB else self.herbs.list.title.text()

    def leave(self, kind: RouteKind) -> None:
        """Keep what was typed, before the page goes out of view."""
        if kind is RouteKind.HERB:
            self.herb.keep_note()

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        for page in self.pages:
            page.apply_theme(theme)

    def new(self) -> None:
        """Ask for a herb of the practice's own, and open it."""
        dialog = OwnHerbDialog(self.herbs, new_own_herb(""), is_new=True)
        if saved_from(dialog, lambda: self._save(dialog.answer)) and dialog.answer is not None:
            self._go_to(dialog.answer.id)
        dialog.deleteLater()

    def _save(self, own: OwnHerb | None) -> None:
        if own is not None:
            save_own_herb(self._practice, own)
