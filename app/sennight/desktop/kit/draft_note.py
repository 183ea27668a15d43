"""The line in a form that says that typed words came back, or cannot be kept."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QHBoxLayout, QWidget

from sennight.desktop.kit.drafts import DraftKeeper
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, restyle, text_label
from sennight.domain.directions.plain_words import listed, plain_date
from sennight.practice.drafts import Draft


def brought_back_words(draft: Draft, otherwise: Sequence[str] = ()) -> str:
    """When the words that are back were typed, and which fields to look at."""
    typed = draft.typed.astimezone()
    text = translate("Drafts", "Not saved on {day} at {time}; here it is again.").format(
        day=plain_date(typed.date()), time=typed.strftime("%H:%M")
    )
    if otherwise:
        look = translate("Drafts", " Changed elsewhere since then, please check: {fields}.")
        text += look.format(fields=listed(list(otherwise)))
    return text


class DraftNote(QWidget):
    """Hidden while there is nothing to say; offers to begin again without the words."""

    def __init__(self, keeper: DraftKeeper) -> None:
        super().__init__()
        self.message = text_label("", Role.STRONG, wrap=True)
        self.discard = button(translate("Drafts", "Discard"), kind="link")
        self.discard.setAccessibleDescription(
            translate("Drafts", "Start again without what was not saved")
        )
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.message, 1)
        row.addWidget(self.discard)
        keeper.brought_back.connect(self._brought_back)
        keeper.refused.connect(self._refused)
        self.discard.clicked.connect(keeper.start_afresh)
        self.discard.clicked.connect(self.hide)
        self.hide()

    def _brought_back(self, draft: Draft, otherwise: list[str]) -> None:
        self._say(brought_back_words(draft, otherwise), alarm=bool(otherwise))
        self.discard.show()

    def _refused(self, trouble: str) -> None:
        kept = translate("Drafts", "What you type is not kept until it is saved: {why}")
        self._say(kept.format(why=trouble) if trouble else "", alarm=True)
        self.discard.hide()

    def _say(self, text: str, *, alarm: bool) -> None:
        self.message.setText(text)
        self.message.setProperty("role", "alarm" if alarm else "strong")
        restyle(self.message)
        self.setVisible(bool(text))
