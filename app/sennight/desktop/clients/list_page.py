"""The list of clients."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QStackedWidget, QVBoxLayout, QWidget

from sennight.desktop.clients.actions import list_specs
from sennight.desktop.clients.rows import client_columns, client_row
from sennight.desktop.course.actions import menu_button
from sennight.desktop.matching import matching
from sennight.desktop.tables import RowsView, TextTable
from sennight.desktop.theme import Look, Role
from sennight.desktop.widgets import Empty, button, words
from sennight.domain.plain_words import counted
from sennight.practice.clients import ClientEntry, list_clients
from sennight.practice.courses import CourseEntry, list_courses
from sennight.practice.opening import OpenPractice


class NarrowField(QLineEdit):
    """Narrows a list as it is typed into; Down and Enter go into the list."""

    into_list = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Down and Enter leave for the list; Escape clears what was typed."""
        if event.key() in {Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.into_list.emit()
        elif event.key() == Qt.Key.Key_Escape and self.text():
            self.clear()
        else:
            super().keyPressEvent(event)


class ClientsPage(QWidget):
    """All clients by name, with what they take now."""

    opened = Signal(str)
    new_wanted = Signal()
    bring_wanted = Signal()

    def __init__(self, practice: OpenPractice, look: Look, today: Callable[[], date]) -> None:
        super().__init__()
        self._practice, self._today = practice, today
        self._entries: tuple[ClientEntry, ...] = ()
        self._shown: tuple[ClientEntry, ...] = ()
        self._courses: dict[str, list[CourseEntry]] = {}
        self._archive = False
        self._make_parts()
        self._lay_out()
        self._connect()
        self.set_look(look)

    # Layout

    def _make_parts(self) -> None:
        self.title = words(self.tr("Clients"), Role.TITLE)
        self.count = words("", Role.QUIET)
        self.narrow = NarrowField()
        self.narrow.setPlaceholderText(self.tr("Narrow the list"))
        self.narrow.setAccessibleName(self.tr("Narrow the list of clients"))
        self.narrow.setClearButtonEnabled(True)
        self.new = button(self.tr("New client"), kind="main")
        self.model = TextTable(client_columns(), self)
        self.rows = RowsView(self.model, shares=(6, 2, 5, 5))
        self.rows.setAccessibleName(self.tr("Clients"))
        doing = {"bring-in": self.bring_wanted.emit, "archived": self.turn_over}
        self.more = menu_button(self.tr("More…"), list_specs(), doing, self)
        self.first_new = button(self.tr("New client"), kind="main")
        self.first_bring = button(self.tr("Bring in a course file…"))
        self.empty = Empty("", "", self.first_new, self.first_bring)
        self.body = QStackedWidget()
        self.body.addWidget(self.rows)
        self.body.addWidget(self.empty)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.title, 0, Qt.AlignmentFlag.AlignBottom)
        head.addWidget(self.count, 0, Qt.AlignmentFlag.AlignBottom)
        head.addStretch(1)
        head.addWidget(self.narrow)
        head.addWidget(self.more)
        head.addWidget(self.new)
        self._layout = QVBoxLayout(self)
        self._layout.addLayout(head)
        self._layout.addWidget(self.body, 1)

    def set_look(self, look: Look) -> None:
        """Distances for the size of text."""
        self._layout.setContentsMargins(look.unit * 8, look.unit * 4, look.unit * 8, look.unit * 4)
        self._layout.setSpacing(look.unit * 5)
        self.narrow.setFixedWidth(self.fontMetrics().horizontalAdvance("n") * 26)

    # Behaviour

    def _connect(self) -> None:
        self.narrow.textChanged.connect(self._fill)
        self.narrow.into_list.connect(self._into_list)
        self.rows.chosen.connect(lambda row: self.opened.emit(self._shown[row].id))
        self.new.clicked.connect(self.new_wanted)
        self.first_new.clicked.connect(self.new_wanted)
        self.first_bring.clicked.connect(self.bring_wanted)

    def turn_over(self) -> None:
        """Show the archive instead of the list, or the list again."""
        self._archive = not self._archive
        self.narrow.clear()
        self.load()
        self.take_keyboard()

    def _into_list(self) -> None:
        if self._shown:
            self.rows.setFocus(Qt.FocusReason.OtherFocusReason)

    def take_keyboard(self) -> None:
        """Give the keyboard to the list, or to what makes a first folder."""
        empty = self.more if self._archive else self.first_new
        first = self.rows if self._shown else empty
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def load(self) -> None:
        """Read the clients anew; the list stays on the client that it was on."""
        at = self.current()
        self._entries = list_clients(self._practice, archived=self._archive)
        self.title.setText(
            self.tr("Clients in the archive") if self._archive else self.tr("Clients")
        )
        for turn in self.findChildren(QAction, "archived"):
            turn.setText(
                self.tr("Show the clients") if self._archive else self.tr("Show the archive")
            )
        self._courses = {}
        for course in list_courses(self._practice):
            self._courses.setdefault(course.client_id, []).append(course)
        self._fill()
        self.select(at)

    def current(self) -> str:
        """The id of the client that the list is on, or nothing."""
        row = self.rows.currentIndex().row()
        return self._shown[row].id if 0 <= row < len(self._shown) else ""

    def select(self, client_id: str) -> None:
        """Put the list on a client, if it is shown."""
        for row, entry in enumerate(self._shown):
            if entry.id == client_id:
                self.rows.select_row(row)

    def _fill(self) -> None:
        typed = self.narrow.text()
        self._shown = matching(typed, self._entries, lambda entry: entry.client.name)
        self.model.show_rows(len(self._shown), self._cells)
        self.count.setText(self._count_words())
        self._say_if_empty()

    def _cells(self, row: int) -> tuple[str, ...]:
        entry, today = self._shown[row], self._today()
        return client_row(entry, tuple(self._courses.get(entry.id, ())), today).cells(today)

    def _count_words(self) -> str:
        shown, all_of_them = len(self._shown), len(self._entries)
        if shown != all_of_them:
            return self.tr("{shown} of {all}").format(shown=shown, all=all_of_them)
        return counted(all_of_them, self.tr("client")) if all_of_them else ""

    def _say_if_empty(self) -> None:
        self.body.setCurrentWidget(self.rows if self._shown else self.empty)
        self.narrow.setVisible(bool(self._entries))
        self.new.setVisible(bool(self._entries) and not self._archive)
        self.first_bring.setVisible(not self._entries and not self._archive)
        self.first_new.setVisible(not self._archive)
        if self._entries:
            self.empty.say(
                self.tr("No client fits “{typed}”").format(typed=self.narrow.text()),
                self.tr("Type less of the name, or make a folder for someone new."),
            )
        elif self._archive:
            self.empty.say(
                self.tr("The archive is empty"),
                self.tr("A folder that is put into the archive stays whole, and can come back."),
            )
        else:
            self.empty.say(
                self.tr("No clients yet"),
                self.tr("A client's folder holds what matters for safety, and the courses."),
            )
