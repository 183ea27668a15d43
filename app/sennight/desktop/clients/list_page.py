"""The list of clients."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction

from sennight.desktop.clients.actions import list_specs
from sennight.desktop.clients.rows import client_columns, client_row
from sennight.desktop.kit.matching import matching
from sennight.desktop.kit.menus import menu_button
from sennight.desktop.kit.narrowed_list import Columns, ListWords, NarrowedList
from sennight.desktop.kit.section import Page
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.widgets import button, fill_with
from sennight.domain.directions.plain_words import counted
from sennight.practice.clients import ClientTitle, list_client_titles
from sennight.practice.courses import CourseEntry, list_courses_of
from sennight.practice.opening import OpenPractice

BLOCK = 16
"""Of so many clients at a time the courses are read, as their rows come into view."""


class ClientsPage(Page):
    """All clients by name, with what they take now."""

    opened = Signal(str)
    new_wanted = Signal()
    bring_wanted = Signal()

    def __init__(self, practice: OpenPractice, theme: Theme, today: Callable[[], date]) -> None:
        super().__init__()
        self._practice, self._today = practice, today
        self._entries: tuple[ClientTitle, ...] = ()
        self._shown: tuple[ClientTitle, ...] = ()
        self._courses: dict[str, list[CourseEntry]] = {}
        self._archive = False
        self._make_parts()
        self._connect()
        self.apply_theme(theme)

    # Layout

    def _make_parts(self) -> None:
        doing = {"bring-in": self.bring_wanted.emit, "archived": self.turn_over}
        self.more = menu_button(self.tr("More…"), list_specs(), doing, self)
        self.new = button(self.tr("New client"), kind="main")
        self.first_new = button(self.tr("New client"), kind="main")
        self.first_bring = button(self.tr("Import a course file…"))
        words = ListWords(
            title=self.tr("Clients"),
            rows=self.tr("Clients"),
            field=self.tr("Filter the list of clients"),
            hint=self.tr("Filter clients"),
        )
        self.list = NarrowedList(
            words,
            Columns(client_columns(), (6, 2, 5, 5)),
            after=(self.more, self.new),
            first_steps=(self.first_new, self.first_bring),
            letters=(26, 26),
        )
        fill_with(self, self.list)

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self.list.apply_theme(theme)

    # Behaviour

    def _connect(self) -> None:
        self.list.narrowed.connect(self._fill)
        self.list.opened.connect(self.opened)
        self.new.clicked.connect(self.new_wanted)
        self.first_new.clicked.connect(self.new_wanted)
        self.first_bring.clicked.connect(self.bring_wanted)

    def turn_over(self) -> None:
        """Show the archive instead of the list, or the list again."""
        self._archive = not self._archive
        self.list.narrow.clear()
        self.load()
        self.take_focus()

    def take_focus(self) -> None:
        """Give the keyboard to the list, or to what makes a first folder."""
        self.list.take_focus(otherwise=self.more if self._archive else self.first_new)

    def load(self) -> None:
        """Read the clients anew; the list stays on the client that it was on."""
        at = self.list.current()
        self._entries = list_client_titles(self._practice, archived=self._archive)
        self.list.title.setText(
            self.tr("Clients in the archive") if self._archive else self.tr("Clients")
        )
        for turn in self.findChildren(QAction, "archived"):
            turn.setText(
                self.tr("Show the clients") if self._archive else self.tr("Show the archive")
            )
        self._courses = {}
        self._fill()
        self.list.select(at)

    def _fill(self) -> None:
        every = self._entries
        self._shown = tuple(matching(self.list.narrow.text(), every, lambda client: client.name))
        self.list.fill(
            tuple(entry.id for entry in self._shown),
            self._cells,
            of=len(every),
            whole=counted(len(every), self.tr("client")),
        )
        self._say_if_empty()

    def _cells(self, row: int) -> tuple[str, ...]:
        entry, today = self._shown[row], self._today()
        if entry.id not in self._courses:
            self._read_courses(row)
        return client_row(entry, tuple(self._courses[entry.id]), today).cells(today)

    def _read_courses(self, row: int) -> None:
        """Read the courses of the clients that come into view with a row, and of no others."""
        first = row - row % BLOCK
        block = [entry.id for entry in self._shown[first : first + BLOCK]]
        self._courses |= {client_id: [] for client_id in block}
        for course in list_courses_of(self._practice, block):
            self._courses[course.client_id].append(course)

    def _say_if_empty(self) -> None:
        self.new.setVisible(bool(self._entries) and not self._archive)
        self.first_bring.setVisible(not self._entries and not self._archive)
        self.first_new.setVisible(not self._archive)
        if self._entries:
            self.list.empty.say(
                self.tr("No match for “{typed}”").format(typed=self.list.narrow.text()),
                self.tr("Try fewer letters, or add a new client."),
            )
        elif self._archive:
            self.list.empty.say(
                self.tr("The archive is empty"),
                self.tr("Archived clients lose nothing and can be restored."),
            )
        else:
            self.list.empty.say(
                self.tr("No clients yet"),
                self.tr("Each client has a page for what matters for safety, and the courses."),
            )
