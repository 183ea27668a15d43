"""The place of the materia medica in the window: the list of herbs, and one herb."""

# What a page needs is imported when it is made, so that the window is there at once.
# ruff: noqa: PLC0415

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtGui import QUndoStack

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.navigation import HERBS, Route, RouteKind
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.section import Page, Section, Surroundings
from sennight.desktop.kit.translating import translate

if TYPE_CHECKING:
    from sennight.desktop.materia_medica.herb_page import HerbPage
    from sennight.desktop.materia_medica.list_page import HerbsPage
    from sennight.domain.herbs.own_herbs import OwnHerb


HERB_FORMS = frozenset({"own-herb", "own-range", "herb-note"})
"""The words of the forms on a herb's page."""


class HerbsSection(Section):
    """The list of herbs, and one of them."""

    home, icon = HERBS, "herbs"
    kinds = (RouteKind.HERBS, RouteKind.HERB)

    def __init__(self, around: Surroundings) -> None:
        super().__init__(around)
        self._practice = around.practice

    @cached_property
    def herbs(self) -> HerbsPage:
        """The page of all herbs."""
        from sennight.desktop.materia_medica.list_page import HerbsPage

        page = self.made(HerbsPage(self._practice, self.theme))
        page.opened.connect(self._go_to)
        page.new_wanted.connect(self.new)
        return page

    @cached_property
    def herb(self) -> HerbPage:
        """The page of one herb."""
        from sennight.desktop.materia_medica.herb_page import HerbPage

        page = self.made(HerbPage(self._practice, self.theme))
        page.status_message.connect(self.status_message)
        page.closed.connect(lambda: self.going.emit(HERBS))
        return page

    @classmethod
    def spec(cls) -> ActionSpec:
        """Goes to the list of herbs."""
        return ActionSpec(
            "herbs",
            translate("Actions", "Herbs"),
            translate("Actions", "Go to the herbs"),
            ("Ctrl+5",),
        )

    def _go_to(self, herb_id: str) -> None:
        self.going.emit(Route(RouteKind.HERB, herb_id))

    def page(self, route: Route) -> Page:
        """The page of a route, brought up to date; raises MissingRecordError."""
        if route.kind == RouteKind.HERB:
            self.herb.open(route.id)
            return self.herb
        self.herbs.load()
        return self.herbs

    def undo_stack(self, kind: str) -> QUndoStack | None:
        """The edits of the page in front."""
        return self.herb.undo_stack if kind == RouteKind.HERB else None

    def title(self, kind: str) -> str:
        """What the window is called."""
        is_herb = kind == RouteKind.HERB
        return translate("Herbs", "Herb") if is_herb else self.herbs.list.title.text()

    def leave(self, kind: str) -> None:
        """Keep what was typed, before the page goes out of view."""
        if kind == RouteKind.HERB:
            self.herb.keep_note()

    def resume(self, form: str, subject: str) -> bool:
        """Open a herb's form again."""
        if form not in HERB_FORMS:
            return False
        asking = {
            "own-herb": self.herb.ask_herb,
            "own-range": self.herb.ask_range,
            "herb-note": self.herb.note.setFocus,
        }
        if subject:
            self._go_to(subject)
            asking[form]()
        else:
            self.new()
        return True

    def new(self) -> None:
        """Ask for a herb of the practice's own, and open it."""
        from sennight.desktop.materia_medica.own_herb_dialog import OwnHerbDialog
        from sennight.practice.own_herbs import new_own_herb

        dialog = OwnHerbDialog(self.herbs, new_own_herb(""), is_new=True)
        dialog.keep_draft(self._practice, "own-herb")
        if saved_from(dialog, lambda: self._save(dialog.answer)) and dialog.answer is not None:
            self._go_to(dialog.answer.id)
        dialog.deleteLater()

    def _save(self, own: OwnHerb | None) -> None:
        from sennight.practice.own_herbs import save_own_herb

        if own is not None:
            save_own_herb(self._practice, own)
