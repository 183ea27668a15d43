"""Opening a practice file: the lock, the checks, the backup, the migration.

In this order: is the place usable; is the file ours alone; is it sound, a practice file and
not newer than the program; then, if it is older, a checked backup and the migration. Whatever
fails, the file stays as it was.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from contextlib import AbstractContextManager, closing, suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Engine

from sennight.store.backups import back_up, complaints
from sennight.store.connecting import connect_engine, raw_connection
from sennight.store.errors import DamagedFileError, PracticeFileError
from sennight.store.locks import FileLock
from sennight.store.migrating import migrate, newest_schema, own_scripts, refuse_newer
from sennight.store.translated_errors import damaged, translated_errors, where_backups_are
from sennight.store.unit import UnitOfWork, unit_of_work

APPLICATION_ID = 0x53454E4E
"""“SENN” in the file's header tells a practice file from other SQLite files."""

MAGIC = b"SQLite format 3\x00"
"""How every SQLite database begins (sqlite.org/fileformat2.html, 1.3)."""

Clock = Callable[[], datetime]


def utc_now() -> datetime:
    """The time, in UTC."""
    return datetime.now(UTC)


@dataclass(frozen=True, slots=True)
class PracticeFile:
    """An open practice file, ours alone until it is closed."""

    path: Path
    clock: Clock
    _engine: Engine = field(repr=False)
    _lock: FileLock = field(repr=False)

    def reading(self) -> AbstractContextManager[UnitOfWork]:
        """A transaction that only reads."""
        return unit_of_work(self._engine, self.path, writes=False)

    def writing(self) -> AbstractContextManager[UnitOfWork]:
        """A transaction that writes: kept whole at the end of the block, or not at all."""
        return unit_of_work(self._engine, self.path, writes=True)

    def back_up(self, folder: Path | None = None) -> Path:
        """A checked copy, in the `backups` folder beside the file or another."""
        return back_up(self.path, now=self.clock(), folder=folder)

    def close(self) -> None:
        """Close the file and let others have it; a second time does nothing."""
        self._engine.dispose()
        self._lock.release()


def open_file(path: Path, *, scripts: Path | None = None, clock: Clock = utc_now) -> PracticeFile:
    """Open a practice file, a new one where there is none; raises PracticeFileError."""
    path = path.resolve()
    _check_place(path)
    lock = FileLock(path)
    try:
        with translated_errors(path):
            _bring_up_to_date(path, scripts or own_scripts(), clock)
        return PracticeFile(path, clock, connect_engine(path), lock)
    except BaseException:
        lock.release()
        raise


def _check_place(path: Path) -> None:
    if path.is_dir():
        raise PracticeFileError(f"{path} is a folder; expected the name of a practice file in it")
    if not path.parent.is_dir():
        raise PracticeFileError(
            f"the folder {path.parent} does not exist; create it, or choose another"
        )
    if path.exists() and not path.is_file():
        raise PracticeFileError(f"{path} is not a file; expected a practice file")
    for place in (path, path.parent):
        if place.exists() and not os.access(place, os.W_OK):
            raise PracticeFileError(
                f"{place} cannot be written to; check its permissions, or copy the practice file "
                "to a folder of your own and open it there"
            )


def _bring_up_to_date(path: Path, scripts: Path, clock: Clock) -> None:
    if not path.exists() or path.stat().st_size == 0:
        _create(path, scripts)
        return
    found = _schema_of_sound(path)
    if found is None:
        migrate(path, scripts)
        return
    refuse_newer(path, found, scripts)
    if found != newest_schema(scripts):
        backup = back_up(path, now=clock())
        _migrate_existing(path, scripts, backup)


def _migrate_existing(path: Path, scripts: Path, backup: Path) -> None:
    try:
        with translated_errors(path):
            migrate(path, scripts)
    except PracticeFileError:
        raise
    except Exception as error:
        # Whatever went wrong in a migration: its words may hold a client's, its kind cannot.
        raise PracticeFileError(
            f"{path} could not be brought up to date ({type(error).__name__}). It was left as it "
            f"was, and there is a backup at {backup}. Go on with the version of Sennight that "
            "saved it last, and report this."
        ) from error


def _create(path: Path, scripts: Path) -> None:
    """A new practice file; none is left where it cannot be finished."""
    try:
        migrate(path, scripts)
    except BaseException:
        for suffix in ("", "-wal", "-shm", "-journal"):
            with suppress(OSError):
                path.with_name(path.name + suffix).unlink(missing_ok=True)
        raise


def _schema_of_sound(path: Path) -> str | None:
    """The schema version of a file found sound; None for one that holds nothing at all.

    Raises DamagedFileError for a file that is damaged or not ours.
    """
    with path.open("rb") as start:
        if start.read(len(MAGIC)) != MAGIC:
            raise damaged(path, "it is no SQLite database")
    with closing(raw_connection(path)) as connection:
        trouble = complaints(connection, "quick_check")
        if trouble:
            raise damaged(path, trouble)
        tables = {row[0] for row in connection.execute("SELECT name FROM sqlite_master")}
        if not tables:
            return None
        (application,) = connection.execute("PRAGMA application_id").fetchone()
        if application != APPLICATION_ID or "alembic_version" not in tables:
            raise DamagedFileError(
                f"{path} is not a practice file but another program's. Nothing was changed. "
                f"Choose a practice file. {where_backups_are(path)}."
            )
        versions = connection.execute("SELECT version_num FROM alembic_version").fetchall()
    if len(versions) != 1:
        raise damaged(path, f"it names {len(versions)} schema versions, expected 1")
    return str(versions[0][0])
