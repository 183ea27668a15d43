"""Two protocols side by side; what only one of them says is marked."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QVBoxLayout, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.desktop.parts.phases_view import PhasesView
from sennight.desktop.parts.protocol_words import PhaseWords, shelf_words
from sennight.practice.protocols import ShelfProtocol


def only_in(words: Sequence[PhaseWords], other: Sequence[PhaseWords]) -> frozenset[str]:
    """The headings and sentences that the other does not have in the same place.

    Phases are held against each other in their order, the flare-up plans at the end too. Of a
    phase that has nothing in common with the other's, the heading alone stands for all of it.
    """
    found: set[str] = set()
    for n, phase in enumerate(words):
        beside = other[n] if n < len(other) else PhaseWords("", ())
        own = {line for line in phase.lines if line not in beside.lines}
        is_other = bool(own) and len(own) == len(set(phase.lines))
        found.update(() if is_other else own)
        if is_other or phase.heading != beside.heading:
            found.add(phase.heading)
    return frozenset(found)


class CompareDialog(FormDialog):
    """One protocol at the left, another of the shelf at the right."""

    def __init__(
        self, shelf: ShelfProtocol, others: Sequence[ShelfProtocol], parent: QWidget | None
    ) -> None:
        super().__init__(
            parent,
            translate("CompareDialog", "Compare protocols"),
            do=translate("CompareDialog", "Close"),
        )
        self.leave_button.hide()
        self._shelf, self._others = shelf, tuple(others)
        self.choice = QComboBox()
        self.choice.setAccessibleName(self.tr("The other protocol"))
        self.choice.addItems([other.protocol.name for other in self._others])
        self.left, self.right = _WholeView(), _WholeView()
        self.left.setAccessibleName(shelf.protocol.name)
        self.right.setAccessibleName(self.tr("The other protocol’s phases"))
        name = text_label(shelf.protocol.name, Role.STRONG, wrap=True)
        name.setMinimumHeight(self.choice.sizeHint().height())  # so that both begin in one line
        self.set_body(
            self.halves(
                _column(name, self.left),
                _column(self.choice, self.right),
                columns=110,
            ),
            columns=124,
            lines=38,
        )
        note = self.tr(
            "In bold: what the other does not say in the same phase; the heading alone where "
            "nothing in the phase is the same."
        )
        self.foot.addWidget(text_label(note, Role.QUIET, wrap=True))
        self.choice.currentIndexChanged.connect(self._compare)
        self._compare()

    def _compare(self) -> None:
        mine = shelf_words(self._shelf)
        theirs = shelf_words(self._others[self.choice.currentIndex()])
        self.left.show_words(mine, marked=only_in(mine, theirs))
        self.right.show_words(theirs, marked=only_in(theirs, mine))


class _WholeView(PhasesView):
    """As high as its words, so that two beside each other scroll together."""

    def __init__(self) -> None:
        super().__init__()
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.document().documentLayout().documentSizeChanged.connect(self._fit)

    def _fit(self) -> None:
        around = self.height() - self.viewport().height()
        self.setFixedHeight(round(self.document().size().height()) + around)


def _column(head: QWidget, view: PhasesView) -> QWidget:
    column = QWidget()
    room = QVBoxLayout(column)
    room.setContentsMargins(0, 0, 0, 0)
    room.addWidget(head)
    room.addWidget(view)
    return column
