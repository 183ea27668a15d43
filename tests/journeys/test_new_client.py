"""A new client by keyboard alone: two medicines, two conditions, one allergy."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sennight.desktop.clients.client_dialog import ClientDialog
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Scheme, Settings
from sennight.practice.clients import list_clients
from support.hands import Hands
from support.pages import clients_of
from support.practice_files import new_practice

MOST, MOST_TABS = 20, 8
Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier


def test_a_client_with_five_facts(tmp_path: Path, qapp: QApplication, qtbot: QtBot) -> None:
    settings = Settings(tmp_path / "settings.ini")
    settings.scheme = Scheme.LIGHT
    hands, tabs = Hands(), 0

    def fill(dialog: ClientDialog) -> None:
        nonlocal tabs
        hands.type("Ishbel Marr")
        before = hands.pressed
        hands.press(Key.Key_Tab)
        hands.type("1 May 1970")
        while not dialog.conditions.entry.hasFocus():
            hands.press(Key.Key_Tab)
        tabs = hands.pressed - before
        for facts in (("gout", "asthma"), ("metformin 500 mg", "omeprazole 20 mg"), ("nuts",)):
            for name in facts:
                hands.type(name)
                hands.press(Key.Key_Return)
            if facts != ("nuts",):
                hands.press(Key.Key_Return)
        hands.press(Key.Key_Return)

    with new_practice(tmp_path / "practice.sennight") as practice:
        frame = MainWindow(
            practice, Appearance(qapp, settings), settings, today=lambda: date(2027, 1, 11)
        )
        qtbot.addWidget(frame)
        frame.show()
        frame.activateWindow()
        qtbot.waitUntil(frame.isActiveWindow)
        hands.press_for_dialog(fill, Key.Key_N, CTRL)
        (entry,) = list_clients(practice)
        client = entry.client
        assert clients_of(frame).folder.title.text() == "Ishbel Marr"
        assert [fact.tag for fact in client.conditions[:2]] == ["gout", "asthma"]
        assert [fact.tag for fact in client.medicines] == ["metformin", "omeprazole"]
        assert [fact.dose for fact in client.medicines] == ["500 mg", "20 mg"]
        assert len(client.allergies) == 1
        frame.hide()
    assert tabs <= MOST_TABS, tabs
    assert hands.pressed + hands.clicked <= MOST, hands.pressed
