"""The shelf of protocols: the practice's own, and those that come with the program."""

from __future__ import annotations

from collections import Counter

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.matching import matching
from sennight.desktop.kit.narrowed_list import Columns, ListWords, NarrowedList
from sennight.desktop.kit.section import Page, Surroundings
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.widgets import button, fill_with
from sennight.desktop.parts.protocol_words import phases_summary
from sennight.desktop.parts.shelf_name import ShelfNameForm
from sennight.desktop.parts.tags import tag_words
from sennight.domain.directions.plain_words import counted
from sennight.practice.opening import OpenPractice
from sennight.practice.protocols import ShelfProtocol, given_courses, list_protocols
from sennight.practice.supplied_protocols import SUPPLIED, supplied_protocols


class NameDialog(FormDialog):
    """Asks for the name of a protocol, one that nothing on the shelf has yet."""

    def __init__(
        self, practice: OpenPractice, parent: QWidget | None, title: str, do: str, name: str
    ) -> None:
        super().__init__(parent, title, do=do)
        self._was = name
        self.shelf = ShelfNameForm(practice, self.tr("Name"), name)
        self.set_body(self.shelf, columns=58, lines=15)
        self.shelf.name.selectAll()
        self.shelf.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def is_changed(self) -> bool:
        """Whether another name was typed."""
        return self.shelf.text != self._was

    def submit(self) -> None:
        """Accept with a name of its own."""
        if self.shelf.is_right():
            self.accept()
        else:
            self.shelf.name.setFocus(Qt.FocusReason.OtherFocusReason)


class ShelfPage(Page):
    """All protocols by name, with their phases, what they are for, and who takes them."""

    opened = Signal(str)
    new_wanted = Signal()
    file_wanted = Signal()

    def __init__(self, around: Surroundings) -> None:
        super().__init__()
        self._around = around
        self._all: tuple[ShelfProtocol, ...] = ()
        self._shown: tuple[ShelfProtocol, ...] = ()
        self._given: Counter[str] = Counter()
        self._make_parts()
        self.list.narrowed.connect(self._fill)
        self.list.opened.connect(self.opened)
        self.new.clicked.connect(self.new_wanted)
        self.from_file.clicked.connect(self.file_wanted)
        self.apply_theme(around.theme)

    def _make_parts(self) -> None:
        self.new = button(self.tr("New protocol"), kind="main")
        self.from_file = button(self.tr("From a file…"))
        headings = (
            self.tr("Name"),
            self.tr("Phases"),
            self.tr("Wanted actions"),
            self.tr("Given"),
        )
        words = ListWords(
            title=self.tr("Protocols"),
            rows=self.tr("Protocols"),
            field=self.tr("Filter the list of protocols"),
            hint=self.tr("Name or action"),
            drawing="protocols",
        )
        self.list = NarrowedList(
            words, Columns(headings, (4, 7, 6, 2)), after=(self.from_file, self.new)
        )
        fill_with(self, self.list)

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self.list.apply_theme(theme)

    def take_focus(self) -> None:
        """Give the keyboard to the list."""
        self.list.take_focus(otherwise=self.new)

    def load(self) -> None:
        """Read the shelf anew; the list stays on the protocol that it was on."""
        at, practice = self.list.current(), self._around.practice
        self._given = Counter(title.protocol_name for title in given_courses(practice))
        self._all = (*list_protocols(practice), *supplied_protocols())
        self._fill()
        self.list.select(at)

    def _fill(self) -> None:
        typed = self.list.narrow.text()
        self._shown = tuple(matching(typed, self._all, _searched))
        every = len(self._all)
        self.list.fill(
            tuple(shelf.id for shelf in self._shown),
            self._cells,
            of=every,
            whole=counted(every, self.tr("protocol")),
        )
        self.list.empty.say(
            self.tr("No match for “{typed}”").format(typed=typed),
            self.tr("Try fewer letters, or create a new protocol."),
        )

    def _cells(self, row: int) -> tuple[str, ...]:
        shelf = self._shown[row]
        protocol, is_supplied = shelf.protocol, shelf.id.startswith(SUPPLIED)
        aims = ", ".join(tag_words(action) for action in protocol.aims)
        count = 0 if is_supplied else self._given[protocol.name]
        given = counted(count, self.tr("course")) if count else ""
        return (
            protocol.name,
            phases_summary(protocol),
            aims[:1].upper() + aims[1:],
            self.tr("supplied") if is_supplied else given,
        )


def _searched(shelf: ShelfProtocol) -> str:
    names = (remedy.name for remedy in shelf.remedies)
    aims = (tag_words(action) for action in shelf.protocol.aims)
    return " ".join((shelf.protocol.name, *aims, *names))
