"""The list of what the keyboard can do."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QGridLayout, QWidget

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import text_label

Place = tuple[str, Sequence[ActionSpec]]
"""The name of a place in the window, and what can be done there."""


class KeysDialog(FormDialog):
    """Every action that has keys, with its keys and what it does, by the place that has it."""

    def __init__(self, parent: QWidget | None, places: Sequence[Place]) -> None:
        super().__init__(parent, self.tr("Keys"), do=self.tr("Close"))
        self.leave_button.hide()
        self.set_body(self._table(places), columns=70, lines=28)

    def _table(self, places: Sequence[Place]) -> QWidget:
        table = QWidget()
        grid = QGridLayout(table)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(self.fontMetrics().height() * 2)
        for name, specs in places:
            with_keys = [spec for spec in specs if spec.keys]
            if not with_keys:
                continue
            row = grid.rowCount()
            if row > 1:
                grid.setRowMinimumHeight(row, self.fontMetrics().height() // 2)
            grid.addWidget(text_label(name, Role.HEADING), row + 1, 0, 1, 2)
            for n, spec in enumerate(with_keys, start=row + 2):
                keys = QKeySequence(spec.keys[0])
                shown = keys.toString(QKeySequence.SequenceFormat.NativeText)
                grid.addWidget(text_label(shown, Role.STRONG), n, 0)
                grid.addWidget(text_label(spec.tip, wrap=True), n, 1)
        grid.setColumnStretch(1, 1)
        grid.setRowStretch(grid.rowCount(), 1)
        return table
