"""“This practice”: what it shows, and what can be done from it."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import timedelta
from functools import partial
from pathlib import Path

import pytest
from PySide6.QtWidgets import QDialog, QFileDialog, QLabel, QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.theme import Theme
from sennight.desktop.shell.health_words import age_words, size_words
from sennight.desktop.shell.opening import Reopening
from sennight.desktop.shell.practice_dialog import PracticeDialog
from sennight.desktop.shell.restore_dialog import RestoreDialog
from sennight.desktop.shell.settings import Settings
from sennight.practice.backups import back_up, backups_of
from support.next_dialog import in_next_dialog
from support.sample_practice import Sample


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(tmp_path / "settings.ini")


@pytest.fixture
def dialog(sample: Sample, settings: Settings, theme: Theme, qtbot: QtBot) -> PracticeDialog:
    assert theme
    made = PracticeDialog(None, sample.practice, settings)
    qtbot.addWidget(made, before_close_func=lambda one: one.done(0))
    checked(made, qtbot)
    return made


def checked(dialog: PracticeDialog, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: dialog.labels["Damage"].text() != "being checked…", timeout=10_000)


def texts(dialog: QWidget) -> str:
    return "\n".join(label.text() for label in dialog.findChildren(QLabel))


def read(seen: list[str], told: QDialog) -> None:
    """Keep what a dialog says, and close it."""
    seen.append(texts(told))
    told.accept()


def test_it_shows_where_the_practice_is_and_how(dialog: PracticeDialog, sample: Sample) -> None:
    shown = {name: label.text() for name, label in dialog.labels.items()}
    assert shown["File"] == str(sample.practice.path)
    assert shown["What is in it"] == "3 clients, 1 course"
    assert shown["Damage"] == "none found"
    assert shown["Can be read"] == "by you alone"
    assert shown["Last backup"] == "none yet"
    assert shown["Second folder"].startswith("none chosen")


def test_damage_is_shown_with_where_the_course_is_whole(
    sample: Sample, settings: Settings, theme: Theme, qtbot: QtBot
) -> None:
    assert theme
    backup = back_up(sample.practice).path
    with closing(sqlite3.connect(sample.practice.path, isolation_level=None)) as connection:
        query = "SELECT sql FROM sqlite_master WHERE name = 'keep_snapshot_from_update'"
        (text,) = connection.execute(query).fetchone()
        connection.execute("DROP TRIGGER keep_snapshot_from_update")
        connection.execute("UPDATE snapshot SET content = replace(content, '2 mL', '5 mL')")
        connection.execute(text)
    made = PracticeDialog(None, sample.practice, settings)
    qtbot.addWidget(made, before_close_func=lambda one: one.done(0))
    checked(made, qtbot)
    assert made.labels["Damage"].text() == f"course {sample.course}: whole in {backup}"


def test_a_backup_is_made_and_told(
    dialog: PracticeDialog, sample: Sample, settings: Settings, tmp_path: Path, qtbot: QtBot
) -> None:
    settings.second_folder = tmp_path / "stick"
    seen: list[str] = []
    in_next_dialog(partial(read, seen))
    dialog.back_up()
    checked(dialog, qtbot)
    assert "The backup is made" in seen[0]
    assert len(backups_of(sample.practice.path, tmp_path / "stick")) == 2
    assert dialog.labels["Last backup"].text() == "less than an hour ago"
    assert dialog.labels["Second folder"].text() == f"1 in {tmp_path / 'stick'}"


def test_a_backup_that_cannot_be_made_is_told(dialog: PracticeDialog, sample: Sample) -> None:
    (sample.practice.path.parent / "backups").write_text("in the way")
    seen: list[str] = []
    in_next_dialog(partial(read, seen))
    dialog.back_up()
    assert "No backup could be made" in seen[0]


def test_a_second_folder_is_chosen_and_remembered(
    dialog: PracticeDialog,
    settings: Settings,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    qtbot: QtBot,
) -> None:
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: "")
    dialog.choose_folder()
    assert settings.second_folder is None
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: str(tmp_path / "stick"))
    dialog.choose_folder()
    checked(dialog, qtbot)
    assert Settings(tmp_path / "settings.ini").second_folder == tmp_path / "stick"


def test_another_practice_is_chosen(
    dialog: PracticeDialog, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: ("", ""))
    dialog.open_another()
    assert dialog.reopening is None
    other = tmp_path / "other.sennight"
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(other), ""))
    dialog.open_another()
    assert dialog.reopening == Reopening(other)


def test_a_backup_is_chosen_after_a_look_at_what_is_in_it(
    dialog: PracticeDialog, sample: Sample
) -> None:
    seen: list[str] = []
    in_next_dialog(partial(read, seen))
    dialog.restore()
    assert "There is no backup yet" in seen[0]
    backup = back_up(sample.practice).path
    spoilt = backup.with_name("practice 2020-01-01 080000.sennight")
    spoilt.write_bytes(b"x")

    def look(chooser: RestoreDialog) -> None:
        model = chooser.model
        cells = [[model.data(model.index(row, n)) for n in range(3)] for row in range(2)]
        assert cells[0][1] == "3 clients, 1 course"
        assert cells[1][1] == "cannot be read"
        chooser.submit()

    in_next_dialog(look)
    dialog.restore()
    assert dialog.reopening == Reopening(sample.practice.path, backup)


def test_leaving_the_choice_of_a_backup_stays(dialog: PracticeDialog, sample: Sample) -> None:
    back_up(sample.practice)
    in_next_dialog(lambda chooser: chooser.reject())
    dialog.restore()
    assert dialog.reopening is None


def test_sizes_and_ages_in_words() -> None:
    assert [size_words(n) for n in (0, 640_000, 1_250_000, 1_127_500_000)] == [
        "0 kB",
        "640 kB",
        "1.2 MB",
        "1.1 GB",
    ]
    ages = [timedelta(minutes=5), timedelta(hours=1), timedelta(hours=49)]
    assert [age_words(age) for age in ages] == [
        "less than an hour ago",
        "1 hour ago",
        "2 days ago",
    ]
    assert age_words(None) == "none yet"
