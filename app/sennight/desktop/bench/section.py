"""Bench's place in the window."""

from __future__ import annotations

from PySide6.QtGui import QUndoStack

from sennight.desktop.bench.actions import bench_specs
from sennight.desktop.bench.page import BenchPage
from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.navigation import BENCH, DISPENSARY, Route, RouteKind
from sennight.desktop.kit.section import Page, Section, Surroundings
from sennight.desktop.kit.translating import translate
from sennight.practice.bench import Item, Matter


class BenchSection(Section):
    """What needs attention; each item opens its own place."""

    home, icon = BENCH, "bench"
    kinds = (RouteKind.BENCH,)

    def __init__(self, around: Surroundings) -> None:
        super().__init__(around)
        self.bench = BenchPage(around)
        self.pages = (self.bench,)
        self.bench.opened.connect(self._open)
        self.bench.new_wanted.connect(lambda: self.asking.emit("client", ""))
        self.bench.status_message.connect(self.status_message)

    @classmethod
    def spec(cls) -> ActionSpec:
        """Goes to Bench."""
        return ActionSpec(
            "bench",
            translate("Actions", "Bench"),
            translate("Actions", "See what needs attention today and this week"),
            ("Ctrl+1",),
        )

    @classmethod
    def page_specs(cls) -> tuple[ActionSpec, ...]:
        """What has keys on the page."""
        return bench_specs()

    def page(self, route: Route) -> Page:
        """The page, brought up to date."""
        del route
        self.bench.load()
        return self.bench

    def title(self, kind: str) -> str:
        """What the window is called."""
        del kind
        return translate("Actions", "Bench")

    def undo_stack(self, kind: str) -> QUndoStack | None:
        """What was done and put off."""
        del kind
        return self.bench.undo_stack

    def resume(self, form: str, subject: str) -> bool:
        """Ask again to which day something is put off: what is selected, since it may be gone."""
        del subject
        if form != "put-off":
            return False
        self.going.emit(BENCH)
        self.bench.ask_day(self.bench.rows.row())
        return True

    def _open(self, item: Item) -> None:
        match item.matter:
            case Matter.RED_FLAG:
                self.asking.emit("red-flags", item.key.client)
            case Matter.DIARY:
                self.asking.emit("diary", item.key.course)
            case Matter.ORDER:
                self.going.emit(DISPENSARY)
            case Matter.REVIEW:
                self.going.emit(Route(RouteKind.REVIEW, item.key.course))
            case Matter.APPOINTMENT:
                self.going.emit(Route(RouteKind.FOLDER, item.key.client))
            case Matter.REVIEW:
                self.going.emit(Route(RouteKind.REVIEW, item.key.course))
            case _:
                self.going.emit(Route(RouteKind.COURSE, item.key.course, item.day))
