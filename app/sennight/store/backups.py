"""Backups of a practice file: true copies, checked before anybody relies on them.

The copy is made with SQLite's own online backup, so it is whole even while the file is open.
It gets its name only after it was opened, found sound and found to hold the very rows that the
file held at that moment. So a backup that is there was checked, and so was its file.
"""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from datetime import datetime
from pathlib import Path

from sennight.store.backup_names import (
    BackupFile,
    backups_folder,
    free_name,
    kept,
    list_backups,
    part_of,
    parts,
)
from sennight.store.connecting import raw_connection
from sennight.store.durable import sync, sync_folder
from sennight.store.errors import BackupError
from sennight.store.looking import look
from sennight.store.private import make_private_file, make_private_folder
from sennight.store.schemas import objects

_BLOCK = 10_000
"""Of so many rows at a time the copy is compared with the file."""


def back_up(path: Path, *, now: datetime, folder: Path | None = None, before: str = "") -> Path:
    """A checked copy of a practice file, in the `backups` folder beside it or another.

    `before` names the schema version that a migration is about to bring. Raises BackupError, and
    leaves no half a copy, where it cannot be made or is not true.
    """
    target = folder or backups_folder(path)
    with _told(path, target):
        make_private_folder(target)
        ending = f" before {before}" if before else ""
        with closing(raw_connection(path)) as source:
            return copy_checked(source, free_name(target, path, now, ending=ending))


def copy_checked(source: sqlite3.Connection, final: Path) -> Path:
    """Copy a database as it is at this moment, check the copy, and give it its name.

    Raises BackupError, OSError or sqlite3.Error; only a finished copy has the name.
    """
    part, texts = part_of(final), source.text_factory
    try:
        part.unlink(missing_ok=True)
        make_private_file(part)
        source.execute("BEGIN")  # saves made meanwhile belong to the next backup
        _copy(source, part)
        _verify(source, part)
        part.replace(final)
        sync_folder(final.parent)
    finally:
        with suppress(sqlite3.Error):
            source.text_factory = texts
            source.execute("ROLLBACK")
        with suppress(OSError):
            part.unlink()
    return final


def copy_to(backup: Path, folder: Path) -> Path:
    """A finished backup once more, byte for byte, in another folder; raises BackupError."""
    final = folder / backup.name
    part = part_of(final)
    with _told(backup, folder):
        try:
            folder.mkdir(parents=True, exist_ok=True)
            part.unlink(missing_ok=True)
            make_private_file(part)
            shutil.copyfile(backup, part)
            sync(part)
            if _digest(part) != _digest(backup):
                raise BackupError(
                    f"The copy of {backup.name} in {folder} is not the same as the backup; that "
                    "disk may be failing. The backup itself is whole."
                )
            part.replace(final)
            sync_folder(folder)
        finally:
            with suppress(OSError):
                part.unlink()
    return final


def thin_out(path: Path, folder: Path, *, made: str = "") -> tuple[Path, ...]:
    """Remove the backups that have grown too old to be kept, and unfinished ones; which.

    The one just `made` stays, by its name: after the clock was set back it may look the oldest.
    """
    backups = list_backups(path, folder)
    stay = kept(backups)
    old = [b.path for b in backups if b not in stay and b.path.name != made]
    removed = []
    for file in (*old, *parts(path, folder)):
        with suppress(OSError):
            file.unlink()
            removed.append(file)
    return tuple(removed)


def newest_backup(path: Path, *folders: Path) -> BackupFile | None:
    """The newest finished backup of a practice file."""
    return next(iter(list_backups(path, *folders)), None)


@contextmanager
def _told(path: Path, folder: Path) -> Iterator[None]:
    try:
        yield
    except (OSError, sqlite3.Error) as error:
        # SQLite's words and the system's hold no row of a client; a path at most.
        raise BackupError(
            f"No backup of {path} could be made in {folder} ({error}), so nothing was changed. "
            "Free some space or check that folder, then try again."
        ) from error


def _copy(source: sqlite3.Connection, part: Path) -> None:
    with closing(sqlite3.connect(part)) as copy:
        source.backup(copy)
        # A copy is one file: without this it would keep its newest rows in a file beside it.
        copy.execute("PRAGMA journal_mode = DELETE")
    sync(part)


def _verify(source: sqlite3.Connection, part: Path) -> None:
    with closing(look(part)) as copy:
        trouble = complaints(copy, "integrity_check")
        if trouble:
            raise BackupError(f"The backup is damaged ({trouble}); nothing was changed.")
        table = different_table(source, copy)
        if table:
            raise BackupError(
                f"The backup does not contain all the rows of “{table}” that the file has; "
                f"nothing was "
                "changed. Close other programs that use the file, then try again."
            )


def different_table(connection: sqlite3.Connection, other: sqlite3.Connection) -> str:
    """The first table whose rows differ, or whose definition does; nothing where none does."""
    tables, others = objects(connection), objects(other)
    if tables != others:
        return min(set(tables.items()) ^ set(others.items()))[0][1]
    names = [name for kind, name in tables if kind == "table"]
    return next((name for name in names if not _same_rows(connection, other, name)), "")


def _same_rows(connection: sqlite3.Connection, other: sqlite3.Connection, table: str) -> bool:
    query = f'SELECT * FROM "{table}"'  # noqa: S608 - a table of our own schema
    rows, others = _raw(connection).execute(query), _raw(other).execute(query)
    while True:
        block = rows.fetchmany(_BLOCK)
        if block != others.fetchmany(_BLOCK):
            return False
        if not block:
            return True


def _raw(connection: sqlite3.Connection) -> sqlite3.Cursor:
    """A cursor whose texts are bytes: faster, and a text that is none does not matter."""
    connection.text_factory = bytes
    return connection.cursor()


def complaints(connection: sqlite3.Connection, check: str) -> str:
    """What `quick_check` or `integrity_check` has to say; nothing for a sound file."""
    lines = [str(row[0]) for row in connection.execute(f"PRAGMA {check}(3)")]
    return "" if lines == ["ok"] else "; ".join(line.splitlines()[0] for line in lines if line)


def _digest(path: Path) -> bytes:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").digest()
