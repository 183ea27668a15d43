"""Small parts that every page is put together from: text by its role, hairlines, buttons."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QListView,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.kit.icons import drawing as drawn
from sennight.desktop.kit.plain_text import plain_caption, plain_tip
from sennight.desktop.kit.theme import Role


def text_label(text: str, role: Role = Role.TEXT, *, wrap: bool = False) -> QLabel:
    """A label in the font of its role; plain text always, so that names print as they are."""
    label = QLabel(text)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setProperty("role", role.name.lower())
    label.setWordWrap(wrap)
    if wrap:
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        label.setSizePolicy(policy)
    return label


class Shortened(QLabel):
    """A line of text that gives way: it ends in … where there is no room, the tip has it whole.

    One that `is_whole` is not begun where it cannot be ended: nothing is drawn then.
    """

    def __init__(self, text: str, role: Role = Role.TEXT, *, is_whole: bool = False) -> None:
        super().__init__()
        self.least_letters, self.is_whole = 0 if is_whole else 8, is_whole
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setProperty("role", role.name.lower())
        self.setText(text)

    def setText(self, text: str) -> None:
        """Show another text."""
        if text != self.text():
            super().setText(text)
            self.setToolTip(plain_tip(text))

    def minimumSizeHint(self) -> QSize:
        """A few letters are enough."""
        few = self.fontMetrics().horizontalAdvance("n") * self.least_letters
        return QSize(min(few, self.sizeHint().width()), self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - Qt's name
        """Draw what there is room for."""
        if self.is_whole and self.fontMetrics().horizontalAdvance(self.text()) > self.width():
            return
        painter = QPainter(self)
        painter.setPen(self.palette().windowText().color())
        shown = self.fontMetrics().elidedText(
            self.text(), Qt.TextElideMode.ElideRight, self.width()
        )
        painter.drawText(self.rect(), self.alignment(), shown)


def hairline() -> QFrame:
    """A thin line across, between what belongs apart."""
    line = QFrame()
    line.setProperty("role", "hairline")
    line.setFixedHeight(1)
    return line


def button(text: str, *, kind: str = "", tip: str = "") -> QPushButton:
    """A button; `main` is the one that carries on, `link` a word that leads somewhere."""
    push_button = QPushButton(plain_caption(text))
    push_button.setAutoDefault(False)
    if kind:
        push_button.setProperty("kind", kind)
    if tip:
        push_button.setToolTip(plain_tip(tip))
        push_button.setAccessibleDescription(tip)
    return push_button


def offer_list() -> QListView:
    """The list of what could be typed, which drops down beneath a field."""
    offers = QListView()
    offers.setProperty("kind", "offer")
    return offers


def pressed_by_enter(event: QKeyEvent, at: QWidget | None) -> bool:
    """Let Enter press the button that the keyboard is on; whether there was one.

    Without this, Enter on a dialog's Cancel would carry on, and on a page do nothing.
    """
    is_enter = event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}
    if not is_enter or not isinstance(at, QPushButton) or not at.isEnabled():
        return False
    if at.menu() is not None:
        at.showMenu()
    else:
        at.click()
    return True


def tab_stops(part: QWidget) -> list[QWidget]:
    """What Tab stops at within a part, in the order in which it was put together.

    The list that a choice drops down is a window of its own.
    """
    widgets = (widget for widget in part.findChildren(QWidget) if widget.window() is part.window())
    return [widget for widget in widgets if widget.focusPolicy() & Qt.FocusPolicy.TabFocus]


def fill_with(page: QWidget, part: QWidget) -> None:
    """Let one part take the whole of a page."""
    layout = QVBoxLayout(page)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.addWidget(part)


def restyle(widget: QWidget) -> None:
    """Let the style sheet look at a widget's properties again."""
    widget.style().unpolish(widget)
    widget.style().polish(widget)


class Drawing(QLabel):
    """One of our drawings in the colour of quiet text, as high as four lines of text."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self._name = name
        self.setProperty("role", Role.QUIET.name.lower())
        if not name:  # showing it now would make it a window of its own
            self.hide()

    def sizeHint(self) -> QSize:
        """Half as wide again as it is high."""
        height = self.fontMetrics().lineSpacing() * 4
        return QSize(height * 3 // 2, height)

    def minimumSizeHint(self) -> QSize:
        """It does not give way."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - Qt's name
        """Draw it in the colour and size of now."""
        colour = self.palette().windowText().color()
        QPainter(self).drawPixmap(0, 0, drawn(self._name, colour, self.sizeHint()))


class Empty(QWidget):
    """What stands where a list has nothing to show: a drawing, what this is, and what to do."""

    def __init__(self, heading: str, text: str, *actions: QPushButton, drawing: str = "") -> None:
        super().__init__()
        self._heading = text_label(heading, Role.HEADING, wrap=True)
        self._text = text_label(text, wrap=True)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addStretch(1)
        layout.addWidget(Drawing(drawing), 0, Qt.AlignmentFlag.AlignLeft)
        layout.addSpacing(self.fontMetrics().height() // 2 if drawing else 0)
        layout.addWidget(self._heading)
        layout.addWidget(self._text)
        layout.addSpacing(self.fontMetrics().height() // 2)
        row = QHBoxLayout()
        row.setSpacing(self.fontMetrics().height() // 2)
        for action in actions:
            row.addWidget(action)
        row.addStretch(1)
        layout.addLayout(row)
        layout.addStretch(3)

    def say(self, heading: str, text: str) -> None:
        """Other words, where the list is empty for another reason."""
        self._heading.setText(heading)
        self._text.setText(text)
