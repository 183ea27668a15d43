"""Folders may be called after clients, so the toolkit does not remember which were visited."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QFileDialog

from sennight.desktop.kit import file_dialogs
from sennight.desktop.kit.file_dialogs import ask_for_file, ask_for_folder, ask_where

KEY, HISTORY = "FileDialog/lastVisited", "FileDialog/history"


def answered(folder: str) -> Callable[..., tuple[str, str]]:
    """A dialog that writes where it was, as Qt's own does when it goes."""

    def answer(*_: object) -> tuple[str, str]:
        settings = file_dialogs.toolkit_settings()
        settings.setValue(KEY, f"file:///{folder}")
        settings.setValue(HISTORY, [f"file:///{folder}"])
        settings.sync()
        return f"/{folder}/x", ""

    return answer


def test_the_settings_are_those_that_qt_keeps_for_itself() -> None:
    assert "QtProject" in file_dialogs.toolkit_settings().fileName()


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    path = str(tmp_path / "QtProject.conf")
    monkeypatch.setattr(
        file_dialogs, "toolkit_settings", lambda: QSettings(path, QSettings.Format.IniFormat)
    )
    for name in ("getSaveFileName", "getOpenFileName"):
        monkeypatch.setattr(QFileDialog, name, answered("Una Example"))
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: answered("Una")()[0])


@pytest.mark.usefixtures("asked")
def test_a_folder_that_was_visited_is_not_remembered() -> None:
    settings = file_dialogs.toolkit_settings()
    assert ask_where(None, "", "x", "") == Path("/Una Example/x")
    assert ask_for_file(None, "") == Path("/Una Example/x")
    assert ask_for_folder(None, "", "") == Path("/Una/x")
    settings.sync()
    assert settings.allKeys() == []


@pytest.mark.usefixtures("asked")
def test_what_other_programs_remembered_stays() -> None:
    settings = file_dialogs.toolkit_settings()
    settings.setValue(KEY, "file:///elsewhere")
    settings.setValue("other", 1)
    settings.sync()
    ask_for_file(None, "")
    settings.sync()
    assert settings.value(KEY) == "file:///elsewhere"
    assert sorted(settings.allKeys()) == [KEY, "other"]
