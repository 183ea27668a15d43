"""Opening a practice file: new, sound, damaged, foreign, newer, in use, unwritable."""

from __future__ import annotations

import errno
import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from databases.make import HERE, NEWEST, restore
from sennight.domain.courses.clients import Client
from sennight.practice.clients import add_client, list_clients
from sennight.practice.opening import (
    DamagedFileError,
    FileInUseError,
    NewerFileError,
    PracticeFileError,
    back_up_practice,
    open_practice,
)
from sennight.store import connecting
from sennight.store.connecting import connect_engine
from support.disk import AS_SHIPPED

ROOT = hasattr(os, "geteuid") and os.geteuid() == 0


@pytest.fixture
def filled(path: Path) -> Path:
    """A closed practice file with rows in it."""
    restore(HERE / f"{NEWEST}.sql", path)
    open_practice(path).close()
    return path


def names(folder: Path) -> set[str]:
    return {one.name for one in folder.iterdir()}


def test_a_new_file_is_made_and_leaves_nothing_beside_it(path: Path) -> None:
    with open_practice(path) as practice:
        add_client(practice, Client("Una Example"))
    assert names(path.parent) == {path.name}
    with open_practice(path) as practice:
        assert [e.client.name for e in list_clients(practice)] == ["Una Example"]


@pytest.mark.parametrize("name", ["100 % # ?.sennight", "Ärla 例.sennight", "no-suffix"])
def test_names_with_signs_that_mean_something_elsewhere(tmp_path: Path, name: str) -> None:
    with open_practice(tmp_path / name) as practice:
        add_client(practice, Client("Una Example"))
        copy = back_up_practice(practice)
    with open_practice(copy) as practice:
        assert len(list_clients(practice)) == 1


def test_an_empty_file_is_taken_as_new(path: Path) -> None:
    path.touch()
    with open_practice(path) as practice:
        assert list_clients(practice) == ()


def test_what_every_connection_has(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(connecting, "SYNCHRONOUS", AS_SHIPPED)
    with open_practice(path):
        engine = connect_engine(path)
        with engine.connect() as connection:
            asked = ("foreign_keys", "journal_mode", "synchronous", "busy_timeout")
            found = [connection.exec_driver_sql(f"PRAGMA {one}").scalar() for one in asked]
        engine.dispose()
    assert found == [1, "wal", 2, 1000]
    assert (engine.echo, engine.hide_parameters) == (False, True)


def test_a_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(PracticeFileError, match="is a folder; expected the name"):
        open_practice(tmp_path)
    assert names(tmp_path) == set()


def test_a_missing_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(PracticeFileError, match="does not exist; create it"):
        open_practice(tmp_path / "nowhere" / "practice.sennight")
    assert names(tmp_path) == set()


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs named pipes, which Windows lacks")
def test_a_pipe_is_refused(path: Path) -> None:
    os.mkfifo(path)
    with pytest.raises(PracticeFileError, match="is not a file"):
        open_practice(path)


def test_an_unwritable_file_is_refused(filled: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The answer of os.access is set: a test that runs as root may write everywhere."""
    monkeypatch.setattr(os, "access", lambda place, how: Path(place) != filled or how == os.R_OK)
    with pytest.raises(PracticeFileError, match="cannot be written to; check its permissions"):
        open_practice(filled)


@pytest.mark.skipif(ROOT or sys.platform == "win32", reason="root may write everywhere")
def test_an_unwritable_folder_is_refused(filled: Path) -> None:
    filled.parent.chmod(0o500)
    try:
        with pytest.raises(PracticeFileError, match="cannot be written to"):
            open_practice(filled)
    finally:
        filled.parent.chmod(0o700)


@pytest.mark.skipif(not Path("/proc/self").is_dir(), reason="needs a /proc that cannot be written")
def test_a_place_where_no_file_can_be_made_is_refused() -> None:
    with pytest.raises(PracticeFileError, match="cannot be written to"):
        open_practice(Path("/proc/self/practice.sennight"))


@pytest.mark.parametrize("content", [b"Dear diary,\n" * 500, b"\x00" * 8192, b"x"])
def test_what_is_no_database_is_refused_and_untouched(path: Path, content: bytes) -> None:
    path.write_bytes(content)
    with pytest.raises(DamagedFileError, match="damaged or is not a practice file"):
        open_practice(path)
    assert path.read_bytes() == content
    assert names(path.parent) == {path.name}


def test_another_programs_database_is_refused_and_untouched(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE alembic_version (version_num TEXT)")
    before = path.read_bytes()
    with pytest.raises(DamagedFileError, match="another program's"):
        open_practice(path)
    assert path.read_bytes() == before


def page_of(path: Path, table: str) -> tuple[int, int]:
    """Where a table's first page begins in the file, and how long it is."""
    with closing(sqlite3.connect(path)) as connection:
        query = "SELECT rootpage FROM sqlite_master WHERE name = ?"
        (number,) = connection.execute(query, (table,)).fetchone()
        (length,) = connection.execute("PRAGMA page_size").fetchone()
    return (number - 1) * length, length


@pytest.mark.parametrize("table", ["alembic_version", "publication", "client_fact"])
def test_a_damaged_file_is_refused_and_says_where_the_backups_are(
    filled: Path, table: str
) -> None:
    """One page is spoilt; that of `publication` would not be read for a long time."""
    with open_practice(filled) as practice:
        backup = back_up_practice(practice)
    start, length = page_of(filled, table)
    content = bytearray(filled.read_bytes())
    content[start : start + length] = b"\xff" * length
    filled.write_bytes(content)
    with pytest.raises(DamagedFileError, match="damaged") as raised:
        open_practice(filled)
    assert str(backup.parent) in str(raised.value)
    assert "restore the newest" in str(raised.value)
    assert filled.read_bytes() == content
    with open_practice(backup) as practice:
        assert len(list_clients(practice)) == 1


def test_a_row_that_cannot_be_is_told_when_it_is_read(filled: Path) -> None:
    """Sound pages, but a kind of fact that no program of ours writes."""
    with closing(sqlite3.connect(filled, isolation_level=None)) as connection:
        connection.execute("PRAGMA ignore_check_constraints = ON")
        connection.execute(
            "INSERT INTO client_fact (id, place, client_version_id, kind, tag) "
            "SELECT 99, 9, max(id), 'rumour', 'x' FROM client_version"
        )
    with (
        open_practice(filled) as practice,
        pytest.raises(DamagedFileError, match="a client's record cannot be read"),
    ):
        list_clients(practice)


def test_a_cut_off_file_is_refused(filled: Path) -> None:
    content = filled.read_bytes()
    filled.write_bytes(content[: len(content) // 2])
    with pytest.raises(DamagedFileError, match="There is no backup"):
        open_practice(filled)


def test_a_newer_file_is_refused_and_untouched(filled: Path) -> None:
    with closing(sqlite3.connect(filled)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9042'")
        connection.commit()
    before = filled.read_bytes()
    with pytest.raises(NewerFileError) as raised:
        open_practice(filled)
    message = str(raised.value)
    assert "9042" in message
    assert NEWEST in message
    assert "Install the newest Sennight" in message
    assert filled.read_bytes() == before
    assert names(filled.parent) == {filled.name}


def test_a_second_window_of_the_same_program_is_told(path: Path) -> None:
    with open_practice(path), pytest.raises(FileInUseError, match="already open"):
        open_practice(path)
    open_practice(path).close()


def test_a_disk_that_cannot_lock_is_told(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(_: int) -> None:
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr("sennight.store.locks._hold", refuse)
    with pytest.raises(PracticeFileError, match="cannot lock files") as raised:
        open_practice(path)
    assert not isinstance(raised.value, FileInUseError)
    assert not path.exists()


OTHER = """
import sys
from pathlib import Path
from sennight.practice.opening import FileInUseError, open_practice
try:
    practice = open_practice(Path(sys.argv[1]))
except FileInUseError as error:
    sys.exit(f"told: {error}")
print("open", flush=True)
sys.stdin.read()
"""


def other_process(path: Path) -> subprocess.Popen[str]:
    """Another program that opens the file and holds it until its input ends."""
    return subprocess.Popen(
        [sys.executable, "-c", OTHER, str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def test_another_process_is_told_while_the_file_is_open(path: Path) -> None:
    with open_practice(path):
        _, said = other_process(path).communicate(timeout=60)
    assert "told: " in said
    assert "already open" in said


def test_the_lock_goes_when_its_process_is_killed(path: Path) -> None:
    with other_process(path) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "open\n"
        with pytest.raises(FileInUseError):
            open_practice(path)
        other.kill()
        other.wait(timeout=60)
    open_practice(path).close()
    assert names(path.parent) == {path.name}


def test_closing_twice_does_nothing(path: Path) -> None:
    practice = open_practice(path)
    practice.close()
    with open_practice(path):
        practice.close()
        with pytest.raises(FileInUseError):
            open_practice(path)
