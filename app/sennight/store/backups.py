"""Backups of a practice file: true copies, checked before anybody relies on them.

The copy is made with SQLite's own online backup, so it is whole even while the file is open.
It gets its name only after it was opened, found sound and found to hold as many rows in every
table as the file itself.
"""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing, suppress
from datetime import datetime
from pathlib import Path

from sennight.store.backup_names import backups_folder, free_name
from sennight.store.connecting import raw_connection
from sennight.store.errors import BackupError
from sennight.store.private import make_private_file, make_private_folder


def back_up(path: Path, *, now: datetime, folder: Path | None = None) -> Path:
    """A checked copy of a practice file, in the `backups` folder beside it or another.

    Raises BackupError, and leaves no half a copy, where it cannot be made or is not true.
    """
    target = folder or backups_folder(path)
    final = free_name(target, path, now)
    part = final.with_name(f"{final.name}.part")
    try:
        make_private_folder(target)
        _copy(path, part)
        _verify(path, part)
        part.replace(final)
    except (OSError, sqlite3.Error) as error:
        raise BackupError(
            f"No backup of {path} could be made in {target} ({error}), so nothing was changed. "
            "Free some space or check that folder, then try again."
        ) from error
    finally:
        with suppress(OSError):
            part.unlink()
    return final


def _copy(path: Path, part: Path) -> None:
    part.unlink(missing_ok=True)
    make_private_file(part)
    with closing(raw_connection(path)) as source, closing(sqlite3.connect(part)) as copy:
        source.backup(copy)
        # A copy is one file: without this it would keep its newest rows in a file beside it.
        copy.execute("PRAGMA journal_mode = DELETE")
    with part.open("rb+") as written:
        os.fsync(written.fileno())


def _verify(path: Path, part: Path) -> None:
    with closing(raw_connection(path)) as source, closing(raw_connection(part)) as copy:
        trouble = complaints(copy, "integrity_check")
        if trouble:
            raise BackupError(
                f"The backup of {path} is not sound ({trouble}); nothing was changed."
            )
        if row_counts(source) != row_counts(copy):
            raise BackupError(
                f"The backup of {path} does not hold all its rows; nothing was changed. "
                "Close other programs that use the file, then try again."
            )


def complaints(connection: sqlite3.Connection, check: str) -> str:
    """What `quick_check` or `integrity_check` has to say; nothing for a sound file."""
    said = [str(row[0]) for row in connection.execute(f"PRAGMA {check}(3)")]
    return "" if said == ["ok"] else "; ".join(line.splitlines()[0] for line in said if line)


def row_counts(connection: sqlite3.Connection) -> dict[str, int]:
    """How many rows each table holds."""
    names = [
        str(row[0])
        for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
    ]
    counts = {}
    for name in names:
        quoted = name.replace('"', '""')
        query = f'SELECT count(*) FROM "{quoted}"'  # noqa: S608 - a table's own name, quoted
        counts[name] = int(connection.execute(query).fetchone()[0])
    return counts
