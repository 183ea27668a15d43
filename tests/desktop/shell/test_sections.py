"""A further section is one entry: its rail button, keys, page, undo, title and theme follow."""

from __future__ import annotations

import ast
import inspect
from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QUndoStack
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.navigation import Route
from sennight.desktop.kit.section import Page, Section, Surroundings
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.undo import ValueStep
from sennight.desktop.shell import main_window
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.keys_dialog import KeysDialog
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.sections import SECTIONS
from sennight.desktop.shell.settings import Settings
from sennight.practice.opening import OpenPractice
from support.sample_practice import TODAY


class ScratchPage(Page):
    """Notes what the window does with it."""

    def __init__(self) -> None:
        super().__init__()
        self.opened: list[str] = []
        self.themes: list[Theme] = []
        self.value, self.is_full = "before", False
        self.undo_stack = QUndoStack(self)

    def apply_theme(self, theme: Theme) -> None:
        self.themes.append(theme)

    def put(self, value: str) -> bool:
        if not self.is_full:
            self.value = value
        return not self.is_full


class ScratchSection(Section):
    """A list of scratches, and one scratch."""

    home, icon, kinds = Route("scratches"), "herbs", ("scratches", "scratch")

    def __init__(self, around: Surroundings) -> None:
        super().__init__(around)
        self.list, self.scratch = ScratchPage(), ScratchPage()
        self.pages = (self.list, self.scratch)
        self.left: list[str] = []
        self.begun = 0

    @classmethod
    def spec(cls) -> ActionSpec:
        return ActionSpec("scratches", "Scratches", "Go to the scratches", ("Ctrl+9",))

    @classmethod
    def new_spec(cls) -> ActionSpec:
        return ActionSpec("new-scratch", "New scratch", "Begin a scratch", ("Ctrl+Alt+9",))

    @classmethod
    def page_specs(cls) -> tuple[ActionSpec, ...]:
        return (ActionSpec("itch", "Itch", "Make a scratch itch", ("Ctrl+Alt+8",)),)

    def page(self, route: Route) -> Page:
        page = self.scratch if route.kind == "scratch" else self.list
        page.opened.append(route.id)
        return page

    def title(self, kind: str) -> str:
        return f"Title of {kind}"

    def undo_stack(self, kind: str) -> QUndoStack | None:
        return self.scratch.undo_stack if kind == "scratch" else None

    def leave(self, kind: str) -> None:
        self.left.append(kind)

    def new(self) -> None:
        self.begun += 1
        self.going.emit(Route("scratch", "new"))


@pytest.fixture
def frame(
    qtbot: QtBot, appearance: Appearance, settings: Settings, empty_practice: OpenPractice
) -> Iterator[MainWindow]:
    """The window with one section more than it has."""
    made = MainWindow(
        empty_practice,
        appearance,
        settings,
        sections=(*SECTIONS, ScratchSection),
        today=lambda: TODAY,
    )
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    qtbot.waitActive(made)
    yield made
    made.hide()


def test_it_stands_on_the_rail_and_is_gone_to_by_button_and_key(
    qtbot: QtBot, frame: MainWindow
) -> None:
    section = frame.section(ScratchSection)
    assert list(frame.rail.places)[-1] == "scratches"
    assert not frame.rail.places["scratches"].icon().isNull()
    frame.rail.places["scratches"].click()
    assert frame.stack.currentWidget() is section.list
    assert frame.windowTitle() == "Title of scratches – Sennight"
    assert frame.rail.places["scratches"].isChecked()
    frame.back()
    assert section.left == ["scratches"]
    qtbot.keyClick(frame, Qt.Key.Key_9, Qt.KeyboardModifier.ControlModifier)
    assert frame.stack.currentWidget() is section.list


def test_its_pages_edits_are_undone_and_its_signals_heard(frame: MainWindow) -> None:
    section = frame.section(ScratchSection)
    frame.actions_by_id["new-scratch"].trigger()
    assert section.begun == 1
    assert section.scratch.opened == ["new"]
    assert frame.windowTitle() == "Title of scratch – Sennight"
    page = section.scratch
    page.undo_stack.push(ValueStep("Scratch", "before", "after", page.put))
    frame.actions_by_id["undo"].trigger()
    assert page.value == "before"
    assert frame.actions_by_id["redo"].isEnabled()
    section.status_message.emit("It itches.")
    assert frame.status.text.text() == "It itches."
    section.leaving.emit()
    assert frame.stack.currentWidget() is not page
    assert not frame.actions_by_id["undo"].isEnabled()


def test_what_could_not_be_taken_back_is_not_said_to_be(frame: MainWindow) -> None:
    frame.actions_by_id["new-scratch"].trigger()
    page = frame.section(ScratchSection).scratch
    page.undo_stack.push(ValueStep("Scratch", "before", "after", page.put))
    page.is_full = True
    frame.status.say("")
    frame.actions_by_id["undo"].trigger()
    assert page.value == "after"
    assert not frame.status.text.text()


def test_it_is_drawn_with_another_theme_and_its_keys_are_listed(
    frame: MainWindow, appearance: Appearance, monkeypatch: pytest.MonkeyPatch
) -> None:
    section = frame.section(ScratchSection)
    for page in (section.list, section.scratch):
        before = len(page.themes)
        appearance.step_scale(1)
        assert len(page.themes) == before + 1
    listed: list[str] = []
    monkeypatch.setattr(
        KeysDialog,
        "__init__",
        lambda _self, _frame, places: listed.extend(
            spec.id for _, specs in places for spec in specs
        ),
    )
    monkeypatch.setattr(KeysDialog, "exec", lambda _self: None)
    frame.actions_by_id["keys"].trigger()
    assert {"scratches", "new-scratch", "itch"} <= set(listed)


def test_the_window_names_no_page_and_knows_its_types() -> None:
    """No branch for a section, no import of a page, no `Any`."""
    tree = ast.parse(inspect.getsource(main_window))
    modules = {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    rooms = {module.split(".")[2] for module in modules if module.startswith("sennight.desktop.")}
    assert rooms == {"kit", "parts", "shell"}
    names = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    assert not names & {"Any", "RouteKind", "ClientsSection", "RemediesSection", "HerbsSection"}
