"""The field in which a condition, medicine or allergy is typed, and offered by its name."""

from __future__ import annotations

from PySide6.QtCore import QStringListModel, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCompleter, QLineEdit

from sennight.desktop.kit.name_field import FROM_NAME, MOST_SHOWN
from sennight.desktop.kit.widgets import offer_list
from sennight.desktop.parts.fact_words import meaning_words, record_words
from sennight.domain.client_facts.naming import Match, Offer
from sennight.domain.courses.clients import Fact, Topic
from sennight.domain.tag_words import upper_first
from sennight.knowledge.fact_names import fact_of, herb_index, is_tag, offered, taken
from sennight.practice.materia_medica import supplied_materia_medica


class FactEntry(QLineEdit):
    """Offers what may be meant while a name is typed; Enter takes it.

    An exact name is taken as it is, and so is the only one that begins with what was typed.
    Words that nothing is called by are kept as they are by a second Enter. Enter where nothing is
    typed goes on (`onward`).
    """

    picked = Signal(Fact)
    unknown = Signal(str)
    onward = Signal()

    def __init__(self, topic: Topic) -> None:
        super().__init__()
        self._topic, self._refused = topic, ""
        is_allergy = topic is Topic.ALLERGIES
        self._herbs = herb_index(supplied_materia_medica().headings) if is_allergy else None
        self._offers: dict[str, Offer] = {}
        self._rows = QStringListModel(self)
        completer = QCompleter(self._rows, self)
        completer.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        completer.setMaxVisibleItems(MOST_SHOWN)
        self.popup = offer_list()
        completer.setPopup(self.popup)
        completer.activated.connect(self._choose, Qt.ConnectionType.QueuedConnection)
        self.setCompleter(completer)
        self._typed = ""
        self.textEdited.connect(self._offer)

    @property
    def typed(self) -> str:
        """What was typed, without space around it."""
        return self.text().strip()

    def _offer(self) -> None:
        """Show what may be meant; called at every key, before the list opens."""
        self._typed = self.typed
        offers = offered(self._topic, self._typed, self._herbs)
        self._offers = {self._row(offer): offer for offer in offers}
        self._rows.setStringList(list(self._offers))

    def _row(self, offer: Offer) -> str:
        """An offer as a line of the list: its name, and what it is."""
        name = record_words(self._topic, offer.tag)
        known_as = self.tr("did you mean this?") if offer.match is Match.SLIP else ""
        if not known_as and offer.name.lower() not in name.lower():
            known_as = offer.name
        about = [part for part in (known_as, meaning_words(self._topic, offer.tag)) if part]
        return upper_first(name) + (FROM_NAME + "; ".join(about) if about else "")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter takes what was typed, or goes on; with Ctrl it is the dialog's."""
        is_enter = event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}
        if not is_enter or event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            super().keyPressEvent(event)
        elif self.typed:
            self.enter()
        else:
            self.onward.emit()

    def enter(self) -> None:
        """Take what was typed, or say why it is not taken yet."""
        fact = self._exact() or self._only_one()
        if fact is None and self._refused == self.typed:
            fact = fact_of(self._topic, self.typed)
        if fact is None:
            self._refused = self.typed
            self.unknown.emit(self._nothing_known())
            return
        self._hand_over(fact)

    def _exact(self) -> Fact | None:
        if self._herbs is not None and (herb := self._herbs.exact(self.typed)):
            return Fact(herb)
        fact = fact_of(self._topic, self.typed)
        return fact if fact.tag else None

    def _only_one(self) -> Fact | None:
        """The one thing whose name begins with what was typed."""
        offers = offered(self._topic, self.typed, self._herbs)
        fitting = [offer for offer in offers if offer.match in {Match.BEGINS, Match.WORDS}]
        return self._fact(fitting[0]) if len(fitting) == 1 and len(offers) == 1 else None

    def _fact(self, offer: Offer) -> Fact:
        is_herb = self._herbs is not None and not is_tag(self._topic, offer.tag)
        return Fact(offer.tag) if is_herb else taken(self._topic, self._typed, offer.tag)

    def _choose(self, row: str) -> None:
        """Take a line of the list."""
        self._hand_over(self._fact(self._offers[row]))

    def _hand_over(self, fact: Fact) -> None:
        self.clear()
        self._refused = ""
        self.picked.emit(fact)

    def _nothing_known(self) -> str:
        text = self.tr(
            "No match for “{word}”. Choose from the list, or press Enter again to add it in "
            "your own words; it will not be checked"
        )
        return text.format(word=self.typed)

    def problem(self) -> str:
        """What is wrong with what is still typed here: it has to be taken, or cleared."""
        text = self.tr("“{word}” is not added yet: press Enter to add it, or clear this field")
        return text.format(word=self.typed)
