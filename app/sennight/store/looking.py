"""Looking into a database without changing a byte of it or of its journal.

An ordinary connection writes: closing the last one moves the journal's pages into the database.
So a file is looked at read-only, and as immutable where it has no journal, since SQLite then
leaves nothing beside it either. With a journal the two are read together (only the index `-shm`,
which SQLite can make again at any time, may be written); a file that is open somewhere has one.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

MAGIC = b"SQLite format 3\x00"
"""How every SQLite database begins (sqlite.org/fileformat2.html, 1.3)."""

_WRITE_VERSION = 18
"""The byte of the header that says how the file is written: 1 rollback journal, 2 WAL."""

_WAL = 2


@dataclass(frozen=True, slots=True)
class Header:
    """What the first bytes of a file say, without SQLite."""

    is_database: bool
    is_wal: bool


def read_header(path: Path) -> Header:
    """The header of a file; raises OSError."""
    with path.open("rb") as start:
        head = start.read(_WRITE_VERSION + 1)
    whole = len(head) > _WRITE_VERSION and head.startswith(MAGIC)
    return Header(whole, whole and head[_WRITE_VERSION] == _WAL)


def journal(path: Path) -> Path:
    """Where SQLite keeps the newest pages of a database in WAL mode."""
    return path.with_name(path.name + "-wal")


def has_journal(path: Path) -> bool:
    """Whether pages are waiting in the journal: it was not closed, or is open now."""
    try:
        return journal(path).stat().st_size > 0
    except OSError:
        return False


def has_foreign_journal(path: Path) -> bool:
    """Whether a journal lies beside a file that cannot be its own.

    A file with the header of a rollback journal has no write-ahead log. That is what a backup
    looks like which was put in the place of a practice file that was not closed; SQLite would
    play the log into it.
    """
    return has_journal(path) and not read_header(path).is_wal


def look(path: Path) -> sqlite3.Connection:
    """A connection that only reads; close it.

    Texts that are no UTF-8 come with signs in place of the bytes that are not.
    """
    alone = not journal(path).exists() or not read_header(path).is_wal
    how = "mode=ro&immutable=1" if alone else "mode=ro"
    name = quote(str(path))
    connection = sqlite3.connect(f"file:{name}?{how}", uri=True, isolation_level=None)
    connection.text_factory = lambda data: data.decode("utf-8", "replace")
    return connection
