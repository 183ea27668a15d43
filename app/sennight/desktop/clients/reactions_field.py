"""The reactions of a client: those on record, and those that the client tells of now."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from PySide6.QtWidgets import QCheckBox, QVBoxLayout, QWidget

from sennight.desktop.clients.draft_values import reaction_from_json, reaction_to_json
from sennight.desktop.clients.past_reaction_dialog import PastReactionDialog
from sennight.desktop.kit.drafts import as_list, as_object, leaving_out_what_cannot_be_read
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.parts.standing import reaction_words
from sennight.domain.courses.clients import Reaction
from sennight.domain.tag_words import upper_first
from sennight.practice.drafts import Json


class ReactionsField(QWidget):
    """Shows reactions, adds those of the past, and has a box for having asked.

    `names` are those of the herbs by their ids, the practice's own among them.
    """

    def __init__(
        self, reactions: tuple[Reaction, ...], names: Mapping[str, str], *, today: date
    ) -> None:
        super().__init__()
        self._today, self._names = today, names
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
        words = reaction_words(reaction, self._names)
        label = text_label(upper_first(f"{words}: {reaction.what}"), Role.TEXT, wrap=True)
        self._layout.addWidget(label)

    def _show_asked(self, *, any_there: bool) -> None:
        none, more = self.tr("Asked: none"), self.tr("Asked: no others")
        self.all_asked.setText(more if any_there else none)

    def ask(self) -> None:
        """Ask for a reaction of the past, and show it."""
        dialog = PastReactionDialog(self, self._names, today=self._today)
        dialog.keep_draft_within(self, "past-reaction")
        if dialog.exec() and dialog.answer is not None:
            self._take(dialog.answer)
        dialog.deleteLater()

    def _take(self, reaction: Reaction) -> None:
        self.added.append(reaction)
        self._show(reaction)
        self._show_asked(any_there=True)

    # What is typed, kept on disk

    def draft_value(self) -> Json:
        """The reactions that were added, and whether the box is ticked."""
        return {
            "asked": self.all_asked.isChecked(),
            "added": [reaction_to_json(reaction) for reaction in self.added],
        }

    def put_draft_value(self, value: Json) -> None:
        """Add them again."""
        with leaving_out_what_cannot_be_read():
            content = as_object(value)
            self.all_asked.setChecked(bool(content["asked"]))
            reactions = [reaction_from_json(added) for added in as_list(content["added"])]
            for reaction in reactions:
                if reaction not in self.added:
                    self._take(reaction)
