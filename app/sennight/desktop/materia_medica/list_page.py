"""The list of herbs: search by anything that is held of them."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox

from sennight.desktop.kit.narrowed_list import Columns, ListWords, NarrowedList
from sennight.desktop.kit.section import Page
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.widgets import button, fill_with
from sennight.desktop.materia_medica.search import Facet, Hit, facet_name, search
from sennight.desktop.materia_medica.words import own_words
from sennight.desktop.parts.tags import tag_words
from sennight.domain.herbs.herbs import Herb
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs, list_own_herbs


class HerbsPage(Page):
    """All herbs by name, the practice's own marked as such; retired ones are left out."""

    opened = Signal(str)
    new_wanted = Signal()

    def __init__(self, practice: OpenPractice, theme: Theme) -> None:
        super().__init__()
        self._practice = practice
        self._all: tuple[Herb, ...] = ()
        self._shown: tuple[Hit, ...] = ()
        self._make_parts()
        self._connect()
        self.apply_theme(theme)

    # Layout

    def _make_parts(self) -> None:
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
        words = ListWords(
            title=self.tr("Herbs"),
            rows=self.tr("Herbs"),
            field=self.tr("Search the herbs"),
            hint=self.tr("Search"),
            drawing="herbs",
        )
        self.list = NarrowedList(
            words,
            Columns(headings, (5, 6, 3, 9), narrow=(5, 5, 0, 8)),
            before=(self.facet,),
            after=(self.new,),
        )
        fill_with(self, self.list)

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self.list.apply_theme(theme)

    # Behaviour

    def _connect(self) -> None:
        self.list.narrowed.connect(self._fill)
        self.facet.currentIndexChanged.connect(self._fill)
        self.list.opened.connect(self.opened)
        self.new.clicked.connect(self.new_wanted)

    def take_focus(self) -> None:
        """Give the keyboard to the list, or to the search where it found nothing."""
        self.list.take_focus(otherwise=self.list.narrow)

    def load(self) -> None:
        """Read the herbs anew; the list stays on the herb that it was on."""
        at = self.list.current()
        materia_medica = known_herbs(self._practice)
        retired = {own.id for own in list_own_herbs(self._practice, retired=True)}
        self._all = tuple(
            materia_medica.herbs[name] for name in materia_medica.names if name not in retired
        )
        self._fill()
        self.list.select(at)

    def _fill(self) -> None:
        typed, every = self.list.narrow.text(), len(self._all)
        self._shown = search(self._all, typed, self.facet.currentData())
        self.list.empty.say(
            self.tr("No match for “{typed}”").format(typed=typed),
            self.tr("Try fewer letters, search all fields, or add a herb of your own."),
        )
        self.list.fill(
            tuple(hit.herb.id for hit in self._shown),
            self._cells,
            of=every,
            whole=self.tr("{n} herbs").format(n=every),
        )

    def _cells(self, row: int) -> tuple[str, ...]:
        hit = self._shown[row]
        herb = hit.herb
        mark = own_words(herb)
        name = f"{herb.name} ({mark})" if mark else herb.name
        actions = ", ".join(tag_words(tag) for tag in herb.actions.tags)
        where = self.tr("found: {where}").format(where=hit.where) if hit.where else actions
        return name, herb.latin, herb.part, where
