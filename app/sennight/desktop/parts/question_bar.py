"""What could be meant by directions that could be misread, as buttons; nothing is ever guessed.

The buttons leave the keyboard where it is, so that a field that is being typed into stays open;
Alt and the button's number press it.
"""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from sennight.desktop.kit.plain_text import plain_caption
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button
from sennight.desktop.parts.directions_edit import DirectionsEdit
from sennight.domain.directions.pieces import Question


class QuestionBar(QWidget):
    """A button for each choice of a question; `chosen` carries the one that was meant."""

    chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.buttons: tuple[QPushButton, ...] = ()
        self._choices: tuple[str, ...] = ()
        self._room = QHBoxLayout(self)
        self._room.setContentsMargins(0, 0, 0, 0)
        self._room.addStretch(1)
        self.hide()

    @classmethod
    def beneath(cls, edit: DirectionsEdit) -> QuestionBar:
        """The bar of one field, which writes the choice into it."""
        bar = cls()
        edit.asked.connect(bar.ask)
        bar.chosen.connect(edit.choose)
        return bar

    def ask(self, question: Question | None) -> None:
        """Show what could be meant, or nothing."""
        choices = question.choices if question else ()
        if choices != self._choices:
            self._choices = choices
            self._replace(choices)
        self.setVisible(bool(choices))

    def _replace(self, choices: tuple[str, ...]) -> None:
        for before in self.buttons:
            self._room.removeWidget(before)
            before.deleteLater()
        made = []
        for place, choice in enumerate(choices):
            press = button(choice)
            press.setText(f"&{place + 1}  {plain_caption(choice)}")
            press.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            said = translate("QuestionBar", "{choice} is meant").format(choice=choice)
            press.setAccessibleName(said)
            press.clicked.connect(partial(self._press, choice))
            self._room.insertWidget(place, press)
            made.append(press)
        self.buttons = tuple(made)

    def _press(self, choice: str) -> None:
        self.chosen.emit(choice)
