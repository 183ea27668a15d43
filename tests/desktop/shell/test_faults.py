"""An error that nothing caught is told and traced without anything about a client."""

from __future__ import annotations

import sys
import threading
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.theme import Theme
from sennight.desktop.shell.faults import Faults
from sennight.practice.faults import FILE_NAME
from support.next_dialog import in_next_dialog

NAME = "Efua"


@pytest.fixture(autouse=True)
def hooks(monkeypatch: pytest.MonkeyPatch, theme: Theme) -> None:
    """The hooks as they were come back after each test; no window is in front."""
    assert theme
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    monkeypatch.setattr(threading, "excepthook", threading.excepthook)
    monkeypatch.setattr(QApplication, "activeWindow", lambda: None)


def texts(dialog: QWidget) -> str:
    return "\n".join(label.text() for label in dialog.findChildren(QLabel))


def press(dialog: QWidget, text: str) -> None:
    (found,) = (made for made in dialog.findChildren(QPushButton) if made.text() == text)
    found.click()


def failing() -> None:
    int(f"{NAME} Prendergast takes 5 mL")


def caught() -> ValueError:
    with pytest.raises(ValueError, match=NAME) as raised:
        failing()
    return raised.value


@pytest.fixture
def seen() -> list[str]:
    """What the next dialog says, after it was copied and closed."""
    told: list[str] = []

    def read(dialog: QWidget) -> None:
        told.append(texts(dialog))
        press(dialog, "Copy")
        press(dialog, "Close")

    in_next_dialog(read)
    return told


def test_it_is_told_traced_and_can_be_copied(
    seen: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    error = caught()
    Faults(tmp_path).hook(type(error), error, error.__traceback__)
    assert "Something went wrong in the program" in seen[0]
    assert str(tmp_path / FILE_NAME) in seen[0]
    kept = (tmp_path / FILE_NAME).read_text(encoding="utf-8")
    copied = QGuiApplication.clipboard().text()
    assert kept == copied == capsys.readouterr().err
    assert "ValueError" in copied
    assert ", failing" in copied, "every frame, the innermost too"
    for said in (seen[0], copied):
        assert NAME not in said


def test_with_debug_the_terminal_has_the_message_and_the_file_has_not(
    seen: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    error = caught()
    sys.excepthook = sys.__excepthook__
    Faults(tmp_path, debug=True).hook(type(error), error, error.__traceback__)
    assert NAME in capsys.readouterr().err
    assert NAME not in (tmp_path / FILE_NAME).read_text(encoding="utf-8")
    assert NAME not in seen[0]


def test_the_window_goes_on_and_one_dialog_tells_of_many(
    qtbot: QtBot, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """An error in what Qt calls: the first is told, those behind its dialog are traced alone."""
    faults, error, after = Faults(tmp_path), caught(), []
    told: list[str] = []

    def read(dialog: QWidget) -> None:
        told.append(texts(dialog))
        faults.hook(type(error), error, error.__traceback__)
        press(dialog, "Close")

    in_next_dialog(read)
    QTimer.singleShot(0, lambda: faults.hook(type(error), error, error.__traceback__))
    QTimer.singleShot(0, lambda: after.append("still here"))
    qtbot.waitUntil(lambda: bool(told) and bool(after))
    qtbot.waitUntil(lambda: QApplication.activeModalWidget() is None)
    assert len(told) == 1
    assert (tmp_path / FILE_NAME).read_text(encoding="utf-8").count("fault on") == 2
    assert NAME not in capsys.readouterr().err


def test_an_error_of_another_thread_is_traced(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    Faults(tmp_path).watch()
    thread = threading.Thread(target=failing)
    thread.start()
    thread.join()
    kept = (tmp_path / FILE_NAME).read_text(encoding="utf-8")
    assert ", failing" in kept
    assert NAME not in kept + capsys.readouterr().err


def test_no_dialog_is_shown_from_another_thread(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Qt hands errors in its pools' threads to the same hook."""
    monkeypatch.setattr("sennight.desktop.shell.faults.message_dialog", None)
    faults, error = Faults(tmp_path), caught()
    thread = threading.Thread(target=faults.hook, args=(type(error), error, error.__traceback__))
    with monkeypatch.context() as patched:
        raised: list[object] = []
        patched.setattr(threading, "excepthook", raised.append)
        thread.start()
        thread.join()
    assert raised == []
    assert (tmp_path / "faults.txt").is_file()


def test_a_folder_that_cannot_be_written_to_keeps_nothing_and_tells_all_the_same(
    seen: list[str], tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    error = caught()
    Faults(tmp_path / "file").hook(type(error), error, error.__traceback__)
    assert "kept in" not in seen[0]


def test_breaking_off_from_the_keyboard_is_left_to_the_former_hook(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    given: list[type[BaseException]] = []
    monkeypatch.setattr(sys, "excepthook", lambda kind, *_: given.append(kind))
    Faults(tmp_path).hook(KeyboardInterrupt, KeyboardInterrupt(), None)
    assert given == [KeyboardInterrupt]
    assert not (tmp_path / FILE_NAME).exists()
