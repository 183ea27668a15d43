"""What the containers say of what was taken, beside the diary: a part of the review."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from sennight.desktop.course.actions import page_specs
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, text_label
from sennight.practice.returned import NOT_TAKEN


class LeftPanel(QWidget):
    """A sentence for each count of what was left; `wanted` asks for another count."""

    wanted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.told = text_label("", wrap=True)
        self.note = text_label("", Role.QUIET, wrap=True)
        (spec,) = (spec for spec in page_specs() if spec.id == "left")
        self.enter = button(spec.text, kind="link", tip=f"{spec.tip} ({spec.keys[0]})")
        self.enter.clicked.connect(self.wanted)
        head = QHBoxLayout()
        head.addWidget(text_label(translate("Review", "What is left"), Role.HEADING), 1)
        head.addWidget(self.enter, 0, Qt.AlignmentFlag.AlignTop)
        room = QVBoxLayout(self)
        room.setContentsMargins(0, 0, 0, 0)
        room.addLayout(head)
        for label in (self.told, self.note):
            room.addWidget(label)

    def show_told(self, sentences: tuple[str, ...]) -> None:
        """Show them, the latest first."""
        self.told.setText("\n".join(reversed(sentences)))
        none = translate("Review", "Nothing was counted yet.")
        self.note.setText(NOT_TAKEN if sentences else none)
        self.told.setVisible(bool(sentences))
