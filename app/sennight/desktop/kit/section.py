"""A section of the window: a place on the rail, and the pages that belong to it.

The window knows no page by name. A new section is a class made from this one and an entry in
the shell's list of sections; its rail button, keys, pages, undo and title follow from it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import TypeVar

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QHBoxLayout, QWidget

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.navigation import Route
from sennight.desktop.kit.theme import Theme
from sennight.practice.opening import OpenPractice


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What a section is made with: the practice that is open, the theme, and the clock."""

    practice: OpenPractice
    theme: Theme
    now: Callable[[], datetime]

    def today(self) -> date:
        """The day that counts as today."""
        return self.now().date()


@dataclass(frozen=True, slots=True)
class Seats:
    """Where a page that has a head of its own takes the window's tools in.

    `back` and `tools` are in its head line, for the way back, and for undo, redo and find;
    `foot` is for what the window has to say.
    """

    back: QHBoxLayout
    tools: QHBoxLayout
    foot: QHBoxLayout


class Page(QWidget):
    """A page of the window; one with `seats` has the window's tools in its own head line."""

    seats: Seats | None = None

    def save_now(self) -> bool:
        """Save an edit made a moment ago; False where one would be lost with the window."""
        return True

    def take_focus(self) -> None:
        """Give the keyboard to what is used first on the page."""

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another theme."""


Made = TypeVar("Made", bound=Page)


class Section(QObject):
    """Brings its pages to front.

    `going` asks the window to go to another route; `turned` tells that the page in front has
    turned to another by itself, `page_made` has one that was just made. `asking` asks to open a
    form of another section by its word and the record that it is about (`resume`), `leaving` to
    go back, `status_message` has a text for the status line. `home` is the route to the section's
    first page; `kinds` are the routes that its pages are for, `pages` those that were made. A
    page is best made, and what it needs imported, when it is first gone to: all that is there
    before the window is waited for.
    """

    going = Signal(object)
    turned = Signal(object)
    asking = Signal(str, str)
    leaving = Signal()
    status_message = Signal(str)
    page_made = Signal(object)

    home: Route
    kinds: tuple[str, ...]
    icon: str
    pages: tuple[Page, ...] = ()

    def __init__(self, around: Surroundings) -> None:
        super().__init__()
        self.around, self.theme = around, around.theme

    def made(self, page: Made) -> Made:
        """A page that was just made, with the theme of now, counted among the section's.

        It is put into the window before more is put into it, since all that is in a part is
        styled anew when that gets another parent.
        """
        self.pages = (*self.pages, page)
        self.page_made.emit(page)
        return page

    @classmethod
    def spec(cls) -> ActionSpec:
        """What goes to the section from anywhere: its name on the rail, its tip and keys."""
        raise NotImplementedError

    @classmethod
    def new_spec(cls) -> ActionSpec | None:
        """What begins one more from anywhere, with `new`; None where only a page offers that."""
        return None

    @classmethod
    def page_specs(cls) -> tuple[ActionSpec, ...]:
        """What can be done on its pages alone, for the list of keys."""
        return ()

    def page(self, route: Route) -> Page:
        """The page of a route, brought up to date; raises MissingRecordError."""
        raise NotImplementedError

    def title(self, kind: str) -> str:
        """What the window is called while a page of that kind is in front; never a name.

        The system keeps the titles of windows, in its lists and in pictures of the screen.
        """
        raise NotImplementedError

    def undo_stack(self, kind: str) -> QUndoStack | None:
        """The edits of a page; None where it has none."""
        del kind
        return None

    def resume(self, form: str, subject: str) -> bool:
        """Open a form again that was left unfinished, by its word; whether it is one of its own.

        `subject` is the record that it is about, empty for a new one.
        """
        del form, subject
        return False

    def acts(self, kind: str) -> tuple[ActionSpec, ...]:
        """What can be done on the page in front, of that kind, and is found by its name."""
        del kind
        return ()

    def act(self, name: str) -> None:
        """Do one of them, by its id."""

    def leave(self, kind: str) -> None:
        """Keep what was typed, before a page goes out of view."""

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another theme."""
        self.theme = theme
        for page in self.pages:
            page.apply_theme(theme)

    def new(self) -> None:
        """Begin one more of what the section is about, where it has such."""
