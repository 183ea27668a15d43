"""A large file is checked in the background where that is due, and the first save waits for it."""

from __future__ import annotations

import shutil
import sqlite3
import threading
import time
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sennight.domain.courses.clients import Client
from sennight.practice.backups import back_up
from sennight.practice.clients import add_client, list_clients
from sennight.practice.drafts import DraftKey, Typed, keep_draft, list_drafts, typed_in
from sennight.practice.opening import (
    DamagedFileError,
    OpenPractice,
    check_pages,
    open_practice,
)
from sennight.store import page_check

NOW = datetime(2027, 1, 4, 9, 30, tzinfo=UTC)
DRAFT = DraftKey("new-client")


@pytest.fixture(autouse=True)
def _all_are_large(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(page_check, "AT_ONCE", 0)


@pytest.fixture
def closed(path: Path) -> Path:
    with opened(path) as practice:
        add_client(practice, Client("Una Example"))
        back_up(practice)
    return path


def opened(path: Path, *, days: int = 0) -> OpenPractice:
    return open_practice(path, clock=lambda: NOW + timedelta(days=days))


def spoil(path: Path) -> None:
    """A page that is not read for a long time: the first one of `publication`."""
    with closing(sqlite3.connect(path)) as connection:
        query = "SELECT rootpage FROM sqlite_master WHERE name = 'publication'"
        (number,) = connection.execute(query).fetchone()
    content = bytearray(path.read_bytes())
    content[(number - 1) * 4096 : number * 4096] = b"\xff" * 4096
    path.write_bytes(content)


def test_a_file_that_was_closed_and_backed_up_this_week_is_not_checked(closed: Path) -> None:
    for days, due in ((0, False), (7, False), (8, True)):
        with opened(closed, days=days) as practice:
            assert practice.file.check_due is due
            add_client(practice, Client(f"Client {days}"))
            assert not practice.file.check_due


def test_a_file_that_was_not_closed_is_checked(closed: Path, tmp_path: Path) -> None:
    folder = tmp_path / "crashed"
    with opened(closed) as practice:
        add_client(practice, Client("Bram Example"))
        shutil.copytree(closed.parent, folder, ignore=shutil.ignore_patterns("crashed"))
    with opened(folder / closed.name) as practice:
        assert practice.file.check_due
        assert check_pages(practice) == ""
        assert len(list_clients(practice)) == 2


def test_damage_is_told_and_no_save_is_let_in(closed: Path) -> None:
    spoil(closed)
    with opened(closed, days=9) as practice:
        assert [entry.client.name for entry in list_clients(practice)] == ["Una Example"]
        for _ in range(2):
            with pytest.raises(DamagedFileError, match="is damaged"):
                add_client(practice, Client("Bram Example"))
        assert "restore the newest" in check_pages(practice)


def test_typed_words_do_not_wait_for_the_check_but_for_nothing_in_a_damaged_file(
    closed: Path,
) -> None:
    spoil(closed)
    with opened(closed, days=9) as practice:
        keep_draft(practice, DRAFT, Typed({"Name": "Una"}, {}), title="New client")
        assert practice.file.check_due
        check_pages(practice)
        with pytest.raises(DamagedFileError, match="is damaged"):
            keep_draft(practice, DRAFT, Typed({"Name": "Un"}, {}), title="New client")
        assert typed_in(list_drafts(practice)[0]).fields == {"Name": "Una"}


def test_the_first_save_waits_for_a_check_in_another_thread(
    closed: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    going, order = threading.Event(), []

    def slowly(_: object, __: str) -> str:
        going.set()
        time.sleep(0.2)
        order.append("checked")
        return ""

    monkeypatch.setattr(page_check, "complaints", slowly)
    with opened(closed, days=9) as practice:
        thread = threading.Thread(target=check_pages, args=(practice,))
        thread.start()
        assert going.wait(timeout=10)
        add_client(practice, Client("Bram Example"))
        order.append("saved")
        thread.join()
    assert order == ["checked", "saved"]


def test_closing_lets_a_check_go(closed: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A query that would take hours stands for the check of a huge file."""
    going = threading.Event()

    def for_hours(connection: object, _: str) -> str:
        going.set()
        connection.execute(  # type: ignore[attr-defined]
            "WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n) "
            "SELECT count(*) FROM n"
        )
        return "not reached"

    monkeypatch.setattr(page_check, "complaints", for_hours)
    practice = opened(closed, days=9)
    thread = threading.Thread(target=check_pages, args=(practice,))
    thread.start()
    assert going.wait(timeout=10)
    time.sleep(0.05)
    practice.close()
    thread.join(timeout=10)
    assert not thread.is_alive()


def test_a_small_file_is_checked_when_it_is_opened(
    closed: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(page_check, "AT_ONCE", 10_000_000)
    spoil(closed)
    with pytest.raises(DamagedFileError):
        opened(closed)
