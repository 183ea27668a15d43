"""A field for directions: says what they mean as they are typed, underlines what is wrong,
and offers the words that can come next.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QStringListModel, Qt, QTimer, Signal
from PySide6.QtGui import QInputMethodEvent, QKeyEvent, QTextCharFormat
from PySide6.QtWidgets import QApplication, QCompleter, QLineEdit, QWidget

from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.widgets import offer_list
from sennight.desktop.parts.typed import Explained
from sennight.domain.directions.completion import completed, next_words

Explain = Callable[[str], Explained]
"""Says what a text means, or what is wrong with it and where."""


class DirectionsEdit(QLineEdit):
    """Directions in the short form; `explained` tells what they mean, or what is wrong."""

    explained = Signal(str, bool)
    entered = Signal()

    def __init__(self, explain: Explain, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._explain, self._theme = explain, theme
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
        cut = max(before.rfind(";"), before.rfind(":") if ";" in before or " w:" in before else -1)
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
        self.explained.emit(explanation, self.wrong is not None)
        self.setAccessibleDescription(explanation)

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
        """Enter behind a list of words that none was chosen from carries on.

        Without the list, Enter never comes here in a table: its delegate takes it.
        """
        is_enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if is_enter and self._popup.isVisible() and not self._popup.currentIndex().isValid():
            self._popup.hide()
            QTimer.singleShot(0, self, self.entered.emit)
        super().keyPressEvent(event)

    def focusOutEvent(self, event: object) -> None:
        """No words are offered to a field that is left."""
        super().focusOutEvent(event)  # type: ignore[arg-type]
        if QApplication.activePopupWidget() is None:
            self._popup.hide()
