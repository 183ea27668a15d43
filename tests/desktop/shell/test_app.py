"""Starting: the practice file, the card, and what happens when something fails."""

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QFileDialog, QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop import app as desktop
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.theme import Theme
from sennight.desktop.shell import opening
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.card_dialog import CardDialog, ask_for_card
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.practice_dialog import PracticeDialog
from sennight.desktop.shell.restore_dialog import RestoreDialog
from sennight.desktop.shell.settings import Settings, usual_path
from sennight.domain.courses.clients import Client
from sennight.domain.practices import PracticeCard
from sennight.practice.backups import back_up
from sennight.practice.card import change_practice_card, practice_card
from sennight.practice.clients import add_client, list_clients
from sennight.practice.opening import OpenPractice, PracticeFileError, open_practice
from support.next_dialog import in_next_dialog


def texts(dialog: QWidget) -> str:
    return "\n".join(label.text() for label in dialog.findChildren(QLabel))


def press(dialog: QWidget, text: str) -> None:
    (found,) = (one for one in dialog.findChildren(QPushButton) if one.text() == text)
    found.click()


def test_a_new_practice_is_made_where_there_is_none(tmp_path: Path) -> None:
    practice = opening.opened(tmp_path / "new.sennight")
    assert practice is not None
    assert practice.path == tmp_path / "new.sennight"
    practice.close()


def test_a_damaged_file_is_told_and_can_be_left(tmp_path: Path, theme: object) -> None:
    assert theme
    file = tmp_path / "damaged.sennight"
    file.write_bytes(b"this is no practice" * 100)
    seen: list[str] = []

    def leave(dialog: QWidget) -> None:
        seen.append(texts(dialog))
        press(dialog, "Quit")

    in_next_dialog(leave)
    assert opening.opened(file) is None
    assert "The practice cannot be opened" in seen[0]
    assert "damaged.sennight" in seen[0]
    assert file.read_bytes() == b"this is no practice" * 100


def test_a_file_in_use_is_told_and_another_can_be_chosen(
    empty_practice: OpenPractice, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, theme: object
) -> None:
    assert theme
    other = tmp_path / "other.sennight"
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(other), ""))
    in_next_dialog(lambda dialog: press(dialog, "Open another file"))
    practice = opening.opened(empty_practice.path)
    assert practice is not None
    assert practice.path == other
    practice.close()


def test_choosing_no_other_file_leaves(
    empty_practice: OpenPractice, monkeypatch: pytest.MonkeyPatch, theme: object
) -> None:
    assert theme
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: ("", ""))
    in_next_dialog(lambda dialog: press(dialog, "Open another file"))
    assert opening.opened(empty_practice.path) is None


# The card


def test_a_card_is_saved(empty_practice: OpenPractice, theme: object) -> None:
    assert theme

    def fill(dialog: CardDialog) -> None:
        dialog.form.name.setText("The Herb Garden")
        dialog.form.address.setPlainText(" 3 Mill Lane \n\nEllerby ")
        dialog.form.emergency.setText(" 112 ")
        dialog.form.on_labels.setPlainText("One\nTwo\nThree\nFour")
        press(dialog, "Save")
        assert "At most 3 lines of 60 letters fit onto labels" in texts(dialog)
        dialog.form.on_labels.setPlainText("Made up for one client\n\n")
        press(dialog, "Save")

    in_next_dialog(fill)
    assert ask_for_card(None, empty_practice)
    card = practice_card(empty_practice)
    assert card == PracticeCard(
        "The Herb Garden",
        address=("3 Mill Lane", "Ellerby"),
        emergency="112",
        on_labels=("Made up for one client",),
    )


def test_a_card_needs_a_name(theme: object, qtbot: QtBot) -> None:
    assert theme
    dialog = CardDialog(None, PracticeCard(""))
    qtbot.addWidget(dialog, before_close_func=QWidget.hide)
    dialog.show()
    dialog.form.phone.setText("01632 960001")
    dialog.submit()
    assert dialog.isVisible()
    assert "Enter a name" in texts(dialog)
    assert dialog.is_changed()


def test_what_cannot_be_saved_is_told_and_comes_back(theme: object, qtbot: QtBot) -> None:
    assert theme
    dialog = CardDialog(None, PracticeCard("The Herb Garden"))
    qtbot.addWidget(dialog, before_close_func=QWidget.hide)
    tries: list[str] = []

    def save() -> None:
        tries.append(dialog.answer.name)
        if len(tries) == 1:
            in_next_dialog(read)
            raise PracticeFileError("the disk is full; nothing was saved")

    def fill(shown: CardDialog) -> None:
        shown.form.name.setText("The Physic Garden")
        press(shown, "Save")

    def read(told: QWidget) -> None:
        assert "the disk is full; nothing was saved" in texts(told)
        in_next_dialog(lambda again: press(again, "Save"))
        press(told, "Close")

    in_next_dialog(fill)
    assert saved_from(dialog, save)
    assert tries == ["The Physic Garden", "The Physic Garden"]


# The whole


def test_main_opens_the_window_and_closes_the_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, qapp: QApplication
) -> None:
    file = tmp_path / "practice.sennight"
    monkeypatch.setattr(desktop, "settings_path", lambda: tmp_path / "settings.ini")
    monkeypatch.setattr("sys.excepthook", lambda *_: None)
    monkeypatch.setattr("threading.excepthook", lambda *_: None)
    seen: list[str] = []

    def run(*_: object) -> int:
        (frame,) = (one for one in qapp.topLevelWidgets() if isinstance(one, MainWindow))
        seen.append(frame.windowTitle())
        frame.close()
        frame.deleteLater()
        return 0

    monkeypatch.setattr(QApplication, "exec", run)
    in_next_dialog(lambda dialog: press(dialog, "Not now"))
    assert desktop.main(file) == 0
    assert seen == ["Bench – Sennight"]
    assert Settings(tmp_path / "settings.ini").practice == file
    assert len(list((tmp_path / "backups").iterdir())) == 1
    with open_practice(file):
        pass


def test_main_leaves_with_one_where_nothing_can_be_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, qapp: QApplication
) -> None:
    assert qapp
    file = tmp_path / "damaged.sennight"
    file.write_bytes(b"x" * 5000)
    monkeypatch.setattr(desktop, "settings_path", lambda: tmp_path / "settings.ini")
    monkeypatch.setattr("sys.excepthook", lambda *_: None)
    monkeypatch.setattr("threading.excepthook", lambda *_: None)
    in_next_dialog(lambda dialog: press(dialog, "Quit"))
    assert desktop.main(file) == 1


def test_the_usual_file_lies_in_a_folder_that_is_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, appearance: Appearance
) -> None:
    assert appearance
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    practice = opening.opened(usual_path())
    assert practice is not None
    assert practice.path == tmp_path / "data" / "sennight" / "practice.sennight"
    assert practice.path.parent.stat().st_mode & 0o077 == 0
    practice.close()


# Where the practice cannot be opened


def backed_up(path: Path) -> Path:
    with open_practice(path) as practice:
        add_client(practice, Client("Una Example"))
        change_practice_card(practice, PracticeCard("The Herb Garden"))
        back_up(practice)
    return path


def test_a_backup_can_be_restored_where_the_file_is_damaged(tmp_path: Path, theme: Theme) -> None:
    assert theme
    path = backed_up(tmp_path / "practice.sennight")
    path.write_bytes(b"\xff" * 9000)

    def restore(dialog: QWidget) -> None:
        in_next_dialog(lambda chooser: chooser.submit())
        press(dialog, "Restore a backup")

    in_next_dialog(restore)
    practice = opening.opened(path)
    assert practice is not None
    assert [entry.client.name for entry in list_clients(practice)] == ["Una Example"]
    practice.close()
    (aside,) = tmp_path.glob("*set aside*")
    assert aside.read_bytes() == b"\xff" * 9000


def test_a_missing_practice_is_begun_anew_only_when_asked(tmp_path: Path, theme: Theme) -> None:
    assert theme
    path = backed_up(tmp_path / "practice.sennight")
    path.unlink()
    seen: list[list[str]] = []

    def look(dialog: QWidget) -> None:
        seen.append([one.text() for one in dialog.findChildren(QPushButton)])
        press(dialog, "Quit")

    in_next_dialog(look)
    assert opening.opened(path) is None
    assert not path.exists()
    assert {"Restore a backup", "Open another file", "Create a new practice"} < set(seen[0])
    in_next_dialog(lambda dialog: press(dialog, "Create a new practice"))
    practice = opening.opened(path)
    assert practice is not None
    assert list_clients(practice) == ()
    practice.close()


def test_the_window_opens_again_on_a_restored_backup(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, qapp: QApplication
) -> None:
    file = backed_up(tmp_path / "practice.sennight")
    with open_practice(file) as practice:
        add_client(practice, Client("Later Example"))
    monkeypatch.setattr(desktop, "settings_path", lambda: tmp_path / "settings.ini")
    monkeypatch.setattr("sys.excepthook", lambda *_: None)
    seen: list[tuple[int, str]] = []

    def run(*_: object) -> int:
        frames = [one for one in qapp.topLevelWidgets() if isinstance(one, MainWindow)]
        (frame,) = [one for one in frames if one.isVisible()]
        seen.append((len(list_clients(frame._practice)), frame.status.text.text()))
        if len(seen) == 1:
            in_next_dialog(restore_the_oldest)
            frame.show_practice()
        frame.close()
        frame.deleteLater()
        return 0

    def restore_the_oldest(dialog: PracticeDialog) -> None:
        in_next_dialog(choose_the_last)
        press(dialog, "Restore a backup…")

    def choose_the_last(dialog: RestoreDialog) -> None:
        dialog.rows.select_row(dialog.model.rowCount() - 1)
        dialog.submit()

    monkeypatch.setattr(QApplication, "exec", run)
    assert desktop.main(file) == 0
    assert [count for count, _ in seen] == [2, 1]
    assert "The file that was there before is kept" in seen[1][1]
