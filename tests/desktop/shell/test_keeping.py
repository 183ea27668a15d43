"""Backups that make themselves while the window is open and when it closes."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sennight.desktop.shell.keeping import Keeper
from sennight.desktop.shell.settings import Settings
from sennight.desktop.shell.status_line import StatusLine
from sennight.domain.courses.clients import Client
from sennight.practice.backups import backups_of
from sennight.practice.clients import add_client
from sennight.practice.opening import OpenPractice, open_practice

MORNING = datetime(2027, 1, 4, 9, 30, tzinfo=UTC)


class Clock:
    def __init__(self) -> None:
        self.now = MORNING

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def practice(tmp_path: Path, clock: Clock) -> Iterator[OpenPractice]:
    with open_practice(tmp_path / "practice.sennight", clock=clock) as opened:
        add_client(opened, Client("Una Example"))
        yield opened


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(tmp_path / "settings.ini")


@pytest.fixture
def keeper(
    practice: OpenPractice, settings: Settings, clock: Clock, qapp: object
) -> Iterator[Keeper]:
    assert qapp
    made = Keeper(practice, settings, now=clock)
    yield made
    made.close()


def look(keeper: Keeper, qtbot: QtBot) -> None:
    with qtbot.waitSignal(keeper._done, timeout=10_000):
        keeper.look()


def test_a_backup_is_made_once_a_day(
    keeper: Keeper, practice: OpenPractice, clock: Clock, qtbot: QtBot
) -> None:
    for hours, count in ((0, 1), (12, 1), (25, 2)):
        clock.now = MORNING + timedelta(hours=hours)
        look(keeper, qtbot)
        assert len(backups_of(practice.path)) == count


def test_one_is_made_at_closing_where_something_changed(
    keeper: Keeper, practice: OpenPractice, settings: Settings, clock: Clock, tmp_path: Path
) -> None:
    settings.second_folder = tmp_path / "stick"
    assert keeper.close() == ""
    assert len(backups_of(practice.path, tmp_path / "stick")) == 2
    assert keeper.close() == ""
    clock.now += timedelta(minutes=5)
    add_client(practice, Client("Bram Example"))
    assert keeper.close() == ""
    assert len(list((tmp_path / "stick").iterdir())) == 1, "one a day"
    newest = backups_of(practice.path)[0]
    assert newest.when == clock.now


def test_what_goes_wrong_is_said(
    keeper: Keeper, practice: OpenPractice, settings: Settings, tmp_path: Path, qtbot: QtBot
) -> None:
    (tmp_path / "file").write_text("in the way")
    settings.second_folder = tmp_path / "file" / "stick"
    with qtbot.waitSignal(keeper.status_message, timeout=10_000) as said:
        keeper.look()
    assert "stick" in said.args[0]
    assert len(backups_of(practice.path)) == 1


def test_a_backup_that_cannot_be_made_is_said_and_its_age_stands(
    keeper: Keeper, practice: OpenPractice, clock: Clock, qtbot: QtBot
) -> None:
    look(keeper, qtbot)
    folder = practice.path.parent / "backups"
    clock.now += timedelta(days=3)
    folder.rename(folder.with_name("away"))
    folder.write_text("in the way")
    with qtbot.waitSignals([keeper.status_message, keeper.standing], timeout=10_000):
        keeper.look()
    folder.unlink()
    folder.with_name("away").rename(folder)
    told: list[str] = []
    keeper.standing.connect(told.append)
    keeper._tell_age()
    assert told == ["The last good backup is 3 days old."]
    look(keeper, qtbot)
    assert told[-1] == ""


def test_the_status_line_keeps_what_stands(theme: object, qtbot: QtBot) -> None:
    assert theme
    line = StatusLine()
    qtbot.addWidget(line)
    line.stand("The last good backup is 3 days old.")
    line.say("The note is saved.")
    assert not line.standing.isHidden()
    assert line.standing.text() == "The last good backup is 3 days old."
    line.stand("")
    assert line.standing.isHidden()
    assert line.text.text() == "The note is saved."
