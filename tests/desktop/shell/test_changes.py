"""What changed can be read in the window."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from sennight.desktop.kit.theme import Theme
from sennight.desktop.shell.changes_dialog import ChangesDialog
from support.files import ROOT


def test_every_change_that_is_told_can_be_read(qtbot: QtBot, theme: Theme) -> None:
    assert theme
    dialog = ChangesDialog(None)
    qtbot.addWidget(dialog)
    shown = " ".join(dialog.text.toPlainText().split())
    text = (ROOT / "resources" / "changes.md").read_text("utf-8")
    told = [
        " ".join(entry.replace("`", "").replace("*", "").split())
        for entry in text.split("\n- ")[1:]
    ]
    assert told
    assert [entry for entry in told if entry not in shown] == []
