"""Migrations of existing files: backed up first, whole or not at all."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from databases.make import HERE, NEWEST, dump, restore
from sennight.store import preparing
from sennight.store.backups import back_up
from sennight.store.connecting import raw_connection
from sennight.store.errors import BackupError, DamagedFileError, PracticeFileError
from sennight.store.files import open_file
from sennight.store.marking import mark_of
from sennight.store.migrating import own_scripts

NOW = datetime(2027, 5, 1, 8, 0, tzinfo=UTC)
HEAD = f"""
import sqlalchemy as sa
from alembic import op
revision, down_revision = "9002", "{NEWEST}"

def upgrade():
"""
ADD = """
    op.create_table("extra", sa.Column("id", sa.Integer, primary_key=True))
    op.execute("INSERT INTO extra VALUES (1)")
    with op.batch_alter_table("client_version") as batch:
        batch.add_column(sa.Column("colour", sa.Text))
        batch.alter_column("note", new_column_name="remark")
"""
FAIL = """
    op.execute("INSERT INTO client VALUES ('left over', 1)")
    raise RuntimeError("Una Example is half-way")
"""
ORPHAN = """
    op.execute("DROP TRIGGER keep_client_from_delete")
    op.execute("DELETE FROM client")
"""


@pytest.fixture
def old(path: Path) -> Path:
    restore(HERE / f"{NEWEST}.sql", path)
    return path


def scripts(folder: Path, *steps: str) -> Path:
    """The program's migrations and one more; the folder's name has a sign that ini files mind."""
    made = folder / "100 % migrations"
    shutil.copytree(own_scripts(), made, ignore=shutil.ignore_patterns("__pycache__"))
    (made / "versions" / "r9002_next.py").write_text("".join((HEAD, *steps)), encoding="utf-8")
    return made


def content(path: Path) -> list[str]:
    return list(dump(path))


def test_a_migration_is_kept_whole_and_the_backup_is_the_old_file(old: Path) -> None:
    before = content(old)
    open_file(old, scripts=scripts(old.parent, ADD), clock=lambda: NOW).close()
    (backup,) = (old.parent / "backups").iterdir()
    assert backup.name == "practice 2027-05-01 080000 before 9002.sennight"
    assert content(backup) == before
    with closing(sqlite3.connect(old)) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchone() == (
            "9002",
        )
        assert connection.execute("SELECT id FROM extra").fetchall() == [(1,)]
        remarks = {row[0] for row in connection.execute("SELECT remark FROM client_version")}
        facts = connection.execute("SELECT count(*) FROM client_fact").fetchone()
    assert "prefers mornings" in remarks
    assert facts == (10,), "replacing a table must not take the rows that refer to it along"


def test_a_migration_that_fails_half_way_leaves_the_file_as_it_was(old: Path) -> None:
    before = content(old)
    with pytest.raises(PracticeFileError, match="left as it was") as raised:
        open_file(old, scripts=scripts(old.parent, ADD, FAIL))
    assert "Una" not in str(raised.value)
    assert str(next((old.parent / "backups").iterdir())) in str(raised.value)
    assert content(old) == before
    open_file(old).close()
    assert content(old) == before


def test_a_migration_that_leaves_rows_astray_is_not_kept(old: Path) -> None:
    before = content(old)
    with pytest.raises(DamagedFileError, match="refer to missing rows"):
        open_file(old, scripts=scripts(old.parent, ORPHAN))
    assert content(old) == before


def test_a_new_file_that_cannot_be_finished_is_not_left(path: Path, tmp_path: Path) -> None:
    with pytest.raises(RuntimeError, match="half-way"):
        open_file(path, scripts=scripts(tmp_path, ADD, FAIL))
    assert {one.name for one in tmp_path.iterdir()} == {"100 % migrations"}


def test_nothing_is_migrated_without_a_backup(old: Path) -> None:
    before = content(old)
    (old.parent / "backups").write_text("a file where the folder should be")
    with pytest.raises(BackupError, match=r"No backup of .* could be made"):
        open_file(old, scripts=scripts(old.parent, ADD))
    assert content(old) == before


def spoil(path: Path, part: Path, action: str, statement: str) -> None:
    """A copy in which a statement was run that a trigger forbids."""
    shutil.copy(path, part)
    with closing(sqlite3.connect(part, isolation_level=None)) as connection:
        trigger = f"keep_client_fact_from_{action}"
        query = "SELECT sql FROM sqlite_master WHERE name = ?"
        (text,) = connection.execute(query, (trigger,)).fetchone()
        connection.execute(f"DROP TRIGGER {trigger}")
        connection.execute(statement)
        connection.execute(text)


def test_a_backup_that_lacks_a_row_is_found_out(
    old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The copy is spoilt behind the back of the code that checks it."""
    before = content(old)

    def copy_badly(_: object, part: Path) -> None:
        spoil(old, part, "delete", "DELETE FROM client_fact")

    monkeypatch.setattr("sennight.store.backups._copy", copy_badly)
    with pytest.raises(BackupError, match="does not contain all the rows of “client_fact”"):
        open_file(old, scripts=scripts(old.parent, ADD))
    assert content(old) == before
    assert list((old.parent / "backups").iterdir()) == []


def test_a_backup_with_another_value_in_a_row_is_found_out(
    old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As many rows in each table, and sound pages; one figure is another."""

    def copy_otherwise(_: object, part: Path) -> None:
        spoil(old, part, "update", "UPDATE client_fact SET tag = 'other' WHERE id = 1")

    monkeypatch.setattr("sennight.store.backups._copy", copy_otherwise)
    with pytest.raises(BackupError, match="rows of “client_fact”"):
        back_up(old, now=NOW)
    assert list((old.parent / "backups").iterdir()) == []


def test_a_backup_that_is_damaged_is_found_out(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with closing(sqlite3.connect(old)) as connection:
        query = "SELECT rootpage FROM sqlite_master WHERE name = 'client_version'"
        (page,) = connection.execute(query).fetchone()

    def copy_damaged(_: object, part: Path) -> None:
        spoilt, start = bytearray(old.read_bytes()), (page - 1) * 4096
        spoilt[start + 8 : start + 300] = b"\xff" * 292
        part.write_bytes(spoilt)

    monkeypatch.setattr("sennight.store.backups._copy", copy_damaged)
    with pytest.raises(BackupError):
        back_up(old, now=NOW)
    assert list((old.parent / "backups").iterdir()) == []


def test_a_backup_of_an_open_file_holds_its_newest_rows(old: Path) -> None:
    opened = open_file(old, clock=lambda: NOW)
    with closing(raw_connection(old)) as connection:
        connection.execute("INSERT INTO client VALUES ('newest', 0)")
        copies = [opened.back_up(), opened.back_up(), opened.back_up(old.parent / "elsewhere")]
    opened.close()
    mark = mark_of(old)
    assert [copy.name for copy in copies] == [
        f"practice 2027-05-01 080000 {mark}.sennight",
        f"practice 2027-05-01 080000 {mark} 2.sennight",
        f"practice 2027-05-01 080000 {mark}.sennight",
    ]
    assert {mark_of(copy) for copy in copies} == {mark}
    for copy in copies:
        with closing(sqlite3.connect(copy)) as connection:
            newest = connection.execute("SELECT count(*) FROM client WHERE id = 'newest'")
            assert newest.fetchone() == (1,)


def test_the_mark_in_the_header_is_the_same_in_program_and_migration(path: Path) -> None:
    open_file(path).close()
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA application_id").fetchone() == (
            preparing.APPLICATION_ID,
        )
