"""`sennight FILE`, `sennight doctor`, `sennight restore`."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sennight.cli import main
from sennight.cli_practice import DONE, TROUBLE, WRONG
from sennight.desktop.shell.settings import Settings
from sennight.domain.courses.clients import Client
from sennight.practice.backups import back_up
from sennight.practice.clients import add_client, list_clients
from sennight.practice.opening import open_practice

Told = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True)
def settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Settings:
    ini = tmp_path / "settings.ini"
    monkeypatch.setattr("sennight.desktop.shell.settings.settings_path", lambda: ini)
    return Settings(ini)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A practice that was backed up an hour ago with one client, and has two."""
    file = tmp_path / "practice.sennight"
    hour_ago = datetime.now(UTC) - timedelta(hours=1)
    with open_practice(file, clock=lambda: hour_ago) as practice:
        add_client(practice, Client("Una Example"))
        back_up(practice)
        add_client(practice, Client("Bram Example"))
    return file


def clients(path: Path) -> int:
    with open_practice(path) as practice:
        return len(list_clients(practice))


def test_the_doctor_tells_how_the_file_is(path: Path, capsys: Told) -> None:
    before = path.read_bytes()
    assert main(["doctor", str(path)]) == DONE
    told = capsys.readouterr().out
    rows = dict(line.split(maxsplit=1) for line in told.splitlines())
    assert rows["file"] == str(path)
    assert rows["contents"].startswith("2 clients, 0 courses, newest entry 20")
    assert rows["pages"] == rows["courses"] == rows["papers"] == "sound"
    assert rows["readable"] == "by you alone"
    assert rows["backups"].startswith(f"1 in {path.parent / 'backups'}, newest 20")
    assert rows["last"] == "backup     1 hour ago"
    assert "Example" not in told
    assert path.read_bytes() == before


def test_the_doctor_goes_to_the_practice_opened_last(
    path: Path, settings: Settings, capsys: Told, tmp_path: Path
) -> None:
    settings.practice, settings.second_folder = path, tmp_path / "stick"
    settings.flush()
    assert main(["doctor"]) == DONE
    told = capsys.readouterr().out
    assert str(path) in told
    assert f"second folder   0 in {tmp_path / 'stick'}" in told


def test_the_doctor_finds_what_is_wrong(path: Path, capsys: Told) -> None:
    for backup in (path.parent / "backups").iterdir():
        backup.rename(backup.with_name("practice 2020-01-01 080000.sennight"))
    path.chmod(0o644)
    assert main(["doctor", str(path)]) == TROUBLE
    told = capsys.readouterr().out
    assert "by others on this computer too" in told
    assert "days ago" in told
    assert "to do           open the practice once: its files" in told
    assert "to do           open the practice and close it" in told
    content = bytearray(path.read_bytes())
    content[-4096:] = b"\xff" * 4096
    path.write_bytes(content)
    assert main(["doctor", str(path)]) in {TROUBLE, WRONG}
    told_of = capsys.readouterr()
    assert "pages           sound" not in told_of.out
    assert "malformed" in told_of.out + told_of.err


def test_the_doctor_says_what_it_cannot_examine(tmp_path: Path, capsys: Told) -> None:
    assert main(["doctor", str(tmp_path)]) == WRONG
    assert f"{tmp_path} is a folder" in capsys.readouterr().err
    for content in (None, b"x" * 5000):
        file = tmp_path / "other.sennight"
        if content:
            file.write_bytes(content)
        assert main(["doctor", str(file)]) == WRONG
        assert str(file) in capsys.readouterr().err


def test_restoring_lists_what_is_in_each_backup(path: Path, capsys: Told) -> None:
    assert main(["restore", str(path)]) == DONE
    told = capsys.readouterr().out.splitlines()
    assert told[0] == f"Backups of {path}:"
    assert "1 client, 0 courses, newest entry" in told[1]
    assert clients(path) == 2


def test_restoring_by_number_keeps_the_file_that_was_there(path: Path, capsys: Told) -> None:
    assert main(["restore", str(path), "--from", "1", "--yes"]) == DONE
    told = capsys.readouterr().out
    assert "is now as it was in practice 20" in told
    aside = Path(told.splitlines()[-1].partition(": ")[2])
    assert clients(path) == 1
    assert clients(aside) == 2


@pytest.mark.parametrize(("answer", "left"), [("y", 1), ("n", 2), ("", 2), (None, 2)])
def test_restoring_asks_first(
    path: Path, answer: str | None, left: int, monkeypatch: pytest.MonkeyPatch, capsys: Told
) -> None:
    def ask(_: str) -> str:
        if answer is None:
            raise EOFError
        return answer

    monkeypatch.setattr("builtins.input", ask)
    assert main(["restore", str(path), "--from", "1"]) == (DONE if left == 1 else WRONG)
    assert "1 client" in capsys.readouterr().out
    assert clients(path) == left


def test_a_file_of_another_practice_is_told(
    path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Told
) -> None:
    monkeypatch.setattr("builtins.input", lambda _: "n")
    other = tmp_path / "other.sennight"
    open_practice(other).close()
    for backup, is_told in ((str(other), True), ("1", False)):
        assert main(["restore", str(path), "--from", backup]) == WRONG
        assert ("It belongs to another practice" in capsys.readouterr().out) is is_told


@pytest.mark.parametrize("wanted", ["0", "2", "99999999", "no-such-file.sennight"])
def test_a_backup_that_is_not_there_is_told(path: Path, wanted: str, capsys: Told) -> None:
    assert main(["restore", str(path), "--from", wanted, "--yes"]) == WRONG
    assert "expected" in capsys.readouterr().err
    assert clients(path) == 2


def test_a_practice_without_backups_has_none_to_list(tmp_path: Path, capsys: Told) -> None:
    file = tmp_path / "new.sennight"
    open_practice(file).close()
    assert main(["restore", str(file)]) == TROUBLE
    assert "There are no backups" in capsys.readouterr().out
    assert main(["restore", str(file), "--from", "1"]) == WRONG
    assert "name one with “--from FILE”" in capsys.readouterr().err
    assert main(["restore", str(tmp_path / "none.sennight")]) == TROUBLE
    assert "There is no practice file" in capsys.readouterr().out


def test_a_backup_that_cannot_be_read_is_listed_as_such(path: Path, capsys: Told) -> None:
    spoilt = path.parent / "backups" / "practice 2020-01-01 080000.sennight"
    with closing(sqlite3.connect(spoilt)) as connection:
        connection.execute("CREATE TABLE other (x)")
    assert main(["restore", str(path)]) == DONE
    assert "another program's" in capsys.readouterr().out


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[Path | None]:
    found: list[Path | None] = []

    def window(path: Path | None, *, kept: bool, debug: bool) -> int:
        assert kept
        assert not debug
        found.append(path)
        return 0

    monkeypatch.setattr("sennight.desktop.app.main", window)
    return found


def test_a_file_alone_opens_the_window_on_it(path: Path, opened: list[Path | None]) -> None:
    assert main([str(path)]) == 0
    assert main(["open", str(path)]) == 0
    assert opened == [path, path]


def test_a_file_that_is_not_there_is_not_begun_unasked(
    tmp_path: Path, opened: list[Path | None], capsys: Told
) -> None:
    file = tmp_path / "new.sennight"
    assert main([str(file)]) == WRONG
    assert "sennight open --new FILE" in capsys.readouterr().err
    assert opened == []
    assert main(["open", "--new", str(file)]) == 0
    assert opened == [file]


def test_a_command_stays_one_where_a_file_of_its_name_lies_about(
    tmp_path: Path, opened: list[Path | None], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("doctor").touch()
    main(["doctor"])
    assert opened == []


def test_a_mistyped_command_is_no_file(opened: list[Path | None], capsys: Told) -> None:
    with pytest.raises(SystemExit):
        main(["corse"])
    assert "invalid choice: 'corse'" in capsys.readouterr().err
    assert opened == []
