"""The place of the protocols in the window: the shelf, and the editor of one protocol."""

# What the pages need is imported when they are made, so that the window is there at once.
# ruff: noqa: PLC0415

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtGui import QUndoStack

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.navigation import PROTOCOLS, Route, RouteKind
from sennight.desktop.kit.section import Page, Section
from sennight.desktop.kit.translating import translate

if TYPE_CHECKING:
    from sennight.desktop.protocols.work import ProtocolsWork

PROTOCOL_FORMS = frozenset(
    {"new-protocol", "copy-protocol", "rename-protocol", "protocol-aims", "protocol-lines"}
)
"""The words of the forms of protocols."""


class ProtocolsSection(Section):
    """The shelf of protocols, and one of them."""

    home, icon = PROTOCOLS, "protocols"
    kinds = (RouteKind.PROTOCOLS, RouteKind.PROTOCOL)

    @cached_property
    def work(self) -> ProtocolsWork:
        """The pages, and what is done on them."""
        from sennight.desktop.protocols.work import ProtocolsWork

        work = ProtocolsWork(replace(self.around, theme=self.theme))
        work.going.connect(self.going)
        self.made(work.shelf)
        self.made(work.protocol)
        return work

    @classmethod
    def spec(cls) -> ActionSpec:
        """Goes to the shelf."""
        return ActionSpec(
            "protocols",
            translate("Actions", "Protocols"),
            translate("Actions", "Go to the protocols"),
            ("Ctrl+3",),
        )

    def page(self, route: Route) -> Page:
        """The page of a route, brought up to date; raises MissingRecordError."""
        return self.work.page(route)

    def undo_stack(self, kind: str) -> QUndoStack | None:
        """The edits of the protocol in front."""
        return self.work.undo_stack(kind)

    def title(self, kind: str) -> str:
        """What the window is called."""
        is_one = kind == RouteKind.PROTOCOL
        return translate("Protocols", "Protocol" if is_one else "Protocols")

    def leave(self, kind: str) -> None:
        """Save what was edited, before the page goes out of view."""
        self.work.leave(kind)

    def resume(self, form: str, subject: str) -> bool:
        """Open a form again that was left unfinished."""
        return form in PROTOCOL_FORMS and self.work.resume(form, subject)
