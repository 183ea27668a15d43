"""A field for directions: says what they mean as they are typed, underlines what is wrong,
and offers the words that can come next.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from PySide6.QtCore import QStringListModel, Qt, QTimer, Signal
from PySide6.QtGui import QInputMethodEvent, QKeyEvent, QTextCharFormat
from PySide6.QtWidgets import QApplication, QCompleter, QLineEdit, QWidget

from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.widgets import offer_list
from sennight.desktop.parts.typed import Explained, question_in
from sennight.domain.directions.completion import completed, next_words
from sennight.domain.directions.pieces import Question
from sennight.domain.directions.understanding import read_usual_directions

_STEP = re.compile(r";|\b(?:d|w)[a-z]*\s*:")
"""What shows that steps are typed: `3 d: …; 2 w: …`."""
Explain = Callable[[str], Explained]
"""Says what a text means, or what is wrong with it and where."""
Read = Callable[[str], object]
"""Reads a text, or raises: a question where it could be misread."""


class DirectionsEdit(QLineEdit):
    """Directions in any spelling; `explained` tells what they mean, or what is wrong.

    `asked` carries the question that has to be answered first, None where there is none.
    """

    explained = Signal(str, bool)
    asked = Signal(object)
    entered = Signal()

    def __init__(
        self,
        explain: Explain,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        read: Read = read_usual_directions,
    ) -> None:
        super().__init__(parent)
        self._explain, self._theme, self._read_text = explain, theme, read
        self.question: Question | None = None
        self.wrong: tuple[int, int] | None = None
        self._words = QStringListModel(self)
        self._popup = offer_list()
        self._offer = QCompleter(self._words, self)
        self._offer.setPopup(self._popup)
        self._offer.setWidget(self)
        self._offer.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        self._offer.activated.connect(self._take)
        self.textChanged.connect(self._read)
        self.textEdited.connect(lambda _text: QTimer.singleShot(0, self, self._suggest))

    def start_of_word(self) -> str:
        """The text up to where a word begins that could be completed; after a `;` or `:`."""
        before = self.text()[: self.cursorPosition()]
        cut = max(before.rfind(";"), before.rfind(":") if _STEP.search(before) else -1)
        return before[cut + 1 :]

    def offered(self) -> tuple[str, ...]:
        """The words that can come next, at the end of the text only."""
        if self.cursorPosition() != len(self.text()):
            return ()
        return next_words(self.start_of_word())

    def _suggest(self) -> None:
        offered = self.offered()
        if not offered or not self.hasFocus():
            self._popup.hide()
            return
        self._words.setStringList([str(word) for word in offered])
        self._offer.setCompletionPrefix("")
        box = self.cursorRect()
        box.setWidth(self._theme.unit * 36)
        box.setBottom(self.rect().bottom())
        self._offer.complete(box)
        self._popup.selectionModel().clear()  # no word is chosen until it is gone to

    def _take(self, word: str) -> None:
        head = self.start_of_word()
        kept = self.text()[: self.cursorPosition() - len(head)]
        self.setText(kept + completed(head, word))
        self.textEdited.emit(self.text())

    def _read(self, text: str) -> None:
        explanation, self.wrong = self._explain(text)
        self._underline()
        self.question = question_in(text, self._read_text) if self.wrong is not None else None
        self.explained.emit(explanation, self.wrong is not None)
        self.asked.emit(self.question)
        self.setAccessibleDescription(explanation)

    def read_again(self) -> None:
        """Read what stands there once more, after what it is read against has changed."""
        self._read(self.text())

    def choose(self, choice: str) -> None:
        """Write what was meant in the place of the words that could be misread."""
        if self.question is None:
            return
        text, asked = self.text(), self.question
        self.setText(f"{text[: asked.start]}{choice}{text[asked.end :]}")
        self.setCursorPosition(asked.start + len(choice))
        self.textEdited.emit(self.text())

    def _underline(self) -> None:
        """Mark what is wrong through the input method's formats; Qt has no other way here."""
        marks = []
        if self.wrong is not None:
            start, end = self.wrong
            wave = QTextCharFormat()
            wave.setUnderlineStyle(QTextCharFormat.UnderlineStyle.SpellCheckUnderline)
            wave.setUnderlineColor(self._theme.alarm)
            start = min(start, max(0, len(self.text()) - 1))
            length = max(1, end - start)
            kind = QInputMethodEvent.AttributeType.TextFormat
            at = start - self.cursorPosition()
            marks.append(QInputMethodEvent.Attribute(kind, at, length, wave))
        QApplication.sendEvent(self, QInputMethodEvent("", marks))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Alt and a number answer a question; Enter behind a list of words carries on.

        So it does where none of the words was chosen. Without the list, Enter never comes here
        in a table: its delegate takes it. With it, no shortcut reaches a button.
        """
        if self._answers(event):
            return
        is_enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if is_enter and self._popup.isVisible() and not self._popup.currentIndex().isValid():
            self._popup.hide()
            QTimer.singleShot(0, self, self.entered.emit)
        super().keyPressEvent(event)

    def _answers(self, event: QKeyEvent) -> bool:
        """Whether a key chooses what is meant, and so does it."""
        choices = self.question.choices if self.question else ()
        place = event.key() - Qt.Key.Key_1
        if event.modifiers() != Qt.KeyboardModifier.AltModifier or place not in range(
            len(choices)
        ):
            return False
        self.choose(choices[place])
        return True

    def focusOutEvent(self, event: object) -> None:
        """No words are offered to a field that is left."""
        super().focusOutEvent(event)  # type: ignore[arg-type]
        if QApplication.activePopupWidget() is None:
            self._popup.hide()
