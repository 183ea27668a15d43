"""The list of herbs: search by anything that is held of them."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from sennight.desktop.clients.list_page import NarrowField
from sennight.desktop.clients.standing import tag_words
from sennight.desktop.materia_medica.search import Facet, Found, facet_name, search
from sennight.desktop.materia_medica.words import own_words
from sennight.desktop.tables import RowsView, TextTable
from sennight.desktop.theme import Look, Role
from sennight.desktop.widgets import Empty, button, words
from sennight.domain.herbs import Herb
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs, list_own_herbs


class HerbsPage(QWidget):
    """All herbs by name, the practice's own marked as such; retired ones are left out."""

    opened = Signal(str)
    new_wanted = Signal()

    def __init__(self, practice: OpenPractice, look: Look) -> None:
        super().__init__()
        self._practice = practice
        self._all: tuple[Herb, ...] = ()
        self._shown: tuple[Found, ...] = ()
        self._make_parts()
        self._lay_out()
        self._connect()
        self.set_look(look)

    # Layout

    def _make_parts(self) -> None:
        self.title = words(self.tr("Materia medica"), Role.TITLE)
        self.count = words("", Role.QUIET)
        self.narrow = NarrowField()
        self.narrow.setPlaceholderText(self.tr("Name, action, caution, source …"))
        self.narrow.setAccessibleName(self.tr("Search the herbs"))
        self.narrow.setClearButtonEnabled(True)
        self.facet = QComboBox()
        self.facet.setAccessibleName(self.tr("What to search"))
        self.facet.setMinimumContentsLength(10)
        self.facet.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        for facet in Facet:
            self.facet.addItem(facet_name(facet), facet)
        self.new = button(self.tr("New herb"), kind="main")
        headings = (self.tr("Herb"), self.tr("Latin name"), self.tr("Part"), self.tr("Actions"))
        self.model = TextTable(headings, self)
        self.rows = RowsView(self.model, shares=(5, 6, 3, 9))
        self.rows.setAccessibleName(self.tr("Herbs"))
        self.empty = Empty("", "")
        self.body = QStackedWidget()
        self.body.addWidget(self.rows)
        self.body.addWidget(self.empty)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.title, 0, Qt.AlignmentFlag.AlignBottom)
        head.addWidget(self.count, 0, Qt.AlignmentFlag.AlignBottom)
        head.addStretch(1)
        for part in (self.facet, self.narrow, self.new):
            head.addWidget(part)
        self._layout = QVBoxLayout(self)
        self._layout.addLayout(head)
        self._layout.addWidget(self.body, 1)

    def set_look(self, look: Look) -> None:
        """Distances for the size of text."""
        self._layout.setContentsMargins(look.unit * 8, look.unit * 4, look.unit * 8, look.unit * 4)
        self._layout.setSpacing(look.unit * 5)
        wide = self.fontMetrics().horizontalAdvance("n")
        self.narrow.setMinimumWidth(wide * 12)
        self.narrow.setMaximumWidth(wide * 26)

    # Behaviour

    def _connect(self) -> None:
        self.narrow.textChanged.connect(self._fill)
        self.facet.currentIndexChanged.connect(self._fill)
        self.narrow.into_list.connect(self._into_list)
        self.rows.chosen.connect(lambda row: self.opened.emit(self._shown[row].herb.id))
        self.new.clicked.connect(self.new_wanted)

    def _into_list(self) -> None:
        if self._shown:
            self.rows.setFocus(Qt.FocusReason.OtherFocusReason)

    def take_keyboard(self) -> None:
        """Give the keyboard to the list, or to the search where it found nothing."""
        first: QWidget = self.rows if self._shown else self.narrow
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def load(self) -> None:
        """Read the herbs anew; the list stays on the herb that it was on."""
        row = self.rows.currentIndex().row()
        at = self._shown[row].herb.id if 0 <= row < len(self._shown) else ""
        held = known_herbs(self._practice)
        retired = {own.id for own in list_own_herbs(self._practice, retired=True)}
        self._all = tuple(held.herbs[name] for name in held.names if name not in retired)
        self._fill()
        for n, found in enumerate(self._shown):
            if found.herb.id == at:
                self.rows.select_row(n)

    def _fill(self) -> None:
        typed = self.narrow.text()
        self._shown = search(self._all, typed, self.facet.currentData())
        self.model.show_rows(len(self._shown), self._cells)
        shown, every = len(self._shown), len(self._all)
        whole = self.tr("{n} herbs").format(n=every)
        told = self.tr("{shown} of {all}").format(shown=shown, all=every)
        self.count.setText(whole if shown == every else told)
        self.body.setCurrentWidget(self.rows if self._shown else self.empty)
        self.empty.say(
            self.tr("Nothing is recorded of “{typed}”").format(typed=typed),
            self.tr("Type less of the word, search in anything, or enter a herb of your own."),
        )

    def _cells(self, row: int) -> tuple[str, ...]:
        found = self._shown[row]
        herb = found.herb
        mark = own_words(herb)
        name = f"{herb.name} ({mark})" if mark else herb.name
        actions = ", ".join(tag_words(tag) for tag in herb.actions.tags)
        where = self.tr("found: {where}").format(where=found.where) if found.where else actions
        return name, herb.latin, herb.part, where
