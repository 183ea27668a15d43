"""The reactions of a client: those on record, and those that the client tells of now."""

from __future__ import annotations

from datetime import date

from PySide6.QtWidgets import QCheckBox, QVBoxLayout, QWidget

from sennight.desktop.clients.past_reaction_dialog import PastReactionDialog
from sennight.desktop.clients.standing import reaction_words
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import button, text_label
from sennight.domain.courses.clients import Reaction
from sennight.domain.tag_words import upper_first
from sennight.practice.materia_medica import supplied_materia_medica


class ReactionsField(QWidget):
    """Shows reactions, adds those of the past, and has a box for having asked."""

    def __init__(self, reactions: tuple[Reaction, ...], *, today: date) -> None:
        super().__init__()
        self._today = today
        self.added: list[Reaction] = []
        self.add = button(self.tr("Add a past reaction"), kind="link")
        self.all_asked = QCheckBox()
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(4)
        self._layout.addWidget(self.add)
        self._layout.addWidget(self.all_asked)
        self.setFocusProxy(self.add)
        self.add.clicked.connect(self.ask)
        for reaction in reactions:
            self._show(reaction)
        self._show_asked(any_there=bool(reactions))

    def _show(self, reaction: Reaction) -> None:
        words = reaction_words(reaction, supplied_materia_medica().names)
        label = text_label(upper_first(f"{words}: {reaction.what}"), Role.TEXT, wrap=True)
        self._layout.addWidget(label)

    def _show_asked(self, *, any_there: bool) -> None:
        none, more = self.tr("Asked: none"), self.tr("Asked: no others")
        self.all_asked.setText(more if any_there else none)

    def ask(self) -> None:
        """Ask for a reaction of the past, and show it."""
        dialog = PastReactionDialog(self, today=self._today)
        if dialog.exec() and dialog.answer is not None:
            self.added.append(dialog.answer)
            self._show(dialog.answer)
            self._show_asked(any_there=True)
        dialog.deleteLater()
