"""The parts of the page of one remedy, and how they share the room."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QHBoxLayout,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.kit.forms import limit_letters
from sennight.desktop.kit.menus import menu_button
from sennight.desktop.kit.note_field import NoteField
from sennight.desktop.kit.section import Page
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import Shortened, button, hairline, text_label
from sennight.desktop.remedies.actions import calculator_specs, remedy_specs
from sennight.desktop.remedies.dose_contents import DoseContents
from sennight.desktop.remedies.making import Making
from sennight.desktop.remedies.parts_model import PartsModel
from sennight.desktop.remedies.parts_view import PartsView

LETTERS, FIRST_OF_ALL = 36, 100
"""Letters of a name for which there is room, before there is any beside the field."""
IN_FIELD, IN_LARGE_FIELD = 0.8, 0.62
"""The size of a title where it can be typed; where text is large there is little room for it."""
BESIDE = 116
"""Columns of text from which on what it holds stands beside the formula."""


class RemedyView(Page):
    """What shows one remedy; `asked` is a question of the menu, `buttons` are by what they do."""

    asked = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._make_parts(theme)
        self._lay_out()
        self.apply_theme(theme)

    def _make_parts(self, theme: Theme) -> None:
        self.name = QLineEdit()
        self.name.setAccessibleName(self.tr("Name of the remedy"))
        self.name.setPlaceholderText(self.tr("Name"))
        self.standing = Shortened("", Role.QUIET)
        self.model = PartsModel(self)
        self.table = PartsView(self.model, theme)
        self.wrong = text_label("", Role.ALARM, wrap=True)
        limit_letters(self.name, self.wrong.setText)
        self.making = Making()
        self.note = NoteField()
        self.note.setPlaceholderText(self.tr("Anything worth remembering about this formula"))
        self.note.setProperty("kind", "note")
        self.note.setTabChangesFocus(True)
        self.note.setAccessibleName(self.tr("Note"))
        self.dose_contents = DoseContents(theme)
        self._make_buttons()

    def _make_buttons(self) -> None:
        self.buttons = {}
        for spec in remedy_specs():
            action_button = button(
                spec.text, kind="main" if spec.id == "keep" else "", tip=spec.tip
            )
            if spec.keys:
                action_button.setShortcut(QKeySequence(spec.keys[0]))
            self.buttons[spec.id] = action_button
        specs = calculator_specs()
        asking = {spec.id: partial(self.asked.emit, spec.id) for spec in specs}
        self.calculators = menu_button(self.tr("Calculate"), specs, asking, self)

    def _lay_out(self) -> None:
        self._head = QHBoxLayout()
        self._head.addWidget(self.name, FIRST_OF_ALL)
        self._head.addStretch(1)
        for widget in (self.calculators, *self.buttons.values()):
            self._head.addWidget(widget)
        self._sides = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._sides.setContentsMargins(0, 0, 0, 0)
        self._sides.addWidget(self._left(), 7, Qt.AlignmentFlag.AlignTop)
        self._sides.addWidget(self.dose_contents, 5, Qt.AlignmentFlag.AlignTop)
        body = QWidget()
        body.setLayout(self._sides)
        self._body = QScrollArea()
        self._body.setWidgetResizable(True)
        self._body.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._body.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._body.setWidget(body)
        self._layout = QVBoxLayout(self)
        names = QVBoxLayout()
        names.setSpacing(2)
        names.addLayout(self._head)
        names.addWidget(self.standing)
        self._layout.addLayout(names)
        self._layout.addWidget(hairline())
        self._layout.addWidget(self._body, 1)

    def _left(self) -> QWidget:
        left = QWidget()
        self._column = QVBoxLayout(left)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addWidget(self.table)
        self._column.addWidget(self.wrong)
        self._column.addWidget(self.making)
        self._column.addWidget(text_label(self.tr("Note"), Role.QUIET))
        self._column.addWidget(self.note)
        return left

    def apply_theme(self, theme: Theme) -> None:
        """Distances and colours for the look."""
        self.theme, unit = theme, theme.unit
        self._layout.setContentsMargins(theme.edge, unit * 4, theme.edge * 3 // 4, unit * 2)
        self._layout.setSpacing(unit * 3)
        self._head.setSpacing(unit * 2)
        self._sides.setSpacing(unit * 8)
        self._column.setSpacing(unit * 2)
        font = theme.font(Role.TITLE)
        font.setPointSizeF(font.pointSizeF() * (IN_LARGE_FIELD if theme.is_large else IN_FIELD))
        self.name.setFont(font)
        self.name.setMaximumWidth(self.name.fontMetrics().horizontalAdvance("n") * LETTERS)
        self.note.setFixedHeight(theme.line * 4)
        self.table.apply_theme(theme)
        self.dose_contents.apply_theme(theme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """What it holds beside the formula where there is room for both, else beneath it."""
        super().resizeEvent(event)
        wide = self.width() >= self.fontMetrics().horizontalAdvance("n") * BESIDE
        ways = QBoxLayout.Direction
        self._sides.setDirection(ways.LeftToRight if wide else ways.TopToBottom)
