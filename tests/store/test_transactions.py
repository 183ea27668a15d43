"""A use case is kept whole or not at all, and its errors say nothing about a client."""

from __future__ import annotations

import logging
import sqlite3
import threading
from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import UTC, datetime
from pathlib import Path
from time import monotonic

import pytest
from sqlalchemy import Engine, event, insert, text
from sqlalchemy.exc import IntegrityError, OperationalError, StatementError

from databases.make import HERE, NEWEST, dump, restore
from sennight.domain.courses.clients import Client
from sennight.domain.practices import PracticeCard
from sennight.store.connecting import raw_connection
from sennight.store.entries import ClientEntry, Publication
from sennight.store.errors import PracticeFileError
from sennight.store.files import PracticeFile, open_file
from sennight.store.tables.clients import ClientFact, ClientHead

NOW = datetime(2027, 1, 4, 9, 30, tzinfo=UTC)
NAME = "Una Example"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "practice.sennight"
    restore(HERE / f"{NEWEST}.sql", made)
    return made


class TroubleError(Exception):
    """Something that goes wrong in the middle."""


def entry(client_id: str = "1d") -> ClientEntry:
    return ClientEntry(client_id, Client(NAME), note=NAME)


def save_and_fail(file: PracticeFile) -> None:
    with file.writing() as unit:
        unit.clients.save(entry(), saved=NOW)
        unit.card.save(PracticeCard("New"), saved=NOW)
        assert unit.clients.get("1d") == entry()
        raise TroubleError


def test_a_use_case_that_fails_in_the_middle_leaves_nothing(file: PracticeFile) -> None:
    before = list(dump(file.path))
    with pytest.raises(TroubleError):
        save_and_fail(file)
    assert list(dump(file.path)) == before


def test_what_is_written_is_not_seen_before_it_is_kept(file: PracticeFile) -> None:
    with file.writing() as unit:
        unit.clients.save(entry(), saved=NOW)
        with file.reading() as other:
            assert entry() not in other.clients.all(archived=False)
    with file.reading() as other:
        assert entry() in other.clients.all(archived=False)


def test_two_threads_write_one_after_the_other(file: PracticeFile) -> None:
    def write(name: str) -> None:
        for n in range(5):
            with file.writing() as unit:
                unit.clients.save(entry(f"{name}{n}"), saved=NOW)

    threads = [threading.Thread(target=write, args=(name,)) for name in "abc"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    with file.reading() as unit:
        found = [one.id for one in unit.clients.all(archived=False) if one.client.name == NAME]
    assert sorted(found) == sorted(f"{name}{n}" for name in "abc" for n in range(5))


def test_a_row_that_refers_to_nothing_is_refused(file: PracticeFile) -> None:
    with pytest.raises(IntegrityError, match="FOREIGN KEY"), file.writing() as unit:
        unit.publications.add(Publication("1d", "no such course", NOW, "handout", b""))


def test_a_kind_that_is_none_of_ours_is_refused(file: PracticeFile) -> None:
    with pytest.raises(IntegrityError, match="CHECK"), file.writing() as unit:
        unit._session.add(ClientFact(client_version_id=1, kind="rumour", place=9, tag="x"))


def test_a_time_without_a_zone_is_refused(file: PracticeFile) -> None:
    local = NOW.replace(tzinfo=None)
    with (
        pytest.raises(StatementError, match="expected one with a zone") as raised,
        file.writing() as unit,
    ):
        unit.clients.save(entry(), saved=local)
    assert NAME not in str(raised.value)


def test_half_a_character_is_told_and_nothing_is_saved(file: PracticeFile) -> None:
    before = list(dump(file.path))
    pasted = ClientEntry("1d", Client(f"{NAME} \ud83c"))
    with pytest.raises(PracticeFileError, match="a damaged character") as raised:
        save(file, pasted)
    assert NAME not in str(raised.value)
    assert list(dump(file.path)) == before


def save(file: PracticeFile, given: ClientEntry) -> None:
    with file.writing() as unit:
        unit.card.save(PracticeCard("New"), saved=NOW)
        unit.clients.save(given, saved=NOW)


def test_errors_and_logs_carry_no_row(
    file: PracticeFile, caplog: pytest.LogCaptureFixture
) -> None:
    """Even with every logger at its loudest; the second insert breaks the primary key."""
    caplog.set_level(logging.DEBUG)
    with file.writing() as unit:
        unit.clients.save(entry(NAME), saved=NOW)
    with pytest.raises(IntegrityError) as raised, file.writing() as unit:
        unit._session.execute(insert(ClientHead).values(id=NAME, version=1))
    assert "parameters hidden" in str(raised.value)
    assert NAME not in str(raised.value)
    assert NAME not in caplog.text
    assert NAME not in repr(file)


def test_a_full_disk_is_told_and_nothing_is_saved(file: PracticeFile) -> None:
    """SQLite is given no more pages than the file has: it then says that the disk is full."""
    before = list(dump(file.path))
    large = ClientEntry("1d", Client(NAME), note="x" * 200_000)

    def no_more(connection: object, *_: object) -> None:
        connection.execute("PRAGMA max_page_count = 1")  # type: ignore[attr-defined]

    event.listen(Engine, "connect", no_more)
    try:
        tight = open_file(_let_go(file))
        with (
            pytest.raises(PracticeFileError, match=r"the disk is full; .*Nothing was saved"),
            tight.writing() as unit,
        ):
            unit.clients.save(large, saved=NOW)
        tight.close()
    finally:
        event.remove(Engine, "connect", no_more)
    assert list(dump(file.path)) == before


def _let_go(file: PracticeFile) -> Path:
    file.close()
    return file.path


def test_a_file_that_another_program_holds_is_told(
    file: PracticeFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sennight.store.connecting.BUSY_MS", 10)
    with file.reading() as unit:
        assert not unit.clients.names()
    holder = raw_connection(file.path)
    holder.execute("BEGIN IMMEDIATE")
    with (
        pytest.raises(PracticeFileError, match="another program is using it") as raised,
        file.writing() as unit,
    ):
        unit.clients.save(entry(), saved=NOW)
    assert isinstance(raised.value.__cause__, OperationalError)
    monkeypatch.setattr("sennight.store.connecting.BUSY_MS", 20_000)
    begin = monotonic()
    with pytest.raises(PracticeFileError, match="another program is using it"), file.writing():
        pass
    assert monotonic() - begin < 10, "it is waited for once, not at every save"
    holder.close()
    with file.writing() as unit:
        unit.clients.save(entry(), saved=NOW)


@pytest.mark.parametrize("writes", [PracticeFile.writing, PracticeFile.noting])
def test_what_is_read_before_a_write_cannot_change_under_it(
    file: PracticeFile, writes: Callable[[PracticeFile], AbstractContextManager[object]]
) -> None:
    """Also where drafts alone are written: the lock is taken first, not at the first row."""
    other = raw_connection(file.path)
    other.execute("PRAGMA busy_timeout = 0")
    with writes(file), pytest.raises(sqlite3.OperationalError, match="locked"):
        other.execute("BEGIN IMMEDIATE")
    other.close()


def test_a_file_damaged_while_open_is_told(file: PracticeFile) -> None:
    """Damage done behind the program's back, read on a new connection."""
    file._engine.dispose()
    content = bytearray(file.path.read_bytes())
    content[100:4096] = b"\xff" * 3996
    file.path.write_bytes(content)
    with (
        pytest.raises(PracticeFileError, match="damaged"),
        file.reading() as unit,
    ):
        unit._session.execute(text("SELECT * FROM client"))
