"""What could be meant by directions that could be misread, as buttons; nothing is ever guessed.

The buttons leave the keyboard where it is, so that a field that is being typed into stays open;
Alt and the button's number press it.
"""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QWidget

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
        self._made: list[QPushButton] = []
        self._group = QButtonGroup(self)
        self._group.idClicked.connect(self._press)
        self._choices: tuple[str, ...] = ()
        self._room = QHBoxLayout(self)
        self._room.setContentsMargins(0, 0, 0, 0)
        self._room.addStretch(1)
        self.hide()

    @property
    def buttons(self) -> tuple[QPushButton, ...]:
        """The buttons of the choices that are shown."""
        return tuple(self._made[: len(self._choices)])

    @classmethod
    def beneath(cls, edit: DirectionsEdit) -> QuestionBar:
        """The bar of one field, which writes the choice into it."""
        bar = cls()
        edit.asked.connect(bar.ask)
        bar.chosen.connect(edit.choose)
        return bar

    def ask(self, question: Question | None) -> None:
        """Show what could be meant, or nothing."""
        self._choices = question.choices if question else ()
        while len(self._made) < len(self._choices):
            self._add_button()
        for place, press in enumerate(self._made):
            press.setVisible(place < len(self._choices))
        for place, (press, choice) in enumerate(zip(self._made, self._choices, strict=False)):
            press.setText(f"&{place + 1}  {plain_caption(choice)}")
            said = translate("QuestionBar", "{choice} is meant").format(choice=choice)
            press.setAccessibleName(said)
        self.setVisible(bool(self._choices))

    def _add_button(self) -> None:
        """One more button; they are kept, since one of them may be pressed just now."""
        press = button("")
        press.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._group.addButton(press, len(self._made))
        self._room.insertWidget(len(self._made), press)
        self._made.append(press)

    def _press(self, place: int) -> None:
        if place < len(self._choices):
            self.chosen.emit(self._choices[place])
