"""Bringing a practice file to where it can be opened: checks, backup, migration.

Nothing is written to a file before it proved to be a practice file that this program knows:
until then it is only looked at.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from contextlib import closing, suppress
from datetime import datetime
from enum import Enum, auto
from pathlib import Path

from sennight.store.backup_names import backups_folder, list_backups
from sennight.store.backups import back_up
from sennight.store.errors import DamagedFileError, MissingFileError, PracticeFileError
from sennight.store.identity import set_journal_aside
from sennight.store.looking import has_foreign_journal, has_journal, journal, look, read_header
from sennight.store.marking import put_mark
from sennight.store.migrating import migrate, newest_schema, refuse_newer
from sennight.store.page_check import is_due, is_small, refuse_damaged
from sennight.store.private import make_private_file, with_journals
from sennight.store.schemas import differences, schema_file
from sennight.store.translated_errors import damaged, translated_errors, where_backups_are

APPLICATION_ID = 0x53454E4E
"""“SENN” in the file's header tells a practice file from other SQLite files."""


class Beginning(Enum):
    """Whether a new practice may begin where there is no file."""

    NEVER = auto()
    WHERE_NOTHING_WAS = auto()
    ANEW = auto()


def check_place(path: Path) -> None:
    """Raise PracticeFileError unless a practice file can be at this place."""
    if path.is_dir():
        raise PracticeFileError(f"{path} is a folder; expected the name of a practice file in it")
    if not path.parent.is_dir():
        raise PracticeFileError(
            f"the folder {path.parent} does not exist; create it, or choose another"
        )
    if path.exists() and not path.is_file():
        raise PracticeFileError(f"{path} is not a file; expected a practice file")
    for place in (path, path.parent):
        if place.exists() and not os.access(place, os.R_OK):
            raise PracticeFileError(f"{place} cannot be read; check its permissions")
        if place.exists() and not os.access(place, os.W_OK):
            raise PracticeFileError(
                f"{place} cannot be written to; check its permissions, or copy the practice file "
                "to a folder of your own and open it there"
            )


def bring_up_to_date(
    path: Path, scripts: Path, clock: Callable[[], datetime], *, beginning: Beginning
) -> bool:
    """Make a new file, or check one that is there and migrate it; raises PracticeFileError.

    Whether its pages are still to be checked, which takes too long to be waited for.
    """
    _unfinished(path).unlink(missing_ok=True)
    if not path.exists() or path.stat().st_size == 0:
        _refuse_lost(path, beginning)
        _create(path, scripts)
        return False
    schema = known_schema(path, scripts)
    if has_foreign_journal(path):
        set_journal_aside(path, clock())
    if schema is None:
        migrate(path, scripts)
        return False
    small = is_small(path)
    if small:
        refuse_damaged(path)
    if schema != newest_schema(scripts):
        backup = back_up(path, now=clock(), before=newest_schema(scripts))
        _migrate_existing(path, scripts, backup)
        return False
    return not small and is_due(path, clock())


def _refuse_lost(path: Path, beginning: Beginning) -> None:
    """Raise MissingFileError where an earlier file is known of, or backups or a journal tell."""
    if beginning is Beginning.ANEW:
        return
    backups, state = list_backups(path), "empty" if path.exists() else "not there"
    if backups:
        raise MissingFileError(
            f"{path} is {state}, but a backup of {backups[0].when.date().isoformat()} is in "
            f"{backups_folder(path)} (the newest of {len(backups)}). It may "
            "have been moved, renamed, or emptied by another program or a full disk. Nothing was "
            "made in its place. Put the file back, or restore a backup (sennight restore)."
        )
    if beginning is Beginning.NEVER:
        raise MissingFileError(
            f"{path} is {state}, though it was the practice that was opened last. It may have "
            "been moved or renamed, or lie on a disk that is not connected. Nothing was made in "
            "its place. Put the file back, or open it where it is now."
        )
    if has_journal(path):
        raise MissingFileError(
            f"{path} is {state}, but its journal {journal(path).name} holds saves. Nothing was "
            "made in its place, since the journal would be lost. Put the file back beside it."
        )


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
            f"was, and there is a backup at {backup}. Keep using the version of Sennight that "
            f"saved it last, and report this."
        ) from error


def _unfinished(path: Path) -> Path:
    return path.with_name(f"{path.name}.new")


def _create(path: Path, scripts: Path) -> None:
    """A new practice file, which gets its name when it is finished."""
    new = _unfinished(path)
    try:
        make_private_file(new)
        script = schema_file(scripts, newest_schema(scripts))
        if script.is_file():
            with closing(sqlite3.connect(new)) as connection:
                connection.executescript(script.read_text(encoding="utf-8"))
                put_mark(connection)
        else:
            migrate(new, scripts)
        with new.open("rb+") as written:
            os.fsync(written.fileno())
        new.replace(path)
    finally:
        for left in with_journals(new):
            with suppress(OSError):
                left.unlink(missing_ok=True)


def known_schema(path: Path, scripts: Path) -> str | None:
    """The schema version of a practice file; None for a file that holds nothing at all.

    Raises DamagedFileError for a file that is not ours or not of our make, NewerFileError.
    """
    if not read_header(path).is_database:
        raise damaged(path, "it is not an SQLite database")
    with closing(look(path)) as connection:
        version = _version(path, connection)
        if version is None:
            return None
        refuse_newer(path, version, scripts)
        differing = differences(connection, scripts, version)
        if differing:
            raise damaged(path, f"{differing[0]}")
    return version


def _version(path: Path, connection: sqlite3.Connection) -> str | None:
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
