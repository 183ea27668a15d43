"""The box in hand: large, in words, with a button for each answer; and what went wrong."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from sennight.desktop.course.diary.sheet_view import CloseUp, Legend, Marker
from sennight.desktop.course.diary.sheet_words import state_words
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import Shortened, button, text_label
from sennight.practice.sheet_pages import BoxState, SeenBox

_COLUMNS = 38
"""Letters of text: how wide the column is."""


class SheetAsking(QWidget):
    """`said` has an answer for the box in hand, `turned` a step to another page."""

    said = Signal(object)
    turned = Signal(int)

    def __init__(self, marker: Marker) -> None:
        super().__init__()
        self.left = text_label("", Role.HEADING, wrap=True)
        self.words = text_label("", wrap=True)
        self.state = text_label("", Role.STRONG, wrap=True)
        self.close_up = CloseUp()
        self.troubles = text_label("", Role.ALARM, wrap=True)
        self.refused: list[str] = []
        self.buttons = {
            BoxState.MARKED: button(self.tr("Marked (M)")),
            BoxState.EMPTY: button(self.tr("Empty (E)")),
            BoxState.UNCLEAR: button(self.tr("Skip (S)")),
        }
        for state, push in self.buttons.items():
            push.clicked.connect(partial(self.said.emit, state))
        self.page = Shortened("", Role.QUIET)
        self.before, self.after = button("‹"), button("›")
        self.before.setAccessibleName(self.tr("Previous page"))
        self.after.setAccessibleName(self.tr("Next page"))
        self.before.clicked.connect(partial(self.turned.emit, -1))
        self.after.clicked.connect(partial(self.turned.emit, 1))
        self._lay_out(marker)

    def _lay_out(self, marker: Marker) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        line = QHBoxLayout()
        line.addWidget(self.page, 1)
        line.addWidget(self.before)
        line.addWidget(self.after)
        layout.addLayout(line)
        for part in (self.left, self.words, self.state):
            layout.addWidget(part)
        answers = QHBoxLayout()
        for push in self.buttons.values():
            answers.addWidget(push)
        layout.addLayout(answers)
        layout.addWidget(self.close_up, 0, Qt.AlignmentFlag.AlignLeft)
        keys = self.tr("Arrows or a click: any box. N: the next unclear one.")
        self.keys = text_label(keys, Role.QUIET, wrap=True)
        self.legend = self._legend(marker)
        layout.addWidget(self.keys)
        layout.addWidget(self.legend)
        layout.addWidget(self.troubles)
        layout.addStretch(1)

    def minimumSizeHint(self) -> QSize:
        """As wide as a few words or the three buttons side by side."""
        hints = [push.sizeHint().width() for push in self.buttons.values()]
        words = self.fontMetrics().horizontalAdvance("n") * _COLUMNS
        wide = max(words, 3 * max(hints) + self.fontMetrics().height())
        return QSize(wide, super().minimumSizeHint().height())

    def _legend(self, marker: Marker) -> QWidget:
        legend = QWidget()
        row = QHBoxLayout(legend)
        row.setContentsMargins(0, 0, 0, 0)
        for state in (BoxState.MARKED, BoxState.EMPTY, BoxState.UNCLEAR):
            row.addWidget(Legend(state, marker))
            row.addWidget(text_label(state_words(state), Role.QUIET))
        row.addStretch(1)
        return legend

    def show_box(self, image: QImage, box: SeenBox, words: str, state: str, left: int) -> None:
        """Show the box in hand, what it holds, and how many are left to ask about."""
        text = self.tr("Unclear boxes to look at: {n}") if left else self.tr("No unclear box left")
        self.left.setText(text.format(n=left))
        self.words.setText(words)
        self.state.setText(state)
        self.close_up.show_box(image, box)
        self._enable(is_on=True)

    def show_nothing(self) -> None:
        """No page was read yet."""
        for label in (self.left, self.words, self.state, self.page):
            label.setText("")
        self.close_up.show_box(QImage(), None)
        self.before.setEnabled(False)
        self.after.setEnabled(False)
        self._enable(is_on=False)

    def _enable(self, *, is_on: bool) -> None:
        """Nothing is asked, and nothing to be explained, before there is a page."""
        for push in self.buttons.values():
            push.setEnabled(is_on)
        turning = (self.before, self.after)
        for part in (*turning, *self.buttons.values(), self.close_up, self.keys, self.legend):
            part.setVisible(is_on)

    def show_page(self, words: str, place: int, pages: int) -> None:
        """Say which page is looked at, counted from 0."""
        self.page.setText(words)
        self.before.setEnabled(place > 0)
        self.after.setEnabled(place < pages - 1)

    def refuse(self, why: str) -> None:
        """Tell that a file could not be opened."""
        self.refused.append(why)

    def tell(self, troubles: Sequence[str]) -> None:
        """Tell which photos could not be read, and why."""
        self.troubles.setText("\n\n".join((*self.refused, *troubles)))
        self.troubles.setVisible(bool(self.troubles.text()))
