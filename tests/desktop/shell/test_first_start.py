"""The first start: one's own practice, or the demo first, which is marked as one."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog, QLabel, QPushButton, QWidget

from sennight.desktop import app as desktop
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.first_start import (
    FirstStartDialog,
    GoOn,
    LookAtDemo,
    OpenThis,
    ask_at_first_start,
)
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.opening import Reopening
from sennight.desktop.shell.settings import Settings
from sennight.domain.courses.clients import Client
from sennight.domain.practices import PracticeCard
from sennight.practice.card import change_practice_card, is_untouched, practice_card
from sennight.practice.clients import add_client, list_clients
from sennight.practice.demo_file import is_demo
from sennight.practice.drafts import list_drafts
from sennight.practice.opening import OpenPractice, open_practice
from support.next_dialog import in_next_dialog


def press(dialog: QWidget, text: str) -> None:
    (found,) = (part for part in dialog.findChildren(QPushButton) if part.text() == text)
    found.click()


def words(dialog: QWidget) -> str:
    return "\n".join(label.text() for label in dialog.findChildren(QLabel) if label.isVisible())


def closed_after(act: Callable[[FirstStartDialog], object]) -> Callable[[QDialog], None]:
    """The act, after which the dialog is closed also where something went wrong."""

    def acted(dialog: QDialog) -> None:
        assert isinstance(dialog, FirstStartDialog)
        try:
            act(dialog)
        finally:
            if dialog.isVisible():
                QDialog.reject(dialog)

    return acted


def test_keys_alone_create_a_practice(
    empty_practice: OpenPractice, settings: Settings, theme: object
) -> None:
    assert theme

    def fill(dialog: FirstStartDialog) -> None:
        dialog.activateWindow()
        for typed in ("The Herb Garden", "Oriel Tansy", "3 Mill Lane", "01632 960001"):
            QTest.keyClicks(dialog.focusWidget(), typed)
            QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Tab)
        QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Tab)
        QTest.keyClicks(dialog.focusWidget(), "112")
        QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Return)
        assert dialog.result() == QDialog.DialogCode.Accepted

    in_next_dialog(closed_after(fill))
    assert ask_at_first_start(empty_practice, settings) == GoOn()
    assert practice_card(empty_practice) == PracticeCard(
        "The Herb Garden", "Oriel Tansy", ("3 Mill Lane",), "01632 960001", emergency="112"
    )
    assert list_drafts(empty_practice) == ()


def test_it_says_what_the_program_is_not(
    empty_practice: OpenPractice, settings: Settings, theme: object
) -> None:
    assert theme
    seen: list[str] = []

    def look(dialog: FirstStartDialog) -> None:
        seen.append(words(dialog))
        press(dialog, "Not now")

    in_next_dialog(closed_after(look))
    assert ask_at_first_start(empty_practice, settings) == GoOn()
    for said in (
        "does not make a diagnosis",
        "judgement",
        "licence",
        "law",
        "never says that something is safe",
    ):
        assert said in seen[0]
    assert practice_card(empty_practice).name == ""


def test_the_file_lies_where_it_is_wanted_and_is_copied_to_a_second_folder(
    empty_practice: OpenPractice, settings: Settings, theme: object, tmp_path: Path
) -> None:
    assert theme
    wanted, second = tmp_path / "mine", tmp_path / "copies"
    second.mkdir()
    wrong: list[str] = []

    def fill(dialog: FirstStartDialog) -> None:
        dialog.card_form.name.setText("The Herb Garden")
        for path in (tmp_path / "nowhere" / "mine", Path(__file__)):
            dialog.place.text.setText(str(path))
            press(dialog, "Create practice")
            wrong.append(words(dialog))
        dialog.place.text.setText(str(wanted))
        dialog.second.text.setText(str(second / "none"))
        press(dialog, "Create practice")
        wrong.append(words(dialog))
        dialog.second.text.setText(str(second))
        press(dialog, "Create practice")

    in_next_dialog(closed_after(fill))
    made = wanted.with_suffix(".sennight")
    assert ask_at_first_start(empty_practice, settings) == OpenThis(made)
    assert "There is no folder" in wrong[0]
    assert "There is a file of that name" in wrong[1]
    assert "or leave it" in wrong[2]
    assert settings.second_folder == second
    assert practice_card(empty_practice).name == ""
    with open_practice(made) as practice:
        assert practice_card(practice).name == "The Herb Garden"


def test_the_demo_first_keeps_what_was_typed(
    empty_practice: OpenPractice, settings: Settings, theme: object
) -> None:
    assert theme

    def leave(dialog: FirstStartDialog) -> None:
        dialog.card_form.name.setText("The Herb Garden")
        press(dialog, "Look at the demo practice first")

    def create(dialog: FirstStartDialog) -> None:
        assert dialog.card_form.name.text() == "The Herb Garden"
        press(dialog, "Create practice")

    in_next_dialog(closed_after(leave))
    assert ask_at_first_start(empty_practice, settings) == LookAtDemo()
    in_next_dialog(closed_after(create))
    assert ask_at_first_start(empty_practice, settings) == GoOn()


def test_a_practice_file_can_be_opened_instead(
    empty_practice: OpenPractice,
    settings: Settings,
    theme: object,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    assert theme
    other = tmp_path / "other.sennight"
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(other), ""))
    in_next_dialog(lambda dialog: press(dialog, "Open a practice file…"))
    assert ask_at_first_start(empty_practice, settings) == OpenThis(other)


def test_a_practice_with_a_client_or_a_card_is_not_asked(empty_practice: OpenPractice) -> None:
    assert is_untouched(empty_practice)
    add_client(empty_practice, Client("Noor"))
    assert not is_untouched(empty_practice)


def test_from_the_demo_to_ones_own_practice(
    qapp: QApplication, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The demo first, then one's own; only the latter is remembered and backed up."""
    assert qapp
    monkeypatch.setattr(desktop, "settings_path", lambda: tmp_path / "settings.ini")
    monkeypatch.setattr(desktop, "usual_path", lambda: tmp_path / "mine.sennight")
    monkeypatch.setattr(desktop, "practice_path", lambda _: tmp_path / "mine.sennight")
    opened: list[tuple[bool, bool, int]] = []

    def run(
        _endings: object,
        practice: OpenPractice,
        _appearance: object,
        _settings: object,
        *,
        kept: bool,
        message: str,
    ) -> tuple[int, Reopening | None]:
        assert message == ""
        opened.append((is_demo(practice.path), kept, len(list_clients(practice))))
        if not is_demo(practice.path):
            return 0, None
        in_next_dialog(closed_after(create))
        return 0, Reopening(tmp_path / "mine.sennight", is_own=True)

    def create(dialog: FirstStartDialog) -> None:
        dialog.card_form.name.setText("The Herb Garden")
        press(dialog, "Create practice")

    monkeypatch.setattr(desktop, "_run", run)
    in_next_dialog(lambda dialog: press(dialog, "Look at the demo practice first"))
    assert desktop.main() == 0
    assert [(demo, kept) for demo, kept, _ in opened] == [(True, False), (False, True)]
    assert opened[0][2] > 0
    assert opened[1][2] == 0


@pytest.mark.parametrize("demo", [True, False])
def test_the_demo_is_marked_on_every_page(
    appearance: Appearance, settings: Settings, tmp_path: Path, *, demo: bool
) -> None:
    folder = tmp_path / "sennight-demo-1"
    folder.mkdir()
    with open_practice(folder / ("demo.sennight" if demo else "mine.sennight")) as practice:
        change_practice_card(practice, PracticeCard("Larkfell"))
        frame = MainWindow(practice, appearance, settings, today=lambda: date(2027, 3, 1))
        frame.show()
        for place in (section.home for section in frame.sections):
            frame.go(place)
            assert ("demo practice" in frame.windowTitle()) is demo
            assert frame.rail.demo.isVisible() is demo
        if demo:
            in_next_dialog(lambda dialog: press(dialog, "Stay in the demo"))
            frame.rail.demo.click()
            assert frame.reopening is None
            in_next_dialog(lambda dialog: press(dialog, "Open my own practice"))
            frame.rail.demo.click()
            assert frame.reopening is not None
            assert frame.reopening.is_own
        frame.close()
