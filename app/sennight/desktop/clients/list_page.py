"""The list of clients."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction, QColor
from PySide6.QtWidgets import QComboBox

from sennight.desktop.clients.actions import list_specs
from sennight.desktop.clients.choosing import Order, Which, clients_of, in_order
from sennight.desktop.clients.list_table import (
    BEHIND,
    DIARY,
    FLAGS,
    NARROW_SHARES,
    NEXT,
    SHARES,
    TREND,
    ClientsTable,
    TrendDelegate,
    diary_age,
    diary_words,
    flags_words,
    list_columns,
    next_words,
    trend_words,
)
from sennight.desktop.clients.rows import client_row
from sennight.desktop.kit.matching import matching
from sennight.desktop.kit.menus import menu_button
from sennight.desktop.kit.narrowed_list import Columns, ListWords, NarrowedList
from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.section import Page
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.widgets import button, fill_with
from sennight.domain.directions.plain_words import counted
from sennight.practice.client_list import ClientStanding, Trend, list_client_standings, trends
from sennight.practice.courses import CourseEntry, list_courses_of
from sennight.practice.opening import OpenPractice
from sennight.practice.standings import is_behind

LEAST_CHOICE, LEAST_ORDER = 15, 19
"""Units of width that the choices keep in a narrow window."""
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
        self._entries: tuple[ClientStanding, ...] = ()
        self._shown: tuple[ClientStanding, ...] = ()
        self._courses: dict[str, list[CourseEntry]] = {}
        self._trends: dict[str, Trend] = {}
        self._archive = False
        self._read_at: tuple[int, date, bool, bool] | None = None
        self._make_parts()
        self._connect()
        self.apply_theme(theme)

    # Layout

    def _make_parts(self) -> None:
        doing = {"bring-in": self.bring_wanted.emit, "archived": self.turn_over}
        self.more = menu_button(self.tr("More…"), list_specs(), doing, self)
        self.new = button(self.tr("New client"), kind="main")
        for push_button in (self.more, self.new):
            push_button.setProperty("head", "true")
        self.first_new = button(self.tr("New client"), kind="main")
        self.first_bring = button(self.tr("Import a course file…"))
        words = ListWords(
            title=self.tr("Clients"),
            rows=self.tr("Clients"),
            field=self.tr("Filter the list of clients"),
            hint=self.tr("Filter clients"),
            drawing="clients",
        )
        self.table, self.trend = ClientsTable(self), TrendDelegate(self)
        self.which, self.order = self._choice(self._kinds()), self._choice(self._orders())
        self.which.setToolTip(
            plain_tip(self.tr("This week: a review or an appointment, or one that is overdue"))
        )
        self.which.setAccessibleName(self.tr("Which clients"))
        self.order.setAccessibleName(self.tr("Order of the clients"))
        self.list = NarrowedList(
            words,
            Columns(list_columns(), SHARES, NARROW_SHARES, self.table),
            before=(self.which, self.order),
            after=(self.more, self.new),
            first_steps=(self.first_new, self.first_bring),
            letters=(8, 20),
        )
        self.list.rows.setItemDelegateForColumn(TREND, self.trend)
        self.table.tone, self.table.trend = self._tone, self._trend
        fill_with(self, self.list)

    def _choice(self, choices: Sequence[tuple[str, object]]) -> QComboBox:
        box = QComboBox()
        for text, choice in choices:
            box.addItem(text, choice)
        return box

    def _kinds(self) -> tuple[tuple[str, Which], ...]:
        return (
            (self.tr("All"), Which.ALL),
            (self.tr("Under way"), Which.RUNNING),
            (self.tr("This week"), Which.DUE),
            (self.tr("Diary behind"), Which.DIARY),
            (self.tr("Red flags"), Which.FLAGS),
        )

    def _orders(self) -> tuple[tuple[str, Order], ...]:
        return (
            (self.tr("By name"), Order.NAME),
            (self.tr("By next"), Order.NEXT),
            (self.tr("By diary"), Order.DIARY),
            (self.tr("By red flags"), Order.FLAGS),
        )

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self.table.theme = self.trend.theme = theme
        self.which.setMinimumWidth(theme.unit * LEAST_CHOICE)
        self.order.setMinimumWidth(theme.unit * LEAST_ORDER)
        self.list.apply_theme(theme)
        self.list.count.setHidden(theme.is_large)

    # Behaviour

    def _connect(self) -> None:
        self.list.narrowed.connect(self._fill)
        self.which.currentIndexChanged.connect(lambda _index: self._fill())
        self.order.currentIndexChanged.connect(lambda _index: self._fill())
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
        """Show the clients, read anew where something was saved; the list stays where it was."""
        at, behind = self.list.current(), is_behind(self._practice)
        now = self._practice.changes, self._today(), self._archive, behind
        if now != self._read_at:
            self._entries = list_client_standings(
                self._practice, self._today(), archived=self._archive
            )
            self._courses, self._trends = {}, {}
            self._read_at = now
        self.list.title.setText(
            self.tr("Clients in the archive") if self._archive else self.tr("Clients")
        )
        for turn in self.findChildren(QAction, "archived"):
            turn.setText(
                self.tr("Show the clients") if self._archive else self.tr("Show the archive")
            )
        self._fill()
        self.list.select(at)

    def _fill(self) -> None:
        every, today = self._entries, self._today()
        chosen = clients_of(every, self.which.currentData(), today)
        found = matching(self.list.narrow.text(), chosen, lambda client: client.name)
        self._shown = in_order(found, self.order.currentData(), today)
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
        return (
            *client_row(entry.title, tuple(self._courses[entry.id]), today).cells(today),
            next_words(entry.next, today),
            diary_words(entry, today),
            trend_words(self._trends.get(entry.course)),
            flags_words(entry),
        )

    def _trend(self, row: int) -> Trend | None:
        return self._trends.get(self._shown[row].course)

    def _tone(self, row: int, column: int, theme: Theme) -> QColor | None:
        """What is late or stands, in alarm; what nobody asked for, as a doubt."""
        entry, today = self._shown[row], self._today()
        if column == FLAGS and not entry.red_flags:
            return theme.slate if entry.asked_for_flags else theme.doubt
        is_late = (
            (column == NEXT and entry.next is not None and entry.next.day < today)
            or (column == DIARY and (diary_age(entry, today) or 0) >= BEHIND)
            or column == FLAGS
        )
        return theme.alarm if is_late else None

    def _read_courses(self, row: int) -> None:
        """Read the courses of the clients that come into view with a row, and of no others."""
        first = row - row % BLOCK
        rows = self._shown[first : first + BLOCK]
        block = [entry.id for entry in rows]
        self._courses |= {client_id: [] for client_id in block}
        self._trends |= trends(self._practice, (entry.course for entry in rows if entry.course))
        for course in list_courses_of(self._practice, block):
            self._courses[course.client_id].append(course)

    def _say_if_empty(self) -> None:
        for choice in (self.which, self.order):
            choice.setVisible(bool(self._entries))
        self.new.setVisible(bool(self._entries) and not self._archive)
        self.first_bring.setVisible(not self._entries and not self._archive)
        self.first_new.setVisible(not self._archive)
        if self._entries:
            self.list.empty.say(
                self._no_match(),
                self.tr("Try fewer letters, or add a new client.")
                if self.list.narrow.text()
                else self.tr("Choose “All” to see every client."),
            )
        elif self._archive:
            self.list.empty.say(
                self.tr("The archive is empty"),
                self.tr("Archived clients lose nothing and can be restored."),
            )
        else:
            self.list.empty.say(
                self.tr("No clients yet"),
                self.tr("Add your first client: name, date of birth and what matters for safety."),
            )

    def _no_match(self) -> str:
        typed = self.list.narrow.text()
        if typed:
            return self.tr("No match for “{typed}”").format(typed=typed)
        return self.tr("Nobody under “{which}”").format(which=self.which.currentText())
