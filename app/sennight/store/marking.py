"""A practice's mark: eight figures that tell it from another practice of the same name.

Two practices may keep their backups in one folder, both as `practice.sennight`. The mark is made
once and lies in the header, in the four bytes that SQLite leaves to the program (`user_version`,
sqlite.org/fileformat2.html, 1.3.10), so that copies and backups have it and it can be read without
opening the file. It tells nothing of the practice.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from secrets import randbelow

from sennight.store.connecting import raw_connection
from sennight.store.looking import MAGIC

_PLACE, _LENGTH = 60, 4
_MOST = 2**31 - 1
"""SQLite reads the four bytes as a number with a sign."""


def mark_of(path: Path) -> str:
    """The mark of a practice file or backup; nothing where it has none or cannot be read."""
    try:
        with path.open("rb") as file:
            head = file.read(_PLACE + _LENGTH)
    except OSError:
        return ""
    mark = head[_PLACE:].hex()
    return mark if head.startswith(MAGIC) and mark.strip("0") else ""


def put_mark(connection: sqlite3.Connection) -> None:
    """Give a database a mark, unless it has one."""
    (mark,) = connection.execute("PRAGMA user_version").fetchone()
    if not mark:
        connection.execute(f"PRAGMA user_version = {1 + randbelow(_MOST)}")


def mark_existing(path: Path) -> None:
    """Give a practice file of an earlier version a mark; it is in the header when this is done."""
    if mark_of(path):
        return
    with closing(raw_connection(path)) as connection:
        put_mark(connection)
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
