"""The dispensary's place in the window."""

# What the page needs is imported when it is made, so that the window is there at once.
# ruff: noqa: PLC0415

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.navigation import DISPENSARY, Route, RouteKind
from sennight.desktop.kit.section import Page, Section
from sennight.desktop.kit.translating import translate

if TYPE_CHECKING:
    from sennight.desktop.dispensary.work import DispensaryWork


class DispensarySection(Section):
    """Stock and batches."""

    home, icon = DISPENSARY, "dispensary"
    kinds = (RouteKind.DISPENSARY,)

    @cached_property
    def work(self) -> DispensaryWork:
        """The page, and what is done on it."""
        from sennight.desktop.dispensary.work import DispensaryWork

        work = DispensaryWork(replace(self.around, theme=self.theme))
        work.status_message.connect(self.status_message)
        self.made(work.dispensary)
        return work

    @classmethod
    def spec(cls) -> ActionSpec:
        """Goes to the dispensary."""
        return ActionSpec(
            "dispensary",
            translate("Actions", "Dispensary"),
            translate("Actions", "Go to the dispensary"),
            ("Ctrl+6",),
        )

    def page(self, route: Route) -> Page:
        """The page, brought up to date."""
        del route
        self.work.load()
        return self.work.dispensary

    def title(self, kind: str) -> str:
        """What the window is called."""
        del kind
        return translate("Actions", "Dispensary")

    def resume(self, form: str, subject: str) -> bool:
        """Open one of its forms again."""
        if form in {"receive", "prepare", "minimum", "prices", "dispensary-settings", "count-all"}:
            self.going.emit(self.home)
            doing = {
                "receive": self.work.receive,
                "prepare": self.work.prepare,
                "minimum": lambda: self.work.set_minimum(-1),
                "prices": self.work.set_prices,
                "dispensary-settings": self.work.change_settings,
                "count-all": self.work.count_all,
            }
            doing[form]()
        elif form in {"stock", "hand-over"}:
            self.going.emit(self.home)
            (self.work.change if form == "stock" else self.work.hand_over)(subject)
        else:
            return False
        return True
