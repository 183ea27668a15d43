"""Damage is told in words, shuts nothing else, and never passes for another course."""

from __future__ import annotations

import random
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, suppress
from dataclasses import replace
from pathlib import Path

import pytest

from databases.make import HERE, NEWEST, restore
from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, Pause, PauseMode
from sennight.domain.courses.protocols import Protocol
from sennight.practice.clients import add_client, list_clients
from sennight.practice.courses import (
    add_course,
    course_entry,
    course_history,
    damaged_courses,
    list_course_titles,
    list_courses,
    save_course,
)
from sennight.practice.diaries import diary, scores
from sennight.practice.opening import (
    DamagedCourseError,
    DamagedFileError,
    PracticeFileError,
    back_up_practice,
    open_practice,
)
from sennight.practice.protocols import list_protocols
from sennight.store import snapshots
from store.saver import NOW, START
from support.draws import draws
from support.samples import line, phase, remedy

BITS, PLACES = draws(30, long=300), draws(30, long=300)


@pytest.fixture(autouse=True)
def _nothing_remembered() -> Iterator[None]:
    """What was read before in this process would hide that a file cannot be read."""
    snapshots.read_snapshot.cache_clear()
    yield
    snapshots.read_snapshot.cache_clear()


def course(name: str) -> Course:
    protocol = Protocol(name, (phase("loading", "6 w", line(name, "1 cup tds")),))
    return Course(name, Client("x"), (remedy(name),), protocol, START)


@pytest.fixture
def three(path: Path) -> Path:
    """A practice with a client who has three courses."""
    with open_practice(path) as practice:
        client = add_client(practice, Client("Una Example"))
        for name in ("first", "second", "third"):
            add_course(practice, client, course(name), now=NOW)
    return path


def flip(path: Path, place: int, bit: int) -> None:
    content = bytearray(path.read_bytes())
    content[place] ^= 1 << bit
    path.write_bytes(content)


def snapshot_place(path: Path, name: str) -> tuple[int, int]:
    """Where the text of a course's formulas begins in the file, and how long it is."""
    with closing(sqlite3.connect(path)) as connection:
        query = "SELECT content FROM snapshot WHERE content LIKE ?"
        (text,) = connection.execute(query, (f'%"name":"{name}"%',)).fetchone()
    found = path.read_bytes().find(text.encode())
    assert found > 0
    return found, len(text.encode())


def test_one_damaged_course_shuts_only_itself_and_says_where_it_is_whole(three: Path) -> None:
    with open_practice(three) as practice:
        backup = back_up_practice(practice)
    place, _ = snapshot_place(three, "second")
    flip(three, place + 30, 2)
    with open_practice(three) as practice:
        assert {entry.id for entry in list_courses(practice)} == {"first", "third"}
        assert set(damaged_courses(practice)) == {"second"}
        for read in (course_entry, course_history):
            with pytest.raises(DamagedCourseError, match="This course is damaged") as raised:
                read(practice, "second")
            assert str(backup) in str(raised.value)
            assert raised.value.course_id == "second"
        entry = course_entry(practice, "first")
        saved = save_course(practice, entry, replace(entry.course, until=START), now=NOW)
        assert saved.version == 2


def test_a_backup_that_has_the_damage_as_well_is_not_named(three: Path) -> None:
    with open_practice(three) as practice:
        whole, spoilt = back_up_practice(practice), back_up_practice(practice)
    place, _ = snapshot_place(three, "second")
    flip(three, place + 30, 2)
    shutil.copy(three, spoilt)
    with (
        open_practice(three) as practice,
        pytest.raises(DamagedCourseError, match="damaged") as raised,
    ):
        course_entry(practice, "second")
    assert f"whole is {whole}." in str(raised.value)


def test_a_backup_with_another_first_day_is_not_named(three: Path) -> None:
    """The formulas are whole there; the course as a whole does not fit its checksum."""
    with open_practice(three) as practice:
        whole, spoilt = back_up_practice(practice), back_up_practice(practice)
    with closing(sqlite3.connect(three, isolation_level=None)) as connection:
        trigger = _without_trigger(connection, "keep_course_version_from_update")
        connection.execute("UPDATE course_version SET start = '2027-01-05'")
        connection.execute(trigger)
    shutil.copy(three, spoilt)
    with (
        open_practice(three) as practice,
        pytest.raises(DamagedCourseError, match="does not match the checksum") as raised,
    ):
        course_entry(practice, "second")
    assert f"whole is {whole}." in str(raised.value)


def test_where_no_backup_holds_it_that_is_said(three: Path) -> None:
    place, _ = snapshot_place(three, "second")
    flip(three, place + 30, 2)
    with open_practice(three) as practice, pytest.raises(DamagedCourseError, match="No backup in"):
        course_entry(practice, "second")


def test_no_bit_of_a_courses_formulas_passes_for_another_course(three: Path) -> None:
    """1 cup must never come back as 5 cups, whatever bit falls over."""
    draw = random.Random(4)  # noqa: S311 - places, not secrets
    sound = three.read_bytes()
    begin, length = snapshot_place(three, "second")
    with open_practice(three) as practice:
        before = course_entry(practice, "second").course
    for _ in range(BITS):
        three.write_bytes(sound)
        flip(three, begin + draw.randrange(length), draw.randrange(8))
        with open_practice(three) as practice:
            assert course_entry(practice, "first").course.protocol.name == "first"
            with pytest.raises(DamagedCourseError):
                assert course_entry(practice, "second").course == before


def test_a_formula_that_cannot_be_read_is_the_stores_own_error(three: Path) -> None:
    """Not JSON, without a key, of another shape: as a forger would leave it, checksum and all."""
    for content in ("[]", "{", '{"protocol":{}}', '{"protocol":7,"remedies":[]}', "9" * 5000):
        with closing(sqlite3.connect(three, isolation_level=None)) as connection:
            connection.execute("PRAGMA foreign_keys = OFF")
            digest = snapshots.digest_of(content)
            connection.execute(
                "INSERT OR IGNORE INTO snapshot (digest, content, schema) VALUES (?, ?, ?)",
                (digest, content, snapshots.SCHEMA),
            )
            trigger = _without_trigger(connection, "keep_course_version_from_update")
            connection.execute(
                "UPDATE course_version SET snapshot_digest = ? WHERE course_id = 'third'",
                (digest,),
            )
            connection.execute(trigger)
        with open_practice(three) as practice:
            with pytest.raises(DamagedCourseError, match="its protocol cannot be read"):
                course_entry(practice, "third")
            assert len(list_courses(practice)) == 2


@pytest.mark.parametrize(
    ("table", "change"),
    [
        ("course_version", "start = '2027-01-05'"),
        ("course_version", "until = '2027-02-05'"),
        ("course_version", "revision_count = 0"),
        ("course_version", "start = 'soon'"),
        ("course_revision", "last_day = '2027-02-05'"),
        ("course_revision", "reason = 'other'"),
        ("course_revision", "mode = 'freeze'"),
        ("course_revision", "change = 'stop'"),
        ("course_accept", "reason = 'other'"),
    ],
)
def test_any_other_part_of_a_course_that_changed_is_told(
    three: Path, table: str, change: str
) -> None:
    """The checksum of a course is of all that it says, not of its formulas alone."""
    with open_practice(three) as practice:
        entry = course_entry(practice, "second")
        pause = Pause(on=START, first=START, last=START, mode=PauseMode.SKIP, reason="away")
        accept = Accept("finding", "known")
        saved = replace(entry.course, revisions=(pause,), accepts=(accept,))
        save_course(practice, entry, saved, now=NOW)
    with closing(sqlite3.connect(three, isolation_level=None)) as connection:
        trigger = _without_trigger(connection, f"keep_{table}_from_update")
        last = f"(SELECT max(id) FROM {table})"  # noqa: S608
        connection.execute(f"UPDATE {table} SET {change} WHERE id = {last}")  # noqa: S608
        connection.execute(trigger)
    with open_practice(three) as practice:
        for read in (course_entry, course_history):
            with pytest.raises(DamagedCourseError):
                read(practice, "second")
        assert {entry.id for entry in list_courses(practice)} == {"first", "third"}
        titles = {title.id for title in list_course_titles(practice)}
        assert titles in ({"first", "second", "third"}, {"first", "third"})


def test_a_course_that_went_to_another_client_is_told(three: Path) -> None:
    with open_practice(three) as practice:
        other = add_client(practice, Client("Bram Example"))
    with closing(sqlite3.connect(three, isolation_level=None)) as connection:
        connection.execute("UPDATE course SET client_id = ? WHERE id = 'second'", (other,))
    with open_practice(three) as practice:
        assert set(damaged_courses(practice, other)) == {"second"}


def _without_trigger(connection: sqlite3.Connection, name: str) -> str:
    (text,) = connection.execute(
        "SELECT sql FROM sqlite_master WHERE name = ?", (name,)
    ).fetchone()
    connection.execute(f"DROP TRIGGER {name}")
    return str(text)


def test_any_bit_of_a_file_is_harmless_or_told_in_words(path: Path) -> None:
    """Everything is read; nothing but the store's own errors may come out."""
    draw = random.Random(1)  # noqa: S311 - places, not secrets
    restore(HERE / f"{NEWEST}.sql", path)
    open_practice(path).close()
    sound = path.read_bytes()
    told = 0
    for _ in range(PLACES):
        path.write_bytes(sound)
        flip(path, draw.randrange(len(sound)), draw.randrange(8))
        try:
            read_everything(path)
        except PracticeFileError:
            told += 1
        for left in ("-wal", "-shm"):
            path.with_name(path.name + left).unlink(missing_ok=True)
    assert told > 0


def read_everything(path: Path) -> None:
    with open_practice(path) as practice:
        list_clients(practice)
        list_clients(practice, archived=True)
        list_protocols(practice)
        list_course_titles(practice)
        for entry in list_courses(practice):
            course_history(practice, entry.id)
            diary(practice, entry.id)
            scores(practice, entry.id)


def test_a_text_that_is_no_text_is_told_without_it(three: Path) -> None:
    place = three.read_bytes().find(b"Una Example")
    flip(three, place + 1, 7)
    with open_practice(three) as practice, pytest.raises(DamagedFileError) as raised:
        list_clients(practice)
    assert "Example" not in str(raised.value)
    assert raised.value.__cause__ is None


@pytest.mark.parametrize(
    ("statement", "told"),
    [
        (
            "CREATE TRIGGER odd AFTER INSERT ON client BEGIN DELETE FROM publication; END",
            "the trigger “odd” does not belong in a practice file",
        ),
        ("CREATE VIEW odd AS SELECT 1", "the view “odd” does not belong in"),
        ("DROP TRIGGER keep_client_from_delete", "keep_client_from_delete” is missing"),
        ("ALTER TABLE client ADD COLUMN odd TEXT", "the table “client” is not as this program"),
    ],
)
def test_a_file_of_another_make_is_refused_and_untouched(
    three: Path, statement: str, told: str
) -> None:
    with closing(sqlite3.connect(three, isolation_level=None)) as connection:
        connection.execute(statement)
    before = three.read_bytes()
    with pytest.raises(DamagedFileError, match=told):
        open_practice(three)
    assert three.read_bytes() == before


def test_a_damaged_file_and_its_journal_are_only_looked_at(three: Path, tmp_path: Path) -> None:
    """A check that closes the journal would change what it says it did not change."""
    crashed = tmp_path / "crashed" / "practice.sennight"
    crashed.parent.mkdir()
    with open_practice(three) as practice:
        add_client(practice, Client("Newest Example"))
        for end in ("", "-wal"):
            shutil.copy(three.with_name(three.name + end), crashed.with_name(crashed.name + end))
    with closing(sqlite3.connect(crashed.with_name("other"), isolation_level=None)) as connection:
        connection.execute("CREATE TABLE other (x)")
    content = bytearray(crashed.read_bytes())
    content[4096:8192] = b"\xff" * 4096
    crashed.write_bytes(content)
    journal = crashed.with_name(crashed.name + "-wal")
    before = crashed.read_bytes(), journal.read_bytes()
    with pytest.raises(DamagedFileError, match="Nothing was changed"):
        open_practice(crashed)
    assert (crashed.read_bytes(), journal.read_bytes()) == before


def test_saves_of_a_crashed_program_are_there_again(three: Path, tmp_path: Path) -> None:
    crashed = tmp_path / "crashed.sennight"
    with open_practice(three) as practice:
        add_client(practice, Client("Newest Example"))
        for end in ("", "-wal"):
            shutil.copy(three.with_name(three.name + end), crashed.with_name(crashed.name + end))
    with open_practice(crashed) as practice:
        assert len(list_clients(practice)) == 2


def test_a_journal_of_an_earlier_file_is_not_played_into_a_backup_put_back(three: Path) -> None:
    """As one does by hand: the program was killed, and a backup is copied over its file."""
    with open_practice(three) as practice:
        backup = back_up_practice(practice)
        for n in range(20):
            add_client(practice, Client(f"Later {n}"))
        journal = three.with_name(three.name + "-wal").read_bytes()
    shutil.copy(backup, three)
    three.with_name(three.name + "-wal").write_bytes(journal)
    with open_practice(three) as practice:
        assert [entry.client.name for entry in list_clients(practice)] == ["Una Example"]
    (aside,) = three.parent.glob("* set aside*")
    assert aside.read_bytes() == journal


def test_names_of_files_are_not_read_as_addresses(tmp_path: Path) -> None:
    """A file is looked at through an address, in which some signs mean something."""
    for name in ("a?mode=rwc&x=#%20.sennight", "ärger 例.sennight"):
        path = tmp_path / name
        with suppress(FileNotFoundError):
            path.unlink()
        with open_practice(path) as practice:
            add_client(practice, Client("Una Example"))
        with open_practice(path) as practice:
            assert len(list_clients(practice)) == 1
