"""The list of what the keyboard can do."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QGridLayout, QWidget

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import text_label


class KeysDialog(FormDialog):
    """Every action that has keys, with its keys and what it does."""

    def __init__(self, parent: QWidget | None, specs: Sequence[ActionSpec]) -> None:
        super().__init__(parent, self.tr("Keys"), do=self.tr("Close"))
        self.leave_button.hide()
        self.set_body(self._table([spec for spec in specs if spec.keys]), columns=70, lines=28)

    def _table(self, specs: Sequence[ActionSpec]) -> QWidget:
        table = QWidget()
        grid = QGridLayout(table)
        grid.setHorizontalSpacing(self.fontMetrics().height() * 2)
        for row, spec in enumerate(specs):
            keys = QKeySequence(spec.keys[0])
            shown = keys.toString(QKeySequence.SequenceFormat.NativeText)
            grid.addWidget(text_label(shown, Role.STRONG), row, 0)
            grid.addWidget(text_label(spec.tip), row, 1)
        grid.setColumnStretch(1, 1)
        grid.setRowStretch(len(specs), 1)
        return table
