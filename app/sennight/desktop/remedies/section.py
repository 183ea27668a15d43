"""The place of the remedies in the window: the shelf, and the editor of one remedy."""

# What a page needs is imported when it is made, so that the window is there at once.
# ruff: noqa: PLC0415

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtGui import QUndoStack

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.navigation import REMEDIES, Route, RouteKind
from sennight.desktop.kit.section import Page, Section
from sennight.desktop.kit.translating import translate
from sennight.desktop.remedies.actions import remedies_specs

if TYPE_CHECKING:
    from sennight.desktop.remedies.page import RemedyPage
    from sennight.desktop.remedies.shelf_page import ShelfPage


class RemediesSection(Section):
    """The shelf of remedies, and one of them."""

    home, icon = REMEDIES, "remedies"
    kinds = (RouteKind.REMEDIES, RouteKind.REMEDY)

    @cached_property
    def shelf(self) -> ShelfPage:
        """The page of all remedies."""
        from sennight.desktop.remedies.shelf_page import ShelfPage

        page = self.made(ShelfPage(self.around.practice, self.theme))
        page.opened.connect(self._go_to)
        page.new_wanted.connect(self.new)
        return page

    @cached_property
    def remedy(self) -> RemedyPage:
        """The page of one remedy."""
        from sennight.desktop.remedies.page import RemedyPage

        page = self.made(RemedyPage(self.around.practice, self.theme, self.around.today))
        page.opened.connect(self._go_to)
        page.status_message.connect(self.status_message)
        return page

    @classmethod
    def spec(cls) -> ActionSpec:
        """Goes to the shelf."""
        return ActionSpec(
            "remedies",
            translate("Actions", "Formulas"),
            translate("Actions", "Go to the formulas"),
            ("Ctrl+4",),
        )

    @classmethod
    def page_specs(cls) -> tuple[ActionSpec, ...]:
        """What has keys on the remedies' pages."""
        return remedies_specs()

    def _go_to(self, remedy_id: str) -> None:
        self.going.emit(Route(RouteKind.REMEDY, remedy_id))

    def page(self, route: Route) -> Page:
        """The page of a route, brought up to date; raises MissingRecordError."""
        if route.kind == RouteKind.REMEDY:
            self.remedy.open(route.id)
            return self.remedy
        self.shelf.load()
        return self.shelf

    def undo_stack(self, kind: str) -> QUndoStack | None:
        """The edits of the page in front."""
        return self.remedy.undo_stack if kind == RouteKind.REMEDY else None

    def title(self, kind: str) -> str:
        """What the window is called."""
        is_remedy = kind == RouteKind.REMEDY
        return translate("Remedies", "Formula") if is_remedy else self.shelf.list.title.text()

    def leave(self, kind: str) -> None:
        """Keep what was edited, before the page goes out of view."""
        if kind == RouteKind.REMEDY:
            self.remedy.leave()

    def resume(self, form: str, subject: str) -> bool:
        """Open the editor again, or one of its questions."""
        asked, _, question = form.partition("/")
        if form == "new-formula":
            self.new()
        elif form == "remedy" or asked == "calculate":
            self._go_to(subject)
            if question:
                self.remedy.ask(question)
        else:
            return False
        return True

    def new(self) -> None:
        """Ask for a name and a form, and begin a remedy."""
        from sennight.desktop.remedies.shelf_page import NewRemedyDialog

        sheet = NewRemedyDialog(self.shelf)
        sheet.keep_draft(self.around.practice, "new-formula")
        if sheet.exec() and sheet.remedy is not None:
            self.remedy.begin(sheet.remedy)
            self._go_to(sheet.remedy.id)
        sheet.deleteLater()
